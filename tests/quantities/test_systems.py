"""Inch or metric: one choice, in which every quantity for people is then told."""

import pytest

from tests.house.laws import held_for
from workshop_lib.quantities import (
    KINDS,
    Q_,
    SYSTEMS,
    InputError,
    in_system,
    rounded_down,
    show,
    speak,
    speaking,
    system,
    unit_for,
)
from workshop_lib.quantities.systems import DIFFER

# The international inch and pound: 25.4 mm and 0.453 592 37 kg × 9.806 65 m/s² (NIST SP 811).
POUND = 0.45359237 * 9.80665
TOLD = [
    (Q_(127, "mm"), "5.00 in"),
    (Q_(2.54, "mm"), "0.100 in"),  # the least that is said in inches
    (Q_(2.5, "mm"), "98.4 thou"),
    (Q_(-0.0254, "mm"), "-1.00 thou"),
    (Q_(100 * POUND, "N"), "100 lbf"),
    (Q_(POUND * 0.0254, "N*m"), "1.00 lbf·in"),
    (Q_(POUND / 25.4**2, "MPa"), "1.00 psi"),
    (Q_(30.48, "m/min"), "100 ft/min"),
    (Q_(645.16, "mm**2"), "1.00 in²"),
    (Q_(453.59237, "g"), "16.0 oz"),
    (Q_(POUND / 25.4, "N/mm"), "1.00 lbf/in"),
    (Q_(105, "rev/min"), "105 rev/min"),
    (Q_(90, "deg"), "90.0°"),
    (Q_(120, "Hz"), "120 Hz"),
    (Q_(0.2), "0.200"),
    (Q_([1.0, 2.0], "mm"), "39.4, 78.7 thou"),
    (Q_([1.0, 25.4], "mm"), "0.0394, 1.00 in"),
    (Q_(4, "thou"), "4.00 thou"),
]


@held_for(TOLD)
def test_inch_is_told_in_inch(case):
    q, words = case
    with speaking("inch"):
        assert show(q) == words


def test_metric_turns_what_was_typed_in_inch():
    with speaking("metric"):
        told = [show(Q_(*each)) for each in ((4, "thou"), (5, "inch"), (100, "lbf"), (3, "um"))]
    assert told == ["0.102 mm", "127 mm", "445 N", "3.00 µm"]


def test_until_one_is_chosen_each_quantity_keeps_its_unit():
    assert system() is None
    assert [show(Q_(4, "thou")), show(Q_(4, "mm"))] == ["4.00 thou", "4.00 mm"]
    assert unit_for("length").unit == "mm"


def test_a_choice_ends_with_its_block_whatever_happens_in_it():
    with pytest.raises(ZeroDivisionError), speaking("inch"):
        assert system() == "inch"
        assert 1 / 0
    assert system() is None


def test_every_kind_has_a_unit_that_can_be_computed_with_in_both_systems():
    for name, kind in KINDS.items():
        for each in SYSTEMS:
            for small in (False, True):
                told = unit_for(name, small, each)
                assert Q_(1.0, told.unit).is_compatible_with(kind.core), name
                assert told.label == show(Q_(1.0, told.unit)).removeprefix("1.00").strip() or (
                    name in ("ratio", "angle", "speed")
                ), name


def test_every_kind_that_differs_is_the_same_amount_in_the_other_system():
    for name in DIFFER:
        q = Q_(7.0, KINDS[name].shown)
        with speaking("inch"):
            other = in_system(q)
        assert other.units != q.units
        assert other.m_as(q.units) == pytest.approx(7.0, rel=1e-12)
        with speaking("metric"):
            assert in_system(other).m_as(q.units) == pytest.approx(7.0, rel=1e-12)


def test_a_limit_is_rounded_down_in_the_system_that_it_is_told_in():
    """116.9 N is 26.28 lbf: 26 lbf is within, and so is what is shown of it."""
    with speaking("inch"):
        assert show(rounded_down(Q_(116.9, "N")), figures=2) == "26 lbf"


@pytest.mark.parametrize("wrong", ["imperial", "", 1, True, ["inch"], "Inch"])
def test_another_system_is_refused(wrong):
    with pytest.raises(InputError, match="Write inch or metric"):
        speak(wrong)
    assert system() is None


def test_a_kind_that_is_none_is_refused():
    with pytest.raises(InputError, match="not a kind of quantity"):
        unit_for("weight")
