"""Job files: read strictly, saved in one step, comments kept, earlier formats brought up to date.

A job file is TOML, an open format that a person can read and edit; quantities stand in it as text
with their unit.
"""

import os
import re
import stat
import tomllib
from pathlib import Path

from workshop_lib.plan.entries import ENTRIES
from workshop_lib.plan.faults import JobFaults, flat, refuse_many
from workshop_lib.plan.job import Job
from workshop_lib.plan.readers import as_key
from workshop_lib.quantities import KINDS, InputError, Quantity, parse_unit, quote, unit_text
from workshop_lib.sources import keep_copy, replace_text

DEMONSTRATION = Path(__file__).resolve().parents[2] / "notebooks"
FORMAT = 2
LARGEST = 250_000  # bytes; the longest of the jobs that come with the workbook has a hundredth
MOST_DOTS = 100  # in one key: what reads TOML needs room for the square of them
WORDS = {word: parse_unit(u) for kind in KINDS.values() for word, u in kind.units.items() if word}
HEAD = """\
# A job of the sheet-disc workbook. Lengths, forces and so on are text with their unit: "78 mm".
# Lines that begin with # are yours; they stay when the workbook saves the file.
"""


def writer():
    """Return the package that keeps comments; only saving and old files need it."""
    import tomlkit.exceptions  # late: a lesson that only loads jobs does not need it

    return tomlkit


def job(entries):
    """Which job follows from these entries? A dictionary from dotted keys to typed values.

    entries: such as {"disc.diameter": "78 mm", …}; see `plan.entries()`. Returns a `Job`. Raises
    `JobFaults`, which names every fault by its key.
    """
    return Job(entries)


def load(path):
    """Which job stands in this file?

    path: of a TOML file, see `plan.entries` for its keys. Returns a `Job`. Raises `JobFaults`,
    which names every fault by its key, or InputError with the line where the file is not TOML.
    Files of earlier formats load too. Nothing is written. A file in `jobs/` that does not stand in
    the working folder is the demonstration's own: so lesson 06 runs from any folder.
    """
    path = _as_path(path)
    if path.parts[:1] == ("jobs",) and not os.path.exists(path):
        path = DEMONSTRATION / path if os.path.exists(DEMONSTRATION / path) else path
    job = parse(_text_of(path), path.name)
    job.file = path.resolve()
    return job


def parse(text, where="job"):
    """Which job stands in this text? As `load`; where: what to call it in a refusal."""
    tables = _tables(text, where)
    refuse_many(sum(len(each) if isinstance(each, dict) else 1 for each in tables.values()), where)
    given = tables.get("format", FORMAT)
    if type(given) is not int or given != FORMAT:
        document = upgraded(_document(text, where), where)
        text, tables = writer().dumps(document), document.unwrap()
    tables.pop("format", None)
    entries, strangers = flat(tables)
    try:
        job = Job(entries, text, where)
    except JobFaults as error:
        raise JobFaults([*strangers, *error.faults], where) from error
    if strangers:
        raise JobFaults(strangers, where)
    return job


def _as_path(path):
    if not isinstance(path, str | os.PathLike) or "\0" in os.fspath(path):
        raise InputError("path", f"{quote(path)} cannot be a file's name")
    return Path(path)


def _text_of(path):
    try:
        found = path.stat()
        if not stat.S_ISREG(found.st_mode):
            raise InputError(as_key(path.name), "is not a file that can be read as a job")
        if found.st_size > LARGEST:
            raise InputError(as_key(path.name), "is too large to be a job file")
        data = path.read_bytes()
    except OSError as error:
        raise InputError(as_key(path.name), f"cannot be read ({error.strerror})") from error
    try:
        return _plain_lines(data.decode("utf-8-sig"))
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        mend = "Save it as UTF-8 in your editor"
        raise InputError(
            f"{as_key(path.name)}, line {line}", "a letter is not in UTF-8", mend
        ) from error


def _plain_lines(text):
    """Return a text with one kind of line end."""
    return text.replace("\r\n", "\n")


def _tables(text, where):
    """Read TOML; a fault names its line."""
    if not isinstance(text, str):
        raise InputError("text", f"{quote(text)} is not a text")
    if len(text) > LARGEST:
        raise InputError(where, "is too long to be a job")
    for number, line in enumerate(text.splitlines(), start=1):
        if line.count(".") > MOST_DOTS and _dots_in_a_key(line) > MOST_DOTS:
            raise InputError(f"{where}, line {number}", "no key is as long as that")
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        found = re.search(r"(.*) \(at (?:line (\d+), column \d+|end of document)\)", str(error))
        line = found[2] if found and found[2] else str(text.count("\n") + 1)
        said = found[1] if found else "this is not TOML"
        mend = "A quantity needs quotation marks, a list square brackets"
        raise InputError(f"{where}, line {line}", f"{said[:1].lower()}{said[1:]}", mend) from error
    except (RecursionError, ValueError) as error:
        raise InputError(where, "lists or numbers in it are too long to be meant") from error


def _dots_in_a_key(line):
    """Count the dots of the longest run without anything that ends a key."""
    return max(run.count(".") for run in re.split(r"[,=\[\]{}#]", line))


def _document(text, where):
    """Read TOML with its comments; what one reader takes and the other does not is refused."""
    try:
        return writer().parse(text)
    except (writer().exceptions.TOMLKitError, RecursionError, ValueError) as error:
        raise InputError(where, "is not plain TOML", "Write it as the other jobs are") from error


def _from_1(document):
    """Format 1 gave the pad one diameter, and the thrust as an entry of the pad."""
    pad = document.get("pad")
    if isinstance(pad, dict):
        if "diameter" in pad:
            pad["outer_diameter"] = pad.pop("diameter")
        if "thrust" in pad and "thrust" not in document:
            document["thrust"] = writer().table()
            document["thrust"]["force"] = pad.pop("thrust")
    return document


UPGRADES = {1: _from_1}  # format -> what brings it to the next one


def upgraded(document, where):
    """Bring a document of an earlier format up to date, comments kept; refuse a newer one."""
    found = document["format"]
    if not isinstance(found, int) or isinstance(found, bool) or found < 1:
        raise InputError(f"{where}: format", f"{_plainer(found)} is not a format of a job file")
    if found > FORMAT:
        problem = f"{_plainer(found)} is newer than this workbook, which knows up to "
        problem += f"{FORMAT}"
        raise InputError(f"{where}: format", problem, "Open it with a newer workbook")
    for each in range(found, FORMAT):
        document = UPGRADES[each](document)
    document["format"] = FORMAT
    return document


def _plainer(value):
    """Quote what stands in a document as the plain value that it is."""
    return quote(value.unwrap() if hasattr(value, "unwrap") else value)


def save(job, path):
    """Save a job to a file in one step, so that a kill leaves the old file or the new one, whole.

    job: `Job`. path: of the file; its folder must be there. Comments and order of the file that the
    job was loaded from are kept. What stands in the file already, and is not what the job came
    from, is kept beside it as `name.kept-1.toml`. Returns the path.
    Raises InputError when it cannot be written.
    """
    if not isinstance(job, Job):
        raise InputError("job", f"{quote(job)} is not a job", "Load one, or make one with plan.job")
    path, text = _as_path(path), written(job)
    if plainly(parse(text, path.name).values) != plainly(job.values):
        raise InputError(path.name, "would not read back as the same job, so it is not written")
    try:
        if path.exists() and not _is_known(path, (job.text, text)):
            keep_copy(path)
        replace_text(path, text)
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or error
        raise InputError(path.name, f"cannot be written ({why})") from error
    job.text, job.file = text, path.resolve()
    return path


def _is_known(path, texts):
    """Tell whether a file holds one of these texts, whatever its line ends."""
    try:
        return _plain_lines(path.read_bytes().decode("utf-8-sig")) in texts
    except UnicodeDecodeError:
        return False


def written(job):
    """Return the text of a job's file."""
    before = parse(job.text, job.where).values if job.text else {}
    document = _document(job.text, job.where) if job.text else _new_document()
    document["format"] = FORMAT
    for key in ENTRIES:
        section, _, name = key.partition(".")
        value = job.values.get(key)
        if value is None:
            if name in document.get(section, {}):
                del document[section][name]
        elif key not in before or plainly(before[key]) != plainly(value):
            if section not in document:
                document[section] = writer().table()
            document[section][name] = plainly(value)
    return writer().dumps(document)


def _new_document():
    document = writer().document()
    for line in HEAD.splitlines():
        document.add(writer().comment(line.removeprefix("# ")))
    document["format"] = FORMAT
    return document


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
    return f"{float(q.magnitude)!r}".removesuffix(".0") + written
