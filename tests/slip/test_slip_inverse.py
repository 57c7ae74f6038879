"""Thrust needed and deepest cut: the margin asked the other way round."""

import warnings

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.slip.slip_cases import EACH_PAD, LOAD, PADS, SETUP
from workshop_lib import slip
from workshop_lib.friction import Pad
from workshop_lib.quantities import Q_, InputError, OutOfRangeWarning
from workshop_lib.slip import deepest_cut, margin, thrust_needed
from workshop_lib.torque import cutting_force, cutting_torque, side_force

# Thrust needed


@given(
    side=st.floats(0, 300),
    torque=st.floats(0, 5),
    mu=st.floats(0.05, 1),
    wanted=st.floats(0.1, 10),
    pad=st.sampled_from(PADS),
    nose=st.sampled_from(slip.NOSES),
    nose_friction=st.sampled_from([None, 0.0, 0.3]),
)
def test_thrust_needed_gives_the_margin_that_was_wanted(
    side, torque, mu, wanted, pad, nose, nose_friction
):
    loads = (Q_(side, "N"), Q_(torque, "N*m"))
    thrust = thrust_needed(pad, mu, *loads, wanted, nose, nose_friction)
    if side == torque == 0:
        assert thrust.m == 0
    elif side + torque > 1e-6:
        assert margin(pad, thrust, mu, *loads, nose, nose_friction) == pytest.approx(wanted, 1e-9)


def test_thrust_needed_by_hand():
    # Torque: 2 × 0.4 N·m / (0.2 × 10 mm) = 400 N; side force: 2 × 40 N / 0.2 = 400 N.
    pad = Pad("30 mm")
    assert thrust_needed(pad, 0.2, "0 N", "0.4 N m", 2).m_as("N") == pytest.approx(400)
    assert thrust_needed(pad, 0.2, "40 N", "0 N m", 2).m_as("N") == pytest.approx(400)
    # A located nose at 0.3 shares the side force: 2 × 40 N / (0.2 + 0.3) = 160 N.
    shared = thrust_needed(pad, 0.2, "40 N", "0 N m", 2, "located", 0.3)
    assert shared.m_as("N") == pytest.approx(160)


def test_no_thrust_holds_a_load_without_friction():
    assert np.isinf(thrust_needed(Pad("30 mm"), 0, "1 N", "0 N m", 2).m)
    assert thrust_needed(Pad("30 mm"), 0, "0 N", "0 N m", 2).m == 0


def test_thrust_needed_grows_in_step_with_the_margin():
    found = thrust_needed(Pad("30 mm"), 0.2, **LOAD, margin=np.array([1.0, 2.0, 4.0])).m
    assert found == pytest.approx(found[0] * np.array([1, 2, 4]), rel=1e-12)


# Deepest cut

CUT = {"material": "stainless_steel", "feed": "0.1 mm", "disc_diameter": "78 mm"}


def margin_at(depth, pad, thrust, mu, share, unbalance="0 N", **settings):
    force = cutting_force("stainless_steel", depth, "0.1 mm", estimate="high")  # the safe side
    load = side_force(force, share, unbalance), cutting_torque(force, "78 mm")
    return margin(pad, thrust, mu, *load, **settings)


@pytest.mark.parametrize(
    "nose", [{}, {"nose": "located"}, {"nose": "located", "nose_friction": 0.05}]
)
@pytest.mark.parametrize("unbalance", ["0 N", "3 N", "20 N"])
@EACH_PAD
def test_deepest_cut_leaves_the_margin_that_was_wanted(pad, unbalance, nose):
    settings = {"unbalance": unbalance, **nose}
    depth = deepest_cut(pad, "600 N", 0.3, **CUT, margin=1.5, radial_share=0.5, **settings)
    assert depth.m > 0
    assert margin_at(depth, pad, "600 N", 0.3, 0.5, **settings) == pytest.approx(1.5, rel=2e-6)


def test_deepest_cut_by_hand_where_torque_is_all():
    # A nose that takes every side force leaves torque alone: M = Fc D/2 = mu N r_t / 2, so
    # Fc = 0.2 × 600 N × 10 mm / (2 × 39 mm) = 15.385 N; Fc = 2687.5 × a × 0.1^0.8: a = 0.03612 mm.
    depth = deepest_cut(
        Pad("30 mm"),
        "600 N",
        0.2,
        **CUT,
        margin=2,
        radial_share=0.5,
        nose="located",
        nose_friction=1,
    )
    assert depth.m_as("mm") == pytest.approx(0.03612, abs=0.00001)


def test_unbalance_that_slips_by_itself_leaves_no_cut():
    # 0.2 × 600 N = 120 N; with a margin of 2 an unbalance of 60 N is the end of it.
    def depth(unbalance, nose):
        return deepest_cut(
            Pad("30 mm"),
            "600 N",
            0.2,
            **CUT,
            margin=2,
            radial_share=0.5,
            unbalance=unbalance,
            nose=nose,
        ).m

    assert depth("60.001 N", "floating") == 0
    assert depth("59.9 N", "floating") > 0
    assert depth("60.001 N", "located") > 0
    assert depth("120.001 N", "located") == 0


def test_deepest_cut_grows_in_step_with_thrust():
    found = deepest_cut(
        Pad("30 mm"), ["300 N", "600 N", "0 N"], 0.2, **CUT, margin=2, radial_share=0.5
    )
    assert found[1].m == pytest.approx(2 * found[0].m, rel=1e-9)
    assert found[2].m == 0


def test_deepest_cut_falls_with_margin_share_diameter_and_force():
    def depth(**changed):
        given = {**SETUP, **CUT, "margin": 2, "radial_share": 0.5, **changed}
        return deepest_cut(**given).m_as("mm")

    plain = depth()
    assert depth(margin=3) < plain
    assert depth(radial_share=0.7) < plain
    assert depth(disc_diameter="100 mm") < plain
    assert depth(feed="0.2 mm") < plain
    assert depth(unbalance="10 N") < plain
    assert depth(estimate="high") == plain < depth(estimate="typical") < depth(estimate="low")
    assert depth(material="aluminium") > plain
    assert depth(friction_coefficient=0.3) > plain


def test_deepest_cut_at_an_angle_follows_the_width_and_thickness_of_the_chip():
    # b h^(1−mc) with b = a/sin k, h = f sin k: the force changes as sin(k)^(−mc), mc = 0.20.
    given = {**SETUP, **CUT, "margin": 2, "radial_share": 0.5}
    square, slant = (deepest_cut(**given, approach_angle=a).m for a in ("90 deg", "45 deg"))
    assert slant / square == pytest.approx(np.sin(np.pi / 4) ** 0.20, rel=1e-9)


def test_deepest_cut_warns_once_of_a_chip_too_thin_for_the_law():
    given = {**SETUP, **CUT, "feed": "0.02 mm", "margin": 2, "radial_share": 0.5}
    with warnings.catch_warnings(record=True) as caught:
        warnings.simplefilter("always")
        deepest_cut(**given)
    assert [one.category for one in caught] == [OutOfRangeWarning]
    assert caught[0].filename == __file__


# Refusals


@pytest.mark.parametrize("wanted", [0, -1, "0 %", np.inf, [1, 0]])
def test_a_wanted_margin_is_above_zero(wanted):
    with pytest.raises(InputError, match="margin"):
        thrust_needed(SETUP["pad"], 0.2, **LOAD, margin=wanted)
    with pytest.raises(InputError, match="margin"):
        deepest_cut(**SETUP, **CUT, margin=wanted, radial_share=0.5)


@pytest.mark.parametrize(
    ("changed", "named"),
    [
        ({"material": "cheese"}, "material"),
        ({"material": None}, "material"),
        ({"feed": "0 mm"}, "feed"),
        ({"feed": 0.1}, "feed"),
        ({"disc_diameter": "0 mm"}, "disc_diameter"),
        ({"radial_share": -0.1}, "radial_share"),
        ({"approach_angle": "0 deg"}, "approach_angle"),
        ({"approach_angle": "91 deg"}, "approach_angle"),
        ({"approach_angle": 90}, "approach_angle"),
        ({"unbalance": "-1 N"}, "unbalance"),
        ({"estimate": "best"}, "estimate"),
    ],
)
def test_an_impossible_cut_is_refused_by_name(changed, named):
    with pytest.raises(InputError) as refusal:
        deepest_cut(**{**SETUP, **CUT, "margin": 2, "radial_share": 0.5, **changed})
    assert refusal.value.name == named
