"""The exercises of lesson 04: the sleeve, the drift, the life, what a preload becomes."""

import numpy as np

from workshop_lib.bearings import catalogue, clearance, equivalent_load, rating_life
from workshop_lib.drawings import page
from workshop_lib.lesson import paper
from workshop_lib.lesson.exercises import Exercise
from workshop_lib.lesson.redraw import redraw
from workshop_lib.load_path import find, play, trace
from workshop_lib.quantities import Q_, show
from workshop_lib.rolling.bearing_loads import deep_groove_factors

WORN = "Feel and listen first: a nose that grates, wobbles or runs hot is taken out of use."


def tasks():
    """The exercises in the order of the lesson, a tuple of `Exercise`."""
    return _sleeve(), _drift(), _life(), _preload()


def _sleeve(thrust=900, side=40):
    load = Q_(thrust, "N"), Q_(side, "N")
    found = {each.name: each.axial for each in trace("pressure_nose", *load).elements}
    answer = found["sleeve"]
    return Exercise(
        "l04-task-sleeve",
        f"The pressure nose of the lesson presses with {thrust} N, and the cut pushes its tip "
        f"sideways with {side} N. What force passes through the sleeve between the outer rings?",
        answer,
        within="0.3 N",
        common_wrong=[
            (answer / 2, "Both bearings would have to share the thrust. Only the front inner ring "
             "is pushed: all of it goes through the front bearing, and then through the sleeve."),
            (Q_(0, "N"), "The sleeve stands still, and so it can pass a force on: everything "
             "that leaves the front outer ring goes through it."),
            (answer + Q_(side, "N"), "The side force does not join in: the sleeve carries none of "
             "it. The bore takes it from the outer rings."),
            (answer - Q_(side, "N"), "The side force takes nothing away: it stands square to the "
             "thrust, and the bore takes it from the outer rings."),
            (Q_((thrust**2 + side**2) ** 0.5, "N"), "The sleeve carries no side force; the bore "
             "takes it from the outer rings."),
            (Q_(side, "N"), "That is the side force. The bore takes it from the outer rings; the "
             "sleeve feels the thrust."),
        ],
        hints=[
            "Follow the thrust from the shoulder: which ring is pushed, and what does it push?",
            f"trace('pressure_nose', '{thrust} N', '{side} N').elements lists every part.",
        ],
        solution="All of the thrust leaves the front outer ring and has no other way to the floor: "
        f"{show(answer)}.",
        remake=redraw(_sleeve, thrust=range(400, 1250, 50), side=range(40, 130, 10)),
        paper="Parts in the order of the thrust: shoulder of the spindle, front inner ring, balls, "
        "front outer ring (slides in the bore), sleeve, rear outer ring, floor of the bore. The "
        "rear inner ring slides on the spindle.",
    )  # fmt: skip


def _drift(fit="G7", thrust=800):
    nose = find("pressure_nose").changed(fit=fit)
    answer = play(nose, Q_(thrust, "N")).to("um")
    across = Q_(round(1e6 * nose.supports[0].fit, 3), "um")
    wide = f"{across.m_as('um'):g} µm"
    made = "is made to H7" if fit == "H7" else f"is made to {fit} in place of H7"
    return Exercise(
        "l04-task-drift",
        f"The bore {made}: its outer rings then have {wide} of play on the diameter, on "
        f"average. Under {thrust} N of thrust, how far to one side of its middle can the tip drift "
        "before any force answers?",
        answer,
        within="0.3 um",
        common_wrong=_drift_slips(fit, across, wide),
        hints=[
            "Thrust closes the play inside the front bearing. What is left?",
            f"play(find('pressure_nose').changed(fit='{fit}'), '{thrust} N')",
        ],
        solution=f"What is left is the ring in its bore: {wide} / 2 = {show(answer)}.",
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
            f"{wide} is on the diameter, from one wall to the other. From the middle "
            "it is half of that.",
        ),
        (
            Q_(0, "um"),
            "The thrust takes the clearance out of the front bearing, but it does "
            "not hold its outer ring: shaking lets that creep across the bore.",
        ),
        (
            (across + inside) / 2,
            "That adds the clearance inside the bearing. The thrust has closed "
            "it in the front bearing.",
        ),
        (
            across / 4,
            "You halved it twice: the play on the diameter is twice the way from the "
            "middle to a wall.",
        ),
    ]
    if fit != "H7":
        wrong.append(
            (
                Q_(1e6 * find("pressure_nose").supports[0].fit / 2, "um"),
                "That is the H7 bore of the lesson.",
            )
        )
    return wrong


def _life(designation="6202", axial=500, radial=100, speed=400):
    load, turns = (Q_(axial, "N"), Q_(radial, "N")), speed * 60
    answer = rating_life(designation, *load, Q_(speed, "rev/min")).hours
    bearing, equal = catalogue(designation), equivalent_load(designation, *load)
    millions = (bearing.dynamic_rating / equal).m_as("") ** 3
    ratio = bearing.core.f0 * axial / bearing.core.static_rating
    factor = float(deep_groove_factors(bearing, axial)[2])
    return Exercise(
        "l04-task-life",
        f"A {designation} turns at {speed} rev/min under {axial} N axially and {radial} N "
        "radially. How many hours do nine out of ten such bearings reach?",
        answer,
        within="2 %",
        common_wrong=_life_slips(bearing, equal, axial, speed),
        hints=[
            f"P = 0.56 Fr + Y Fa, with Y from the table at f0 Fa/C0 = {bearing.core.f0:g} × "
            f"{axial}/{bearing.core.static_rating:g} = {ratio:.2f}.",
            f"rating_life('{designation}', '{axial} N', '{radial} N', '{speed} rev/min').hours",
        ],
        solution=[
            f"At f0 Fa/C0 = {ratio:.2f} the table gives Y = {factor:.2f}.",
            f"P = {show(equal)}, C = {show(bearing.dynamic_rating, figures=4)}.",
            f"(C/P)³ = {show(millions)} million revolutions, at {turns} in an hour: "
            f"{show(answer)}.",
        ],
        remake=redraw(
            _life,
            designation=("6000", "6001", "6200", "6201", "6202", "6203"),
            axial=range(300, 950, 50), radial=range(40, 150, 10), speed=(200, 250, 315, 400, 500),
        ),
        paper=lambda: (
            "L_{10} = (C/P)^{3} million revolutions; P = X F_{r} + Y F_{a}",
            paper.bearing_row(designation),
            paper.thrust_factors(designation),
        ),
        caution=WORN,
    )  # fmt: skip


def _life_slips(bearing, equal, axial, speed):
    """What is usually answered instead."""
    turns = speed * 60
    millions = (bearing.dynamic_rating / equal).m_as("") ** 3
    by_static = (bearing.static_rating / equal).m_as("") ** 3
    plain = (bearing.dynamic_rating / Q_(axial, "N")).m_as("") ** 3
    return [
        (Q_(by_static * 1e6 / turns, "h"), "That uses C0, the static rating. It says what "
         "marks the grooves at rest; life goes with the dynamic rating C."),
        (Q_(millions, "h"), "(C/P)³ counts millions of revolutions, not hours."),
        (Q_(millions * 1e6 / speed, "h"), "Those are minutes: 60 of them make an hour."),
        (Q_(millions / turns, "h"), "(C/P)³ counts millions of revolutions: 10⁶ is missing."),
        (Q_(plain * 1e6 / turns, "h"), "That takes the thrust as it is. In a deep-groove "
         "bearing it counts Y times, since few degrees of contact angle carry it."),
        (Q_(millions ** (1 / 3) * 1e6 / turns, "h"), "The cube is missing: (C/P)³."),
    ]  # fmt: skip


def _preload(preload=600, thrust=900):
    centre = find("preloaded_centre").changed(preload=Q_(preload, "N"))
    push = Q_(thrust, "N")
    answer = trace(centre, push).reaction("thrust").axial
    return Exercise(
        "l04-task-preload",
        f"The preloaded centre is set to {preload} N by its cap. Then a shaft presses on its point "
        f"with {thrust} N. What does its thrust bearing carry?",
        answer,
        within="2 %",
        common_wrong=[
            (Q_(preload + thrust, "N"), "Preload and thrust do not simply add: the thrust moves "
             "the spindle back, and that takes load off the front bearing."),
            (push, "That forgets what is left of the preload. The front bearing still "
             "pulls the spindle back with it."),
            (Q_(preload, "N"), "That is the preload alone, before the shaft presses."),
            (push / 2, "The front bearing does not share the thrust. It faces the other way, "
             "and presses the spindle onto the thrust bearing."),
            (answer - push, "That is what is left in the front bearing; the thrust comes on top "
             "of it."),
        ],
        hints=[
            "What pushes the spindle back? The thrust, and what is left in the front bearing.",
            f"trace(find('preloaded_centre').changed(preload='{preload} N'), '{thrust} N')"
            ".reaction('thrust').axial",
        ],
        solution=f"{show(answer)}: {thrust} N of thrust and {show(answer - push)} left of the "
        "preload.",
        remake=redraw(
            _preload,
            lambda preload, thrust: 0.6 * preload < thrust < 2.2 * preload,
            preload=range(300, 950, 50), thrust=range(300, 1550, 50),
        ),
        paper=lambda: _front_on_paper(preload, thrust),
    )  # fmt: skip


def _front_on_paper(preload, thrust):
    """What is left in the front bearing, at thrusts on both sides of the one that is asked."""
    centre = find("preloaded_centre").changed(preload=Q_(preload, "N"))
    thrusts = sorted({0, *(thrust + step for step in (-200, -100, 0, 100, 200)), preload // 2})
    loads = Q_(np.array(thrusts, float), "N")
    left = [trace(centre, load).reaction("thrust").axial - load for load in loads]
    rows = [[f"{push} N", show(rest)] for push, rest in zip(thrusts, left, strict=True)]
    caption = f"Left in the front bearing, preloaded to {preload} N"
    return page.table(rows, ["Thrust on the point", "Front bearing"], caption)
