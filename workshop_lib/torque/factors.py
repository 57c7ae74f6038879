"""What makes the cut push harder than the table says? Tool nose, edge, speed and chip.

The table's force is that of a sharp, straight edge of no rake at a fair speed. Each factor here is
a `Range` of plain numbers with its source, or a formula; together they multiply the table's force.
"""

import numpy as np

from workshop_lib.materials import find_material
from workshop_lib.quantities import boundary
from workshop_lib.sources import Range, standing
from workshop_lib.torque.cutting import refuse_beyond_square

EDGES = ("fresh", "in use")
TOOLS = ("hss", "carbide")
CORRECTIONS = "german-corrections"
RAKE_RULES = "sandvik-rake german-corrections"
MOST_RAKE = 30.0  # degrees, up to which the rules count; from memory
LAW_ENDS = 0.05e-3  # m; thinner chips were not in the tests that the force law was fitted to
THIN_EXPONENT = 0.3  # by which the force of a thinner chip is higher still, from memory
POINTS = 24
SMOOTHING = 5  # the power that makes the integrand along the nose smooth at its tip


def _range(low, typical, high, cited):
    return Range(low, typical, high, sources=cited, standing=standing(cited))


@boundary(
    returns="ratio",
    material=find_material,
    depth_of_cut="length > 0",
    nose_radius="length >= 0",
    approach_angle="angle > 0",
)
def nose_radius_factor(material, depth_of_cut, nose_radius, approach_angle="90 deg"):
    """How much harder does a rounded tool push than one with a sharp corner?

    Along the nose the chip is thin, and a thin chip needs more force for its area. Where the edge
    has turned by phi from the finished surface, the chip is f sin(phi) thick, and a piece r dphi of
    the edge takes kc1.1 h^(1−mc) r dphi. The sum up to the depth a, over a straight edge's force:
    K = [r ∫ sin^(1−mc) phi dphi + (a − r (1 − cos kappa)) sin^(−mc) kappa] / (a sin^(−mc) kappa),
    the integral from 0 to kappa, or to arccos(1 − a/r) where the nose alone cuts.

    material: key or `Material`, for mc. depth_of_cut: of a traverse cut. nose_radius: of the tool,
    0 for a sharp corner. approach_angle: as in `cutting_force`. Broadcast together. Returns a
    ratio, 1 or more. Raises InputError. Notes: for a feed well below the nose radius; the feed
    itself cancels. The radial force grows more than this. Source: sandvik-kc for the law; the sum
    along the edge is elementary-mechanics.

    By hand with mc = 0 the force is the area, whatever the corner; with mc = 0.2, r = 0.4 mm and
    0.2 mm deep, the chip's mean thickness is 0.2/0.419 of the feed and 0.477^(−0.2) = 1.16, a
    little more than the sum:
    >>> round(nose_radius_factor("stainless_steel", "0.2 mm", "0.4 mm"), 2)
    1.13
    """
    refuse_beyond_square(approach_angle)
    exponent = material.core.chip_exponent
    depth, radius, kappa = np.broadcast_arrays(depth_of_cut, nose_radius, approach_angle)
    with np.errstate(divide="ignore"):
        reached = np.arccos(np.clip(1 - np.divide(depth, np.maximum(radius, 1e-300)), -1, 1))
    last = np.minimum(kappa, reached)
    rest = np.maximum(depth - radius * (1 - np.cos(kappa)), 0.0)
    straight = np.sin(kappa) ** -exponent
    arc = radius * _sine_power(last, 1 - exponent)
    return np.maximum((arc + rest * straight) / (depth * straight), 1.0)[()]


def _sine_power(end, power):
    """The integral of sin^power from 0 to an angle of at most 90°, bare, any shape."""
    nodes, weights = np.polynomial.legendre.leggauss(POINTS)
    nodes, weights = (nodes + 1) / 2, weights / 2
    angle = np.asarray(end)[..., None] * nodes**SMOOTHING
    step = np.asarray(end)[..., None] * SMOOTHING * nodes ** (SMOOTHING - 1)
    return (np.sin(angle) ** power * step) @ weights


def thickest_chip(depth_of_cut, feed, nose_radius, approach_angle):
    """How thick is the chip of a traverse cut where it is thickest? All bare, m and radians.

    Along the nose it is f sin(phi), phi up to the approach angle, or to arccos(1 − a/r) where the
    nose alone cuts; and no chip is thicker than the cut is deep. Source: elementary-mechanics.

    By hand, 0.05 mm deep and fed by as much, on a nose of 0.4 mm: cos phi = 0.875, sin phi = 0.484.
    >>> round(thickest_chip(0.05e-3, 0.05e-3, 0.4e-3, np.pi / 2) * 1e3, 4)
    0.0242
    """
    reached = np.arccos(max(1 - depth_of_cut / nose_radius, 0.0)) if nose_radius > 0 else np.pi / 2
    return float(min(feed * np.sin(min(approach_angle, reached)), depth_of_cut))


def wear_factor(edge=None):
    """How much harder does a blunt edge push?

    edge: "fresh" (just ground, honed or changed), "in use", or None where nobody looked. Returns a
    `Range` of plain numbers. Raises KeyError for another word. Notes: printed tables are remembered
    to give 1.3 to 1.5 for a tool between sharp and due for grinding; a fresh edge is past the
    beginning of that before the job is done. Source: german-corrections, common-practice.

    >>> wear_factor("in use").high, wear_factor("fresh").high
    (1.5, 1.3)
    """
    cited = f"{CORRECTIONS} common-practice"
    low, typical, high = {
        "fresh": (1.0, 1.15, 1.3),
        "in use": (1.3, 1.4, 1.5),
        None: (1.0, 1.3, 1.5),
    }[edge]
    return _range(low, typical, high, cited)


def rake_factor(rake):
    """How much does the rake of the tool change the force? rake: radians, bare.

    Two rules are in use: 1 − gamma/100 (the table being for no rake) and 1 − 0.015 (gamma − 6),
    gamma in degrees; more than 30° counts as 30°, since neither is known to hold there. Returns a
    `Range` from the lower to the higher. Source: sandvik-rake, german-corrections.

    >>> rake_factor(0.0).high, round(rake_factor(np.radians(12)).high, 3)
    (1.09, 0.91)
    """
    degrees = min(float(np.degrees(rake)), MOST_RAKE)
    both = sorted((1 - 0.01 * degrees, 1 - 0.015 * (degrees - 6)))
    return _range(both[0], sum(both) / 2, both[1], RAKE_RULES)


@boundary(returns="ratio", cutting_speed="cutting_speed > 0")
def slow_factor(cutting_speed):
    """How much harder does metal push at a low cutting speed?

    K = 2.023 / v^0.153 below 100 m/min, v in m/min; 1 from there on. Below 10 m/min the value of
    10 m/min is kept, since nothing was measured there.

    cutting_speed: any shape. Returns a ratio. Raises InputError. Notes: remembered for steel; the
    same books give 1.2 for high-speed steel against carbide, which is mostly its lower speed, so
    the two are not multiplied. Another of them is remembered to give 1.15 for high-speed steel at
    30 to 50 m/min: that is this formula at 40 m/min. Below 20 m/min it is stretched farther than
    the books go, on the safe side. Source: german-corrections.

    By hand: 20^0.153 = 1.581, and 2.023 / 1.581 = 1.279.
    >>> round(slow_factor("20 m/min"), 3)
    1.279
    """
    speed = np.clip(np.asarray(cutting_speed) * 60, 10.0, 100.0)
    return np.maximum(2.023 / speed**0.153, 1.0)[()]


def speed_factor(material, tool, cutting_speed):
    """The factor for a low cutting speed, m/s bare, as a `Range`: for metals alone.

    high: `slow_factor`, or 1.2 for high-speed steel where that is more.

    >>> speed_factor(find_material("acrylic"), "hss", 0.3).high
    1.0
    """
    if material.family != "metal":
        return _range(1.0, 1.0, 1.0, "from-memory")
    high = max(float(slow_factor.core(cutting_speed)), 1.2 if tool == "hss" else 1.0)
    return _range(1.0, (1 + high) / 2, high, CORRECTIONS)


def thin_factor(chip):
    """How much harder is a chip to cut that is thinner than the force law knows? chip: m, bare.

    high: (0.05 mm / h)^0.3 below 0.05 mm, as if the exponent mc were larger there by 0.3.
    Returns a `Range`. Source: from-memory.

    >>> thin_factor(0.05e-3).high, round(thin_factor(0.025e-3).high, 2)
    (1.0, 1.23)
    """
    high = max((LAW_ENDS / chip) ** THIN_EXPONENT, 1.0)
    return _range(1.0, float(np.sqrt(high)), float(high), "from-memory")


def least_chip(tool):
    """How thin a chip will an edge still cut, rather than rub? tool: "hss" or "carbide".

    A third or so of the radius to which the edge is rounded: some 0.01 mm on ground steel, twice
    that on a honed insert. Returns a `Range` of lengths in m, bare. Source: from-memory.

    >>> least_chip("hss").low
    5e-06
    """
    scale = {"hss": 1.0, "carbide": 2.0}[tool]
    return _range(5e-6 * scale, 10e-6 * scale, 20e-6 * scale, "from-memory")
