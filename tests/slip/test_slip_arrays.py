"""The margin of many set-ups at once, in any units, and the set-ups that are refused."""

import numpy as np
import pytest

from tests.slip.slip_cases import LOAD, SETUP
from workshop_lib.friction import Pad
from workshop_lib.quantities import Q_, InputError
from workshop_lib.slip import criterion, margin
from workshop_lib.sources.csv_tables import Range

# Shapes


def test_arrays_give_what_single_values_give():
    side, torque = np.array([0.0, 10.0, 40.0, 80.0]), np.array([[0.0], [0.2], [0.9]])
    mu = np.array([0.1, 0.2, 0.3, 0.0])
    for settings in ({}, {"nose": "located", "nose_friction": 0.1}):
        together = margin(SETUP["pad"], "600 N", mu, Q_(side, "N"), Q_(torque, "N*m"), **settings)
        assert together.shape == (3, 4)
        for i, j in np.ndindex(3, 4):
            loads = Q_(side[j], "N"), Q_(torque[i, 0], "N*m")
            alone = margin(SETUP["pad"], "600 N", mu[j], *loads, **settings)
            assert together[i, j] == pytest.approx(alone, rel=1e-12)


@pytest.mark.parametrize("pressure", ["uniform", "uniform_wear", "rigid_punch", "hertz"])
def test_pads_in_an_array_give_what_single_pads_give(pressure):
    inner = [0.0, 5.0, 12.0, 20.0] if pressure.startswith("uniform") else [0.0] * 4
    outer = [20.0, 30.0, 30.0, 21.0]
    pads = Pad(Q_(outer, "mm"), Q_(inner, "mm"), pressure)
    for settings in ({}, {"nose": "located", "nose_friction": 0.1}):
        together = margin(pads, "600 N", 0.2, **LOAD, **settings)
        alone = [
            margin(Pad(Q_(o, "mm"), Q_(i, "mm"), pressure), "600 N", 0.2, **LOAD, **settings)
            for o, i in zip(outer, inner, strict=True)
        ]
        assert together == pytest.approx(alone, rel=1e-6)


def test_relief_alone_may_be_an_array():
    pads = Pad("30 mm", ["0 mm", "10 mm", "20 mm"])
    for settings in ({}, {"nose": "located", "nose_friction": 0.1}):
        found = margin(pads, "600 N", 0.2, **LOAD, **settings)
        assert found.shape == (3,)
        assert (np.diff(found) > 0).all()


@pytest.mark.parametrize("nose", ["floating", "located"])
def test_long_arrays_are_worked_in_blocks_that_join(nose):
    count = 2 * criterion.BLOCK + 17
    side = np.linspace(0, 100, count)
    found = margin.core(SETUP["pad"], 600.0, 0.2, side, 0.5, nose)
    assert found.shape == (count,)
    places = [0, criterion.BLOCK - 1, criterion.BLOCK, 2 * criterion.BLOCK, count - 1]
    alone = [margin.core(SETUP["pad"], 600.0, 0.2, side[i], 0.5, nose) for i in places]
    assert found[places] == pytest.approx(alone, rel=1e-12)


def test_long_arrays_of_two_dimensions_keep_their_places():
    side, torque = np.linspace(1, 90, 301), np.linspace(0.1, 1, 103)[:, None]
    found = margin.core(SETUP["pad"], 600.0, 0.2, side, torque)
    assert found.shape == (103, 301)
    assert found.size > criterion.BLOCK
    for i, j in ((0, 0), (50, 200), (102, 300), (7, 3)):
        alone = margin.core(SETUP["pad"], 600.0, 0.2, side[j], torque[i, 0])
        assert found[i, j] == pytest.approx(alone, rel=1e-12)


def test_one_set_up_gives_a_plain_number():
    assert type(margin(**SETUP, **LOAD)) is float
    assert type(margin(**SETUP, **LOAD, nose="located")) is float
    assert np.ndim(margin.core(SETUP["pad"], 600.0, 0.2, 40.0, 0.5)) == 0


def test_arrays_of_no_dimension_are_single_values():
    found = margin(SETUP["pad"], Q_(np.array(600.0), "N"), np.array(0.2), **LOAD)
    assert type(found) is float


def test_low_typical_and_high_friction_go_in_as_one_range():
    band = margin(SETUP["pad"], "600 N", Range(0.2, 0.3, 0.45), **LOAD)
    assert band == pytest.approx(margin(**SETUP, **LOAD) * np.array([1, 1.5, 2.25]), rel=1e-9)


def test_inches_and_pounds_force_give_the_same():
    inch = margin(Pad("1.5 in"), "100 lbf", 0.2, "10 lbf", "2 lbf in")
    metric = margin(
        Pad("38.1 mm"),
        Q_(444.82216152605, "N"),
        0.2,
        Q_(44.482216152605, "N"),
        Q_(225.9696580, "N*mm"),
    )
    assert inch == pytest.approx(metric, rel=1e-9)


# Refusals


@pytest.mark.parametrize(
    ("changed", "named"),
    [
        ({"pad": "30 mm"}, "pad"),
        ({"pad": None}, "pad"),
        ({"thrust": "-1 N"}, "thrust"),
        ({"thrust": 600}, "thrust"),
        ({"thrust": "600 lb"}, "thrust"),
        ({"thrust": Q_(600, "kg")}, "thrust"),
        ({"thrust": []}, "thrust"),
        ({"friction_coefficient": -0.1}, "friction_coefficient"),
        ({"friction_coefficient": np.nan}, "friction_coefficient"),
        ({"friction_coefficient": [0.1, np.inf]}, "friction_coefficient"),
        ({"friction_coefficient": True}, "friction_coefficient"),
        ({"friction_coefficient": None}, "friction_coefficient"),
        ({"friction_coefficient": [[0.1], [0.1, 0.2]]}, "friction_coefficient"),
        ({"friction_coefficient": "0,2"}, "friction_coefficient"),
        ({"side_force": "-1 N"}, "side_force"),
        ({"side_force": "1 N m"}, "side_force"),
        ({"torque": "-1 N m"}, "torque"),
        ({"torque": "1 N"}, "torque"),
        ({"torque": Q_(1, "J/s")}, "torque"),
        ({"nose": "fixed"}, "nose"),
        ({"nose": None}, "nose"),
        ({"nose": ["located"]}, "nose"),
        ({"nose_friction": -0.1}, "nose_friction"),
        ({"nose_friction": "half"}, "nose_friction"),
    ],
)
def test_an_impossible_set_up_is_refused_by_name(changed, named):
    with pytest.raises(InputError) as refusal:
        margin(**{**SETUP, **LOAD, **changed})
    assert refusal.value.name == named


def test_shapes_that_do_not_fit_are_listed():
    with pytest.raises(InputError, match=r"thrust \(3,\).*friction_coefficient \(2,\)"):
        margin(SETUP["pad"], Q_([1, 2, 3], "N"), [0.1, 0.2], **LOAD)
    with pytest.raises(InputError, match=r"pad \(2,\)"):
        margin(Pad(["30 mm", "40 mm"]), Q_([1, 2, 3], "N"), 0.2, **LOAD)
