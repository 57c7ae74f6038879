"""Shifts between two readings: vectors added by hand, and ranges searched by brute force."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from workshop_lib.quantities import Q_, InputError
from workshop_lib.run_out.readings import Readings, Total
from workshop_lib.run_out.round_fit import fit
from workshop_lib.run_out.shifts import shift_between, shifts_that_explain
from workshop_lib.run_out.vectors import Vector

TWELVE = np.arange(0, 360, 30.0)


def clocked(eccentricity, high_spot, **about):
    """Readings of a round part, in thou."""
    values = eccentricity * np.cos(np.radians(TWELVE - high_spot))
    return Readings(Q_(TWELVE, "deg"), Q_(values, "thou"), **about)


def thou(quantity):
    return quantity.m_as("thou")


# With angles


def test_three_four_five():
    # 3 thou at 0° before, 4 thou at 90° on top of it: 5 thou at 53.13° after.
    found = shift_between(clocked(3, 0), clocked(5, np.degrees(np.arctan2(4, 3))))
    assert found.exact
    assert thou(found.size) == pytest.approx(4)
    assert found.direction.m_as("deg") == pytest.approx(90)
    assert found.least == found.most == found.size


@given(
    first=st.tuples(st.floats(0.5, 9), st.floats(0, 359)),
    second=st.tuples(st.floats(0.5, 9), st.floats(0, 359)),
)
def test_going_back_is_the_same_shift_the_other_way(first, second):
    there, back = (
        shift_between(clocked(*a), clocked(*b)) for a, b in ((first, second), (second, first))
    )
    assert back.vector.core == pytest.approx(-there.vector.core, abs=1e-12)


@given(
    first=st.tuples(st.floats(0.5, 9), st.floats(0, 359)),
    second=st.tuples(st.floats(0.5, 9), st.floats(0, 359)),
)
def test_the_exact_shift_lies_in_the_range_that_the_totals_leave(first, second):
    exact = shift_between(clocked(*first), clocked(*second))
    bare = shift_between(Q_(2 * first[0], "thou"), Q_(2 * second[0], "thou"))
    assert not bare.exact
    assert thou(bare.least) - 1e-9 <= thou(exact.size) <= thou(bare.most) + 1e-9


def test_uncertainties_add_in_squares():
    first, second = clocked(3, 0, graduation="1 thou"), clocked(8, 0, graduation="0.5 thou")
    one = [thou(each.fit().eccentricity_uncertainty) for each in (first, second)]
    assert thou(shift_between(first, second).size_uncertainty) == pytest.approx(np.hypot(*one))


def test_no_shift_beyond_its_uncertainty_is_said():
    found = shift_between(clocked(3, 0, graduation="1 thou"), clocked(3.1, 0, graduation="1 thou"))
    assert "none at all" in found.remarks[0]
    assert np.isnan(found.direction_uncertainty.m)
    assert shift_between(clocked(3, 0), clocked(9, 0)).remarks == ()


def test_fits_readings_and_many_fits_are_taken():
    noisy = clocked(3, 20).core.readings + np.zeros((4, 1))
    many = fit(Q_(TWELVE, "deg"), Q_(noisy, "m"))
    found = shift_between(many, clocked(5, 20))
    assert found.size.shape == (4,)
    assert thou(found.size) == pytest.approx(np.full(4, 2))
    assert thou(shift_between(clocked(3, 20).fit(), clocked(5, 20)).size) == pytest.approx(2)


# With totals alone


def test_totals_are_halved():
    found = shift_between("3 thou", "8 thou")
    assert (thou(found.least), thou(found.most)) == pytest.approx((2.5, 5.5))
    assert np.isnan(found.size.m)
    assert np.isnan(found.direction.m)
    assert "no direction" in found.remarks[0]


def test_a_total_beside_a_vector_leaves_a_range():
    for before in ("3 thou", Total("3 thou", "nose")):
        found = shift_between(before, clocked(4, 77))
        assert (thou(found.least), thou(found.most)) == pytest.approx((2.5, 5.5))


def test_totals_broadcast():
    found = shift_between("3 thou", ["3 thou", "8 thou"])
    np.testing.assert_allclose(thou(found.least), [0, 2.5], atol=1e-12)
    assert found.size.shape == (2,)


@pytest.mark.parametrize("bad", ["4", 4, "-1 thou", "4 N", None, "x", [], Q_(1, "N")])
def test_what_is_no_reading_is_refused(bad):
    with pytest.raises(InputError, match="^before: "):
        shift_between(bad, "4 thou")
    with pytest.raises(InputError, match="^after: "):
        shift_between("4 thou", bad)


# Which shifts explain two totals


def test_the_trade_check_value():
    # Common practice, no published source: a shop-made pressure nose shows 4 thou in total, and
    # between 6 and 7 thou after the disc is tapped aside. By hand: 2 thou of eccentricity become
    # 3 to 3.5, by 1 thou at least (along the old high spot) and by 5.5 at most (against it); at a
    # right angle by sqrt(9 − 4) = 2.236 to sqrt(12.25 − 4) = 2.872 thou.
    found = shifts_that_explain("4 thou", ["6 thou", "7 thou"])
    assert (thou(found.least), thou(found.most)) == pytest.approx((1, 5.5))
    assert found.first_direction.m_as("deg") == 0
    across = np.flatnonzero(np.isclose(found.directions.m_as("deg"), 90))[0]
    assert thou(found.smallest)[across] == pytest.approx(2.2360680)
    assert thou(found.largest)[across] == pytest.approx(2.8722813)


@pytest.mark.parametrize(
    ("before", "after"),
    [(2, (5, 6)), (4, (3, 5)), (6, (2, 3)), (0, (2, 5)), (4, (4, 4)), (5, (0, 0))],
)
def test_every_direction_agrees_with_a_search(before, after):
    found = shifts_that_explain(Q_(before, "thou"), Q_(after, "thou"), points=37)
    tries = np.linspace(0, 8, 160_001)
    for place, alpha in enumerate(found.directions.m_as("rad")):
        new = 2 * np.abs(before / 2 + tries * np.exp(1j * alpha))
        fits = tries[(new >= after[0] - 1e-3) & (new <= after[1] + 1e-3)]
        ends = thou(found.smallest)[place], thou(found.largest)[place]
        if np.isnan(ends[0]):
            # Nothing but a shift that grazes the band by its own tolerance may have been found.
            assert np.isnan(ends[1])
            assert fits.size == 0 or np.ptp(fits) < 0.15
        else:
            assert fits[[0, -1]] == pytest.approx(ends, abs=0.05)
            new = 2 * np.abs(before / 2 + np.array(ends) * np.exp(1j * alpha))
            assert np.all((new >= after[0] - 1e-9) & (new <= after[1] + 1e-9))


HUNDREDTHS = st.integers(0, 2000).map(lambda number: number / 100)


@given(before=HUNDREDTHS, low=HUNDREDTHS, more=HUNDREDTHS)
def test_ends_hold_all_directions(before, low, more):
    found = shifts_that_explain(Q_(before, "thou"), Q_([low, low + more], "thou"))
    inside = ~np.isnan(found.core_smallest)
    dust = 1e-9 * (before + low + more)
    if inside.any():
        assert thou(found.least) <= np.nanmin(thou(found.smallest)) + dust
        assert np.nanmax(thou(found.largest)) <= thou(found.most) + dust
    first = found.first_direction.m_as("deg")
    assert np.all(found.directions.m_as("deg")[inside] >= first - 1e-6)


def test_a_total_that_has_shrunk_was_tapped_against_the_high_spot():
    # 6 thou down to 3: eccentricity 3 to 1.5, so within asin(1.5/3) = 30° of straight against it.
    found = shifts_that_explain("6 thou", "3 thou")
    assert found.first_direction.m_as("deg") == pytest.approx(150)
    assert (thou(found.least), thou(found.most)) == pytest.approx((1.5, 4.5))


def test_two_readings_with_angles_are_one_of_the_explanations():
    exact = shift_between(clocked(2, 0), clocked(3.2, 70))
    found = shifts_that_explain("4 thou", "6.4 thou", points=3601)
    size = np.interp(exact.direction.m_as("deg"), found.directions.m_as("deg"), thou(found.largest))
    assert size == pytest.approx(thou(exact.size), rel=1e-6)


@pytest.mark.parametrize(
    ("name", "settings"),
    [
        ("total_before", {"total_before": "-4 thou"}),
        ("total_before", {"total_before": ["4 thou", "5 thou"]}),
        ("total_before", {"total_before": "4"}),
        ("total_after", {"total_after": ["1 thou", "2 thou", "3 thou"]}),
        ("total_after", {"total_after": "7 deg"}),
        ("points", {"points": 1}),
        ("points", {"points": 10**9}),
        ("points", {"points": 3.0}),
    ],
)
def test_bad_input_is_refused_by_name(name, settings):
    with pytest.raises(InputError, match=f"^{name}: "):
        shifts_that_explain(**{"total_before": "2 thou", "total_after": "6 thou", **settings})


# The vector itself


def test_a_vector_of_nothing_points_nowhere():
    nothing = Vector(np.asarray(0j), np.eye(2))
    assert np.isnan(nothing.angle.m)
    assert not nothing.told


def test_uncertainty_follows_the_covariance_along_and_across():
    # 2 along x, 1 along y: a vector along x is unsure by 2 in size and by 1 across.
    east = Vector(np.asarray(10 + 0j), np.diag([4.0, 1.0]))
    assert east.size_uncertainty.m_as("m") == pytest.approx(2)
    assert east.angle_uncertainty.m_as("rad") == pytest.approx(0.1)
    north = Vector(np.asarray(10j), np.diag([4.0, 1.0]))
    assert north.size_uncertainty.m_as("m") == pytest.approx(1)
