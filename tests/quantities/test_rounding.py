"""Limits on a panel: rounded to the safe side, never beyond what was reckoned."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from workshop_lib.quantities import Q_
from workshop_lib.quantities.rounding import rounded_down, times_over


@pytest.mark.parametrize(
    ("limit", "figures", "shown"),
    [(116.9, 2, 110), (75.07, 3, 75.0), (0.2039, 2, 0.2), (13.99, 2, 13), (9.96, 1, 9)],
)  # fmt: skip
def test_a_limit_is_rounded_down_to_its_figures(limit, figures, shown):
    assert rounded_down(Q_(limit, "N"), figures).m == pytest.approx(shown, rel=1e-12)


def test_a_limit_is_never_raised_and_loses_less_than_its_last_figure():
    for size in np.random.default_rng(3).lognormal(0, 6, 500):
        found = rounded_down(Q_(size, "mm"), 2).m
        assert size * 0.909 < found <= size * (1 + 1e-8)


@pytest.mark.parametrize("size", [0.2, 0.3, 0.7, 1.1, 2.3, 110.0, 1e-6, 4.1e7])
def test_a_round_number_stays_what_it_is(size):
    assert rounded_down(Q_(size, "mm")).m == pytest.approx(size, rel=1e-12)
    assert rounded_down(Q_(np.nextafter(size, 0), "mm")).m == pytest.approx(size, rel=1e-12)


def test_nothing_and_no_limit_stay_as_they_are():
    assert rounded_down(Q_(0, "N")).m == 0
    assert rounded_down(np.inf * Q_(1, "N")).m == np.inf
    assert np.isnan(rounded_down(np.nan * Q_(1, "N")).m)


# Margins in words


@given(st.floats(1e-3, 1e4))
def test_a_margin_is_never_written_larger_than_it_is(margin):
    said = float(times_over(margin))
    assert 0.9 * margin < said <= margin * (1 + 1e-8)


@pytest.mark.parametrize("margin", [1.0, 2.0, 2.0 * (1 - 1e-12), 0.3, 12.0])
def test_a_round_margin_stays_what_it_is(margin):
    assert float(times_over(margin)) == pytest.approx(margin)
