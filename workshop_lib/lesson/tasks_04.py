"""The exercises of lesson 04: the sleeve, the drift, the life, what a preload becomes."""

from workshop_lib.bearings import catalogue, equivalent_load, rating_life
from workshop_lib.lesson.exercises import Exercise
from workshop_lib.load_path import find, play, trace
from workshop_lib.quantities import Q_, show


def tasks():
    """The exercises in the order of the lesson, a tuple of `Exercise`."""
    return _sleeve(), _drift(), _life(), _preload()


def _sleeve():
    found = {each.name: each.axial for each in trace("pressure_nose", "900 N", "40 N").elements}
    answer = found["sleeve"]
    return Exercise(
        "l04-task-sleeve",
        "The pressure nose of the lesson presses with 900 N, and the cut pushes its tip sideways "
        "with 40 N. What force passes through the sleeve between the outer rings?",
        answer,
        within="0.3 N",
        common_wrong=[
            (answer / 2, "Both bearings would have to share the thrust. Only the front inner ring "
             "is pushed: all of it goes through the front bearing, and then through the sleeve."),
            (Q_(0, "N"), "The sleeve stands still, and so it can pass a force on: everything "
             "that leaves the front outer ring goes through it."),
            (answer + Q_(40, "N"), "The side force does not join in: the sleeve carries none of "
             "it. The bore takes it from the outer rings."),
            (Q_((900**2 + 40**2) ** 0.5, "N"), "The sleeve carries no side force; the bore takes "
             "it from the outer rings."),
        ],
        hints=[
            "Follow the thrust from the shoulder: which ring is pushed, and what does it push?",
            "trace('pressure_nose', '900 N', '40 N').elements lists every part.",
        ],
        solution="All of the thrust leaves the front outer ring and has no other way to the floor: "
        f"{show(answer)}.",
    )  # fmt: skip


def _drift():
    nose = find("pressure_nose").changed(fit="G7")
    answer = play(nose, "800 N").to("um")
    on_diameter = Q_(2e6 * nose.supports[0].fit / 2, "um")
    return Exercise(
        "l04-task-drift",
        "The bore is made to G7 in place of H7: its outer rings then have 27 µm of play on the "
        "diameter, on average. Under 800 N of thrust, how far to one side of its middle can the "
        "tip drift before any force answers?",
        answer,
        within="0.3 um",
        common_wrong=[
            (on_diameter, "27 µm is on the diameter, from one wall to the other. From the middle "
             "it is half of that."),
            (Q_(0, "um"), "The thrust takes the clearance out of the front bearing, but it does "
             "not hold its outer ring: shaking lets that creep across the bore."),
            (Q_(9, "um"), "That is the H7 bore of the lesson."),
            (Q_(18.75, "um"), "That adds the clearance inside the bearing. The thrust has closed "
             "it in the front bearing."),
        ],
        hints=[
            "Thrust closes the play inside the front bearing. What is left?",
            "play(find('pressure_nose').changed(fit='G7'), '800 N')",
        ],
        solution=f"What is left is the ring in its bore: 27 µm / 2 = {show(answer)}.",
    )  # fmt: skip


def _life():
    load, speed = ("500 N", "100 N"), "400 rev/min"
    answer = rating_life("6202", *load, speed).hours
    bearing = catalogue("6202")
    share, turns = bearing.dynamic_rating / equivalent_load("6202", *load), 400 * 60
    by_static = (bearing.static_rating / equivalent_load("6202", *load)).m_as("") ** 3
    plain = (bearing.dynamic_rating / Q_(500, "N")).m_as("") ** 3
    millions = share.m_as("") ** 3
    return Exercise(
        "l04-task-life",
        "A 6202 turns at 400 rev/min under 500 N axially and 100 N radially. How many hours do "
        "nine out of ten such bearings reach?",
        answer,
        within="2 %",
        common_wrong=[
            (Q_(by_static * 1e6 / turns, "h"), "That uses C0, the static rating. It says what "
             "marks the grooves at rest; life goes with the dynamic rating C."),
            (Q_(millions, "h"), "(C/P)³ counts millions of revolutions, not hours."),
            (Q_(millions * 1e6 / 400, "h"), "Those are minutes: 60 of them make an hour."),
            (Q_(millions / turns, "h"), "(C/P)³ counts millions of revolutions: 10⁶ is missing."),
            (Q_(plain * 1e6 / turns, "h"), "That takes the thrust as it is. In a deep-groove "
             "bearing it counts Y times, since few degrees of contact angle carry it."),
        ],
        hints=[
            "P = 0.56 Fr + Y Fa, with Y from the table at f0 Fa/C0 = 13.2 × 500/3750 = 1.76.",
            "rating_life('6202', '500 N', '100 N', '400 rev/min').hours",
        ],
        solution=[
            f"P = {show(equivalent_load('6202', *load))}, C = {show(bearing.dynamic_rating)}.",
            f"(C/P)³ = {show(millions)} million revolutions, at 24 000 in an hour: {show(answer)}.",
        ],
    )  # fmt: skip


def _preload():
    centre = find("preloaded_centre").changed(preload="600 N")
    answer = trace(centre, "900 N").reaction("thrust").axial
    return Exercise(
        "l04-task-preload",
        "The preloaded centre is set to 600 N by its cap. Then a shaft presses on its point with "
        "900 N. What does its thrust bearing carry?",
        answer,
        within="2 %",
        common_wrong=[
            (Q_(1500, "N"), "Preload and thrust do not simply add: the thrust moves the spindle "
             "back, and that takes load off the front bearing."),
            (Q_(900, "N"), "That forgets what is left of the preload. The front bearing still "
             "pulls the spindle back with it."),
            (Q_(600, "N"), "That is the preload alone, before the shaft presses."),
            (Q_(450, "N"), "The front bearing does not share the thrust. It faces the other way, "
             "and presses the spindle onto the thrust bearing."),
        ],
        hints=[
            "What pushes the spindle back? The thrust, and what is left in the front bearing.",
            "trace(find('preloaded_centre').changed(preload='600 N'), '900 N')"
            ".reaction('thrust').axial",
        ],
        solution=f"{show(answer)}: 900 N of thrust and {show(answer - Q_(900, 'N'))} left of the "
        "preload.",
    )  # fmt: skip
