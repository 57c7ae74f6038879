"""What does a write-up say? The parts of one job, in their order, out of its assessment."""

import numpy as np

from workshop_lib.drawings.blank_drawings import passes_chart, under_tool
from workshop_lib.drawings.setup_drawings import face_view, section
from workshop_lib.drawings.slip_charts import limit_chart, margin_chart
from workshop_lib.friction import efficiency
from workshop_lib.own_files import as_typed
from workshop_lib.plan import (
    HEADINGS,
    INPUT_NAMES,
    NAMED,
    NEED_NOT_ADD_UP,
    QUESTIONS,
    assumed,
    brief,
    entry_name,
    facing_name,
    layer,
    said,
    set_up,
    thrust_for,
)
from workshop_lib.quantities import Q_, show, times_over
from workshop_lib.write_up.doing import cautions, measured_rows, steps, thickness_text
from workshop_lib.write_up.page_parts import (
    Cautions,
    Heading,
    Listed,
    Picture,
    Table,
    Text,
    Verdict,
)
from workshop_lib.write_up.sections import nose_parts, run_out_parts, sources_part

SYMMETRIC = 0.005  # mm; no snipped blank is as true as that


def contents(found):
    """All parts of a write-up. found: `Assessment`. Returns a list."""
    job = found.job
    parts = [Text(by)] if (by := _by_line(job)) else []
    parts += [Verdict(found.verdict, found.holds)]
    parts += _made(job) + _set_up(job) + _doing(found) + _hold(found) + _reasons(found)
    parts += nose_parts(job) + _measured(job) + run_out_parts(job) + _wrong(job)
    if remarks := job["notes.remarks"]:
        parts += [Heading("Remarks"), Listed(remarks)]
    return [*parts, *_assumed(job), Heading("Sources"), sources_part(job)]


def _by_line(job):
    given = [job["about.made_by"], job["about.date"]]
    words = ", ".join(" ".join(each.split()) for each in given if each)
    return f"By {words}." if given[0] else words


def _made(job):
    corner, off = job.blank.corner_radius(job.centre), job.blank.offset_of_mass(job.centre)
    off = off if off.m_as("mm") >= SYMMETRIC else 0 * off
    rows = [
        ("Disc", f"{as_typed(job['disc.diameter'])} in diameter, without a hole"),
        ("Sheet", f"{job.material.name}, {thickness_text(job)} thick"),
        ("Blank", f"{_blank(job)}; its farthest corner is {show(corner)} from the centre"),
        ("Heavy side", f"centre of mass {brief(off)} off the centre" if off.m else "none"),
    ]
    if job.gauge is not None:
        rows.insert(2, ("Sold as", str(job.gauge)))
    if job.count > 1:
        rows.insert(1, ("At once", f"{job.count} discs in one squeeze, {layer(job)}"))
    paragraphs = (job["about.purpose"] or "").split("\n\n")
    purpose = [Text(" ".join(each.split())) for each in paragraphs if each.strip()]
    first = job.passes[0]
    blank = under_tool(
        job.blank,
        job.centre,
        farthest_corner(job),
        first.tool_radius,
        first.from_radius - first.tool_radius,
        job["disc.diameter"],
    )
    caption = "The blank with a corner under the tool at the first pass; dashed, the finished disc."
    return [
        Heading("What was made, and why" if turned(job) else "What is to be made, and why"),
        *purpose,
        Table(tuple(rows), ("", "")),
        Picture(blank.figure(), "blank", caption),
    ]


def _blank(job):
    """What the blank was cut to, in words."""
    if (corners := job["blank.corners"]) is not None:
        return f"{corners} equal sides, {as_typed(job['blank.across_flats'])} across the flats"
    if (side := job["blank.side"]) is not None:
        clipped = job["blank.clipped_corner"]
        snipped = f", {as_typed(clipped)} snipped off each corner" if clipped else ""
        return f"a square of {as_typed(side)}{snipped}"
    return f"an outline of {len(job['blank.outline'])} corners"


def farthest_corner(job):
    """The angle by which the blank is turned when its farthest corner meets the tool."""
    places = job.blank.points - np.array([each.m_as("m") for each in job.centre])
    x, y = places[np.argmax(np.hypot(*places.T))]
    return Q_(float(np.degrees(np.arctan2(y, x))), "deg")


def turned(job):
    """Tell whether the disc has been turned, so that the write-up speaks of the past."""
    return job["about.state"] == "turned"


def _set_up(job):
    worst = job.passes.worst
    radial = job.radial_share.high * worst.cutting_force
    drawing = section(
        job.pad, job["disc.diameter"], job.thickness, job.thrust, worst.cutting_force, radial
    )
    words = "The set-up cut along the axis; its diameters are those of this job."
    face = face_view(job.pad, worst.side_force, worst.peak_torque)
    on_face = "The one driven face, if the load of the worst pass grew until the disc slipped."
    return [
        Heading("The set-up"),
        Picture(drawing.figure(), "set_up", words, True),
        Table(tuple(_set_up_rows(job)), ("Part", "In this job")),
        Picture(face.figure(), "driven_face", on_face, True),
    ]


def _set_up_rows(job):
    pad, relieved = job["pad.outer_diameter"], job["pad.inner_diameter"]
    plate = job["nose.plate_diameter"]
    middle = f", relieved to {as_typed(relieved)} in the middle" if relieved.m else ""
    low, typical, high = (show(each, figures=2) for each in job.friction)
    origin = "measured here" if job.measured_friction is not None else job.friction.standing
    return [
        ("Driving pad", f"{as_typed(pad)}{middle}"),
        ("Facing", f"{facing_name(job)}, {job['pad.condition']}"),
        *([("The thrust spreads", NAMED["pad.pressure"](job))] * ("pad.pressure" in job.values)),
        ("Friction, low / typical / high", f"{low} / {typical} / {high} ({origin})"),
        *_thrust_rows(job),
        ("Nose", "turns freely, drives nothing; only the face at the pad counts"),
        *([("Pressure plate", f"{as_typed(plate)}, stiff, under the nose")] if plate else []),
        ("Cut", f"{NAMED['cut.kind'](job)}, {as_typed(job['cut.depth'])} a pass, {_feed(job)}"),
        ("Tool", NAMED["cut.tool"](job)),
        ("Speed", as_typed(job["cut.speed"])),
    ]


def _thrust_rows(job):
    """What the tailstock presses with, what of it can be counted on, and how it is made."""
    how = "read on a scale" if job.measured_thrust is not None else "as planned"
    rows = []
    if job.measured_thrust is None and job.screw is not None:
        how = f"from {as_typed(job['thrust.handwheel_torque'])} on the handwheel"
    if job.screw is not None:
        screw, useful = job["thrust.screw"], efficiency(job.screw, job.thrust)
        words = (
            f"{as_typed(screw['mean_diameter'])} mean diameter, {as_typed(screw['lead'])} lead; "
        )
        rows = [("Tailstock screw", f"{words}{brief(100 * useful)} % of the work reaches the disc")]
    pressed = f"{show(job.thrust)} ({how})"
    if job.low_thrust < job.thrust:
        pressed += f"; {show(job.low_thrust)} is counted on: one squeeze in twenty falls below it"
    return [("Thrust", pressed), *rows]


def _feed(job):
    return f"{as_typed(job['cut.feed'])} in a turn"


def _doing(found):
    return [
        Heading("Before you start"),
        Cautions(tuple(cautions(found))),
        Heading("Steps in their order"),
        Listed(tuple(steps(found.job)), numbered=True),
    ]


def _hold(found):
    job, worst = found.job, found.job.passes.worst
    load = worst.side_force, worst.peak_torque
    chart = limit_chart(job.pad, job.low_thrust, job.friction, *load)
    alt = f"Limit curve of the pad with the load of the worst pass, {show(load[0])} and "
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
    parts = [
        Heading("Does it hold?"),
        Table(tuple(rows), ("What", "Value")),
        Table(found.table, HEADINGS),
        Picture(chart.picture(alt), "limit_curve", "What the pad can hold, and the worst load."),
        Picture(trend, "passes", "The margin from the corners to the disc."),
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
        Table(tuple(rows), ("What makes the margin uncertain", "Its part in the doubt")),
        Text(NEED_NOT_ADD_UP),
    ]


def _reasons(found):
    words = {"yes": "good", "open": "look again", "no": "stops it"}
    rows = [(words[each.holds], QUESTIONS[each.about], each.sentence) for each in found.reasons]
    parts = [
        Heading("What the plan was asked"),
        Table(tuple(rows), ("Answer", "Question", "Why")),
    ]
    if found.changes:
        parts += [
            Heading("What to change", 3),
            Table(found.mends, ("Question", "What would mend it")),
        ]
    if found.remarks:
        parts += [Heading("Where a model is stretched", 3), Listed(found.remarks)]
    return parts


def _measured(job):
    rows = measured_rows(job)
    if not rows:
        return []
    headings = ("What", "Computed or planned", "Measured", "Difference")
    return [Heading("Computed against measured"), Table(tuple(rows), headings)]


def _wrong(job):
    troubles = job["notes.went_wrong"]
    if not troubles:
        return []
    rows = [(each["what"], each.get("why", ""), each.get("mended", "")) for each in troubles]
    return [
        Heading("What went wrong, and why"),
        Table(tuple(rows), ("What", "Why", "How it was mended")),
    ]


def is_plunge(job):
    """Tell whether the tool is fed straight in, so that no approach angle counts."""
    return job["cut.kind"] == "plunge"


def _assumed(job):
    rows = [
        (entry_name(key), said(key, job))
        for key, _ in assumed(job)
        if key != "about.state" and not (key == "cut.approach_angle" and is_plunge(job))
    ]
    if not rows:
        return []
    return [Heading("Left at its usual value"), Table(tuple(rows), ("What", "Taken as"))]
