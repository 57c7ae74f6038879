"""Which exercises belong to which lesson: found by the names of their modules, `tasks_NN…`."""

import importlib
import pkgutil
import re

from workshop_lib import lesson
from workshop_lib.launcher.environment import ROOT

_HEADING = re.compile(r'"# [0-9]{2} · ([^"\\]+)')  # as a notebook's JSON has it
_NAME = re.compile(r"tasks_([0-9]{2})(_[a-z]+)?")


def modules():
    """Return the names of the modules of exercises, by lesson and in their order."""
    found = sorted(each.name for each in pkgutil.iter_modules(lesson.__path__))
    return [name for name in found if _NAME.fullmatch(name)]


def lessons():
    """Return the numbers of the lessons that have exercises, such as "02"."""
    return sorted({_NAME.fullmatch(name)[1] for name in modules()})


def tasks_of(number):
    """Return all exercises of a lesson, those of the lesson's own cells first."""
    own = [name for name in modules() if _NAME.fullmatch(name)[1] == number]
    imported = (importlib.import_module(f"workshop_lib.lesson.{name}") for name in own)
    return tuple(task for module in imported for task in module.tasks())


def title_of(number):
    """Return a lesson's title, taken from its notebook; '' when there is no such notebook."""
    for path in sorted((ROOT / "notebooks").glob(f"{number}_*.ipynb")):
        heading = _HEADING.search(path.read_text(encoding="utf-8"))
        return heading[1].strip() if heading else ""
    return ""


def by_name(number):
    """Return the exercises of a lesson by the last part of their keys, such as "torque"."""
    return {task.key.rpartition("-task-")[2]: task for task in tasks_of(number)}
