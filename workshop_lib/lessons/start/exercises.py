"""Which exercises does lesson 00 set, with which answers and which usual mistakes?"""

from workshop_lib.friction import side_capacity
from workshop_lib.quantities import Q_, either, in_system, show
from workshop_lib.teaching.exercises import Exercise
from workshop_lib.teaching.redraw import redraw, sized


def tasks():
    """The exercises in the order of the lesson, a tuple of `Exercise`."""
    return _comma(), _scale(), _crank(), _squeal()


@sized(inch={"size": 2.25})
def _comma(size=30.5):
    unit = either("mm", "in")
    answer = Q_(size, unit)
    point = f"{size:g}"
    digits = point.replace(".", "")
    times = round(int(digits) / size)
    written = f"{point.replace('.', ',')} {unit}"
    return Exercise(
        "l00-task-comma",
        f"A drawing from abroad gives a pad's diameter as {written}, with a decimal comma. Type "
        "that length so that the workbook can read it.",
        answer,
        within="0.1 %",
        common_wrong=[
            (Q_(int(digits), unit), f"You left the comma out, so the pad became {times} times as "
             "large. Type a point instead."),
            (Q_(int(size), unit), "You lost the decimals. Type a point instead of the comma."),
            (answer / 2, "That is the radius. The question asks for the diameter."),
        ],
        hints=[
            "The workbook reads a decimal point, never a comma.",
            f"{point.replace('.', ' point ')}, and then the unit.",
        ],
        solution=f"{point} {unit}, with a point and a unit. Any unit of length will do: "
        + either(show(answer, "inch", figures=5), f"{25.4 * size:g} millimetres") + " is the same.",
        remake=redraw(
            _comma, size=[each / 10 for each in range(155, 900, 5) if each % 10],
            inch={"size": [n / 100 for n in range(125, 600, 25) if n % 100]},
        ),
    )  # fmt: skip


@sized(inch={"shown": 130})
def _scale(shown=60, friction=0.2):
    mark, force = either(("kg", "kgf"), ("lb", "lbf"))
    thrust = in_system(Q_(shown, force).to("N"))
    answer = side_capacity(thrust, friction)
    taken = either(
        (Q_(friction * shown, "N"), "You used kilograms as if they were newtons. A scale that "
         f"shows one kilogram is being pressed with 9.81 N: type {shown} kgf."),
        (32.174 * answer, "You multiplied by 32.2. A scale already shows the pounds that press it: "
         "a pound on the scale is 1 lbf."),
    )  # fmt: skip
    is_force = f"{shown} kgf is {show(thrust)}; " if force == "kgf" else ""
    return Exercise(
        "l00-task-scale",
        f"A scale between nose and pad shows {shown} {mark}. The friction coefficient is "
        f"{friction:g}. What side force can the pad's one face hold?",
        answer,
        within="2.5 %",
        common_wrong=[
            (2 * answer, "You counted both faces, but only the pad's face drives."),
            taken,
            (thrust, "That is the thrust. Friction holds only the coefficient times the thrust."),
            (answer / 2, "That is half the answer. The two faces do not share the thrust: the "
             "pad's face carries all of it."),
        ],
        hints=[
            f"The scale is pressed with {shown} {force}."
            + either(" A kilogram-force is 9.81 N.", " Pounds on a scale are pounds of force."),
            "The side force is the coefficient times the thrust.",
        ],
        solution=f"{is_force}{friction:g} × {show(thrust)} = {show(answer)}.",
        remake=redraw(
            _scale, shown=range(30, 105, 5), friction=(0.15, 0.2, 0.25, 0.3, 0.35),
            inch={"shown": range(70, 240, 10)},
        ),
        paper="side force = friction coefficient × thrust; "
        + either("1 kg on the scale is 9.81 N", "1 lb on the scale is 1 lbf"),
    )  # fmt: skip


@sized(pull="N", diameter="mm")
def _crank(pull=25, diameter=240):
    answer = (Q_(pull, "N") * Q_(diameter / 2, "mm")).to("N*m")
    small, large, arm, times = either(
        ("N·mm", "N·m", "millimetres", 1000), ("lbf·in", "lbf·ft", "inches", 12)
    )
    steps = f"{pull:g} N × {diameter / 2:g} mm"
    inner = f" = {pull * diameter / 2:g} N·mm" if small == "N·mm" else ""
    return Exercise(
        "l00-task-crank",
        f"You pull with {pull:g} N at the rim of a handwheel {diameter:g} mm across. What torque "
        "is that?",
        answer,
        within="1 %",
        common_wrong=[
            (2 * answer, "You used the diameter. Torque is force times radius."),
            (times * answer, f"You multiplied by {arm} and wrote {large}. Write {small}, or "
             f"divide by {times}."),
            (2 * times * answer, f"You used the diameter, and wrote {large} instead of {small}."),
        ],
        hints=[
            "Torque is force times the distance from the axis, measured square to the pull.",
            f"{steps} gives {small}" + either("; divide by 1000 to get N·m.", "."),
        ],
        solution=f"{steps}{inner} = {show(answer)}.",
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
            ("more", "Do not touch the handwheel while the spindle turns: your hand is then near "
             "a disc that may be thrown."),
            ("ease", "Never: the thrust is all that holds the disc."),
            ("light", "A disc that squeals may be slipping already, and one that slips can be "
             "thrown."),
        ],
        hints=[
            "A disc that slips can be thrown.",
            "Look at the caution that begins with ‘Never ease the thrust’.",
        ],
        solution="Step out of the disc's plane, stop the spindle and wait until it stands still. "
        "Only then look for the cause, with your instructor.",
    )  # fmt: skip
