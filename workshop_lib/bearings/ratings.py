"""What can a bearing carry, from its ball count, ball size and pitch? Its load ratings.

The static rating is the load at which the most loaded ball reaches a stated contact pressure; the
dynamic rating follows the formula behind the tables of ISO 281. Both can be held against print.
"""

import warnings

import numpy as np

from workshop_lib.bearings.hertz import curvatures, load_at, unit_contact
from workshop_lib.quantities import InputError, OutOfRangeWarning, boundary, quote

STATIC_PRESSURE = 4.2e9  # Pa, for ball bearings: iso-76
RADIAL_GROOVES = {"inner": 0.52, "outer": 0.53}  # the grooves that the f0 table is made for
THRUST_GROOVES = {"inner": 0.54, "outer": 0.54}
CRUSHED = 20e9  # Pa, a tenth of steel's modulus: no ball comes near it
ROLLER_PRESSURE = 4.0e9  # Pa, for roller bearings: iso-76
LARGEST_BALL = 25.4e-3  # m; above it the dynamic rating follows another law


def look_at_pressure(pressure, name, stacklevel=4):
    """Warn once where peak pressures (Pa) mark the grooves; refuse what would crush the balls.

    name: of the load, for the refusal.
    """
    most = np.max(pressure)
    if most > CRUSHED:
        raise InputError(name, "these loads would crush the balls", "Give smaller ones")
    if most > STATIC_PRESSURE:
        told = "above the 4200 MPa that mark the grooves; the balls no longer spring back wholly"
        warning = f"peak pressure {most / 1e6:.0f} MPa: {told}"
        warnings.warn(warning, OutOfRangeWarning, stacklevel=stacklevel)


def static_ball_load(ball_diameter, pitch_diameter, contact_angle, grooves):
    """Ball load in N at which the harder pressed of the two rings reaches 4200 MPa."""
    loads = []
    for ring, groove in grooves.items():
        contact = curvatures(ball_diameter, pitch_diameter, contact_angle, groove, ring)
        length, width, _ = unit_contact(*contact)
        loads.append(load_at(STATIC_PRESSURE, length, width))
    return np.minimum(*loads)


def f0_factor(lean, thrust=False):
    """Factor f0 of ISO 76, N/mm², for lean = ball diameter × cos(contact angle)/pitch diameter.

    Radial bearings: load at 4200 MPa over 5 D²; thrust bearings (lean 0): over D². Bare numbers.
    Source: iso-76 (the pressure), iso-76-f0 (the table that this reproduces).

    >>> print(f0_factor(np.array([0.09, 0.20])).round(1))  # the table: 16.5, 14.0
    [16.5 14. ]
    """
    lean = np.maximum(lean, 1e-9)
    load = static_ball_load(1e-3, 1e-3 / lean, 0.0, THRUST_GROOVES if thrust else RADIAL_GROOVES)
    return load if thrust else load / 5


def fc_factor(lean, reduction=0.95, groove=0.52):
    """Factor fc of ISO 281 for a radial ball bearing with both grooves of that radius.

    fc = 0.41 × 98.0665 × reduction × (2f/(2f − 1))^0.41 × g^0.3 (1 − g)^1.39/(1 + g)^(1/3)
    × {1 + [1.04 ((1 − g)/(1 + g))^1.72]^(10/3)}^(−0.3), g the lean. Bare numbers.
    Source: iso-281-fc.

    >>> print(round(fc_factor(0.10), 1))
    55.5
    """
    conformity = (2 * groove / (2 * groove - 1)) ** 0.41
    path = lean**0.3 * (1 - lean) ** 1.39 / (1 + lean) ** (1 / 3)
    rings = (1 + (1.04 * ((1 - lean) / (1 + lean)) ** 1.72) ** (10 / 3)) ** -0.3
    return 0.41 * 98.0665 * reduction * conformity * path * rings


def ball_count(value, name):
    """A number of balls or rollers: a whole number from 3 to 200."""
    whole = isinstance(value, int | np.integer) and not isinstance(value, bool)
    if not whole or not 3 <= value <= 200:
        raise InputError(name, f"{quote(value)} is not a whole number from 3 to 200")
    return int(value)


_INSIDE = {
    "balls": ball_count,
    "ball_diameter": "length > 0",
    "pitch_diameter": "length > 0",
    "contact_angle": "angle >= 0",
}


def _lean(ball_diameter, pitch_diameter, contact_angle):
    """Ball diameter × cos(contact angle)/pitch diameter, after a look at the sizes."""
    if np.any(np.asarray(ball_diameter) >= 0.7 * np.asarray(pitch_diameter)):
        problem = "must be well below the pitch diameter of the balls"
        raise InputError("ball_diameter", problem)
    if np.any(np.asarray(contact_angle) > np.pi / 2):
        raise InputError("contact_angle", "must not be above 90 degrees")
    return ball_diameter * np.cos(contact_angle) / pitch_diameter


@boundary(returns="force", **_INSIDE)
def static_rating(balls, ball_diameter, pitch_diameter, contact_angle="0 deg"):
    """What static load can so many balls of that size carry before they mark the groove?

    Radial bearings (angle up to 45°): C0 = f0 Z D² cos(angle). Thrust bearings: C0 = f0 Z D²
    sin(angle), with the f0 of a thrust bearing.

    balls: whole number Z. ball_diameter D, pitch_diameter: lengths. contact_angle: angle. Arrays
    broadcast together. Returns a force in N. Raises InputError. Notes: groove radii of 0.52 and
    0.53 of the ball (thrust: 0.54), one row of balls; a maker may count differently by a few per
    cent. Source: iso-76, iso-76-f0.

    A 6202 has eight balls of 5.953 mm on 25.2 mm; two catalogues print 3750 N.
    >>> print(static_rating(8, "5.953 mm", "25.2 mm").round(-1))
    3710.0 N
    """
    lean = _lean(ball_diameter, pitch_diameter, contact_angle)
    square = balls * (1e3 * ball_diameter) ** 2
    radial = f0_factor(lean) * square * np.cos(contact_angle)
    thrust = f0_factor(lean, thrust=True) * square * np.sin(contact_angle)
    return np.where(np.asarray(contact_angle) > np.pi / 4, thrust, radial)[()]


@boundary(returns="force", **_INSIDE)
def dynamic_rating(balls, ball_diameter, pitch_diameter, contact_angle="0 deg"):
    """What load lets so many balls of that size roll a million turns, nine bearings out of ten?

    C = 1.3 fc (cos angle)^0.7 Z^(2/3) D^1.8, D in mm; radial ball bearings, one row.

    balls: whole number Z. ball_diameter D (at most 25.4 mm), pitch_diameter: lengths.
    contact_angle: angle up to 45°. Arrays broadcast together. Returns a force in N. Raises
    InputError. Notes: grooves of 0.52 of the ball; makers who use better steel print up to 10 %
    more. Source: iso-281-fc.

    >>> print(dynamic_rating(8, "5.953 mm", "25.2 mm").round(-1))  # print: 7650 N and 8060 N
    7630.0 N
    """
    if np.any(np.asarray(contact_angle) > np.pi / 4):
        raise InputError("contact_angle", "must not be above 45 degrees for a radial bearing")
    if np.any(np.asarray(ball_diameter) > LARGEST_BALL):
        raise InputError("ball_diameter", "must not be above 25.4 mm for this formula")
    lean = _lean(ball_diameter, pitch_diameter, contact_angle)
    size = (1e3 * ball_diameter) ** 1.8 * balls ** (2 / 3)
    return 1.3 * fc_factor(lean) * np.cos(contact_angle) ** 0.7 * size
