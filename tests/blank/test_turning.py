"""The conditions of turning: what is taken, what is refused, and by which name."""

import numpy as np
import pytest

from workshop_lib.blank.turning import Turning
from workshop_lib.friction import Pad
from workshop_lib.materials import find_material, friction
from workshop_lib.quantities import Q_, InputError, OutOfRangeWarning
from workshop_lib.sources.csv_tables import Range
from workshop_lib.torque import cutting_force, radial_shares

RIGHT = {
    "material": "brass",
    "thickness": "1 mm",
    "feed": "0.1 mm",
    "speed": "200 rev/min",
    "pad": Pad("60 mm"),
    "thrust": "900 N",
    "friction_coefficient": 0.25,
    "radial_share": 0.5,
}


def test_numbers_are_kept_bare_in_si():
    turning = Turning(**RIGHT | {"material": find_material("brass"), "thickness": "1/16 in"})
    assert turning.thickness == pytest.approx(25.4e-3 / 16)
    assert turning.feed == pytest.approx(1e-4)
    assert turning.speed == pytest.approx(2 * np.pi * 200 / 60)
    assert turning.approach_angle == pytest.approx(np.pi / 2)


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("material", "cheese"),
        ("thickness", "0 mm"),
        ("feed", "-1 mm"),
        ("speed", "0 rev/min"),
        ("speed", ["100 rev/min", "200 rev/min"]),
        ("pad", "60 mm"),
        ("pad", Pad(["60 mm", "70 mm"])),
        ("thrust", "9 mm"),
        ("thrust", float("nan")),
        ("friction_coefficient", "high"),
        ("friction_coefficient", friction("leather", "mild_steel")),
        ("radial_share", -0.1),
        ("radial_share", radial_shares()),
        ("cut", "drill"),
        ("cut", None),
        ("estimate", "middle"),
        ("approach_angle", "0 deg"),
        ("approach_angle", "91 deg"),
        ("overrun", "-1 mm"),
    ],
)
def test_bad_conditions_are_refused_by_name(name, value):
    with pytest.raises(InputError) as refusal:
        Turning(**RIGHT | {name: value})
    assert refusal.value.name == name
    if isinstance(value, Range):
        assert ".low" in str(refusal.value)


def test_thin_chips_are_warned_of_once():
    with pytest.warns(OutOfRangeWarning, match="0.05 mm") as warned:
        Turning(**RIGHT | {"feed": "0.02 mm"})
    assert len(warned) == 1


def test_the_approach_angle_thins_the_chip_of_a_traverse_cut_alone():
    slanting = RIGHT | {"feed": "0.06 mm", "approach_angle": "45 deg"}
    with pytest.warns(OutOfRangeWarning, match="0.05 mm"):
        Turning(**slanting)
    Turning(**slanting | {"cut": "plunge"})


@pytest.mark.parametrize("estimate", ["low", "typical", "high"])
def test_force_of_a_traverse_cut_is_as_wide_as_its_depth(estimate):
    turning = Turning(**RIGHT | {"estimate": estimate, "approach_angle": "60 deg"})
    depth = np.array([0.2e-3, 1e-3])
    expected = cutting_force("brass", Q_(depth, "m"), "0.1 mm", "60 deg", estimate)
    assert turning.force(depth) == pytest.approx(expected.m_as("N"))


def test_force_of_a_plunge_is_as_wide_as_the_sheet_is_thick():
    turning = Turning(**RIGHT | {"cut": "plunge"})
    expected = cutting_force("brass", "1 mm", "0.1 mm").m_as("N")
    assert turning.force(turning.feed) == pytest.approx(expected)
