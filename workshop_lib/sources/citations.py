"""Where does every number come from? Citation key to full reference, and how far to trust it.

A source is published (the number or statement was seen there), common practice (a habit of the
trade) or from memory (not seen; a note says so when an independent computation agrees). Titles and
initials that the page seen did not show are completed from memory.
"""

from dataclasses import dataclass

from workshop_lib.quantities import InputError, quote, say
from workshop_lib.sources import csv_tables

STANDINGS = ("published", "common practice", "from memory")  # from the firmest to the weakest


@dataclass(frozen=True)
class Source:
    """One source: its key, a short name, its standing, the full reference, and what was seen."""

    key: str
    short: str
    standing: str
    reference: str
    note: str

    def __str__(self):
        return " ".join(part for part in (self.reference, f"[{self.standing}]", self.note) if part)


_COLUMNS = {
    "key": csv_tables.key,
    "short": csv_tables.text,
    "standing": csv_tables.one_of(*STANDINGS),
    "reference": csv_tables.text,
    "note": csv_tables.anything,
}


def _built(rows):
    return {key: Source(**row) for key, row in csv_tables.by_key(rows, "key").items()}


def _known():
    return csv_tables.load("sources.csv", _COLUMNS, _built)


def all_sources():
    """Every source that the workbook knows, in the order of its table.

    Returns a tuple of `Source`.

    >>> [source.key for source in all_sources()][:2]
    ['common-practice', 'from-memory']
    """
    return tuple(_known().values())


def find_source(key, name="source"):
    """Which publication does this citation key stand for?

    key: text such as "swg-order-1883". name: what to call it in an error.
    Returns a `Source`. Raises InputError for a key that is not in the table.

    >>> find_source("dahmen-2005").standing
    'published'
    """
    return _known()[csv_tables.choose(key, _known(), name, "source", "sources.all_sources()")]


def find_all(keys, name="source"):
    """Which publications do these keys, written one after another, stand for?

    keys: one or several keys in one text, with spaces between. Returns a tuple of `Source`, at
    least one. Raises InputError for an unknown key and for empty text.

    >>> [source.short for source in find_all("iso-281-fc from-memory")]
    ['ISO 281, factor fc', 'from memory']
    """
    if not isinstance(keys, str) or not keys.split():
        raise InputError(
            name, f"{quote(keys)} is not the key of a source", "Write a key, or from-memory"
        )
    return tuple(find_source(key, name) for key in keys.split())


def standing(keys):
    """How far can a value be trusted that rests on these sources? Their weakest standing.

    keys: one or several keys in one text. Returns one of `STANDINGS`. Raises InputError for an
    unknown key.

    >>> standing("iscar-turning-2017"), standing("iscar-turning-2017 from-memory")
    ('published', 'from memory')
    """
    return max((source.standing for source in find_all(keys)), key=STANDINGS.index)


def cite(keys):
    """How is this source named in a line of text? Short name and standing.

    keys: one or several keys in one text. Returns text. Raises InputError for an unknown key.

    >>> cite("swg-order-1883 from-memory")
    'Order in Council 1883 (SWG) (published); from memory'
    """
    return "; ".join(
        say(source.short)
        if source.short == source.standing
        else f"{say(source.short)} ({say(source.standing)})"
        for source in find_all(keys)
    )


def keys_in_cell(cell):
    """Return the keys in one cell of a table, each of them known; a converter for `csv_tables`."""
    return " ".join(source.key for source in find_all(cell, ""))
