"""More exercises for lesson 03: strikes of the corners, how many passes, which speed."""

import numpy as np

from workshop_lib.blank import Blank
from workshop_lib.friction import Pad
from workshop_lib.lesson.exercises import Exercise, told_apart
from workshop_lib.lesson.redraw import redraw
from workshop_lib.lesson.tasks_03 import CENTRE, OUTSIDE, SIDES
from workshop_lib.passes import passes
from workshop_lib.quantities import Q_, show
from workshop_lib.speeds import machine_speed
from workshop_lib.torque import spindle_speed
from workshop_lib.turning import Turning

MACHINES = (
    (55, 90, 145, 230, 370, 600),
    (60, 100, 160, 250, 400, 640),
    (70, 120, 200, 300, 500, 800),
)


def tasks():
    """The exercises in the order of the lesson, a tuple of `Exercise`."""
    return _strikes(), _count(), _speed()


def _strikes(sides=8, speed=150):
    blank = Blank.regular(sides, across_flats="100 mm")
    corner = blank.corner_radius(CENTRE)
    met = blank.engagement(CENTRE, corner - Q_(0.5, "mm"), Q_(0.5, "mm"))
    turns = Q_(speed, "rev/min").m_as("turn/s")
    answer = Q_(met.strikes * turns, "Hz")
    return Exercise(
        "l03-task-strikes",
        f"{'An' if sides == 8 else 'A'} {SIDES[sides]} blank turns at {speed} rev/min. The tool "
        "takes only the corners. How often does it strike in a second? (Write the answer in Hz: "
        "times in a second.)",
        answer,
        kind="frequency",
        within="2 %",
        common_wrong=[
            (Q_(turns, "Hz"), "That is the turns in a second. Each corner strikes once a turn."),
            (Q_(sides, "Hz"), "That is how often it strikes in one turn."),
            (Q_(sides * speed, "Hz"), "That is in a minute."),
            (Q_(sides * turns * 2 * np.pi, "Hz"), "You took radians for turns: 2π too many."),
            (answer / 2, "Each corner strikes, not every second one."),
        ],
        hints=[
            "How many corners come past in one turn?",
            f"{sides} × {speed} in a minute; a minute has 60 seconds.",
        ],
        solution=f"{sides} × {speed} / 60 = {show(answer)}.",
        remake=redraw(
            _strikes, sides=list(SIDES), speed=range(60, 410, 10)
        ),
        caution=OUTSIDE,
    )  # fmt: skip


def _count(side=70, disc=64, depth=0.8):
    grip = (Pad(Q_(0.7 * disc, "mm")), "700 N", 0.3, 0.5)
    turning = Turning("aluminium", "1 mm", "0.05 mm/rev", "100 rev/min", *grip)
    found = passes(Blank.square(Q_(side, "mm")), Q_(disc, "mm"), Q_(depth, "mm"), turning)
    answer, corner, radius = len(found), side / 2**0.5, disc / 2
    slips = [
        (
            int(np.ceil((side / 2 - radius) / depth)),
            "You began at the middle of a side. The tool begins at the corners, farther out.",
        ),
        (
            int(np.ceil(2 * (corner - radius) / depth)),
            "You took diameters: the depth comes off the radius.",
        ),
        (answer - 1, "That does not quite reach the disc: a part of a pass is one more pass."),
        (int(np.ceil(corner / depth)), "That is down to the centre. The passes end at the disc."),
    ]
    return Exercise(
        "l03-task-count",
        f"A {side} mm square becomes a {disc} mm disc in passes {depth:g} mm deep, measured on "
        "the radius. How many passes is that, from the corners on?",
        answer,
        within="0.3",
        common_wrong=told_apart(answer, slips, "0.3"),
        hints=[
            "Where does the tool begin, and where does it end? Both as radii.",
            f"From {corner:.1f} mm to {radius:g} mm in steps of {depth:g} mm.",
        ],
        solution=f"({corner:.2f} − {radius:g}) / {depth:g} = {(corner - radius) / depth:.1f}, so "
        f"{answer} passes; the last takes the rest.",
        remake=redraw(
            _count,
            # A count that rounding could turn into its neighbour is no fair question.
            lambda side, disc, depth: (
                4 <= side - disc <= 12 and 0.1 < (side / 2**0.5 - disc / 2) / depth % 1 < 0.95
            ),
            side=range(50, 165, 5), disc=range(44, 160, 2), depth=(0.5, 0.8, 1, 1.5),
        ),
        caution=OUTSIDE,
    )  # fmt: skip


def _speed(cutting=30, across=80, machine=1):
    speeds = MACHINES[machine]
    listed = Q_(np.array(speeds, float), "rev/min")
    wanted = spindle_speed(Q_(cutting, "m/min"), Q_(across, "mm"))
    answer = machine_speed(wanted, listed)
    slips = _speed_slips(cutting, across, wanted, speeds, answer)
    return Exercise(
        "l03-task-speed",
        f"A blank is {across} mm across its corners, and the tool bears a cutting speed of "
        f"{cutting} m/min. The machine has {', '.join(map(str, speeds))} rev/min. Which of these "
        "do you set at the most?",
        answer.to("rev/min"),
        within="2 %",
        common_wrong=told_apart(answer, slips, "2 %"),
        hints=[
            "Cutting speed is circumference times turns: v = π D n, with D in metres.",
            f"n = {cutting} / (π × {across / 1e3:g}) turns in a minute; then round down.",
        ],
        solution=f"{cutting} m/min / (π × {across / 1e3:g} m) = {show(wanted)}; the next one below "
        f"is {show(answer)}. Corners, imbalance or a thin rim ask for less.",
        remake=redraw(
            _speed,
            lambda cutting, across, **_: 75 < 1e3 * cutting / np.pi / across < 600,
            cutting=(15, 20, 25, 30, 40, 50, 60), across=range(50, 190, 5), machine=(0, 1, 2),
        ),
        paper="v = π D n, with D the diameter across the corners",
        caution=OUTSIDE,
    )  # fmt: skip


def _speed_slips(cutting, across, wanted, speeds, answer):
    """What is usually answered instead."""
    listed = Q_(np.array(speeds, float), "rev/min")
    above = speeds[min(speeds.index(round(answer.m_as("rev/min"))) + 1, len(speeds) - 1)]
    return [
        (Q_(above, "rev/min"), "That is the next faster one: round down, never up."),
        (
            wanted.to("rev/min"),
            "That is the speed for the cutting speed; the machine does not have "
            "it. Which of its own comes next below?",
        ),
        (
            2 * wanted.to("rev/min"),
            "You took the radius for the diameter, and the machine does not have that speed.",
        ),
        (
            Q_(1e3 * cutting / across, "rev/min"),
            "You left π out: the circumference is π times the diameter.",
        ),
        (machine_speed(2 * wanted, listed), "You took the radius for the diameter."),
        (
            Q_(speeds[0], "rev/min"),
            "That is slower than need be; a lower speed is right only where something asks for it.",
        ),
    ]  # fmt: skip
