"""More exercises for lesson 04: the load on a ball, what marks the grooves, and what governs."""

import numpy as np

from workshop_lib.bearings import axial_limit, catalogue, rating_life, static_safety, typical_inside
from workshop_lib.lesson.exercises import Exercise
from workshop_lib.lesson.redraw import redraw
from workshop_lib.lesson.tasks_04 import WORN
from workshop_lib.quantities import Q_, show

BEARINGS = ("6000", "6001", "6002", "6200", "6201", "6202", "6203")


def tasks():
    """The exercises in the order of the lesson, a tuple of `Exercise`."""
    return _ball(), _static(), _governs()


def _ball(designation="6202", thrust=700):
    inside = typical_inside(designation)
    rest = inside.equilibrium(Q_(thrust, "N"))
    answer, count = rest.heaviest, inside.core.balls
    angle = round(rest.contact_angles[0].m_as("deg"), 1)
    share, lean = thrust / count, np.radians(angle)
    return Exercise(
        "l04-task-ball",
        f"{thrust} N of thrust on a {designation} with {count} balls. Under that load its balls "
        f"lean by {angle:g}°, from square to the axis. What does each ball carry?",
        answer,
        within="2 %",
        common_wrong=[
            (Q_(share, "N"), "That is each ball's share of the thrust. The ball pushes along a "
             "line that hardly leans, so it is squeezed with far more."),
            (Q_(share / np.cos(lean), "N"), "That is the cosine. The angle is counted from square "
             "to the axis, so the thrust is the sine's part."),
            (Q_(share * np.sin(lean), "N"), "You multiplied by the sine. The share of the thrust "
             "is only a part of the ball's load, so divide."),
            (Q_(thrust / np.sin(lean), "N"), "That is for one ball alone: the thrust is shared by "
             f"all {count}."),
            (Q_(share / np.sin(angle), "N"), f"Your calculator took {angle:g} for radians: set it "
             "to degrees."),
            (Q_(share / np.tan(lean), "N"), "That is the part across the axis. The ball carries "
             "both parts together."),
        ],
        hints=[
            "First the share of one ball; then along which line does it push?",
            f"{thrust} N / ({count} × sin {angle:g}°).",
        ],
        solution=f"{thrust} N / {count} = {share:.4g} N of thrust for each; divided by sin "
        f"{angle:g}° that is {show(answer)}, {show(answer / Q_(share, 'N'), figures=2)} times as "
        "much.",
        remake=redraw(_ball, designation=BEARINGS, thrust=range(300, 1250, 50)),
        paper="Q = F_{a}/(Z sin α)",
        withheld=True,
    )  # fmt: skip


def _static(designation="6202", axial=800, radial=100):
    load = Q_(axial, "N"), Q_(radial, "N")
    bearing = catalogue(designation)
    answer = float(static_safety(designation, *load))
    static, equal = bearing.static_rating.m_as("N"), 0.6 * radial + 0.5 * axial
    return Exercise(
        "l04-task-static",
        f"A {designation} stands still under a thrust of {axial} N and a side load of {radial} N. "
        "How many times that load could it carry before its balls mark the grooves? "
        f"(C0 = {static:g} N.)",
        answer,
        within="2 %",
        common_wrong=_static_slips(bearing, answer, axial, radial),
        hints=[
            "Which rating tells of marks at rest? And how does a thrust count at rest?",
            f"P0 = 0.6 × {radial} N + 0.5 × {axial} N.",
        ],
        solution=[
            f"P0 = 0.6 × {radial} N + 0.5 × {axial} N = {equal:g} N; C0 = {static:g} N.",
            f"C0/P0 = {show(answer)}. A deep-groove bearing has its axial limit besides.",
        ],
        remake=redraw(
            _static,
            lambda axial, radial, **_: axial > radial,  # else the radial load alone may govern
            designation=BEARINGS, axial=range(300, 1250, 50), radial=range(50, 260, 10),
        ),
        paper="C_{0}/P_{0}, with P_{0} = 0.6 F_{r} + 0.5 F_{a} (at least F_{r})",
        caution=WORN,
    )  # fmt: skip


def _static_slips(bearing, answer, axial, radial):
    """What is usually answered instead."""
    static, dynamic = (each.m_as("N") for each in (bearing.static_rating, bearing.dynamic_rating))
    equal = 0.6 * radial + 0.5 * axial
    return [
        (dynamic / equal, "That uses C, the dynamic rating. It says when the bearing wears "
         "out; marks at rest go with the static rating C0."),
        (static / axial, "That takes the thrust as it is. At rest it counts by half, and the "
         "radial load by 0.6."),
        (static / (axial + radial), "You added the two loads. They count with 0.5 and 0.6."),
        (static / (0.5 * axial), "That leaves the radial load out."),
        (1 / answer, "Upside down: the rating over the load."),
        (answer**3, "The cube belongs to the life. Static safety is a plain ratio."),
    ]  # fmt: skip


def _governs(designation="6202", thrust="2000 N"):
    static = catalogue(designation).static_rating
    hours = show(rating_life(designation, thrust, "0 N", "250 rev/min").hours, figures=2)
    safety, most = float(static_safety(designation, thrust, "0 N")), axial_limit(designation)
    stops = most < Q_(float(thrust.split()[0]), "N")
    return Exercise(
        "l04-task-governs",
        f"Somebody wants to press with {thrust} through the {designation} of the lesson's nose, "
        f"with no side force, for a few hours a year. Its C0 is {show(static, figures=4)}. What do "
        "you say?",
        "axial" if stops else "yes",
        options={
            "yes": "It will do: C0 is nearly twice the thrust",
            "static": "No: the balls would mark their grooves",
            "axial": "No: that is beyond its axial limit",
            "life": "No: it would wear out within a day",
        },
        common_wrong=[
            ("yes", "C0 alone does not allow a thrust. How does a deep-groove bearing carry it, "
             "and where would the balls climb?"),
            ("static", "At rest a thrust counts by half: C0/P0 is "
             f"{show(safety, figures=2)}, far from a mark."),
            ("life", f"At 250 rev/min nine out of ten last about {hours} under it."),
        ],
        hints=[
            "Three limits, and the lowest counts. Reckon each of them.",
            "For this bearing one of the limits is half of C0.",
        ],
        solution=f"The axial limit is {show(most, figures=4)}, half of C0. Neither C nor C0 "
        "replaces it.",
        paper="C_{0}/P_{0}, with P_{0} = 0.6 F_{r} + 0.5 F_{a}",
        caution=WORN,
    )  # fmt: skip
