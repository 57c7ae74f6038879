"""Ball bearings in use: the spot on its groove, arrays, the catalogue, and what is refused."""

import numpy as np
import pytest

from workshop_lib.bearings import newton
from workshop_lib.bearings.ball_bearing import BallBearing, equilibrium, typical_inside
from workshop_lib.bearings.ball_rest import solve
from workshop_lib.bearings.bearing_tables import BALL_KINDS, bearings
from workshop_lib.bearings.hertz import ball_on_ring
from workshop_lib.bearings.newton import NoRest
from workshop_lib.quantities import Q_, InputError, OutOfRangeWarning

SMALL = BallBearing(8, "5.953 mm", "25.2 mm", 0.52, 0.53, "10 um")
SLANTED = BallBearing(10, "6.35 mm", "25.2 mm", 0.52, 0.53, contact_angle="40 deg")
THRUST = BallBearing(13, "4.762 mm", "21.5 mm", 0.54, 0.54, contact_angle="90 deg")


# Spot and shoulder


def test_the_spot_climbs_the_groove_with_thrust():
    bearing = BallBearing(8, "5.953 mm", "25.2 mm", clearance="10 um", shoulder_height="1.2 mm")
    used = bearing.equilibrium(Q_([100, 600, 1875, 6000], "N")).shoulder_used
    assert np.all(np.diff(used) > 0)
    # At the printed axial limit of a 6202, 0.5 C0 = 1875 N, the spot is still on the groove.
    assert used[2] < 1 < used[3] * 1.5
    assert SMALL.equilibrium("600 N").shoulder_used is None


def test_edge_angle_by_hand():
    found = SMALL.equilibrium("600 N")
    angle, load = found.core.angles[0], Q_(found.core.loads[0], "N")
    free = SMALL.free_contact_angle
    edges = [
        angle + np.arcsin((spot.half_length / Q_(groove * 5.953, "mm")).m_as(""))
        for groove, ring in ((0.52, "inner"), (0.53, "outer"))
        for spot in [ball_on_ring("5.953 mm", "25.2 mm", groove, ring, load, free)]
    ]
    assert found.core.edge == pytest.approx(max(edges), rel=1e-9)


# Arrays


def test_a_thousand_cases_at_once_are_a_thousand_cases_one_by_one():
    draw = np.random.default_rng(4)
    axial, radial, tilt = (
        draw.uniform(0, 1500, 40),
        draw.uniform(0, 1500, 40),
        draw.normal(0, 1e-3, 40),
    )
    together = solve(SMALL.core, axial, radial, tilt)
    for row in range(40):
        alone = solve(SMALL.core, axial[row], radial[row], tilt[row])
        np.testing.assert_allclose(together.loads[row], alone.loads, rtol=1e-7, atol=1e-7)


def test_shapes_broadcast():
    found = SMALL.equilibrium(Q_([100, 200, 300], "N"), Q_([[0], [50]], "N"))
    assert found.axial_shift.shape == (2, 3)
    assert found.ball_loads.shape == (2, 3, 8)
    assert found.loaded_balls.shape == (2, 3)
    one = SMALL.equilibrium("100 N", "50 N")
    assert np.ndim(one.axial_shift.m) == 0
    assert one.heaviest.m == pytest.approx(found.heaviest[1, 0].m, rel=1e-9)


def test_an_array_of_clearances_is_an_array_of_bearings():
    plays = [0, 5, 18]
    together = BallBearing(8, "5.953 mm", "25.2 mm", clearance=Q_(plays, "um"))
    found = together.equilibrium("600 N", "100 N", moment="0.5 N m")
    for row, play in enumerate(plays):
        alone = BallBearing(8, "5.953 mm", "25.2 mm", clearance=Q_(play, "um"))
        one = alone.equilibrium("600 N", "100 N", moment="0.5 N m")
        np.testing.assert_allclose(found.ball_loads[row].m, one.ball_loads.m, rtol=1e-7)


# The catalogue's own


@pytest.mark.parametrize(
    "bearing",
    [each for each in bearings() if each.kind in BALL_KINDS],
    ids=lambda each: each.designation,
)
def test_every_ball_bearing_of_the_catalogue_can_be_looked_into(bearing):
    inside = typical_inside(bearing)
    found = inside.equilibrium("200 N")
    assert found.converged
    # Under pure thrust the static rating's ball load is not reached at a tenth of C0.
    tenth = inside.equilibrium(Q_(0.1 * bearing.core.static_rating, "N"))
    assert tenth.inner_pressure.m_as("MPa") < 4200


def test_clearance_of_the_inside_may_be_a_class_or_a_length():
    by_class, by_length = typical_inside("6202", "C3"), typical_inside("6202", "18 um")
    assert by_class.core.clearance == pytest.approx(by_length.core.clearance)


def test_a_tight_bearing_may_be_looked_into():
    tight = typical_inside("6202", "-4 um").equilibrium("0 N", "50 N")
    assert tight.loaded_balls == 8


@pytest.mark.parametrize("nonsense", ["C9", 5, [], "4 N", "1 mm"])
def test_a_play_that_makes_no_sense_is_refused(nonsense):
    with pytest.raises(InputError, match="^play: "):
        typical_inside("6202", nonsense)


@pytest.mark.parametrize("designation", ["NU 202", "HK 1010", "NU 204"])
def test_there_are_no_balls_in_a_roller_bearing(designation):
    with pytest.raises(InputError, match="^bearing: no balls"):
        typical_inside(designation)


# Refusals


@pytest.mark.parametrize(
    ("changed", "name"),
    [
        ({"balls": 2}, "balls"),
        ({"balls": 13}, "ball_diameter"),
        ({"balls": 8.0}, "balls"),
        ({"ball_diameter": "-1 mm"}, "ball_diameter"),
        ({"ball_diameter": ["5 mm", "6 mm"]}, "ball_diameter"),
        ({"pitch_diameter": "0 mm"}, "pitch_diameter"),
        ({"inner_groove": 0.5}, "inner_groove"),
        ({"outer_groove": 1.2}, "outer_groove"),
        ({"clearance": "1 mm"}, "clearance"),
        ({"clearance": "5 N"}, "clearance"),
        ({"contact_angle": "91 deg"}, "contact_angle"),
        ({"contact_angle": "0 deg"}, "contact_angle"),
        ({"contact_angle": "40 deg", "clearance": "5 um"}, "clearance"),
        ({"shoulder_height": "4 mm"}, "shoulder_height"),
        ({"shoulder_height": "0 mm"}, "shoulder_height"),
    ],
)
def test_sizes_that_make_no_bearing_are_refused(changed, name):
    given = {"balls": 8, "ball_diameter": "6.35 mm", "pitch_diameter": "25.2 mm"} | changed
    with pytest.raises(InputError, match=f"^{name}:"):
        BallBearing(**given)


@pytest.mark.parametrize("load", [("0 N", "100 N"), ("-50 N", "0 N"), ("-50 N", "100 N")])
@pytest.mark.parametrize("bearing", [SLANTED, THRUST], ids=["40", "90"])
def test_a_one_way_bearing_refuses_to_be_pulled_or_to_carry_side_force_alone(bearing, load):
    with pytest.raises(InputError, match="^axial: .*groove"):
        bearing.equilibrium(*load)


def test_what_does_not_settle_is_refused_and_marked(monkeypatch):
    monkeypatch.setattr(newton, "STEPS", 2)
    with pytest.raises(NoRest, match="^axial: .*balance.* 1 of 2 "):
        SMALL.equilibrium(["0 N", "100 N"], "0 N")
    marked = solve(SMALL.core, np.array([0.0, 100.0]))
    assert marked.converged.tolist() == [True, False]
    assert np.isnan(marked.loads[1]).all() and np.isnan(marked.shift[1, 0])
    assert not marked.loads[0].any()


def test_a_load_that_marks_the_grooves_is_warned_of_once():
    with pytest.warns(OutOfRangeWarning, match="4200 MPa") as warned:
        found = equilibrium(SMALL, Q_([100, 20000, 30000], "N"))
    assert len(warned) == 1
    assert warned[0].filename == __file__
    assert found.inner_pressure.m_as("MPa")[1] > 4200


@pytest.mark.parametrize("load", [("1e8 N", "0 N"), ("0 N", "1e8 N"), (["1 N", "1e8 N"], "1 N")])
def test_a_load_that_would_crush_the_balls_is_refused(load):
    with pytest.raises(InputError, match="crush"):
        SMALL.equilibrium(*load)


def test_tilt_and_moment_together_are_refused():
    with pytest.raises(InputError, match="^moment: .*tilt"):
        SMALL.equilibrium("100 N", tilt="0.1 deg", moment="1 N m")


@pytest.mark.parametrize(
    ("changed", "name"),
    [
        ({"axial": 600}, "axial"),
        ({"axial": "600 mm"}, "axial"),
        ({"axial": float("inf")}, "axial"),
        ({"radial": "-1 N"}, "radial"),
        ({"tilt": "1 mm"}, "tilt"),
        ({"moment": "1 J"}, "moment"),
        ({"under_load": "cage"}, "under_load"),
        ({"bearing": "6202"}, "bearing"),
    ],
)
def test_nonsense_is_refused_by_name(changed, name):
    with pytest.raises(InputError, match=f"^{name}:"):
        equilibrium(**({"bearing": SMALL, "axial": "600 N"} | changed))
