"""What can a job say? For each key, what is allowed there and what it means.

One table says all: loading, saving, the page of entries for people and the tests follow from it.
To add an entry, give it a row here and an example in `entry_examples.py`, and use it in `job.py`.
"""

import re
from typing import NamedTuple

from workshop_lib.friction import PRESSURES
from workshop_lib.gauges import SOLD_BY, thickness
from workshop_lib.gauges import tables as gauge_tables
from workshop_lib.load_path import designs
from workshop_lib.materials import BARE, CONDITIONS, facings, materials
from workshop_lib.own_files import (
    as_key,
    group,
    named,
    plain,
    quantity,
    rising,
    several,
    switch,
    title,
    whole,
    words,
)
from workshop_lib.quantities import InputError, quote, show
from workshop_lib.run_out import PLACES, SURFACES
from workshop_lib.slip import MOST_DISCS
from workshop_lib.torque import CUTS, EDGES, TOOLS

STATES = ("planned", "turned")


class Entry(NamedTuple):
    """One key of a job file: how it is read, what it means, and whether it must be there."""

    read: object
    means: str
    required: bool = False


def _keys(call):
    return lambda: [each.key for each in call()]


LENGTH, ANY_LENGTH = quantity("length > 0", "10 m"), quantity("length >= 0", "10 m")
SHEET, FORCE = quantity("length > 0", "25 mm"), quantity("force > 0", "1000 kN")
COORDINATE = quantity("length")
PLACE = several(COORDINATE, 2, 2)
RATIO = plain("> 0", 10.0)
_GAUGE = re.compile(r"(?:no\.? ?)?([0-9]{1,2}) ?(?:ga\.?|gauge|swg|awg|bg)", re.IGNORECASE)
_GAUGE_NUMBER = whole(0, 60)


def _gauge(value, key):
    """Read a gauge number: 22, or a text such as "22 gauge" or "22 ga"."""
    if isinstance(value, str):
        found = _GAUGE.fullmatch(value.strip()) or re.fullmatch(r"([0-9]{1,2})", value.strip())
        value = int(found[1]) if found else value
    return _GAUGE_NUMBER(value, key)


def _thickness(value, key):
    """Read a thickness; a gauge number is answered with the tables that it may be of."""
    found = _GAUGE.fullmatch(value.strip()) if isinstance(value, str) and len(value) < 20 else None
    if found is None:
        return SHEET(value, key)
    problem = f"{quote(value)} is a gauge number, and each table gives it another thickness"
    mend = f"Write gauge = {found[1]} and gauge_table = one of: {gauge_offers(int(found[1]))}"
    raise InputError(key, problem, mend)


def gauge_offers(number, own=None):
    """What a gauge number is in each table by which sheet is sold; own: the table to name first."""
    offers = []
    for table in sorted(SOLD_BY, key=lambda each: each != own):
        try:
            offers.append(f"{table} ({show(thickness(number, table))})")
        except InputError:
            continue
    return ", ".join(offers)


SCREW = group(
    {
        "mean_diameter": LENGTH,
        "lead": LENGTH,
        "flank_angle": quantity("angle >= 0"),
        "friction_coefficient": plain(">= 0", 10.0),
        "collar_diameter": ANY_LENGTH,
        "collar_friction": plain(">= 0", 10.0),
    },
    required=("mean_diameter", "lead", "flank_angle", "friction_coefficient"),
)
FREQUENCY = quantity("frequency > 0")
_SPECTRUM = group(
    {"low": FREQUENCY, "high": FREQUENCY, "below": several(plain(">= 0", 300.0), 24)},
    required=("low", "high", "below"),
)


def _spectrum(value, key):
    """Read a sound pitch by pitch: how many dB each stretch lies below the loudest."""
    found = _SPECTRUM(value, key)
    if found["high"] <= found["low"]:
        raise InputError(f"{key}.high", "must be higher than low")
    return found


NOTE = {
    "frequency": FREQUENCY,
    "uncertainty": FREQUENCY,
    "across": LENGTH,
    "date": title,
    "spectrum": _spectrum,
}
HEARD = ("frequency", "uncertainty", "date")
SCAN = {
    "diameter": LENGTH,
    "uncertainty": LENGTH,
    "roundness": ANY_LENGTH,
    "roundness_uncertainty": LENGTH,
    "date": title,
    "heights": several(COORDINATE, 24, 720),
}
TEST = group(
    {
        "where": named(lambda: PLACES, "place"),
        "what": named(lambda: SURFACES, "surface"),
        "state": words,
        "name": words,
        "total": ANY_LENGTH,
        "angles": several(quantity("angle"), 3, 2000),
        "readings": several(COORDINATE, 3, 2000),
        "position": COORDINATE,
        "index": quantity("angle"),
        "graduation": LENGTH,
    },
    required=("where",),
)
SETTABLE = ("blank", "pad", "thrust", "cut", "nose")  # parts of a job that an attempt may set


def _settings(value, key):
    """Read what was set in an attempt: entries of the job, such as { cut.depth = "0.2 mm" }."""
    if not isinstance(value, dict):
        raise InputError(
            key, f"{quote(value)} is not a table of settings", 'Write { cut.depth = "0.2 mm" }'
        )
    found = {}
    for name, item in value.items():
        inside = isinstance(item, dict)
        if name.partition(".")[0] not in SETTABLE:
            mend = f"An attempt may set {', '.join(SETTABLE)}"
            raise InputError(f"{key}.{as_key(name)}", "cannot be set in an attempt", mend)
        found |= {f"{name}.{each}": one for each, one in item.items()} if inside else {name: item}
    known = {n: entry.read for n, entry in ENTRIES.items() if n.partition(".")[0] in SETTABLE}
    return group(known)(found, key)


ATTEMPT = group(
    {"set": _settings, "happened": words, "changed": words, "slipped": switch},
    required=("happened",),
)
PLACES_ON_PAGE = ("opening", "set_up", "steps", "story", "end")
PHOTOGRAPH = group(
    {
        "file": title,
        "alt": title,
        "caption": words,
        "place": named(lambda: PLACES_ON_PAGE, "place on the page"),
    },
    required=("file", "alt"),
)
TROUBLE = group({"what": words, "why": words, "mended": words}, required=("what",))

ENTRIES = {
    "about.title": Entry(title, "What is made, in a few words", True),
    "about.purpose": Entry(words, "What it is for, and why it may have no hole"),
    "about.made_by": Entry(words, "Who writes this up"),
    "about.date": Entry(words, "When it was turned"),
    "about.state": Entry(named(lambda: STATES, "state"), "Stage of the job: planned or turned"),
    "sheet.material": Entry(named(_keys(materials), "material"), "Kind of sheet", True),
    "sheet.thickness": Entry(_thickness, "Thickness, as measured or as sold"),
    "sheet.readings": Entry(several(SHEET, 1, 200), "Micrometer readings of the thickness"),
    "sheet.gauge": Entry(_gauge, "Gauge number that it was sold as"),
    "sheet.gauge_table": Entry(named(gauge_tables, "gauge table"), "Table of that gauge"),
    "blank.corners": Entry(whole(3, 60), "Corners of a blank with equal sides"),
    "blank.across_flats": Entry(LENGTH, "Its width from side to side"),
    "blank.side": Entry(LENGTH, "Side of a square blank"),
    "blank.clipped_corner": Entry(ANY_LENGTH, "What is cut off each corner, along the side"),
    "blank.outline": Entry(several(PLACE, 3), "Corners of any other outline, pairs of lengths"),
    "blank.centre": Entry(PLACE, "Where the centre was marked; best place when left out"),
    "disc.diameter": Entry(LENGTH, "Diameter of the finished disc", True),
    "disc.count": Entry(whole(1, MOST_DISCS), "Discs squeezed and turned at once"),
    "disc.between": Entry(
        named(lambda: (BARE, *_keys(facings)()), "layer"), "What lies between them: nothing, card …"
    ),
    "disc.between_thickness": Entry(LENGTH, "Thickness of one such layer"),
    "disc.tolerance": Entry(LENGTH, "How far from its size the disc may be, either way"),
    "disc.roundness": Entry(LENGTH, "How far from round it may be, hollow to crest on the radius"),
    "pad.name": Entry(title, "Which pad of your shop"),
    "pad.outer_diameter": Entry(LENGTH, "Outer diameter of the driving pad", True),
    "pad.inner_diameter": Entry(ANY_LENGTH, "Diameter of its relieved middle"),
    "pad.pressure": Entry(named(lambda: PRESSURES, "pressure law"), "How the thrust spreads"),
    "pad.facing": Entry(named(_keys(facings), "facing"), "What the pad is faced with", True),
    "pad.facing_thickness": Entry(LENGTH, "Thickness of the facing"),
    "pad.pressure_tried": Entry(
        quantity("pressure > 0"), "Pressure that a piece of the pad facing has withstood"
    ),
    "pad.condition": Entry(
        named(lambda: CONDITIONS, "condition"), "State of the pad facing: dry or oily"
    ),
    "pad.friction": Entry(rising(plain(">= 0", 10.0)), "Your own friction: low, typical, high"),
    "thrust.force": Entry(FORCE, "Thrust of the tailstock that is aimed at"),
    "thrust.uncertainty": Entry(quantity("force >= 0"), "Standard uncertainty of that thrust"),
    "thrust.pull": Entry(FORCE, "Pull on the handle instead, as your lathe was calibrated"),
    "thrust.turn": Entry(quantity("angle > 0"), "Turn of the handwheel instead, as calibrated"),
    "thrust.handwheel_torque": Entry(quantity("torque > 0"), "Torque on the handwheel instead"),
    "thrust.screw": Entry(SCREW, "The tailstock's screw, for a torque on the handwheel"),
    "cut.kind": Entry(
        named(lambda: CUTS, "cut"), "Kind of cut: traverse (along the edge) or plunge"
    ),
    "cut.depth": Entry(LENGTH, "Depth of each pass, off the radius"),
    "cut.finishing_depth": Entry(LENGTH, "Depth of a last, lighter pass"),
    "cut.feed": Entry(quantity("feed > 0"), "Feed in one turn"),
    "cut.speed": Entry(quantity("speed > 0"), "Speed of the spindle", True),
    "cut.tool": Entry(named(lambda: TOOLS, "tool"), "Tool: hss (high-speed steel) or carbide"),
    "cut.approach_angle": Entry(quantity("angle > 0"), "Approach angle of a traverse cut"),
    "cut.nose_radius": Entry(ANY_LENGTH, "Nose radius of the tool"),
    "cut.rake": Entry(quantity("angle", "45 deg"), "Rake of the tool"),
    "cut.edge": Entry(named(lambda: EDGES, "edge"), "State of its edge: fresh or in use"),
    "cut.own_frequency": Entry(
        quantity("frequency > 0"), "Lowest note at which toolpost and work swing, tapped"
    ),
    "cut.radial_share": Entry(rising(plain(">= 0", 10.0)), "Radial force over cutting force"),
    "cut.margin": Entry(RATIO, "Margin (safety factor) you want, at low friction"),
    "rim.bend_allowed": Entry(LENGTH, "How far the rim may bend under the tool"),
    "rim.axial_share": Entry(plain(">= 0", 10.0), "Axial force over cutting force"),
    "nose.name": Entry(title, "Which nose of your shop"),
    "nose.design": Entry(named(_keys(designs), "design"), "Which nose presses"),
    "nose.plate_diameter": Entry(LENGTH, "Stiff plate that the nose presses through"),
    "run_out.allowed": Entry(LENGTH, "Indicator total that is allowed on the finished disc"),
    "run_out.tests": Entry(several(TEST, 1, 40), "What was clocked"),
    "measured.normal_force": Entry(FORCE, "Weight on the pad facing in the pull test"),
    "measured.test_pressure": Entry(
        quantity("pressure > 0"), "Pressure on the pad facing in the friction test"
    ),
    "measured.pull_forces": Entry(several(FORCE, 3, 200), "Pulls at which it began to slide"),
    "measured.pull_graduation": Entry(FORCE, "Finest division of the spring balance"),
    "measured.tilt_angles": Entry(several(quantity("angle > 0"), 3, 200), "Angles of sliding"),
    "measured.tilt_graduation": Entry(quantity("angle > 0"), "Finest division of the angle gauge"),
    "measured.scale_readings": Entry(
        several(FORCE, 3, 200), "Thrust on a scale, at one pull on the handle"
    ),
    "measured.scale_graduation": Entry(FORCE, "Finest division of that scale"),
    "measured.disc_diameter": Entry(LENGTH, "The finished disc, measured"),
    "measured.diameters": Entry(
        several(LENGTH, 3, 200), "Diameters at even steps over half a turn, from the mark"
    ),
    "measured.diameter_division": Entry(LENGTH, "Finest division of the micrometer"),
    "measured.vee_readings": Entry(
        several(COORDINATE, 8, 2000), "Readings in a V at even steps over a turn, from the mark"
    ),
    "measured.vee_angle": Entry(quantity("angle > 0"), "Angle of that V"),
    "measured.vee_division": Entry(LENGTH, "Finest division of that indicator"),
    "measured.rim_note": Entry(group(NOTE, HEARD), "Note of the squeezed rim, tapped at rest"),
    "measured.sheet_note": Entry(
        group(NOTE | {"mode": whole(1, 8)}, HEARD), "Note of the disc hung on a thread"
    ),
    "measured.scan": Entry(
        group(SCAN, ("diameter", "uncertainty", "date")), "The disc as a scanner saw it"
    ),
    "notes.remarks": Entry(several(words, 1, 60), "Anything worth keeping"),
    "notes.went_wrong": Entry(several(TROUBLE, 1, 40), "What went wrong, why, how it was mended"),
    "attempt": Entry(
        several(ATTEMPT, 1, 20), "Attempts: what was set, what happened, what changed"
    ),
    "photograph": Entry(several(PHOTOGRAPH, 1, 16), "Photographs: file, alt text, caption, place"),
}
SECTIONS = tuple(dict.fromkeys(key.partition(".")[0] for key in ENTRIES))
# Entries of which one set must be there: any of these will do, and no two together.
BLANKS = (("blank.corners", "blank.across_flats"), ("blank.side",), ("blank.outline",))
THICKNESSES = (("sheet.thickness",), ("sheet.readings",), ("sheet.gauge", "sheet.gauge_table"))
THRUSTS = (
    ("thrust.force",),
    ("thrust.handwheel_torque", "thrust.screw"),
    ("thrust.pull",),
    ("thrust.turn",),
)
# Pairs of which only one may be there.
BOTH_SAY = (
    ("measured.pull_forces", "measured.tilt_angles"),
    ("nose.name", "nose.design"),
    ("measured.diameters", "measured.disc_diameter"),
)
# (this one, needs that one): what would be passed over in silence otherwise.
NEEDS = (
    ("sheet.gauge", "sheet.gauge_table"),
    ("sheet.gauge_table", "sheet.gauge"),
    ("blank.clipped_corner", "blank.side"),
    ("disc.between", "disc.count"),
    ("disc.between_thickness", "disc.between"),
    ("measured.pull_forces", "measured.normal_force"),
    ("measured.normal_force", "measured.pull_forces"),
    ("measured.pull_graduation", "measured.pull_forces"),
    ("measured.tilt_graduation", "measured.tilt_angles"),
    ("measured.scale_graduation", "measured.scale_readings"),
    ("measured.diameter_division", "measured.diameters"),
    ("measured.vee_readings", "measured.diameters"),
    ("measured.vee_angle", "measured.vee_readings"),
    ("measured.vee_division", "measured.vee_readings"),
    ("measured.rim_note", "pad.facing_thickness"),
)
