"""Can it serve as a live centre? The answers, their reasons, and the limits behind them."""

import re

import numpy as np
import pytest

from workshop_lib import load_path
from workshop_lib.bearings.bearing_loads import axial_limit
from workshop_lib.friction import Pad
from workshop_lib.load_path.centre import live_centre, side_limits
from workshop_lib.load_path.design_tables import designs, find_design
from workshop_lib.load_path.nose import nose_shift, play
from workshop_lib.load_path.shaft import Spindle
from workshop_lib.load_path.traces import trace
from workshop_lib.quantities import InputError
from workshop_lib.slip import margin

NOSE, ROLLER, PRELOADED = map(find_design, ("pressure_nose", "roller_centre", "preloaded_centre"))
# Loads near the static rating press with about 4200 MPa and more, of which the library warns.
HARD_PRESSED = pytest.mark.filterwarnings(
    "ignore::workshop_lib.quantities.errors.OutOfRangeWarning"
)
EACH = pytest.mark.parametrize("design", designs(), ids=lambda each: each.key)


def named(limits, criterion, place=None):
    return next(
        each for each in limits if each.criterion == criterion and place in (None, each.place)
    )


@EACH
@pytest.mark.parametrize("shift_limit", ["0.015 mm", "0.04 mm"])
def test_at_its_limit_the_tip_is_just_where_it_may_be(design, shift_limit):
    limit = named(side_limits(design, "600 N", shift_limit), "tip shift")
    shift = nose_shift(design, "600 N", limit.side_force)
    assert shift.m_as("mm") == pytest.approx(float(shift_limit.split()[0]), rel=1e-3)


@EACH
@HARD_PRESSED
def test_at_its_limit_a_bearing_has_just_used_up_its_safety(design):
    limits = side_limits(design, "600 N", "5 mm")
    first = min(
        (each for each in limits if each.criterion == "static safety"),
        key=lambda each: each.side_force,
    )
    found = trace(design, "600 N", first.side_force).reaction(first.place)
    margin = next(check.margin for check in found.checks if check.name == "static safety")
    assert margin == pytest.approx(1, rel=2e-3)


def test_the_spindle_rocks_where_the_lightest_ball_lets_go():
    limit = named(side_limits(PRELOADED, "600 N", "1 mm"), "seated")
    push = limit.side_force.m_as("N") * np.array([0.99, 1.01])
    lightest = Spindle(PRELOADED).solve(np.full(2, 600.0), push).lightest[:, 1]
    assert lightest[0] > 0 >= lightest[1] - 0.02


def test_only_a_spindle_on_one_radial_bearing_is_asked_whether_it_stays_seated():
    assert {each.criterion for each in side_limits(ROLLER, "600 N", "0.02 mm")} == {
        "tip shift",
        "static safety",
    }


@EACH
def test_limits_come_with_the_first_in_front(design):
    forces = [each.side_force.m for each in side_limits(design, "600 N", "0.02 mm")]
    assert forces == sorted(forces)


@EACH
def test_more_shift_allowed_is_more_side_force_allowed(design):
    forces = [
        named(side_limits(design, "600 N", each), "tip shift").side_force.m
        for each in ("0.01 mm", "0.02 mm", "0.05 mm")
    ]
    assert np.all(np.diff(forces) > 0)


def test_play_beyond_what_is_allowed_allows_no_side_force():
    limits = side_limits(NOSE, "600 N", "0.005 mm")  # its ring has 9 µm to each side
    assert limits[0].criterion == "tip shift"
    assert limits[0].side_force.m == 0
    assert "at no side force" in limits[0].reason


def test_a_thrust_beyond_the_axial_limit_allows_no_side_force():
    limit = axial_limit("6202")
    below, above = (side_limits(NOSE, factor * limit, "1 mm") for factor in (0.99, 1.01))
    assert named(below, "axial limit").side_force.m > 0
    assert named(above, "axial limit").side_force.m == 0
    told = live_centre(NOSE, 1.01 * limit, "5 N", "1 mm")
    assert not told.serves
    assert any("axial limit" in sentence for sentence in told.reasons)


def test_shock_asks_for_more_safety():
    normal, shock = (
        named(side_limits(ROLLER, "600 N", "5 mm", demand=each), "static safety", "front")
        for each in ("normal", "shock")
    )
    assert shock.side_force < normal.side_force
    # Rollers: 3 in place of 1.5; the front bearing's load is in step with the side force.
    assert shock.side_force.m == pytest.approx(normal.side_force.m / 2, rel=0.05)


# The answer


def test_the_pressure_nose_is_no_live_centre_and_the_others_are():
    asked = {"thrust": "600 N", "side_force": "25 N", "shift_limit": "0.01 mm"}
    answers = [live_centre(design, **asked) for design in designs()]
    assert [answer.serves for answer in answers] == [False, True, True]
    assert [answer.nose for answer in answers] == ["floating", "located", "located"]
    assert re.search(r"more .*0\.010 mm", answers[0].reasons[0])
    assert any("play" in sentence for sentence in answers[0].reasons)
    assert re.match(r"Yes: 25\.0 N .*tip", answers[2].reasons[0])


def test_even_a_tight_nose_is_a_poor_centre():
    # No play in bore and bearings at all: what is left is two small bearings and an overhang.
    tight = NOSE.changed(fit="0 um", clearance="0 um")
    limits = [
        live_centre(design, "600 N", "25 N", "0.01 mm").governs.side_force.m
        for design in (NOSE, tight, PRELOADED)
    ]
    assert limits[0] < 0.1 * limits[1]


@EACH
@HARD_PRESSED
def test_an_answer_agrees_with_its_limits_and_with_the_shift(design):
    for side in (1.0, 30.0, 150.0, 2500.0):
        found = live_centre(design, "600 N", f"{side} N", "0.02 mm")
        assert found.serves == (side <= found.governs.side_force.m_as("N"))
        assert found.nose == ("located" if found.tip_shift.m_as("mm") <= 0.02 else "floating")
        assert found.tip_shift.m == pytest.approx(
            nose_shift(design, "600 N", f"{side} N").m, rel=1e-5
        )
        assert found.play.m == pytest.approx(play(design, "600 N").m, abs=2e-5)
        assert found.reasons[0].startswith("Yes" if found.serves else "No")
        assert all(sentence.endswith(".") for sentence in found.reasons)


def test_a_nose_can_be_told_to_the_slip_criterion():
    found = live_centre(NOSE, "600 N", "40 N", "0.01 mm")
    load = Pad("30 mm"), "600 N", 0.2, "40 N", "0.3 N m"
    assert margin(*load, nose=found.nose) == margin(*load, nose="floating")


# Bad input


@pytest.mark.parametrize("call", [live_centre, side_limits])
@pytest.mark.parametrize(
    ("changed", "name"),
    [
        ({"design": 3}, "design"),
        ({"thrust": "-1 N"}, "thrust"),
        ({"thrust": ["1 N", "2 N"]}, "thrust"),
        ({"shift_limit": "0 mm"}, "shift_limit"),
        ({"shift_limit": 0.01}, "shift_limit"),
        ({"shift_limit": ["1 mm", "2 mm"]}, "shift_limit"),
        ({"demand": "gentle"}, "demand"),
        ({"shaft": "soft"}, "shaft"),
    ],
)
def test_nonsense_is_refused_by_name(call, changed, name):
    given = {"design": NOSE, "thrust": "600 N", "shift_limit": "0.01 mm"}
    given |= {"side_force": "5 N"} if call is live_centre else {}
    with pytest.raises(InputError, match=f"^{name}:"):
        call(**(given | changed))


def test_a_side_force_is_asked_one_at_a_time():
    with pytest.raises(InputError, match="^side_force:"):
        live_centre(NOSE, "600 N", ["1 N", "2 N"], "0.01 mm")


def test_the_public_module_hands_on_what_the_design_names():
    for name in ("designs", "trace", "nose_shift", "live_centre", "side_limits", "side_held"):
        assert name in load_path.__all__ and callable(getattr(load_path, name))
