"""How are an outline's points read from a CSV file? Columns x and y, with their unit."""

import re

from workshop_lib.quantities import KINDS, Q_, InputError, quote
from workshop_lib.sources import csv_tables, ordinary_file

LARGEST_FILE = 1_000_000  # bytes; four thousand points fill a tenth of it
MOST = 1e6  # of any unit, either way
UNITS = KINDS["length"].units
_TITLE = re.compile(r"(?P<name>[xy])(?:_| ?[\[(/] ?)(?P<unit>[^\])\s;]{1,12})[\])]?")


def read_points(path):
    """Return the points of a CSV file as pairs of quantities; InputError names a bad row's line.

    The titles are x and y with a unit, such as "x (mm),y (mm)" or "x_in,y_in"; or "x,y,unit", when
    each row names its own.
    """
    path = ordinary_file(path, LARGEST_FILE)
    coordinate = csv_tables.number(-MOST, MOST)
    titles = [title for title in _titles(path) if _TITLE.fullmatch(title)]
    if not titles:
        rows = csv_tables.read_rows(path, {"x": coordinate, "y": coordinate, "unit": _unit})
        return [(Q_(row["x"], row["unit"]), Q_(row["y"], row["unit"])) for row in rows]
    parts = {_TITLE.fullmatch(title)["name"]: title for title in titles}
    if len(titles) != 2 or len(parts) != 2:
        mend = "Name the columns x (mm) and y (mm), or x, y and unit"
        raise InputError(
            path.name, "the first line must name one x and one y, with their unit", mend
        )
    units = {title: _unit(_TITLE.fullmatch(title)["unit"], path.name) for title in titles}
    rows = csv_tables.read_rows(path, dict.fromkeys(titles, coordinate))
    return [tuple(Q_(row[parts[name]], units[parts[name]]) for name in "xy") for row in rows]


def _titles(path):
    """Return the cells of the first line that is not blank; `csv_tables` judges all else."""
    try:
        text = path.read_text(encoding="utf-8-sig", errors="replace")
    except OSError as error:
        raise InputError("path", f"{quote(path.name)} cannot be read") from error
    first = next((line for line in text.splitlines() if line.strip()), "")
    return [cell.replace("\xa0", " ").strip().strip('"').strip() for cell in first.split(",")]


def _unit(word, name=""):
    """Return a word that is a unit of length; a converter for `csv_tables`."""
    return csv_tables.choose(word, UNITS, name, "unit of length")
