"""The panels of lessons 01 and 02 say no more than the models know, and round to the safe side."""

import numpy as np
import pytest

from workshop_lib.lessons import shared_fields
from workshop_lib.lessons.holding import panels as holding_panels
from workshop_lib.lessons.slip import panels as slip_panels
from workshop_lib.quantities import Q_, Quantity, speaking


def look(scene, **changes):
    return scene.look(scene.given() | changes).view


def words(view):
    return "\n".join(str(each) for each in view.details)


@pytest.mark.parametrize(
    ("depth", "said"),
    [(0.203, "0.20 mm"), (0.178, "0.17 mm"), (0.2, "0.20 mm"), (0.0099, "less than 0.01 mm"),
     (0.29999999999999, "0.30 mm"), (1.2345, "1.23 mm")],
)  # fmt: skip
def test_a_depth_is_rounded_down_to_the_dial(depth, said):
    assert shared_fields.dial_depth(Q_(depth, "mm")) == said


@pytest.mark.parametrize(
    ("thrust", "said"), [(908.2, "910 N"), (910.0, "910 N"), (910.1, "920 N"), (12344, "12350 N")]
)
def test_a_thrust_that_is_needed_is_rounded_up(thrust, said):
    assert shared_fields.enough_thrust(Q_(thrust, "N")) == said
    assert shared_fields.enough_thrust(Q_(thrust / 1e3, "kN")) == said


def test_in_inch_they_are_steps_of_an_inch_machine():
    """4.45 N is 1 lbf, 25.4 µm is 1 thou: 909 N is 204.4 lbf, 0.203 mm is 7.99 thou."""
    with speaking("inch"):
        assert shared_fields.enough_thrust(Q_(909, "N")) == "206 lbf"
        assert shared_fields.dial_depth(Q_(0.203, "mm")) == "7.5 thou"
        assert shared_fields.dial_depth(Q_(0.012, "mm")) == "less than 0.5 thou"


def test_what_no_thrust_reaches_is_not_a_number():
    assert not any(c.isdigit() for c in shared_fields.enough_thrust(Quantity(np.inf, "N")))
    assert not any(c.isdigit() for c in shared_fields.dial_depth(Quantity(np.inf, "mm")))


def test_a_cut_and_a_thrust_from_the_panel_reach_the_margin_when_they_are_set():
    firm = {"pad_diameter": "50 mm", "facing": "moulded_lining"}
    view = look(slip_panels.slip_scene(), depth="0.2 mm", **firm)
    rows = dict(line.rsplit("  ", 1) for line in words(view).splitlines() if " wanted " in line)
    thrust = next(text.strip() for name, text in rows.items() if name.startswith("Thrust"))
    depth = next(text.strip() for name, text in rows.items() if name.startswith("Deepest"))
    for changes in ({"thrust": thrust, "depth": "0.2 mm"}, {"depth": depth}):
        mended = look(slip_panels.slip_scene(), **firm, **changes)
        assert mended.holds == "yes", changes


def test_a_margin_far_above_what_is_needed_is_not_written_out():
    view = look(holding_panels.ways_scene())
    adhesive = next(line for line in words(view).splitlines() if "adhesive" in line)
    assert "above 10" in adhesive and "above 10" in view.picture.alt
    assert "2.6" in next(line for line in words(view).splitlines() if "pressure pad" in line)


def test_the_tables_of_gauges_are_called_by_names_and_not_by_keys():
    (choice,) = [each for each in holding_panels.gauge_scene().fields if each.name == "table"]
    assert set(choice.options) == set(holding_panels.TABLES)
    assert not set(choice.options) & set(choice.options.values())


def test_a_low_pressure_is_no_leave_to_press_without_a_plate():
    view = look(holding_panels.press_scene(), thrust="500 N")
    assert view.holds == "open" and "through a plate" in view.verdict
    plate = look(holding_panels.press_scene(), thrust="500 N", nose_diameter="60 mm")
    assert plate.holds == "yes" and plate.verdict.startswith("Pressure is low")


def test_a_bond_is_never_told_by_its_shear_alone():
    said = words(look(holding_panels.ways_scene()))
    for way in ("instant adhesive on a backing plate", "double-sided tape"):
        assert f"{way}, shear alone" in said
    assert "brittle in peel and weak when warm" in said and "Tape peels off a lifting rim" in said


@pytest.mark.parametrize("scene", [holding_panels.ways_scene, slip_panels.slip_scene])
def test_a_hard_thrust_is_warned_of_whatever_it_holds(scene):
    # By hand: lesson 04's front bearing bears 0.5 C0 = 0.5 × 3750 N (SKF 2018); four fifths of it.
    assert shared_fields.HARD <= 0.8 * 1875
    hard, usual = look(scene(), thrust="1510 N"), look(scene(), thrust="1500 N")
    assert hard.holds != "no" and "nose and tailstock" in words(hard)
    assert "nose and tailstock" not in words(usual)


def test_no_load_and_no_thrust_are_told_without_a_minus_and_without_advice_to_press_with_nothing():
    idle = look(slip_panels.slip_scene(), depth="0 mm")
    assert "-0" not in words(idle)
    loose = look(slip_panels.slip_scene(), depth="0 mm", thrust="0 N")
    assert loose.verdict.startswith("Slips: there is no thrust")
    assert "set the thrust to" not in words(loose) and "Set some thrust" in words(loose)
