"""The margin against slip: by hand, against the exact curve, and the laws that it must obey."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.references import limit_reference
from tests.slip.slip_cases import EACH_PAD, LOAD, PADS, SETUP
from workshop_lib import slip
from workshop_lib.friction import Pad, limit_curve
from workshop_lib.quantities import Q_
from workshop_lib.slip import margin

# One kind of load alone, by hand


@EACH_PAD
def test_torque_alone_is_held_by_mu_n_times_the_torque_radius(pad):
    found = margin(pad, "600 N", 0.2, "0 N", "0.4 N m")
    assert found == pytest.approx(0.2 * 600 * pad.torque_radius.m_as("m") / 0.4, rel=1e-9)


@EACH_PAD
def test_side_force_alone_is_held_by_mu_n(pad):
    assert margin(pad, "600 N", 0.2, "40 N", "0 N m") == pytest.approx(3.0, rel=1e-12)


def test_both_loads_at_the_anchor_are_held_once():
    # 8/(3 pi) × 120 N = 101.859 N and 8/(9 pi) × 120 N × 15 mm = 0.509296 N·m, worked by hand.
    found = margin(Pad("30 mm"), "600 N", 0.2, "101.859 N", "0.509296 N m")
    assert found == pytest.approx(1, abs=3e-6)


# Against the exact curve


@pytest.mark.parametrize("ratio", [0.1, 0.6, 1.0, 2.0, 8.0])
@EACH_PAD
def test_both_loads_together_reach_the_exact_curve(pad, ratio):
    side, turn = 1 / (1 + ratio), ratio / (1 + ratio)
    exact = limit_reference.margin(pad.pressure, pad.relief, side, turn)
    found = margin(pad, "600 N", 0.2, Q_(120 * side, "N"), Q_(120 * 0.015 * turn, "N*m"))
    assert found == pytest.approx(exact, rel=1e-6)


@EACH_PAD
def test_every_point_of_the_limit_curve_is_held_exactly_once(pad):
    side, torque = limit_curve(pad, 57)
    found = margin(pad, "600 N", 0.2, Q_(120 * side, "N"), Q_(120 * 0.015 * torque, "N*m"))
    np.testing.assert_allclose(found, 1, atol=1e-6)


@EACH_PAD
def test_both_together_are_held_less_than_either_and_more_than_their_sum(pad):
    alone = margin(pad, "600 N", 0.2, "40 N", "0 N m"), margin(pad, "600 N", 0.2, "0 N", "0.5 N m")
    together = margin(pad, "600 N", 0.2, "40 N", "0.5 N m")
    assert 1 / (1 / alone[0] + 1 / alone[1]) < together < min(alone)


def test_ellipse_would_promise_too_much():
    alone = [
        margin(Pad("30 mm"), "600 N", 0.2, *load)
        for load in (("40 N", "0 N m"), ("0 N", "0.3 N m"))
    ]
    together = margin(Pad("30 mm"), "600 N", 0.2, "40 N", "0.3 N m")
    assert together < 1 / np.hypot(1 / alone[0], 1 / alone[1])


# Scaling, limits, direction


@pytest.mark.parametrize("nose", ["floating", "located"])
def test_margin_doubles_with_thrust(nose):
    single, double = (
        margin(SETUP["pad"], thrust, 0.2, **LOAD, nose=nose) for thrust in ("600 N", "1200 N")
    )
    assert double == pytest.approx(2 * single, rel=1e-9)


def test_margin_doubles_with_friction():
    single, double = (margin(SETUP["pad"], "600 N", mu, **LOAD) for mu in (0.2, 0.4))
    assert double == pytest.approx(2 * single, rel=1e-9)


@pytest.mark.parametrize("nose", ["floating", "located"])
def test_margin_halves_when_the_load_doubles(nose):
    single = margin(**SETUP, side_force="40 N", torque="0.5 N m", nose=nose)
    double = margin(**SETUP, side_force="80 N", torque="1 N m", nose=nose)
    assert double == pytest.approx(single / 2, rel=1e-9)


def test_a_pad_twice_as_large_holds_twice_the_torque_and_the_same_side_force():
    small = margin(Pad("15 mm", "6 mm"), "600 N", 0.2, "40 N", "0.25 N m")
    large = margin(Pad("30 mm", "12 mm"), "600 N", 0.2, "40 N", "0.5 N m")
    assert large == pytest.approx(small, rel=1e-12)


@pytest.mark.parametrize("nose", ["floating", "located"])
@pytest.mark.parametrize("lost", [{"friction_coefficient": 0}, {"thrust": "0 N"}])
def test_zero_friction_or_thrust_holds_nothing(lost, nose):
    for load in (LOAD, {**LOAD, "torque": "0 N m"}, {**LOAD, "side_force": "0 N"}):
        assert margin(**{**SETUP, **lost}, **load, nose=nose) == 0


@pytest.mark.parametrize("nose", ["floating", "located"])
@pytest.mark.parametrize("lost", [{}, {"friction_coefficient": 0}, {"thrust": "0 N"}])
def test_without_load_there_is_no_limit(lost, nose):
    assert margin(**{**SETUP, **lost}, side_force="0 N", torque="0 N m", nose=nose) == np.inf


def test_a_vanishing_load_gives_a_vast_margin_without_a_warning():
    for nose in ("floating", "located"):
        assert margin(**SETUP, side_force=Q_(1e-308, "N"), torque="0 N m", nose=nose) > 1e300


@given(
    side=st.floats(0.1, 300),
    torque=st.floats(0.001, 5),
    more_side=st.floats(1, 3),
    more_torque=st.floats(1, 3),
    pad=st.sampled_from(PADS),
    nose=st.sampled_from(slip.NOSES),
)
def test_more_load_never_raises_the_margin(side, torque, more_side, more_torque, pad, nose):
    lighter = margin.core(pad, 600.0, 0.2, side, torque, nose)
    heavier = margin.core(pad, 600.0, 0.2, side * more_side, torque * more_torque, nose)
    assert heavier <= lighter * (1 + 1e-6)


@given(
    first=st.tuples(st.floats(0, 100), st.floats(0, 2)),
    second=st.tuples(st.floats(0, 100), st.floats(0, 2)),
)
def test_what_holds_two_loads_holds_their_mean(first, second):
    pad = Pad("30 mm", "12 mm")
    held = [margin.core(pad, 600.0, 0.2, *load) for load in (first, second)]
    between = margin.core(pad, 600.0, 0.2, *np.add(first, second) / 2)
    assert between >= min(held) * (1 - 1e-6)


def test_relieving_the_middle_raises_the_margin():
    reliefs = Pad("30 mm", Q_(np.linspace(0, 29, 30), "mm"))
    assert (np.diff(margin(reliefs, "600 N", 0.2, **LOAD)) > 0).all()
