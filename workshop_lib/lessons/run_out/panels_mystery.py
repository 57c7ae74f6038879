"""Which panel of lesson 05 hides a fault? Clock it, judge the readings, then look."""

from collections import Counter
from functools import lru_cache

import numpy as np

from workshop_lib.drawings import page
from workshop_lib.drawings.run_out_drawings import AROUND, clocked, dial, dial_for
from workshop_lib.quantities import Q_, either, show, spoken
from workshop_lib.run_out import HIDEABLE, causes, clockings, diagnose, mystery
from workshop_lib.teaching.fields import Choice, Count, Field, Switch
from workshop_lib.teaching.panels import Scene, View

LABELS = {
    "spindle_radial": "spindle, on its register",
    "pad_radial": "pad, on its rim",
    "pad_face": "pad, on its face",
    "disc_radial": "disc, on its rim",
    "disc_face": "disc, on its face",
    "nose_near": "nose, close to the disc",
    "nose_far": "nose, far from the disc",
    "nose_turned": "nose, turned by 180° on the disc",
    "nose_push": "nose, pushed and pulled",
    "pad_push": "pad, pushed and pulled",
}
STAGES = {
    "readings": "the readings",
    "ranked": "ranked causes and the next test",
    "answer": "what was hidden",
}
FIRST = ("nose_near",)  # where a class usually begins
HIDDEN = {
    "one": "one fault",
    "two": "two faults at once",
    "misread": "one fault, with misread needles in half the tests",
    "any": "anything: no fault, one or two, perhaps misread needles",
}
MADE = {
    "none": {"faults": 0},
    "one": {},
    "two": {"faults": 2},
    "misread": {"misread": 0.5},
    "rough": {"roughness": 2.0},
}


def mystery_scene():
    """A set-up with hidden faults behind every number."""
    turned = {each.key: LABELS[each.key] for each in clockings() if each.what != "push"}
    fields = [
        Count("seed", "Set-up number", either(6, 15), slider=(0, 999)),
        Choice("hides", "Hidden faults", HIDDEN, "one"),
        Choice("shown", "Show", STAGES, "readings"),
        Choice("at", "Dial placed on", turned, "nose_near"),
        Field("angle", "Turn the spindle to", "angle", "0 deg", slider=(0, 1080, 10)),
        *(
            Switch(each.key, f"Clocked: {LABELS[each.key]}", each.key in FIRST, quiet=True)
            for each in clockings()
        ),
    ]
    return Scene("Which fault hides here?", fields, _judge)


@lru_cache(maxsize=32)
def setup_of(seed, hides="one"):
    """The set-up behind a number, kept with what has been clocked of it. hides: key of `HIDDEN`."""
    kind = hides
    if hides == "any":
        kind = ("none", "one", "two", "misread")[np.random.default_rng([seed, 3]).integers(4)]
    return mystery(seed, **MADE[kind])


@lru_cache(maxsize=64)
def diagnosed(seed, keys, hides="one"):
    """The diagnosis of a set-up from the tests with these keys."""
    setup = setup_of(seed, hides)
    return diagnose(clocked_tests(setup, keys), unit=unit_of(setup))


def clocked_tests(setup, keys):
    """Clock a set-up at these places; each test is called as people call it."""
    tests = [setup.take(key) for key in keys]
    for key, test in zip(keys, tests, strict=True):
        test.name = LABELS[key]
    return tests


def unit_of(setup):
    """The unit in which people with this dial speak: thou, or micrometres."""
    return "thou" if dial_for(setup.graduation) == "thou" else "um"


def _judge(seed, hides, shown, at, angle, **made):
    setup = setup_of(seed, hides)
    keys = tuple(key for key, ticked in made.items() if ticked)
    picture = _picture(setup, at, angle)
    table = _readings_table(setup, keys)
    if shown == "answer":
        words, details = _answer(seed, keys, hides)
        return View(words, None, picture, [*details, table])
    if not keys:
        return View("Nothing has been clocked yet: tick a test", None, picture, [table])
    if shown == "readings":
        count = f"{len(keys)} test{'s' * (len(keys) != 1)} made"
        words = f"{count}. What do you think the cause is, and which test would settle it?"
        return View(words, None, picture, [table])
    found = diagnosed(seed, keys, hides)
    return View(found.verdict, None, picture, [*_ranked(found), table])


def _picture(setup, at, angle):
    """The dial where it stands; on a rim also the part under its plunger."""
    place = next(each for each in clockings() if each.key == at)
    face = dial_for(setup.graduation)
    reading = setup.needle(at, angle)
    if place.what == "face":
        return dial(reading, face)
    return clocked(_outline(setup, at), angle, reading, face, place.where)


def _outline(setup, at):
    """The rim as the needle sees it in the first turn, up to six lobes: the rest is scatter."""
    out = setup.needle(at, Q_(AROUND, "deg")).m_as("mm")
    waves = np.fft.rfft(out)
    waves[0], waves[7:] = 0, 0
    return Q_(np.fft.irfft(waves, AROUND.size), "mm")


def _readings_table(setup, keys):
    unit, rows = unit_of(setup), []
    for key in keys:
        test = setup.take(key)
        found = test.fit()
        if test.what == "push":
            seen = round(found.clearance.m_as("um"), 3) > 0
            room = f"clearance {show(found.clearance, unit)}" if seen else "no clearance shows"
            cells = [show(found.movement, unit), room, "–"]
        else:
            told = found.tells_high_spot
            unsure = show(found.eccentricity_uncertainty, unit, figures=1)
            size = f"{show(found.eccentricity, unit)} ± {unsure}"
            cells = [show(found.total, unit), size, show(found.high_spot) if told else "unknown"]
        rows.append([LABELS[key], *cells])
    headings = ["Test", "Total", "Eccentricity", "High spot"]
    division = f"One division of its dial: {show(setup.graduation, unit)}"
    if not rows:
        return f"{division}."
    return page.stack(page.table(rows, headings, division), _written(setup, keys))


def _written(setup, keys):
    """Every reading, folded away."""
    rows, name = [], unit_of(setup)
    for key in keys:
        test = setup.take(key)
        along = test.forces if test.what == "push" else test.angles
        pairs = zip(along.m, test.readings.m_as(name).round(3), strict=True)
        at = _push if test.what == "push" else "{:.0f}°".format
        listed = "; ".join(f"{at(mark)}: {value + 0.0:.4g}" for mark, value in pairs)
        rows.append([LABELS[key], listed])
    return page.folded(
        f"Every reading, in {name.replace('um', 'µm')}", page.table(rows, ["Test", "Readings"])
    )


def _push(force):
    """A push in newtons, told in the system that is spoken."""
    return spoken(f"{force:.0f} N")


def _ranked(found):
    rows = [row[:3] + (show(row[3], found.unit, figures=2),) for row in found.rows[:5]]
    leader, following = found.leader, found.next_test
    parts = [page.table(rows, ["Cause, if there is only one", "Part", "How likely", "Its size"])]
    for heading, said in (("For", leader.speaks_for), ("Against", leader.speaks_against)):
        if said:
            parts.append(page.stack(f"{heading} {leader.called}:", list(said)))
    parts.append(f"Next test: {spoken(following.sentence)}")
    if following.caution:
        parts.append(page.caution(following.caution))
    if found.sure:
        parts.append(f"If that is the cause: {spoken(leader.correction.sentence)}")
        parts.append(page.caution(leader.correction.caution))
    if found.remarks:
        parts.append(page.folded("What these readings cannot tell", list(found.remarks)))
    return parts


def _answer(seed, keys, hides):
    """What was hidden, and how the judgement so far stands against it."""
    setup = setup_of(seed, hides)
    answer, unit = setup.reveal(), unit_of(setup)
    hidden = "Hidden: " + " and ".join(_hidden(one, unit) for one in (answer, *answer.besides))
    misread = [(key, setup.misread(key)) for key in keys if setup.misread(key)]
    said = [f"Misread: {_misread(setup, key, wrong, unit)}." for key, wrong in misread]
    if not keys:
        return hidden, said
    found = diagnosed(seed, keys, hides)
    if len(answer.besides) == 0:
        place = [each.cause for each in found.findings].index(answer.cause) + 1
        said.append(
            f"With these tests the diagnosis ranks it {_ordinal(place)} of {len(found.findings)}."
        )
    return hidden, [*said, found.verdict]


def _hidden(answer, unit):
    called = _called(answer.cause)
    if answer.part not in called and answer.part != "set-up":
        called += f" ({answer.part})"
    return called if answer.size == 0 else f"{called}, {show(answer.size, unit, figures=2)}"


def _misread(setup, key, wrong, unit):
    number, off = wrong
    test = setup.take(key)
    push = test.what == "push"
    at = _push(test.forces[number].m) if push else f"{test.angles[number].m:.0f}°"
    return f"{LABELS[key]} at {at}, by {show(off, unit, figures=2)}"


def _ordinal(place):
    return {1: "first", 2: "second", 3: "third"}.get(place, f"{place}th")


SITUATIONS = {
    "none": ("no fault", 8),
    "one": ("one fault", 16),
    "two": ("two faults at once", 12),
    "misread": ("one fault, half the tests misread", 12),
    "rough": ("one fault, all small errors doubled", 12),
}
SAID = ("almost_certain", "likely", "two", "nothing", "undecided", "unknown")
HEADINGS = [
    *("Almost certain", "Likely", "Two faults"),
    *("Nothing to act on", "Not decided", "No known cause"),
]


def trust(fewer=1):
    """How often is what the diagnosis says right? Counted now, on seeded set-ups with all tests.

    fewer: by what the number of set-ups is divided. Returns a page block: a row for each situation,
    a column for each thing said, "right of said".
    """
    counts = [Score(kind, range(-(-many // fewer))) for kind, (_, many) in SITUATIONS.items()]
    rows = [[SITUATIONS[one.kind][0], *one.cells()] for one in counts]
    ours = next(one for one in counts if one.kind == "misread")
    missed = (
        f"Misread needles: {ours.found} of {ours.misread} named; "
        f"wrongly named in all {len(counts)} rows: {sum(one.wrongly for one in counts)}."
    )
    table = page.table(rows, ["Hidden", *HEADINGS], "Times right, of the times it was said")
    return page.stack(table, missed)


def is_right(found, answer):
    """Whether what a diagnosis claims is so. A claim that decides nothing is never wrong."""
    hidden = {answer.cause, *(one.cause for one in answer.besides)}
    if found.claim in ("almost_certain", "likely"):
        return found.leader.cause in hidden
    if found.claim == "two":
        return {one.cause for one in found.pair} == hidden
    return found.claim == "undecided" or hidden == {"nothing_found"}


class Score:
    """How set-ups of one kind were judged. kind: key of `MADE`. seeds: of the set-ups."""

    def __init__(self, kind, seeds, keys=tuple(LABELS)):
        self.kind, self.said, self.right = kind, Counter(), Counter()
        self.misread = self.found = self.wrongly = 0
        for seed in seeds:
            setup = mystery(seed, HIDEABLE[seed % len(HIDEABLE)], **MADE[kind])
            found = diagnose([setup.take(key) for key in keys])
            self.said[found.claim] += 1
            self.right[found.claim] += is_right(found, setup.reveal())
            wrong = {(n, setup.misread(key)[0]) for n, key in enumerate(keys) if setup.misread(key)}
            named = {(one.test, one.reading) for one in found.apart}
            self.misread += len(wrong)
            self.found += len(wrong & named)
            self.wrongly += len(named - wrong)

    def cells(self):
        """For each thing that may be said: how often it was right, of how often it was said."""
        return [self._cell(claim) for claim in SAID]

    def _cell(self, claim):
        if not self.said[claim]:
            return "–"
        if claim == "undecided":
            return str(self.said[claim])
        return f"{self.right[claim]} of {self.said[claim]}"


def _called(cause):
    return causes.find_cause(cause).name
