"""Which fields and words do several lessons share? Sheet, facing, pad, what a margin means."""

import numpy as np

from workshop_lib import shop
from workshop_lib.drawings import page
from workshop_lib.friction import Pad
from workshop_lib.materials import facings, materials
from workshop_lib.quantities import InputError, either, resolution, say, show, times_over
from workshop_lib.slip import LEAST_MARGIN
from workshop_lib.teaching.fields import Choice, Field

WORDS = {"yes": "Holds", "no": "Slips", "open": "Holds, but not by enough"}
PLENTY = 10  # margins above this are not written out: no strength is known so well
HARD = 1500.0  # N; from here on it comes near what the bearing of lesson 04's nose can take


def sheet_choice(start="stainless_steel"):
    """The field that asks for the sheet's material."""
    return Choice("material", "Sheet", {each.key: each.name for each in materials()}, start)


def facing_choice(start="leather"):
    """The field that asks for the pad's facing."""
    return Choice("facing", "Pad facing", {each.key: each.name for each in facings()}, start)


def noses_of_shop():
    """The designs of the noses in my_shop.toml, by "own NAME"; none where there is no good one."""
    try:
        own = shop.found()
    except InputError:  # the first cell of the lesson has said so
        return {}
    return {} if own is None else {f"own {name}": each.design for name, each in own.noses.items()}


def pad_fields(outer="60 mm", inner="0 mm"):
    """The two fields that ask for the pad's sizes."""
    return (
        Field("pad_diameter", "Pad, outer diameter", "length > 0", outer, slider=(10, 140, 1)),
        Field("relief_diameter", "Pad, relieved middle", "length >= 0", inner, slider=(0, 100, 1)),
    )


def set_up_fields(pad="60 mm"):
    """The fields that ask for sheet, disc, facing and pad. pad: its outer diameter."""
    size = Field("disc_diameter", "Disc diameter", "length > 0", "78 mm", slider=(20, 200, 1))
    return (sheet_choice(), size, facing_choice(), *pad_fields(pad))


def make_pad(pad_diameter, relief_diameter, pressure="uniform"):
    """The pad of a panel's two size fields; what is wrong with it is said at its field."""
    try:
        return Pad(pad_diameter, relief_diameter, pressure)
    except InputError as error:
        raise InputError("relief_diameter", error.problem, error.mend) from error


def check_cover(pad_diameter, disc_diameter):
    """Refuse a pad that stands out beyond the disc, at the field of the pad."""
    if pad_diameter >= disc_diameter:
        mend = say("Choose a smaller pad: the tool would cut one this large")
        raise InputError("pad_diameter", say("must be smaller than the disc"), mend)


def verdict(factor, wanted, thrust):
    """Say what a margin means: a sentence, and yes, no or open."""
    if not thrust.m:
        return say("Slips: there is no thrust, so the disc is loose"), "no"
    if not np.isfinite(factor):
        return say("Holds: there is no load on it"), "yes"
    if factor >= max(wanted, LEAST_MARGIN):
        more = factor > PLENTY
        times = say("more than {times}", times=PLENTY) if more else times_over(factor)
        if thrust.m_as("N") > HARD:
            words = "Holds {times} times the load, but few noses can take this much thrust"
            return say(words, times=times), "open"
        return say("Holds: {times} times the load", times=times), "yes"
    wanted = max(wanted, LEAST_MARGIN)
    if factor >= 1:
        words = "Holds, but not by enough: {times} times the load, and you want {wanted}"
        wanted = show(float(wanted), figures=2)
        return say(words, times=times_over(factor), wanted=wanted), "open"
    if factor > 0:
        return say("Slips: it can hold only {part} of the load", part=times_over(factor)), "no"
    return say("Slips: it can hold none of the load"), "no"


CRUSHED = "Holds, but not by enough: the pad facing is pressed harder than it can take"


def with_facing(words, holds, pressed):
    """A verdict once more with what its facing can take, and the sentence on it in a list.

    pressed: a `friction.FacingLoad`.
    """
    if pressed.bears is not False:
        return words, holds, []
    said = f"{pressed.reason[:1].upper()}{pressed.reason[1:]}."
    if holds == "yes":
        words, holds = say(CRUSHED), "open"
    return words, holds, [said]


def hard_pressed(thrust):
    """What to say of a thrust that not every nose can take: a list of one caution, or of none."""
    if thrust.m_as("N") <= HARD:
        return []
    return [
        page.caution(
            "This answers only whether the disc holds. Do not use this much thrust until you have "
            "checked, with lesson 04 and the machine's instructions, that nose and tailstock can "
            "take it."
        )
    ]


def enough_thrust(thrust):
    """A thrust that is needed, in words: rounded up to ten newtons, or to two pounds-force.

    >>> from workshop_lib.quantities import Q_
    >>> enough_thrust(Q_(908.2, "N"))
    '910 N'
    """
    unit, step = either(("N", 10), ("lbf", 2))
    needed = thrust.m_as(unit)
    if not np.isfinite(needed):
        return show(thrust)
    return f"{step * max(0, resolution.steps_up(needed, step)):.0f} {unit}"


def dial_depth(depth):
    """A depth that is not to be passed, in words: rounded down to what a dial shows.

    >>> from workshop_lib.quantities import Q_
    >>> dial_depth(Q_(0.178, "mm")), dial_depth(Q_(4, "um"))
    ('0.17 mm', 'less than 0.01 mm')
    """
    unit, step, decimals = either(("mm", 0.01, 2), ("thou", 0.5, 1))
    steps = resolution.steps_down(depth.m_as(unit), step)
    if not np.isfinite(steps):
        return show(depth)
    least = either("less than 0.01 mm", "less than 0.5 thou")
    return f"{steps * step:.{decimals}f} {unit}" if steps else say(least)
