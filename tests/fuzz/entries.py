"""Every entry of job and shop, the tables inside it too, as a target of the fuzz.

Each stands in an otherwise good file, with something nearly right or quite wrong in its place.
What is taken must be what was written; a job or shop is made of it, and some jobs are judged.
"""

import copy
import datetime
import functools
import re
import tomllib
import warnings

from tests.fuzz import grammar
from tests.fuzz.law import Wrong
from tests.fuzz.misread import misread
from tests.references.second_reader import second_reading
from tests.shop.shop_cases import FULL
from workshop_lib import plan
from workshop_lib.launcher.environment import ROOT
from workshop_lib.plan.entry_examples import EXAMPLES
from workshop_lib.plan.entry_table import BLANKS, BOTH_SAY, ENTRIES, NEEDS, THICKNESSES, THRUSTS
from workshop_lib.quantities import OutOfRangeWarning
from workshop_lib.quantities.kinds import KINDS
from workshop_lib.shop.own_shop import shop_of
from workshop_lib.shop.shop_entries import PARTS, reader_of

# What the examples for people leave out of the tables inside an entry, or what fits these jobs.
FULLER = {
    "blank.outline": '[["0 mm", "0 mm"], ["84 mm", "0 mm"], ["84 mm", "84 mm"], ["0 mm", "84 mm"]]',
    "blank.centre": '["0 mm", "0.2 mm"]',
    "pad.name": '"ring"',
    "thrust.screw": '{mean_diameter = "18 mm", lead = "4 mm", flank_angle = "15 deg", '
    'friction_coefficient = 0.15, collar_diameter = "30 mm", collar_friction = 0.1}',
    "run_out.tests": '[{where = "disc", what = "radial", state = "as clamped", name = "A", '
    'angles = ["0 deg", "120 deg", "240 deg"], readings = ["0 um", "5 um", "-2 um"], '
    'position = "10 mm", index = "90 deg", graduation = "0.01 mm"}, '
    '{where = "disc", total = "4 thou"}]',
    "measured.scan": '{diameter = "77.96 mm", uncertainty = "0.02 mm", date = "3 May", '
    'roundness = "20 um", roundness_uncertainty = "5 um"}',
    "measured.rim_note": '{frequency = "1300 Hz", uncertainty = "20 Hz", across = "78 mm", '
    'date = "3 May"}',
    "measured.sheet_note": '{frequency = "940 Hz", uncertainty = "3 Hz", across = "78 mm", '
    'date = "3 May", mode = 2}',
    "photograph": '[{file = "set_up.jpg", alt = "The disc", caption = "Before", place = "end"}, '
    '{file = "a/b.png", alt = "The pad"}]',
    "attempt": '[{set = {cut.depth = "0.2 mm", thrust.force = "700 N", pad.friction = '
    '[0.1, 0.2, 0.3]}, happened = "A corner caught", changed = "less", slipped = true}]',
}
STRANGE = [
    *grammar.MARKUP,
    "",
    " ",
    "x" * 4001,
    "x" * 201,
    "a\nb",
    "a\tb",
    "a\u202eb",
    "\ud800",
    "../../etc/passwd",
    "9**9**9",
    "nan mm",
    "24 gauge",
    "12 tpi",
    "3'6\"",
    "1.500 N",
    0,
    1,
    -1,
    2.5,
    1e308,
    float("nan"),
    float("inf"),
    10**400,
    True,
    False,
    [],
    {},
    [[]],
    [None],
    {"a": {"a": 1}},
    {"": ""},
    datetime.date(2024, 5, 1),
    datetime.time(7, 30),
]
MEASURED = ("measured.", "run_out.", "attempt", "sheet.gauge", "sheet.readings", "nose.design")
SPOKEN = re.compile(r"\b(nan|inf|None)\b|object at 0x|Quantity\(")


def example(key):
    """An entry as it may stand in a file."""
    return tomllib.loads(f"x = {FULLER.get(key, EXAMPLES[key])}")["x"]


def leaves(value, path=()):
    """Yield the path of every single value in lists and tables."""
    several = isinstance(value, dict | list) and value
    inside = () if not several else value.items() if isinstance(value, dict) else enumerate(value)
    if not several:
        yield path
    for name, each in inside:
        yield from leaves(each, (*path, name))


def put(value, path, new):
    """The same value with one leaf replaced."""
    if not path:
        return new
    made = copy.copy(value)
    made[path[0]] = put(value[path[0]], path[1:], new)
    return made


def at(value, path):
    """The leaf at a path."""
    for name in path:
        value = value[name]
    return value


def instead(rng, leaf):
    """Something that may stand where a leaf stood: nearly the same, another kind, or nonsense."""
    if rng.random() < 0.15:
        return copy.copy(rng.choice(STRANGE))
    if isinstance(leaf, bool):
        return rng.choice([not leaf, 0, 1, "true", "yes"])
    if isinstance(leaf, int | float):
        return rng.choice([leaf + 1, -leaf, leaf * 10, str(leaf)[:40], rng.uniform(-9, 99)])
    known = second_reading(leaf) if isinstance(leaf, str) else None
    if known is None:
        odd = [str(leaf)[:-1], f"{leaf} ", str(leaf).upper(), f"my {leaf}", [leaf], 7]
        return rng.choice(_words()) if rng.random() < 0.4 else rng.choice(odd)
    kinds = [name for name, kind in KINDS.items() if known[1] in kind.units]
    kind = rng.choice(kinds or ["length"]) if rng.random() < 0.85 else rng.choice(list(KINDS))
    if rng.random() < 0.4:
        return f"{float(known[0]) * 10 ** rng.uniform(-0.7, 0.7):.4g} {known[1]}".strip()
    return grammar.typed(rng, kind) if rng.random() < 0.6 else _near(rng, leaf)


@functools.cache
def _words():
    """Every key that an entry may be, of whichever table."""
    return [word for row in plan.entries() for word in row[3].split(", ") if word] + ["H7", "C3"]


def _near(rng, leaf):
    """A typed text with one likely slip: a digit lost or doubled, the unit left out."""
    at_ = rng.randrange(len(leaf))
    kinds = [leaf[:at_] + leaf[at_ + 1 :], leaf[:at_] + leaf[at_] + leaf[at_:]]
    return rng.choice([*kinds, leaf.partition(" ")[0], leaf.replace(".", ","), f"-{leaf}"])


def spoilt(rng, value):
    """A value with one or two leaves replaced, an item lost or doubled, or all of it gone."""
    if rng.random() < 0.06:
        return copy.copy(rng.choice(STRANGE))
    for _ in range(rng.choice([1, 1, 1, 2])):
        path = rng.choice(list(leaves(value)))
        value = put(value, path, instead(rng, at(value, path)))
    if isinstance(value, list) and value and rng.random() < 0.1:
        value = rng.choice([value[1:], value + value[:1], value * 60, value[::-1]])
    if isinstance(value, dict) and value and rng.random() < 0.2:
        lost = rng.choice(list(value))
        value = {
            rng.choice([name, "<b>"]) if name == lost else name: v for name, v in value.items()
        }
    return value


@functools.cache
def jobs():
    """The demonstration's jobs, and one of them in a shop, without what was measured."""
    paths = sorted((ROOT / "notebooks" / "jobs").glob("*.toml"))
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", OutOfRangeWarning)
        found = [plan.load(path) for path in paths]
        bare = {key: each for key, each in found[0].values.items() if not key.startswith(MEASURED)}
        bare |= {"sheet.thickness": found[0].thickness, "nose.name": "mine"}
        return [*found, plan.job(bare, shop_of(_shop()))]


def _beside(job, key):
    """What has to go, and what has to come, where an entry stands in a job."""
    sets = [each for group in (BLANKS, THRUSTS, THICKNESSES) if any(key in e for e in group)
            for each in group]  # fmt: skip
    mine = next((each for each in sets if key in each), ())
    gone = [other for each in sets for other in each if other not in mine]
    gone += [one for pair in BOTH_SAY for one, other in (pair, pair[::-1]) if other == key]
    gone += [] if key in ("blank.side", "blank.clipped_corner") else ["blank.clipped_corner"]
    more, wanted = {}, [*mine, *(needed for one, needed in NEEDS if one == key)]
    for needed in wanted:
        more |= {} if needed == key else {needed: example(needed)}
        wanted += [two for one, two in NEEDS if one == needed and two not in more]
    return {name: None for name in gone if name not in more} | more


def read_job(key, value, deep, job):
    """Read an entry; make a job of it, and judge that, where `deep` says so."""
    found = ENTRIES[key].read(value, key)
    wrong = misread(value, found)
    if wrong:
        raise Wrong(wrong)
    if deep:
        made = job.changed(_beside(job, key) | {key: value})
        if deep > 1:
            judged = plan.assess(made, draws=0)
            said = " ".join([judged.verdict, *map(str, judged.table)])
            if judged.holds not in ("yes", "no", "open") or SPOKEN.search(said):
                raise Wrong(f"the verdict says {said[:300]!r}")


def read_shop(part, name, key, value):
    """Read an entry of a shop, and make the shop of it."""
    found = reader_of(part)({**_named(part, name), key: value}, part)[key]
    if key == "speeds":  # a bare number on a lathe's plate is a speed in rev/min
        bare = [f"{one} rpm" if re.fullmatch(r"[0-9.\s]+", str(one)) else one for one in value]
        wrong = misread(bare, found)
    else:
        wrong = misread(value, found)
    if wrong:
        raise Wrong(wrong)
    tables = copy.deepcopy(_shop())
    (tables[part] if name is None else tables[part][name])[key] = value
    shop_of(tables)


@functools.cache
def _shop():
    return tomllib.loads(FULL)


def _named(part, name):
    return _shop()[part] if name is None else _shop()[part][name]


def places():
    """Every entry of a shop: (part, name of the nose or pad, key)."""
    found = {}
    for part, known in PARTS.items():
        tables = {None: _shop()[part]} if part in ("units", "lathe") else _shop()[part]
        for key in known:
            name = next((name for name, table in tables.items() if key in table), "")
            assert name != "", f"write an example of {part}.{key} into FULL"
            found[f"shop {part}.{key}"] = part, name, key
    return found


def targets():
    """Yield (name, function of a random source) for every entry of job and shop."""
    for key in ENTRIES:

        def prepare(rng, key=key):
            value = spoilt(rng, example(key))
            deep = rng.choice([0] * 12 + [1] * 3 + [2])
            job = rng.choice(jobs())
            given = {"key": key, "value": value, "deep": deep, "job": job["about.title"]}
            return lambda: read_job(key, value, deep, job), given

        yield f"entry job {key}", prepare
    for title, (part, name, key) in places().items():

        def prepare(rng, part=part, name=name, key=key):
            value = spoilt(rng, _named(part, name)[key])
            return lambda: read_shop(part, name, key, value), {"key": key, "value": value}

        yield f"entry {title}", prepare
