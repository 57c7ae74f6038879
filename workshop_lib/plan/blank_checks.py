"""Does the blank waste time? How many passes it asks for, and how many one snipped closer would."""

from workshop_lib.plan.reasons import Change, Reason, brief
from workshop_lib.plan.settable import set_up
from workshop_lib.quantities import InputError, Quantity

MANY = 50  # passes, most of an hour with the looks between them: then a closer blank is looked for
FEWER = 0.7  # share of the passes that a closer blank must not exceed to be worth a word
SPARE = Quantity(1.5, "mm")  # of a blank across its flats, over the disc
CORNERS = (8, 12, 16)


def blank(job):
    """How many passes, and would a blank that is snipped closer do with fewer?"""
    count = len(job.passes)
    time = brief(job.passes.total_time.to("min"))
    words = f"{count} passes, {time} in the cut"
    if count <= MANY:
        return []
    return [Reason("blank", "yes", 0.0, f"{words}.", count, MANY, lambda: _closer(job, count))]


def _closer(job, count):
    """A blank that takes fewer passes, tried on the job: a change, or none."""
    across = set_up("snip", job["disc.diameter"] + SPARE)
    best = None
    for corners in CORNERS:
        entries = {
            "blank.corners": corners,
            "blank.across_flats": across.typed,
            **dict.fromkeys(("blank.side", "blank.clipped_corner", "blank.outline"), None),
            "blank.centre": None,
        }
        try:
            passes = len(job.changed(entries).passes)
        except InputError:
            continue
        if passes <= FEWER * count and (best is None or passes < best[0]):
            best = passes, corners, entries
    if best is None:
        return ()
    passes, corners, entries = best
    words = f"Nip the corners first: {corners} sides and {across.told} across the flats save "
    words += f"{count - passes} of {count} passes."
    return (Change(words, entries),)
