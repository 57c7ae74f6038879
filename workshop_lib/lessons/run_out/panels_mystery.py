"""The panel of lesson 05 that hides a fault: clock it, judge the readings, then look."""

from functools import lru_cache

import numpy as np

from workshop_lib.drawings import page
from workshop_lib.drawings.run_out_drawings import AROUND, clocked, dial, dial_for
from workshop_lib.quantities import Q_, show
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


def mystery_scene():
    """A set-up with one hidden fault behind every number."""
    turned = {each.key: LABELS[each.key] for each in clockings() if each.what != "push"}
    fields = [
        Count("seed", "Set-up number", 6, slider=(0, 999)),
        Choice("shown", "Show", STAGES, "readings"),
        Choice("at", "Dial stands at", turned, "nose_near"),
        Field("angle", "Turn the spindle to", "angle", "0 deg", slider=(0, 1080, 10)),
        *(
            Switch(each.key, f"Written down: {LABELS[each.key]}", each.key in FIRST, quiet=True)
            for each in clockings()
        ),
    ]
    return Scene("Which fault hides here?", fields, _judge)


@lru_cache(maxsize=32)
def setup_of(seed):
    """The set-up behind a number, kept with what has been clocked of it."""
    return mystery(seed)


@lru_cache(maxsize=64)
def diagnosed(seed, keys):
    """The diagnosis of a set-up from the tests with these keys."""
    setup = setup_of(seed)
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


def _judge(seed, shown, at, angle, **made):
    setup = setup_of(seed)
    keys = tuple(key for key, ticked in made.items() if ticked)
    picture = _picture(setup, at, angle)
    table = _readings_table(setup, keys)
    if shown == "answer":
        words, details = _answer(seed, keys)
        return View(words, None, picture, [*details, table])
    if not keys:
        return View("Nothing is written down yet: tick a test", None, picture, [table])
    if shown == "readings":
        count = f"{len(keys)} test{'s' * (len(keys) != 1)} written down"
        words = f"{count}. What do you think it is, and which test would tell?"
        return View(words, None, picture, [table])
    found = diagnosed(seed, keys)
    holds = "open" if found.not_excluded or not found.explained else None
    return View(found.verdict, holds, picture, [*_ranked(found), table])


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
            cells = [show(found.movement, unit), f"clearance {show(found.clearance, unit)}", "–"]
        else:
            told = found.tells_high_spot
            unsure = show(found.eccentricity_uncertainty, unit, figures=1)
            size = f"{show(found.eccentricity, unit)} ± {unsure}"
            cells = [show(found.total, unit), size, show(found.high_spot) if told else "not told"]
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
        unit = " N" if test.what == "push" else "°"
        listed = "; ".join(f"{mark:.0f}{unit}: {value + 0.0:.4g}" for mark, value in pairs)
        rows.append([LABELS[key], listed])
    return page.folded(
        f"Every reading, in {name.replace('um', 'µm')}", page.table(rows, ["Test", "Readings"])
    )


def _ranked(found):
    rows = [row[:3] + (show(row[3], found.unit, figures=2),) for row in found.rows[:5]]
    leader, following = found.leader, found.next_test
    parts = [page.table(rows, ["Cause", "Part", "Share of belief", "Size, if it were that"])]
    for heading, said in (("For", leader.speaks_for), ("Against", leader.speaks_against)):
        if said:
            parts.append(page.stack(f"{heading} {leader.called}:", list(said)))
    parts.append(f"Next test: {following.sentence}")
    if following.caution:
        parts.append(page.caution(following.caution))
    if not found.not_excluded and found.explained:
        parts.append(f"If so: {leader.correction.sentence}")
        parts.append(page.caution(leader.correction.caution))
    if found.remarks:
        parts.append(page.folded("What these readings cannot tell", list(found.remarks)))
    return parts


def _answer(seed, keys):
    """What was hidden, and how the judgement so far stands against it."""
    answer = setup_of(seed).reveal()
    unit = unit_of(setup_of(seed))
    hidden = f"Hidden: {_called(answer.cause)}"
    if answer.part not in hidden:
        hidden += f" ({answer.part})"
    hidden += f", {show(answer.size, unit, figures=2)}"
    if not keys:
        return hidden, []
    found = diagnosed(seed, keys)
    place = [each.cause for each in found.findings].index(answer.cause) + 1
    said = f"With these tests it ranks {_ordinal(place)} of {len(found.findings)}."
    return hidden, [said, found.verdict]


def _ordinal(place):
    return {1: "first", 2: "second", 3: "third"}.get(place, f"{place}th")


def trust(each=20):
    """How often does the diagnosis find what was hidden? Counted now, on seeded set-ups.

    With two tests, with all ten, and with all ten on a machine whose small errors are twice as
    large as the diagnosis reckons with. each: set-ups for each fault. Returns a page block: one row
    for each count, and the faults one by one folded away.
    """
    every = list(LABELS)
    counts = [
        Score("two tests", ["nose_near", "disc_radial"], each),
        Score("all ten", every, each),
        Score("all ten, rougher machine", every, each, roughness=2),
    ]
    rows = [[one.called, one.found, one.among_two, one.stated, one.right] for one in counts]
    headings = ["Tests", "Found", "Among the first two", "Stated share", "Was right"]
    single = page.stack(*(one.table() for one in counts))
    return page.stack(page.table(rows, headings), page.folded("Fault by fault", single))


class Score:
    """How a number of made set-ups were judged. keys: of the tests made in each of them.

    each: set-ups for each fault. roughness: by how much all small errors are larger than the
    diagnosis reckons with.
    """

    def __init__(self, called, keys, each=20, roughness=1.0):
        self.called, self.each = called, each
        self.ranks = {cause: [] for cause in HIDEABLE}
        self.taken_for = {cause: {} for cause in HIDEABLE}
        self.shares = []
        for cause, ranks in self.ranks.items():
            for seed in range(each):
                found = diagnose([mystery(seed, cause, roughness).take(key) for key in keys])
                ranks.append([one.cause for one in found.findings].index(cause))
                self.shares.append(found.leader.share)
                if ranks[-1]:
                    others = self.taken_for[cause]
                    others[found.leader.name] = others.get(found.leader.name, 0) + 1

    def _within(self, first):
        """How many of all ranked among the first so many."""
        return sum(rank < first for ranks in self.ranks.values() for rank in ranks)

    @property
    def found(self):
        """How many ranked first, of how many."""
        return f"{self._within(1)} of {len(self.shares)}"

    @property
    def among_two(self):
        """How many ranked among the first two, of how many."""
        return f"{self._within(2)} of {len(self.shares)}"

    @property
    def stated(self):
        """The mean share of belief in the leader, in words."""
        return f"{100 * np.mean(self.shares):.0f} %"

    @property
    def right(self):
        """How often the leader was what was hidden, in words."""
        return f"{100 * self._within(1) / len(self.shares):.0f} %"

    def table(self):
        """A row for each hidden fault, and one for all of them."""
        rows = []
        for cause, ranks in self.ranks.items():
            others = (f"{name} {count}" for name, count in sorted(self.taken_for[cause].items()))
            counts = [f"{sum(rank < first for rank in ranks)} of {self.each}" for first in (1, 2)]
            rows.append([_called(cause), *counts, ", ".join(others) or "–"])
        rows.append(["all", self.found, self.among_two, ""])
        headings = ["Hidden fault", "Ranks first", "Among the first two", "Else taken for"]
        return page.table(rows, headings, self.called[:1].upper() + self.called[1:])


def _called(cause):
    return causes.find_cause(cause).name
