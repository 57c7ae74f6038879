"""Which panels of lesson 05 are about vectors? A knock, two bare totals, re-indexing a part."""

import numpy as np

from workshop_lib.drawings import page
from workshop_lib.drawings.run_out_charts import explained_chart, indexed, knock
from workshop_lib.lessons.run_out.panels_readings import UNITS
from workshop_lib.quantities import Q_, InputError, show
from workshop_lib.run_out import Readings, separate, shift_between, shifts_that_explain
from workshop_lib.teaching.fields import Choice, Field
from workshop_lib.teaching.panels import Scene, View

QUARTERS = np.radians([0, 90, 180, 270])


def clocked_as(total, high_spot, index="0 deg"):
    """The four readings that a round part with this total and high spot shows: `Readings`."""
    readings = total / 2 * np.cos(QUARTERS - high_spot.m_as("rad"))
    return Readings(Q_(QUARTERS, "rad"), readings, index=index, graduation="1 um")


def total_field(name, label, start):
    """A field for an indicator total, not for an eccentricity."""
    return Field(name, label, "length >= 0", start, slider=(0, 20, 0.25))


def mark_field(name, label, start):
    """A field for the mark at which a high spot stands."""
    return Field(name, label, "angle", start, slider=(0, 360, 5))


def knock_scene():
    """A total and a high spot before and after: the one shift that explains both."""
    fields = [
        total_field("before", "Total before", "6 thou"),
        mark_field("first", "High spot before, at mark", "0 deg"),
        total_field("after", "Total after", "8 thou"),
        mark_field("second", "High spot after, at mark", "90 deg"),
        Choice("unit", "Show results in", UNITS, "thou"),
    ]
    return Scene("What did the knock do?", fields, _judge_knock)


def _judge_knock(before, first, after, second, unit):
    old, new = clocked_as(before, first).fit(), clocked_as(after, second).fit()
    shift = shift_between(old, new)
    size = show(shift.size, unit)
    towards = show(shift.direction) if shift.vector.core else "nowhere"
    rows = [
        ["Eccentricity before", show(before / 2, unit)],
        ["Eccentricity after", show(after / 2, unit)],
        ["Shift", size],
        ["… towards mark", towards],
        ["Without the marks: at least", show(abs(after - before) / 2, unit)],
        ["Without the marks: at most", show((after + before) / 2, unit)],
    ]
    words = f"It moved {size} towards mark {towards}" if shift.vector.core else "It did not move"
    table = page.table(rows, ["Knock", "Value"])
    return View(words, None, knock(old.vector, new.vector, unit), [table])


def totals_scene():
    """Two totals without angles: every shift that explains them."""
    fields = [
        total_field("before", "Total before", "2 thou"),
        total_field("low", "Total after, at least", "5 thou"),
        total_field("high", "Total after, at most", "6 thou"),
        Choice("unit", "Show results in", UNITS, "thou"),
    ]
    return Scene("Which shifts explain two totals?", fields, _judge_totals)


def _judge_totals(before, low, high, unit):
    if low > high:
        raise InputError(
            "high", "is smaller than the smallest total after", "Type the larger one here"
        )
    after = Q_([low.m_as("mm"), high.m_as("mm")], "mm")
    found = shifts_that_explain(before, after, points=121)
    least, most = show(found.least, unit), show(found.most, unit)
    words = f"It moved by at least {least} and at most {most}"
    chart = explained_chart(found, unit)
    rows = [
        ["Smallest shift that explains it", least],
        ["Largest shift that explains it", most],
        [
            "Difference between the totals",
            f"{show(low - before, unit)} to {show(high - before, unit)}",
        ],
        ["Possible directions (from the old high spot)", _directions(found)],
    ]
    alt = f"Shifts that explain both totals lie between {least} and {most}."
    remark = "A total has no direction. Note the mark of each high spot, and only one shift fits."
    details = [page.table(rows, ["Two totals", "Value"]), remark]
    return View(words, None, chart.picture(alt), details)


def _directions(found):
    if not found.first_direction.m:
        return "all"
    return f"from {show(found.first_direction)} to 180°"


def index_scene():
    """Clock, turn the part against the spindle, clock again: what turns with which?"""
    fields = [
        total_field("first", "First total", "6 thou"),
        mark_field("first_mark", "High spot at mark", "0 deg"),
        mark_field("index", "Part turned by", "180 deg"),
        total_field("second", "Second total", "4 thou"),
        mark_field("second_mark", "High spot now at mark", "60 deg"),
        Choice("unit", "Show results in", UNITS, "thou"),
    ]
    return Scene("Spindle or part?", fields, _judge_index)


def _judge_index(first, first_mark, index, second, second_mark, unit):
    tests = [clocked_as(first, first_mark), clocked_as(second, second_mark, index)]
    try:
        found = separate(tests)
    except InputError as error:
        raise InputError("index", error.problem, error.mend) from error
    spindle, part = complex(found.spindle.core), complex(found.part.core)
    sizes = [show(each.size, unit) for each in (found.spindle, found.part)]
    rows = [
        ["Turns with the spindle", sizes[0]],
        ["… its high spot at the spindle's mark", _mark(found.spindle)],
        ["Turns with the part", sizes[1]],
        ["… its high spot at the part's own mark", _mark(found.part)],
    ]
    larger = "the spindle" if abs(spindle) > abs(part) else "the part"
    words = f"Spindle {sizes[0]}, part {sizes[1]}"
    if not np.isclose(abs(spindle), abs(part), rtol=1e-6, atol=1e-9):
        words += f": check {larger} first"
    drawing = indexed(spindle, part, index, unit)
    table = page.table(rows, ["Eccentricity", "Value"])
    return View(words, None, drawing, [table, page.note(*found.remarks)])


def _mark(vector):
    return show(vector.angle) if vector.core else "none"
