"""Will the disc slip, and by what margin? The limit curve, asked along the ray of the load.

`margin` is the factor by which side force and torque can both grow before the disc slips;
`thrust_needed` and `deepest_cut` ask the same question the other way round.
"""

import numpy as np

from workshop_lib.friction import Pad, coefficient, reach, reach_and_slope
from workshop_lib.materials import find_material
from workshop_lib.quantities import boundary
from workshop_lib.torque import ESTIMATES, chip_load, warn_of_chip

LEAST_MARGIN = 2.0  # below this, at low friction, the workbook speaks of no margin
NOSES = ("floating", "located")
BLOCK = 16384  # values handled at a time, so that the working set stays in the processor's cache
MOST_STEPS, SETTLED = 60, 1e-13
TINY = 1e-300
_SETUP = {"pad": Pad, "friction_coefficient": coefficient, "nose": NOSES}
_LOAD = {"side_force": "force >= 0", "torque": "torque >= 0", "nose_friction": coefficient}


@boundary(returns="ratio", thrust="force >= 0", **_SETUP, **_LOAD)
def margin(
    pad,
    thrust,
    friction_coefficient,
    side_force,
    torque,
    nose="floating",
    nose_friction=None,
):
    """By what factor can side force and torque both grow before the disc slips on its pad?

    The ray from the origin through (F, M) meets the limit curve at margin × (F, M). A nose that can
    float sideways holds nothing; a located one takes up to mu_nose N of the side force, never any
    torque, since it turns on bearings.

    pad: `Pad`. thrust, side_force, torque: quantities. friction_coefficient, nose_friction: plain
    numbers (nose_friction only counts for a located nose; None: as at the pad). nose: "floating" or
    "located". All broadcast together.
    Returns a ratio: below 1 it slips, infinite without load, 0 with load and no hold.
    Raises InputError naming the argument. Notes: Coulomb friction, quoted at the low coefficient;
    static friction under both loads at once is known to be less simple (dahmen-2005).
    Source: argatov-2005.

    By hand, torque alone: 0.2 × 600 N × 10 mm = 1.2 N·m, and 1.2 / 0.4 = 3.
    >>> round(margin(Pad("30 mm"), "600 N", 0.2, "0 N", "0.4 N m"), 9)
    3.0
    """
    return _factor(pad, thrust, friction_coefficient, side_force, torque, nose, nose_friction)


def _factor(pad, thrust, friction_coefficient, side_force, torque, nose, nose_friction):
    grip = _nose_grip(thrust, friction_coefficient, nose, nose_friction)
    inputs = (pad.outer_radius, pad.relief, friction_coefficient * thrust, side_force, torque, grip)
    return in_blocks(ray_length, pad.pressure, *inputs)


def _nose_grip(thrust, friction_coefficient, nose, nose_friction):
    """Side force that the nose can take, N."""
    if nose == "floating":
        return 0.0
    return thrust * (friction_coefficient if nose_friction is None else nose_friction)


def in_blocks(function, pressure, *inputs):
    """Call a bare function on broadcast inputs, a block at a time when they are long arrays."""
    shape = np.broadcast_shapes(*(np.shape(value) for value in inputs))
    size = int(np.prod(shape))
    if size <= BLOCK:
        return function(pressure, *inputs)
    result = np.empty(size)
    flat = [v if np.ndim(v) == 0 else np.broadcast_to(v, shape).reshape(-1) for v in inputs]
    for start in range(0, size, BLOCK):
        part = slice(start, start + BLOCK)
        result[part] = function(pressure, *(v if np.ndim(v) == 0 else v[part] for v in flat))
    return result.reshape(shape)


def ray_length(pressure, radius, relief, hold, side, torque, grip):
    """Largest factor x for which side force x·side − grip and torque x·torque are held.

    radius: m. hold = mu N, side, grip (negative: a side force that does not grow with x): N.
    torque: N·m. All broadcast together. Returns x: infinite without load, 0 if x = 0 slips.
    """
    turn = torque / radius
    if np.ndim(grip) or grip != 0:
        return _offset_ray(pressure, relief, hold, side, turn, grip)
    total = side + turn
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        factor = np.divide(hold * reach(pressure, relief, _share(turn, total)), total)
    return np.where(total > 0, factor, np.inf)[()]


def _share(turn, total):
    """The direction of a load, t = m/(f + m); 0 where there is none."""
    return turn / np.maximum(total, TINY)


def _offset_ray(pressure, relief, hold, side, turn, grip):
    """`ray_length` when a part of the side force does not grow with the factor.

    The curve is convex: the load's line meets the tangent below a guess at a nearer guess, which
    still lies outside, so that a few such steps (they are Newton's) settle every figure.
    """
    by_torque = _limit(hold * reach(pressure, relief, 1.0), turn)
    bound = np.minimum(by_torque, _limit(hold + np.maximum(grip, 0.0), side))
    loaded = np.isfinite(bound)
    factor = np.where(loaded, bound, 0.0)
    for _ in range(MOST_STEPS):
        guess = factor
        factor = _step(pressure, relief, hold, side, turn, grip, guess)
        if np.all(np.abs(factor - guess) <= SETTLED * guess):
            break
    by_nose = np.where(loaded, by_torque, 0.0) * side <= grip  # it takes all of the side force
    factor = np.where(by_nose, by_torque, np.where(loaded, factor, np.inf))
    return np.where(-grip > hold, 0.0, factor)[()]


def _limit(hold, load):
    """Factor by which a single load can grow; infinite where there is none."""
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        return np.where(load > 0, np.divide(hold, load), np.inf)


def _step(pressure, relief, hold, side, turn, grip, guess):
    """Where the load's line meets the limit curve's tangent in the direction of a guess."""
    push, turned = np.maximum(guess * side - grip, 0.0), guess * turn
    share = _share(turned, push + turned)
    length, slope = reach_and_slope(pressure, relief, share)
    sideways, round_about = length + slope * share, length - slope * (1 - share)  # its normal
    against = sideways * side + round_about * turn
    reached = np.maximum(hold * length**2 + sideways * grip, 0.0)
    return np.where(against > 0, reached / np.maximum(against, TINY), 0.0)


@boundary(returns="force", margin="ratio > 0", **_SETUP, **_LOAD)
def thrust_needed(
    pad,
    friction_coefficient,
    side_force,
    torque,
    margin,
    nose="floating",
    nose_friction=None,
):
    """How hard must the tailstock press to hold a load with a wanted margin?

    Every hold grows in step with the thrust, so N = margin / (margin at a thrust of 1 N).

    pad: `Pad`. side_force, torque: quantities. friction_coefficient, margin, nose_friction: plain
    numbers. nose: "floating" or "located". All broadcast together. Returns a force in N: 0 without
    load, infinite where no thrust would hold it. Raises InputError. Source: argatov-2005.

    By hand: 2 × 0.4 N·m / (0.2 × 10 mm) = 400 N.
    >>> print(thrust_needed(Pad("30 mm"), 0.2, "0 N", "0.4 N m", margin=2).round(6))
    400.0 N
    """
    at_one = _factor(pad, 1.0, friction_coefficient, side_force, torque, nose, nose_friction)
    with np.errstate(divide="ignore", over="ignore"):
        return np.divide(margin, at_one)


@boundary(
    returns="length",
    thrust="force >= 0",
    material=find_material,
    feed="feed > 0",
    disc_diameter="length > 0",
    margin="ratio > 0",
    radial_share="ratio >= 0",
    approach_angle="angle > 0",
    unbalance="force >= 0",
    nose_friction=coefficient,
    estimate=ESTIMATES,
    **_SETUP,
)
def deepest_cut(
    pad,
    thrust,
    friction_coefficient,
    material,
    feed,
    disc_diameter,
    margin,
    radial_share,
    approach_angle="90 deg",
    unbalance="0 N",
    nose="floating",
    nose_friction=None,
    estimate="high",
):
    """How deep a cut does a set-up hold with a wanted margin?

    The cutting force grows in step with the depth; the cut loads the pad with a side force
    Fc sqrt(1 + s²), s the radial share, and a torque Fc D/2. The unbalance adds to the side force
    at its worst direction and does not grow with the depth.

    pad: `Pad`. thrust, unbalance: forces. material: key or `Material`. feed: length per turn.
    disc_diameter: where the tool cuts. friction_coefficient, margin, radial_share, nose_friction:
    plain numbers. approach_angle: as in `cutting_force`. nose: "floating" or "located". estimate:
    "low", "typical" or "high" cutting force; high, the safe side here, unless another is named.
    Arrays broadcast together.
    Returns a depth in mm: 0 if the unbalance alone slips. Raises InputError. Warns once for a chip
    outside the cutting-force law's range.
    Source: argatov-2005 for the hold; the material's row for the cutting force.

    By hand, where the nose takes every side force and only torque is left to the pad: with a margin
    of 2, Fc = 0.2 × 600 N × 10 mm / (2 × 39 mm) = 15.4 N = 2690 N/mm² × a × (0.1 mm)^0.8.
    >>> setup = {"pad": Pad("30 mm"), "thrust": "600 N", "friction_coefficient": 0.2}
    >>> cut = {"material": "stainless_steel", "feed": "0.1 mm", "disc_diameter": "78 mm"}
    >>> nose = {"nose": "located", "nose_friction": 1}
    >>> print(deepest_cut(**setup, **cut, **nose, margin=2, radial_share=0.5).round(4))
    0.0361 mm
    """
    warn_of_chip(feed, approach_angle)
    per_metre = chip_load(material, 1.0, feed, approach_angle, estimate)
    grip = _nose_grip(thrust, friction_coefficient, nose, nose_friction) - margin * unbalance
    side = margin * per_metre * np.hypot(1.0, radial_share)
    turn = margin * per_metre * disc_diameter / 2
    inputs = (pad.outer_radius, pad.relief, friction_coefficient * thrust, side, turn, grip)
    return in_blocks(ray_length, pad.pressure, *inputs)
