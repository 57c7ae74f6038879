"""More exercises for lesson 02: a located nose, the low friction, a tailstock that gives way."""

from workshop_lib.friction import Pad
from workshop_lib.lesson.exercises import Exercise
from workshop_lib.lesson.redraw import redraw
from workshop_lib.lesson.tasks_02 import BELOW_TWO
from workshop_lib.quantities import Q_, show
from workshop_lib.slip import margin
from workshop_lib.thrust import after_creep


def tasks():
    """The exercises in the order of the lesson, a tuple of `Exercise`."""
    return _located(), _low(), _left()


def _located(thrust=800, pad_friction=0.3, nose_friction=0.2):
    hold = Pad("60 mm"), Q_(thrust, "N"), pad_friction, Q_(1, "N"), "0 N m"
    answer = Q_(float(margin(*hold, nose="located", nose_friction=nose_friction)), "N")
    floating = Q_(float(margin(*hold)), "N")
    return Exercise(
        "l02-task-located",
        f"{thrust} N press the pad (friction {pad_friction:g}) and a nose that is truly held "
        f"sideways (friction {nose_friction:g} on the disc). No torque acts. Which side force "
        "would the two hold together?",
        answer,
        within="1 %",
        common_wrong=[
            (floating, "That is the pad alone. A nose that cannot float sideways adds its own "
             "friction to the side force."),
            (2 * floating, "Two faces, but each has its own friction coefficient."),
            (answer - floating, "That is what the nose adds; the pad holds as well."),
            (answer / 2, "The thrust is not shared: each face feels all of it."),
        ],
        hints=[
            "Each face holds its own friction coefficient times the thrust.",
            f"{pad_friction:g} × {thrust} N for the pad; then the nose in the same way.",
        ],
        solution=f"({pad_friction:g} + {nose_friction:g}) × {thrust} N = {show(answer)}. To the "
        "torque the nose adds nothing, since it turns on bearings; and one that can float adds "
        "nothing at all.",
        remake=redraw(
            _located, thrust=range(400, 1250, 50), pad_friction=(0.25, 0.3, 0.35, 0.4),
            nose_friction=(0.1, 0.12, 0.15, 0.2),
        ),
        paper="Side force of one face: F = μ N",
    )  # fmt: skip


def _low(computed=3.0, typical=0.45, low=0.3):
    setup = Pad("60 mm"), Q_(800, "N")
    load = Q_(100, "N"), Q_(1, "N*m")
    scale = float(margin(*setup, typical, *load)) / computed  # the same set-up, as loaded as told
    load = tuple(each * scale for each in load)
    answer = float(margin(*setup, low, *load))
    return Exercise(
        "l02-task-low",
        f"Reckoned with the typical friction of {typical:g}, a set-up has a margin of "
        f"{computed:g}. The low end of that friction is {low:g}. Which margin do you quote?",
        answer,
        within="1 %",
        common_wrong=[
            (computed, "That is the typical margin. Quote the one at low friction: nobody knows "
             "which friction you have today."),
            (computed * typical / low, "Less friction cannot give more margin: the ratio is upside "
             "down."),
            (computed - (typical - low), "The margin goes in proportion to the friction, not down "
             "by the same amount."),
            (computed * low, "The margin already has friction in it: only its ratio counts."),
        ],
        hints=[
            "Friction times thrust scales the whole limit curve.",
            f"{computed:g} × {low:g}/{typical:g}.",
        ],
        solution=f"{computed:g} × {low:g}/{typical:g} = {show(answer)}"
        f"{': below 2, so change something before you cut.' if answer < 1.999 else '.'}",
        remake=redraw(
            _low,
            lambda typical, low, **_: 0.5 < low / typical < 0.8,
            computed=(2.4, 2.7, 3.0, 3.3, 3.6, 4.0, 4.5), typical=(0.3, 0.35, 0.4, 0.45, 0.5, 0.6),
            low=(0.15, 0.2, 0.25, 0.3, 0.35, 0.4),
        ),
        paper="Hold and margin are proportional to the friction coefficient.",
        caution=BELOW_TWO,
    )  # fmt: skip


def _left(thrust=800, stiffness=2, creep=0.15):
    answer = after_creep(Q_(thrust, "N"), Q_(1e3 * stiffness, "N/mm"), Q_(creep, "mm"))
    gone = Q_(1e3 * stiffness * creep, "N")
    return Exercise(
        "l02-task-left",
        f"{thrust} N of thrust in a squeeze of {stiffness:g} kN/mm, and an unlocked tailstock "
        f"that creeps back {creep:g} mm. How much thrust is left?",
        answer,
        within="1 %",
        common_wrong=[
            (gone, "That is the thrust that has gone. What is left?"),
            (Q_(thrust, "N"), "A thrust is a squeezed spring: when the tailstock gives way, it "
             "goes. Or did you take kilonewtons for newtons?"),
            (answer / 2, "The thrust is not shared between the two faces."),
        ],
        hints=[f"{thrust} N − {1e3 * stiffness:g} N/mm × {creep:g} mm."],
        solution=f"{thrust} N − {1e3 * stiffness:g} N/mm × {creep:g} mm = {show(answer)}.",
        remake=redraw(
            _left,
            lambda thrust, stiffness, creep: 0.2 < 1e3 * stiffness * creep / thrust < 0.85,
            thrust=range(500, 1250, 50), stiffness=(1, 1.5, 2, 2.5, 3),
            creep=(0.05, 0.1, 0.12, 0.15, 0.2, 0.25, 0.3),
        ),
        paper="N' = N − k x, with the stiffness k and the creep x",
        withheld=True,
        caution="Lock the tailstock and its quill before every start.",
    )  # fmt: skip
