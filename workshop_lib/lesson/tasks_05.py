"""The exercises of lesson 05: half the total, vectors, the lever's cosine, the second plane."""

import numpy as np

from workshop_lib.lesson.exercises import Exercise
from workshop_lib.quantities import Q_, read, show
from workshop_lib.run_out import Readings, axis_through, correction, shift_between, true_travel

THREE = ["0 deg", "120 deg", "240 deg"]


def tasks():
    """The exercises in the order of the lesson, a tuple of `Exercise`."""
    return _tap(), _knock(), _lever(), _planes()


def _tap(total="0.18 mm"):
    half = read(total, "length").m_as("mm") / 2
    turn = ["0 deg", "90 deg", "180 deg", "270 deg"]
    clocked = Readings(turn, [f"{v} mm" for v in (0.0, half, 0.0, -half)], graduation="0.01 mm")
    answer = correction("displaced_disc", clocked).tap_by
    return Exercise(
        "l05-task-tap",
        f"The rim of a disc runs out by {total} in total; its form is good. By how much must its "
        "rim be moved towards the axis at the high spot?",
        answer,
        within="1 %",
        common_wrong=[
            (2 * answer, "You took the total for the eccentricity: moved by all of it, the disc "
             "runs out as far to the other side."),
            (answer / 2, "You halved it twice. The total is 2e; half of it is e, and e it goes."),
        ],
        hints=["The needle swings from offset + e to offset − e.", "total = 2e."],
        solution=f"{total} / 2 = {show(answer)}, tapped at the high spot.",
        remake=lambda seed: _tap(f"{np.random.default_rng(seed).integers(5, 60) / 100:g} mm"),
    )  # fmt: skip


def _round(size, mark):
    """Three readings of a round part: its eccentricity in thou, its high spot in degrees."""
    values = size * np.cos(np.radians(np.array([0, 120, 240]) - mark))
    return Readings(THREE, Q_(values, "thou"), graduation="0.1 thou")


def _knock():
    answer = shift_between(_round(5, 0), _round(12, 90)).size.to("thou")
    return Exercise(
        "l05-task-knock",
        "Before a knock the disc's total was 10 thou, high spot at mark 0°. After it the total is "
        "24 thou, high spot at mark 90°. How far did the disc move?",
        answer,
        within="1 %",
        common_wrong=[
            (Q_(7, "thou"), "You took the eccentricities, 12 less 5, as plain numbers. They are "
             "vectors, here at right angles."),
            (Q_(17, "thou"), "You added the eccentricities as plain numbers. They are vectors, "
             "here at right angles."),
            (Q_(14, "thou"), "That is the difference of the totals. Halve them first, and then "
             "take them as vectors."),
            (Q_(26, "thou"), "Right triangle, wrong sides: those are the totals. The "
             "eccentricities are half of them."),
        ],
        hints=[
            "Halve both totals, draw both as arrows from the axis, and join their tips.",
            "A right triangle with sides of 5 and 12.",
        ],
        solution=f"The square root of 5² + 12² is {show(answer)}.",
    )  # fmt: skip


def _lever():
    answer = true_travel("0.30 mm", "40 deg") / 2
    return Exercise(
        "l05-task-lever",
        "A lever indicator shows a total of 0.30 mm while its stylus stands at 40° to the surface. "
        "The part is round. How large is the eccentricity?",
        answer,
        within="1 %",
        common_wrong=[
            (Q_(0.15, "mm"), "Halved, but the cosine is forgotten: the ball swings farther than "
             "the surface moves."),
            (2 * answer, "The cosine is in it, but this is the total. Halve it."),
            (Q_(0.15 / np.cos(np.radians(40)), "mm"), "You divided by the cosine. The needle shows "
             "too much, so the true travel is less."),
            (Q_(0.15 * np.sin(np.radians(40)), "mm"), "That is the sine: the angle is counted from "
             "the surface, not from square to it."),
        ],
        hints=["true = indicated × cos(angle)", "true_travel('0.30 mm', '40 deg'), then half."],
        solution=f"0.30 mm × cos 40° / 2 = {show(answer)}.",
    )  # fmt: skip


def _planes():
    near, far = (
        Readings(THREE, Q_(size * np.array([1.0, -0.5, -0.5]), "um"), position=place)
        for size, place in ((5, "10 mm"), (25, "30 mm"))
    )
    answer = axis_through([near, far]).at("100 mm").size.to("um")
    return Exercise(
        "l05-task-planes",
        "A nose is clocked 10 mm from its seat: eccentricity 5 µm at mark 0°. At 30 mm it is 25 µm "
        "at mark 0°. If it is straight, how far off is it at 100 mm?",
        answer,
        within="1 %",
        common_wrong=[
            (Q_(5, "um"), "You took the first plane for the whole truth. One plane shows no tilt."),
            (Q_(25, "um"), "You took the second plane for the whole truth. It leans on."),
            (Q_(50, "um"), "You scaled the first plane as if the axis crossed at the seat. Take "
             "the line through both planes."),
            (Q_(100, "um"), "That is what it leans over 100 mm. At 10 mm it is already 5 µm "
             "off: the line does not cross the spindle's axis at the seat."),
        ],
        hints=["How much is added from 10 mm to 30 mm? In each millimetre?", "5 µm + 90 mm × 1."],
        solution=f"It leans by 20 µm in 20 mm: 5 µm + 90 mm × 1 µm/mm = {show(answer)}.",
    )  # fmt: skip
