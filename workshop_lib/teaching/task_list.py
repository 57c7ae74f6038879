"""Which exercises belong to which lesson? Found in its package by the name of the module."""

import importlib
import pkgutil
import re

from workshop_lib.launcher.environment import masters, own_lessons
from workshop_lib.teaching import own_exercises

# The packages of the lessons in `workshop_lib.lessons`, by number.
COURSE = (
    *("start", "holding", "slip", "light_cuts", "bearings", "run_out", "plan", "instruments"),
    "nose",
)
_HEADING = re.compile(r'"# [0-9]{2} · ([^"\\]+)')  # as a notebook's JSON has it


def lessons():
    """Return the numbers of the lessons that have exercises, such as "02"."""
    return [f"{number:02}" for number in range(len(COURSE)) if modules(f"{number:02}")]


def modules(number):
    """Return the modules of a lesson's exercises, such as `lessons.slip.exercises`."""
    if not (number.isdecimal() and int(number) < len(COURSE)):
        return []
    package = importlib.import_module(f"workshop_lib.lessons.{COURSE[int(number)]}")
    found = sorted(each.name for each in pkgutil.iter_modules(package.__path__))
    own = [name for name in found if name.startswith("exercises")]
    return [importlib.import_module(f"{package.__name__}.{name}") for name in own]


def tasks_of(number):
    """Return all exercises of a lesson: its own cells' first, those that a teacher added last."""
    built_in = tuple(task for module in modules(number) for task in module.tasks())
    return built_in + own_exercises.of_lesson(number)


def title_of(number):
    """Return a lesson's title, taken from its notebook; '' when there is no such notebook."""
    for path in [*masters(), *own_lessons()]:
        if path.name.startswith(f"{number}_"):
            heading = _HEADING.search(path.read_text(encoding="utf-8"))
            return heading[1].strip() if heading else ""
    return ""


def by_name(number):
    """Return the exercises of a lesson by the last part of their keys, such as "torque"."""
    return {task.key.rpartition("-task-")[2]: task for task in tasks_of(number)}
