"""The drawings of lesson 05: the needle is where the reading says, and no words clash."""

import re

import numpy as np
import pytest

from tests.house.laws import held_for
from workshop_lib.drawings import run_out_charts as charts
from workshop_lib.drawings import run_out_drawings as drawings
from workshop_lib.drawings.roses import Rose, rings_for
from workshop_lib.lessons.run_out.panels_mystery import LABELS, Score, clocked_tests, setup_of
from workshop_lib.quantities import Q_, show
from workshop_lib.run_out import Readings, shifts_that_explain
from workshop_lib.run_out.vectors import Vector

SIZES = (0.0, 1e-6, 3e-4, 0.004, 0.0433, 0.27, 0.5, 0.77, 1.0, 6.3)  # mm
READINGS = [sign * size for size in SIZES for sign in (1, -1)]
MARKS = np.arange(0, 360, 30)
faces = pytest.mark.parametrize("face", drawings.DIALS)


def alt_is_a_sentence(picture):
    return re.search(r"\d.*\.$", picture.alt) and "nan" not in picture.alt


def needle_end(canvas):
    """Return the tip of the long hand, from the drawing itself: the one heavy orange line."""
    lines = [part for part in canvas._parts if 'stroke="#a84300"' in part]
    assert len(lines) == 1
    numbers = [float(n) for n in re.findall(r"-?[\d.]+", re.search(r'd="([^"]+)"', lines[0])[1])]
    return numbers[2] - canvas.origin[0], canvas.height - canvas.origin[1] - numbers[3]


@held_for(drawings.DIALS, READINGS)
def test_the_drawn_needle_is_turned_in_proportion_to_the_reading(face, reading):
    kind = drawings.DIALS[face]
    x, y = needle_end(drawings.dial(Q_(reading, "mm"), face))
    drawn = np.degrees(np.arctan2(x, y))  # clockwise from the top
    turns = reading / (100 * {"mm": 0.01, "fine": 0.002, "thou": 0.0127}[face])
    assert (drawn - 360 * turns + 180) % 360 - 180 == pytest.approx(0, abs=0.05)
    assert kind.needle_angle(Q_(reading, "mm")) == pytest.approx(360 * turns)


def test_one_division_is_a_hundredth_of_a_turn_clockwise_as_the_plunger_goes_in():
    assert drawings.DIALS["mm"].needle_angle(Q_(0.01, "mm")) == pytest.approx(3.6)
    assert drawings.DIALS["fine"].needle_angle(Q_(-0.002, "mm")) == pytest.approx(-3.6)
    assert drawings.DIALS["thou"].needle_angle(Q_(0.0127, "mm")) == pytest.approx(3.6)


@held_for(drawings.DIALS, READINGS)
def test_a_dial_has_no_clashing_words_and_says_its_value(face, reading):
    picture = drawings.dial(Q_(reading, "mm"), face)
    assert picture.faults() == []
    kind = drawings.DIALS[face]
    assert kind.words(Q_(reading, "mm")) in picture.alt and alt_is_a_sentence(picture)


@pytest.mark.parametrize(
    ("reading", "words"),
    [
        (0.0433, "+0.043 mm, the plunger pushed in"),
        (-0.0433, "−0.043 mm, the plunger out"),
        (0.0, "0.000 mm, the plunger where the dial was set"),
        (-0.0001, "0.000 mm, the plunger where the dial was set"),
    ],
)
def test_the_sign_is_said_in_words(reading, words):
    assert words in drawings.dial(Q_(reading, "mm")).alt


@held_for(drawings.DIALS, SIZES, [0, 7, 133, 359.9, 725, -30])
def test_the_clocked_part_has_no_clashing_words_at_any_angle(face, size, angle):
    out = Q_(size * np.cos(np.radians(drawings.AROUND - 40)), "mm")
    picture = drawings.clocked(out, Q_(angle, "deg"), Q_(size, "mm"), face)
    assert picture.faults() == [] and alt_is_a_sentence(picture)
    assert f"mark {angle % 360:.0f}°" in picture.alt


def test_a_departure_is_drawn_as_large_as_fits_and_never_larger():
    for largest in np.geomspace(1e-5, 10, 200):
        times = drawings.magnified(largest)
        assert times * largest < 1.01 * drawings.TALLEST
        assert times == drawings.MOST_TIMES or times * largest > drawings.TALLEST / 2.6
    assert drawings.magnified(0.0) == 0


def test_the_dial_nearest_to_a_division_is_taken():
    names = [drawings.dial_for(Q_(d, "um")) for d in (2, 10, 12.7, 1, 25.4)]
    assert names == ["fine", "mm", "thou", "fine", "thou"]


@held_for(np.arange(0, 80, 5))
def test_the_lever_names_both_travels(angle):
    picture = drawings.lever(Q_(0.2, "mm"), Q_(float(angle), "deg"))
    assert picture.faults() == []
    assert show(Q_(0.2 * np.cos(np.radians(angle)), "mm")) in picture.alt


@held_for([0.0, 0.001, 0.05, 3.0], range(0, 360, 45), ["in", "out"])
def test_the_polar_plot_shows_size_and_high_spot_without_clashes(size, mark, direction):
    sign = 1 if direction == "in" else -1
    out = 0.3 + sign * size * np.cos(np.radians(MARKS - mark))
    taken = Readings(Q_(MARKS, "deg"), Q_(out, "mm"), graduation="0.0001 mm", direction=direction)
    picture = charts.polar_plot(taken, taken.fit())
    assert picture.faults() == [] and alt_is_a_sentence(picture)
    assert f"eccentricity {show(Q_(size, 'mm'))}" in picture.alt
    if size > 0.0005:
        assert f"mark {show(Q_(float(mark), 'deg'))}" in picture.alt


def vector(size, mark):
    return Vector(np.asarray(1e-3 * size * np.exp(1j * np.radians(mark))), np.full((2, 2), 1e-18))


@held_for(
    [(0.05, 0.05), (0.03, 0.04), (0.0, 0.2), (1.0, 0.001), (0, 0)],
    [0, 36, 90, 180, 200, 324],
    ["um", "thou"],
)
def test_the_vectors_of_a_knock_have_no_clashing_words(sizes, mark, unit):
    picture = charts.knock(vector(sizes[0], 0), vector(sizes[1], mark), unit)
    assert picture.faults() == [] and alt_is_a_sentence(picture)


def test_a_knock_is_drawn_as_the_difference_of_two_vectors():
    picture = charts.knock(vector(3, 0), vector(4, 90))  # the 3-4-5 triangle
    assert "shift of 5.00 mm" in picture.alt


@held_for([0, 0.01, 0.05 - 0.05j, -2j], [0, 30, 90, 180, 270, 360])
def test_reindexing_has_no_clashing_words(part, turned):
    picture = charts.indexed(0.05e-3 + 0j, 1e-3 * part, Q_(turned, "deg"))
    assert picture.faults() == [] and alt_is_a_sentence(picture)


def test_half_a_turn_takes_the_part_away_instead_of_adding_it():
    picture = charts.indexed(2e-3 + 0j, 1e-3 + 0j, Q_(180, "deg"))
    assert re.search(r"3\.00 mm at first, 1\.00 mm .*180°", picture.alt)


@pytest.mark.parametrize(("inner", "nought"), [(False, 0.0), (True, 21.0)])
def test_a_vector_stands_on_the_sheet_where_its_angle_and_the_rings_say(inner, nought):
    rose = Rose(0.2e-3, "mm", "a 1", 1, inner)
    rim = (33.0 - nought) / 0.2  # mm on paper for one mm, from the ring that counts as nought
    for angle in (0, 30, 90, 200):
        end = 0.1e-3 * np.exp(1j * np.radians(angle))
        ((across,), (down,)) = rose.board.place(*([each] for each in rose.at(end)))
        reach = np.hypot(across - 33, 33 - down)
        assert reach == pytest.approx(rim * 0.1, abs=0.01)
        assert np.degrees(np.arctan2(33 - down, across - 33)) % 360 == pytest.approx(angle)


def test_the_polar_axes_are_the_learners_and_know_their_units():
    rose = charts.knock(vector(3, 0), vector(4, 90))
    (line,) = rose.axes.plot(Q_([0, 90], "deg"), Q_([1, 2], "mm"), label="mine")
    assert line.get_xdata(orig=False) == pytest.approx([0, np.pi / 2])
    svg = rose.picture("a 1").svg
    assert "mine" in svg and "radian" not in svg and "millimet" not in svg


@held_for(np.geomspace(1e-7, 1e-2, 20))
def test_the_rings_hold_the_largest_vector_and_are_few(largest):
    for unit in ("mm", "thou", "um"):
        step, count = rings_for(largest, unit)
        assert step * count >= 0.998 * largest and 1 <= count <= 6


@held_for([3, 5, 8, 12], [1, 2, 4, 6])
def test_bars_say_what_is_not_told(count, highest):
    angles = np.arange(count) * 360 / count
    values = 3 * np.cos(np.radians(angles)) + 0.5 * np.cos(np.radians(2 * angles))
    taken = Readings(Q_(angles, "deg"), Q_(values, "thou"), graduation="0.5 thou")
    found = taken.harmonics(highest)
    picture = charts.bars(found, "thou")
    assert picture.faults() == []
    assert picture.alt.count("unclear") == sum(not each.told for each in found)


@pytest.mark.parametrize(
    ("shift", "angles", "totals"),
    [
        (2, [0, 90, 180], ["8.0", "5.7", "0"]),  # by hand: 2(2 + 2), 2√(2² + 2²), 2(2 − 2)
        (3, [0, 120, 180], ["10", "5.3", "2.0"]),  # 2√(2² + 3² − 2·3) = 5.29
    ],
)
def test_arrows_tip_to_tail_make_the_total_that_hand_working_gives(shift, angles, totals):
    drawn = charts.added(Q_(2, "thou"), Q_(shift, "thou"), Q_(angles, "deg"))
    pairs = zip(angles, totals, strict=True)
    assert drawn.faults() == []
    assert all(re.search(rf" {angle}° [^°]*\b{total} thou", drawn.alt) for angle, total in pairs)


@held_for([(4, 6, 7), (4, 2, 3), (0, 0, 0), (0, 5, 5), (5, 0, 5)])
def test_the_chart_of_shifts_finds_room_for_its_labels(totals):
    before, low, high = (Q_(each, "thou") for each in totals)
    found = shifts_that_explain(before, Q_([low.m, high.m], "thou"))
    assert charts.explained_chart(found).faults() == []


@held_for(LABELS)
def test_every_clocking_is_called_by_its_name(key):
    assert clocked_tests(setup_of(3), [key])[0].label == LABELS[key]


def test_the_score_counts_every_setup_once():
    score = Score("misread", range(5), ["nose_near", "disc_radial"])
    assert score.said.total() == 5
    assert all(score.right[claim] <= count for claim, count in score.said.items())
    assert 0 <= score.found <= score.misread <= 10
    assert sum(int(cell.split()[-1]) for cell in score.cells() if cell != "–") == 5
