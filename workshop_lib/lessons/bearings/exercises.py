"""Which exercises does lesson 04 set, with which answers and which usual mistakes?"""

import numpy as np

from workshop_lib.bearings import (
    axial_limit,
    catalogue,
    clearance,
    deep_groove_factors,
    equivalent_load,
    rating_life,
    static_safety,
    typical_inside,
)
from workshop_lib.drawings import page
from workshop_lib.lessons.bearings.panels import SHORT
from workshop_lib.load_path import designs, find_design, nose_shift, play, side_held, trace
from workshop_lib.quantities import Q_, either, rounded_down, show, spoken
from workshop_lib.teaching.exercises import Exercise
from workshop_lib.teaching.redraw import redraw, sized
from workshop_lib.teaching.round_inch import round_in

WORN = "Feel and listen first. Take a nose that grates, wobbles or runs hot out of use."


BEARINGS = ("6000", "6001", "6002", "6200", "6201", "6202", "6203")


def tasks():
    """The exercises in the order of the lesson, a tuple of `Exercise`."""
    return _sleeve(), _drift(), _serves(), _preload(), _life(), _ball(), _static(), _governs()


@sized(thrust="N", side="N")
def _sleeve(thrust=900, side=40):
    load = Q_(thrust, "N"), Q_(side, "N")
    found = {each.name: each.axial for each in trace("pressure_nose", *load).elements}
    answer = found["sleeve"]
    return Exercise(
        "l04-task-sleeve",
        f"The pressure nose of the lesson presses with {thrust} N, and the cut pushes its tip "
        f"sideways with {side} N. What force passes through the sleeve between the outer rings?",
        answer,
        within=either("0.3 N", "0.1 lbf"),
        common_wrong=[
            (answer / 2, "That would be so if both bearings shared the thrust. Only the front "
             "inner ring is pushed, so all the thrust goes through the front bearing and then "
             "through the sleeve."),
            (Q_(0, "N"), "The sleeve does not turn, but it still carries force: everything that "
             "leaves the front outer ring goes through it."),
            (answer + Q_(side, "N"), "The side force does not come into it. The sleeve carries "
             "none of it: the bore takes it from the outer rings."),
            (answer - Q_(side, "N"), "The side force takes nothing away. It is square to the "
             "thrust, and the bore takes it from the outer rings."),
            (Q_((thrust**2 + side**2) ** 0.5, "N"), "The sleeve carries no side force: the bore "
             "takes it from the outer rings."),
            (Q_(side, "N"), "That is the side force. The bore takes it from the outer rings; the "
             "sleeve carries the thrust."),
        ],
        hints=[
            "Follow the thrust from the shoulder: which ring is pushed, and what does it push?",
            "The sleeve sits between the two outer rings. Is there any other way for the thrust "
            "to go?",
        ],
        solution="All the thrust leaves the front outer ring and has no other way to the floor of "
        f"the bore: {show(answer)}.",
        remake=redraw(_sleeve, thrust=range(400, 1250, 50), side=range(40, 130, 10)),
        paper="Parts in the order of the thrust: shoulder of the spindle, front inner ring, balls, "
        "front outer ring (slides in the bore), sleeve, rear outer ring, floor of the bore. The "
        "rear inner ring slides on the spindle.",
    )  # fmt: skip


@sized(thrust="N")
def _drift(fit="G7", thrust=800):
    nose = find_design("pressure_nose").changed(fit=fit)
    answer = play(nose, Q_(thrust, "N")).to("um")
    across = Q_(round(1e6 * nose.supports[0].fit, 3), "um")
    wide = f"{across.m_as('um'):g} µm"
    made = "is made to H7" if fit == "H7" else f"is made to {fit} instead of H7"
    return Exercise(
        "l04-task-drift",
        f"The bore {made}, which gives the outer rings {wide} of play on the diameter, on average. "
        f"Under {thrust} N of thrust, how far can the tip drift to one side of its middle position "
        "with no side force at all?",
        answer,
        within="0.3 um",
        common_wrong=_drift_slips(fit, across, wide),
        hints=[
            "Thrust closes the play inside the front bearing. What is left?",
            f"{wide} is from wall to wall. How far is it from the middle to a wall?",
        ],
        solution=f"What is left is the play of the ring in its bore: {wide} / 2 = {show(answer)}.",
        remake=redraw(
            _drift, fit=("H6", "H7", "H8", "G6", "G7", "F7", "F8"), thrust=range(400, 1250, 50)
        ),
    )  # fmt: skip


def _drift_slips(fit, across, wide):
    """What is usually answered instead."""
    inside = clearance("6202").typical.to("um")
    wrong = [
        (
            across,
            f"{wide} is on the diameter, from wall to wall. From the middle it is half of that.",
        ),
        (
            Q_(0, "um"),
            "The thrust takes the clearance out of the front bearing, but it does not hold the "
            "outer ring: vibration lets the ring creep across the bore.",
        ),
        (
            (across + inside) / 2,
            "That adds the clearance inside the bearing. The thrust has closed "
            "it in the front bearing.",
        ),
        (
            across / 4,
            "You halved it twice. The play on the diameter is twice the distance from the middle "
            "to a wall.",
        ),
    ]
    if fit != "H7":
        wrong.append(
            (
                Q_(1e6 * find_design("pressure_nose").supports[0].fit / 2, "um"),
                "That is for the H7 bore of the lesson.",
            )
        )
    return wrong


def _serves():
    thrust, side, most = (round_in(*each) for each in ((600, "N"), (130, "N"), (20, "um")))
    allowed = Q_(most, "um")
    shifts = {
        each.key: nose_shift(each, Q_(thrust, "N"), Q_(side, "N")).to("um") for each in designs()
    }
    (serving,) = (key for key, shift in shifts.items() if shift <= allowed)
    rows = [[SHORT[key], show(shift, figures=2)] for key, shift in shifts.items()]
    return Exercise(
        "l04-task-serves",
        f"A centre is to carry one end of a shaft. The shaft may move sideways by {most} µm, the "
        f"thrust is {thrust} N, and the cut pushes from the side with {side} N. Which of the "
        "lesson's three designs will do?",
        serving,
        options={**SHORT, "none": "none of them"},
        common_wrong=[
            ("pressure_nose", f"Its tip floats by 9 µm before anything resists, and at {side} N it "
             f"is far beyond {most} µm."),
            ("preloaded_centre", f"It has no play, but at {side} N its tip has gone a little "
             "too far."),
            ("none", f"Set the panel to {side} N and try each of the three."),
        ],
        hints=[
            "Up to what side force is each of them good enough?",
            "The last column of the lesson's table “Which of the three will do?” says.",
        ],
        solution=page.table(rows, ["Design", spoken(f"Tip shift at {side} N")]),
        paper=lambda: _up_to_on_paper(Q_(thrust, "N"), allowed),
        panel="Can this double as a live centre?",
    )  # fmt: skip


def _up_to_on_paper(thrust, allowed):
    """Up to what side force the tip of each design stays within the shift, rounded down."""
    rows = [
        [SHORT[each.key], show(rounded_down(side_held(each, thrust, allowed)), figures=2)]
        for each in designs()
    ]
    within = show(allowed, figures=2)
    return page.table(rows, ["Design", f"Stays within {within} up to a side force of"])


@sized(axial="N", radial="N")
def _life(designation="6202", axial=500, radial=100, speed=400):
    load, turns = (Q_(axial, "N"), Q_(radial, "N")), speed * 60
    answer = rating_life(designation, *load, Q_(speed, "rev/min")).hours
    bearing, equal = catalogue(designation), equivalent_load(designation, *load)
    millions = (bearing.dynamic_rating / equal).m_as("") ** 3
    factor = float(deep_groove_factors(bearing, axial)[2])
    return Exercise(
        "l04-task-life",
        f"A {designation} turns at {speed} rev/min under a thrust of {axial} N and a side load of "
        f"{radial} N. How many hours will nine out of ten such bearings last? (For this load Y = "
        f"{factor:.2f}; C = {bearing.core.dynamic_rating:g} N.)",
        answer,
        within="3 %",
        common_wrong=_life_slips(bearing, equal, axial, speed),
        hints=[
            f"P = 0.56 Fr + Y Fa = 0.56 × {radial} N + {factor:.2f} × {axial} N.",
            f"(C/P)³ million turns, at {turns} turns in an hour.",
        ],
        solution=[
            f"P = 0.56 × {radial} N + {factor:.2f} × {axial} N = {show(equal)}.",
            f"(C/P)³ = {show(millions)} million revolutions, at {turns} in an hour: "
            f"{show(answer)}.",
        ],
        remake=redraw(
            _life,
            designation=("6000", "6001", "6200", "6201", "6202", "6203"),
            axial=range(300, 950, 50), radial=range(40, 150, 10), speed=(200, 250, 315, 400, 500),
        ),
        paper="(C/P)^{3} million turns, where P = 0.56 F_{r} + Y F_{a}",
        caution=WORN,
    )  # fmt: skip


def _life_slips(bearing, equal, axial, speed):
    """What is usually answered instead."""
    turns = speed * 60
    millions = (bearing.dynamic_rating / equal).m_as("") ** 3
    by_static = (bearing.static_rating / equal).m_as("") ** 3
    plain = (bearing.dynamic_rating / Q_(axial, "N")).m_as("") ** 3
    return [
        (Q_(by_static * 1e6 / turns, "h"), "You used C0, the static rating. It says what marks "
         "the grooves at rest. Life goes with the dynamic rating C."),
        (Q_(millions, "h"), "(C/P)³ counts millions of revolutions, not hours."),
        (Q_(millions * 1e6 / speed, "h"), "Those are minutes: 60 of them make an hour."),
        (Q_(millions / turns, "h"), "(C/P)³ counts millions of revolutions: 10⁶ is missing."),
        (Q_(plain * 1e6 / turns, "h"), "You used the thrust as it is. In a deep-groove bearing it "
         "counts Y times, because the contact angle that carries it is small."),
        (Q_(millions ** (1 / 3) * 1e6 / turns, "h"), "You forgot the cube: (C/P)³."),
    ]  # fmt: skip


@sized(preload="N", thrust="N")
def _preload(preload=600, thrust=900):
    centre = find_design("preloaded_centre").changed(preload=Q_(preload, "N"))
    push = Q_(thrust, "N")
    answer = trace(centre, push).reaction("thrust").axial
    left = answer - push
    return Exercise(
        "l04-task-preload",
        f"The preloaded centre is set to {preload} N by its cap. Then a shaft presses on its point "
        f"with {thrust} N, and {show(left)} of the preload is left in the front bearing. What does "
        "the thrust bearing carry?",
        answer,
        within="2 %",
        common_wrong=[
            (Q_(preload + thrust, "N"), "Preload and thrust do not simply add: the thrust moves "
             "the spindle back, and that takes load off the front bearing."),
            (push, "You forgot what is left of the preload. The front bearing still pulls the "
             "spindle back with that."),
            (Q_(preload, "N"), "That is the preload alone, before the shaft presses."),
            (push / 2, "The front bearing does not share the thrust. It faces the other way, "
             "and presses the spindle onto the thrust bearing."),
            (left, "That is what is left in the front bearing. The thrust comes on top of it."),
        ],
        hints=[
            "What pushes the spindle back? The thrust, and what is left of the preload in the "
            "front bearing.",
            f"{thrust} N + {show(left)}.",
        ],
        solution=f"{answer.m_as('N'):.0f} N: {thrust} N of thrust and {show(left)} left of the "
        "preload.",
        remake=redraw(
            _preload,
            lambda preload, thrust: 0.6 * preload < thrust < 2.2 * preload,
            preload=range(300, 950, 50), thrust=range(300, 1550, 50),
        ),
    )  # fmt: skip


@sized(thrust="N")
def _ball(designation="6202", thrust=700):
    inside = typical_inside(designation)
    rest = inside.equilibrium(Q_(thrust, "N"))
    answer, count = rest.heaviest, inside.core.balls
    angle = round(rest.contact_angles[0].m_as("deg"), 1)
    share, lean = thrust / count, np.radians(angle)
    return Exercise(
        "l04-task-ball",
        f"{thrust} N of thrust press on a {designation} with {count} balls. Under that load the "
        f"contact angle is {angle:g}°, measured from square to the axis. What does each ball "
        "carry?",
        answer,
        within="2 %",
        common_wrong=[
            (Q_(share, "N"), "That is each ball's share of the thrust. The ball pushes along a "
             "line that leans only a little, so it is squeezed far harder."),
            (Q_(share / np.cos(lean), "N"), "You used the cosine. The angle is measured from "
             "square to the axis, so it is the sine that gives the thrust."),
            (Q_(share * np.sin(lean), "N"), "You multiplied by the sine. The share of the thrust "
             "is only part of the ball's load, so divide."),
            (Q_(thrust / np.sin(lean), "N"), "That is for one ball alone: the thrust is shared by "
             f"all {count}."),
            (Q_(share / np.sin(angle), "N"), f"Your calculator read {angle:g} as radians: set it "
             "to degrees."),
            (Q_(share / np.tan(lean), "N"), "That is the part of the load across the axis. The "
             "ball carries both parts together."),
        ],
        hints=[
            "First, what is one ball's share of the thrust? Then, along which line does the ball "
            "push?",
            f"{thrust} N / ({count} × sin {angle:g}°).",
        ],
        solution=f"{thrust} N / {count} = {share:.4g} N of thrust for each ball. Divided by sin "
        f"{angle:g}° that is {show(answer)}, {show(answer / Q_(share, 'N'), figures=2)} times as "
        "much.",
        remake=redraw(_ball, designation=BEARINGS, thrust=range(300, 1250, 50)),
        paper="Q = F_{a}/(Z sin α)",
        withheld=True,
    )  # fmt: skip


@sized(axial="N", radial="N")
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
            "Which rating is about marks at rest? And how much does a thrust count at rest?",
            f"P0 = 0.6 × {radial} N + 0.5 × {axial} N.",
        ],
        solution=[
            f"P0 = 0.6 × {radial} N + 0.5 × {axial} N = {equal:g} N; C0 = {static:g} N.",
            f"C0/P0 = {show(answer)}. A deep-groove bearing also has an axial limit.",
        ],
        remake=redraw(
            _static,
            lambda axial, radial, **_: axial > radial,  # else the radial load alone may govern
            designation=BEARINGS, axial=range(300, 1250, 50), radial=range(50, 260, 10),
        ),
        paper="C_{0}/P_{0}, where P_{0} = 0.6 F_{r} + 0.5 F_{a} (at least F_{r})",
        caution=WORN,
    )  # fmt: skip


def _static_slips(bearing, answer, axial, radial):
    """What is usually answered instead."""
    static, dynamic = (each.m_as("N") for each in (bearing.static_rating, bearing.dynamic_rating))
    equal = 0.6 * radial + 0.5 * axial
    return [
        (dynamic / equal, "You used C, the dynamic rating. It says when the bearing wears out. "
         "Marks at rest go with the static rating C0."),
        (static / axial, "You used the thrust as it is. At rest it counts 0.5 times, and the "
         "radial load 0.6 times."),
        (static / (axial + radial), "You added the two loads. The thrust counts 0.5 times and the "
         "radial load 0.6 times."),
        (static / (0.5 * axial), "You left out the radial load."),
        (1 / answer, "That is upside down. Divide the rating by the load."),
        (answer**3, "The cube belongs to the life. Static safety is a plain ratio."),
    ]  # fmt: skip


@sized(thrust="N")
def _governs(designation="6202", thrust=2000):
    push = Q_(thrust, "N")
    static = catalogue(designation).static_rating
    hours = show(rating_life(designation, push, "0 N", "250 rev/min").hours, figures=2)
    safety, most = float(static_safety(designation, push, "0 N")), axial_limit(designation)
    stops = most < push
    return Exercise(
        "l04-task-governs",
        f"Somebody wants to press with {thrust} N through the {designation} in the lesson's nose, "
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
            ("yes", "C0 alone does not settle it. How does a deep-groove bearing carry thrust, "
             "and where would the balls climb?"),
            ("static", f"At rest a thrust counts by half: C0/P0 is {show(safety, figures=2)}, so "
             "the grooves are safe."),
            ("life", f"At 250 rev/min nine out of ten bearings last about {hours} under it."),
        ],
        hints=[
            "There are three limits, and the lowest one counts. Work out each of them.",
            "For this bearing one of the limits is half of C0.",
        ],
        solution=f"The axial limit is {show(most, figures=4)}, half of C0. Neither C nor C0 "
        "overrules it.",
        paper="C_{0}/P_{0}, where P_{0} = 0.6 F_{r} + 0.5 F_{a}",
        caution=WORN,
    )  # fmt: skip
