"""How are the workbook's CSV tables read strictly? With the low / typical / high triple.

A table that a teacher has added to is either read whole or refused with the file, the line and
the mend in one sentence; no row is dropped and no cell is guessed at. A table is read when it is
first needed and again when its file has changed, so that an added row appears everywhere.
"""

import csv
import difflib
import functools
import io
import os
import re
from pathlib import Path

from workshop_lib.quantities import LONGEST_TEXT, InputError, quote

BUILT_IN = Path(__file__).resolve().parents[1] / "data"
OWN = BUILT_IN.parents[1] / "my_additions"  # whose tables add rows to the built-in ones
VARIABLE = "WORKSHOP_DATA"  # names another such folder; an empty text: none
GAUGE = "gauge_"  # begins the name of a whole gauge table there, such as gauge_din.csv
_NUMBER = re.compile(r"[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][+-]?[0-9]{1,2})?", re.ASCII)
_KEY = re.compile(r"[a-z][a-z0-9]*([_-][a-z0-9]+)*", re.ASCII)
_kept = {}


class Range(tuple):
    """Three values of one assumed number: low, typical and high, with where they come from.

    It is a tuple of three plain numbers or three quantities, so that NumPy and every public call
    take it as three values at once. sources: citation keys. standing: the weakest of them.

    >>> friction = Range(0.2, 0.3, 0.45, sources="from-memory", standing="from memory")
    >>> friction.low, friction.typical, friction.high
    (0.2, 0.3, 0.45)
    """

    def __new__(cls, low, typical, high, *, sources="", standing="", note=""):
        triple = super().__new__(cls, (low, typical, high))
        triple.sources, triple.standing, triple.note = sources, standing, note
        return triple

    def __reduce__(self):
        return _rebuilt, (type(self), tuple(self), vars(self))

    def __mul__(self, other):
        """Refuse what a tuple would do, which is to repeat itself."""
        raise TypeError("take .low, .typical or .high of a Range, or np.asarray of it")

    __rmul__ = __add__ = __mul__

    def __repr__(self):
        return f"{type(self).__name__}(low={self[0]}, typical={self[1]}, high={self[2]})"

    @property
    def low(self):
        """The lowest value to allow for."""
        return self[0]

    @property
    def typical(self):
        """What is met most often."""
        return self[1]

    @property
    def high(self):
        """The highest value to allow for."""
        return self[2]


def _rebuilt(cls, triple, attributes):
    copy = tuple.__new__(cls, triple)
    vars(copy).update(attributes)
    return copy


class Row(dict):
    """One row of a table: its cells by column, and where it is."""

    def __init__(self, file, line, cells=()):
        super().__init__(cells)
        self.file, self.line = file, line

    def error(self, problem, mend=""):
        """Return an InputError that names this row's file and line."""
        return InputError(f"{self.file}, line {self.line}", problem, mend)

    def ordered(self, *columns):
        """Return the cells of these columns; refuse the row when they do not rise."""
        values = [self[column] for column in columns]
        for column, value in zip(columns, values, strict=True):
            if value is None:
                raise self.error(
                    f"{column} is empty, but {', '.join(columns)} must all be filled in"
                )
        for lower, upper, left, right in zip(
            values, values[1:], columns, columns[1:], strict=False
        ):
            if lower > upper:
                raise self.error(f"{left} ({lower:g}) is greater than {right} ({upper:g})")
        return values


def load(file, columns, build):
    """Return build(rows) for a table and what a teacher added to it; read again after a change.

    file: name such as "materials.csv". columns: name -> function from text to value, all of them
    required. build: a module-level function that takes the list of rows, the added ones last.
    """
    paths = paths_of(file)
    try:
        states = [path.stat() for path in paths]
    except OSError as error:
        raise InputError(file, f"this table cannot be read ({error.strerror})") from error
    stamp = [(state.st_mtime_ns, state.st_size, state.st_ino) for state in states]
    kept = _kept.get((paths, build))
    if kept is None or kept[0] != stamp:
        rows = [row for path in paths for row in read_rows(path, columns)]
        kept = _kept[paths, build] = stamp, build(rows)
    return kept[1]


def kept_while_same(kept, parts, build):
    """Return build(), or what it gave last time while all of these parts were the same objects.

    kept: a dictionary of the caller's, in which parts and result stay.
    """
    before = kept.get("parts", ())
    if len(before) != len(parts) or any(a is not b for a, b in zip(before, parts, strict=True)):
        kept.update(result=build(), parts=tuple(parts))
    return kept["result"]


def paths_of(file):
    """Return where the rows of a table are: in the built-in one, then in a teacher's own."""
    if Path(file).name != file:
        raise InputError("file", f"{quote(file)} is not the name of a table")
    folder = own_folder()
    if folder is None or file not in _added(folder, folder.stat().st_mtime_ns):
        return (BUILT_IN / file,)
    return (folder / file,) if file in own_gauges() else (BUILT_IN / file, folder / file)


def own_folder():
    """Return the folder of what a teacher has added, or None where there is none."""
    named = os.environ.get(VARIABLE)
    if named is None:
        return OWN if OWN.is_dir() else None
    if named and not Path(named).is_dir():
        raise InputError(VARIABLE, f"{quote(named)} is not a folder")
    return Path(named) if named else None


def own_gauges():
    """Return the names of the files of whole gauge tables that a teacher has added."""
    folder = own_folder()
    found = () if folder is None else _added(folder, folder.stat().st_mtime_ns)
    return [name for name in found if name.startswith(GAUGE) and not (BUILT_IN / name).exists()]


@functools.lru_cache(maxsize=8)
def _added(folder, _changed):
    """Return the names of the tables in a teacher's folder, as it was changed last.

    A CSV there that is no table of the workbook is refused, since a misspelt name would otherwise
    do nothing.
    """
    found = sorted(path.name for path in folder.glob("*.csv"))
    known = {path.name for path in BUILT_IN.glob("*.csv")}
    for name in found:
        if not name.startswith(GAUGE) or name in known:
            choose(name, known, folder.name, "table")
    return tuple(found)


def read_rows(path, columns):
    """Read a CSV file strictly: UTF-8, commas, one header, every cell converted.

    Returns a list of `Row`. Raises InputError naming file and line for anything else.
    """
    path = Path(path)
    own = path.parent == own_folder()
    name = f"{path.parent.name}/{path.name}" if own else path.name
    records = _records(path, name)
    line, titles = next(records, (1, []))
    _check_header(Row(name, line), titles, columns)
    rows = [_converted(Row(name, line), titles, cells, columns) for line, cells in records]
    if not rows:
        raise InputError(f"{name}, line {line}", "there are no rows below the column names")
    return rows


def _records(path, name):
    """Yield (line number, stripped cells) for every record that is not blank."""
    reader = csv.reader(io.StringIO(_decoded(path, name), newline=""), strict=True)
    line = 1
    while True:
        try:
            cells = [cell.replace("\xa0", " ").strip() for cell in next(reader)]
        except StopIteration:
            return
        except csv.Error as error:
            mend = "Put quotation marks round the whole cell, and double any inside it"
            raise Row(name, line).error("a quotation mark is out of place", mend) from error
        if not "".join(cells).isprintable():
            mend = "Look for a quotation mark that is not closed, and for tabs"
            raise Row(name, line).error("a cell has a line break or a tab in it", mend)
        if any(cells):
            yield line, cells
        line += 1  # a record is one line, since a cell may hold no line break


def _decoded(path, name):
    try:
        data = path.read_bytes()
    except OSError as error:
        raise InputError(name, f"this table cannot be read ({error.strerror})") from error
    try:
        return data.decode("utf-8-sig")  # spreadsheets put a byte-order mark in front; harmless
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        mend = "Save the file as CSV UTF-8"
        raise Row(name, line).error("this line has a letter that is not in UTF-8", mend) from error


def _check_header(row, titles, columns):
    if len(titles) == 1 and ";" in titles[0]:
        mend = "Save it with commas between the columns and points in the numbers"
        raise row.error("there are semicolons between the columns", mend)
    for title in titles:
        if titles.count(title) > 1:
            raise row.error(f"the column {quote(title)} is there twice")
        if title not in columns:
            raise row.error(f"there is no column called {quote(title)}", _near(title, columns))
    missing = [column for column in columns if column not in titles]
    if missing:
        raise row.error(f"the column {missing[0]} is missing")


def _converted(row, titles, cells, columns):
    if len(cells) != len(titles):
        mend = "If a text has a comma in it, put quotation marks round the whole cell"
        count = f"{len(cells)} cell{'s' * (len(cells) != 1)}"
        raise row.error(f"this row has {count}, but there are {len(titles)} columns", mend)
    for title, cell in zip(titles, cells, strict=True):
        try:
            row[title] = columns[title](cell)
        except InputError as error:
            if error.name:  # of another table, which this one names
                raise
            raise row.error(f"{title} {error.problem}", error.mend) from error
    return row


def choose(value, known, name, what, lister=""):
    """Return value when it is one of the known texts; else an InputError says what is near it.

    what: what the texts are called. lister: the call that lists them, when they are many.
    """
    if isinstance(value, str) and value in known:
        return value
    mend = _near(value, known) or (f"{lister} lists them" if lister else "")
    article = "an" if what[:1] in "aeio" else "a"
    raise InputError(name, f"{quote(value)} is not {article} {what} that the workbook knows", mend)


# What people call a thing whose key is another: spelt as they spell it, or by its everyday name.
EVERYDAY = {
    "galvanised_steel": "galvanized_steel",
    "galvanised": "galvanized_steel",
    "galvanized": "galvanized_steel",
    "zinc_coated": "galvanized_steel",
    "zinc_coated_steel": "galvanized_steel",
    "zinc_coated_mild_steel": "galvanized_steel",
    "zinc_plated_steel": "galvanized_steel",
    "stainless": "stainless_steel",
    "aluminum": "aluminium",
    "steel": "mild_steel",
    "perspex": "acrylic",
    "ply": "wood",
    "plywood": "wood",
    "molded_lining": "moulded_lining",
    "sandpaper": "abrasive_paper",
}


def meant(value, known):
    """Return the key that somebody means who writes it with spaces or by its everyday name.

    Anything else comes back as it is, for `choose` to refuse.

    >>> meant("Zinc-coated", ["galvanized_steel"]), meant("silk", ["wood"])
    ('galvanized_steel', 'silk')
    """
    if not isinstance(value, str) or value in known or len(value) > LONGEST_TEXT:
        return value
    plain = re.sub(r"[\s_-]+", "_", value.strip().lower())
    for key in (plain, EVERYDAY.get(plain)):
        if key in known:
            return key
    return value


def _near(value, known, most=12):
    """Say which known texts were probably meant; list all of them when they are few."""
    listed = f"Known: {', '.join(known)}" if len(known) <= most else ""
    if not isinstance(value, str) or len(value) > LONGEST_TEXT:
        return listed
    plain = re.sub(r"[\s_-]+", "_", value.strip().lower())
    alike = {re.sub(r"[\s_-]+", "_", text.lower()): text for text in known}
    close = difflib.get_close_matches(plain, alike, n=1)
    return " ".join(
        ([f"Did you mean {alike[close[0]]}?"] if close else []) + ([listed] * bool(listed))
    )


def by_key(rows, *columns):
    """Return rows by the value of these columns; refuse a row that says the same key again."""
    found = {}
    for row in rows:
        key = tuple(row[column] for column in columns)
        key = key[0] if len(columns) == 1 else key
        if key in found:
            said = " ".join(str(row[column]) for column in columns)
            before = found[key]
            place = f"line {before.line}" if before.file == row.file else f"{before.file}"
            raise row.error(f"{quote(said)} is in {place} already")
        found[key] = row
    return found


# Converters: text of one cell -> value. They raise InputError without a name; the reader adds it.


def text(cell):
    """Return text that is not empty."""
    if not cell:
        raise InputError("", "is empty")
    return cell


def anything(cell):
    """Return text that may be empty."""
    return cell


def key(cell):
    """Return a key: small letters and figures, joined by _ or -."""
    if not _KEY.fullmatch(text(cell)):
        mend = "Use small letters and figures, joined by _ or -"
        raise InputError("", f"{quote(cell)} cannot be a key", mend)
    return cell


def number(low, high):
    """Return a converter to a float from low to high."""

    def convert(cell):
        if not _NUMBER.fullmatch(text(cell)):
            mend = "Write a point: 0.35" if "," in cell else "Write it in figures, such as 0.35"
            raise InputError("", f"{quote(cell)} is not a number", mend)
        if not low <= float(cell) <= high:
            raise InputError("", f"{quote(cell)} is not between {low:g} and {high:g}")
        return float(cell)

    return convert


def whole(low, high):
    """Return a converter to an int from low to high."""
    convert_number = number(low, high)

    def convert(cell):
        if convert_number(cell) != int(float(cell)):
            raise InputError("", f"{quote(cell)} is not a whole number")
        return int(float(cell))

    return convert


def one_of(*choices):
    """Return a converter that takes one of these texts and no other."""
    return lambda cell: choose(text(cell), choices, "", "choice")


def or_empty(convert):
    """Return a converter that gives None for an empty cell."""
    return lambda cell: convert(cell) if cell else None
