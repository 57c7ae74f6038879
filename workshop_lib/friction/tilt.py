"""When does a push at the rim lift one side of the disc off its pad?

Model: a flat pad whose facing gives way evenly, so that the pressure grows in a straight line
across it, and cannot pull. The thrust N stays in the middle; an axial force at the rim moves the
pressure's resultant off the middle by e = (force × radius) / N.
"""

from dataclasses import dataclass

import numpy as np

from workshop_lib.friction.pad import Pad
from workshop_lib.quantities import as_shown, boundary

HALVINGS = 60


@dataclass(frozen=True, eq=False)
class Contact:
    """How much of a tipped pad still presses: numbers, or arrays of the inputs' shape.

    share: of the pad's face that still presses. peak_pressure: at the rim of the pad, MPa; infinite
    when the disc tips off. tips: whether no pressure under the pad can hold it.
    """

    share: object
    peak_pressure: object
    tips: object


def kernel_radius(pad):
    """How far off the middle the resultant may lie with the whole face pressing, m."""
    outer, inner = pad.outer_radius, pad.inner_radius
    return (outer**2 + inner**2) / (4 * outer)


@boundary(returns="torque", pad=Pad, thrust="force >= 0")
def tilt_limit(pad, thrust):
    """Which axial force times radius may act on the rim before one side of the pad lifts?

    M = N (r_o² + r_i²) / (4 r_o): the section modulus of the pad's face over its area; for a full
    pad N r_o / 4.

    pad: `Pad`. thrust: force. Broadcast together. Returns a torque in N·m. Raises InputError.
    Notes: see the module. A relieved pad presses farther out, and so resists tipping better.
    Source: elementary-mechanics.

    By hand: 600 N × 15 mm / 4.
    >>> print(tilt_limit(Pad("30 mm"), "600 N").round(6))
    2.25 N·m
    """
    return thrust * kernel_radius(pad)


@boundary(returns="force", pad=Pad, thrust="force >= 0", disc_diameter="length > 0")
def tilt_force(pad, thrust, disc_diameter):
    """Which axial force at the rim lifts one side of the pad?

    F = N (r_o² + r_i²) / (4 r_o) / (D/2), see `tilt_limit`.

    pad: `Pad`. thrust: force. disc_diameter: length. Broadcast together. Returns a force in N.
    Raises InputError. Source: elementary-mechanics.

    By hand: 2.25 N·m / 50 mm.
    >>> print(tilt_force(Pad("30 mm"), "600 N", "100 mm").round(6))
    45.0 N
    """
    return thrust * kernel_radius(pad) / (disc_diameter / 2)


@boundary(pad=Pad, thrust="force > 0", axial_force="force >= 0", disc_diameter="length > 0")
def contact(pad, thrust, axial_force, disc_diameter):
    """How much of the pad still presses when the rim is pushed, and how hard?

    Up to the limit of `tilt_limit` all of it, the pressure at one side rising to twice the mean.
    Beyond, the pressure k (x − x_0) acts only where x > x_0; sum and moment of it fix x_0. At
    e = r_o nothing holds.

    pad: `Pad`. thrust: force. axial_force: at the rim. disc_diameter: length. Broadcast together.
    Returns a `Contact`. Raises InputError. Notes: friction is not recalculated for the smaller
    face; a lifted pad is a reason to stop, not a state to work in. Source: elementary-mechanics.

    By hand: at half of the limit all presses, at 1.5 × 600 N / (pi (15 mm)²) at the most.
    >>> found = contact(Pad("30 mm"), "600 N", "22.5 N", "100 mm")
    >>> print(found.share, found.peak_pressure.round(3))
    1.0 1.273 MPa
    """
    offset = axial_force * disc_diameter / 2 / thrust / pad.outer_radius
    relief = pad.relief + 0 * offset
    offset = offset + 0 * relief
    mean = thrust / (np.pi * (pad.outer_radius**2 - pad.inner_radius**2))
    kernel = (1 + relief**2) / 4
    edge = _neutral_line(offset, relief)
    pressing, force, _ = _borne(edge, relief)
    with np.errstate(divide="ignore", invalid="ignore"):
        lifted = (1 - edge) * np.pi * (1 - relief**2) / force
    whole = offset <= kernel
    share = np.where(whole, 1.0, pressing / (np.pi * (1 - relief**2)))
    tips = offset >= 1
    peak = mean * np.where(whole, 1 + offset / kernel, np.where(tips, np.inf, lifted))
    found = np.where(tips, 0.0, share), np.array(tips)
    share, tips = (each if each.ndim else each.item() for each in found)
    return Contact(share, as_shown(peak, "pressure"), tips)


def _neutral_line(offset, relief):
    """Where the pressure begins, over r_o: −1 with the whole face pressing, 1 with none."""
    low, high = np.full_like(offset, -1.0), np.ones_like(offset)
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        _, force, moment = _borne(middle, relief)
        beyond = moment > offset * force
        low, high = np.where(beyond, low, middle), np.where(beyond, middle, high)
    return low


def _borne(edge, relief):
    """Area, sum and moment of a pressure (x − edge) where x > edge, on a ring of outer radius 1."""
    safe = np.where(relief > 0, relief, 1.0)
    inner = _segment(np.clip(edge / safe, -1, 1))
    area, first, second = _segment(edge) - inner * np.stack([relief**2, relief**3, relief**4])
    return area, first - edge * area, second - edge * first


def _segment(edge):
    """Area, first and second moment of the part x > edge of a unit circle."""
    chord = np.sqrt(np.maximum(1 - edge**2, 0))
    area = np.arccos(edge) - edge * chord
    return np.stack([area, 2 / 3 * chord**3, area / 4 + edge * chord**3 / 2])
