"""More exercises for lesson 06: faults in a job file, what to change first, what to publish."""

from workshop_lib import plan
from workshop_lib.lesson.exercises import Exercise
from workshop_lib.lesson.plan_scenes import scenario

# What somebody typed, by entry, in place of what stands in the job of the insulator.
TYPED = {
    "sheet.thickness": "0.62 mm",
    "disc.diameter": "78",
    "pad.facing": "lether",
    "thrust.force": "80 kg",
    "cut.speed": "70 rev/min",
}
PRESSED = "2200 N"


def tasks():
    """The exercises in the order of the lesson, a tuple of `Exercise`."""
    return _faults(), _first(), _publish()


def complained_of():
    """The entries of `TYPED` that the workbook complains of."""
    job = scenario("tide_gauge_insulator")
    try:
        job.changed(TYPED)
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
    lines = "; ".join(f'{key.partition(".")[2]} = "{value}"' for key, value in TYPED.items())
    return Exercise(
        "l06-task-faults",
        f"Somebody types: {lines}. Which three has the workbook to complain of?",
        answer,
        options={
            key: ", ".join(entry.partition(".")[2] for entry in entries)
            for key, entries in sets.items()
        },
        common_wrong=[
            ("thickness", "The thickness has its number and its unit. But is a kilogram a force?"),
            ("speed", "Turns in a minute are a speed. Look at the diameter: 78 what?"),
            ("numbers", "Two of these are whole. A kilogram is a mass, and nobody knows a facing "
             "called “lether”."),
        ],
        hints=[
            "Every quantity wants a number and a unit of its own kind.",
            "Which number stands alone, which word is misspelt, and which unit is one of mass?",
        ],
        solution="78 has no unit; “lether” is no facing that is known (leather is meant); kg is a "
        "mass, and a force is given in N or kgf.",
    )  # fmt: skip


def _first():
    found = plan.assess(scenario("tide_gauge_lid").changed({"thrust.force": PRESSED}), draws=0)
    hold, heaviest = found.reason("hold"), found.reasons[0]
    answer = {"nose": "thrust", "hold": "depth", "rim": "pad"}[heaviest.about]
    return Exercise(
        "l06-task-first",
        f"In the panel “Is this job ready?” set the thrust of the lid to {PRESSED} and leave the "
        "rest as it is. What do you change first?",
        answer,
        options={
            "thrust": "press less",
            "pad": "take a larger pad",
            "depth": "cut less deep",
            "all": "all of these at once, to be safe",
        },
        common_wrong=[
            ("pad", "That mends a hold or a rim that is too weak. Both are good here: look at the "
             "line that stops it."),
            ("depth", "A lighter cut loads the hold less, and the hold is good. The line that "
             "stops it speaks of something else."),
            ("all", "Then you do not know what helped, and may have spoilt what was good. One "
             "change, and look again."),
        ],
        hints=[
            "Read the table from the top: what stops the job stands first.",
            "Which part carries all of the thrust, whatever the cut?",
        ],
        solution=f"{heaviest.sentence} The hold has some to spare. {hold.sentence} So: "
        f"{heaviest.changes[-1].sentence} Then look again.",
    )  # fmt: skip


def _publish():
    return Exercise(
        "l06-task-publish",
        "At the first try a corner caught and the disc moved. You centred it anew, cut half as "
        "deep, and the finished disc is good. What do you write about the first try?",
        "all",
        options={
            "nothing": "nothing: the disc is good",
            "settings": "only the settings that worked in the end",
            "what": "that it went wrong once",
            "all": "what went wrong, why, and how it was mended",
        },
        common_wrong=[
            ("nothing", "Then the next who turns such a disc makes the same mistake."),
            ("settings", "They are worth writing down. But nobody sees from them what to beware "
             "of."),
            ("what", "Honest, but of no use to others: they need the reason and the cure."),
        ],
        hints=[
            "Who reads the page, and what for?",
            "The job file has three entries for it: what, why, mended.",
        ],
        solution="What, why and how it was mended: the job file of the cover has an example at "
        "its end.",
    )  # fmt: skip
