"""More exercises for lesson 01: which gauge, what tape holds, what marks the sheet, the scale."""

import numpy as np

from workshop_lib import gauges
from workshop_lib.friction import Pad, contact_pressure
from workshop_lib.holding import find, hold
from workshop_lib.lesson import paper
from workshop_lib.lesson.exercises import Exercise, told_apart
from workshop_lib.lesson.redraw import redraw
from workshop_lib.lesson.tasks_01 import IDENTIFIER, SHEETS
from workshop_lib.quantities import Q_, show


def tasks():
    """The exercises in the order of the lesson, a tuple of `Exercise`."""
    return _identify(), _tape(), _pressure(), _calibrated()


def _identify(table="galvanized_steel", number=20, off=1):
    reading = Q_(round(gauges.thickness(number, table).m_as("mm") * (1 + off / 100), 2), "mm")
    nearest = gauges.identify(reading, tables=table)[0]
    others = [
        (
            gauges.identify(reading, tables=key)[0].gauge,
            f"That is the nearest number for {words}. A number means nothing without its table.",
        )
        for key, words in paper.GAUGE_TABLES.items()
        if key != table
    ]
    others += [
        (nearest.gauge + step, "That is the neighbour: its thickness is farther from the reading.")
        for step in (1, -1)
    ]
    answer = nearest.gauge
    return Exercise(
        "l01-task-identify",
        f"A micrometer reads {reading.m_as('mm'):.2f} mm on clean {SHEETS[table][0]}, clear of the "
        "edge. Which gauge number of that sheet's own table is it?",
        answer,
        within="0.3",
        common_wrong=told_apart(answer, others, "0.3"),
        hints=[
            "Type the reading: the panel lists the nearest gauges. Look for this sheet's own.",
            f"Find this sheet's two thicknesses on either side of {reading.m_as('mm'):.2f} mm, and "
            "take the nearer. A larger number is a thinner sheet.",
        ],
        solution=f"{nearest}.",
        remake=redraw(
            _identify, table=list(SHEETS), number=range(13, 29), off=(-2, -1.4, -0.8, 0.8, 1.4, 2)
        ),
        paper=lambda: paper.gauge_table(number - 3, number + 3),
        panel=IDENTIFIER,
    )  # fmt: skip


def _tape(diameter=60):
    face, tape = Pad(Q_(diameter, "mm")), find("tape")
    low, typical = (
        hold(tape, face, Q_(100, "mm"), "0 N", 0, "1 N", "0 N m", estimate=each).side
        for each in ("low", "typical")
    )
    strength, usual = tape.strength.low / 1e6, tape.strength.typical / 1e6
    return Exercise(
        "l01-task-tape",
        f"A disc is taped to a face {diameter} mm across. The tape shears at {strength:g} MPa at "
        f"the low end, {usual:g} MPa is typical. What side force alone do you count on, with no "
        "thrust?",
        low,
        within="1 %",
        common_wrong=[
            (typical, "That is the typical strength. Nothing on the bench tells you which tape you "
             "have today: count on the low one."),
            (4 * low, "You took the diameter for the radius in π r²."),
            (2 * low, "You counted two faces: the tape is on one."),
            (Q_(strength * np.pi * diameter, "N"), "That is the circumference. The whole face is "
             "glued: take the area."),
        ],
        hints=[f"At the low strength: {strength:g} N/mm² × π × ({diameter / 2:g} mm)²."],
        solution=f"{strength:g} N/mm² × π × ({diameter / 2:g} mm)² = {show(low)}. "
        "A lifting rim peels tape off at a small part of that: keep the tailstock up as well.",
        remake=redraw(_tape, diameter=range(40, 126)),
        paper="F = τ A, with the strength τ and A = π r^{2}; 1 MPa = 1 N/mm^{2}",
        withheld=True,
        caution=tape.caution,
    )  # fmt: skip


def _pressure(diameter=16, thrust=800):
    face = Pad(Q_(diameter, "mm"))
    answer = contact_pressure(face, Q_(thrust, "N"), "1 mm")
    return Exercise(
        "l01-task-pressure",
        f"A nose with a flat face {diameter} mm across presses with {thrust} N. How hard does it "
        "press on the sheet, on average?",
        answer,
        within="1 %",
        common_wrong=[
            (answer / 4, "You took the diameter for the radius in π r²."),
            (answer / 2, "You shared the thrust between pad and nose. Each of them presses with "
             "all of it."),
            (answer * np.pi, "You took r² for the area: π is missing."),
            (Q_(thrust / (np.pi * diameter), "MPa"), "That is the thrust over the circumference. "
             "The whole face presses: take the area."),
        ],
        hints=[f"{thrust} N / (π × ({diameter / 2:g} mm)²)."],
        solution=f"{thrust} N / (π × ({diameter / 2:g} mm)²) = {show(answer)}, far below what "
        "metal sheet yields at; an edge that digs in or a chip between them presses far harder.",
        remake=redraw(_pressure, diameter=range(8, 32, 2), thrust=range(300, 1250, 50)),
        paper="p = N/A, with A = π r^{2}; 1 N/mm^{2} = 1 MPa",
        withheld=True,
    )  # fmt: skip


def _calibrated(slack=4, slope=18, pull=35):
    pulls = (20, 30, 40, 50)
    forces = [slope * (each - slack) for each in pulls]
    answer = Q_(float(np.interp(pull, pulls, forces)), "N")
    pairs = ", ".join(f"{each} N: {force:g} N" for each, force in zip(pulls, forces, strict=True))
    return Exercise(
        "l01-task-scale",
        "With a scale between nose and pad you write down your pull on the handle, and what the "
        f"scale shows: {pairs}. What thrust does a pull of {pull} N give?",
        answer,
        within="1 %",
        common_wrong=[
            (Q_(forces[-1] * pull / pulls[-1], "N"), "You scaled the last reading as if the thrust "
             "began with the first newton of pull. A part of the pull only moves the quill."),
            (Q_(slope * pull, "N"), "You took the newtons of thrust for each newton of pull from 0 "
             f"on. The thrust begins only at {slack} N."),
            (Q_(forces[0] * pull / pulls[0], "N"), "You scaled the first reading as if the thrust "
             "began with the first newton of pull. A part of the pull only moves the quill."),
        ],
        hints=[
            "How many newtons of thrust does each newton of pull add, from one reading to the "
            "next?",
            f"{slope:g} N for each newton: go from the nearest reading to {pull} N.",
        ],
        solution=f"{forces[1] - forces[0]:g} N of thrust for 10 N of pull is {slope:g} N for each, "
        f"from {slack} N on: {slope:g} × ({pull} − {slack}) N = {show(answer)}.",
        remake=redraw(
            _calibrated, slack=(3, 4, 5, 6, 8), slope=range(12, 28, 2),
            pull=(23, 24, 25, 26, 27, 33, 34, 35, 36, 37, 43, 44, 45, 46),
        ),
    )  # fmt: skip
