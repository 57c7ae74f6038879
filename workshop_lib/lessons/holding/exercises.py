"""Which exercises does lesson 01 set, with which answers and which usual mistakes?"""

import numpy as np

from workshop_lib import gauges
from workshop_lib.friction import (
    Pad,
    Screw,
    contact_pressure,
    from_torque,
    side_capacity,
    torque_capacity,
)
from workshop_lib.quantities import Q_, show
from workshop_lib.slip import find_way, hold
from workshop_lib.teaching import paper
from workshop_lib.teaching.exercises import Exercise, told_apart
from workshop_lib.teaching.redraw import redraw

IDENTIFIER = "What sheet is in your hand?"
SCREW = (
    "T = N [d/2 (l + πf'd)/(πd − f'l) + f_{c} d_{c}/2] with f' = f/cos 15°; d: pitch diameter, "
    "l: advance in a turn, d_{c}: collar's diameter"
)
SHEETS = {
    "galvanized_steel": ("zinc-coated steel", "the zinc-coated table", 2.5, 669.12),
    "uncoated_steel": ("uncoated mild steel", "the table for uncoated steel", 0, 669.12),
    "stainless_steel": ("stainless steel", "the stainless table", 0, 640),
}
OTHER_TABLES = {
    "uncoated_steel": "of uncoated sheet",
    "galvanized_steel": "of zinc-coated sheet, with the zinc counted in",
    "stainless_steel": "of stainless sheet",
    "swg": "in the standard wire gauge",
    "awg": "in the American wire gauge",
}


def tasks():
    """The exercises in the order of the lesson, a tuple of `Exercise`."""
    return _gauge(), _relief(), _side(), _handle(), _identify(), _tape(), _pressure(), _calibrated()


def _gauge(number=18, table="galvanized_steel"):
    answer = gauges.thickness(number, table)
    sheet, look, zinc, divisor = SHEETS[table]
    disc = "The tide gauge's 112 mm lid" if table == "galvanized_steel" else "A disc"
    ounces = round(640 * gauges.thickness(number, "us_standard").m_as("inch"), 2)
    weights = f"{ounces:g} ounces a square foot{' and 2.5 of zinc' * bool(zinc)}"
    by_weight = f"{weights}, divided by {divisor:g}, in inches"
    wrong = [
        (gauges.thickness(number, key), f"That is {number} gauge {words}; look in {look}.")
        for key, words in OTHER_TABLES.items()
        if key != table
    ]
    wrong += [
        (
            gauges.thickness(number + 1, table),
            f"That is the next row, {number + 1} gauge: a larger number is a thinner sheet.",
        ),
        (gauges.thickness(number - 1, table), f"That is the row before, {number - 1} gauge."),
        (
            Q_(answer.m_as("inch"), "mm"),
            "The figures are inches; the unit that you wrote is mm. An inch is 25.4 mm.",
        ),
    ]
    return Exercise(
        "l01-task-gauge",
        f"{disc} is cut from {number} gauge {sheet}. How thick is it?",
        answer,
        within="0.5 %",
        common_wrong=told_apart(answer, wrong, "0.5 %"),
        hints=[
            f"Set {number} as the gauge on the label; the panel's answer names its thickness.",
            f"This sheet has its own table. By hand: {by_weight}.",
        ],
        solution=f"In {look} {number} gauge is {show(answer)}: {by_weight}.",
        remake=redraw(_gauge, number=range(12, 29), table=list(SHEETS)),
        paper=lambda: paper.gauge_table(number - 2, number + 2),
        panel=IDENTIFIER,
    )  # fmt: skip


def _relief(outer=50, inner=30, thrust=700, friction=0.3):
    pad, full = Pad(Q_(outer, "mm"), Q_(inner, "mm")), Pad(Q_(outer, "mm"))
    push = Q_(thrust, "N")
    answer = torque_capacity(pad, push, friction)
    return Exercise(
        "l01-task-relief",
        f"A pad of {outer} mm is relieved to {inner} mm in the middle. It presses evenly with "
        f"{thrust} N at a friction of {friction:g}. What torque can it hold?",
        answer,
        within="1 %",
        common_wrong=[
            (2 * answer, "You counted both faces, or took the diameters for radii. The nose turns "
             "freely: only the pad's face drives."),
            (answer / 2, "That is half of it. The thrust is not shared between the two faces: each "
             "of them feels all of it, and the pad's face drives with all of it."),
            (torque_capacity(full, push, friction), "You left the relief out: 2/3 of the "
             "outer radius is for a full pad."),
            (Q_(friction * thrust * outer / 2e3, "N*m"), "You let all the friction act at the "
             "rim."),
            (Q_(friction * thrust * inner / 2e3, "N*m"), "You let all the friction act at the "
             "edge of the relief."),
            (answer / friction, "You left the friction coefficient out: the force that acts is "
             "μ times the thrust."),
        ],
        hints=[
            "The friction force is μN. What is the radius at which it acts, on average?",
            f"r_t = 2/3 (r_o³ − r_i³)/(r_o² − r_i²), with radii of {outer / 2:g} and "
            f"{inner / 2:g} mm.",
        ],
        solution=f"r_t = {show(pad.torque_radius, figures=4)}, and {friction:g} × {thrust} N × r_t "
        f"= {show(answer)}.",
        remake=redraw(
            _relief,
            lambda outer, inner, **_: 0.35 * outer <= inner <= 0.75 * outer,
            outer=range(40, 90, 5), inner=range(20, 60, 5), thrust=range(400, 1050, 50),
            friction=(0.2, 0.25, 0.3, 0.35),
        ),
        paper="M = μ N r_{t}, with r_{t} = 2/3 (r_{o}^{3} − r_{i}^{3})/(r_{o}^{2} − r_{i}^{2}), "
        "r_{o} and r_{i} being radii",
    )  # fmt: skip


def _side(thrust=700, friction=0.3, alone=False):
    answer = side_capacity(Q_(thrust, "N"), friction)
    setup = f"The same pad, the same thrust of {thrust} N and friction of {friction:g}."
    if alone:
        setup = f"A pad presses with {thrust} N at a friction of {friction:g}."
    return Exercise(
        "l01-task-side",
        f"{setup} What side force can it hold, if no torque acts and the nose can float?",
        answer,
        within="1 %",
        common_wrong=[
            (2 * answer, "You counted both faces. A floating nose moves aside with the disc."),
            (answer / 2, "That is half of it. The thrust is not shared between the two faces: the "
             "pad's face feels all of it."),
            (Q_(thrust, "N"), "That is the thrust itself: friction holds only μ times it."),
            (Q_(thrust / friction, "N"), "You divided by the friction coefficient: that would be "
             "the thrust that a side force of this size needs."),
        ],
        hints=[f"Side hold has nothing to do with the pad's size: {friction:g} × {thrust} N."],
        solution=f"{friction:g} × {thrust} N = {show(answer)}, whatever the pad.",
        remake=redraw(
            _side, thrust=range(400, 1050, 50), friction=(0.15, 0.2, 0.25, 0.3, 0.35), alone=(True,)
        ),
        paper="F = μ N",
        withheld=True,
    )  # fmt: skip


def _handle(thread=(16, 4), friction=0.12, collar=22, torque=3):
    mean, lead = thread
    pull = Q_(torque, "N*m")

    def screw(thread_friction=friction, collar_diameter=collar):
        sizes = Q_(mean, "mm"), Q_(lead, "mm"), "15 deg"
        return Screw(*sizes, thread_friction, Q_(collar_diameter, "mm"), thread_friction)

    answer = from_torque(screw(), pull)
    return Exercise(
        "l01-task-handle",
        f"A tailstock screw: {mean:g} mm pitch diameter, {lead:g} mm advance in a turn, 15° "
        f"flanks, friction {friction:g} in the thread and in a {collar:g} mm collar. What thrust "
        f"do {torque:g} N·m on the handwheel give, that is {10 * torque:g} N on a handle at "
        "100 mm?",
        answer,
        within="2 %",
        common_wrong=[
            (from_torque(screw(0), pull), "You left all the friction out: that is 2πT over the "
             "lead."),
            (from_torque(screw(collar_diameter=0), pull), "You left the thrust collar out; it "
             "takes almost half of your torque."),
            (answer / 2, "You took diameters for radii: friction in thread and collar acts at half "
             "of their diameters."),
            (Q_(2e3 * torque / friction / collar, "N"), "That is the collar without the thread."),
        ],
        hints=[
            "The panel has a field for each of these numbers; 15° flanks are metric trapezoidal.",
            "By hand: the brackets are a length in mm. Divide the torque, in N·mm, by it.",
        ],
        solution=_handle_worked(thread, friction, collar, torque, answer),
        remake=redraw(
            _handle, thread=((14, 3), (16, 4), (18, 4), (22.5, 5), (25.5, 5)),
            friction=(0.1, 0.12, 0.14, 0.15), collar=(20, 22, 24, 26, 30),
            torque=(2, 2.5, 3, 3.5, 4, 5),
        ),
        paper=SCREW,
        panel="What thrust does the handwheel give?",
        long_by_hand=True,
    )  # fmt: skip


def _handle_worked(thread, friction, collar, torque, answer):
    """The steps of the working."""
    mean, lead = thread
    wedged = friction / np.cos(np.radians(15))
    arm = mean / 2 * (lead + np.pi * wedged * mean) / (np.pi * mean - wedged * lead)
    rub = friction * collar / 2
    return [
        f"Thread: f' = {friction:g}/cos 15° = {wedged:.4f}; {mean / 2:g} mm × ({lead:g} + "
        f"π × {wedged:.4f} × {mean:g})/(π × {mean:g} − {wedged:.4f} × {lead:g}) = "
        f"{arm:.3f} mm.",
        f"Collar: {friction:g} × {collar / 2:g} mm = {rub:.3f} mm.",
        f"{torque:g} N·m / ({arm:.3f} mm + {rub:.3f} mm) = {show(answer)}.",
    ]


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
    face, tape = Pad(Q_(diameter, "mm")), find_way("tape")
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
