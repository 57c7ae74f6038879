"""What does a write-up say? Opening page, set-up and steps, story, proof, sources."""

from workshop_lib.friction import efficiency
from workshop_lib.plan import NAMED, as_spoken, brief, clocked_total, facing_name, layer, tool_told
from workshop_lib.quantities import show, times_over
from workshop_lib.write_up.card_contents import blank_picture, blank_words, set_up_picture
from workshop_lib.write_up.doing import cautions, steps, thickness_text
from workshop_lib.write_up.page_parts import (
    Cautions,
    Heading,
    Listed,
    Picture,
    Table,
    Text,
    Verdict,
)
from workshop_lib.write_up.photographs import photographs_at
from workshop_lib.write_up.proof import assumed_parts, proof_parts
from workshop_lib.write_up.sections import sources_part
from workshop_lib.write_up.story import story_parts

SYMMETRIC = 0.005  # mm; no blank is cut as true as that


def contents(found):
    """All parts of a write-up. found: `Assessment`; the job's units are spoken. Returns a list."""
    job = found.job
    parts = [Text(by)] if (by := _by_line(job)) else []
    parts += [Verdict(found.verdict, found.holds)]
    parts += [*_opening(job), *_set_up(job), *_doing(found)]
    parts += [*story_parts(job), *proof_parts(found)]
    parts += [*photographs_at(job, "end"), *assumed_parts(job)]
    return [*parts, Heading("Sources"), sources_part(job)]


def _by_line(job):
    given = [job["about.made_by"], job["about.date"]]
    words = ", ".join(" ".join(each.split()) for each in given if each)
    return f"By {words}." if given[0] else words


def turned(job):
    """Tell whether the disc has been turned, so that the write-up speaks of the past."""
    return job["about.state"] == "turned"


def _opening(job):
    paragraphs = (job["about.purpose"] or "").split("\n\n")
    purpose = [Text(" ".join(each.split())) for each in paragraphs if each.strip()]
    caption = "The blank as cut, with the disc scribed on it."
    return [
        Heading("What was made, and why" if turned(job) else "What is to be made, and why"),
        *purpose,
        *photographs_at(job, "opening"),
        Picture(blank_picture(job).figure(), "blank", caption),
        Table(tuple(_numbers(job)), ("", "")),
    ]


def _numbers(job):
    """The job in a few numbers: what it is, how it is held and cut, how it came out."""
    corner, off = job.blank.corner_radius(job.centre), job.blank.offset_of_mass(job.centre)
    yield "Disc", f"⌀ {as_spoken(job['disc.diameter'])}, without a hole"
    if job.count > 1:
        yield "At once", f"{job.count} discs in one squeeze, {layer(job)}"
    yield "Sheet", f"{job.material.name}, {thickness_text(job)} thick"
    if job.gauge is not None:
        yield "Sold as", str(job.gauge)
    yield "Blank", f"{blank_words(job)}; farthest corner {show(corner)} from the centre"
    if off.m_as("mm") >= SYMMETRIC:
        yield "Heavy side", f"centre of mass {brief(off)} off the centre"
    yield "Thrust", brief(job.thrust, 3)
    yield "Speed", as_spoken(job["cut.speed"])
    yield "Passes", f"{len(job.passes)}, {brief(job.passes.total_time.to('min'))} in the cut"
    margin = times_over(float(job.passes.worst.margin))
    yield "Margin (safety factor)", f"{margin} times the load, at low friction"
    if (size := job["measured.disc_diameter"]) is not None:
        yield "Came out", f"⌀ {show(size, figures=4)}"
    if (total := clocked_total(job)) is not None:
        yield "Run-out", f"{brief(total)} in total"


def _set_up(job):
    words = "The set-up cut along the axis, with the sizes of this job."
    return [
        Heading("The set-up"),
        *photographs_at(job, "set_up"),
        Picture(set_up_picture(job).figure(), "set_up", words),
        Table(tuple(_set_up_rows(job)), ("Part", "In this job")),
    ]


def _set_up_rows(job):
    pad, relieved = job["pad.outer_diameter"], job["pad.inner_diameter"]
    plate = job["nose.plate_diameter"]
    middle = f", relieved to ⌀ {as_spoken(relieved)} in the middle" if relieved.m else ""
    low, typical, high = (show(each, figures=2) for each in job.friction)
    origin, thick = job.friction.standing, job["pad.facing_thickness"]
    if job.measured_friction is not None and "held down" not in origin:
        origin = "measured here"
    facing = facing_name(job) + (f", {as_spoken(thick)} thick" if thick else "")
    return [
        ("Driving pad", f"⌀ {as_spoken(pad)}{middle}"),
        ("Facing", f"{facing}, {job['pad.condition']}"),
        *([("The thrust spreads", NAMED["pad.pressure"](job))] * ("pad.pressure" in job.values)),
        ("Friction, low / typical / high", f"{low} / {typical} / {high} ({origin})"),
        *_thrust_rows(job),
        ("Nose", "turns freely, drives nothing; only the face at the pad counts"),
        *([("Pressure plate", f"⌀ {as_spoken(plate)}, stiff, under the nose")] if plate else []),
        ("Cut", f"{NAMED['cut.kind'](job)}, {as_spoken(job['cut.depth'])} a pass, {_feed(job)}"),
        ("Tool", tool_told(job)),
        ("Speed", as_spoken(job["cut.speed"])),
    ]


def _thrust_rows(job):
    """What the tailstock presses with, what of it can be counted on, and how it is made."""
    how = "read on a scale" if job.measured_thrust is not None else "as planned"
    rows = []
    if job.measured_thrust is None and job.screw is not None:
        how = f"from {as_spoken(job['thrust.handwheel_torque'])} on the handwheel"
    if job.screw is not None:
        screw, useful = job["thrust.screw"], efficiency(job.screw, job.thrust)
        words = (
            f"{as_spoken(screw['mean_diameter'])} mean diameter, {as_spoken(screw['lead'])} lead; "
        )
        rows = [("Tailstock screw", f"{words}{brief(100 * useful)} % of the work reaches the disc")]
    pressed = f"{show(job.thrust)} ({how})"
    if job.low_thrust < job.thrust:
        pressed += f"; plan on {show(job.low_thrust)}: one squeeze in twenty falls below it"
    return [("Thrust", pressed), *rows]


def _feed(job):
    return f"{as_spoken(job['cut.feed'])} a turn"


def _doing(found):
    return [
        Heading("Before you start"),
        Cautions(tuple(cautions(found))),
        Heading("Steps, in order"),
        Listed(tuple(steps(found.job)), numbered=True),
        *photographs_at(found.job, "steps"),
    ]
