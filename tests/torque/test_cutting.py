"""Cutting force, torque, side force and spindle speed: the Kienzle law by hand, and statics."""

import warnings

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from workshop_lib import torque
from workshop_lib.materials import find_material, materials
from workshop_lib.quantities import Q_, InputError, OutOfRangeWarning
from workshop_lib.torque import cutting_force, cutting_torque, side_force, spindle_speed

KEYS = [material.key for material in materials()]
EACH_MATERIAL = pytest.mark.parametrize("material", KEYS)


def newtons(*arguments, **settings):
    return cutting_force(*arguments, **settings).m_as("N")


# Cutting force


# Fc = kc1.1 b h^(1−mc) with kc1.1 and mc of the ISCAR catalogues 2017 and 2022 (VDI groups 14, 1,
# 21, 27), worked on a pocket calculator: stainless 2150 × 0.5 × 0.1^0.80 = 170.38 N; mild steel
# 1350 × 0.5 × 0.1^0.79 = 109.47 N; aluminium 700 × 0.5 × 0.1^0.75 = 62.24 N; brass
# 700 × 0.5 × 0.1^0.73 = 65.17 N.
@pytest.mark.parametrize(
    ("material", "force"),
    [("stainless_steel", 170.38), ("mild_steel", 109.47), ("aluminium", 62.24), ("brass", 65.17)],
)
def test_kienzle_law_by_hand(material, force):
    assert newtons(material, "0.5 mm", "0.1 mm") == pytest.approx(force, abs=0.01)


@EACH_MATERIAL
def test_a_chip_of_one_millimetre_square_takes_the_specific_force(material):
    specific = find_material(material).specific_cutting_force.typical
    assert newtons(material, "1 mm", "1 mm") == pytest.approx(specific.m_as("N/mm**2"))


@EACH_MATERIAL
def test_force_lies_between_low_and_high(material):
    low, typical, high = (
        newtons(material, "0.2 mm", "0.1 mm", estimate=estimate) for estimate in torque.ESTIMATES
    )
    assert low < typical < high


def test_typical_is_what_is_meant_when_nothing_is_said():
    plain = newtons("brass", "0.2 mm", "0.1 mm")
    assert plain == newtons("brass", "0.2 mm", "0.1 mm", "90 deg", "typical")


@given(factor=st.floats(0, 100))
def test_force_grows_in_step_with_depth(factor):
    single = cutting_force.core(find_material("copper"), 0.2e-3, 0.1e-3, np.pi / 2, "typical")
    multiple = cutting_force.core(
        find_material("copper"), factor * 0.2e-3, 0.1e-3, np.pi / 2, "typical"
    )
    assert multiple == pytest.approx(factor * single)


@EACH_MATERIAL
def test_double_feed_costs_less_than_double_force(material):
    single, double = (newtons(material, "0.2 mm", feed) for feed in ("0.1 mm", "0.2 mm"))
    exponent = find_material(material).core.chip_exponent
    assert double / single == pytest.approx(2 ** (1 - exponent))
    assert single < double <= 2 * single


@pytest.mark.parametrize("angle", [30, 45, 60, 75, 90])
def test_approach_angle_widens_and_thins_the_chip(angle):
    # b = a/sin k, h = f sin k, so Fc = kc1.1 a f^(1−mc) sin(k)^(−mc); mild steel mc = 0.21.
    square = newtons("mild_steel", "0.5 mm", "0.2 mm")
    slant = newtons("mild_steel", "0.5 mm", "0.2 mm", Q_(angle, "deg"))
    assert slant / square == pytest.approx(np.sin(np.radians(angle)) ** -0.21)


def test_inches_and_thou_give_the_same_force():
    inch = newtons("brass", "10 thou", "0.004 in/rev")
    assert inch == pytest.approx(newtons("brass", "0.254 mm", "0.1016 mm"), rel=1e-12)


@pytest.mark.parametrize(
    "feed",
    [Q_(0.1, "mm/rev"), Q_(0.1, "mm") / Q_(1, "turn"), Q_(0.1, "mm"), "0.1 mm/rev", "100 um"],
)
def test_feed_for_each_turn_hides_no_two_pi(feed):
    assert newtons("brass", "0.2 mm", feed) == pytest.approx(newtons("brass", "0.2 mm", "0.1 mm"))


def test_materials_given_as_key_or_row_are_the_same():
    assert newtons(find_material("pvc"), "1 mm", "0.1 mm") == newtons("pvc", "1 mm", "0.1 mm")


def caught_from(call):
    with warnings.catch_warnings(record=True) as caught:
        warnings.simplefilter("always")
        call()
    return caught


@pytest.mark.parametrize(
    ("feed", "angle"),
    [
        ("0.04 mm", "90 deg"),
        ("2.6 mm", "90 deg"),
        ("0.06 mm", "45 deg"),
        (["0.1 mm", "0.01 mm"], "90 deg"),
    ],
)
def test_a_chip_outside_the_law_is_warned_of_once_at_the_callers_line(feed, angle):
    caught = caught_from(lambda: cutting_force("brass", ["0.2 mm", "0.3 mm"], feed, angle))
    assert [one.category for one in caught] == [OutOfRangeWarning]
    assert caught[0].filename == __file__


@pytest.mark.parametrize(
    "feed", ["0.05 mm", "50 um", "0.05 mm/rev", Q_(0.05, "mm") / Q_(1, "turn"), "0.5 mm", "2.5 mm"]
)
def test_a_chip_just_inside_the_law_is_not_warned_of(feed):
    assert caught_from(lambda: cutting_force("brass", "0.2 mm", feed)) == []


@pytest.mark.parametrize("angle", ["90.1 deg", "180 deg", "1.6 rad", "0 deg", "-45 deg"])
def test_an_approach_angle_that_cannot_be_is_refused_without_a_warning(angle):
    with pytest.raises(InputError) as refusal:
        cutting_force("brass", "0.2 mm", "0.1 mm", angle)
    assert refusal.value.name == "approach_angle"


@pytest.mark.parametrize(
    ("arguments", "named"),
    [
        (("cheese", "1 mm", "0.1 mm"), "material"),
        ((3, "1 mm", "0.1 mm"), "material"),
        (("brass", "-1 mm", "0.1 mm"), "depth_of_cut"),
        (("brass", 1, "0.1 mm"), "depth_of_cut"),
        (("brass", "1 mm", "0 mm"), "feed"),
        (("brass", "1 mm", "0.1 mm/s"), "feed"),
        (("brass", "1 mm", Q_(0.1, "mm/s")), "feed"),
        (("brass", "1 mm", "0.1 mm", 90), "approach_angle"),
        (("brass", "1 mm", "0.1 mm", Q_(90)), "approach_angle"),
        (("brass", "1 mm", "0.1 mm", "90 deg", "mean"), "estimate"),
    ],
)
def test_an_impossible_cut_is_refused_by_name(arguments, named):
    with pytest.raises(InputError) as refusal:
        cutting_force(*arguments)
    assert refusal.value.name == named


def test_zero_depth_takes_no_force():
    assert newtons("brass", "0 mm", "0.1 mm") == 0


# Torque and side force


def test_torque_takes_the_diameter_and_not_the_radius():
    assert cutting_torque("100 N", "200 mm").m_as("N*m") == pytest.approx(10)


def test_torque_in_pounds_force_and_inches_is_the_same():
    # 10 lbf on a 6 in disc: 30 lbf·in = 30 × 0.1129848290276167 N·m.
    found = cutting_torque("10 lbf", "6 in")
    assert found.m_as("lbf*inch") == pytest.approx(30)
    assert found.m_as("N*m") == pytest.approx(30 * 0.1129848290276167, rel=1e-12)


def test_side_force_is_the_hypotenuse_and_the_unbalance_adds():
    # 5-12-13 and 3-4-5 by hand.
    assert side_force("12 N", Q_(5 / 12)).m_as("N") == pytest.approx(13)
    assert side_force("40 N", 0.75, "7 N").m_as("N") == pytest.approx(57)
    assert side_force("40 N", "75 %").m_as("N") == pytest.approx(50)
    assert side_force("40 N", 0).m_as("N") == pytest.approx(40)
    assert side_force("0 N", 0.75, "7 N").m_as("N") == pytest.approx(7)


def test_radial_shares_rise_and_start_at_the_published_rule_of_thumb():
    # Isakov 2013: radial force a quarter of the cutting force.
    shares = torque.radial_shares()
    assert shares.low == 0.25
    assert shares.low < shares.typical < shares.high < 1
    assert side_force("40 N", shares).shape == (3,)


# Speed


def test_speed_in_the_metric_classroom_formula():
    # n = 1000 v / (pi D), v in m/min, D in mm.
    for speed, diameter in ((18, 78), (90, 112), (30, 6.35), (250, 150)):
        found = spindle_speed(Q_(speed, "m/min"), Q_(diameter, "mm")).m_as("rev/min")
        assert found == pytest.approx(1000 * speed / (np.pi * diameter), rel=1e-12)


def test_speed_in_the_inch_classroom_formula():
    # n = 12 v / (pi D), v in ft/min, D in inches; the shop's shortcut 4 v / D is 4.5 % above it.
    for speed, diameter in ((60, 3.0), (300, 6.0), (90, 0.5)):
        found = spindle_speed(f"{speed} sfm", f"{diameter} in").m_as("rev/min")
        assert found == pytest.approx(12 * speed / (np.pi * diameter), rel=1e-12)
        assert 4 * speed / diameter / found == pytest.approx(np.pi / 3, rel=1e-12)


def test_surface_speed_comes_back_out_of_the_spindle_speed():
    found = spindle_speed("20 m/min", "78 mm")
    surface = found.to("rad/s") * Q_(39, "mm")
    assert surface.m_as("m*rad/min") == pytest.approx(20, rel=1e-12)
    # Turns times circumference, counted by hand: n pi D.
    assert found.m_as("rev/min") * np.pi * 0.078 == pytest.approx(20, rel=1e-12)


def test_omega_times_radius_is_taken_as_a_cutting_speed():
    omega_r = Q_(10, "rad/s") * Q_(39, "mm")
    assert spindle_speed(omega_r, "78 mm").m_as("rad/s") == pytest.approx(10, rel=1e-12)


def test_turns_times_length_are_refused_since_two_pi_hides_in_them():
    with pytest.raises(InputError, match="cutting_speed"):
        spindle_speed(np.pi * Q_(78, "mm") * Q_(250, "rev/min"), "78 mm")


def test_smaller_discs_turn_faster():
    found = spindle_speed("20 m/min", Q_(np.linspace(10, 150, 20), "mm")).m
    assert (np.diff(found) < 0).all()


@pytest.mark.parametrize(
    ("call", "arguments", "named"),
    [
        (spindle_speed, ("0 m/min", "78 mm"), "cutting_speed"),
        (spindle_speed, ("20 mm/rev", "78 mm"), "cutting_speed"),
        (spindle_speed, ("250 rev/min", "78 mm"), "cutting_speed"),
        (spindle_speed, ("20 m/min", "0 mm"), "diameter"),
        (cutting_torque, ("-1 N", "78 mm"), "force"),
        (cutting_torque, ("1 N", "-78 mm"), "diameter"),
        (cutting_torque, ("1 kg", "78 mm"), "force"),
        (side_force, ("1 N", -0.5), "radial_share"),
        (side_force, ("1 N", None), "radial_share"),
        (side_force, ("1 N", 0.5, "-1 N"), "unbalance"),
        (side_force, ("1 N", 0.5, None), "unbalance"),
    ],
)
def test_impossible_values_are_refused_by_name(call, arguments, named):
    with pytest.raises(InputError) as refusal:
        call(*arguments)
    assert refusal.value.name == named
