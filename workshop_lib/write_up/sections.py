"""What does a write-up say of its nose, its run-out, what was seen and heard, and its sources?"""

import numpy as np

from workshop_lib import sources
from workshop_lib.bearings import TYPED
from workshop_lib.drawings.bearing_drawings import thrust_view
from workshop_lib.drawings.instrument_charts import roundness_plot, spectrum_chart
from workshop_lib.drawings.run_out_charts import polar_plot
from workshop_lib.load_path import trace
from workshop_lib.plan import (
    as_spoken,
    brief,
    clocked_total,
    next_clocking,
    note_computed,
    rim_seen,
    sound_heard,
)
from workshop_lib.quantities import Q_, Quantity, show, system, times_over
from workshop_lib.run_out import Total, diagnose
from workshop_lib.write_up.page_parts import Heading, Picture, References, Table, Text

MOST_CAUSES = 4
LEAST_SHARE = 0.01  # of belief, below which a cause is not named
FINE = 0.1  # mm; what is smaller is told in micrometres


def run_out_parts(job):
    """What was clocked and what it points to; nothing where nothing was clocked.

    A disc that runs as true as it has to gets no list of causes, and nobody is told to clock again
    what was clocked.
    """
    if not job.tests:
        return []
    rows, pictures = [], []
    for number, test in enumerate(job.tests, start=1):
        name = test.name or f"{test.where}, {test.what}"
        if isinstance(test, Total):
            rows.append((name, _where(test), brief(test.total), "not noted"))
            continue
        fit = test.fit()
        fine = _fine(fit.total)
        spot = show(fit.high_spot) if fit.tells_high_spot else "cannot be told"
        rows.append((name, _where(test), brief(fit.total), spot))
        drawing = polar_plot(test, fit, fine).figure()
        pictures.append(Picture(drawing, f"clocked_{number}", f"Readings round the turn: {name}."))
    parts = [
        Heading("Run-out"),
        Table(tuple(rows), ("Test", "Where", "Indicator total", "High spot")),
        *pictures,
    ]
    total, allowed = clocked_total(job), job["run_out.allowed"]
    if total is not None and allowed is not None and total <= allowed:
        words = f"The disc runs out {brief(total)} in total; {as_spoken(allowed)} is allowed."
        return [*parts, Text(words)]
    return [*parts, *_causes(job, diagnose(job.tests))]


def _fine(size):
    """The unit in which rings of a round plot are told."""
    if system() == "inch":
        return "thou"
    return "um" if size.m_as("mm") < FINE else "mm"


def instrument_parts(job):
    """The rim round the turn and what taps sounded like; nothing where nothing was measured."""
    parts, rim, scan = [], rim_seen(job), job["measured.scan"]
    if rim is not None:
        by = "by readings with micrometer and V"
        if scan is not None and "heights" in scan:
            by = f"by the scanner, {scan['date']}"
        plot = roundness_plot(rim, _fine(Q_(float(np.ptp(np.abs(rim))), "m")))
        caption = f"How round the disc is, {by}. Departures are drawn far larger than they are."
        parts.append(Picture(plot.figure(), "roundness", caption))
    return [*parts, *_heard(job, "sheet_note"), *_heard(job, "rim_note")]


def _heard(job, key):
    """The spectrum of one tap, with the note that counts and those that the sheet should have."""
    note = job[f"measured.{key}"]
    sound = sound_heard(note)
    if sound is None:
        return []
    told, marks = show(note["frequency"]), {"marks": [(note["frequency"].m_as("Hz"), "the note")]}
    caption, more = f"What the squeezed rim gave when tapped at rest, {note['date']}.", ""
    if key == "sheet_note":
        should = note_computed(job, note.get("mode", 1))
        marks = {"computed": [note_computed(job, mode).m_as("Hz") for mode in (1, 2, 3)]}
        caption = f"What the disc gave when tapped on a thread, {note['date']}. "
        caption += "Dashed: its three lowest notes as computed."
        more = f"; computed {show(should)}"
    alt = f"Loudness against pitch after the tap: a note of {told}{more}."
    chart = spectrum_chart(*sound, note["spectrum"]["high"].m_as("Hz"), **marks)
    return [Picture(chart.picture(alt), key, caption)]


def _causes(job, found):
    """What the clockings point to, and what would tell more."""
    likely = [
        (*row[:-1], _size(row[-1]))
        for row, each in zip(found.rows, found.findings, strict=True)
        if each.share >= LEAST_SHARE
    ]
    headings = ("Cause", "Part", "How likely", "Size if it is the cause")
    return [Text(found.verdict), Table(tuple(likely[:MOST_CAUSES]), headings), *_next(job, found)]


def _next(job, found):
    """What to clock next that was not clocked yet, with its caution, where there is anything."""
    fresh = next_clocking(job, found)
    if fresh is None:
        return []
    said = f"What to clock next: {fresh.sentence} {fresh.caution}"
    return [Text(said.strip())]


def _where(test):
    return test.where if test.what == "radial" else f"{test.where}, {test.what}"


def _size(size):
    return brief(size) if isinstance(size, Quantity) else size


_OWN = (
    "Its sizes and bearings are those of the shop file: measure them again before you rely on it."
)


def nose_parts(job):
    """The path of the thrust through the user's own nose; nothing where the job names none."""
    if job.nose.source != TYPED:
        return []
    found = trace(job.nose, job.thrust, speed=job["cut.speed"])
    carrying = {each.name for each in found.path}
    rows = [
        (
            f"{number} {each.name}",
            brief(each.axial, 3),
            f"{times_over(each.margin)} times" if each.margin < 1e6 else "–",
        )
        for number, each in enumerate(found.elements, start=1)
        if each.name in carrying
    ]
    return [
        Heading("Where the thrust goes"),
        Text(
            f"{found.design.name[:1].upper()}{found.design.name[1:]}. It turns with the disc and "
            "drives nothing. While it can float sideways it locates nothing either, so it is not "
            f"a live centre. {_OWN}"
        ),
        Picture(
            thrust_view(found, listed=False).figure(),
            "nose",
            "The nose in section, with its thrust path.",
        ),
        Table(tuple(rows), ("Part", "Axial load", "Could carry")),
    ]


ALWAYS = "argatov-2005 timoshenko-plates iso-281-fc elementary-mechanics jcgm-101"


def keys_of(job):
    """Citation keys of this job, in order and each once."""
    cited = " ".join(job.material.cited.values())
    given = [job.friction.sources, job.listed_friction.sources, job.radial_share.sources]
    given += [job.friction_between.sources] * (job.count > 1)
    given += ["iso-4292 three-point-lapping"] * (job.rim_measured is not None)
    gauge = job.gauge.sources if job.gauge is not None else ""
    keys = f"{cited} {' '.join(given)} {gauge} {ALWAYS}".split()
    return tuple(dict.fromkeys(keys))


def sources_part(job):
    """The sources with their standing."""
    found = [sources.find_source(key) for key in keys_of(job)]
    rows = [(each.short, each.standing, f"{each.reference} {each.note}".strip()) for each in found]
    return References(tuple(rows))
