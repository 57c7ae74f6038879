"""How do you measure friction and thrust in the shop, step by step, and where can it hurt?"""

from dataclasses import dataclass

from workshop_lib.sources import choose


@dataclass(frozen=True)
class Procedure:
    """One test: what it tells, how it is done, and its cautions. All common practice."""

    key: str
    tells: str
    steps: tuple
    cautions: tuple


_STILL = (
    "Stop the spindle and isolate the machine before any hand or scale goes near it, and keep it "
    "isolated until everything is taken out again."
)
_EDGES = (
    "Snipped sheet cuts: take the burr off first, handle it in gloves at the bench, and take the "
    "gloves off before a machine is switched on."
)
_RULES = "The shop's own rules, the machine's instructions and a trained instructor come first."

PROCEDURES = {
    each.key: each
    for each in (
        Procedure(
            "pull_test",
            "the friction coefficient of your sheet on your pad facing: pull / normal force",
            (
                "At the bench, fix the pad with its facing up and level. Take sheet and facing as "
                "they will be used: the same side, as clean or as oily.",
                "Lay the sheet on it and a known weight in the middle. The normal force is that of "
                "the weight and the sheet together.",
                "Pull level, slowly and without a jerk, with a spring or digital scale. Read the "
                "most that it shows before the sheet starts to slide.",
                "Lift the sheet, lay it down afresh and wait as long as before. Take five readings "
                "or more; turn the sheet between them.",
            ),
            (
                "The weight can slide off with the sheet: keep feet and fingers from under it, and "
                "stop it with a ledge.",
                _EDGES,
                _RULES,
            ),
        ),
        Procedure(
            "tilt_test",
            "the friction coefficient of your sheet on your pad facing: tan(angle)",
            (
                "At the bench, fix the pad with its facing up on a board that can be tilted, with "
                "an angle gauge on the board.",
                "Lay the sheet on it, with a weight fastened to its middle if it is light.",
                "Raise one end slowly and evenly. Read the angle at which the sheet starts to "
                "slide.",
                "Lay the sheet down afresh and repeat, five times or more; turn the sheet between.",
            ),
            (
                "The sheet comes off suddenly, its edge first: put a ledge below it and keep hands "
                "out of its way.",
                _EDGES,
                _RULES,
            ),
        ),
        Procedure(
            "thrust_at_pull",
            "the thrust that one pull on the handle of your handwheel gives",
            (
                "Put a scale that is made for such a force between nose and pad, on a block that "
                "keeps it square to the axis.",
                "Wind the quill up to first contact, then on with a spring balance hooked to the "
                "handle at a right angle, slowly and always forwards, up to the same pull each "
                "time. Read the scale once it has settled.",
                "Note the pull, not the angle of the wheel: the scale is far softer than sheet and "
                "facing, so that only the pull carries over to the disc.",
                "Wind right back, so that it is loose, and repeat, five times or more. Clamp the "
                "quill in each as you will when you turn.",
            ),
            (
                _STILL,
                "A squeezed scale or block can fly out sideways: stay out of line with the gap, "
                "keep fingers out of it, and stop well below the most that the scale, the bearings "
                "of the nose and the tailstock can take.",
                _RULES,
            ),
        ),
    )
}


def how_to(test):
    """How is this test done, and where can it hurt?

    test: "pull_test", "tilt_test" or "thrust_at_pull". Returns a `Procedure`: tells, steps,
    cautions. Raises InputError. Source: common-practice.

    >>> how_to("tilt_test").tells
    'the friction coefficient of your sheet on your pad facing: tan(angle)'
    """
    return PROCEDURES[choose(test, PROCEDURES, "test", "test")]
