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
from workshop_lib.quantities import Q_, either, show
from workshop_lib.slip import find_way, hold
from workshop_lib.teaching import paper
from workshop_lib.teaching.exercises import Exercise, told_apart
from workshop_lib.teaching.redraw import redraw, sized

IDENTIFIER = "What sheet is in your hand?"
INCH, LBF_INCH = 25.4, 0.1129848290276167  # in mm and N·m
# Pitch diameter and lead in mm. Acme 5/8-8, 1/2-10, 1-5, 1 1/4-5: major diameter less half a pitch.
METRIC_SCREWS = (14, 3), (16, 4), (18, 4), (22.5, 5), (25.5, 5)
INCH_SCREWS = (14.2875, 3.175), (11.43, 2.54), (22.86, 5.08), (29.21, 5.08)
SHEETS = {
    "galvanized_steel": ("zinc-coated steel", "the zinc-coated table", 2.5, 669.12),
    "uncoated_steel": ("uncoated mild steel", "the table for uncoated steel", 0, 669.12),
    "stainless_steel": ("stainless steel", "the stainless table", 0, 640),
}
OTHER_TABLES = {
    "uncoated_steel": "in uncoated sheet",
    "galvanized_steel": "in zinc-coated sheet, zinc included",
    "stainless_steel": "in stainless sheet",
    "swg": "in the standard wire gauge",
    "awg": "in the American wire gauge",
}


def tasks():
    """The exercises in the order of the lesson, a tuple of `Exercise`."""
    return _gauge(), _relief(), _side(), _handle(), _identify(), _tape(), _pressure(), _calibrated()


def _gauge(number=18, table="galvanized_steel"):
    answer = gauges.thickness(number, table)
    sheet, look, zinc, divisor = SHEETS[table]
    disc = (
        f"The tide gauge's {either('112 mm ', '')}lid" if table == "galvanized_steel" else "A disc"
    )
    ounces = round(640 * gauges.thickness(number, "us_standard").m_as("inch"), 2)
    weights = f"{ounces:g} ounces per square foot{' and 2.5 of zinc' * bool(zinc)}"
    by_weight = f"{weights}, divided by {divisor:g}, in inches"
    wrong = _gauge_slips(number, table, answer, look)
    return Exercise(
        "l01-task-gauge",
        f"{disc} is cut from {number} gauge {sheet}. How thick is it?",
        answer,
        within="0.5 %",
        common_wrong=told_apart(answer, wrong, "0.5 %"),
        hints=[
            f"Set {number} as the gauge on the label. The panel's answer gives the thickness.",
            f"This sheet has its own table. By hand: {by_weight}.",
        ],
        solution=f"In {look} {number} gauge is {show(answer)}: {by_weight}.",
        remake=redraw(_gauge, number=range(12, 29), table=list(SHEETS)),
        paper=lambda: paper.gauge_table(number - 2, number + 2),
        panel=IDENTIFIER,
    )  # fmt: skip


def _gauge_slips(number, table, answer, look):
    """What is usually answered instead."""
    wrong = [
        (gauges.thickness(number, key), f"That is {number} gauge {words}. Look in {look}.")
        for key, words in OTHER_TABLES.items()
        if key != table
    ]
    wrong += [
        (
            gauges.thickness(number + 1, table),
            f"That is the next row, {number + 1} gauge: a larger number is a thinner sheet.",
        ),
        (gauges.thickness(number - 1, table), f"That is the row above, {number - 1} gauge."),
        either(
            (
                Q_(answer.m_as("inch"), "mm"),
                "Those figures are inches, but you wrote mm. An inch is 25.4 mm.",
            ),
            (
                Q_(answer.m_as("mm"), "inch"),
                "Those figures are millimetres, but you wrote in. Divide by 25.4.",
            ),
        ),
    ]
    return wrong


@sized(outer="mm", inner="mm", thrust="N")
def _relief(outer=50, inner=30, thrust=700, friction=0.3):
    pad, full = Pad(Q_(outer, "mm"), Q_(inner, "mm")), Pad(Q_(outer, "mm"))
    push = Q_(thrust, "N")
    answer = torque_capacity(pad, push, friction)
    return Exercise(
        "l01-task-relief",
        f"A {outer} mm pad has its middle relieved to {inner} mm. It presses evenly with {thrust} "
        f"N at a friction coefficient of {friction:g}. What torque can it hold?",
        answer,
        within="1 %",
        common_wrong=[
            (2 * answer, "You counted both faces, or used the diameters as radii. The nose turns "
             "freely: only the pad's face drives."),
            (answer / 2, "That is half the answer. The two faces do not share the thrust: each "
             "carries all of it, and the pad's face drives with all of it."),
            (torque_capacity(full, push, friction), "You forgot the relief: 2/3 of the outer "
             "radius is right only for a full pad."),
            (Q_(friction * thrust * outer / 2e3, "N*m"), "You put all the friction at the rim."),
            (Q_(friction * thrust * inner / 2e3, "N*m"), "You put all the friction at the edge of "
             "the relief."),
            (answer / friction, "You left out the friction coefficient: the friction force is μ "
             "times the thrust."),
        ],
        hints=[
            "The friction force is μN. What is the radius at which it acts, on average?",
            f"r_t = 2/3 (r_o³ − r_i³)/(r_o² − r_i²), with radii of {outer / 2:g} mm "
            f"and {inner / 2:g} mm.",
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
        "where r_{o} and r_{i} are radii",
    )  # fmt: skip


@sized(thrust="N")
def _side(thrust=700, friction=0.3, alone=False):
    answer = side_capacity(Q_(thrust, "N"), friction)
    setup = f"The same pad, with the same {thrust} N of thrust and a friction of {friction:g}."
    if alone:
        setup = f"A pad presses with {thrust} N at a friction coefficient of {friction:g}."
    return Exercise(
        "l01-task-side",
        f"{setup} What side force can it hold if there is no torque and the nose floats?",
        answer,
        within="1 %",
        common_wrong=[
            (2 * answer, "You counted both faces. A floating nose moves sideways with the disc."),
            (answer / 2, "That is half the answer. The two faces do not share the thrust: the "
             "pad's face carries all of it."),
            (Q_(thrust, "N"), "That is the thrust. Friction holds only μ times the thrust."),
            (Q_(thrust / friction, "N"), "You divided by the friction coefficient. That gives the "
             "thrust you would need to hold a side force of this size."),
        ],
        hints=[f"The size of the pad does not matter here: {friction:g} × {thrust} N."],
        solution=f"{friction:g} × {thrust} N = {show(answer)}, whatever the size of the pad.",
        remake=redraw(
            _side, thrust=range(400, 1050, 50), friction=(0.15, 0.2, 0.25, 0.3, 0.35), alone=(True,)
        ),
        paper="F = μ N",
        withheld=True,
    )  # fmt: skip


@sized(inch={"thread": INCH_SCREWS[0], "torque": 24 * LBF_INCH}, torque="N*m", collar="mm")
def _handle(thread=(16, 4), friction=0.12, collar=22, torque=3):
    mean, lead = thread
    pull, flank, arm = Q_(torque, "N*m"), *either((15, 100), (14.5, 4 * INCH))
    answer = from_torque(_screw(thread, flank, friction, collar), pull)
    return Exercise(
        "l01-task-handle",
        f"A tailstock screw has a pitch diameter of {mean:g} mm, a lead (advance per turn) of "
        f"{lead:g} mm and {flank:g}° flanks. Friction is {friction:g} in the thread and in the "
        f"thrust collar, which has a mean diameter of {collar:g} mm. You turn the handwheel with "
        f"{torque:g} N·m, which is {1e3 * torque / arm:g} N on a handle at a radius of {arm:g} mm. "
        "What thrust do you get?",
        answer,
        within="2 %",
        common_wrong=[
            (from_torque(_screw(thread, flank, 0, collar), pull), "You left out all the friction: "
             "that is 2πT over the lead."),
            (from_torque(_screw(thread, flank, friction, 0), pull), "You left out the thrust "
             "collar. It takes almost half of your torque."),
            (answer / 2, "You used diameters as radii: friction in thread and collar acts at half "
             "their diameters."),
            (Q_(2e3 * torque / friction / collar, "N"), "That counts the collar but not the "
             "thread."),
        ],
        hints=[
            f"The panel has a box for each of these numbers; {flank:g}° flanks are "
            + either("metric trapezoidal.", "Acme."),
            "By hand: the square brackets hold a length in "
            + either("mm. Divide the torque, in N·mm, by it.", "inches. Divide the torque by it."),
        ],
        solution=_handle_worked(thread, friction, collar, torque, answer),
        remake=redraw(
            _handle, thread=METRIC_SCREWS, friction=(0.1, 0.12, 0.14, 0.15),
            collar=(20, 22, 24, 26, 30), torque=(2, 2.5, 3, 3.5, 4, 5),
            inch={"thread": INCH_SCREWS, "torque": [n * LBF_INCH for n in (16, 20, 24, 28, 40)]},
        ),
        paper=_screw_law(flank),
        panel="What thrust does the handwheel give?",
        long_by_hand=True,
    )  # fmt: skip


def _screw(thread, flank, friction, collar):
    """A screw of mean diameter and lead, with one friction in thread and collar, sizes in mm."""
    sizes = *(Q_(each, "mm") for each in thread), Q_(flank, "deg")
    return Screw(*sizes, friction, Q_(collar, "mm"), friction)


def _screw_law(flank):
    """The formula of the screw, with the angle of its flanks."""
    return (
        f"T = N [d/2 (l + πf'd)/(πd − f'l) + f_{{c}} d_{{c}}/2] with f' = f/cos {flank:g}°; d: "
        f"pitch diameter, l: lead (advance per turn), d_{{c}}: mean diameter of the collar"
    )


def _handle_worked(thread, friction, collar, torque, answer):
    """The steps of the working, in mm or inches throughout."""
    scale, unit = either((1, "mm"), (INCH, "in"))
    mean, lead = (each / scale for each in thread)
    flank = either(15, 14.5)
    wedged = friction / np.cos(np.radians(flank))
    arm = mean / 2 * (lead + np.pi * wedged * mean) / (np.pi * mean - wedged * lead)
    rub = friction * collar / scale / 2
    return [
        f"Thread: f' = {friction:g}/cos {flank:g}° = {wedged:.4f}; {mean / 2:.5g} {unit} × "
        f"({lead:.4g} + π × {wedged:.4f} × {mean:.5g})/(π × {mean:.5g} − {wedged:.4f} × "
        f"{lead:.4g}) = {arm:.4g} {unit}.",
        f"Collar: {friction:g} × {collar / scale / 2:.4g} {unit} = {rub:.4g} {unit}.",
        f"{torque:g} N·m / ({arm:.4g} {unit} + {rub:.4g} {unit}) = {show(answer)}.",
    ]


def _identify(table="galvanized_steel", number=20, off=1):
    unit, digits = either(("mm", 2), ("thou", 1))
    true = gauges.thickness(number, table).m_as(unit)
    reading = Q_(round(true * (1 + off / 100), digits), unit)
    read = f"{reading.magnitude:.{digits}f} {unit}"
    nearest = gauges.identify(reading, tables=table)[0]
    others = [
        (
            gauges.identify(reading, tables=key)[0].gauge,
            f"That is the nearest gauge for {words}. A gauge number means nothing without its "
            "table.",
        )
        for key, words in gauges.SOLD_BY.items()
        if key != table
    ]
    others += [
        (nearest.gauge + step, "That is one gauge out: its thickness is further from the reading.")
        for step in (1, -1)
    ]
    answer = nearest.gauge
    return Exercise(
        "l01-task-identify",
        f"A micrometer reads {read} on clean {SHEETS[table][0]}, clear of the edge. Which gauge is "
        "it in that sheet's own table?",
        answer,
        within="0.3",
        common_wrong=told_apart(answer, others, "0.3"),
        hints=[
            "Type the reading into the panel. It lists the nearest gauges: take the one from this "
            "sheet's own table.",
            f"In this sheet's own column find the thicknesses just above and just below {read}, "
            "and take the nearer. A larger number is a thinner sheet.",
        ],
        solution=f"{nearest}.",
        remake=redraw(
            _identify, table=list(SHEETS), number=range(13, 29), off=(-2, -1.4, -0.8, 0.8, 1.4, 2)
        ),
        paper=lambda: paper.gauge_table(number - 3, number + 3),
        panel=IDENTIFIER,
    )  # fmt: skip


@sized(diameter="mm")
def _tape(diameter=60):
    face, tape = Pad(Q_(diameter, "mm")), find_way("tape")
    low, typical = (
        hold(tape, face, Q_(100, "mm"), "0 N", 0, "1 N", "0 N m", estimate=each).side
        for each in ("low", "typical")
    )
    strength, usual = tape.strength.low / 1e6, tape.strength.typical / 1e6
    return Exercise(
        "l01-task-tape",
        f"A disc is taped to a face {diameter} mm across. The tape's shear strength is "
        f"{strength:g} MPa at the low end and {usual:g} MPa typically. With no thrust and no "
        "torque, what side force can you count on?",
        low,
        within="1 %",
        common_wrong=[
            (typical, "That is the typical strength. Nothing on the bench tells you which tape "
             "you have today: plan on the low value."),
            (4 * low, "You used the diameter as the radius in π r²."),
            (2 * low, "You counted two faces. The tape is on one."),
            (low * 4 / (diameter / either(1, INCH)), "You used the circumference. The whole face "
             "is stuck down: use the area."),
        ],
        hints=[f"At the low strength: {strength:g} N/mm² × π × ({diameter / 2:g} mm)²."],
        solution=f"{strength:g} N/mm² × π × ({diameter / 2:g} mm)² = {show(low)}. A rim that lifts "
        "peels the tape off at a fraction of that, so keep the tailstock up as well.",
        remake=redraw(_tape, diameter=range(40, 126)),
        paper="F = τ A, with the strength τ and A = π r^{2}; "
        + either("1 MPa = 1 N/mm^{2}", "1 psi = 1 lbf/in^{2}"),
        withheld=True,
        caution=tape.caution,
    )  # fmt: skip


@sized(diameter="mm", thrust="N")
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
            (answer / 4, "You used the diameter as the radius in π r²."),
            (answer / 2, "You shared the thrust between pad and nose. Each of them presses with "
             "all of it."),
            (answer * np.pi, "You used r² as the area: π is missing."),
            (answer * (diameter / either(1, INCH)) / 4, "You divided by the circumference. The "
             "whole face presses: use the area."),
        ],
        hints=[f"{thrust} N / (π × ({diameter / 2:g} mm)²)."],
        solution=f"{thrust} N / (π × ({diameter / 2:g} mm)²) = {show(answer)}, far below the "
        "stress at which sheet metal yields. An edge that digs in, or a chip trapped under the "
        "nose, presses far harder.",
        remake=redraw(_pressure, diameter=range(8, 32, 2), thrust=range(300, 1250, 50)),
        paper="p = N/A, with A = π r^{2}; "
        + either("1 N/mm^{2} = 1 MPa", "1 lbf/in^{2} = 1 psi"),
        withheld=True,
    )  # fmt: skip


@sized(inch={"slack": 1, "pull": 7})
def _calibrated(slack=4, slope=18, pull=35):
    unit, name, pulls = either(("N", "newton", (20, 30, 40, 50)), ("lbf", "pound", (4, 6, 8, 10)))
    forces = [slope * (each - slack) for each in pulls]
    answer = Q_(float(np.interp(pull, pulls, forces)), unit)
    shown = zip(pulls, forces, strict=True)
    pairs = ", ".join(f"{each} {unit} gives {force:g} {unit}" for each, force in shown)
    as_if = (
        f"as if the thrust began with the first {name} of pull. Part of the pull only moves the "
        "quill."
    )
    return Exercise(
        "l01-task-scale",
        "With a scale between nose and pad you note your pull on the handle and what the scale "
        f"then shows: {pairs}. What thrust does a pull of {pull:g} {unit} give?",
        answer,
        within="1 %",
        common_wrong=[
            (Q_(forces[-1] * pull / pulls[-1], unit), f"You scaled the last reading {as_if}"),
            (Q_(slope * pull, unit), "You counted the thrust from a pull of 0. It begins only at "
             f"a pull of {slack:g} {unit}."),
            (Q_(forces[0] * pull / pulls[0], unit), f"You scaled the first reading {as_if}"),
        ],
        hints=[
            f"How many {name}s of thrust does each {name} of pull add, from one reading to the "
            "next?",
            f"{slope:g} {unit} for each {name}: start at the nearest reading and go to {pull:g} "
            f"{unit}.",
        ],
        solution=f"{forces[1] - forces[0]:g} {unit} of thrust for {pulls[1] - pulls[0]} {unit} of "
        f"pull is {slope:g} {unit} for each {name}, starting at {slack:g} {unit}: {slope:g} × "
        f"({pull:g} − {slack:g}) {unit} = {show(answer)}.",
        remake=redraw(
            _calibrated, slack=(3, 4, 5, 6, 8), slope=range(12, 28, 2),
            pull=(23, 24, 25, 26, 27, 33, 34, 35, 36, 37, 43, 44, 45, 46),
            inch={"slack": (0.5, 1, 1.5, 2), "pull": (4.5, 5, 5.5, 6.5, 7, 7.5, 8.5, 9, 9.5)},
        ),
    )  # fmt: skip
