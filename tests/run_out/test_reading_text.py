"""Typed, pasted and filed readings: the good rows are kept, each bad one is named by its line."""

import re

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from workshop_lib.quantities import Q_, InputError
from workshop_lib.run_out.reading_cells import MOST_LETTERS, MOST_LINES
from workshop_lib.run_out.reading_text import from_rows, from_text

ANGLES, VALUES = [0, 90, 180], [1, -2.5, 3]


def numbers(taken):
    """Angles in degrees and readings in thou."""
    return taken.kept.angles.m_as("deg").tolist(), taken.kept.readings.m_as("thou").tolist()


def same(taken, angles=ANGLES, values=VALUES):
    assert taken.complaints == ()
    for found, wanted in zip(numbers(taken), (angles, values), strict=True):
        assert found == pytest.approx(wanted)


# Pasted text


@pytest.mark.parametrize("separator", ["\t", ";", ",", " ", ", ", " ; ", "   "])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r", "\n\n"])
def test_every_usual_separator_is_read(separator, end):
    text = end.join(f"{a}{separator}{v}" for a, v in zip(ANGLES, VALUES, strict=True))
    same(from_text(text, "thou"))
    same(from_text(text + end, "thou"))


@pytest.mark.parametrize(
    "header",
    [
        "angle reading",
        "Angle Reading",
        "angle (deg) reading (thou)",
        "angle/deg reading/thou",
        "angle_deg reading_thou",
        "angle [deg] reading [thou]",
        "mark dial",
    ],
)
def test_a_header_may_stand_above(header):
    same(from_text(f"{header}\n0 1\n90 -2.5\n180 3", "thou"))


def test_a_header_may_name_the_columns_in_any_order_and_their_units():
    same(
        from_text("Reading in thou;Angle in rad\n1;0\n-2.5;1.5707963267948966\n3;3.141592653589793")
    )
    same(from_text("reading (mm), angle\n0.0254, 0\n-0.0635, 90\n0.0762, 180"))


def test_units_in_the_cells_go_before_those_of_the_column():
    same(from_text("0 deg, 0.0254 mm\n90°, -2.5\n0.5 turn, 3 thou", "thou"))
    same(from_text("0 deg 1 thou\n90 deg -2.5 thou\n180 deg 3 thou"))


def test_the_unit_of_angles_can_be_named():
    same(from_text("0 1\n0.25 -2.5\n0.5 3", "thou", angle_unit="turn"))


def test_a_byte_order_mark_and_blank_lines_do_no_harm():
    same(from_text("\ufeff\n\n0 1\n   \n90 -2.5\n180 3\n\n", "thou"))


def test_further_settings_reach_the_readings():
    taken = from_text("0 1\n90 2", "um", where="nose", what="face", graduation="1 um", name="x")
    assert (taken.kept.where, taken.kept.what, taken.kept.name) == ("nose", "face", "x")


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("90;3,5", "‘3,5’ has a comma. Write a point: 3.5"),
        ("90;nan", "‘nan’ does not start with a number"),
        ("90;inf", "does not start with a number"),
        ("90;1e999", "larger than any indicator shows"),
        ("90;1e400 mm", "larger than any indicator shows"),
        ("90;", "reading: is missing"),
        (";5", "angle: is missing"),
        ("90", "reading: is missing"),
        ("90;5;7", "3 values where 2"),
        ("90;5 N", "‘5 N’ is a force, but this needs a length"),
        ("90 mm;5", "‘90 mm’ is a length, but this needs an angle"),
        ("ninety;5", "angle: ‘ninety’ does not start with a number"),
        ('90;"5', "a quotation mark is out of place"),
        ("90;1 000", "gap in the number"),
        ("90;9**9**9", "is not a unit"),
        ("90;5 mil", "mil means an angle"),
        ("<script>;5", "‘<script>’ does not start"),
        ("90;\x00", "‘·’ does not start"),
        ("9e9;5", "larger than any angle here"),
    ],
)
def test_a_bad_line_is_named_and_the_good_ones_are_kept(line, said):
    taken = from_text(f"0;1\n{line}\n90;-2.5\n180;3", "thou")
    assert numbers(taken)[1] == pytest.approx(VALUES)
    (complaint,) = taken.complaints
    assert complaint.startswith("line 2: ")
    assert said in complaint
    assert complaint.isprintable()


def test_commas_between_spaces_are_refused_as_decimals():
    with pytest.raises(InputError, match=r"^text: .*reading: ‘3,5’ .*comma.* 3\.5"):
        from_text("0 3,5\n90 3,1\n180 2,2", "thou")


def test_line_numbers_count_blank_lines_and_the_header():
    taken = from_text("angle reading\n\n0 1\n\nx 2\n90 3", "thou")
    assert taken.complaints[0].startswith("line 5: angle: ‘x’")


def test_a_column_that_is_not_used_is_said():
    taken = from_text("angle,reading,note\n0,1,first\n90,-2.5,\n180,3,", "thou")
    assert numbers(taken)[1] == pytest.approx(VALUES)
    (complaint,) = taken.complaints
    assert re.match("line 1: .*‘note’ .*not used", complaint)


def test_a_first_line_that_is_neither_header_nor_row_is_a_bad_row():
    taken = from_text("my dial on Monday\n0 1\n90 -2.5\n180 3", "thou")
    assert taken.complaints[0].startswith("line 1: ")
    assert numbers(taken)[1] == pytest.approx(VALUES)


def test_repeated_marks_are_all_kept():
    assert numbers(from_text("0 1\n0 1\n360 2", "thou"))[0] == pytest.approx([0, 0, 360])


@pytest.mark.parametrize(
    ("text", "settings", "said"),
    [
        ("", {}, "text: none of it could be used"),
        ("\n \n", {}, "text: none of it could be used"),
        ("0 x\n90 y", {"unit": "mm"}, "text: none .* The first problem: line 1"),
        ("0 1\n90 2", {}, "has no unit"),
        (None, {}, "text: "),
        (b"0 1", {}, "text: "),
        ("0 1", {"unit": "furlong"}, "unit: ‘furlong’ is not a unit of length"),
        ("0 1", {"unit": "deg"}, "unit: "),
        ("0 1", {"unit": "mm", "angle_unit": "mm"}, "angle_unit: "),
        ("angle reading/thou\n0 1", {"unit": "mm"}, "reading: the title says thou, but .* mm"),
        ("angle reading/furlong\n0 1", {}, "reading: ‘furlong’ is not a unit of length"),
        ("angle other", {"unit": "mm"}, "The first problem: line 1: angle: ‘angle’"),
        ("angle angle reading\n0 1", {"unit": "mm"}, "angle is there twice"),
        ("0 1\n90 1", {"unit": "mm", "where": "moon"}, "where: "),
    ],
)
def test_nothing_usable_and_bad_settings_are_refused(text, settings, said):
    with pytest.raises(InputError, match=said):
        from_text(text, **settings)


def test_text_that_is_too_long_is_refused_before_it_is_read():
    with pytest.raises(InputError, match="^text: longer .*2 000 000"):
        from_text("0 1\n" * (MOST_LETTERS // 4 + 1), "mm")
    with pytest.raises(InputError, match="^text: .*20 000 lines"):
        from_text("0 1\n" * (MOST_LINES + 1), "mm")


def test_twenty_thousand_lines_are_read():
    assert from_text("0 1\n" * (MOST_LINES - 1), "um").kept.core.readings.size == MOST_LINES - 1


@given(st.text(max_size=200))
def test_whatever_is_pasted_gives_readings_or_a_sentence(text):
    try:
        taken = from_text(text, "um")
    except InputError as refusal:
        assert len(str(refusal)) < 600
        return
    assert np.all(np.isfinite(taken.kept.core.readings))
    assert all(said.startswith("line ") for said in taken.complaints)


# Typed rows


def test_rows_may_hold_numbers_text_and_quantities():
    rows = [(0, 1), ("90", "-2.5 thou"), [Q_(180, "deg"), Q_(3, "thou")]]
    same(from_rows(rows, "thou"))
    same(from_rows(np.array([ANGLES, VALUES]).T, "thou"))


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ((90, None), "reading: ‘None’ is not text"),
        ((90,), "reading: is missing"),
        ((90, 1, 2), "3 values"),
        (90, "‘90’ is not a row of cells"),
        ((90, float("nan")), "‘nan’ does not start with a number"),
        ((90, Q_(1, "N")), "‘N’ is not a unit of length"),
        ((True, 1), "angle: ‘True’ is not text"),
        ((90, np.float64("inf")), "‘.*inf.*’"),
    ],
)
def test_a_bad_row_is_named_by_its_number(row, said):
    taken = from_rows([(0, 1), row, (90, -2.5), (180, 3)], "thou")
    assert numbers(taken)[1] == pytest.approx(VALUES)
    assert len(taken.complaints) == 1
    assert taken.complaints[0].startswith("row 2: ")
    assert re.search(said, taken.complaints[0])


@pytest.mark.parametrize("rows", [None, "0 1", 7, {0: 1}, [], [(0, "x")]])
def test_what_is_no_list_of_rows_is_refused(rows):
    with pytest.raises(InputError, match="^rows: "):
        from_rows(rows, "mm")


def test_huge_integers_are_refused_in_words():
    taken = from_rows([(0, 1), (90, 10**400)], "thou")
    assert taken.complaints[0].startswith("row 2: ")
