"""Every field of every panel, prediction and exercise as a target: what it takes is what was typed.

A field of a quantity is held against the second reader both ways: it may take nothing else, and it
may not refuse what people write.
"""

import functools

from tests.fuzz import scenes
from tests.fuzz.law import Wrong
from tests.fuzz.misread import misread, should_be_taken
from workshop_lib.launcher.environment import masters
from workshop_lib.quantities import InputError
from workshop_lib.teaching import class_answers, task_list
from workshop_lib.teaching.fields import Field


def read(field, given):
    """Let a field read, place its slider and say what it took."""
    try:
        found = field.read(given)
    except InputError:
        kind, _, sign = getattr(field, "kind", "").partition(" ")
        if isinstance(given, str) and kind and should_be_taken(given, kind, sign):
            raise Wrong(f"{given!r} should be read as {field.kind}") from None
        raise
    wrong = misread(given, found) if isinstance(field, Field) else ""
    if wrong:
        raise Wrong(wrong)
    field.position(given)
    field.words(given)


@functools.cache
def fields():
    """{name: field} of all panels and predictions; equal ones stand there once."""
    found = {}
    for title in scenes.scenes():
        found |= {f"{title}.{each.name}": each for each in scenes.made(title).fields}
    for path in masters():
        found |= {f"prediction {each.key}": each.field for each in class_answers.predictions(path)}
    return found


@functools.cache
def tasks():
    """{key: exercise} of the course."""
    return {task.key: task for number in task_list.lessons() for task in task_list.tasks_of(number)}


def _answered(task, given):
    if "Traceback" in task.judged(given).block().text():
        raise Wrong("a traceback in the feedback")


def targets():
    """Yield (name, function of a random source) for every field and exercise."""
    for name, field in fields().items():

        def prepare(rng, field=field):
            given = scenes.entry(rng, field)
            return lambda: read(field, given), {"given": given}

        yield f"field {name}", prepare
    for key, task in tasks().items():

        def prepare(rng, task=task):
            given = scenes.entry(rng, task.field)
            return lambda: _answered(task, given), {"given": given}

        yield f"field exercise {key}", prepare
