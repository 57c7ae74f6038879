"""Which speed of the machine should I take, and what must I watch with large or thin discs?

Speeds for a cutting speed and a diameter come from `torque.spindle_speed`.
"""

from dataclasses import dataclass, field

import numpy as np

from workshop_lib import sources
from workshop_lib.friction import coefficient
from workshop_lib.materials import find_material
from workshop_lib.overhang import rim_stiffness
from workshop_lib.quantities import InputError, as_shown, boundary, one_value, show, system, to_core

SAME = 1e-6  # speeds that differ by less, as a share, are the same
# Shares from which a caution is given; remembered, not published: see `Caution.source`.
UNBALANCE_LIMIT = 0.1  # of the side force that friction holds
SLENDER_LIMIT = 20.0  # overhang over thickness


def _speeds(value, name):
    """Convert a machine's list of speeds to a sorted tuple in rad/s."""
    speeds = np.atleast_1d(to_core(value, "speed", name, "> 0"))
    if speeds.ndim != 1:
        raise InputError(name, "give the machine's speeds as one list")
    return tuple(np.sort(speeds).tolist())


@boundary(returns="speed", wanted="speed > 0", speeds=_speeds)
def machine_speed(wanted, speeds):
    """Which of the machine's own speeds comes nearest to a wanted one without exceeding it?

    wanted: such as `torque.spindle_speed` gives; any shape. speeds: the machine's list, in one row,
    in any order. Returns a speed in rev/min, of the shape of wanted. Raises InputError, also
    where even the slowest is too fast. Source: elementary-mechanics.

    >>> print(machine_speed("73.5 rev/min", ["30 rev/min", "50 rev/min", "80 rev/min"]).round(6))
    50.0 rpm
    """
    place = np.searchsorted(speeds, np.asarray(wanted) * (1 + SAME), side="right") - 1
    if np.any(place < 0):
        slowest, least = (show(as_shown(s, "speed")) for s in (speeds[0], np.min(wanted)))
        problem = f"even the slowest, {slowest}, is faster than the {least} you want"
        mend = "Use back gear or another machine, or a tool that can take a higher cutting speed"
        raise InputError("speeds", problem, mend)
    return np.asarray(speeds)[place]


@dataclass(frozen=True, eq=False)
class Caution:
    """Something to beware of: what was calculated, the limit that it exceeds, and a sentence.

    key: "fast_rim", "unbalanced" or "thin". source: citation key of the limit.
    """

    key: str
    value: object
    limit: object
    sentence: str
    source: str = field(repr=False)

    @property
    def standing(self):
        """How far the limit can be trusted."""
        return sources.standing(self.source)


@boundary(
    diameter="length > 0",
    pad_diameter="length > 0",
    thickness="length > 0",
    material=find_material,
    speed="speed > 0",
    unbalance="force >= 0",
    thrust="force >= 0",
    friction_coefficient=coefficient,
)
def cautions(
    diameter,
    pad_diameter,
    thickness,
    material,
    speed,
    unbalance,
    thrust,
    friction_coefficient,
):
    """What should you watch out for with this blank at this speed?

    fast_rim: the rim runs faster than any cutting speed in the material's row. unbalanced: the
    unbalance takes more than a tenth of the side force mu N that friction holds. thin: the rim
    stands out more than twenty times its thickness.

    diameter: of the blank across its corners, or of the disc. pad_diameter, thickness: lengths.
    material: key or `Material`. speed: of the spindle. unbalance: force, see `Blank.unbalance`.
    thrust: force. friction_coefficient: plain number, the low one. Single values.
    Returns a tuple of `Caution`, empty when none is due. Raises InputError. Notes: no caution is no
    proof of safety. Local rules, the machine's instructions and a trained instructor come first.
    Source: the material's row for cutting speeds; the two other limits are from-memory.

    >>> found = cautions("120 mm", "30 mm", "0.5 mm", "acrylic", "80 rev/min", "0 N", "400 N", 0.2)
    >>> [each.key for each in found], found[0].value
    (['thin'], 90.0)
    """
    one_value(diameter=diameter, pad_diameter=pad_diameter, thickness=thickness, speed=speed)
    one_value(unbalance=unbalance, thrust=thrust, friction_coefficient=friction_coefficient)
    rim, fastest = speed * diameter / 2, material.core.cutting_speed_carbide.high
    hold = friction_coefficient * thrust
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        pull = float(np.where(unbalance > 0, np.divide(unbalance, hold), 0.0))
    slender = (diameter - pad_diameter) / 2 / thickness
    found = []
    if rim > fastest:
        found.append(_fast_rim(rim, fastest, material))
    if pull > UNBALANCE_LIMIT:
        found.append(_unbalanced(pull, unbalance))
    if slender > SLENDER_LIMIT:
        found.append(
            _thin(slender, rim_stiffness.core(diameter, pad_diameter, thickness, material))
        )
    return tuple(found)


def _fast_rim(rim, fastest, material):
    shown = [as_shown(v, "cutting_speed") for v in (rim, fastest)]
    sentence = (
        f"The rim runs at {show(shown[0])}, faster than {show(shown[1])}, the highest cutting "
        f"speed given for {material.name}; a blank that comes off is thrown at that speed. Take a "
        "slower one, with the guard in place."
    )
    return Caution("fast_rim", *shown, sentence, material.cited["cutting_speed_carbide"])


def _unbalanced(pull, unbalance):
    sentence = (
        f"The unbalance pulls with {show(as_shown(unbalance, 'force'))}, "
        f"{show(100 * pull, figures=2)} % of what friction holds sideways. Start slower, centre "
        "the blank better, or snip the heavy side; it grows as the square of the speed."
    )
    return Caution("unbalanced", pull, UNBALANCE_LIMIT, sentence, "from-memory")


THOU = 0.254e-3  # m, ten thou


def _thin(slender, stiffness):
    inch = system() == "inch"
    way, words = (THOU, "ten thou") if inch else (1e-3, "a millimetre")
    sentence = (
        f"The rim stands out {show(slender, figures=2)} times its thickness, and gives way by "
        f"{words} under {show(as_shown(way * stiffness, 'force'), figures=2)}: take a larger pad "
        "and light cuts."
    )
    return Caution("thin", slender, SLENDER_LIMIT, sentence, "from-memory")
