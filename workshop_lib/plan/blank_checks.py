"""Does the blank waste time? How many passes it asks for, and how many one cut closer would."""

from workshop_lib.plan.reasons import Change, Reason, brief
from workshop_lib.plan.settable import set_up
from workshop_lib.quantities import InputError, Quantity

MANY = 50  # passes, most of an hour with the looks between them: then a closer blank is looked for
FEWER = 0.7  # share of the passes that a closer blank must not exceed to be worth a word
SPARE = Quantity(1.5, "mm")  # of a blank across its flats, over the disc
CORNERS = (8, 12, 16)


def blank(job):
    """How many passes, and would a blank that is cut closer do with fewer?"""
    count = len(job.passes)
    time = brief(job.passes.total_time.to("min"))
    words = f"{count} passes, {time} in the cut"
    if count <= MANY:
        return []
    return [Reason("blank", "yes", 0.0, f"{words}.", count, MANY, lambda: _closer(job, count))]


def closer(count, disc_diameter, passes_with):
    """A blank that takes far fewer passes: passes saved, its corners, its width; or None.

    count: passes of the blank as it is. passes_with: how many one of so many corners and of such a
    width takes; raises InputError for one that cannot be. The one place for panels and jobs.
    """
    if count <= MANY:
        return None
    across, best = set_up("snip", disc_diameter + SPARE), None
    for corners in CORNERS:
        try:
            left = passes_with(corners, across.typed)
        except InputError:
            continue
        if left <= FEWER * count and (best is None or count - left > best[0]):
            best = count - left, corners, across
    return best


def told_closer(count, saved, corners, across):
    """What a closer blank saves, in words."""
    words = f"Nip the corners first: {corners} sides and {across.told} across the flats save "
    return f"{words}{saved} of {count} passes."


def _closer(job, count):
    """A blank that takes fewer passes, tried on the job: a change, or none."""
    best = closer(count, job["disc.diameter"], lambda *b: len(job.changed(_snipped(*b)).passes))
    if best is None:
        return ()
    return (Change(told_closer(count, *best), _snipped(best[1], best[2].typed)),)


def _snipped(corners, across):
    others = ("blank.side", "blank.clipped_corner", "blank.outline", "blank.centre")
    return dict.fromkeys(others) | {"blank.corners": corners, "blank.across_flats": across}
