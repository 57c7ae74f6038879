"""The exercises of lesson 05: half the total, vectors, the lever's cosine, the second plane."""

import numpy as np

from workshop_lib.lesson.exercises import Exercise
from workshop_lib.lesson.redraw import redraw
from workshop_lib.quantities import Q_, read, show
from workshop_lib.run_out import Readings, axis_through, correction, shift_between, true_travel

THREE = ["0 deg", "120 deg", "240 deg"]
POWER_OFF = "An indicator on the work means no power: stop and isolate, and turn by hand."
TAP = "Tap only at a standstill, lightly, with a soft hammer, and never let the thrust go."


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
            (4 * answer, "You doubled the total. The total is 2e: it has to be halved."),
        ],
        hints=["The needle swings from offset + e to offset − e.", "total = 2e."],
        solution=f"{total} / 2 = {show(answer)}, tapped at the high spot.",
        remake=redraw(_tap, total=[f"{each / 100:g} mm" for each in range(5, 80)]),
        paper="total = 2e, with e the eccentricity",
        withheld=True,
        caution=TAP,
    )  # fmt: skip


def _round(size, mark):
    """Three readings of a round part: its eccentricity in thou, its high spot in degrees."""
    values = size * np.cos(np.radians(np.array([0, 120, 240]) - mark))
    return Readings(THREE, Q_(values, "thou"), graduation="0.1 thou")


def _knock(before=10, after=24, mark=0):
    first, then, turned = before / 2, after / 2, mark + 90
    answer = shift_between(_round(first, mark), _round(then, turned)).size.to("thou")
    return Exercise(
        "l05-task-knock",
        f"Before a knock the disc's total was {before} thou, high spot at mark {mark}°. After it "
        f"the total is {after} thou, high spot at mark {turned}°. How far did the disc move?",
        answer,
        within="1 %",
        common_wrong=[
            (Q_(abs(then - first), "thou"), f"You took the eccentricities, {then:g} and {first:g}, "
             "as plain numbers, one less the other. They are vectors, here at right angles."),
            (Q_(then + first, "thou"), "You added the eccentricities as plain numbers. They are "
             "vectors, here at right angles."),
            (Q_(abs(after - before), "thou"), "That is the difference of the totals. Halve them "
             "first, and then take them as vectors."),
            (Q_((before**2 + after**2) ** 0.5, "thou"), "Right triangle, wrong sides: those are "
             "the totals. The eccentricities are half of them."),
            (Q_(then, "thou"), "That is where the disc stands now, seen from the axis. It did not "
             "start at the axis."),
        ],
        hints=[
            "Halve both totals, draw both as arrows from the axis, and join their tips.",
            f"A right triangle with sides of {first:g} and {then:g}.",
        ],
        solution=f"The square root of {first:g}² + {then:g}² is {show(answer)}.",
        remake=redraw(
            _knock,
            lambda before, after, **_: 0.3 < before / after < 3.3 and before != after,
            before=range(6, 42, 2), after=range(6, 62, 2), mark=range(0, 270, 30),
        ),
        panel="What did the knock do?",
        paper="two arrows: each half of its total long and towards its mark; from tip to tip goes "
        "the move",
        caution=POWER_OFF,
    )  # fmt: skip


def _lever(shown="0.30 mm", angle=40):
    total = read(shown, "length").m_as("mm")
    answer = true_travel(Q_(total, "mm"), Q_(angle, "deg")) / 2
    lean = np.radians(angle)
    return Exercise(
        "l05-task-lever",
        f"A lever indicator shows a total of {shown} while its stylus stands at {angle}° to the "
        "surface. The part is round. How large is the eccentricity?",
        answer,
        within="1 %",
        common_wrong=[
            (Q_(total / 2, "mm"), "Halved, but the cosine is forgotten: the ball swings farther "
             "than the surface moves."),
            (2 * answer, "The cosine is in it, but this is the total. Halve it."),
            (Q_(total / 2 / np.cos(lean), "mm"), "You divided by the cosine. The needle shows "
             "too much, so the true travel is less."),
            (Q_(total / 2 * np.sin(lean), "mm"), "That is the sine: the angle is counted from "
             "the surface, not from square to it."),
            (Q_(total / 2 * np.cos(angle), "mm"), f"Your calculator took {angle} for radians: set "
             "it to degrees."),
        ],
        hints=[
            "true = indicated × cos(angle)",
            f"{shown} × cos {angle}°, and half of that.",
        ],
        solution=f"{shown} × cos {angle}° / 2 = {show(answer)}.",
        remake=redraw(
            _lever, shown=[f"{each / 100:.2f} mm" for each in range(10, 62, 2)],
            angle=(15, 20, 25, 30, 35, 40, 50, 55, 60),
        ),
        paper="true = indicated × cos(angle); total = 2e",
        caution=POWER_OFF,
    )  # fmt: skip


def _planes(near=(10, 5), far=(30, 25), end=100):
    clocked = [
        Readings(THREE, Q_(size * np.array([1.0, -0.5, -0.5]), "um"), position=Q_(place, "mm"))
        for place, size in (near, far)
    ]
    answer = axis_through(clocked).at(Q_(end, "mm")).size.to("um")
    (place, size), (farther, grown) = near, far
    lean, rest = round((grown - size) / (farther - place), 4), end - place
    return Exercise(
        "l05-task-planes",
        f"A nose is clocked {place} mm from its seat: eccentricity {size} µm at mark 0°. At "
        f"{farther} mm it is {grown} µm at mark 0°. If it is straight, how far off is it at {end} "
        "mm?",
        answer,
        within="1 %",
        common_wrong=_planes_slips(near, far, end),
        hints=[
            f"How much is added from {place} mm to {farther} mm? In each millimetre?",
            f"{size} µm + {rest} mm × {lean:g}.",
        ],
        solution=f"It leans by {grown - size} µm in {farther - place} mm: {size} µm + {rest} mm × "
        f"{lean:g} µm/mm = {show(answer)}.",
        remake=redraw(
            _planes,
            lambda near, far, **_: far[1] > 1.3 * near[1] and far[0] > near[0],
            near=[(p, s) for p in (5, 10, 15, 20) for s in (4, 5, 6, 8, 10, 12)],
            far=[(p, s) for p in (25, 30, 40, 50) for s in (14, 15, 18, 20, 24, 25, 30)],
            end=(80, 100, 110, 120, 150),
        ),
        paper="lean = change of the arrow / way along the nose, the same in every millimetre",
        caution=POWER_OFF,
    )  # fmt: skip


def _planes_slips(near, far, end):
    """What is usually answered instead."""
    (place, size), (farther, grown) = near, far
    lean = (grown - size) / (farther - place)
    return [
        (Q_(size, "um"), "You took the first plane for the whole truth. One plane shows no "
         "tilt."),
        (Q_(grown, "um"), "You took the second plane for the whole truth. It leans on."),
        (Q_(size * end / place, "um"), "You scaled the first plane as if the axis crossed at "
         "the seat. Take the line through both planes."),
        (Q_(grown * end / farther, "um"), "You scaled the second plane as if the axis crossed "
         "at the seat. Take the line through both planes."),
        (Q_(lean * end, "um"), f"That is what it leans over {end} mm. At {place} mm it is "
         f"already {size} µm off: the line does not cross the spindle's axis at the seat."),
        (Q_(grown + lean * end, "um"), f"You counted the lean from the seat: from {farther} mm "
         f"on it has only {end - farther} mm to go."),
    ]  # fmt: skip
