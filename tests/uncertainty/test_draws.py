"""Many answers in order: what NumPy says of them, whatever comes among them."""

import numpy as np
import pytest

from workshop_lib.uncertainty.draws import Ordered
from workshop_lib.uncertainty.propagation import BLOCK

SHARES = np.array([0.001, 0.025, 0.3, 0.5, 0.9, 0.975, 0.9999])


taken = Ordered


@pytest.mark.parametrize("count", [1, 2, 7, 1000, 40_000])
def test_shares_are_those_of_the_answers(count):
    values = np.random.default_rng(count).normal(size=count)
    tally = taken(values)
    wanted = np.quantile(values, SHARES, method="inverted_cdf")
    assert (tally.quantile(SHARES) == wanted).all()
    assert tally.share_below(0.2) == np.mean(values < 0.2)


def test_moments_keep_their_figures_far_from_zero():
    values = 1e9 + np.random.default_rng(3).normal(size=5 * BLOCK + 17)
    tally = taken(values)
    assert tally.mean == pytest.approx(np.mean(values), rel=1e-14)
    assert tally.deviation == pytest.approx(np.std(values, ddof=1), rel=1e-6)


def test_values_that_are_equal_have_no_deviation():
    tally = taken(np.full(3 * BLOCK, 0.1))
    assert tally.deviation == pytest.approx(0, abs=1e-12)
    assert (tally.quantile(SHARES) == 0.1).all()
    assert tally.share_below(0.1) == 0
    assert tally.share_below(np.nextafter(0.1, 1)) == 0  # rounding is no distance
    assert tally.share_below(0.1 * (1 + 1e-9)) == 1


def test_whole_numbers_stay_whole():
    die = np.random.default_rng(4).integers(1, 7, 20 * BLOCK).astype(float)
    tally = taken(die)
    assert set(tally.quantile(np.linspace(0.001, 0.999, 500))) == {1, 2, 3, 4, 5, 6}
    assert tally.share_below(3.5) == tally.share_below(4)
    assert tally.share_below(4) == pytest.approx(0.5, abs=0.002)


# Infinite values


def with_infinities(share, sign=1):
    values = np.linspace(0, 1, 4 * BLOCK)
    values[:: round(1 / share)] = sign * np.inf
    return np.random.default_rng(6).permutation(values)


@pytest.mark.parametrize("sign", [1, -1])
def test_infinities_are_counted_and_make_the_mean_infinite(sign):
    tally = taken(with_infinities(0.01, sign))
    assert tally.mean == sign * np.inf
    assert tally.deviation == np.inf
    assert tally.share_below(-1e300) == pytest.approx(0.01 if sign < 0 else 0, abs=1e-4)
    assert tally.quantile(0.995 if sign > 0 else 0.005) == sign * np.inf
    assert np.isfinite(tally.quantile([0.02, 0.5, 0.98])).all()


def test_infinities_both_ways_leave_no_mean():
    tally = taken(np.array([-np.inf, 0.0, np.inf]))
    assert np.isnan(tally.mean)
    assert tally.quantile(0.5) == 0


def test_nothing_but_infinities():
    tally = taken(np.full(BLOCK + 5, np.inf))
    assert tally.mean == tally.quantile(0.5) == np.inf
    assert (tally.shortest(0.95) == np.inf).all()


# The shortest interval


def test_shortest_interval_of_a_skew_law_begins_at_its_steep_end():
    # An exponential law has its shortest interval from 0 to −ln(1 − p).
    values = np.random.default_rng(7).exponential(size=40 * BLOCK)
    low, high = taken(values).shortest(0.95)
    assert low == pytest.approx(0, abs=0.002)
    assert high == pytest.approx(-np.log(0.05), abs=0.02)


def test_shortest_interval_leaves_infinities_out_where_it_can():
    tally = taken(with_infinities(0.04))
    assert np.isfinite(tally.shortest(0.95)).all()
    low, high = tally.shortest(0.98)
    assert high == np.inf
    assert low == pytest.approx(0.02, abs=0.003)


def test_shortest_interval_holds_its_share():
    values = np.random.default_rng(8).normal(size=BLOCK)
    low, high = taken(values).shortest(0.9)
    assert np.mean((values >= low) & (values <= high)) == pytest.approx(0.9, abs=2 / BLOCK)
