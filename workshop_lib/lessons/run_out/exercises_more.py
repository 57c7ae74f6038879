"""More exercises for lesson 05: four readings, half a turn on the spindle, the next test."""

import numpy as np

from workshop_lib.lesson.exercises import Exercise
from workshop_lib.lesson.redraw import redraw
from workshop_lib.lesson.tasks_05 import POWER_OFF
from workshop_lib.quantities import Q_, show
from workshop_lib.run_out import fit, reversal

QUARTERS = ["0 deg", "90 deg", "180 deg", "270 deg"]


def tasks():
    """The exercises in the order of the lesson, a tuple of `Exercise`."""
    return _four(), _turned(), _next()


def _four(offset=50, across=30, along=40):
    read = (offset + across, offset + along, offset - across, offset - along)
    found = fit(QUARTERS, Q_(np.array(read, float), "um"))
    answer = found.eccentricity.to("um")
    marked = zip((0, 90, 180, 270), read, strict=True)
    pairs = ", ".join(f"{mark}°: {each} µm" for mark, each in marked)
    return Exercise(
        "l05-task-four",
        f"A round part is clocked at four marks: {pairs}. How large is its eccentricity?",
        answer,
        within="1 %",
        common_wrong=[
            (Q_(max(read) - min(read), "um"), "That is the highest reading less the lowest: a "
             "total, and not even the whole one, since the high spot lies between the marks."),
            (Q_((max(read) - min(read)) / 2, "um"), "That is half of the highest reading less the "
             "lowest. The high spot lies between the marks: take both pairs of readings."),
            (Q_(abs(across) + abs(along), "um"), "You added the two parts as plain numbers. They "
             "are at right angles."),
            (2 * answer, "Opposite readings differ by twice the part: halve both differences."),
            (Q_(max(read), "um"), "That is a reading. The needle's zero is anywhere: only "
             "differences count."),
        ],
        hints=[
            "Half the difference of opposite readings is one part of the eccentricity.",
            f"Parts of {abs(across)} and {abs(along)} µm, at right angles.",
        ],
        solution=f"Half the differences of opposite readings are {abs(across)} µm and {abs(along)} "
        f"µm; √({abs(across)}² + {abs(along)}²) = {show(answer)}.",
        remake=redraw(
            _four,
            lambda across, along, **_: 0.4 < abs(across / along) < 2.5,
            offset=range(100, 200, 10), across=[n for n in range(-60, 65, 5) if abs(n) > 5],
            along=[n for n in range(-60, 65, 5) if abs(n) > 5],
        ),
        paper="one part from 0° and 180°, the other from 90° and 270°, each half of the "
        "difference; e = √(part² + part²)",
        caution=POWER_OFF,
    )  # fmt: skip


def _turned(first=30, second=12):
    wave = np.cos(np.radians([0, 90, 180, 270]))
    shown = [Q_(size * wave, "um") for size in (first, second)]
    pad = abs(reversal(*shown)[1]).max().to("um")
    spindle = abs(reversal(*shown)[0]).max().to("um")
    return Exercise(
        "l05-task-turned",
        f"The rim of the pad has an eccentricity of {first} µm at mark 0° of the spindle. You turn "
        f"the pad by half a turn on the spindle and clock again: {second} µm, again at mark 0° of "
        "the spindle. How much of it is the pad's own?",
        pad,
        within="1 %",
        common_wrong=[
            (spindle, "That is the spindle's: it stays with the spindle's mark. The pad's goes "
             "round with the pad."),
            (Q_(first - second, "um"), "Take half of that: what the pad adds at first it takes "
             "away after half a turn."),
            (Q_(first + second, "um"), "You added the two. Half the sum is the spindle's, half the "
             "difference the pad's."),
            (Q_(first, "um"), "That is both together, as they stood at first."),
            (Q_(second, "um"), "That is the spindle's less the pad's, as they stand now."),
        ],
        hints=[
            "What stays with the spindle's mark is the spindle's; what has gone round is the "
            "pad's.",
            f"At first spindle + pad = {first} µm, afterwards spindle − pad = {second} µm.",
        ],
        solution=f"Half the difference: ({first} − {second})/2 = {show(pad)} is the pad's, and "
        f"half the sum, {show(spindle)}, the spindle's.",
        remake=redraw(
            _turned,
            lambda first, second: first - second >= 6,
            first=range(16, 62, 2), second=range(4, 42, 2),
        ),
        panel="Spindle or part?",
        paper="first arrow = spindle + pad; half a turn on = spindle − pad; total = 2e",
        caution=POWER_OFF,
    )  # fmt: skip


def _next():
    return Exercise(
        "l05-task-next",
        "The rim of the driving pad runs out, and half a turn on the spindle has shown that the "
        "fault is the pad's own. Either it sits off centre, or it leans. Which test do you make "
        "next?",
        "face",
        options={
            "again": "clock its rim once more, with a finer indicator",
            "face": "take the disc out and clock the face of the pad near its edge",
            "push": "push and pull it sideways",
            "tap": "tap it by half the total, and see",
        },
        common_wrong=[
            ("again", "A finer needle makes the number surer. Both causes predict the same there."),
            ("push", "Neither an eccentric pad nor a leaning one moves. Both predict the same."),
            ("tap", "That changes the set-up before you know the cause: if the pad leans, you "
             "shift what was in the middle."),
        ],
        hints=[
            "A good test is one on which the rivals disagree.",
            "What does the face of a pad do that is only shifted to one side?",
        ],
        solution="A pad that is only shifted keeps its face square to the axis: the needle on it "
        "stands still. If the pad leans, its face swings.",
        caution=POWER_OFF,
    )  # fmt: skip
