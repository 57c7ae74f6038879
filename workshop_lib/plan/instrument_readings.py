"""What did dial, scanner and telephone say of this job, and what is judged by it?"""

from workshop_lib import instruments, overhang, run_out
from workshop_lib.plan.reasons import OPEN, Change, Reason, brief
from workshop_lib.quantities import Q_, InputError, as_shown, resolution, show

COVER = 2.0  # what is entered as an uncertainty is the ± that a panel tells: k = 2
CALLIPER = Q_(0.05, "mm")  # standard, of a disc that was not scanned
MICROMETER = Q_(5.0, "um")  # standard, of a sheet's thickness


def facing(job):
    """The facing's stiffness from the note of the rim: an `instruments.Facing`, or None."""
    note = job["measured.rim_note"]
    if note is None:
        return None
    pad = as_shown(2 * job.pad.outer_radius, "length")
    across = note.get("across", job["disc.diameter"])
    return instruments.facing_from_note(
        note["frequency"],
        note["uncertainty"] / COVER,
        across,
        pad,
        job.thickness,
        job.material,
        job["pad.facing_thickness"],
        job["pad.inner_diameter"],
    )[0]


def sheet_heard(job):
    """What the note of the free disc says of the sheet: an `instruments` sheet, or None."""
    note = job["measured.sheet_note"]
    if note is None:
        return None
    measured = bool(job["sheet.readings"]) or job["sheet.thickness"] is not None
    found = instruments.sheet_from_note(
        note["frequency"],
        note["uncertainty"] / COVER,
        note.get("across", job["disc.diameter"]),
        CALLIPER,
        job.thickness if measured else None,
        MICROMETER if measured else None,
        note.get("mode", 1),
    )
    return next(each for each in found if each.material.key == job.material.key)


def note_computed(job, mode):
    """What note should the free disc of a job give? mode: counted from the lowest, at most 8."""
    across = job["measured.sheet_note"].get("across", job["disc.diameter"])
    return instruments.free_frequencies(across, job.thickness, job.material, 8)[mode - 1]


def note(job):
    """Does the sheet ring like what it was sold as? Asked where a note was heard."""
    found = sheet_heard(job)
    if found is None:
        return []
    heard = job["measured.sheet_note"]
    words = f"Tapped on a thread on {heard['date']}, it rang at {show(heard['frequency'])}: "
    words += f"{job.material.name} that rings at this note is {show(found.thickness)} thick"
    if found.agrees is None or found.agrees:
        more = ", which agrees with the measured thickness" if found.agrees else ""
        return [Reason("note", "yes", 0.0, f"{words}{more}.")]
    mend = Change(
        "Measure the sheet again, and hold a magnet to it: it may be another material, or another "
        "note was heard."
    )
    words += f", and yours was measured at {show(job.thickness)}"
    return [Reason("note", "open", OPEN, f"{words}.", mend=lambda: (mend,))]


def remarks(job):
    """What was measured on the job and judged with, in sentences."""
    found = job.heard_facing
    if found is None:
        return
    heard, listed = job["measured.rim_note"], _listed(job)
    table = f"; the table says {listed}" if listed else ""
    yield (
        f"The pad facing's stiffness was measured on {heard['date']}: the rim rang at "
        f"{show(heard['frequency'])}, which means {show(found.modulus, figures=2)} "
        f"({_span(found.low, found.high)}){table}. Bend and ringing of the rim are judged with it."
    )


def _listed(job):
    """What the table says of the facing, or ''."""
    try:
        low, _, high = overhang.facing_modulus(job["pad.facing"])
    except InputError:
        return ""
    return _span(low, high)


def _span(low, high):
    return f"{show(low, figures=2)} to {show(high, figures=2)}"


def rows(job):
    """Rows of what, planned or listed, measured with its ± and date, and what follows."""
    found, heard, scan = job.heard_facing, job["measured.sheet_note"], job["measured.scan"]
    if found is not None:
        told = f"{show(found.modulus, figures=2)} ({_span(found.low, found.high)})"
        told += _dated(job["measured.rim_note"])
        yield "Stiffness of the pad facing", _listed(job) or "–", told, "judged with"
    if heard is not None:
        sheet = sheet_heard(job)
        told = {True: "agrees", False: "does not agree", None: "–"}[sheet.agrees]
        should = note_computed(job, heard.get("mode", 1))
        yield "Note of the free disc", show(should), _with(heard, "frequency"), told
    if scan is not None:
        apart = scan["diameter"] - job["disc.diameter"]
        sign = "−" if resolution.more_than(0.0, apart.m) else "+"
        wanted = show(job["disc.diameter"], figures=5)
        yield ("Diameter on the scanner", wanted, _with(scan, "diameter", 5),
               f"{sign}{brief(abs(apart))}")  # fmt: skip
        if "roundness" in scan:
            allowed = job["disc.roundness"]
            asked = "–" if allowed is None else f"{brief(allowed)} allowed"
            yield "Out of round on the scanner", asked, _with(scan, "roundness"), "minimum zone"


def _with(entry, key, figures=3):
    doubt = entry.get("uncertainty" if key != "roundness" else "roundness_uncertainty")
    more = "" if doubt is None else f" ± {show(doubt, figures=2)}"
    return f"{show(entry[key], figures=figures)}{more}{_dated(entry)}"


def _dated(entry):
    return f", {entry['date']}"


def clocked_tests(job):
    """What was clocked, as `run_out` takes it."""
    clocked = enumerate(job["run_out.tests"] or (), start=1)
    return [_clocked(test, f"run_out.tests[{number}]") for number, test in clocked]


def _clocked(test, key):
    """Make one test of its entries."""
    about = {k: v for k, v in test.items() if k in ("where", "what", "state", "name", "graduation")}
    series = {k: v for k, v in test.items() if k in ("angles", "readings", "position", "index")}
    if "total" in test and series:
        problem = "it has both a total and readings"
        raise InputError(key, problem, "Keep one and delete the other")
    if "total" not in test and not {"angles", "readings"} <= set(series):
        raise InputError(key, "it needs a total, or angles and readings")
    try:
        if "total" in test:
            return run_out.Total(test["total"], **about)
        rows = {name: list(series.pop(name)) for name in ("angles", "readings")}
        return run_out.Readings(**rows, **about, **series)
    except InputError as error:
        raise InputError(f"{key}.{error.name}", error.problem, error.mend) from error
