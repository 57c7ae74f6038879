"""Jobs with a likely slip of the pen: a digit lost or doubled, a unit or two entries exchanged.

Each is judged, or refused by the name of an entry; no slip ends in an error that names none.
"""

import itertools
import random
import re

import pytest

from tests.house.thorough import among
from workshop_lib import plan
from workshop_lib.launcher.environment import ROOT
from workshop_lib.plan.entry_table import ENTRIES
from workshop_lib.quantities import InputError

JOBS = sorted((ROOT / "notebooks" / "jobs").glob("*.toml"))
QUANTITY = re.compile(r'"(-?[0-9]+(?:\.[0-9]+)?)( ?)([^"0-9\n]{1,8})"')
SWAPPED = {
    "mm": "in",
    "in": "mm",
    "N": "lbf",
    "lbf": "N",
    "um": "mm",
    "rev/min": "rad/s",
    "g": "kg",
}
SIZES = {"mm": "length", "in": "length", "um": "length", "N": "force", "lbf": "force"}
WORDS = {
    "material": ("acrylic", "copper", "mild_steel", "stainless_steel"),
    "facing": ("leather", "card", "cork", "moulded_lining"),
    "condition": ("dry", "oily"),
    "tool": ("hss", "carbide"),
    "edge": ("fresh", "in use"),
    "kind": ("traverse", "plunge"),
    "design": ("pressure_nose", "roller_centre", "preloaded_centre"),
    "gauge_table": ("stainless_steel", "galvanized_steel", "swg"),
}
SLIPS = ("lost", "doubled", "point", "unit", "exchanged")


def slipped(text, found, slip):
    """Return the text with one slip at a quantity that was found in it; None where none is."""
    number, gap, unit = found.groups()
    if slip == "exchanged":
        later = QUANTITY.search(text, found.end())
        if later is None:
            return None
        between = text[found.end() : later.start()]
        return text[: found.start()] + later[0] + between + found[0] + text[later.end() :]
    written = {
        "lost": number[:-1] if len(number.strip("-")) > 1 else None,
        "doubled": number + number[-1],
        "point": number.replace(".", "") if "." in number else f"{number[:1]}.{number[1:] or 0}",
        "unit": number if unit in SWAPPED else None,
    }[slip]
    if written is None or written.endswith("."):
        return None
    unit = SWAPPED[unit] if slip == "unit" else unit
    return f'{text[: found.start()]}"{written}{gap}{unit}"{text[found.end() :]}'


def unquoted(text):
    """Yield each text with a slip in a number that has no unit, or another word of its kind."""
    for line in re.finditer(r"^[a-z_]+ = [^\"\n]*$", text, re.MULTILINE):
        for found in re.finditer(r"[0-9]+(?:\.[0-9]+)?", line[0]):
            number, at = found[0], line.start() + found.start()
            for made in (number[:-1], number + number[-1], number.replace(".", ""), f"-{number}"):
                if made not in ("", number) and not made.endswith("."):
                    yield (
                        f"{made} for {number} in {line[0]}",
                        f"{text[:at]}{made}{text[at + len(number) :]}",
                    )
    for line in re.finditer(r'^([a-z_]+) = "([a-z_]+)"$', text, re.MULTILINE):
        for word in WORDS.get(line[1], ()):
            if word != line[2]:
                made = f"{text[: line.start(2)]}{word}{text[line.end(2) :]}"
                yield f"{word} for {line[0]}", made


def exchanged(text):
    """Yield each text in which two quantities of one kind have changed places."""
    places = [each for each in QUANTITY.finditer(text) if each[3] in SWAPPED]
    for one, other in itertools.combinations(places, 2):
        if SIZES.get(one[3]) == SIZES.get(other[3]) and one[0] != other[0]:
            between = text[one.end() : other.start()]
            made = text[: one.start()] + other[0] + between + one[0] + text[other.end() :]
            yield f"{one[0]} and {other[0]}", made


def every_slip(path):
    """Yield each text of a job with one slip in it."""
    text = path.read_text(encoding="utf-8")
    for found, slip in itertools.product(QUANTITY.finditer(text), SLIPS):
        made = slipped(text, found, slip)
        if made is not None:
            yield f"{slip} at {found[0]}", made
    yield from unquoted(text)
    yield from exchanged(text)


def is_an_entry(name):
    """Whether a refusal's name is a job's entry, a part of one, or a table of them."""
    inside = any(key.startswith(name) or name.startswith(f"{key}.") for key in ENTRIES)
    return name == "job: format" or inside


@pytest.mark.filterwarnings("ignore::workshop_lib.quantities.OutOfRangeWarning")
@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_a_slip_of_the_pen_is_judged_or_named(path):
    told = list(every_slip(path))
    assert len(told) > 100
    for name, text in random.Random(path.stem).sample(told, among(8, len(told))):
        try:
            found = plan.assess(plan.parse(text), draws=0)
        except InputError as error:
            faults = getattr(error, "faults", [error])
            named = [each.name.split("[")[0] for each in faults]
            assert all(map(is_an_entry, named)), (name, str(error))
        else:
            assert found.holds in ("yes", "no", "open"), name
            assert not re.search(r"\b(nan|inf)\b", told_of(found)), name


def told_of(found):
    """All that a judgement says, in one line."""
    parts = [each.sentence for each in (*found.reasons, *found.changes)]
    return " ".join([found.verdict, *map(str, found.table), *found.remarks, *parts])


READINGS = {
    "sheet.readings": "0.62 mm, 0.63 mm, 0.62 mm, 0.61 mm, 0.62 mm",
    "measured.pull_forces": "7.9 N, 8.2 N, 7.6 N, 8.4 N, 8.0 N, 7.8 N",
    "measured.tilt_angles": "21 deg, 22 deg, 23 deg, 21.5 deg, 22.5 deg",
    "measured.scale_readings": "1040 N, 1010 N, 1060 N, 1025 N, 1035 N",
    "measured.diameters": "77.96 mm, 77.98 mm, 77.97 mm, 77.95 mm, 77.96 mm",
}
BARE = ("measured.", "attempt")


@pytest.mark.filterwarnings("ignore::workshop_lib.quantities.OutOfRangeWarning")
@pytest.mark.parametrize("key", READINGS)
def test_one_reading_a_tenth_or_ten_times_of_the_others_is_named(key):
    job = plan.load(JOBS[0])
    away = dict.fromkeys(each for each in job.values if each.startswith(BARE))
    away |= {"measured.normal_force": "20 N"} if key == "measured.pull_forces" else {}
    read = READINGS[key].split(", ")
    for place, times in itertools.product(among((2,), range(5)), (0.1, 10, 25.4)):
        number, unit = read[place].split()
        odd = [*read[:place], f"{float(number) * times:g} {unit}", *read[place + 1 :]]
        try:
            said = told_of(plan.assess(job.changed(away | {key: odd}), draws=0))
        except InputError as error:
            said = str(error)
        named = rf"[Rr]eading {place + 1}\b|{key}\[{place + 1}\]|{re.escape(odd[place])}"
        assert re.search(named, said), (odd[place], said[:500])


def test_readings_that_belong_together_are_not_complained_of():
    job = plan.load(JOBS[0])
    for key, read in READINGS.items():
        away = dict.fromkeys(each for each in job.values if each.startswith(BARE))
        away |= {"measured.normal_force": "20 N"} if key == "measured.pull_forces" else {}
        found = plan.assess(job.changed(away | {key: read.split(", ")}), draws=0)
        assert not re.search(
            "far from the (rest|other)|far from the .* turned|does not seem", told_of(found)
        ), key


def test_a_thrust_and_its_doubt_that_changed_places_are_both_named():
    job = plan.load(JOBS[1])
    swapped = {"thrust.force": job["thrust.uncertainty"], "thrust.uncertainty": job["thrust.force"]}
    found = plan.assess(job.changed(swapped), draws=0)
    assert found.holds == "no"
    assert "swapped" in found.changes[0].sentence
