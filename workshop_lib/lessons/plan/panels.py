"""Which panels does lesson 06 have? A job judged, how sure that is, two jobs side by side."""

from functools import lru_cache
from pathlib import Path

from workshop_lib import plan
from workshop_lib.drawings import page
from workshop_lib.drawings.setup_drawings import section
from workshop_lib.drawings.slip_charts import margin_chart
from workshop_lib.lessons.shared_fields import facing_choice
from workshop_lib.quantities import Q_, InputError, show
from workshop_lib.teaching.fields import Choice, Count, Field
from workshop_lib.teaching.panels import Scene, View
from workshop_lib.uncertainty import SlipCase, chance_of_slip, exactly, normal, of_range

FOLDER = Path(__file__).resolve().parents[3] / "notebooks" / "jobs"
JOBS = {
    "tide_gauge_cover": "78 mm stainless cover",
    "tide_gauge_lid": "112 mm zinc-coated lid",
    "tide_gauge_insulator": "64 mm phenolic insulator",
    "tide_gauge_dust_cover": "150 mm acrylic dust cover",
}
WORDS = {"yes": "Ready to turn", "open": "Not yet", "no": "Do not run this plan"}
ANSWERS = {"yes": "good", "open": "check", "no": "fail"}
# Entries of a field that takes another's place, so that a panel's number is what counts.
OVERRULED = ("measured.scale_readings", "measured.scale_graduation", "thrust.handwheel_torque",
             "thrust.screw")  # fmt: skip


@lru_cache(maxsize=8)
def scenario(name):
    """One of the scenario's jobs by its file's name."""
    return plan.load(FOLDER / f"{name}.toml")


def job_scene():
    """A whole job: change what a workshop can change, and see what is asked and what to fix."""
    fields = [
        Choice("disc", "Disc", JOBS, "tide_gauge_lid"),
        facing_choice("moulded_lining"),
        Field("pad_diameter", "Pad, outer diameter", "length > 0", "100 mm", slider=(20, 148, 1)),
        Field("relief_diameter", "Pad, relieved middle", "length >= 0", "60 mm",
              slider=(0, 130, 1)),
        Field("thrust", "Thrust", "force > 0", "1000 N", slider=(50, 2500, 10)),
        Field("depth", "Depth of each pass", "length > 0", "0.07 mm", slider=(0.01, 1.5, 0.01)),
        Field("feed", "Feed", "feed > 0", "0.05 mm/rev", slider=(0.05, 0.3, 0.01)),
        Field("speed", "Speed", "speed > 0", "70 rev/min", slider=(20, 1000, 5)),
    ]  # fmt: skip
    return Scene("Is this job ready?", fields, _judge_job, words=WORDS)


def _judge_job(disc, facing, pad_diameter, relief_diameter, thrust, depth, feed, speed):
    entries = {
        "pad.facing": facing,
        "pad.outer_diameter": pad_diameter,
        "pad.inner_diameter": relief_diameter,
        "nose.plate_diameter": pad_diameter,
        "thrust.force": thrust,
        "cut.depth": depth,
        "cut.feed": feed,
        "cut.speed": speed,
        "about.state": "planned",
    }
    job = _changed(scenario(disc), entries | _untried(disc, facing) | dict.fromkeys(OVERRULED))
    found = plan.assess(job, draws=0)
    worst = job.passes.worst
    radial = job.radial_share.high * worst.cutting_force
    sizes = job.pad, job["disc.diameter"], job.thickness, job.thrust
    drawing = section(*sizes, worst.cutting_force, radial)
    return View(found.verdict, found.holds, drawing, answers(found))


def answers(found):
    """What to change, the answer to each question, and cautions: parts of a page."""
    rows = [
        [ANSWERS[each.holds], plan.QUESTIONS[each.about], each.sentence] for each in found.reasons
    ]
    parts = [mends(found)] if found.changes else []
    parts.append(page.table(rows, ["Answer", "Question", "Why"]))
    parts.append(page.table(found.table, plan.HEADINGS))
    return [*parts, page.caution(*found.cautions)] if found.cautions else parts


def mends(found):
    """How to fix a plan, beside the question that fails. found: `Assessment`."""
    return page.stack(
        "What to change. Each line fixes one thing: change one, and check again.",
        page.table(found.mends, ["Question", "How to fix it"]),
    )


def _untried(disc, facing):
    """Another facing than the job's was never tried."""
    same = scenario(disc)["pad.facing"] == facing
    return {} if same else {"pad.pressure_tried": None}


FIELDS = {
    "pad.outer_diameter": "pad_diameter",
    "pad.inner_diameter": "relief_diameter",
    "pad.facing": "facing",
    "thrust.force": "thrust",
    "cut.depth": "depth",
    "cut.feed": "feed",
    "cut.speed": "speed",
}


def _changed(job, entries):
    """The job with a panel's entries; what is wrong is said at the field that it belongs to."""
    try:
        return job.changed(entries)
    except plan.JobFaults as error:
        first = error.faults[0]
        raise InputError(FIELDS.get(first.name, first.name), first.problem, first.mend) from error


SURE = {"low": "narrow: half the doubt", "usual": "as the tables give it"}


def chance_scene():
    """How likely is it that the disc slips, with all that nobody knows exactly?"""
    fields = [
        Choice("disc", "Disc", JOBS, "tide_gauge_insulator"),
        Field("thrust", "Thrust", "force > 0", "600 N", slider=(50, 2500, 10)),
        Field("doubt", "Standard uncertainty of thrust", "force >= 0", "60 N", slider=(0, 300, 5)),
        Choice("friction", "Friction known", SURE, "usual"),
        Count("seed", "Repeat the random draw, number", 1, slider=(1, 99)),
    ]
    words = {"yes": "Sure", "open": "Not sure enough", "no": "Likely to slip"}
    return Scene("How sure is it?", fields, _judge_chance, words=words)


DRAWS = 10_000  # a panel answers at once; a plan that counts asks for more
RARE, LIKELY = 0.001, 0.05  # chances of slip between which the answer is “not sure enough”


def _judge_chance(disc, thrust, doubt, friction, seed):
    case = scenario(disc).slip_case()
    spreads = case.spreads | {"thrust": normal(thrust, doubt) if doubt.m else exactly(thrust)}
    if friction == "low":
        spreads["friction_coefficient"] = _narrowed(scenario(disc).friction)
    found = chance_of_slip(SlipCase(case.pad, spreads), DRAWS, int(seed))
    low, high = found.interval
    holds = "yes" if found.chance < RARE else "open" if found.chance < LIKELY else "no"
    alt = f"Spread of the slip margin: half of the draws lie below {show(found.median, figures=2)},"
    alt += f" 95 % between {show(low, figures=2)} and {show(high, figures=2)}."
    rows = [[plan.INPUT_NAMES[name], f"{100 * share:.0f} %"] for name, share in
            found.contributions.items() if share > 0.005]  # fmt: skip
    more = [
        page.table(rows, ["What makes the margin uncertain", "Its part in the doubt"]),
        plan.NEED_NOT_ADD_UP,
    ]
    return View(str(found), holds, margin_chart(found).picture(alt), more)


def _narrowed(triple):
    """The same friction with half the doubt on both sides."""
    low, typical, high = triple
    return of_range((typical - (typical - low) / 2, typical, typical + (high - typical) / 2))


def pair_scene():
    """Two jobs side by side: the plan in the file, and another pad, thrust and depth."""
    fields = [
        Choice("disc", "Disc", JOBS, "tide_gauge_dust_cover"),
        facing_choice("rubber"),
        Field("pad_diameter", "Other pad, outer diameter", "length > 0", "60 mm",
              slider=(20, 148, 1)),
        Field("thrust", "Other thrust", "force > 0", "700 N", slider=(50, 2500, 10)),
        Field("depth", "Other depth", "length > 0", "0.4 mm", slider=(0.05, 1.5, 0.05)),
    ]  # fmt: skip
    return Scene("Which is the better plan?", fields, _judge_pair)


@lru_cache(maxsize=8)
def _judged(name):
    """One of the scenario's jobs with its thrust as a number: what a panel sets others beside."""
    entries = {"thrust.force": scenario(name).thrust, "about.state": "planned"}
    return plan.assess(scenario(name).changed(dict.fromkeys(OVERRULED) | entries), draws=0)


def _judge_pair(disc, facing, pad_diameter, thrust, depth):
    first = _judged(disc)
    other = {
        "pad.facing": facing,
        "pad.outer_diameter": pad_diameter,
        "pad.inner_diameter": Q_(0, "mm"),
        "nose.plate_diameter": pad_diameter,
        "thrust.force": thrust,
        "cut.depth": depth,
    }
    found = plan.compare_judged(
        first, plan.assess(_changed(first.job, other | _untried(disc, facing)), draws=0)
    )
    headings = ["", "the plan in the file", "your change"]
    details = [
        page.table(found.follows, ["What follows", *headings[1:]]),
        page.table(found.typed, ["What differs", *headings[1:]]) if found.typed else None,
    ]
    return View(found.verdict, None, None, [each for each in details if each is not None])
