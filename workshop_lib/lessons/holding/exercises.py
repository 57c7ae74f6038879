"""The exercises of lesson 01: gauges, torque radius, side hold, thrust from a pull."""

import numpy as np

from workshop_lib import gauges
from workshop_lib.friction import Pad, side_capacity, torque_capacity
from workshop_lib.lesson import paper
from workshop_lib.lesson.exercises import Exercise, told_apart
from workshop_lib.lesson.redraw import redraw
from workshop_lib.quantities import Q_, show
from workshop_lib.thrust import Screw, from_torque

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
    return _gauge(), _relief(), _side(), _handle()


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
