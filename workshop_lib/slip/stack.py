"""Will several discs, turned in one squeeze, slip on the pad or on each other?

Count the discs from the pad outwards. The thrust passes through the whole stack, so that every face
is pressed with all of it; what the tool does to a disc has to reach the pad through every face
between the two. A tool that passes along the edge cuts one disc at a time, and in its turn the
outermost one too: every face feels all of it. A tool as wide as the stack cuts all discs at once.
"""

import numpy as np

from workshop_lib.friction import Pad, coefficient, tilt
from workshop_lib.quantities import boundary, one_value, resolution, whole_number
from workshop_lib.slip.criterion import in_blocks, ray_length
from workshop_lib.torque import CUTS

MOST_DISCS = 50
_STACK = {
    "pad": Pad,
    "thrust": "force >= 0",
    "friction_at_pad": coefficient,
    "friction_between": coefficient,
    "side_force": "force >= 0",
    "torque": "torque >= 0",
    "unbalance": "force >= 0",
    "cut": CUTS,
}


def loads(count, side_force, torque, unbalance, cut):
    """Side force and torque that pass each face of a stack; bare numbers, the faces along a last
    axis, that of the pad first. side_force, torque, unbalance: of one disc.
    """
    beyond = np.arange(count, 0, -1.0)  # discs that lie beyond each face, seen from the pad
    cut_through = beyond if cut == "plunge" else np.ones(count)
    side, turn, heavy = (
        np.asarray(each, float)[..., None] for each in (side_force, torque, unbalance)
    )
    return side * cut_through + heavy * beyond, turn * cut_through


@boundary(returns="ratio", count=whole_number(1, MOST_DISCS), **_STACK)
def stack_margins(
    pad,
    thrust,
    friction_at_pad,
    friction_between,
    count,
    side_force,
    torque,
    unbalance="0 N",
    cut="traverse",
):
    """By what factor can the load grow before each face of a stack slips?

    Every face carries mu N, N the whole thrust. Beyond face j (0 the pad's, j between the discs j
    and j + 1) lie n − j discs of n. Along the edge (traverse) each face feels the side force F and
    the torque M of one disc's cut, and the unbalance U of the discs beyond: F + (n − j) U. Straight
    in (plunge) all discs are cut at once: (n − j)(F + U) and (n − j) M.

    pad: `Pad`. thrust: force. friction_at_pad, friction_between: plain numbers; of a layer between
    two discs, that of one of its faces. count: discs, a whole number. side_force, torque,
    unbalance: of one disc. cut: "traverse" or "plunge". All but count and cut broadcast together.
    Returns ratios with a last axis of count faces, the pad's first; see `margin`. Raises
    InputError. Notes: the faces between the discs are taken to press as the pad does, which flat,
    deburred sheets on a soft facing do; a bowed or burred one touches at a few spots, and nothing
    holds then. The nose floats and holds nothing. Source: argatov-2005; statics.

    By hand, torque alone: at the pad 0.3 × 600 N × 10 mm / 0.4 N·m = 4.5, between the discs 0.12.
    >>> setup = {"thrust": "600 N", "friction_at_pad": 0.3, "friction_between": 0.12}
    >>> load = {"side_force": "0 N", "torque": "0.4 N m"}
    >>> stack_margins(Pad("30 mm"), count=3, **setup, **load).round(9)
    array([4.5, 1.8, 1.8])
    """
    side, turn = loads(count, side_force, torque, unbalance, cut)
    at_pad, between = np.broadcast_arrays(friction_at_pad, friction_between)
    grips = np.stack([at_pad] + [between] * (count - 1), axis=-1)
    sizes = (pad.outer_radius, pad.relief, thrust)
    radius, relief, press = (each if np.ndim(each) == 0 else each[..., None] for each in sizes)
    return in_blocks(ray_length, pad.pressure, radius, relief, grips * press, side, turn, 0.0)


@boundary(
    wanted="ratio > 0",
    thickness="length > 0",
    axial_force="force >= 0",
    disc_diameter="length > 0",
    **_STACK,
)
def most_discs(
    pad,
    thrust,
    friction_at_pad,
    friction_between,
    side_force,
    torque,
    wanted,
    thickness,
    disc_diameter,
    axial_force="0 N",
    unbalance="0 N",
    cut="traverse",
):
    """How many discs may be squeezed together before a face slips or the stack tips?

    The largest n for which every face holds `wanted` times the load (see `stack_margins`), and the
    moment that tips the stack over the pad stays below the limit of `friction.tilt.tilt_limit`, see
    `tipping_share`.

    pad, thrust, friction_at_pad, friction_between, side_force, torque, unbalance: as for
    `stack_margins`, single values. cut: "traverse" or "plunge". wanted: the margin.
    thickness: of one disc with what lies on it. disc_diameter, axial_force: where the tool pushes,
    and how hard along the axis.
    Returns a whole number from 0 (not even one holds) to 50, the most that is looked at.
    Raises InputError. Notes: what a nose's travel, the tool's reach and the blanks' flatness allow
    is not asked. Source: argatov-2005; elementary-mechanics.

    By hand: 600 N × 15 mm / 4 = 2.25 N·m; 100 N tip it from 22.5 mm farther out, 11 discs on.
    >>> setup = {"thrust": "600 N", "friction_at_pad": 0.4, "friction_between": 0.4}
    >>> load = {"side_force": "100 N", "torque": "0 N m"}
    >>> most_discs(Pad("30 mm"), **setup, **load, wanted=2, thickness="2 mm", disc_diameter="78 mm")
    12
    """
    one_value(thrust=thrust, friction_at_pad=friction_at_pad, friction_between=friction_between)
    one_value(side_force=side_force, torque=torque, wanted=wanted, thickness=thickness)
    one_value(disc_diameter=disc_diameter, axial_force=axial_force, unbalance=unbalance)
    one_value(pad=pad.outer_radius + pad.relief)
    setup = pad, thrust, friction_at_pad, friction_between
    found = 0
    for count in range(1, MOST_DISCS + 1):
        factors = stack_margins.core(*setup, count, side_force, torque, unbalance, cut)
        height = (count - 1) * thickness
        pushed = loads(count, side_force, torque, unbalance, cut)[0][0]
        if not resolution.at_least(np.min(factors), wanted):
            break
        share = tipping_share.core(pad, thrust, pushed, height, axial_force, disc_diameter)
        if resolution.more_than(share, 1.0):
            break
        found = count
    return found


@boundary(
    returns="ratio",
    pad=Pad,
    thrust="force >= 0",
    side_force="force >= 0",
    height="length >= 0",
    axial_force="force >= 0",
    disc_diameter="length > 0",
)
def tipping_share(pad, thrust, side_force, height, axial_force, disc_diameter):
    """How near do the tool's pushes come to lifting one side of a stack off its pad?

    (F h + A D/2) / (N (r_o² + r_i²)/(4 r_o)): the side force F acts by h farther out than on a
    single thin disc, the axial force A at the rim; their moments are added as if they had one
    direction.

    pad: `Pad`. thrust, side_force, axial_force: forces. height: by which the outermost disc lies
    farther from the pad than the first. disc_diameter: length. Broadcast together. Returns a
    ratio: above 1 a side lifts. Raises InputError.
    Notes: the nose, which floats, is taken to hold nothing sideways.
    Source: elementary-mechanics.

    By hand: (100 N × 9 mm + 20 N × 45 mm) / (600 N × 15 mm / 4) = 1.8 / 2.25.
    >>> print(round(tipping_share(Pad("30 mm"), "600 N", "100 N", "9 mm", "20 N", "90 mm"), 9))
    0.8
    """
    moment = side_force * height + axial_force * disc_diameter / 2
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        share = np.divide(moment, tilt.tilt_limit.core(pad, thrust))
    return np.where(moment > 0, share, 0.0)[()]
