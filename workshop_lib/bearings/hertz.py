"""How do two curved steel bodies press on each other? Hertz's contact of a ball with its groove.

The bare functions take curvatures in 1/m and broadcast; `ball_on_ring` is the same with units.
"""

from dataclasses import dataclass, field

import numpy as np

from workshop_lib.friction import complete_integrals
from workshop_lib.quantities import InputError, as_shown, boundary

STEEL_MODULUS = 207e9  # Pa; with this value the contact reproduces the f0 table of ISO 76
POISSON_RATIO = 0.3
COMPLIANCE = 2 * (1 - POISSON_RATIO**2) / STEEL_MODULUS  # of ball and ring together, 1/Pa
NEARLY_ROUND = 1e-5  # below this curvature difference the ellipse is a circle to six figures
RINGS = ("inner", "outer")


@dataclass(frozen=True, eq=False)
class Contact:
    """One ball pressed on one ring: the ellipse of contact, its peak pressure, the approach."""

    half_length: object  # across the rolling direction, mm
    half_width: object  # along the rolling direction, mm
    peak_pressure: object  # MPa
    approach: object  # of ball and ring, mm
    load: object = field(repr=False)  # N


def ellipse_ratio(difference):
    """Ratio a/b of the contact ellipse for a curvature difference F(rho) from 0 to below 1.

    Solves (k² E − K)/(K − E) = (1 + F)/(1 − F), K and E complete elliptic integrals of parameter
    1 − 1/k²; nearly a straight line in logarithms, so that Newton's steps need no guard.
    Array in, array of the same shape out. Source: contact-mechanics.

    >>> ellipse_ratio(np.array([0.0, 0.94])).round(2)
    array([1.  , 9.29])
    """
    difference = np.asarray(difference, dtype=float)
    oval = np.maximum(difference, NEARLY_ROUND)
    target = np.log1p(oval) - np.log1p(-oval)
    logarithm = 0.64 * target
    for _ in range(12):
        value, slope = _log_curvature_ratio(np.exp(logarithm))
        step = (value - target) / slope
        logarithm = np.maximum(logarithm - step, 1e-6)
        if np.max(np.abs(step)) < 1e-13:
            break
    series = 1 / np.sqrt(1 - 8 / 3 * np.minimum(difference, NEARLY_ROUND))
    return np.where(difference < NEARLY_ROUND, series, np.exp(logarithm))


def _log_curvature_ratio(ratio):
    """ln[(k² E − K)/(K − E)] for an ellipse ratio k, and its slope against ln k."""
    complement = ratio**-2.0
    first, second = complete_integrals(complement)
    parameter = 1 - complement
    turn = 2 * complement / ratio  # d parameter / d ratio
    first_slope = turn * (second - complement * first) / (2 * parameter * complement)
    second_slope = turn * (second - first) / (2 * parameter)
    top, bottom = ratio**2 * second - first, first - second
    top_slope = 2 * ratio * second + ratio**2 * second_slope - first_slope
    slope = ratio * (top_slope / top - (first_slope - second_slope) / bottom)
    return np.log(top / bottom), slope


def curvatures(ball_diameter, pitch_diameter, contact_angle, groove, ring):
    """Curvature sum in 1/m and curvature difference of a ball in the groove of a ring.

    With g = D cos(angle)/D_p, sum = (4 − 1/f ± 2g/(1 ∓ g))/D and difference =
    (1/f ± 2g/(1 ∓ g))/(sum D), upper signs for the inner ring. groove: radius as a share f of
    the ball's diameter D. ring: "inner" or "outer". Source: harris-rba.
    """
    lean = ball_diameter * np.cos(contact_angle) / pitch_diameter
    rolling = 2 * lean / (1 - lean) if ring == "inner" else -2 * lean / (1 + lean)
    total = 4 - 1 / groove + rolling
    return total / ball_diameter, (1 / groove + rolling) / total


def unit_contact(curvature_sum, curvature_difference):
    """Half-length, half-width and approach of a contact under 1 N, in metres.

    Under Q newtons the first two grow as Q^(1/3) and the approach as Q^(2/3). Source:
    contact-mechanics.
    """
    ratio = ellipse_ratio(curvature_difference)
    first, second = complete_integrals(ratio**-2.0)
    size = (1.5 * COMPLIANCE / curvature_sum) ** (1 / 3)
    half_length = size * (2 * ratio**2 * second / np.pi) ** (1 / 3)
    flattening = 2 * first / np.pi * (np.pi / (2 * ratio**2 * second)) ** (1 / 3)
    return half_length, half_length / ratio, flattening * size**2 * curvature_sum / 2


def peak_pressure(load, half_length, half_width):
    """Peak pressure in Pa, 3Q/(2 pi a b), of a contact whose half-axes under 1 N are given."""
    return 1.5 * np.cbrt(load) / (np.pi * half_length * half_width)


def load_at(pressure, half_length, half_width):
    """Load in N that brings a contact to a peak pressure; half-axes are those under 1 N."""
    return (pressure * np.pi * half_length * half_width / 1.5) ** 3


def stiffness(*approaches):
    """Constant c of Q = c d^(3/2) for contacts in series, from their approaches under 1 N."""
    return np.sum(approaches, axis=0) ** -1.5


@boundary(
    ball_diameter="length > 0",
    pitch_diameter="length > 0",
    groove="ratio > 0",
    ring=RINGS,
    load="force >= 0",
    contact_angle="angle >= 0",
)
def ball_on_ring(ball_diameter, pitch_diameter, groove, ring, load, contact_angle="0 deg"):
    """How hard does a ball press on its ring, and over how large a spot?

    Hertz: a = a* s, b = b* s, approach = d* s² R/2 with s = (3 Q (1 − nu²)/(E R))^(1/3), R the
    curvature sum; peak pressure 3Q/(2 pi a b).

    ball_diameter, pitch_diameter: lengths. groove: groove radius over ball diameter, a plain
    number above 0.5 (0.52 is usual). ring: "inner" or "outer". load: force. contact_angle: angle.
    Arrays broadcast together. Returns a `Contact`. Raises InputError. Notes: smooth dry elastic
    steel, E = 207 GPa, nu = 0.3; the static rating of a ball bearing allows 4200 MPa. Source:
    contact-mechanics, iso-76.

    >>> spot = ball_on_ring("5.953 mm", "25.2 mm", 0.52, "inner", "600 N")
    >>> print(spot.peak_pressure.round(-1), spot.half_length.round(2))
    2680.0 MPa 1.01 mm
    """
    if np.any(np.asarray(ball_diameter) >= pitch_diameter):
        raise InputError("ball_diameter", "must be smaller than the pitch diameter")
    if np.any(np.asarray(groove) <= 0.5):
        raise InputError("groove", "must be above 0.5, or the ball does not fit", "Write 0.52")
    total, difference = curvatures(ball_diameter, pitch_diameter, contact_angle, groove, ring)
    length, width, approach = unit_contact(total, difference)
    return Contact(
        half_length=as_shown(length * np.cbrt(load), "length"),
        half_width=as_shown(width * np.cbrt(load), "length"),
        peak_pressure=as_shown(peak_pressure(load, length, width), "pressure"),
        approach=as_shown(approach * np.cbrt(load) ** 2, "length"),
        load=as_shown(load, "force"),
    )
