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

from workshop_lib.own_files import group, several, tables_of, text_of, title, words
from workshop_lib.quantities import InputError, quote, read
from workshop_lib.sources import csv_tables
from workshop_lib.teaching.exercises import Exercise

FILE = "exercises.toml"
NEEDED = ("lesson", "name", "question", "answer")


def _like(pattern, what):
    """Return a reader of a text of a certain form."""

    def convert(value, key):
        if not isinstance(value, str) or not re.fullmatch(pattern, value):
            raise InputError(key, f"{quote(value)} is not {what}")
        return value

    return convert


def _options(value, key):
    """Read what may be chosen: a table of words."""
    if not isinstance(value, dict) or not value:
        mend = 'Write { a = "yes", b = "no" }'
        raise InputError(key, f"{quote(value)} is not a table of choices", mend)
    return {name: title(each, f"{key}.{name}") for name, each in value.items()}


def _mistake(value, key):
    """Read a wrong answer and what is said of it."""
    if not isinstance(value, list) or len(value) != 2:
        raise InputError(key, "is not a pair of an answer and a sentence")
    return title(value[0], key), title(value[1], key)


_ENTRIES = group(
    {
        "lesson": _like(r"[0-9]{2}", "two figures such as 02"),
        "name": _like(r"[a-z][a-z0-9_]{0,30}", "small letters and figures"),
        "question": title,
        "answer": title,
        "kind": title,
        "options": _options,
        "within": title,
        "mistakes": several(_mistake, 0),
        "hints": several(title, 0),
        "solution": words,
        "caution": words,
    },
    NEEDED,
)
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
        raise InputError(where, "has no [[exercise]] in it")
    made = {}
    for place, entry in enumerate(entries, 1):
        try:
            task = _made(entry)
            if task.key in made:
                raise InputError("name", f"{quote(entry['name'])} is there twice")
        except InputError as error:
            said = f"{error.name.removeprefix('exercise.')} {error.problem}".strip()
            raise InputError(f"{where}, exercise {place}", said, error.mend) from error
        made[task.key] = task
    return tuple(made.values())


def _made(entry):
    """Return one exercise of what stands in the file."""
    found = _ENTRIES(entry, "exercise")
    if ("kind" in found) == ("options" in found):
        raise InputError("kind", "give kind or options, and only one of the two")
    kind, options = found.get("kind"), found.get("options")
    return Exercise(
        f"l{found['lesson']}-task-{found['name']}",
        found["question"],
        found["answer"] if options else read(found["answer"], kind, "answer"),
        kind=kind,
        options=options,
        within=found.get("within", "2 %"),
        common_wrong=found.get("mistakes", ()),
        hints=found.get("hints", ()),
        solution=found.get("solution", ""),
        caution=found.get("caution", ""),
    )
