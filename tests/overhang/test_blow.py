"""The blow of a corner: a numerical oscillator knows nothing of the formula."""

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from workshop_lib.overhang import own_frequencies, strike_factor, strike_factor_up_to
from workshop_lib.quantities import Q_


def swing(ratio):
    """Largest deflection over the steady one of x'' + (2 pi)² (x − load) = 0, own period 1."""

    def motion(time, state):
        load = min(time / ratio, 1.0)
        return state[1], (2 * np.pi) ** 2 * (load - state[0])

    times = np.linspace(0, ratio + 2, 20_001)
    found = solve_ivp(
        motion, (0, times[-1]), (0.0, 0.0), t_eval=times, rtol=1e-9, atol=1e-10, max_step=0.02
    )
    return found.y[0].max()


@pytest.mark.parametrize("ratio", [0.02, 0.15, 0.5, 0.76, 1.0, 1.43, 2.2, 3.5])
def test_the_factor_is_that_of_a_numerical_oscillator(ratio):
    assert strike_factor(Q_(ratio, "s"), "1 s") == pytest.approx(swing(ratio), abs=2e-4)


def test_a_blow_doubles_and_a_slow_rise_adds_nothing():
    assert strike_factor("0 s", "0.01 s") == 2.0
    assert strike_factor("10 s", "0.01 s") == pytest.approx(1.0, abs=1e-3)


def test_the_worst_of_all_shorter_periods_is_the_largest_of_them():
    for rise in (0.0, 0.3, 0.9, 1.0, 1.2, 1.6, 2.0, 3.7):
        shorter = Q_(np.linspace(1e-3, 1.0, 60_001), "s")
        largest = strike_factor(Q_(rise, "s"), shorter).max()
        assert strike_factor_up_to(Q_(rise, "s"), "1 s") == pytest.approx(largest, abs=1e-4)


def test_a_softer_set_up_and_a_faster_corner_never_lower_it():
    rises, periods = Q_(np.geomspace(1e-5, 1, 400), "s"), Q_(np.geomspace(1e-4, 1, 400), "s")
    assert (np.diff(strike_factor_up_to(rises, "0.005 s")) <= 1e-12).all()
    assert (np.diff(strike_factor_up_to("0.002 s", periods)) >= -1e-12).all()
    assert (strike_factor_up_to(rises, "0.005 s") >= strike_factor(rises, "0.005 s")).all()


def test_the_frequencies_rise_and_say_where_they_come_from():
    found = own_frequencies()
    assert found.low < found.typical < found.high
    assert found.standing == "from memory"
