"""What each way of holding gives, worked by hand from the numbers of its row."""

from dataclasses import replace

import numpy as np
import pytest

from workshop_lib import sources
from workshop_lib.friction import Pad
from workshop_lib.quantities import InputError
from workshop_lib.slip import find_way, hold
from workshop_lib.slip.holding import KINDS_OF_HOLD, compare, ways

RELIEVED = Pad("60 mm", "20 mm")  # pi (30² − 10²) = 2513.27 mm²
AREA = 2513.274  # mm²
LOAD = {"side_force": "40 N", "torque": "0.5 N m"}


def held(way, face=RELIEVED, disc="200 mm", **changed):
    given = {"thrust": "600 N", "friction_coefficient": 0.2, **LOAD, **changed}
    found = hold(way, face, disc, **given)
    return found.side.m_as("N"), found.torque.m_as("N m")


# Torque radius of even pressure between two radii: 2/3 (R³ − r³)/(R² − r²).
def torque_arm(outer, inner):
    return 2 / 3 * (outer**3 - inner**3) / (outer**2 - inner**2)


def test_a_pad_holds_friction_times_thrust():
    side, torque = held("pressure_pad")
    assert side == pytest.approx(120)  # 0.2 × 600 N
    assert torque == pytest.approx(120 * torque_arm(0.030, 0.010))  # 120 N × 21.667 mm = 2.6 N·m
    assert torque == pytest.approx(2.6)


def test_a_sandwich_grips_nine_tenths_of_the_disc():
    # 0.9 × 200 mm = 180 mm across: 120 N × 2/3 × 90 mm.
    assert held("sandwich") == pytest.approx((120, 7.2))


@pytest.mark.parametrize(
    ("way", "estimate", "pressure"),
    [
        ("tape", "low", 0.03),
        ("tape", "high", 0.5),
        ("adhesive", "typical", 10.2),
        ("vacuum", "low", 0.2 * 0.04),  # suction holds by friction
        ("vacuum", "high", 0.2 * 0.08),
    ],
)
def test_bond_and_suction_hold_by_the_area_of_the_face(way, estimate, pressure):
    side, torque = held(way, estimate=estimate)
    assert side == pytest.approx(pressure * AREA, rel=1e-5)  # MPa × mm² = N
    assert torque == pytest.approx(side * torque_arm(0.030, 0.010))


@pytest.mark.parametrize(("estimate", "each"), [("low", 300), ("typical", 800), ("high", 2000)])
def test_three_clamps_grip_two_faces_each_8_mm_inside_the_rim(estimate, each):
    # 2 faces × 3 clamps × 0.2 × force, on a circle of 200 − 2 × 8 = 184 mm.
    side, torque = held("clamps", estimate=estimate)
    assert side == pytest.approx(1.2 * each)
    assert torque == pytest.approx(1.2 * each * 0.092, rel=6e-4)  # the ring is a little inside it


def test_clamps_on_a_small_disc_stand_no_further_in_than_half_way():
    # 20 mm disc: 20 − 16 = 4 mm would be less than half of it, so the circle is 10 mm.
    side, torque = held("clamps", disc="20 mm")
    assert torque == pytest.approx(side * 0.005, rel=6e-4)


def test_the_strength_asked_for_is_the_low_one():
    assert held("tape") == held("tape", estimate="low")


def test_a_bond_does_not_ask_for_thrust_or_friction():
    without = held("adhesive", thrust="0 N", friction_coefficient=0)
    assert without == held("adhesive")
    assert held("vacuum", friction_coefficient=0)[0] == 0


@pytest.mark.parametrize("way", [way.key for way in ways()])
def test_a_load_of_one_kind_has_a_margin_of_hold_over_load(way):
    alone = hold(way, RELIEVED, "200 mm", "600 N", 0.2, "40 N", "0 N m")
    assert alone.margin == pytest.approx(alone.side.m_as("N") / 40, rel=1e-6)
    turned = hold(way, RELIEVED, "200 mm", "600 N", 0.2, "0 N", "0.5 N m")
    assert turned.margin == pytest.approx(turned.torque.m_as("N m") / 0.5, rel=1e-6)
    both = hold(way, RELIEVED, "200 mm", "600 N", 0.2, "40 N", "0.5 N m")
    assert both.margin < min(alone.margin, turned.margin)


def test_a_disc_is_held_when_the_hold_is_more_than_the_load():
    found = hold("pressure_pad", RELIEVED, "200 mm", "600 N", 0.2, **LOAD)
    assert found.holds is True
    assert not replace(found, margin=1.0).holds
    assert replace(found, margin=1.001).holds


def test_the_best_way_comes_first():
    margins = [each.margin for each in compare(RELIEVED, "200 mm", "600 N", 0.2, "40 N", "0.5 N m")]
    assert len(margins) == len(ways())
    assert np.all(np.diff(margins) <= 0)


# The table


def test_ways_are_of_the_known_kinds_and_say_where_their_numbers_come_from():
    for way in ways():
        assert way.kind in KINDS_OF_HOLD
        assert sources.find_all(way.cited)
        assert way.standing == sources.standing(way.cited)
        assert (way.strength is None) == (way.kind == "press")
        assert way.reaches_rim or way.kind == "clamp", "only a clamp stands on the rim"
    assert not find_way("clamps").reaches_rim
    assert find_way(find_way("tape")) is find_way("tape")


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        (",2000,N,", ",2000,MPa,", "this unit is wrong for a clamp"),
        (",0.5,MPa,", ",0.5,N,", "this unit is wrong for a bond"),
        (",0.08,MPa,", ",0.01,MPa,", "high"),
        (",0.03,0.15", ",0.0000001,0.15", "low"),
        (",0.5,MPa,", ",2000000,MPa,", "high"),
        ("bond,0.03", "glue,0.03", "kind"),
    ],
)
def test_a_bad_row_is_refused_by_its_column(own, old, new, said):
    own("holding.csv", old, new)
    with pytest.raises(InputError, match=f"holding.csv, line .*{said}"):
        ways()


@pytest.mark.parametrize(
    ("changed", "name"),
    [
        ({"thrust": ["1 N", "2 N"]}, "thrust"),
        ({"torque": ["1 N m", "2 N m"]}, "torque"),
        ({"friction_coefficient": [0.1, 0.2]}, "friction_coefficient"),
        ({"side_force": "-1 N"}, "side_force"),
        ({"estimate": "least"}, "estimate"),
    ],
)
def test_a_bad_argument_is_refused_by_name(changed, name):
    with pytest.raises(InputError, match=f"^{name}: "):
        held("tape", **changed)
