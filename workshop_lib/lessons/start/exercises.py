"""Which exercises does lesson 00 set, with which answers and which usual mistakes?"""

from workshop_lib.friction import side_capacity
from workshop_lib.quantities import Q_, show
from workshop_lib.teaching.exercises import Exercise
from workshop_lib.teaching.redraw import redraw


def tasks():
    """The exercises in the order of the lesson, a tuple of `Exercise`."""
    return _comma(), _scale(), _crank(), _squeal()


def _comma(tenths=305):
    answer = Q_(tenths / 10, "mm")
    written = f"{tenths // 10},{tenths % 10} mm"
    return Exercise(
        "l00-task-comma",
        f"A drawing from abroad gives a pad's diameter as {written}; there a comma stands before "
        "the decimals. Type that length so that the workbook reads it.",
        answer,
        within="0.1 %",
        common_wrong=[
            (Q_(tenths, "mm"), "You left the comma out, and the pad became ten times as large. "
             "Write a point in its place."),
            (Q_(tenths // 10, "mm"), "The decimals got lost. Write a point in place of the comma."),
            (answer / 2, "That is the radius; the diameter is asked."),
        ],
        hints=[
            "The workbook reads a point, never a comma.",
            f"{tenths // 10} point {tenths % 10}, and the unit behind it.",
        ],
        solution=f"{answer.m_as('mm'):g} mm, with a point and a unit. Any unit of length serves: "
        f"{show(answer, 'inch', figures=5)} is the same.",
        remake=redraw(_comma, tenths=[each for each in range(155, 900, 5) if each % 10]),
    )  # fmt: skip


def _scale(kilograms=60, friction=0.2):
    thrust = Q_(kilograms, "kgf").to("N")
    answer = side_capacity(thrust, friction)
    return Exercise(
        "l00-task-scale",
        f"A scale between nose and pad shows {kilograms} kg. The friction coefficient is "
        f"{friction:g}. How large a side force can the pad's one face hold?",
        answer,
        within="2.5 %",
        common_wrong=[
            (2 * answer, "You counted both faces, but only the pad's face drives."),
            (Q_(friction * kilograms, "N"), "You took kilograms for newtons. A scale that shows a "
             f"kilogram is pressed with 9.81 N: type {kilograms} kgf."),
            (thrust, "That is the thrust itself; friction holds only the coefficient times it."),
            (answer / 2, "That is half of it. The thrust is not shared between the two faces: the "
             "pad's face feels all of it."),
        ],
        hints=[
            f"The scale is pressed with {kilograms} kgf. A kilogram-force is 9.81 N.",
            "The side force is the coefficient times the thrust.",
        ],
        solution=f"{kilograms} kgf is {show(thrust)}; {friction:g} × {show(thrust)} = "
        f"{show(answer)}.",
        remake=redraw(
            _scale, kilograms=range(30, 105, 5), friction=(0.15, 0.2, 0.25, 0.3, 0.35)
        ),
        paper="side force = friction coefficient × thrust; 1 kg on the scale is 9.81 N",
    )  # fmt: skip


def _crank(pull=25, diameter=240):
    answer = (Q_(pull, "N") * Q_(diameter / 2, "mm")).to("N*m")
    return Exercise(
        "l00-task-crank",
        f"A hand pulls with {pull} N at the rim of a handwheel of {diameter} mm diameter. What "
        "torque is that?",
        answer,
        within="1 %",
        common_wrong=[
            (2 * answer, "You took the diameter: a torque is force times radius."),
            (Q_(pull * diameter / 2, "N*m"), "You multiplied by millimetres and wrote N·m. Either "
             "turn the radius into metres, or write N mm."),
            (Q_(pull * diameter, "N*m"), "You took the diameter, and millimetres for metres."),
        ],
        hints=[
            "Torque is force times the distance from the axis, squarely measured.",
            f"{pull} N × {diameter / 2:g} mm, as N mm or divided by 1000 as N·m.",
        ],
        solution=f"{pull} N × {diameter / 2:g} mm = {pull * diameter / 2:g} N·mm = {show(answer)}.",
        remake=redraw(_crank, pull=range(10, 65, 5), diameter=range(120, 300, 20)),
        paper="torque = force × distance from the axis",
    )  # fmt: skip


def _squeal():
    return Exercise(
        "l00-task-squeal",
        "You are turning a disc, and it begins to squeal. What do you do first?",
        "stop",
        options={
            "more": "Wind the thrust up a little",
            "ease": "Ease the thrust a little",
            "stop": "Step out of the disc's plane and stop the spindle",
            "light": "Take a lighter cut and go on",
        },
        common_wrong=[
            ("more", "The handwheel is not touched while the spindle turns: a hand there is near a "
             "disc that may be thrown."),
            ("ease", "Never: the thrust is all that holds the disc."),
            ("light", "A disc that squeals may be slipping already, and one that slips can be "
             "thrown."),
        ],
        hints=[
            "A disc that slips can be thrown.",
            "Look at the caution that begins with ‘Never ease the thrust’.",
        ],
        solution="Step out of its plane, stop the spindle, wait for standstill. Only then look for "
        "the cause, with your instructor.",
    )  # fmt: skip
