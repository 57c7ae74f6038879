"""Balls sharing a load: Harris and Stribeck, SciPy's root finder, and laws of statics."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from tests.references import bearing_reference
from workshop_lib.bearings.ball_bearing import BallBearing, equilibrium
from workshop_lib.bearings.ball_contacts import BallContacts, _half_circle
from workshop_lib.bearings.ball_rest import solve
from workshop_lib.bearings.ratings import static_rating
from workshop_lib.quantities import Q_

HARRIS_209 = BallBearing(9, "12.7 mm", "65 mm", 0.52, 0.52, "0.015 mm")
HARRIS_218 = BallBearing(16, "22.23 mm", "125.3 mm", 0.5232, 0.5232, contact_angle="40 deg")
SMALL = BallBearing(8, "5.953 mm", "25.2 mm", 0.52, 0.53, "10 um")
SLANTED = BallBearing(10, "6.35 mm", "25.2 mm", 0.52, 0.53, contact_angle="40 deg")
THRUST = BallBearing(13, "4.762 mm", "21.5 mm", 0.54, 0.54, contact_angle="90 deg")


def reference(bearing):
    """The same bearing in SciPy's hands."""
    core = bearing.core
    return bearing_reference.Bearing(
        core.balls,
        core.ball_diameter,
        core.pitch_diameter,
        core.inner_groove,
        core.outer_groove,
        core.clearance,
        core.contact_angle,
    )


# Published answers


def test_free_contact_angle_and_end_play_of_harris_209():
    # Harris: 9°52' and about 0.174 mm (remembered; agrees with an independent computation).
    assert HARRIS_209.free_contact_angle.m_as("deg") == pytest.approx(9 + 52 / 60, abs=0.02)
    assert HARRIS_209.end_play.m_as("mm") == pytest.approx(0.174, abs=0.0005)


def test_most_loaded_ball_of_harris_209():
    # Harris: 4536 N under 8900 N radial with 0.015 mm clearance (remembered); 0.5 % is his charts'.
    found = HARRIS_209.equilibrium("0 N", "8900 N")
    assert found.heaviest.m_as("N") == pytest.approx(4536, rel=0.005)
    assert found.radial_shift.m_as("mm") == pytest.approx(0.0606, abs=0.0001)  # computed elsewhere
    assert found.ball_loads.m[:4] == pytest.approx([4527, 2841, 61, 0], abs=1)  # computed elsewhere
    assert found.loaded_balls == 5


def test_stribecks_factor_for_nine_balls_without_clearance():
    # 4.37 is the rule (NSK E728g); 4.336 × Fr/Z … exact for nine balls, by the sum of cosines^2.5.
    bearing = BallBearing(9, "12.7 mm", "65 mm", 0.52, 0.52)
    factor = bearing.equilibrium("0 N", "8900 N").heaviest.m * 9 / 8900
    at = 2 * np.pi * np.arange(9) / 9
    assert factor == pytest.approx(9 / np.sum(np.maximum(np.cos(at), 0) ** 2.5), rel=1e-6)
    assert factor == pytest.approx(4.37, rel=0.01)


def test_many_balls_come_to_stribecks_integral():
    # 4.37 = 1/Jr(0.5), Jr = (1/2pi) ∫ cos^2.5 over the loaded half: NSK E728g, eq. (4).
    exact = 2 * np.pi / quad(lambda at: np.cos(at) ** 2.5, -np.pi / 2, np.pi / 2)[0]
    bearing = BallBearing(60, "2 mm", "65 mm", 0.52, 0.52)
    factor = bearing.equilibrium("0 N", "100 N").heaviest.m * 60 / 100
    assert exact == pytest.approx(4.37, abs=0.005)
    assert factor == pytest.approx(exact, rel=1e-3)


def test_angle_and_ball_load_of_harris_218():
    # Harris: 41.6° and 1676 N under 17 800 N axial (remembered; agrees with an independent
    # computation within 0.5 %). His axial shift rests on a chart and is no anchor.
    found = HARRIS_218.equilibrium("17800 N")
    assert found.contact_angles.m_as("deg") == pytest.approx(np.full(16, 41.6), rel=0.005)
    assert found.ball_loads.m_as("N") == pytest.approx(np.full(16, 1676), rel=0.005)


def test_nsk_shortcut_for_the_axial_shift():
    # NSK p. A 128: shift = 0.00044/sin a (Q²/D)^(1/3) mm, Q = Fa/(Z sin a), at a fixed angle.
    for bearing, axial in ((HARRIS_218, 2000.0), (SLANTED, 100.0), (THRUST, 600.0)):
        found = equilibrium(bearing, Q_(axial, "N"))
        angle = found.core.angles[0]
        share = axial / (bearing.core.balls * np.sin(angle))
        size = 1e3 * bearing.core.ball_diameter
        rule = 0.00044 / np.sin(angle) * (share**2 / size) ** (1 / 3)
        # The rule knows neither groove radii nor pitch, and takes a mean of all ball bearings.
        assert found.axial_shift.m_as("mm") == pytest.approx(rule, rel=0.2)


def test_half_of_the_ring_is_loaded_at_the_published_ratio():
    # NSK E728g: Fa = 1.216 Fr tan a loads just half of the circumference (point contact). With
    # balls of steel pressed so lightly that the angle stays, and many of them.
    bearing = BallBearing(60, "2 mm", "65 mm", 0.52, 0.52, contact_angle="40 deg")
    radial = 1.0
    axial = 1.216 * radial * np.tan(np.radians(40))
    loads = solve(bearing.core, np.array([0.9, 1.0, 1.1]) * axial, radial).loads
    share = (loads > 0).mean(axis=1)
    assert share[1] == pytest.approx(0.5, abs=0.02)
    assert share[0] < share[1] < share[2]


# SciPy's root finder on the same bearing


BOTH_WAYS = [(600, 0), (0, 600), (50, 600), (600, 50), (1500, 1500), (3, 900), (900, 3)]
ONE_WAY = [(600, 0), (600, 50), (900, 3)]  # the others would push the ring out of its groove
CASES = [
    pytest.param(bearing, case, id=f"{name}-{case[0]}-{case[1]}")
    for name, bearing, cases in (
        ("6202", SMALL, BOTH_WAYS),
        ("209", HARRIS_209, BOTH_WAYS),
        ("40", SLANTED, [*ONE_WAY, (1500, 1500)]),
        ("90", THRUST, ONE_WAY),
    )
    for case in cases
]


@pytest.mark.parametrize("tilt", [0.0, 1e-3, -2e-3])
@pytest.mark.parametrize(("bearing", "case"), CASES)
def test_rest_agrees_with_a_root_finder_on_every_ball(bearing, case, tilt):
    found = solve(bearing.core, float(case[0]), float(case[1]), tilt)
    other = reference(bearing)
    guess = found.shift[:2] * (1.02, 0.98)  # off the answer, so that the root finder has to work
    shift, settled = other.rest(*map(float, case), tilt, guess)
    assert settled
    assert found.shift[:2] == pytest.approx(shift, rel=1e-6, abs=1e-11)
    loads, angles = other.balls(*shift, tilt)
    np.testing.assert_allclose(found.loads, loads, rtol=1e-5, atol=1e-5)
    np.testing.assert_allclose(found.angles[loads > 0], angles[loads > 0], atol=1e-6)
    assert found.moment == pytest.approx(other.forces(*shift, tilt)[2], rel=1e-6, abs=1e-6)


@pytest.mark.parametrize("moment", [-3.0, 0.2, 4.0])
def test_a_moment_comes_to_the_tilt_that_gives_it_back(moment):
    by_moment = SMALL.equilibrium("600 N", "100 N", moment=Q_(moment, "N*m"))
    by_tilt = SMALL.equilibrium("600 N", "100 N", tilt=by_moment.tilt)
    assert by_moment.moment.m_as("N*m") == pytest.approx(moment, rel=1e-6)
    assert by_tilt.moment.m_as("N*m") == pytest.approx(moment, rel=1e-6)
    np.testing.assert_allclose(by_tilt.ball_loads.m, by_moment.ball_loads.m, rtol=1e-5, atol=1e-5)


# Limits and symmetry


@pytest.mark.parametrize(
    "bearing", [SMALL, HARRIS_209, SLANTED, THRUST], ids=["6202", "209", "40", "90"]
)
def test_pure_thrust_is_shared_equally(bearing):
    # Q = Fa/(Z sin a): NSK E728g, eq. (6).
    found = bearing.equilibrium("600 N")
    share = 600 / (bearing.core.balls * np.sin(found.core.angles))
    np.testing.assert_allclose(found.ball_loads.m_as("N"), share, rtol=1e-8)
    assert abs(found.radial_shift.m) < 1e-12


def test_pure_radial_load_turns_no_contact_angle():
    found = SMALL.equilibrium("0 N", "600 N")
    assert np.abs(found.contact_angles.m).max() < 1e-9
    assert abs(found.axial_shift.m) < 1e-12


def test_a_thrust_bearing_presses_straight():
    found = THRUST.equilibrium("600 N")
    np.testing.assert_allclose(found.contact_angles.m_as("deg"), 90, atol=1e-9)


def test_no_load_and_no_tilt_move_nothing():
    found = SMALL.equilibrium("0 N")
    assert not found.ball_loads.m.any()
    assert found.axial_shift.m == found.radial_shift.m == found.moment.m == 0
    assert found.inner_pressure.m == found.edge_angle.m == 0


def test_thrust_the_other_way_is_a_mirror_image():
    onward, back = (SMALL.equilibrium(axial, "200 N") for axial in ("600 N", "-600 N"))
    np.testing.assert_allclose(back.ball_loads.m, onward.ball_loads.m, rtol=1e-9)
    np.testing.assert_allclose(back.contact_angles.m, -onward.contact_angles.m, rtol=1e-9)
    assert back.axial_shift.m == pytest.approx(-onward.axial_shift.m)


@pytest.mark.parametrize("under_load", ["ball", "gap"])
@pytest.mark.parametrize("balls", [7, 8])
def test_balls_lie_mirrored_about_the_load(balls, under_load):
    bearing = BallBearing(balls, "5 mm", "25.2 mm", clearance="10 um")
    loads = bearing.equilibrium("100 N", "600 N", under_load=under_load).ball_loads.m
    mirrored = loads[(np.arange(balls) * -1 - (under_load == "gap")) % balls]
    np.testing.assert_allclose(loads, mirrored, rtol=1e-12)
    assert loads[0] == loads.max()


def test_a_gap_under_the_load_spares_the_heaviest_ball():
    ball, gap = (SMALL.equilibrium("0 N", "600 N", under_load=each) for each in ("ball", "gap"))
    assert gap.heaviest < ball.heaviest
    assert gap.radial_shift > ball.radial_shift


# Newton's third law and other laws

LOADS = st.floats(1.0, 3000.0)


@given(LOADS, LOADS, st.floats(-3e-3, 3e-3), st.sampled_from([SMALL, HARRIS_209]))
def test_what_the_balls_carry_adds_up_to_the_load(axial, radial, tilt, bearing):
    found = solve(bearing.core, axial, radial, tilt)
    at = 2 * np.pi * np.arange(bearing.core.balls) / bearing.core.balls
    along = found.loads * np.sin(found.angles)
    across = found.loads * np.cos(found.angles)
    assert along.sum() == pytest.approx(axial, rel=1e-7, abs=1e-6)
    assert (across * np.cos(at)).sum() == pytest.approx(radial, rel=1e-7, abs=1e-6)
    assert (across * np.sin(at)).sum() == pytest.approx(0, abs=1e-6)
    assert (bearing.core.arm * along * np.cos(at)).sum() == pytest.approx(found.moment, abs=1e-6)
    assert np.all(found.loads >= 0)


@given(LOADS, LOADS, st.floats(1.01, 3.0))
def test_more_load_gives_way_further(axial, radial, factor):
    less, more = solve(SMALL.core, np.array([axial, factor * axial]), 0.0).shift[:, 0]
    assert more > less
    less, more = solve(SMALL.core, 0.0, np.array([radial, factor * radial])).shift[:, 1]
    assert more > less


@given(LOADS, LOADS)
def test_the_rest_position_is_where_energy_is_least(axial, radial):
    contacts = BallContacts(SMALL.core)
    shift = solve(SMALL.core, axial, radial).shift
    nudges = 1e-7 * np.array([[0, 0, 0], [1, 0, 0], [-1, 0, 0], [0, 1, 0], [0, -1, 0], [1, 1, 0]])
    around = shift + nudges
    height = contacts.energy(around, np.arange(6))[0] - around @ (axial, radial, 0)
    assert np.all(height[1:] >= height[0])


@pytest.mark.parametrize("bearing", [SMALL, SLANTED, THRUST], ids=["6202", "40", "90"])
def test_force_and_stiffness_are_the_slopes_of_the_energy(bearing):
    contacts = BallContacts(bearing.core)
    start = np.array([[30e-6, 12e-6, 4e-6]])
    step, row = 1e-9, np.zeros(1, int)
    _, force, stiff, _ = contacts.energy(start, row)
    for axis in range(3):
        nudge = step * np.eye(3)[axis]
        ahead, behind = (contacts.energy(start + sign * nudge, row) for sign in (1, -1))
        slope = (ahead[0] - behind[0]) / (2 * step)
        assert force[0, axis] == pytest.approx(slope[0], rel=1e-5)
        column = (ahead[1] - behind[1])[0] / (2 * step)
        np.testing.assert_allclose(stiff[0, :, axis], column, rtol=1e-5, atol=1e-4 * column.max())


def test_thrust_raises_the_contact_angle_and_so_does_clearance():
    angles = SMALL.equilibrium(Q_([1, 100, 600, 1800], "N")).core.angles[:, 0]
    assert np.all(np.diff(angles) > 0)
    loose = BallBearing(8, "5.953 mm", "25.2 mm", clearance=Q_([0, 5, 10, 20], "um"))
    assert np.all(np.diff(loose.equilibrium("600 N").core.angles[:, 0]) > 0)


def test_thrust_stiffens_a_bearing_against_side_force():
    shifts = SMALL.equilibrium(Q_([0, 100, 600, 1500], "N"), "50 N").radial_shift.m
    assert np.all(np.diff(shifts) < 0)


def test_size_scales_as_hertz_says():
    # Same shape k times as large under k² times the load: same pressure, k times the shift.
    large = BallBearing(8, "11.906 mm", "50.4 mm", 0.52, 0.53, "20 um")
    small, grown = SMALL.equilibrium("300 N", "200 N"), large.equilibrium("1200 N", "800 N")
    assert grown.inner_pressure.m == pytest.approx(small.inner_pressure.m, rel=1e-8)
    assert grown.axial_shift.m == pytest.approx(2 * small.axial_shift.m, rel=1e-8)


def test_the_ball_load_of_the_static_rating_presses_with_4200_mpa():
    # ISO 76: 5 C0/Z on one ball gives 4200 MPa; without clearance the heaviest carries 4.34 C0/Z.
    tight = BallBearing(8, "5.953 mm", "25.2 mm", 0.52, 0.53)
    rating = static_rating(8, "5.953 mm", "25.2 mm")
    found = tight.equilibrium("0 N", rating)
    share = found.heaviest.m / (5 * rating.m / 8)
    assert 0.8 < share < 0.95
    pressure = max(found.inner_pressure.m, found.outer_pressure.m)
    assert pressure == pytest.approx(4200 * share ** (1 / 3), rel=1e-6)


@pytest.mark.parametrize("phase", ["ball", "gap"])
@pytest.mark.parametrize("balls", [7, 8, 9, 11])
def test_half_a_circle_stands_for_balls_all_round_it(balls, phase):
    """Evenly spaced, one under the load or a gap there: the cosines of both halves are alike."""
    angles, counts, whole = _half_circle(balls, phase)
    around = (np.arange(balls) + 0.5 * (phase == "gap")) * 2 * np.pi / balls
    np.testing.assert_allclose(np.cos(angles[whole]), np.cos(around), atol=1e-12)
    assert counts.tolist() == [np.count_nonzero(whole == each) for each in range(len(angles))]
    assert angles.min() >= 0 and angles.max() < np.pi + 1e-12
