"""What is too small to mean anything: held against SciPy's distributions and against hand sums."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from workshop_lib.quantities import resolution as r

MOVES = (1 - 1e-12, 1 + 1e-12)


# The machine


@given(st.floats(1e-9, 1e9), st.sampled_from([-1, 1]), st.sampled_from(MOVES))
def test_a_limit_is_met_whatever_rounding_does(limit, sign, move):
    assert r.at_least(sign * limit * move, sign * limit)
    assert not r.more_than(sign * limit * move, sign * limit)
    assert r.same(sign * limit * move, sign * limit)


@given(st.floats(1e-9, 1e9), st.sampled_from([-1, 1]))
def test_a_limit_missed_by_a_millionth_is_missed(limit, sign):
    low, high = sorted((sign * limit, sign * limit + 1e-6 * limit))
    assert not r.at_least(low, high)
    assert r.more_than(high, low)
    assert not r.same(low, high)


def test_limits_without_end_and_of_nothing():
    assert r.at_least(np.inf, np.inf) and r.at_least(1.0, -np.inf) and not r.at_least(1.0, np.inf)
    assert r.more_than(np.inf, 2.0) and not r.more_than(np.inf, np.inf)
    assert r.at_least(-1e-13, 0.0, size=1.0) and not r.at_least(-1e-13, 0.0)
    assert r.more_than(1e-13, 0.0) and not r.more_than(1e-13, 0.0, size=1.0)


@pytest.mark.parametrize(
    ("value", "up", "down", "near"),
    [
        (0.3, 3, 3, 3),
        (0.31, 4, 3, 3),
        (0.35, 4, 3, 4),
        (0.25, 3, 2, 3),
        (0, 0, 0, 0),
        (-0.35, -3, -4, -4),
    ],
)
@pytest.mark.parametrize("move", MOVES)
def test_steps_stay_where_rounding_moves_the_value(value, up, down, near, move):
    found = [step(value * move, 0.1) for step in (r.steps_up, r.steps_down, r.steps_near)]
    assert found == [up, down, near]


def test_differences_below_rounding_are_none():
    row = np.array([0.1 + 0.2, 0.3, 0.3])
    assert r.span(row) == 0 and r.deviation(row) == 0 and np.std(row) > 0
    assert r.span(np.array([0.3, 0.3001])) == pytest.approx(1e-4)
    assert r.deviation(np.array([1.0, 2, 3])) == 1  # by hand
    assert (r.span(np.array([[1, 1 + 1e-12], [1, 2]])) == [0, 1]).all()
    assert (r.without_dust(np.array([-1e-9, 1e-3, -1]), 1e-6) == [0, 1e-3, -1]).all()
    assert r.dust(np.array([3.0, -7.0]), 2.0) == pytest.approx(9e-10)


def test_the_first_of_equals_leads_and_equals_keep_their_order():
    values = np.array([0.2, 0.4 - 1e-15, 0.4, 0.2 + 1e-15])
    assert r.leading(values, 1e-9) == 1
    assert r.ranked(values, 1e-9) == [1, 2, 0, 3]
    assert r.ranked([1.0, 3.0, 2.0], 1e-9) == [1, 2, 0]
    assert r.leading(np.array([[0, 1], [1, 0]]), 1e-9).tolist() == [1, 0]


# The dial


@pytest.mark.parametrize("step", [0.1, 25.4e-6 / 2, 0.3, 7.0, 1e-6])
def test_the_step_of_readings_is_found_and_noise_has_none(step):
    counts = np.array([310, 312, -305, 0, 317])
    for move in (1.0, *MOVES):
        assert r.common_step(step * counts * move) == pytest.approx(step)
    luck = np.random.default_rng(1).normal(40, 3, (200, 5))
    assert all(r.common_step(row) is None for row in luck)


def test_equal_readings_and_nothing_have_no_finer_step():
    assert r.common_step(np.full(4, 8.0)) == 8
    assert r.common_step(np.zeros(3)) is None


def test_the_dial_counts_as_four_readings_that_scatter_by_its_division():
    # By hand: (4 × 2²/3 + 10)/(4 + 6).
    variance, freedom = r.own_scatter(10.0, 6, 2.0, None)
    assert (variance, freedom) == (pytest.approx(46 / 30), 10)
    assert r.own_scatter(0.0, 0, 3.0, None) == (pytest.approx(3), 4)


def test_without_a_graduation_a_perfect_fit_knows_nothing():
    noise = np.random.default_rng(2).normal(0, 1, 9)
    assert r.own_scatter(12.0, 6, None, noise) == (2, 6)
    assert np.isnan(r.own_scatter(0.0, 6, None, noise)[0])
    assert np.isnan(r.own_scatter(0.0, 0, None, np.array([1.0, 2, 3]))[0])
    assert r.own_scatter(2.0, 1, None, np.array([1.0, 2, 4, 6])) == (pytest.approx(2 / 3), 5)


# Chance


@pytest.mark.parametrize("vectors", [1, 2, 5, 40])
@pytest.mark.parametrize("freedom", [1, 2, 7, 300])
@pytest.mark.parametrize("ratio", [0.1, 1.0, 3.0, 50.0])
def test_chance_of_vectors_is_the_tail_of_f_by_scipy(vectors, freedom, ratio):
    squares = ratio * 2 * vectors * 1.7
    expected = stats.f.sf(ratio, 2 * vectors, freedom)
    assert r.chance_of(squares, vectors, 1.7, freedom) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("vectors", [1, 3, 98])
@pytest.mark.parametrize("squares", [0.5, 6.0, 200.0, 1e5])
def test_chance_with_a_known_variance_is_the_tail_of_chi_square_by_scipy(vectors, squares):
    expected = stats.chi2.sf(squares / 4.0, 2 * vectors)
    assert r.chance_of(squares, vectors, 4.0) == pytest.approx(expected, rel=1e-9, abs=1e-300)


def test_nothing_is_always_likely_and_the_unknown_is_not_known():
    assert r.chance_of(0.0, 3, 1.0, 4) == r.chance_of(0.0, 1, 1.0) == 1
    assert np.isnan(r.chance_of(1.0, 2, np.nan, 4))
    assert r.chance_of(np.array([0.0, 4.0]), 1, 1.0, 4) == pytest.approx([1, 0.25])


@pytest.mark.parametrize("freedom", [1, 4, 30, np.inf])
def test_a_vector_as_long_as_its_reach_has_the_chance_that_is_tested(freedom):
    assert r.chance_of(r.reach(freedom) ** 2, 1, 1.0, freedom) == pytest.approx(r.ALARM)
    assert np.isnan(r.reach(0))
