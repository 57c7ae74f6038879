"""What happened at the machine? Computed against measured, run-out, what went wrong, remarks."""

from workshop_lib.write_up.doing import measured_rows
from workshop_lib.write_up.page_parts import Heading, Listed, Table
from workshop_lib.write_up.sections import run_out_parts


def story_parts(job):
    """All that was seen and measured; nothing where nothing was."""
    return [*_measured(job), *run_out_parts(job), *_wrong(job), *_remarks(job)]


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
        Table(tuple(rows), ("What", "Why", "How it was fixed")),
    ]


def _remarks(job):
    remarks = job["notes.remarks"]
    return [Heading("Remarks"), Listed(remarks)] if remarks else []
