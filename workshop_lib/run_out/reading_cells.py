"""How are pasted tables split into lines and cells, and how does a cell become a number?

Nothing here guesses at a number: it only finds where one cell ends and the next begins.
"""

import csv
import re
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from workshop_lib.quantities import (
    KINDS,
    InputError,
    Quantity,
    number_and_unit,
    parse_unit,
    quote,
    to_core,
    wrong_unit,
)
from workshop_lib.run_out.readings import LARGEST_READING
from workshop_lib.sources import choose

MOST_LETTERS = 2_000_000
MOST_LINES = 20_000
SAMPLE = 200  # lines that are looked at to find what stands between the cells
SEPARATORS = ("\t", ";", " ", ",")  # the first that reads most lines is taken
_TITLE = re.compile(
    r"(?P<name>[a-z]+)(?:[\s_,/:]*(?:in\s+)?[(\[]?(?P<unit>[^\s()\[\]]*)[)\]]?)?", re.IGNORECASE
)
_ALIASES = {
    **dict.fromkeys(("angles", "mark", "marks"), "angle"),
    **dict.fromkeys(("readings", "dial", "indicator", "needle"), "reading"),
    "place": "where",
}
_UNITS = KINDS["length"].units.keys() | KINDS["angle"].units.keys()
NOT_UTF8 = "\ufffd"


def numbered_lines(text, name):
    """Return (line number, line) for every line that is not blank; refuse what is too long."""
    if len(text) > MOST_LETTERS:
        raise InputError(name, f"longer than {MOST_LETTERS:,} characters".replace(",", " "))
    lines = re.split("\r\n|\r|\n", text.removeprefix("\ufeff"))
    if len(lines) > MOST_LINES:
        raise InputError(name, f"more than {MOST_LINES:,} lines".replace(",", " "))
    return [(place, line) for place, line in enumerate(lines, start=1) if line.strip()]


def cells_of(line, separator):
    """Return the cells of a line, stripped. InputError if a quotation mark is out of place."""
    if separator == " ":
        return _words(line)
    try:
        cells = next(csv.reader([line], delimiter=separator, strict=True))
    except csv.Error as error:
        mend = "Put quotation marks round the whole cell, or leave them out"
        raise InputError("", "a quotation mark is out of place", mend) from error
    return [cell.replace("\xa0", " ").strip() for cell in cells]


def _words(line):
    """Split at spaces, but leave a unit with its number and a bracket with its title."""
    cells = []
    for word in line.split():
        if cells and (word in _UNITS or word[0] in "(["):
            cells[-1] += f" {word}"
        else:
            cells.append(word)
    return cells


def best_separator(lines):
    """Return what most of these lines have between their cells."""

    def readable(separator):
        return sum(_reads(line, separator) for line in lines[:SAMPLE])

    def in_two(separator):
        return sum(len(_split(line, separator)) == 2 for line in lines[:SAMPLE])

    return max(SEPARATORS, key=lambda separator: (readable(separator), in_two(separator)))


def _split(line, separator):
    try:
        return cells_of(line, separator)
    except InputError:
        return []


def _reads(line, separator):
    """Whether two cells of a line can be read as numbers with units of ours, or without."""
    return sum(_readable(cell) for cell in _split(line, separator)) >= 2


def _readable(cell):
    try:
        return number_and_unit(cell, KINDS["length"], "")[1] in {*_UNITS, ""}
    except InputError:
        return False


@dataclass(frozen=True)
class Column:
    """One column: its name, its place among the cells, the kind of its numbers, their unit."""

    name: str
    kind: str | None  # None: words
    unit: str | None = None  # of a number that has none
    place: int = 0

    def titled(self, place, unit):
        """Return this column at a place, with the unit that stands in its title."""
        if not unit:
            return Column(self.name, self.kind, self.unit, place)
        if self.kind is None:
            raise InputError(self.name, f"{quote(unit)} cannot be used in the title of this column")
        known = KINDS[self.kind].units
        known_unit(unit, self.kind, self.name)
        if self.name == "reading" and self.unit and known[unit] != known[self.unit]:
            problem = f"the title says {unit}, but the unit was given as {self.unit}"
            raise InputError(self.name, problem, "Give one of them")
        return Column(self.name, self.kind, unit, place)

    def number(self, cell):
        """Return what stands in a cell in core units; InputError says what is wrong with it."""
        if isinstance(cell, Quantity):
            return self._within(to_core(cell, self.kind, self.name), cell)
        if isinstance(cell, int | float | np.number) and not isinstance(cell, bool):
            cell = self._written(cell)
        kind = KINDS[self.kind]
        if isinstance(cell, str) and not cell.strip():
            raise InputError(self.name, "is missing")
        number, typed = number_and_unit(cell, kind, self.name)
        unit = typed or self.unit
        if unit is None:
            mend = f"Name it for all, or write {kind.example}"
            raise InputError(self.name, f"{quote(cell)} has no unit", mend)
        if unit not in kind.units:
            raise InputError(self.name, *wrong_unit(number, unit, kind))
        return self._within(number * _factor(unit, self.kind), cell)

    def _written(self, number):
        try:
            return repr(float(number))
        except OverflowError as error:
            raise InputError(
                self.name, f"{quote(number)} is larger than any number here"
            ) from error

    def _within(self, value, cell):
        largest = LARGEST_READING if self.name == "reading" else KINDS[self.kind].largest
        if not abs(value) <= largest:
            what = "any indicator shows" if self.name == "reading" else f"any {self.kind} here"
            raise InputError(self.name, f"{quote(cell)} is larger than {what}", "Check the unit")
        return value


@lru_cache(maxsize=256)
def _factor(unit, kind):
    return Quantity(1.0, parse_unit(KINDS[kind].units[unit])).m_as(KINDS[kind].core)


def known_unit(unit, kind, name):
    """Return a unit word if it is one of its kind; None stays None."""
    return None if unit is None else choose(unit, KINDS[kind].units, name, f"unit of {kind}")


def title(cell):
    """Return the column's name and unit that a title gives; ("", "") if it cannot be a title."""
    found = _TITLE.fullmatch(cell.strip()) if isinstance(cell, str) and len(cell) < 60 else None
    if not found:
        return "", ""
    name = found["name"].lower()
    return _ALIASES.get(name, name), found["unit"] or ""


def arrange(cells, columns):
    """Return the columns that a header names, at their places, and the cells it could not use.

    columns: by name. Raises InputError for a column that stands there twice.
    """
    found, unused = {}, []
    for place, cell in enumerate(cells):
        name, unit = title(cell)
        if name not in columns:
            unused.append(cell)
        elif name in found:
            raise InputError("", f"the column {name} is there twice")
        else:
            found[name] = columns[name].titled(place, unit)
    return found, [cell for cell in unused if cell]


def row_of(cells, columns, width):
    """Return the cells of a row by column; InputError when there are more cells than columns."""
    if not isinstance(cells, list | tuple):
        raise InputError("", f"{quote(cells)} is not a row of cells")
    if len(cells) > width:
        mend = "If a number has a comma in it, type a point instead"
        raise InputError("", f"{len(cells)} values where {width} are expected", mend)
    if any(isinstance(cell, str) and NOT_UTF8 in cell for cell in cells):
        raise InputError(
            "", "this line has a letter that is not in UTF-8", "Save the file as CSV UTF-8"
        )
    return {c.name: cells[c.place] if c.place < len(cells) else "" for c in columns.values()}
