"""How do people hand in readings? Typed rows, pasted text, or a CSV file with several tests.

A row that cannot be read is named by its line, with what is wrong and what would work; the good
ones are kept. Numbers go through the strict reader, so that 3,5 is refused and never taken for 35.
"""

import re
from typing import NamedTuple

import numpy as np

from workshop_lib.quantities import Q_, InputError, as_shown, quote
from workshop_lib.run_out.reading_cells import (
    MOST_LETTERS,
    MOST_LINES,
    Column,
    arrange,
    best_separator,
    cells_of,
    known_unit,
    numbered_lines,
    row_of,
    title,
)
from workshop_lib.run_out.readings import PLACES, SURFACES, Push, Readings, Total
from workshop_lib.sources import choose, ordinary_file

LENGTHS = ("reading", "position", "graduation")
WORDS = {"where": PLACES, "what": (*SURFACES, "push", "total"), "state": None}
CALLED = {"where": "place", "what": "kind of test"}
ABOUT = (*WORDS, "position", "index", "graduation")  # the same for all rows of a test


class Taken(NamedTuple):
    """What could be read, and a sentence for every line that could not."""

    kept: object
    complaints: tuple


def from_rows(rows, unit=None, angle_unit="deg", **about):
    """Which readings do these typed rows hold?

    rows: pairs (angle, reading), each a quantity, text with or without its unit, or a number.
    unit: unit of readings that have none, such as "thou", "mm" or "um". angle_unit: the same for
    angles. about: what else `Readings` takes (where, what, position, index, state, graduation,
    direction, name). Returns `Taken`: the `Readings` and the complaints, which name the row.
    Raises InputError if no row can be used, or a unit is not known.

    >>> taken = from_rows([("0", "4"), ("120", "one"), ("240", "2 thou")], unit="thou")
    >>> print(taken.kept, *taken.complaints)
    <disc, radial: 2 readings> row 2: reading: ‘one’ does not start with a number. Write it as ...
    """
    if isinstance(rows, str | bytes | dict) or not hasattr(rows, "__iter__"):
        raise InputError("rows", f"{quote(rows)} is not a list of rows")
    rows = list(rows)
    if len(rows) > MOST_LINES:
        raise InputError("rows", f"more than {MOST_LINES} rows")
    rows = [tuple(row) if hasattr(row, "tolist") else row for row in rows]
    numbered = [(f"row {place}", row) for place, row in enumerate(rows, start=1)]
    return _taken(numbered, _two_columns(unit, angle_unit), 2, "rows", about, [])


def from_text(text, unit=None, angle_unit="deg", **about):
    """Which readings does this pasted text hold?

    One reading in each line: angle and reading, separated by tabs, semicolons, commas or spaces.
    The first line may name the columns, with their units: "angle (deg), reading (thou)".

    text: at most 2 million characters and 20 000 lines. unit: unit of readings that have none, such
    as "thou", "mm" or "um". angle_unit: the same for angles. about: see `from_rows`.
    Returns `Taken`: the `Readings` and the complaints, which name the line. Raises InputError if
    no line can be used, the text is too long, or a unit is not known.

    >>> taken = from_text("angle reading/thou\\n0 4\\n120 3,5\\n240 2")
    >>> print(taken.kept, *taken.complaints)
    <disc, radial: 2 readings> line 3: reading: ‘3,5’ has a comma. Write a point: 3.5.
    """
    if not isinstance(text, str):
        raise InputError("text", f"{quote(text)} is not text")
    lines = numbered_lines(text, "text")
    columns, width, complaints = _two_columns(unit, angle_unit), 2, []
    separator = best_separator([line for _, line in lines])
    rows, split = [], _all_cells(lines, separator, complaints)
    for number, cells in split:
        named = {title(cell)[0] for cell in cells}
        if number == lines[0][0] and named >= columns.keys():
            columns, unused = arrange(cells, columns)
            complaints += [f"line {number}: column {quote(cell)} is not used" for cell in unused]
            width = len(cells)
        else:
            rows.append((f"line {number}", cells))
    return _taken(rows, columns, width, "text", about, complaints)


def lengths_from_text(text, unit=None):
    """Which lengths does this pasted text hold, in their order?

    One in each line, or several with semicolons, tabs, or commas and a space between them. All
    must be read, since each has its place in the row. unit: of those that have none, such as "mm"
    or "in". Returns a quantity, an array in mm. Raises InputError that names the line.

    >>> print(lengths_from_text("78.01 mm; 3.071 in\\n77.99", unit="mm"))
    [78.01 78.0034 77.99] mm
    """
    if not isinstance(text, str):
        raise InputError("text", f"{quote(text)} is not text")
    column, found = Column("length", "length", known_unit(unit, "length", "unit")), []
    for number, line in numbered_lines(text, "text"):
        for cell in re.split(r"[;\t]|,\s", line):
            try:
                found.append(column.number(cell))
            except InputError as error:
                raise InputError("text", f"line {number}: {error.problem}", error.mend) from error
    if not found:
        raise InputError("text", "it is empty", "Type one reading per line")
    return as_shown(np.array(found), "length")


def from_csv(path, unit=None, angle_unit="deg", graduation=None, direction="in"):
    """Which tests does this file hold?

    The first line names the columns, with commas, semicolons or tabs between them: test, angle and
    reading; for a push test force in place of angle; as wanted where (spindle, pad, disc, nose),
    what (radial, face, push, total), position, index, state and graduation (see `Readings`).
    A unit may be given with the column's name, such as "reading (thou)", or in the cell.

    path: of a file of at most 2 MB and 20 000 lines. unit: of readings, positions and graduations
    that have none. angle_unit: the same for angles. graduation, direction: for tests that give
    none. Returns `Taken`: the tests by name, in the order of the file, and the complaints, which
    name the line. Raises InputError if the file cannot be read or holds nothing that can be used.
    """
    path = ordinary_file(path, MOST_LETTERS)
    lines = numbered_lines(path.read_bytes().decode("utf-8-sig", "replace"), "path")
    if not lines:
        raise InputError("path", f"{quote(path.name)} is empty")
    separator = max("\t;,", key=lines[0][1].count)
    complaints, drafts = [], {}
    rows = list(_all_cells(lines, separator, complaints))
    columns, unused = _header(rows, lines[0][0], unit, angle_unit)
    complaints += [f"line {lines[0][0]}: column {quote(cell)} is not used" for cell in unused]
    for number, cells in rows[1:]:
        try:
            _add(drafts, row_of(cells, columns, len(rows[0][1])), columns)
        except InputError as error:
            complaints.append(f"line {number}: {error}")
    return _finished(drafts, complaints, {"graduation": graduation, "direction": direction})


def _two_columns(unit, angle_unit):
    angle = Column("angle", "angle", known_unit(angle_unit, "angle", "angle_unit"), 0)
    return {
        "angle": angle,
        "reading": Column("reading", "length", known_unit(unit, "length", "unit"), 1),
    }


def _header(rows, number, unit, angle_unit):
    """Return the columns that the first line of a file names, and the titles that it cannot use."""
    known = _two_columns(unit, angle_unit)
    known |= {name: Column(name, "length", known["reading"].unit) for name in LENGTHS}
    known["index"] = Column("index", "angle", known["angle"].unit)
    known["force"] = Column("force", "force")
    known |= {name: Column(name, None) for name in ("test", *WORDS)}
    try:
        if not rows or rows[0][0] != number:
            raise InputError("", "the first line cannot be read")
        columns, unused = arrange(rows[0][1], known)
        if not {"test", "reading"} <= columns.keys():
            raise InputError("", "it does not name the columns test and reading")
    except InputError as error:
        raise InputError("path", f"line {number}: {error}") from error
    return columns, unused


def _all_cells(lines, separator, complaints):
    """Yield (line number, cells); a line that cannot be split goes to the complaints."""
    for number, line in lines:
        try:
            yield number, cells_of(line, separator)
        except InputError as error:
            complaints.append(f"line {number}: {error}")


def _taken(rows, columns, width, name, about, complaints):
    """Return the readings of those rows that can be used."""
    angles, values = [], []
    for line, cells in rows:
        try:
            row = row_of(cells, columns, width)
            angle, value = (columns[key].number(row[key]) for key in ("angle", "reading"))
        except InputError as error:
            complaints.append(f"{line}: {error}")
            continue
        angles.append(angle)
        values.append(value)
    if not angles:
        _nothing(name, complaints)
    return Taken(Readings(Q_(angles, "rad"), Q_(values, "m"), **about), tuple(complaints))


def _nothing(name, complaints):
    first = f"The first problem: {complaints[0]}" if complaints else ""
    raise InputError(name, "none of it could be used", first)


def _add(drafts, row, columns):
    """Add one row to the test that it names; a row that is refused leaves no trace."""
    if not row["test"]:
        raise InputError("test", "is missing")
    about, along, values = drafts.get(row["test"], ({}, [], []))
    said = {name: _said(row[name], columns[name]) for name in ABOUT if row.get(name)}
    for name, value in said.items():
        if about.get(name, value) != value:
            raise InputError(name, "differs from an earlier line of this test")
    what = said.get("what", about.get("what", "radial"))
    if values and what != about.get("what", "radial"):
        raise InputError("what", "differs from an earlier line of this test")
    value = columns["reading"].number(row["reading"])
    if what == "total" and values:
        raise InputError("reading", "a test that gives a total has only one row")
    if what != "total":
        key = "force" if what == "push" else "angle"
        if key not in columns:
            raise InputError(key, "there is no such column")
        along.append(columns[key].number(row[key]))
    values.append(value)
    drafts[row["test"]] = about | said, along, values


def _said(cell, column):
    """Return what a cell says of its whole test."""
    if column.kind is not None:
        return Q_(column.number(cell), "rad" if column.kind == "angle" else "m")
    known = WORDS[column.name]
    return cell if known is None else choose(cell, known, column.name, CALLED[column.name])


def _finished(drafts, complaints, settings):
    tests = {}
    for name, draft in drafts.items():
        try:
            tests[name] = _test(*draft, settings | {"name": name})
        except InputError as error:
            complaints.append(f"test {quote(name)}: {error}")
    if not tests:
        _nothing("path", complaints)
    return Taken(tests, tuple(complaints))


def _test(about, along, values, settings):
    """Make the test that a draft has grown to."""
    what = about.get("what", "radial")
    given = settings | {name: value for name, value in about.items() if name != "what"}
    if what == "push":
        unused = ("position", "index")
        kept = {name: value for name, value in given.items() if name not in unused}
        return Push(Q_(along, "N"), Q_(values, "m"), **kept)
    if what == "total":
        unused = ("position", "index", "direction")
        kept = {name: value for name, value in given.items() if name not in unused}
        return Total(Q_(values[0], "m"), **kept)
    return Readings(Q_(along, "rad"), Q_(values, "m"), what=what, **given)
