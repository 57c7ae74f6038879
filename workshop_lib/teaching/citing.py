"""Which sources does a lesson rest on? The list at its end, each with how far to trust it."""

from workshop_lib import sources
from workshop_lib.drawings import page


def sources_used(*keys):
    """List the sources of a lesson, folded: short name, standing, full reference, note.

    keys: citation keys of `sources`. Raises InputError for one that is not known.
    """
    found = [sources.find_source(key) for key in keys]
    rows = [[each.short, each.standing, f"{each.reference} {each.note}".strip()] for each in found]
    table = page.table(rows, ["Source", "Standing", "Reference, and what was seen"])
    return page.folded("Open the list", table)
