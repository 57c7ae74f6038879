"""Which panels of lesson 06 ask whether the finished disc is round and to size?"""

import numpy as np

from workshop_lib.drawings import page
from workshop_lib.drawings.round_drawings import in_vee, rim_shape
from workshop_lib.instruments import measure_rim, pins_apart, vee_factor
from workshop_lib.plan import brief, judge_shape, judge_size
from workshop_lib.quantities import Q_, InputError, either, show
from workshop_lib.run_out import lengths_from_text
from workshop_lib.teaching.fields import Choice, Count, Field, Switch, Text
from workshop_lib.teaching.panels import Scene, View

UNITS = {"mm": "mm", "um": "µm", "in": "in", "thou": "thou"}
VEES = (60, 90, 108, 120)
PINS = Q_(6.0, "mm"), Q_(0.25, "inch")

# What a class read on the 78 mm cover (invented): the micrometer every 36° from the mark, and in a
# V-block every 30°, the dial set to nought at the mark.
DIAMETERS = """77.98
77.98
77.99
77.98
77.98"""
IN_VEE = "0, -30, -58, -32, 2, -30, -60, -28, 0, -32, -60, -30"
# The same disc where inch is spoken, in inches and thou.
IN_INCHES = """3.0490
3.0490
3.0494
3.0490
3.0490"""
IN_THOU = "0, -1.2, -2.3, -1.3, 0.1, -1.2, -2.4, -1.1, 0, -1.3, -2.4, -1.2"


def vee_scene():
    """Turn a lobed disc in a V and watch what the needle shows of it."""
    fields = [
        Count("lobes", "Lobes", 3, slider=(2, 12)),
        Field("height", "Height of the lobes", "length > 0", "0.02 mm", slider=(0.005, 0.1, 0.005)),
        Field("vee", "Angle of the V", "angle > 0", "90 deg", slider=(30, 180, 1)),
        Field("turned", "Disc turned by", "angle", "0 deg", slider=(0, 360, 5)),
        Field("disc", "Disc diameter", "length > 0", "78 mm", slider=(20, 200, 1)),
    ]
    return Scene("What does a V show of the lobes?", fields, _judge_vee)


def _judge_vee(lobes, height, vee, turned, disc):
    try:
        factor = float(vee_factor(lobes, vee))
    except InputError as error:
        raise InputError("vee", error.problem, error.mend) from error
    total, across = abs(factor) * height, abs(float(vee_factor(lobes, "180 deg"))) * height
    total, across = (Q_(float(np.round(each.m_as("mm"), 9)), "mm") for each in (total, across))
    now = factor * height.m_as("mm") / 2 * np.cos(lobes * turned.m_as("rad"))
    shown = Q_(float(np.round(now, 9)), "mm")
    words = f"The needle swings {_fine(total)} in a turn, for lobes {_fine(height)} high"
    if not total.m > 0:
        words = f"The needle stands still: this V hides {lobes} lobes altogether"
    rows = [[f"V of {angle}°", *_told(lobes, Q_(angle, "deg"), height)] for angle in VEES]
    rows.append(["micrometer, or a flat", *_told(lobes, Q_(180, "deg"), height)])
    details = [page.table(rows, ["Instrument", "Factor", "Shows"])]
    if vee.m_as("deg") <= 120:
        pin = either(*PINS)
        apart = pins_apart(disc, pin, vee)
        details.append(
            f"Two pins of {show(pin)}, {show(apart)} apart from middle to middle, are this V for a "
            f"disc that lies flat: {show(disc)} across."
        )
    return View(words, None, in_vee(lobes, vee, turned, shown).figure(), details)


def _fine(length):
    return brief(length, 3)


def _told(lobes, vee, height):
    factor = abs(float(vee_factor(lobes, vee)))
    shown = Q_(float(round(factor * height.m_as("mm"), 9)), "mm")
    return f"{factor:.2f}", _fine(shown)


def rim_scene():
    """Type or paste what was measured, and see whether the disc is round and to size."""
    hint = "One in each line. A reading may carry its own unit."
    text, unit, shown, small = either(
        (DIAMETERS, "mm", IN_VEE, "um"), (IN_INCHES, "in", IN_THOU, "thou")
    )
    fields = [
        Text("diameters", "Diameters, evenly over half a turn", text, help=hint, rows=6),
        Choice("unit", "Unit of the diameters", UNITS, unit),
        Field(
            "division",
            "Division of the micrometer",
            "length > 0",
            "0.01 mm",
            slider=(0.001, 0.05, 0.001),
        ),
        Switch("turned", "Also turned in a V", True),
        Text("readings", "Readings in the V, evenly over a turn", shown, help=hint, rows=3),
        Choice("dial_unit", "Unit of these readings", UNITS, small),
        Field(
            "dial", "Division of the dial", "length > 0", "0.002 mm", slider=(0.001, 0.02, 0.001)
        ),
        Field("vee", "Angle of the V", "angle > 0", "90 deg", slider=(60, 120, 1)),
        Field("wanted", "Diameter wanted", "length > 0", "78 mm", slider=(20, 200, 1)),
        Field(
            "tolerance", "Allowed, either way", "length > 0", "0.05 mm", slider=(0.01, 0.5, 0.01)
        ),
        Field(
            "allowed",
            "Departure from round allowed",
            "length > 0",
            "0.02 mm",
            slider=(0.005, 0.2, 0.005),
        ),
    ]
    words = {"yes": "Good", "no": "Not good", "open": "Cannot be told"}
    return Scene("Is it round, is it to size?", fields, _judge_rim, words=words)


def _judge_rim(
    diameters, unit, division, turned, readings, dial_unit, dial, vee, wanted, tolerance, allowed
):
    rows = {"diameters": _row("diameters", diameters, unit)}
    if turned:
        in_the_vee = _row("readings", readings, dial_unit)
        rows |= {"vee_readings": in_the_vee, "vee_angle": vee, "dial_division": dial}
    try:
        found = measure_rim(division=division, **rows)
    except InputError as error:
        names = {"vee_readings": "readings", "vee_angle": "vee", "dial_division": "dial"}
        raise InputError(names.get(error.name, error.name), error.problem, error.mend) from error
    read = found.smallest, found.largest
    judged = judge_size(read, wanted, tolerance, division), judge_shape(found, allowed)
    grades = [each.holds for each in judged]
    holds = next(each for each in ("no", "open", "yes") if each in grades)
    words = " ".join(each.sentence for each in judged)
    table = [
        [each.name, brief(each.height), f"{abs(each.factor):.2f}", "yes" if each.told else "no"]
        for each in found.lobes
    ]
    hidden = ", ".join(str(each) for each in found.hidden)
    details = [page.table(table, ["Lobes", "Hollow to crest", "Factor", "More than scatter"])]
    details += [f"No reading here tells these numbers of lobes: {hidden}."] * bool(hidden)
    details += [change.sentence for each in judged for change in each.changes]
    return View(words, holds, rim_shape(found).figure(), details)


def _row(name, text, unit):
    """The lengths of a text field; what is wrong with them is said at that field."""
    try:
        return lengths_from_text(text, unit)
    except InputError as error:
        raise InputError(name, error.problem, error.mend) from error
