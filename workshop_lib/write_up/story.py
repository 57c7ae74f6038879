"""What happened at the machine? Attempts, what was measured, run-out, what went wrong."""

from workshop_lib.plan import attempts, brief
from workshop_lib.quantities import times_over
from workshop_lib.slip import LEAST_MARGIN
from workshop_lib.write_up.doing import measured_rows
from workshop_lib.write_up.page_parts import Heading, Listed, Table
from workshop_lib.write_up.photographs import photographs_at
from workshop_lib.write_up.sections import instrument_parts, run_out_parts


def story_parts(job):
    """All that was seen and measured; nothing where nothing was."""
    return [
        *_attempts(job),
        *_photographs(job),
        *_measured(job),
        *run_out_parts(job),
        *_wrong(job),
        *_remarks(job),
    ]


def _attempts(job):
    """One attempt after the other, the last of which the verdict is about."""
    tried = attempts(job)
    if not tried:
        return []
    heading = "What happened" if len(tried) == 1 else f"What happened: {len(tried)} attempts"
    parts = [Heading(heading)]
    for each in tried:
        ended = {True: ": it slipped", False: ": it held"}.get(each.slipped, "")
        if len(tried) > 1 or ended:
            name = f"Attempt {each.number}" if len(tried) > 1 else "The attempt"
            parts.append(Heading(f"{name}{ended}", 3))
        parts.append(Table(tuple(_told(job, each, len(tried))), ("", "")))
    return parts


def _photographs(job):
    """The photographs of what happened, under a heading of their own where no attempt is told."""
    found = photographs_at(job, "story")
    return [Heading("Photographs")] * bool(found and not job["attempt"]) + found


def _told(job, each, count):
    """Rows of one attempt: what was set, what the sums say, what happened, what was changed."""
    settings = "; ".join(f"{name.lower()}: {value}" for name, value in each.settings)
    last = each.number == count
    yield "Set", settings or ("as this page says" if last else "not noted")
    if each.margin is not None and (settings or last):
        wanted = brief(max(float(job["cut.margin"]), LEAST_MARGIN))
        words = f"it holds {times_over(each.margin)} times the load at low friction"
        yield "By calculation", f"{words}; {wanted} is needed"
    yield "Happened", " ".join(each.happened.split())
    if each.changed:
        yield "Then changed", " ".join(each.changed.split())


def _measured(job):
    rows = measured_rows(job)
    if not rows:
        return []
    headings = ("What", "Computed or planned", "Measured", "Difference")
    heading = Heading("Computed against measured")
    return [heading, Table(tuple(rows), headings), *instrument_parts(job)]


def _wrong(job):
    troubles = job["notes.went_wrong"]
    if not troubles:
        return []
    rows = [(each["what"], each.get("why", ""), each.get("mended", "")) for each in troubles]
    return [
        Heading("What went wrong, and why"),
        Table(tuple(rows), ("What", "Why", "How it was fixed")),
    ]


def _remarks(job):
    remarks = job["notes.remarks"]
    return [Heading("Remarks"), Listed(remarks)] if remarks else []
