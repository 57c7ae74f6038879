"""How much of a lobed shape do a V-block and a micrometer show, and how much do they hide?

A part that turns in a V moves up and down as its crests pass the two faces; an indicator opposite
the V sees that and the crest under itself, added or taken away. A flat is a V of 180°, and a
micrometer sees what an indicator over a flat sees: the diameter.
"""

import numpy as np

from workshop_lib.quantities import InputError, boundary, quote, to_core, whole_number

MOST_LOBES = 60
FLAT = np.pi
BLIND = 0.25  # below this factor the needle shows less than a quarter of a lobe's height: hidden


def as_vee(value, name):
    """Convert the angle of a V: above 0°, up to the 180° of a flat."""
    angle = to_core(value, "angle", name, "> 0")
    if np.any(np.asarray(angle) > FLAT * (1 + 1e-12)):
        mend = "A V-block often has 90 deg; a flat is 180 deg"
        raise InputError(name, f"{quote(value)} is not the angle of a V", mend)
    return angle


@boundary(returns="ratio", lobes=whole_number(1, MOST_LOBES), vee_angle=as_vee)
def vee_factor(lobes, vee_angle):
    """How many times the height of its lobes does a part in a V show on the indicator?

    F = 1 + cos(n (90° + b/2)) / sin(b/2), n the number of lobes, b the angle of the V, the
    indicator opposite the V on its middle line. The indicator's total is |F| times the departure
    from roundness, crest to hollow.

    lobes: whole number from 1 (which is eccentricity, and never shows) to 60. vee_angle: up to
    180 deg, a flat: 2 for even numbers of lobes and 0 for odd ones, as for a micrometer.
    Returns a ratio, of the shape of vee_angle: 0 hides the lobes; negative where the needle falls
    as a crest comes under it. Raises InputError. Notes: for lobes that are low against the radius,
    all of one number; a real disc has several at once. Source: three-point-lapping; iso-4292.

    By hand: 1 + cos(3 × 135°)/sin 45° = 1 + 0.7071/0.7071.
    >>> print(round(vee_factor(3, "90 deg"), 9), round(vee_factor(3, "180 deg"), 9))
    2.0 0.0
    """
    return 1 + np.cos(lobes * (np.pi + vee_angle) / 2) / np.sin(vee_angle / 2)


@boundary(returns="length", disc_diameter="length > 0", pin_diameter="length > 0", vee_angle=as_vee)
def pins_apart(disc_diameter, pin_diameter, vee_angle):
    """How far apart must two pins be, centre to centre, to act as a V for this disc?

    s = (D + d) cos(b/2): the disc lies flat on a plate and against two upright pins; the lines from
    its middle to the pins make the angle that the normals of a V's faces make.

    disc_diameter, pin_diameter, vee_angle: broadcast together. Returns a length in mm, 0 for a
    flat. Raises InputError, also where the pins would not fit side by side.
    Notes: the angle changes with the disc; set the pins for each. Source: elementary-mechanics.

    By hand: (78 mm + 6 mm) × cos 45°.
    >>> print(pins_apart("78 mm", "6 mm", "90 deg").round(3))
    59.397 mm
    """
    apart = (disc_diameter + pin_diameter) * np.cos(vee_angle / 2)
    if np.any(apart < pin_diameter):
        raise InputError(
            "vee_angle", "is so wide that the pins would overlap", "Take 120 deg or less"
        )
    return apart


@boundary(
    returns="angle", disc_diameter="length > 0", pin_diameter="length > 0", apart="length > 0"
)
def vee_of_pins(disc_diameter, pin_diameter, apart):
    """Which V do two pins make for this disc?

    b = 2 arccos(s / (D + d)), the inverse of `pins_apart`.

    disc_diameter, pin_diameter, apart: centre to centre; they broadcast together. Returns an angle
    in degrees. Raises InputError where the disc falls through between the pins.
    Source: elementary-mechanics.

    >>> print(vee_of_pins("78 mm", "6 mm", "42 mm").round(6))
    120.0 deg
    """
    ratio = apart / (disc_diameter + pin_diameter)
    if np.any(ratio >= 1):
        raise InputError("apart", "is so wide that the disc falls through between the pins")
    return 2 * np.arccos(ratio)


def hidden_lobes(vee_angle, highest=12):
    """Return the numbers of lobes, 2 to highest, that a V of this angle (rad) all but hides."""
    orders = np.arange(2, highest + 1)
    return [int(n) for n in orders[np.abs(vee_factor.core(orders, vee_angle)) < BLIND]]
