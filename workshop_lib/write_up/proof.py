"""What proves that a job holds? Load against hold, its doubt, and what the plan was asked."""

import numpy as np

from workshop_lib.drawings.blank_drawings import passes_chart
from workshop_lib.drawings.setup_drawings import face_view
from workshop_lib.drawings.slip_charts import limit_chart, margin_chart
from workshop_lib.plan import (
    HEADINGS,
    INPUT_NAMES,
    NEED_NOT_ADD_UP,
    QUESTIONS,
    assumed,
    at_weakest,
    brief,
    entry_name,
    said,
    set_up,
    thrust_for,
)
from workshop_lib.quantities import Q_, show, times_over
from workshop_lib.write_up.page_parts import Heading, Listed, Picture, Table, Text
from workshop_lib.write_up.sections import nose_parts

WORDS = {"yes": "good", "open": "check", "no": "fails"}


def proof_parts(found):
    """Does it hold, how sure is that, what was asked, and how the user's own nose carries it."""
    return [*_hold(found), *_reasons(found), *nose_parts(found.job)]


def _hold(found):
    job, worst = found.job, found.job.passes.worst
    grip, *load = at_weakest(job, worst)
    chart = limit_chart(job.pad, job.low_thrust, grip, *load)
    what = "the weakest face of the stack" if job.count > 1 else "the pad"
    alt = f"Limit curve of {what} with the load of the worst pass, {show(load[0])} and "
    alt += f"{show(load[1])}: it holds {times_over(float(worst.margin))} times that."
    rows = [
        ("Worst pass", f"{worst.number} of {len(job.passes)}"),
        ("Cutting force, high estimate", brief(worst.cutting_force)),
        ("Side force on the pad, unbalance included", brief(worst.side_force)),
        ("Torque on the pad", brief(worst.peak_torque)),
        ("Margin at low friction", f"{times_over(float(worst.margin))} times the load"),
        ("Thrust that would just hold", _just_enough(thrust_for(job, 1.0))),
        ("Time in the cut, all passes", brief(job.passes.total_time.to("min"))),
    ]
    trend = passes_chart(job.passes).picture(
        f"Slip margin pass by pass: least in pass {worst.number}, "
        f"{times_over(float(worst.margin))}."
    )
    face = face_view(job.pad, *load, narrow=True)
    on_face = "The one driven face, if the load of the worst pass grew until the disc slipped."
    parts = [
        Heading("Does it hold?"),
        Table(tuple(rows), ("What", "Value")),
        Picture(chart.picture(alt), "limit_curve", f"What {what} can hold, and the worst load."),
        Picture(trend, "passes", "The margin from the corners to the disc."),
        Picture(face.figure(), "driven_face", on_face),
        Table(found.table, HEADINGS),
    ]
    return parts + (_how_sure(found.told_chance) if found.told_chance else [])


def _just_enough(newtons):
    """A thrust in words, rounded up to what can be set."""
    return set_up("thrust", Q_(newtons, "N")).told if np.isfinite(newtons) else "none"


def _how_sure(chance):
    low, high = (show(end, figures=2) for end in chance.interval)
    alt = f"Spread of the slip margin over {chance.draws} draws: half lie below "
    alt += f"{show(chance.median, figures=2)}, 95 % between {low} and {high}."
    rows = [
        (INPUT_NAMES[name], f"{100 * share:.0f} %")
        for name, share in chance.contributions.items()
        if share >= 0.005
    ]
    spread = f"Half of the margins lie below {show(chance.median, figures=2)}, 95 % between {low} "
    return [
        Heading("How sure is that?", 3),
        Text(f"{chance} {spread}and {high}."),
        Picture(margin_chart(chance).picture(alt), "margin", "The margin, drawn many times over."),
        Table(tuple(rows), ("What makes the margin uncertain", "Its share of the uncertainty")),
        Text(NEED_NOT_ADD_UP),
    ]


def _reasons(found):
    rows = [(WORDS[each.holds], QUESTIONS[each.about], each.sentence) for each in found.reasons]
    parts = [
        Heading("What was checked"),
        Table(tuple(rows), ("Answer", "Question", "Why")),
    ]
    if found.changes:
        parts += [
            Heading("What to change", 3),
            Table(found.mends, ("Question", "How to fix it")),
        ]
    if found.remarks:
        parts += [Heading("Where a model is stretched", 3), Listed(found.remarks)]
    return parts


def is_plunge(job):
    """Tell whether the tool is fed straight in, so that no approach angle counts."""
    return job["cut.kind"] == "plunge"


def assumed_parts(job):
    """What nobody said, and what stood for it."""
    rows = [
        (entry_name(key), said(key, job))
        for key, _ in assumed(job)
        if key != "about.state" and not (key == "cut.approach_angle" and is_plunge(job))
    ]
    if not rows:
        return []
    return [Heading("Default values used"), Table(tuple(rows), ("What", "Taken as"))]
