"""Machine speeds rounded down, and cautions that come when, and only when, they are due."""

import re

import numpy as np
import pytest

from workshop_lib.blank.speeds import cautions, machine_speed
from workshop_lib.materials import find_material
from workshop_lib.overhang import rim_stiffness
from workshop_lib.quantities import Q_, InputError
from workshop_lib.torque import spindle_speed

SPEEDS = Q_([2000, 130, 270, 60, 600, 1250], "rev/min")


def rpm(quantity):
    return quantity.m_as("rev/min")


@pytest.mark.parametrize(
    ("wanted", "taken"),
    [(60, 60), (61, 60), (129.9, 60), (130, 130), (270, 270), (599, 270), (9000, 2000)],
)
def test_the_next_speed_below_is_taken_in_any_order_of_the_list(wanted, taken):
    assert rpm(machine_speed(Q_(wanted, "rev/min"), SPEEDS)) == pytest.approx(taken)


def test_a_speed_that_differs_by_rounding_is_the_same_speed():
    wanted = Q_(270 * 2 * np.pi / 60 * (1 - 1e-9), "rad/s")
    assert rpm(machine_speed(wanted, SPEEDS)) == pytest.approx(270)


def test_cutting_speed_to_machine_speed():
    # 18 m/min on 78 mm is 73.5 rev/min by hand: the machine's 60.
    assert rpm(machine_speed(spindle_speed("18 m/min", "78 mm"), SPEEDS)) == pytest.approx(60)


def test_a_whole_row_of_wanted_speeds_keeps_its_shape():
    wanted = Q_([[100.0, 200.0, 300.0]], "rev/min")
    assert rpm(machine_speed(wanted, SPEEDS)) == pytest.approx(np.array([[60, 130, 270]]))


def test_a_machine_that_is_too_fast_says_so():
    with pytest.raises(InputError, match=r"60\.0 rev/min.* faster .*40\.0 rev/min") as refusal:
        machine_speed(["40 rev/min", "300 rev/min"], SPEEDS)
    assert refusal.value.name == "speeds"


@pytest.mark.parametrize("speeds", [[], None, "fast", [["60 rev/min"]], [60], ["0 rev/min"]])
def test_what_is_no_list_of_speeds_is_refused(speeds):
    with pytest.raises(InputError) as refusal:
        machine_speed("70 rev/min", speeds)
    assert refusal.value.name == "speeds"


CALM = {
    "diameter": "100 mm",
    "pad_diameter": "80 mm",
    "thickness": "1 mm",
    "material": "brass",
    "speed": "200 rev/min",
    "unbalance": "1 N",
    "thrust": "600 N",
    "friction_coefficient": 0.2,
}


def given(**change):
    return {each.key: each for each in cautions(**CALM | change)}


def test_a_calm_set_up_has_no_caution():
    assert given() == {}


def test_a_fast_rim_is_told_from_the_materials_own_speeds():
    highest = find_material("brass").core.cutting_speed_carbide.high
    at_the_limit = Q_(highest / 0.05, "rad/s")
    assert "fast_rim" not in given(speed=0.999 * at_the_limit)
    found = given(speed=1.001 * at_the_limit)["fast_rim"]
    assert found.value.m_as("m/s") == pytest.approx(1.001 * highest)
    assert found.limit.m_as("m/s") == pytest.approx(highest)
    assert found.standing == find_material("brass").standing("cutting_speed_carbide")
    twice = given(speed=2 * at_the_limit)["fast_rim"].sentence
    assert re.search("780 m/min.* faster .*390 m/min", twice)  # brass with carbide: 390 m/min
    assert "thrown" in twice


def test_unbalance_counts_as_a_share_of_what_friction_holds():
    hold = 0.2 * 600
    assert given(unbalance=Q_(0.099 * hold, "N")) == {}  # a tenth is the limit
    assert given(unbalance=Q_(0.101 * hold, "N"))["unbalanced"].limit == 0.1
    found = given(unbalance=Q_(0.25 * hold, "N"))["unbalanced"]
    assert found.value == pytest.approx(0.25)
    assert found.standing == "from memory"
    assert "30.0 N" in found.sentence
    assert "25 %" in found.sentence


def test_without_any_hold_every_unbalance_is_too_much():
    assert given(thrust="0 N")["unbalanced"].value == np.inf
    assert given(thrust="0 N", unbalance="0 N") == {}


def test_a_thin_rim_is_told_by_its_overhang():
    assert given(thickness="0.501 mm") == {}  # 10 mm stand out: twenty thicknesses are the limit
    found = given(thickness="0.4 mm")["thin"]
    assert found.value == pytest.approx(25)
    assert found.limit == 20
    stiff = rim_stiffness("100 mm", "80 mm", "0.4 mm", "brass").m_as("N/mm")
    assert re.search(rf"25 times .*millimetre under {stiff:.0f} N", found.sentence)


@pytest.mark.parametrize("name", [name for name in CALM if name != "material"])
def test_cautions_are_for_one_set_up(name):
    with pytest.raises(InputError, match="one value") as refusal:
        cautions(**CALM | {name: [CALM[name]] * 2})
    assert refusal.value.name == name
