"""How much radial play does a new bearing of each class have? `data/clearances.csv`."""

from workshop_lib import sources
from workshop_lib.bearings.bearing_tables import KINDS_OF_BEARING, MM, catalogue
from workshop_lib.quantities import InputError, as_shown
from workshop_lib.sources import Range, csv_tables

UM = 1e-6
_COLUMNS = {
    "kind": csv_tables.one_of(*KINDS_OF_BEARING),
    **dict.fromkeys(("over_mm", "up_to_mm"), csv_tables.number(0, 1000)),
    "class": csv_tables.text,
    **dict.fromkeys(("low_um", "high_um"), csv_tables.number(0, 1000)),
    "source": sources.keys_in_cell,
}


def _clearances(rows):
    found = {}
    for row in csv_tables.by_key(rows, "kind", "over_mm", "up_to_mm", "class").values():
        low, high = row.ordered("low_um", "high_um")
        found.setdefault(row["kind"], []).append((row, low * UM, high * UM))
    return found


def known_clearances():
    """All clearances by kind of bearing, as their file is now."""
    return csv_tables.load("clearances.csv", _COLUMNS, _clearances)


def clearance_classes(kind):
    """Names of the clearance classes that are tabulated for a kind of bearing."""
    return tuple(dict.fromkeys(row["class"] for row, *_ in known_clearances().get(kind, ())))


def clearance(bearing, clearance_class="normal"):
    """How much radial play does a bearing of this class have before it is fitted?

    bearing: designation or `Bearing`, a deep-groove or a cylindrical roller bearing.
    clearance_class: "C2", "normal", "C3", "C4" or "C5". Returns a `Range` of three lengths on the
    diameter, in µm: least, middle and most. Raises InputError for a class or a kind that has no
    table. Notes: tight fits and a warm shaft take some of it away again.
    Source: iso-5753 (balls), roller-clearance (rollers).

    >>> low, middle, high = clearance("6202")
    >>> print(low.round(1), high.round(1))
    3.0 µm 18.0 µm
    """
    bearing = catalogue(bearing)
    row, low, high = _clearance_row(bearing, clearance_class)
    cited = row["source"]
    three = (as_shown(value, "length").to("um") for value in (low, (low + high) / 2, high))
    return Range(*three, sources=cited, standing=sources.standing(cited))


def _clearance_row(bearing, clearance_class):
    table = known_clearances()
    if bearing.kind not in table:
        problem = f"there is no table of clearance classes for {bearing.name}"
        raise InputError("bearing", problem, "Give the clearance as a length")
    classes = clearance_classes(bearing.kind)
    csv_tables.choose(clearance_class, classes, "clearance_class", "clearance class")
    bore = bearing.core.bore / MM
    for row, low, high in table[bearing.kind]:
        if row["class"] == clearance_class and row["over_mm"] < bore <= row["up_to_mm"]:
            return row, low, high
    raise InputError("bearing", f"the table of clearances has no bore of {bore:g} mm")
