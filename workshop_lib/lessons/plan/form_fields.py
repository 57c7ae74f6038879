"""Which entries of a job does the form ask for, and how does each stand in its field?"""

import re
from dataclasses import dataclass

from workshop_lib.lessons.shared_fields import facing_choice, sheet_choice
from workshop_lib.own_files import as_typed
from workshop_lib.plan import TOOL_NAMES
from workshop_lib.quantities import InputError, Quantity, quote, with_point
from workshop_lib.teaching.fields import Choice, Control, Text
from workshop_lib.torque import EDGES

WHICH, NAME = "which", "name"
EDGE_WORDS = {"fresh": "freshly ground or new", "in use": "in use"}
LONGEST_NAME, LONGEST = 60, 60
# Typed entries by their keys: what people read, and a word of help.
BOXES = {
    "sheet.thickness": ("Thickness of the sheet", "As your micrometer reads it."),
    "disc.diameter": ("Disc diameter, finished", ""),
    "blank.corners": ("Corners of the blank", "With equal sides: 4 is a square, 8 an octagon."),
    "blank.across_flats": ("Width of the blank, side to side", ""),
    "pad.outer_diameter": ("Pad, outer diameter", ""),
    "pad.inner_diameter": ("Pad, relieved middle", "Empty: it is not relieved."),
    "pad.facing_thickness": ("Thickness of the facing", "It decides how far the rim bends."),
    "nose.plate_diameter": (
        "Stiff plate between nose and sheet, diameter",
        "Empty: not known yet, and then the answer is “not yet”.",
    ),
    "thrust.force": ("Thrust", "From a scale between nose and pad, spindle stopped."),
    "thrust.uncertainty": (
        "Standard uncertainty of the thrust",
        "Empty: not known, and a tenth of the thrust counts.",
    ),
    "cut.depth": ("Depth of each pass", ""),
    "cut.finishing_depth": ("Depth of a last, lighter pass", "Empty: none."),
    "cut.feed": ("Feed in a turn", ""),
    "cut.speed": ("Speed", "One that your lathe has, such as 70 rev/min."),
    "cut.nose_radius": ("Nose radius of the tool", "Empty: not known; the worst usual one counts."),
    "cut.rake": ("Rake of the tool", "Such as 12 deg. Empty: none."),
    "cut.own_frequency": (
        "Note of toolpost and work when tapped",
        "In Hz. Empty: not known; the corners then count as full blows.",
    ),
    "rim.bend_allowed": ("Bend of the rim that you allow", ""),
}
OUTLINE = "blank.outline"
PATHS = {
    key.replace(".", "_"): key
    for key in ("sheet.material", *BOXES, OUTLINE, "pad.facing", "cut.tool", "cut.edge")
}
# Entries that say the same in another way: they go when the form's own is typed.
INSTEAD = {
    "sheet.thickness": ("sheet.readings",),
    "blank.corners": ("blank.side", "blank.clipped_corner", OUTLINE),
    OUTLINE: ("blank.corners", "blank.across_flats", "blank.side", "blank.clipped_corner"),
    "thrust.force": ("thrust.pull", "thrust.turn", "thrust.handwheel_torque", "thrust.screw"),
}


@dataclass(frozen=True)
class Box(Control):
    """An entry as it is typed; empty where nothing is said. What it means the job says."""

    name: str
    label: str
    start: str
    help: str = ""
    control = "typed"

    def read(self, given):
        """Return the text, a whole number, or None for an empty box."""
        if not isinstance(given, str) or len(given) > LONGEST:
            raise InputError(self.label, f"{quote(given)} cannot be used here")
        text = with_point(" ".join(given.split()))
        return int(text) if re.fullmatch("[0-9]{1,6}", text) else text or None

    def words(self, given):
        """Return what was typed, or that nothing was."""
        return str(given) or "not said"


@dataclass(frozen=True)
class Corners(Text):
    """The corners of an outline, one in a line; empty for a blank with equal sides."""

    def read(self, given):
        """Return the corners as pairs of text, or None."""
        if not isinstance(given, str) or not given.strip():
            return None
        lines = [line for line in super().read(given).splitlines() if line.strip()]
        pairs = [[part.strip() for part in re.split("[,;]", line)] for line in lines]
        if any(len(pair) != 2 or not all(pair) for pair in pairs):
            mend = "Write each as 0 mm, 85 mm"
            raise InputError(self.label, "each line needs two lengths: across and up", mend)
        return pairs

    def words(self, given):
        """Return how many corners it has."""
        return super().words(given) if str(given).strip() else "not said"


@dataclass(frozen=True)
class Name(Box):
    """The name of a job, after which its file is called."""

    def read(self, given):
        """Return the name; InputError for none."""
        if not isinstance(given, str) or not given.strip() or not given.isprintable():
            raise InputError(self.label, "it has no name", "Type a name, such as My cover")
        return " ".join(given.split())[:LONGEST_NAME]


def form_fields(job, names, which):
    """The fields of the form, as they stand for a job. names: what may be opened, by key."""
    boxes = {key: _box(job, key) for key in BOXES}
    lines = "\n".join(", ".join(map(as_typed, each)) for each in job.values.get(OUTLINE) or ())
    outline = Corners("blank_outline", "Corners of a blank of another shape", lines, rows=3,
                      help="One in a line, across and up, such as 0 mm, 85 mm.")  # fmt: skip
    tool = Choice("cut_tool", "Tool", TOOL_NAMES, job["cut.tool"])
    edge = Choice("cut_edge", "Its edge", {key: EDGE_WORDS[key] for key in EDGES},
                  job["cut.edge"] or EDGES[-1])  # fmt: skip
    facing = facing_choice(job["pad.facing"])
    sheet = sheet_choice(job["sheet.material"])
    fixed = {
        "sheet.thickness": [_named(sheet, "sheet_material")],
        "pad.outer_diameter": [outline],
        "pad.facing_thickness": [_named(facing, "pad_facing")],
        "cut.nose_radius": [tool, edge],
    }
    fields = [Choice(WHICH, "Open", names, which)]
    fields.append(Name(NAME, "Name of the job", job["about.title"], "Its file is called after it."))
    for key, box in boxes.items():
        fields += [*fixed.get(key, ()), box]
    return fields


def _named(choice, name):
    return Choice(name, choice.label, choice.options, choice.start, choice.help)


def _box(job, key):
    label, help_ = BOXES[key]
    others = [other for other in INSTEAD.get(key, ()) if other in job.values]
    if others and key not in job.values:
        help_ = f"Empty: as the file says under {others[0]}."
    return Box(key.replace(".", "_"), label, shown(job, key), help_)


def shown(job, key):
    """An entry as it stands in its box."""
    value = job.values.get(key)
    if value is None:
        return ""
    return as_typed(value) if isinstance(value, Quantity) else str(value)


def typed(job, values):
    """The job's entries that the form changes: by key, None for what goes.

    values: {field: value} as the fields read them. What stands as it was shown is left as it is.
    """
    entries = {}
    for name, value in values.items():
        key = PATHS[name]
        was = job.values.get(key)
        if key == OUTLINE:
            same = value == (was and [[as_typed(part) for part in each] for each in was])
        else:
            same = (value or "") == (shown(job, key) or "") or str(value) == shown(job, key)
        if same or (value is None and was is None):
            continue
        entries[key] = value
        if value is not None:
            entries |= {o: None for o in INSTEAD.get(key, ()) if o in job.values}
    return entries
