"""What is in your shop? The panel of lesson 00 that writes `my_shop.toml`."""

import re

from workshop_lib import shop
from workshop_lib.bearings import bearings
from workshop_lib.drawings import page
from workshop_lib.drawings.bearing_drawings import thrust_view
from workshop_lib.lessons.shared_fields import facing_choice
from workshop_lib.load_path import highest_thrust, trace
from workshop_lib.own_files import languages
from workshop_lib.quantities import (
    ENGLISH,
    InputError,
    language,
    rounded_down,
    show,
    speaking,
    system,
)
from workshop_lib.teaching.fields import Choice, Field, Text
from workshop_lib.teaching.panels import Scene, View
from workshop_lib.teaching.writing import Button, WritingPanel, Written, sheet_of

SYSTEMS = {"metric": "metric: mm, N, m/min", "inch": "inch: in and thou, lbf, ft/min"}
SPEEDS = "60, 105, 190, 300, 500, 900"
NO_READINGS = "# pull on the handle: thrust on a scale, such as\n# 10 lbf: 85 lbf"
MOST = 60  # lines or numbers in one text


def shop_scene():
    """Your lathe, nose and pad, and whether you think in inch or metric."""
    names = {each.designation: each.designation for each in bearings("deep_groove")}
    fields = [
        Choice("units", "Units", SYSTEMS, system() or "metric"),
        Choice("language", "Language of the panels", languages(), language(),
               help="German so far in lesson 02; what has no translation stays English."),
        Text("speeds", "Speeds of your lathe, rev/min", SPEEDS, rows=2),
        Field("swing", "Swing over the bed", "length > 0", "230 mm", slider=(100, 600, 10)),
        Field("highest", "Thrust that your tailstock may take", "force > 0", "900 N",
              slider=(100, 5000, 50)),
        Text("readings", "Thrust at known pulls", NO_READINGS, rows=4,
             help="One in a line; three or more."),
        Choice("front", "Front bearing of your nose", names, "6001"),
        Choice("rear", "Rear bearing", names, "6001"),
        Field("overhang", "Tip to front bearing", "length > 0", "25 mm", slider=(5, 100, 1)),
        Field("span", "Front to rear bearing", "length > 0", "32 mm", slider=(5, 100, 1)),
        Field("plate", "Plate between nose and sheet", "length > 0", "100 mm",
              slider=(20, 150, 1)),
        Field("pad", "Pad, outer diameter", "length > 0", "100 mm", slider=(20, 150, 1)),
        facing_choice("leather"),
        Field("thickness", "Thickness of the facing", "length > 0", "3 mm", slider=(0.5, 10, 0.5)),
    ]  # fmt: skip
    return Scene("What is in your shop?", fields, _judge_shop)


def shop_panel():
    """The same as a panel with buttons: one writes `my_shop.toml`, one its nose's making sheet."""
    return WritingPanel(
        shop_scene(),
        Button("save", "Write my_shop.toml", _saved),
        Button("sheet", "Write the nose's making sheet", _sheet),
    )


def _saved(**values):
    before = shop.found()
    made = shop.save(file_text(before, **values), before=before)
    return Written(
        f"Written: {made.file.name}, beside your lessons. Lessons that you open now speak it."
    )


def _sheet(**values):
    own = shop.parse(file_text(None, **values))
    with speaking(own.units):
        return sheet_of(own.nose("mine").design, "mine")


def _judge_shop(**values):
    own = shop.parse(file_text(None, **values))
    design = own.nose("mine").design
    with speaking(own.units):
        most = highest_thrust(design)
        pressed = show(rounded_down(most), figures=2)
        found = trace(design, most)
        words = f"Your nose may press up to {pressed}: then the {found.weakest.name} is at its "
        words += f"limit ({found.weakest.governs})"
        rows = [
            ["Lathe", ", ".join(f"{each.m:g}" for each in own.lathe.speeds) + " rev/min"],
            ["Thrust by calibration", _calibrated(own.lathe.calibration)],
            ["Nose", f"front {values['front']}, rear {values['rear']}"],
            ["Pad", f"{show(own.pad('main')['outer_diameter'])}, {own.pad('main')['facing']}"],
        ]
        drawing = thrust_view(found, listed=False)
    return View(words, None, drawing, [page.table(rows, ["Part", "In your shop"])])


def _calibrated(calibration):
    if calibration is None:
        return "none yet"
    last = calibration.given[-1]
    found = calibration.thrust_at(last)
    return f"{show(last)} on the handle gives {show(found.value)}, at least {show(found.low)}"


def file_text(before, units, language, speeds, swing, highest, readings, front, rear, overhang,
              span, plate, pad, facing, thickness):  # fmt: skip
    """The text of the shop file with these values; comments and other entries of before stay."""
    lathe = {"speeds": _speeds(speeds), "swing": swing, "highest_thrust": highest}
    if (read := _readings(readings)) is not None:
        lathe["calibration"] = read
    nose = {
        "design": "pressure_nose",
        "bearings": {"front": front, "rear": rear},
        "overhang": overhang,
        "span": span,
        "plate_diameter": plate,
    }
    own_pad = {"outer_diameter": pad, "facing": facing, "facing_thickness": thickness}
    spoken = {"system": units, "language": None if language == ENGLISH else language}
    parts = [("units", spoken, None), ("lathe", lathe, None), ("nose", nose, "mine"),
             ("pads", own_pad, "main")]  # fmt: skip
    text = before
    for part, entries, name in parts:
        text = shop.changed(text, part, entries, name)
    try:
        shop.parse(text)
    except shop.ShopFaults as error:
        raise _at_field(error.faults[0]) from error
    return text


_FIELDS = {
    "lathe.speeds": "speeds",
    "lathe.calibration": "readings",
    "nose.mine.bearings": "rear",
    "nose.mine.overhang": "overhang",
    "nose.mine.span": "span",
    "lathe.swing": "swing",
}


def _at_field(fault):
    """A fault of the file, said at the field that it comes from."""
    key = fault.name.rpartition(", ")[2]
    name = next((field for start, field in _FIELDS.items() if key.startswith(start)), key)
    return InputError(name, fault.problem, fault.mend)


def _lines(text):
    found = [line.strip() for line in text.splitlines()]
    return [line for line in found if line and not line.startswith("#")]


def _speeds(text):
    """The speeds of a text: numbers apart by commas, in rev/min where no unit stands behind."""
    parts = [each.strip() for line in _lines(text) for each in re.split(r"[,;]", line)]
    parts = [each for each in parts if each]
    if not 0 < len(parts) <= MOST:
        raise InputError("speeds", "no speeds were typed", "Write them as 60, 105, 190")
    return [f"{each} rev/min" if re.fullmatch(r"[0-9.]+", each) else each for each in parts]


def _readings(text):
    """The calibration of a text with “pull: thrust” in each line, or None."""
    lines = _lines(text)
    if not lines:
        return None
    pairs = [[each.strip() for each in line.split(":")] for line in lines]
    if any(len(pair) != 2 for pair in pairs):
        raise InputError("readings", "each line needs a pull and a thrust", "Write 10 lbf: 85 lbf")
    return {"pulls": [pull for pull, _ in pairs], "thrusts": [thrust for _, thrust in pairs]}
