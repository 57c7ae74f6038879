"""What can a shop file contain? For each key how it is read, and what it means."""

import re
from typing import NamedTuple

from workshop_lib.bearings import KINDS_OF_BEARING
from workshop_lib.friction import PRESSURES
from workshop_lib.load_path import PUSHED, designs
from workshop_lib.materials import CONDITIONS, facings
from workshop_lib.own_files import (
    group,
    languages,
    named,
    plain,
    quantity,
    rising,
    several,
    title,
    words,
)
from workshop_lib.quantities import SYSTEMS, InputError, quote


class Entry(NamedTuple):
    """One key of a part of the shop: how it is read, what it means."""

    read: object
    means: str


def _keys(call):
    return lambda: [each.key for each in call()]


LENGTH, ANY_LENGTH, FORCE = quantity("length > 0"), quantity("length >= 0"), quantity("force > 0")
SPEED, FASTEST = quantity("speed > 0"), 1e6
BEARING = group(
    {
        "kind": named(lambda: [kind for kind in KINDS_OF_BEARING if kind in BALLS], "kind"),
        **dict.fromkeys(("bore", "outside_diameter", "width"), LENGTH),
        **dict.fromkeys(("dynamic_rating", "static_rating"), FORCE),
    },
    required=(
        "kind",
        "bore",
        "outside_diameter",
        "width",
        "dynamic_rating",
        "static_rating",
    ),
)
BALLS = ("deep_groove", "angular_contact", "thrust_ball")
CALIBRATION = group(
    {
        "pulls": several(FORCE, 3, 60),
        "turns": several(quantity("angle > 0"), 3, 60),
        "thrusts": several(FORCE, 3, 60),
        "graduation": FORCE,
    },
    required=("thrusts",),
)


def _or_class(reader):
    """Read a tolerance or clearance class, which begins with a letter, or a length."""

    def convert(value, key):
        if isinstance(value, str) and value[:1].isalpha():
            return words(value, key)
        return reader(value, key)

    return convert


def _each_place(reader):
    """Read one value, or a table with one for each place."""

    def convert(value, key):
        if not isinstance(value, dict):
            return reader(value, key)
        return {str(place): reader(each, f"{key}.{place}") for place, each in value.items()}

    return convert


def _places(reader):
    """Read a table with one value for each place."""

    def convert(value, key):
        if not isinstance(value, dict):
            mend = "Give one for each place, such as { front = …, rear = … }"
            raise InputError(key, f"{quote(value)} does not say which place", mend)
        return {str(place): reader(each, f"{key}.{place}") for place, each in value.items()}

    return convert


def _bearing(value, key):
    """Read a designation, or a table of typed sizes and ratings."""
    if isinstance(value, dict):
        return BEARING(value, key)
    if isinstance(value, int) and not isinstance(value, bool):
        return str(value)
    return title(value, key)


def _speed(value, key):
    """Read a speed of the spindle; a bare number is one in rev/min, as on a lathe's plate."""
    bare = isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < FASTEST
    digits = isinstance(value, str) and re.fullmatch(r"[0-9]{1,6}(\.[0-9]{1,3})?", value.strip())
    return SPEED(f"{value} rev/min" if bare or digits else value, key)


UNITS = {
    "system": Entry(named(lambda: SYSTEMS, "system of units"), "Units that the workbook shows"),
    "language": Entry(named(languages, "language"), "Language of the panels: its code"),
}
LATHE = {
    "name": Entry(words, "What you call it"),
    "speeds": Entry(several(_speed, 1, 60), "Speeds of the spindle, in rev/min"),
    "swing": Entry(LENGTH, "Largest diameter that turns over the bed"),
    "highest_thrust": Entry(FORCE, "Thrust that its tailstock and spindle can take"),
    "calibration": Entry(CALIBRATION, "Thrust on a scale at known pulls or turns"),
}
NOSE = {
    "design": Entry(named(_keys(designs), "design"), "Which of the three designs it is"),
    "bearings": Entry(_places(_bearing), "Bearing at each place"),
    "overhang": Entry(LENGTH, "From its tip to the middle of the first bearing"),
    "span": Entry(LENGTH, "From the first bearing to the last"),
    "positions": Entry(_places(LENGTH), "Instead: each bearing's distance behind the tip"),
    "fit": Entry(_each_place(_or_class(ANY_LENGTH)), "Bore: class, or play as measured"),
    "clearance": Entry(_each_place(_or_class(ANY_LENGTH)), "Play inside: class, or as measured"),
    "pushed": Entry(named(lambda: (*PUSHED, "none"), "choice"), "Inner ring that is pushed"),
    "spacing": Entry(quantity("length"), "How much later the rear ring is pushed"),
    "preload": Entry(quantity("force >= 0"), "Preload by the screwed cap"),
    "spindle": Entry(_each_place(LENGTH), "Diameter of the spindle before each bearing"),
    "seats": Entry(_places(words), "Class of the shaft under each bearing"),
    "faces": Entry(_places(LENGTH), "Diameters of shoulder, sleeve and floor"),
    "plate_diameter": Entry(LENGTH, "Stiff plate between nose and sheet"),
    "notes": Entry(words, "Anything worth keeping"),
}
PAD = {
    "outer_diameter": Entry(LENGTH, "Outer diameter"),
    "inner_diameter": Entry(ANY_LENGTH, "Diameter of its relieved middle"),
    "pressure": Entry(named(lambda: PRESSURES, "pressure law"), "How the thrust spreads"),
    "facing": Entry(named(_keys(facings), "facing"), "What it is faced with"),
    "facing_thickness": Entry(LENGTH, "Thickness of the facing"),
    "condition": Entry(named(lambda: CONDITIONS, "condition"), "Dry or oily"),
    "friction": Entry(rising(plain(">= 0", 10.0)), "Your own friction: low, typical, high"),
}
PARTS = {"units": UNITS, "lathe": LATHE, "nose": NOSE, "pads": PAD}
NAMED = ("nose", "pads")  # parts of which there may be several, each by its name
REQUIRED = {"nose": ("design", "bearings"), "pads": ("outer_diameter", "facing")}


def reader_of(part):
    """The reader of a part's table."""
    return group({name: entry.read for name, entry in PARTS[part].items()}, REQUIRED.get(part, ()))


def entries():
    """What can a shop file contain? Rows of key and meaning."""
    rows = []
    for part, known in PARTS.items():
        head = f"{part}.NAME" if part in NAMED else part
        rows += [[f"{head}.{name}", entry.means] for name, entry in known.items()]
    return rows
