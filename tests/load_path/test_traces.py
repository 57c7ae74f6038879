"""Where the load goes, part by part: the teaching points of the pressure nose, held by numbers."""

import numpy as np
import pytest

from workshop_lib.bearings.ball_bearing import typical_inside
from workshop_lib.bearings.bearing_loads import axial_limit, recommended_safety, static_safety
from workshop_lib.load_path.design_tables import designs, find_design
from workshop_lib.load_path.nose import nose_shift, play
from workshop_lib.load_path.traces import trace
from workshop_lib.materials import find_material as find_material
from workshop_lib.quantities import InputError, as_numbers

NOSE, ROLLER, PRELOADED = map(find_design, ("pressure_nose", "roller_centre", "preloaded_centre"))
EACH = pytest.mark.parametrize("design", designs(), ids=lambda each: each.key)


def newtons(quantity):
    return float(as_numbers(quantity.m_as("N"), "force"))


def element(found, name):
    return next(each for each in found.elements if each.name == name)


# Thrust


def test_only_the_front_bearing_of_the_nose_feels_the_thrust():
    found = trace(NOSE, "600 N")
    axial = {each.name: newtons(each.axial) for each in found.elements}
    assert axial["front bearing"] == pytest.approx(600, rel=1e-6)
    assert axial["rear bearing"] == 0
    assert element(found, "rear bearing").path == "beside"


def test_the_thrust_passes_every_part_of_the_path_in_order():
    found = trace(NOSE, "600 N", "30 N")
    assert [each.name for each in found.path] == [
        "nose spindle",
        "rotating shoulder",
        "front bearing",
        "sleeve",
        "rear outer ring",
        "floor of the bore",
    ]
    assert [newtons(each.axial) for each in found.path] == pytest.approx([600] * 6, rel=1e-6)


@EACH
def test_the_floor_gives_back_what_goes_in(design):
    # Newton's third law: all bearings together push the spindle forward by the thrust.
    found = trace(design, "700 N", "40 N")
    assert sum(newtons(each.axial) for each in found.reactions) == pytest.approx(700, abs=1e-4)
    assert sum(newtons(each.side) for each in found.reactions) == pytest.approx(40, abs=1e-4)


def test_both_bearings_share_the_thrust_only_if_their_spacing_is_exact():
    shares = {}
    for spacing in ("0 um", "5 um", "20 um", "60 um"):
        found = trace(NOSE.changed(rear_ring="pushed", spacing=spacing), "600 N")
        shares[spacing] = newtons(found.reaction("rear").axial)
    assert shares["0 um"] == pytest.approx(300, abs=1)
    assert 300 > shares["5 um"] > shares["20 um"] > shares["60 um"]
    assert shares["60 um"] == 0
    assert shares["20 um"] < 0.25 * 600  # twenty micrometres of a sleeve's length decide it


def test_a_spacing_the_other_way_loads_the_rear_bearing_instead():
    found = trace(NOSE.changed(rear_ring="pushed", spacing="-60 um"), "600 N")
    assert newtons(found.reaction("front").axial) == 0
    assert newtons(found.reaction("rear").axial) == pytest.approx(600, rel=1e-6)


def test_the_thrust_bearing_of_the_roller_centre_takes_all_of_it():
    found = trace(ROLLER, "600 N", "30 N")
    assert newtons(found.reaction("thrust").axial) == pytest.approx(600, rel=1e-6)
    assert newtons(found.reaction("front").axial) == newtons(found.reaction("third").axial) == 0
    assert newtons(found.reaction("thrust").side) == pytest.approx(0, abs=1e-6)


def test_thrust_adds_to_one_bearing_of_a_preload_and_takes_from_the_other():
    preload = PRELOADED.preload
    alone = trace(PRELOADED, "0 N")
    assert newtons(alone.reaction("thrust").axial) == pytest.approx(preload, rel=1e-6)
    assert newtons(alone.reaction("front").axial) == pytest.approx(-preload, rel=1e-6)
    pressed = trace(PRELOADED, "600 N")
    more = newtons(pressed.reaction("thrust").axial) - preload
    less = preload + newtons(pressed.reaction("front").axial)
    assert more + less == pytest.approx(600, rel=1e-5)
    assert 0 < more < 600 and 0 < less < 600


# Side force


def test_the_sleeve_carries_no_side_force():
    # Every newton of side force is accounted for by the two bearings; the sleeve's load is axial.
    quiet, pushed = trace(NOSE, "600 N"), trace(NOSE, "600 N", "80 N")
    assert element(pushed, "sleeve").stress.m == pytest.approx(element(quiet, "sleeve").stress.m)


def test_without_thrust_the_reactions_are_those_of_a_lever():
    # Rear F a/L the other way, front F (a + L)/L: overhang 25, span 32 mm.
    found = trace(NOSE, "0 N", "40 N")
    assert newtons(found.reaction("rear").side) == pytest.approx(-40 * 25 / 32, rel=0.01)
    assert newtons(found.reaction("front").side) == pytest.approx(40 * 57 / 32, rel=0.01)


def test_the_front_bearing_is_asked_for_more_than_the_side_force():
    for thrust in ("0 N", "600 N"):
        assert newtons(trace(NOSE, thrust, "80 N").reaction("front").side) > 80


def test_with_one_radial_bearing_that_one_takes_all_side_force():
    found = trace(PRELOADED, "600 N", "50 N")
    assert newtons(found.reaction("front").side) == pytest.approx(50, rel=1e-6)
    # And the lever from the tip is held by the tilting of both, as uneven load on their balls.
    moments = [each.moment.m_as("N*m") for each in found.reactions]
    assert sum(moments) == pytest.approx(50 * 0.024, rel=1e-4)


# Stress and margins


@EACH
def test_columns_and_faces_carry_force_over_area(design):
    found = trace(design, "600 N")
    allowed = find_material("mild_steel").yield_strength
    for step, part in zip(design.steps, found.elements, strict=True):
        if step.how == "bearing":
            continue
        area = np.pi / 4 * ((1e3 * step.outer) ** 2 - (1e3 * step.inner) ** 2)
        stress = newtons(part.axial) / area
        assert part.stress.m_as("MPa") == pytest.approx(stress)
        assert part.margin == pytest.approx(allowed.m_as("MPa") / stress)
        assert part.governs == "yield strength"


def test_the_axial_limit_governs_the_front_bearing_of_the_nose():
    part = element(trace(NOSE, "600 N"), "front bearing")
    assert part.governs == "axial limit"
    assert part.margin == pytest.approx(axial_limit("6202").m_as("N") / 600, rel=1e-6)
    assert trace(NOSE, "600 N").weakest.name == "front bearing"
    assert "1875 N" in part.reason  # half of the printed C0 of 3750 N


def test_static_safety_and_pressure_are_those_of_the_bearing_alone():
    found = trace(NOSE, "600 N").reaction("front")
    margins = {check.name: check.margin for check in found.checks}
    assert margins["static safety"] == pytest.approx(
        static_safety("6202", "600 N", "0 N") / recommended_safety("6202"), rel=1e-6
    )
    inside = typical_inside("6202", "10.5 um").equilibrium("600 N")
    assert found.peak_pressure.m_as("MPa") == pytest.approx(
        max(inside.inner_pressure.m_as("MPa"), inside.outer_pressure.m_as("MPa")), rel=1e-5
    )
    assert found.heaviest.m_as("N") == pytest.approx(inside.heaviest.m_as("N"), rel=1e-5)


def test_double_thrust_doubles_every_mean_stress():
    one, two = (trace(NOSE, thrust).path for thrust in ("400 N", "800 N"))
    for single, double in zip(one, two, strict=True):
        if single.how != "bearing":
            assert double.stress.m == pytest.approx(2 * single.stress.m, rel=1e-6)


def test_an_uneven_load_on_a_thrust_bearing_costs_margin():
    even, uneven = (trace(PRELOADED, "600 N", side) for side in ("0 N", "100 N"))
    assert uneven.reaction("thrust").margin < even.reaction("thrust").margin


def test_nothing_governs_what_nothing_loads():
    found = trace(ROLLER, "600 N", "0 N")
    part = element(found, "third bearing")
    assert part.margin == np.inf and part.governs == "nothing" and "nothing loads it" in part.reason


def test_a_speed_adds_the_rating_life_in_words():
    checks = trace(NOSE, "600 N", speed="800 rev/min").reaction("front").checks
    life = next(check for check in checks if check.name == "rating life")
    # C 7650 N, P = 1.305 × 600 N: (7650/783)³ million turns at 800 rev/min are 19 400 h.
    assert "19000 h" in life.reason
    assert life.margin == np.inf  # no life was asked for


# What is said of the tip


@EACH
def test_shift_and_play_are_those_of_nose_shift(design):
    found = trace(design, "600 N", "30 N")
    assert found.tip_shift.m == pytest.approx(nose_shift(design, "600 N", "30 N").m, rel=1e-6)
    assert found.play.m == pytest.approx(play(design, "600 N").m, rel=1e-6, abs=1e-9)


@EACH
def test_every_part_says_what_it_is_for_and_why_it_holds(design):
    found = trace(design, "600 N", "30 N")
    for part in found.elements:
        assert part.role.endswith(".") and part.reason and part.name
        assert part.place is None or design.support(part.place)
    for reaction in found.reactions:
        assert reaction.role.endswith(".")


def test_the_play_of_a_bearing_is_half_of_what_bore_and_bearing_have():
    found = trace(NOSE.changed(fit="20 um", clearance="10 um"), "0 N", "5 N")
    assert found.reaction("front").play.m_as("um") == pytest.approx(15)
    assert trace(PRELOADED, "0 N").reaction("front").play.m == 0


def test_a_place_that_is_not_there_is_refused():
    with pytest.raises(InputError, match="^place: .*Known: front, rear"):
        trace(NOSE, "600 N").reaction("middle")


@pytest.mark.parametrize(
    ("changed", "name"),
    [
        ({"design": "nose"}, "design"),
        ({"thrust": "-1 N"}, "thrust"),
        ({"thrust": ["1 N", "2 N"]}, "thrust"),
        ({"side_force": ["1 N", "2 N"]}, "side_force"),
        ({"side_force": 4}, "side_force"),
        ({"speed": "0 rpm"}, "speed"),
        ({"speed": ["100 rpm", "200 rpm"]}, "speed"),
        ({"shaft": None}, "shaft"),
    ],
)
def test_nonsense_is_refused_by_name(changed, name):
    with pytest.raises(InputError, match=f"^{name}:"):
        trace(**({"design": find_design("pressure_nose"), "thrust": "600 N"} | changed))
