"""What does the cut ask of the pad? Cutting force, the torque it makes, the speed to turn at."""

import warnings

import numpy as np

from workshop_lib.materials import find_material
from workshop_lib.quantities import InputError, OutOfRangeWarning, boundary, say
from workshop_lib.sources import Range, standing

ESTIMATES = ("low", "typical", "high")
CUTS = ("traverse", "plunge")  # along the edge, straight in
THINNEST_CHIP, THICKEST_CHIP = 0.05e-3, 2.5e-3  # m, from memory: where the power law was fitted


RADIAL_SOURCES = "isakov-2013 passive-force"
AXIAL_SHARE = 0.5  # feed force over cutting force, a rule of thumb of isakov-2013


def radial_shares():
    """How hard does the tool push the disc inward, as a share of the cutting force?

    Returns a `Range` of plain numbers: low is a rule of thumb for deep cuts, typical and high hold
    for light cuts shallower than the tool's nose radius, as turned here (from memory).
    Source: isakov-2013, passive-force.

    >>> radial_shares().low
    0.25
    """
    return Range(0.25, 0.5, 0.7, sources=RADIAL_SOURCES, standing=standing(RADIAL_SOURCES))


@boundary(
    returns="force",
    material=find_material,
    depth_of_cut="length >= 0",
    feed="feed > 0",
    approach_angle="angle > 0",
    estimate=ESTIMATES,
)
def cutting_force(material, depth_of_cut, feed, approach_angle="90 deg", estimate="typical"):
    """How hard does the sheet push back on the tool along the direction of cutting?

    Fc = kc1.1 b h^(1−mc), b = a_p / sin(kappa), h = f sin(kappa), h in mm and kc1.1 in N/mm² for a
    chip 1 mm thick. Traverse cut along the edge: a_p is the depth of cut. Plunge cut straight in:
    give the sheet's thickness as depth_of_cut, since that is the chip's width.

    material: key or `Material`. depth_of_cut: length. feed: length per turn. approach_angle: angle
    between cutting edge and feed, above 0° up to 90°. estimate: "low", "typical" or "high" value of
    kc1.1; published tables for one material differ by 25 % either way, so judge a hold by "high".
    Broadcast together.
    Returns a force in N. Raises InputError. Warns once for a chip outside 0.05 to 2.5 mm, where
    the law was not fitted (below it the edge ploughs and the force is higher).
    Source: the material's row; sandvik-kc for the definition.

    By hand: stainless, 2150 N/mm² × 0.25 mm × (0.1 mm)^0.8 = 85.2 N.
    >>> print(cutting_force("stainless_steel", "0.25 mm", "0.1 mm").round(1))
    85.2 N
    """
    warn_of_chip(feed, approach_angle)
    return chip_load(material, depth_of_cut, feed, approach_angle, estimate)


def chip_load(material, depth_of_cut, feed, approach_angle, estimate):
    """Cutting force in N on bare SI numbers, without the checks of `cutting_force`."""
    specific = getattr(material.core.specific_cutting_force, estimate)
    chip = feed * np.sin(approach_angle)
    width = depth_of_cut / np.sin(approach_angle)
    return specific * width * chip * (chip / 1e-3) ** -material.core.chip_exponent


def refuse_beyond_square(approach_angle):
    """Refuse an approach angle that no edge has."""
    if np.any(approach_angle > np.pi / 2 + 1e-9):
        raise InputError("approach_angle", "must not be above 90 degrees")


def warn_of_chip(feed, approach_angle):
    """Refuse an approach angle above 90°; warn of a chip outside the range of the law."""
    refuse_beyond_square(approach_angle)
    chip = feed * np.sin(approach_angle)
    if np.any((chip < THINNEST_CHIP * (1 - 1e-9)) | (chip > THICKEST_CHIP * (1 + 1e-9))):
        warnings.warn(
            say(
                "The chip is thinner than 0.05 mm or thicker than 2.5 mm, where the cutting-force "
                "law was not fitted; a thinner chip needs more force than computed."
            ),
            OutOfRangeWarning,
            stacklevel=4,
        )


@boundary(returns="torque", force="force >= 0", diameter="length >= 0")
def cutting_torque(force, diameter):
    """How much torque must the pad drive through the disc for that cutting force?

    M = Fc D/2, D the diameter (not the radius) at which the tool cuts.

    force, diameter: quantities that broadcast together. Returns a torque in N·m. Raises InputError.
    Source: elementary-mechanics.

    >>> print(cutting_torque("40 N", "78 mm").round(6))
    1.56 N·m
    """
    return force * diameter / 2


@boundary(
    returns="force",
    cutting_force="force >= 0",
    radial_share="ratio >= 0",
    unbalance="force >= 0",
)
def side_force(cutting_force, radial_share, unbalance="0 N"):
    """How hard is the disc pushed sideways on its pad?

    F = Fc sqrt(1 + s²) + U: the cutting force and the radial force are at right angles, and the
    unbalance U comes round to the worst direction once in every turn.

    cutting_force, unbalance: forces. radial_share: radial force as a share s of the cutting force
    (`radial_shares` gives the usual span). Broadcast together. Returns a force in N.
    Raises InputError. Source: elementary-mechanics.

    By hand, the 3-4-5 triangle: 40 N with three quarters of it inward.
    >>> print(side_force("40 N", 0.75))
    50.0 N
    """
    return cutting_force * np.hypot(1.0, radial_share) + unbalance


@boundary(returns="speed", cutting_speed="cutting_speed > 0", diameter="length > 0")
def spindle_speed(cutting_speed, diameter):
    """How fast must the spindle turn for a wanted cutting speed?

    omega = v / (D/2); shown in rev/min: n = v / (pi D).

    cutting_speed: such as "18 m/min". diameter: where the tool cuts. Broadcast together.
    Returns a speed in rev/min. Raises InputError. Source: elementary-mechanics.

    By hand: 18 m/min over pi × 0.078 m.
    >>> print(spindle_speed("18 m/min", "78 mm").round(1))
    73.5 rpm
    """
    return cutting_speed / (diameter / 2)
