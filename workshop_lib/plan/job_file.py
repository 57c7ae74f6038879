"""How is a job file read strictly, saved in one step with its comments, and brought up to date?

A job file is TOML, an open format that a person can read and edit; quantities are text in it
with their unit.
"""

import os
from pathlib import Path

from workshop_lib.own_files import (
    as_path,
    document_of,
    plainly,
    save_text,
    tables_of,
    text_of,
    writer,
)
from workshop_lib.plan.checked_job import Job
from workshop_lib.plan.entry_faults import JobFaults, flat, refuse_many
from workshop_lib.plan.entry_table import ENTRIES
from workshop_lib.plan.speed_choice import at_speed
from workshop_lib.quantities import InputError, quote
from workshop_lib.shop import found

DEMONSTRATION = Path(__file__).resolve().parents[2] / "notebooks"
FORMAT = 3
HEAD = """\
# A job of the sheet-disc workbook. Lengths, forces and so on are text with their unit: "78 mm".
# Lines that begin with # are yours; they stay when the workbook saves the file.
"""


def job(entries, shop=None):
    """Which job follows from these entries? A dictionary from dotted keys to typed values.

    entries: such as {"disc.diameter": "78 mm", …}; see `plan.entries()`. shop: `shop.Shop` that
    says what the entries leave out, or None. Returns a `Job`. Raises `JobFaults`, which names every
    fault by its key.
    """
    return at_speed(Job(entries, shop=shop))


def load(path, shop=None):
    """Which job does this file hold?

    path: of a TOML file, see `plan.entries` for its keys. shop: `shop.Shop`; None: that of
    `my_shop.toml` beside the job or among the lessons, if there is one. Returns a `Job`. Raises
    `JobFaults`, which names every fault by its key, or InputError with the line where a file is not
    TOML or the shop is faulty.
    Files of earlier formats load too. Nothing is written. A file in `jobs/` that is not in the
    working folder is the demonstration's own: so lesson 06 runs from any folder.
    """
    path = as_path(path)
    if path.parts[:1] == ("jobs",) and not os.path.exists(path):
        path = DEMONSTRATION / path if os.path.exists(DEMONSTRATION / path) else path
    text = text_of(path)
    job = parse(text, path.name, found(path) if shop is None else shop)
    job.file = path.resolve()
    return job


def parse(text, where="job", shop=None):
    """Which job does this text hold? As `load`; where: what to call it in a refusal."""
    tables = tables_of(text, where)
    refuse_many(sum(len(each) if isinstance(each, dict) else 1 for each in tables.values()), where)
    given = tables.get("format", FORMAT)
    if type(given) is not int or given != FORMAT:
        document = upgraded(document_of(text, where), where)
        text, tables = writer().dumps(document), document.unwrap()
    tables.pop("format", None)
    entries, strangers = flat(tables)
    try:
        job = at_speed(Job(entries, text, where, shop=shop))
    except JobFaults as error:
        raise JobFaults([*strangers, *error.faults], where) from error
    if strangers:
        raise JobFaults(strangers, where)
    return job


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


def _from_2(document):
    """Format 2 said of the whole job whether it slipped; now each attempt says it of itself."""
    measured = document.get("measured")
    if isinstance(measured, dict) and "slipped" in measured and "attempt" not in document:
        attempt = writer().table()
        attempt["happened"] = "It slipped." if measured["slipped"] is True else "It did not slip."
        attempt["slipped"] = measured.pop("slipped")
        document["attempt"] = writer().aot()
        document["attempt"].append(attempt)
    return document


UPGRADES = {1: _from_1, 2: _from_2}  # format -> what brings it to the next one


def upgraded(document, where):
    """Bring a document of an earlier format up to date, comments kept; refuse a newer one."""
    given = document["format"]
    if not isinstance(given, int) or isinstance(given, bool) or given < 1:
        raise InputError(f"{where}: format", f"{_plainer(given)} is not a format of a job file")
    if given > FORMAT:
        problem = f"{_plainer(given)} is newer than this workbook, which reads formats up to "
        problem += f"{FORMAT}"
        raise InputError(f"{where}: format", problem, "Open it with a newer workbook")
    for each in range(given, FORMAT):
        document = UPGRADES[each](document)
    document["format"] = FORMAT
    return document


def _plainer(value):
    """Quote what stands in a document as the plain value that it is."""
    return quote(value.unwrap() if hasattr(value, "unwrap") else value)


def save(job, path):
    """Save a job to a file in one step, so that a kill leaves the old file or the new one, whole.

    job: `Job`. path: of the file; its folder must be there. Comments and order of the file that the
    job was loaded from are kept. What the file already holds, if it is not what the job came from,
    is kept beside it as `name.kept-1.toml`. Returns the path. Raises InputError when it cannot be
    written.
    """
    if not isinstance(job, Job):
        raise InputError("job", f"{quote(job)} is not a job", "Load one, or make one with plan.job")
    path, text = as_path(path), written(job)
    if plainly(parse(text, path.name, job.shop).values) != plainly(job.values):
        raise InputError(path.name, "would not read back as the same job, so it was not saved")
    save_text(path, text, (job.text, text))
    job.text, job.file = text, path.resolve()
    return path


def written(job):
    """Return the text of a job's file."""
    before = parse(job.text, job.where, job.shop).values if job.text else {}
    document = document_of(job.text, job.where) if job.text else _newdocument_of()
    document["format"] = FORMAT
    for key in ENTRIES:
        section, _, name = key.partition(".")
        value, home = job.values.get(key), document.get(section, {}) if name else document
        name = name or section  # such as [[attempt]], which stands in no part
        if value is None:
            if name in home:
                del home[name]
        elif key not in before or plainly(before[key]) != plainly(value):
            if home is not document and section not in document:
                home = document[section] = writer().table()
            (document if home is document else document[section])[name] = plainly(value)
    return writer().dumps(document)


def _newdocument_of():
    document = writer().document()
    for line in HEAD.splitlines():
        document.add(writer().comment(line.removeprefix("# ")))
    document["format"] = FORMAT
    return document
