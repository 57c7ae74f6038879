"""Hostile hands: every call, reader and panel answers sensibly or refuses in words; markup is text.

The longer run over the same targets is `python3 -m workshop_lib fuzz`.
"""

import collections
import contextlib
import itertools
import random
import re
import time
import warnings
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.fuzz import calls, entries, fields, grammar, readers, run, scenes
from tests.fuzz.law import Wrong, has_number, tried
from tests.fuzz.misread import misread, should_be_taken
from tests.house.laws import held_for
from tests.house.thorough import among
from workshop_lib.friction import Pad
from workshop_lib.gauges import thickness
from workshop_lib.lessons.holding.panels import gauge_scene
from workshop_lib.lessons.start.panels import units_scene
from workshop_lib.overhang.spreading import rim_share
from workshop_lib.plan.entry_table import ENTRIES
from workshop_lib.quantities import Q_, InputError, OutOfRangeWarning, read, show
from workshop_lib.quantities.unit_boundary import to_core
from workshop_lib.shop.shop_entries import PARTS
from workshop_lib.slip.holding import hold
from workshop_lib.sources import csv_tables
from workshop_lib.teaching.fields import Field, Switch
from workshop_lib.teaching.panels import Scene, View

TARGETS = run.targets()
FAMILIES = {}  # the quick ones by their lines of the fuzz's table, the others one by one
for each in TARGETS:
    quick = each.startswith(("field", "entry"))
    FAMILIES.setdefault(run.kind(each) if quick else each, []).append(each)
TIMES = among(
    {"call": 5, "reader": 20, "panel": 2, "field": 1, "entry": 2},
    {"call": 14, "reader": 60, "panel": 4, "field": 60, "entry": 40},
)
SLOW = ("reader answer_files", "reader kept_values", "reader own_job")
BUTTONS = ("panel with buttons", "panel beside a shop")


@pytest.mark.parametrize("family", FAMILIES)
def test_whatever_comes_in_an_answer_or_a_sentence_comes_out(family):
    times = TIMES[family.partition(" ")[0]] // (5 if family in SLOW else 1)
    times = among(0, times) if family.startswith(BUTTONS) else times
    for name, number in itertools.product(FAMILIES[family], range(times)):
        outcome, given = run.attempt(TARGETS[name], 0, name, number)
        assert not outcome.wrong, f'{outcome.wrong}: fuzz --repeat "{name}" 0 {number}, {given!r}'


def test_the_fuzz_finds_every_family():
    assert {"call slip.margin", "call friction.Pad", "reader typed", "reader job_file"} <= set(
        TARGETS
    )
    assert {"field slip.slip_scene.thrust", "field plan.form_scene.cut_speed"} <= set(TARGETS)
    assert {f"entry job {key}" for key in ENTRIES} <= set(TARGETS)
    assert {f"entry shop {part}.{key}" for part in PARTS for key in PARTS[part]} <= set(TARGETS)
    assert len(list(scenes.scenes())) >= 25
    assert len(calls.public_calls()) >= 75
    assert len(readers.READERS) >= 6


def test_hostile_input_is_neither_all_taken_nor_all_refused():
    found = run.fuzz(400, 5, "slip.margin").values()
    words = sum((row.words for row in found), collections.Counter())
    assert words["answered"] > 100 < words["refused"]


@pytest.mark.filterwarnings("ignore::workshop_lib.quantities.OutOfRangeWarning")
@held_for(ENTRIES)
def test_an_entry_as_its_example_is_taken_by_one_of_the_jobs(key):
    for job in entries.jobs():
        with contextlib.suppress(InputError):
            return entries.read_job(key, entries.example(key), 1, job)
    raise AssertionError("no job takes it")


def test_every_entry_of_the_spoilt_shop_stands_well_before():
    for part, name, key in entries.places().values():
        entries.read_shop(part, name, key, entries._named(part, name)[key])


MISREAD = {
    "a unit": ("24 mm", Q_(24, "inch")),
    "a size": ("1 1/2 in", Q_(1.25, "inch")),
    "a sign": ("-3 mm", Q_(3, "mm")),
    "one of three": (["1 mm", "2 mm"], (Q_(1, "mm"), Q_(3, "mm"))),
    "one too few": (["1 mm", "2 mm"], (Q_(1, "mm"),)),
    "inside a table": ({"a": {"b": "1 N"}}, {"a.b": Q_(2, "N")}),
    "a whole number": (24, 25),
    "a word for a switch": ("true", True),
}


@pytest.mark.parametrize("what", MISREAD)
def test_what_was_read_as_something_else_is_seen(what):
    assert misread(*MISREAD[what])
    assert not misread("24 mm", Q_(24, "mm"))


def test_what_people_write_may_not_be_refused():
    assert should_be_taken("12 tpi", "length", "> 0")
    assert should_be_taken("0 N", "force", ">= 0")
    assert not should_be_taken("0 N", "force", "> 0")
    assert not should_be_taken("-1 N", "force", ">= 0")
    with pytest.raises(Wrong, match="should be read"):
        fields.read(Refusing("size", "Size", "length > 0", ""), "3/16 in")


class Refusing(Field):
    def read(self, given):
        raise InputError(self.label, "is refused")


# The law itself


def raised(error):
    """Return a function that raises it."""

    def act():
        raise error

    return act


def slow():
    end = time.thread_time() + 1.1
    while time.thread_time() < end:
        pass


BROKEN = {
    "ValueError": raised(ValueError("could not broadcast")),
    "a refusal without a word": raised(InputError("", "")),
    "a refusal that cannot be printed": raised(InputError("force", "a\tb")),
    "a refusal of": raised(InputError("force", "a" * 5000)),
    "Wrong: NaN was handed out": lambda: has_number(Q_(1, "mm") * float("nan")),
    "RuntimeWarning": lambda: np.divide(np.ones(1), 0),
    "took": slow,
}


SORTS = {"Wrong: NaN was handed out": "wrong reading", "took": "too slow"}
SORTS |= {"ValueError": "traceback"}


@pytest.mark.parametrize("said", BROKEN)
def test_the_law_sees_what_is_wrong(said):
    outcome = tried(BROKEN[said])
    assert (outcome.word, outcome.wrong[: len(said)]) == ("failed", said)
    assert outcome.sort == SORTS.get(said, "ill put")


def test_the_table_counts_every_input_and_every_fault_once():
    found = run.fuzz(90, 5, "call slip.margin")
    found["panel a"] = run.Row(collections.Counter(failed=2), collections.Counter(traceback=2))
    heads, *rows = run.table(found)
    assert {"targets", "inputs", "traceback", "slowest"} <= set(heads.split())
    cells = {row[:28].strip(): row[28:].split() for row in rows}
    inputs = found["call slip.margin"].words.total()
    assert cells["call"][:2] == ["1", str(inputs)] and cells["panel"][5] == "2"
    assert cells["all"][:3] == ["2", str(inputs + 2), "2"] and cells["all"][5] == "2"


def test_a_slow_target_gets_fewer_inputs_and_each_family_its_share():
    usual = {"call a": 1e-3, "call b": 1e-1, "field c": 1e-4}
    wanted = run.rounds(usual, 57_000)
    assert wanted["call a"] > 10 * wanted["call b"] > 0
    shares = (wanted["call a"] + wanted["call b"]) / wanted["field c"]
    assert shares == pytest.approx(run.SHARES["call"] / run.SHARES["field"], rel=1e-3)


def test_the_law_lets_refusals_and_warnings_in_words_pass():
    assert tried(raised(InputError("force", "must not be negative"))).word == "refused"
    assert (
        tried(lambda: warnings.warn("far out", OutOfRangeWarning, stacklevel=1)).word == "answered"
    )
    assert has_number((Q_([1.0], "mm"), 2.0, float("inf")))


def test_the_law_of_pages_sees_markup_and_words_of_machines():
    shown = View("<b>bold</b> is nan")
    scene = Scene("A question?", [Switch("tick", "Tick")], lambda tick: shown)
    with pytest.raises(Wrong, match="nan"):
        scenes.shown(scene.panel(), {"tick": True})


def test_an_input_is_repeated_by_its_seed_and_number():
    name = "call slip.margin"
    first, again = (run.attempt(TARGETS[name], 3, name, 8)[1] for _ in range(2))
    assert repr(first) == repr(again)
    assert repr(first) != repr(run.attempt(TARGETS[name], 4, name, 8)[1])


# Numbers in many spellings, written from an exact fraction

VULGAR = {Fraction(1, 4): "¼", Fraction(1, 2): "½", Fraction(3, 4): "¾", Fraction(5, 8): "⅝"}


@st.composite
def spelled(draw):
    """An exact number and one of its spellings."""
    way = draw(st.sampled_from(["decimal", "power", "fraction", "mixed", "vulgar"]))
    digits, places = draw(st.integers(0, 999_999)), draw(st.integers(0, 6))
    if way in ("decimal", "power"):
        text = str(digits).rjust(places + 1, "0")
        text = f"{text[: len(text) - places]}.{text[len(text) - places :]}" if places else text
        value = Fraction(digits, 10**places)
        if way == "power":
            power = draw(st.integers(-6, 3))
            text, value = (
                f"{text}{draw(st.sampled_from('eE'))}{power}",
                value * Fraction(10) ** power,
            )
    elif way == "vulgar":
        part, sign = draw(st.sampled_from(sorted(VULGAR.items())))
        whole = draw(st.integers(0, 999))
        text = f"{whole}{draw(st.sampled_from(['', ' ']))}{sign}" if whole else sign
        value = whole + part
    else:
        bottom = draw(st.integers(2, 999))
        top, whole = draw(st.integers(1, bottom - 1)), draw(st.integers(0, 999))
        joint = draw(st.sampled_from([" ", "-"]))
        text = f"{whole}{joint}{top}/{bottom}" if way == "mixed" else f"{top}/{bottom}"
        value = (whole if way == "mixed" else 0) + Fraction(top, bottom)
    return value, draw(st.sampled_from(["", "+", "-", "\u2212"])) + text


@given(spelled(), st.sampled_from(["", " ", "\u00a0", "\u2009"]), st.sampled_from(["  ", ""]))
def test_a_number_comes_back_from_each_of_its_spellings(number, gap, margin):
    value, text = number
    sign = -1 if text[0] in "-\u2212" else 1
    found = read(f"{margin}{text}{gap}mm{margin}", "length")
    assert found.m == float(sign * value)
    assert str(found.units) == "mm"


@given(spelled(), st.sampled_from("٣²Ⅷ５,'_"), st.data())
def test_a_strange_sign_in_a_number_is_never_skipped(number, sign, data):
    at = data.draw(st.integers(0, len(number[1])))
    with pytest.raises(InputError):
        read(f"{number[1][:at]}{sign}{number[1][at:]} mm", "length")


@given(st.sampled_from(sorted(grammar.SANE)), st.integers(0, 10**9))
def test_good_input_is_taken(kind, seed):
    assert to_core(grammar.good(random.Random(seed), kind), kind, "x", "> 0") > 0


# What the first hundred thousand inputs showed


def test_a_comma_is_complained_of_in_printable_words():
    with pytest.raises(InputError) as refused_:
        read("488,86\tkg", "mass")
    assert str(refused_.value).isprintable()


@pytest.mark.parametrize("value", [Q_(5e-324, "m"), Q_(1e-20, "m")])
def test_what_must_be_greater_than_zero_is_more_than_a_rounding(value):
    with pytest.raises(InputError, match="smaller than any length"):
        to_core(value, "length", "diameter", "> 0")
    assert to_core(value, "length", "shift") == value.m


def test_a_level_in_decibels_is_no_angle():
    with pytest.raises(InputError, match="angle"):
        to_core(Q_(1, "mm").__class__(2e6, "decibel"), "angle", "angle")


def test_holds_are_compared_one_set_up_at_a_time():
    with pytest.raises(InputError, match="friction_coefficient"):
        hold("vacuum", Pad("30 mm"), "78 mm", "600 N", [0.2], "0 N", "1 N m")


def test_a_half_empty_triple_in_a_table_is_refused_by_its_line():
    row = csv_tables.Row("holding.csv", 7, {"low": None, "typical": 1.0, "high": 2.0})
    with pytest.raises(InputError, match="holding.csv, line 7: low is empty"):
        row.ordered("low", "typical", "high")


def test_a_sheet_thin_as_a_film_spreads_nothing_and_costs_nothing():
    sheet = {"material": "acrylic", "facing_modulus": "1 GPa", "facing_thickness": "1 um"}
    sizes = {"pad_diameter": "60 mm", "disc_diameter": "78 mm", "thickness": "0.001 um", **sheet}
    with pytest.warns(OutOfRangeWarning, match="beyond the nose"):
        assert rim_share("59 mm", **sizes) < 1e-12
    assert rim_share("60 mm", **sizes) == 1


def test_a_quantity_of_another_registry_is_refused_wherever_it_comes_in():
    strange = grammar.STRANGE.Quantity(np.array([1.0, 2.0]), "mm")
    for act in (lambda: Q_(strange, "mm"), lambda: show(strange), lambda: Pad(strange)):
        with pytest.raises(InputError):
            act()


@pytest.mark.parametrize("gauge", [np.ma.masked, np.ma.masked_array([24, 26], [True, False])])
def test_missing_gauge_numbers_are_refused(gauge):
    with pytest.raises(InputError, match="missing"):
        thickness(gauge, "swg")


def test_a_gauge_that_fits_shows_no_minus_nothing():
    seen = gauge_scene().still(reading="2.24 mm", table="awg").text()
    assert "13 BG" in seen
    assert not re.search(r"-0(\.0)? ", seen)


def test_the_first_panel_says_something_new():
    assert "30.00 mm is 1.181 in" in units_scene().still().text()
    assert "1.000 in is 25.40 mm" in units_scene().still(length="1 in").text()


def test_what_a_busy_machine_held_up_is_tried_again_and_what_is_slow_stays_so():
    times = iter([1.1, 0.0])

    def held_up():
        end = time.thread_time() + next(times)
        while time.thread_time() < end:
            pass

    assert run.attempt(lambda rng: (held_up, {}), 1, "x", 1)[0].word == "answered"
    assert run.attempt(lambda rng: (slow, {}), 1, "x", 1)[0].sort == "too slow"
