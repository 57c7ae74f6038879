"""Which exercises has a teacher added? Those in `exercises.toml`, in the folder of additions.

    [[exercise]]
    lesson = "02"
    name = "winter"
    question = "A cold pad: 600 N and friction 0.2. How large a side force can its face hold?"
    kind = "force"
    answer = "120 N"
    mistakes = [["240 N", "You counted both faces; only the pad's face drives."]]
    hints = ["Friction times thrust."]
    solution = "0.2 × 600 N"

A question with choices has `options = { a = "yes", b = "no" }` in place of `kind`. Each is asked
like the others: `by_name("02")["winter"].ask()`.
"""

import re

from workshop_lib.own_files import tables_of, text_of
from workshop_lib.quantities import InputError, quote, read
from workshop_lib.sources import csv_tables
from workshop_lib.teaching.exercises import Exercise

FILE = "exercises.toml"
NEEDED = {"lesson", "name", "question", "answer"}
MORE = {"kind", "options", "within", "mistakes", "hints", "solution", "caution"}
_kept = {}


def of_lesson(number):
    """Return the exercises that were added to a lesson; InputError names what is wrong with one."""
    folder = csv_tables.own_folder()
    path = None if folder is None else folder / FILE
    if path is None or not path.is_file():
        return ()
    stamp = path, path.stat().st_mtime_ns, path.stat().st_size
    if _kept.get("stamp") != stamp:
        _kept.update(made=_read(path), stamp=stamp)
    return tuple(task for task in _kept["made"] if task.key.startswith(f"l{number}-"))


def _read(path):
    where = f"{path.parent.name}/{path.name}"
    entries = tables_of(text_of(path), where).get("exercise")
    if not isinstance(entries, list):
        raise InputError(where, "holds no [[exercise]]")
    made = {}
    for place, entry in enumerate(entries, 1):
        try:
            task = _made(entry)
            if task.key in made:
                raise InputError("name", f"{quote(entry['name'])} stands there twice")
        except InputError as error:
            said = f"{error.name} {error.problem}".strip()
            raise InputError(f"{where}, exercise {place}", said, error.mend) from error
        made[task.key] = task
    return tuple(made.values())


def _made(entry):
    """Return one exercise of what stands in the file."""
    unknown, missing = set(entry) - NEEDED - MORE, NEEDED - set(entry)
    if unknown or missing:
        problem = f"has no {sorted(missing)[0]}" if missing else f"knows no {sorted(unknown)[0]}"
        raise InputError("", problem)
    if not re.fullmatch(r"[0-9]{2}", str(entry["lesson"])):
        raise InputError("lesson", f"{quote(entry['lesson'])} is not two figures such as 02")
    if not re.fullmatch(r"[a-z][a-z0-9_]{0,30}", str(entry["name"])):
        raise InputError("name", f"{quote(entry['name'])} is not small letters and figures")
    if ("kind" in entry) == ("options" in entry):
        raise InputError("kind", "or options: write one of the two")
    kind, options = entry.get("kind"), entry.get("options")
    mistakes = entry.get("mistakes", [])
    if not all(isinstance(each, list) and len(each) == 2 for each in mistakes):
        raise InputError("mistakes", "are pairs of an answer and a sentence")
    return Exercise(
        f"l{entry['lesson']}-task-{entry['name']}",
        str(entry["question"]),
        entry["answer"] if options else read(entry["answer"], kind, "answer"),
        kind=kind,
        options=options,
        within=entry.get("within", "2 %"),
        common_wrong=[tuple(each) for each in mistakes],
        hints=list(entry.get("hints", [])),
        solution=entry.get("solution", ""),
        caution=entry.get("caution", ""),
    )
