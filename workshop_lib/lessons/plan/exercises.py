"""Which exercises does lesson 06 set, with which answers and which usual mistakes?"""

import numpy as np

from workshop_lib import plan
from workshop_lib.lessons.plan.panels import scenario
from workshop_lib.quantities import Q_, either, show
from workshop_lib.teaching.exercises import Exercise
from workshop_lib.teaching.redraw import redraw, sized
from workshop_lib.teaching.round_inch import round_in
from workshop_lib.uncertainty import pull_test, share_interval

LBF = 4.4482216152605  # N
# What somebody typed, by entry, in place of what stands in the job of the insulator.
TYPED = {
    "sheet.thickness": "0.62 mm",
    "disc.diameter": "78",
    "pad.facing": "lether",
    "thrust.force": "80 kg",
    "cut.speed": "70 rev/min",
}
IN_INCH = {"sheet.thickness": "24 thou", "disc.diameter": "3", "thrust.force": "180 lb"}
PRESSED = 2200  # N


def tasks():
    """The exercises in the order of the lesson, a tuple of `Exercise`."""
    return _pull(), _pressure(), _low(), _chance(), _faults(), _first(), _publish()


@sized(first="N", step="N", weight="N")
def _pull(first=5, step=0.2, weight=15):
    pulls = [first + step * turn for turn in (0, 2, 1, 3, -1)]
    found = pull_test([Q_(pull, "N") for pull in pulls], Q_(weight, "N"))
    unit, name, size = either(("N", "newtons", 1), ("lbf", "pounds", LBF))
    listed = ", ".join(f"{pull / size:.1f}" for pull in pulls)
    mean = np.mean(pulls) / size
    return Exercise(
        "l06-task-pull",
        f"A sheet lies with one face on a pad facing and {weight} N pressing on it. In five pulls "
        f"it begins to slide at {listed} {unit}. What is the friction coefficient?",
        found.value,
        kind="ratio",
        within="1 %",
        common_wrong=[
            (found.value / 2, "You counted two faces. The sheet lies on one facing only."),
            (1 / found.value, "That is upside down. Divide the pull by the weight."),
            (max(pulls) / weight, "That is the largest pull alone; the mean is the typical value."),
            (min(pulls) / weight, "That is the smallest pull alone. That is cautious, but the low "
             "value comes from the scatter, not from one reading."),
            (mean, f"That is the mean pull in {name}. Divide by the weight."),
        ],
        hints=["Average the pulls first.", "μ = F/N, where N is the weight on the sheet."],
        solution=f"The mean pull is {mean:.2f} {unit}; {mean:.2f} {unit} / {weight} N = "
        f"{found.value:.3f}.",
        remake=redraw(
            _pull, first=(4, 5, 6, 7, 8), step=(0.2, 0.3, 0.4), weight=(12, 15, 20, 25),
        ),
        paper="μ = F/N, where F is the mean pull and N the weight",
        withheld=True,
    )  # fmt: skip


@sized(outer="mm", relief="mm", thrust="N")
def _pressure(outer=90, relief=50, thrust=1200):
    area = np.pi / 4 * (outer**2 - relief**2)
    answer = Q_(thrust / area, "MPa")
    full = Q_(thrust / (np.pi / 4 * outer**2), "MPa")
    return Exercise(
        "l06-task-pressure",
        f"A {outer} mm pad has its middle relieved to {relief} mm and presses with {thrust} N. "
        "What is the mean pressure on its facing?",
        answer,
        within="1 %",
        common_wrong=[
            (full, "You used the full circle. The relieved middle carries nothing."),
            (answer / 4, "You used the diameters as radii: the area is π/4 (D² − d²)."),
            (answer / 2, "The two faces do not share the thrust: each carries all of it."),
            (Q_(thrust / (np.pi / 4 * (outer - relief) ** 2), "MPa"), "You subtracted the "
             "diameters first. Work out each area, then subtract."),
        ],
        hints=["Which area touches the sheet?", "p = N / (π/4 (D² − d²))"
               + either("; 1 N/mm² is 1 MPa.", ", in psi with inches and lbf.")],
        solution=f"π/4 × (({outer} mm)² − ({relief} mm)²) = {area:.0f} mm²; {thrust} N / "
        f"{area:.0f} mm² = "
        f"{show(answer)}.",
        remake=redraw(
            _pressure, outer=range(60, 145, 5), relief=range(20, 70, 5),
            thrust=range(400, 2050, 50), fits=lambda outer, relief, thrust: relief < 0.8 * outer,
        ),
        paper="p = N / (π/4 (D² − d²)); " + either("1 N/mm² = 1 MPa", "1 lbf/in² = 1 psi"),
    )  # fmt: skip


PLANS = {
    "low": "the low value: one squeeze in twenty falls below it",
    "mean": "the mean: it is the likeliest value",
    "high": "the high value: the facing was good",
    "surest": "the mean less its standard uncertainty: you know it that well",
}


def _low():
    return Exercise(
        "l06-task-low",
        "From twenty pulls you know the mean friction to within 1 %. Which friction do you plan "
        "the cut on?",
        "low",
        options=PLANS,
        common_wrong=[
            ("mean", "Half of your squeezes would hold less than you planned for."),
            ("high", "Nearly all of your squeezes would hold less than you planned for."),
            ("surest", "That says how well you know the mean. The next squeeze is one single "
             "case: it scatters as the single pulls did, however many pulls you make."),
        ],
        hints=[
            "The disc meets one squeeze, not the mean of twenty.",
            "Which of these values comes from the scatter of single readings?",
        ],
        solution="The low value. With more readings you know the mean better, but the next "
        "squeeze still scatters as the single readings did.",
    )  # fmt: skip


def _chance(draws=10_000):
    answer = Q_(100 * share_interval(0, draws)[1], "percent")
    return Exercise(
        "l06-task-chance",
        f"In {draws} random draws the disc never slipped. How large can the chance of slip still "
        "be, in per cent, at 95 % confidence? (No slip in 100 draws still allows up to 3.7 %. The "
        "rule is in the hints.)",
        answer,
        kind="ratio",
        within="3 %",
        common_wrong=[
            (Q_(0.0, "percent"), "No slip in that many is not never: the next draw can be the "
             "first."),
            (answer * 100, "That is a hundred times too large. Put a % sign after it, or give the "
             "share."),
            (Q_(100 / draws, "percent"), "One in that many is too bold. At that chance more than "
             "a third of all tries would show no slip."),
        ],
        hints=[
            "How large a chance could n draws without a slip still hide? The rule is 3.84 / (n + "
            "3.84): for 100 draws that is 3.84 / 103.84, or 3.7 %.",
            f"3.84 / ({draws} + 3.84), in per cent.",
        ],
        solution=f"3.84 / ({draws} + 3.84) = {show(answer, figures=2)}.",
        remake=redraw(_chance, draws=range(1_000, 51_000, 1_000)),
        paper="no slip in n draws: the chance is below 3.84 / (n + 3.84)",
    )  # fmt: skip


def typed():
    """What somebody typed, in the system that is spoken."""
    return TYPED | either({}, IN_INCH)


def complained_of():
    """The entries of what somebody typed that the workbook complains of."""
    job = scenario("tide_gauge_insulator")
    try:
        job.changed(typed())
    except plan.JobFaults as found:
        return [fault.name for fault in found.faults]
    return []


def _faults():
    wrong = complained_of()
    sets = {
        "kilograms": ("disc.diameter", "pad.facing", "thrust.force"),
        "thickness": ("sheet.thickness", "disc.diameter", "pad.facing"),
        "speed": ("pad.facing", "thrust.force", "cut.speed"),
        "numbers": ("sheet.thickness", "disc.diameter", "cut.speed"),
    }
    answer = next(key for key, entries in sets.items() if set(entries) == set(wrong))
    lines = "; ".join(f'{key.partition(".")[2]} = "{value}"' for key, value in typed().items())
    mass, number, force = either(("kilogram", "78", "N or kgf"), ("pound", "3", "lbf"))
    short = either("kg", "lb")
    return Exercise(
        "l06-task-faults",
        f"Somebody types: {lines}. Which three of these will the workbook refuse?",
        answer,
        options={
            key: ", ".join(entry.partition(".")[2] for entry in entries)
            for key, entries in sets.items()
        },
        common_wrong=[
            ("thickness", f"The thickness has a number and a unit. But is a {mass} a force here?"),
            ("speed", f"Turns per minute are a speed. Look at the diameter: {number} what?"),
            ("numbers", f"Two of these are fine. But a {mass} is a mass, and there is no facing "
             "called “lether”."),
        ],
        hints=[
            "Every quantity needs a number and a unit of the right kind.",
            "Which number has no unit, which word is misspelt, and which unit is a mass?",
        ],
        solution=f"{number} has no unit. “lether” is not a known facing (it should be leather). "
        f"{short} is a mass: give a force in {force}.",
    )  # fmt: skip


def _first():
    pressed = show(Q_(round_in(PRESSED, "N"), "N"))
    typed_in = {"thrust.force": pressed}
    found = plan.assess(scenario("tide_gauge_lid").changed(typed_in), draws=0)
    hold, heaviest = found.reason("hold"), found.reasons[0]
    answer = {"nose": "thrust", "hold": "depth", "rim": "pad"}[heaviest.about]
    return Exercise(
        "l06-task-first",
        f"In the panel “Is this job ready?” set the thrust of the lid to {pressed} and leave the "
        "rest as it is. What do you change first?",
        answer,
        options={
            "thrust": "press less",
            "pad": "take a larger pad",
            "depth": "cut less deep",
            "all": "all of these at once, to be safe",
        },
        common_wrong=[
            ("pad", "That helps when the hold or the rim is too weak. Both are good here: look at "
             "the line that fails."),
            ("depth", "A lighter cut loads the hold less, but the hold is good already. The line "
             "that fails is about something else."),
            ("all", "Then you do not know what helped, and you may have spoilt something good. "
             "Make one change, then check again."),
        ],
        hints=[
            "Read the table from the top: what fails comes first.",
            "Which part carries all the thrust, whatever the cut?",
        ],
        solution=f"{heaviest.sentence} The hold has plenty to spare. {hold.sentence} So: "
        f"{heaviest.changes[-1].sentence} Then check again.",
    )  # fmt: skip


def _publish():
    return Exercise(
        "l06-task-publish",
        "At the first try a corner caught and the disc moved. You centred it again and cut half "
        "as deep, and the finished disc is good. What do you write about the first try?",
        "all",
        options={
            "nothing": "nothing: the disc is good",
            "settings": "only the settings that worked in the end",
            "what": "that it went wrong once",
            "all": "what went wrong, why, and how you put it right",
        },
        common_wrong=[
            ("nothing", "Then the next person to turn such a disc makes the same mistake."),
            ("settings", "They are worth writing down, but they do not tell anybody what to watch "
             "out for."),
            ("what", "That is honest, but no use to others. They need the reason and the cure."),
        ],
        hints=[
            "Who will read the page, and why?",
            "The job file has three entries for it: what, why, mended.",
        ],
        solution="Write what went wrong, why, and how you put it right. The job file of the cover "
        "has an example at the end.",
    )  # fmt: skip
