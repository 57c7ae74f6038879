"""Fields read what people type strictly, by their label, and place their sliders truly."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workshop_lib.launcher.environment import ROOT
from workshop_lib.lessons.holding.panels import gauge_scene
from workshop_lib.quantities import Q_, InputError
from workshop_lib.teaching.fields import (
    MOST_SAID,
    OF_A_GAUGE,
    Choice,
    Count,
    Field,
    Switch,
    Text,
    by_line,
    kind_like,
    question_field,
    sentence,
)
from workshop_lib.teaching.panels import Scene, View

THRUST = Field("thrust", "Thrust", "force >= 0", "600 N", slider=(0, 2000, 10))
PAD = Field("pad", "Pad diameter", "length > 0", "30 mm", slider=(10, 100, 0.5))
CORNERS = Count("corners", "Corners", 8, (3, 40))
NOSE = Choice("nose", "Nose", {"floating": "floats", "located": "held"}, "floating")
WORST = Switch("worst", "Worst case")
PASTED = Text("pasted", "Readings", "0 1\n90 2", longest=30)

anything = st.one_of(
    st.text(max_size=60),
    st.none(),
    st.booleans(),
    st.integers(),
    st.floats(),
    st.binary(max_size=9),
    st.lists(st.integers(), max_size=3),
    st.dictionaries(st.text(max_size=3), st.integers(), max_size=2),
)


@given(anything)
def test_whatever_is_handed_in_is_read_or_refused_in_words(given_value):
    for field in (THRUST, PAD, CORNERS, NOSE, WORST, PASTED):
        try:
            value = field.read(given_value)
        except InputError as error:
            assert sentence(error).endswith((".", "?"))
        else:
            assert value is not None
            field.words(given_value), field.position(given_value)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("600", "has no unit"),
        ("12 lb", "‘12 lb’ could be a mass. For a force type 12 lbf"),
        ("3,5 N", "has a comma"),
        ("-5 N", "must not be negative"),
        ("5 mm", "is a length, but this needs a force"),
        ("", "nothing was typed"),
        ("N", "does not start with a number"),
    ],
)
def test_a_complaint_says_what_is_wrong_without_the_name(typed, words):
    with pytest.raises(InputError, match="^Thrust: ") as caught:
        THRUST.read(typed)
    assert words in sentence(caught.value)
    assert not sentence(caught.value).startswith("Thrust")


def test_the_unit_that_was_typed_is_kept():
    assert PAD.read("1 1/2 in").m == 1.5
    assert PAD.read("1 1/2 in").m_as("mm") == pytest.approx(38.1)


def test_reading_one_text_twice_gives_values_of_their_own():
    first = THRUST.read("600 N")
    first.ito("kN")
    assert THRUST.read("600 N").m == 600


@pytest.mark.parametrize(
    ("typed", "position"),
    [("600 N", 600), ("0.9 kN", 900), ("5000 N", 2000), ("0 N", 0), ("100 lbf", 444.822)],
)
def test_the_slider_stands_at_the_typed_value_or_parks_at_its_end(typed, position):
    assert THRUST.position(typed) == pytest.approx(position, rel=1e-6)


def test_the_slider_writes_each_of_its_positions_exactly():
    for low, step, decimals in ((0, 10, 0), (0.05, 0.01, 2), (0, 0.125, 3), (0.5, 1, 1)):
        field = Field("x", "x", "ratio", "1", slider=(low, low + 100 * step, step))
        assert field.spec()["decimals"] == decimals


@pytest.mark.parametrize(
    ("kind", "start", "unit"),
    [
        ("torque", "1.5 N m", "N m"),
        ("torque", "5 lbf in", "lbf in"),
        ("ratio", "0.2", ""),
        ("ratio", "20 %", "%"),
        ("length", "30 mm", "mm"),
        ("length", "1e3 um", "um"),
        ("speed", "250 rev/min", "rev/min"),
        ("length", '3/16 "', '"'),
    ],
)
def test_the_slider_counts_in_the_unit_of_the_start(kind, start, unit):
    assert Field("x", "x", kind, start).unit == unit


@pytest.mark.parametrize("slider", [(1, 1, 1), (2, 1, 1), (0, 1, 0), (0, 1, -1), (0, 1, 2)])
def test_a_slider_that_cannot_run_is_refused(slider):
    with pytest.raises(InputError, match="slider"):
        Field("x", "x", "force", "1 N", slider=slider)


def test_a_start_that_cannot_be_read_is_refused_at_once():
    with pytest.raises(InputError):
        Field("x", "x", "force", "1 mm")
    with pytest.raises(InputError):
        Choice("x", "x", {"a": "A"}, "b")


@pytest.mark.parametrize("bad", ["2", "41", "8.0", "8 mm", "", "-8", "eight", "١٢", 2, 8.0, True])
def test_a_count_takes_whole_numbers_in_its_range_only(bad):
    with pytest.raises(InputError, match="^Corners: "):
        CORNERS.read(bad)


def test_good_counts_choices_and_switches_are_read():
    assert CORNERS.read(" 12 ") == 12 and CORNERS.read(3) == 3
    assert NOSE.read("located") == "located" and NOSE.words("located") == "held"
    assert WORST.read(True) is True and WORST.words(False) == "no"


def test_a_long_list_of_choices_opens_and_a_short_one_shows():
    many = {str(number): str(number) for number in range(5)}
    assert Choice("x", "x", many, "1").control == "select"
    assert NOSE.control == "radio"


def test_a_question_starts_empty_and_names_how_to_write():
    field = question_field("Your answer", "torque")
    assert field.start == "" and "1.5 N m" in field.help
    with pytest.raises(InputError):
        question_field("Your answer")
    with pytest.raises(InputError):
        question_field("Your answer", "torque", {"a": "A"})


@pytest.mark.parametrize(
    ("value", "kind"),
    [
        (Q_(1, "N*m"), "torque"),
        (Q_(1, "mm"), "length"),
        (2.0, "ratio"),
        (Q_(2.0), "ratio"),
        (Q_(30, "deg"), "angle"),
        (Q_(5, "MPa"), "pressure"),
    ],
)
def test_the_kind_of_an_answer_is_found_from_its_unit(value, kind):
    assert kind_like(value) == kind


def test_what_nothing_here_is_measured_in_is_refused():
    with pytest.raises(InputError, match="^kind: nothing .*measured in"):
        kind_like(Q_(1, "ampere"))


def test_a_text_is_kept_line_by_line_whatever_ends_its_lines():
    assert PASTED.read("0 1\r\n90 2\r180 3\n") == "0 1\n90 2\n180 3"
    assert (
        PASTED.words("0 1\n\n90 2") == "2 lines of text" and PASTED.words("0 1") == "1 line of text"
    )
    assert PASTED.spec()["control"] == "text" and PASTED.position("0 1") is None


@pytest.mark.parametrize(
    ("given_value", "words"),
    [
        ("", "nothing was typed"),
        (" \n\t", "nothing was typed"),
        ("1" * 31, "Type at most 30"),
        (7, "not text"),
    ],
)
def test_a_text_that_cannot_be_taken_says_why(given_value, words):
    with pytest.raises(InputError, match="^Readings: ") as caught:
        PASTED.read(given_value)
    assert words in sentence(caught.value)


def test_complaints_by_line_are_counted_when_they_are_many():
    assert by_line([]) == ""
    assert by_line(["line 2: no"]) == "Line 2: no"
    many = by_line([f"line {number}: no" for number in range(9)]).splitlines()
    assert len(many) == MOST_SAID + 1 and many[-1] == f"And {9 - MOST_SAID} more."


def test_a_bad_line_is_said_at_its_field_while_the_good_ones_answer():
    def judge(pasted):
        good = [line for line in pasted.splitlines() if line != "<b>bad</b>"]
        bad = by_line(["line 2: <b>bad</b>"]) if len(good) < 2 else ""
        return View(f"{len(good)} good", beside={"pasted": bad} if bad else {})

    scene = Scene("Lines", [PASTED], judge)
    panel = scene.panel()
    face = panel.answer("", {"pasted": "0 1\n<b>bad</b>"})
    assert face["fields"]["pasted"]["complaint"] == "Line 2: <b>bad</b>"  # the page sets it as text
    assert "1 good" in face["verdict"] and face["note"] == "" and face["fault"] == ""
    assert "&lt;b&gt;bad&lt;/b&gt;" in scene.still(pasted="0 1\n<b>bad</b>").html()
    assert panel.answer("", {"pasted": "0 1\n90 2"})["fields"]["pasted"]["complaint"] == ""
    kept = panel.answer("", {"pasted": " "})
    assert (
        "nothing was typed" in kept["fields"]["pasted"]["complaint"] and "2 good" in kept["verdict"]
    )


def test_a_quiet_switch_is_named_only_while_it_is_so():
    switches = [Switch("a", "Test one", quiet=True), Switch("b", "Test two", True, quiet=True)]
    scene = Scene("Tests", [*switches, WORST], lambda a, b, worst: View("done"))
    assert scene.setting(scene.given()) == "Test two: yes; Worst case: no"


def test_a_gauge_is_sent_to_the_panel_that_makes_a_thickness_of_it():
    with pytest.raises(InputError) as refused:
        Field("thickness", "Thickness", "length > 0", "1 mm").read("25 gauge")
    assert refused.value.mend == OF_A_GAUGE
    place = re.search(r"\((\w+\.ipynb)\)", OF_A_GAUGE)[1]
    title = re.search("“(.+)”", OF_A_GAUGE)[1]
    assert (ROOT / "notebooks" / place).is_file()
    assert gauge_scene().title == title


def test_threads_to_the_inch_are_the_lead_of_one():
    lead = Field("lead", "Lead", "length > 0", "4 mm").read("10 tpi")
    assert lead.m_as("mm") == pytest.approx(2.54)  # by hand: 25.4 mm / 10
