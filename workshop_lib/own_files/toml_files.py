"""How is a TOML file of a person's own read strictly, and written so that its comments stay?

TOML is an open format that a person can read and edit; quantities are text in it with their
unit. A fault is named with its line.
"""

import os
import re
import stat
import tomllib
from pathlib import Path

from workshop_lib.quantities import (
    KINDS,
    InputError,
    Quantity,
    parse_unit,
    quote,
    unit_text,
    unmistakable,
)
from workshop_lib.sources import keep_copy, replace_text

LARGEST = 250_000  # bytes; the longest of the files that come with the workbook has a hundredth
MOST_DOTS = 100  # in one key: what reads TOML needs room for the square of them
WORDS = {word: parse_unit(u) for kind in KINDS.values() for word, u in kind.units.items() if word}


def writer():
    """Return the package that keeps comments; only saving and old files need it."""
    import tomlkit.exceptions  # late: a lesson that only loads jobs does not need it

    return tomlkit


def as_path(path):
    """Return a path; refuse what cannot be a file's name."""
    if not isinstance(path, str | os.PathLike) or "\0" in os.fspath(path):
        raise InputError("path", f"{quote(path)} cannot be the name of a file")
    return Path(path)


def shown_name(path):
    """Return a file's name, safe to put in a sentence."""
    return quote(path.name)[1:-1]


def text_of(path):
    """Return the text of a file; refuse what is no plain file, too large, or not UTF-8."""
    try:
        found = path.stat()
        if not stat.S_ISREG(found.st_mode):
            raise InputError(shown_name(path), "is not a file that can be read")
        if found.st_size > LARGEST:
            raise InputError(shown_name(path), "is too large to be one of the workbook's files")
        data = path.read_bytes()
    except OSError as error:
        raise InputError(shown_name(path), f"cannot be read ({error.strerror})") from error
    try:
        return _plain_lines(data.decode("utf-8-sig"))
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        mend = "Save it as UTF-8 in your editor"
        raise InputError(
            f"{shown_name(path)}, line {line}", "this line has a letter that is not in UTF-8", mend
        ) from error


def _plain_lines(text):
    """Return a text with one kind of line end."""
    return text.replace("\r\n", "\n")


def tables_of(text, where):
    """Read TOML; a fault names its line."""
    if not isinstance(text, str):
        raise InputError("text", f"{quote(text)} is not a text")
    if len(text) > LARGEST:
        raise InputError(where, "is too long")
    for number, line in enumerate(text.splitlines(), start=1):
        if line.count(".") > MOST_DOTS and _dots_in_a_key(line) > MOST_DOTS:
            raise InputError(f"{where}, line {number}", "this key is too long")
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        found = re.search(r"(.*) \(at (?:line (\d+), column \d+|end of document)\)", str(error))
        line = found[2] if found and found[2] else str(text.count("\n") + 1)
        said = found[1] if found else "this is not TOML"
        mend = "A quantity needs quotation marks, a list square brackets"
        raise InputError(f"{where}, line {line}", f"{said[:1].lower()}{said[1:]}", mend) from error
    except (RecursionError, ValueError) as error:
        raise InputError(where, "it has lists or numbers that are too long") from error


def _dots_in_a_key(line):
    """Count the dots of the longest run without anything that ends a key."""
    return max(run.count(".") for run in re.split(r"[,=\[\]{}#]", line))


def document_of(text, where):
    """Read TOML with its comments; what one reader takes and the other does not is refused."""
    try:
        return writer().parse(text)
    except (writer().exceptions.TOMLKitError, RecursionError, ValueError) as error:
        raise InputError(
            where, "is not plain TOML", "Write it as the workbook's own files are"
        ) from error


def is_known(path, texts):
    """Tell whether a file holds one of these texts, whatever its line ends."""
    try:
        return _plain_lines(path.read_bytes().decode("utf-8-sig")) in texts
    except UnicodeDecodeError:
        return False


def plainly(value):
    """Turn an entry's value into what TOML can hold: text, numbers, lists and tables of these."""
    if isinstance(value, Quantity):
        return as_typed(value)
    if isinstance(value, dict):
        return {name: plainly(item) for name, item in value.items()}
    if isinstance(value, list | tuple):
        return [plainly(item) for item in value]
    return value


def as_typed(q):
    """Write a quantity as a person would type it, all of its figures kept."""
    written = unit_text(q.units)
    if written.strip() not in WORDS:  # such as turn/s, which is typed as rev/s
        written = f" {next((word for word, unit in WORDS.items() if unit == q.units), written)}"
    plain = f"{float(q.magnitude)!r}".removesuffix(".0")
    return unmistakable(plain, written.strip()) + written


def save_text(path, text, known_texts):
    """Write a file in one step; what is there already and is none of the known texts is kept."""
    try:
        if path.exists() and not is_known(path, known_texts):
            keep_copy(path)
        replace_text(path, text)
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or error
        raise InputError(path.name, f"cannot be written ({why})") from error
