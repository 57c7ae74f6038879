"""What do the first cells of a lesson say? One line that all is ready, and a closer look."""

import importlib
import os
import sys

from workshop_lib import gauges, materials, shop, sources
from workshop_lib.drawings import page
from workshop_lib.friction import Pad, torque_capacity
from workshop_lib.launcher import answers
from workshop_lib.own_files import speak_language
from workshop_lib.quantities import InputError, show, speak
from workshop_lib.slip import holding

NEEDED = ("numpy", "matplotlib", "pint", "ipywidgets", "anywidget")


def ready():
    """Print one line that says the library answers; a broken set-up raises on import instead.

    Where `my_shop.toml` stands beside the lesson, its system of units is spoken from here on; one
    that cannot be read is named, and stops nothing.
    """
    materials.materials(), materials.facings()
    print(f"Ready.{_spoken()}")  # noqa: T201 - a lesson prints one line


def wake():
    """Speak the units of the shop of a learner who works here, so that any cell may run first."""
    if answers.VARIABLE in os.environ:
        _spoken()


def _spoken():
    try:
        own = shop.found()
    except InputError as error:
        return f" Your shop file is left out: {str(error).splitlines()[-1].strip()}"
    if own is None:
        return ""
    return _speak_language(own.language) + _speak_units(own.units)


def _speak_language(code):
    try:
        speak_language(code)
    except InputError as error:
        return f" The panels stay English: {error}"
    return ""


def _speak_units(units):
    if units is None:
        return ""
    speak(units)
    return f" Units: {units}, as {shop.NAME} says."


def look_over():
    """Try each part of the set-up and report in a table.

    Returns a page block with one row for each part: what was tried and what came back.
    """
    held = torque_capacity(Pad("30 mm"), "600 N", 0.2)
    right = abs(held.m_as("N*m") - 1.2) < 1e-9  # by hand: 2/3 × 15 mm × 0.2 × 600 N
    new_enough = sys.version_info >= (3, 11)
    rows = [["Python", "3.11 or newer" if new_enough else "too old: install 3.11 or newer"]]
    rows += [[name, _imported(name)] for name in NEEDED]
    rows += [
        ["tables", f"{len(gauges.tables())} gauge tables, {len(materials.materials())} sheets"],
        ["ways of holding", str(len(holding.ways()))],
        ["sources", "every one found" if sources.all_sources() else "none found"],
        ["a sum", "comes out right" if right else f"wrong: {show(held)}. Ask before you go on"],
    ]
    return page.table(rows, ["Part", "What it says"], "Installation check")


def _imported(name):
    try:
        importlib.import_module(name)
    except ImportError:
        return "missing: close this, and start the workbook with the README's first command"
    return "found"
