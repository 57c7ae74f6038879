"""Thrust from a handwheel: a printed screw, screws without friction, and one's own readings."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import linregress

from workshop_lib.friction import thrust
from workshop_lib.friction.thrust import (
    Screw,
    after_creep,
    calibrate,
    efficiency,
    from_torque,
    torque_for,
    torque_to_release,
)
from workshop_lib.quantities import Q_, InputError

# Shigley, Example 8-1: 32 mm square thread, 4 mm pitch, double: mean diameter 30 mm, lead 8 mm;
# f = f_c = 0.08, collar 40 mm, 6400 N. Printed: 26.18 N·m, 9.77 N·m, efficiency 0.311.
PRINTED = Screw("30 mm", "8 mm", "0 deg", 0.08, "40 mm", 0.08)
TAILSTOCK = Screw("18 mm", "4 mm", "15 deg", 0.15, "26 mm", 0.12)


def test_printed_screw_raises_with_its_printed_torque():
    assert torque_for(PRINTED, "6400 N").m_as("N*m") == pytest.approx(26.18, abs=0.005)


def test_printed_screw_lowers_with_its_printed_torque():
    assert torque_to_release(PRINTED, "6400 N").m_as("N*m") == pytest.approx(9.77, abs=0.005)


def test_printed_screw_has_its_printed_efficiency():
    assert efficiency(PRINTED, "6400 N") == pytest.approx(0.311, abs=0.0005)


def test_thread_of_the_printed_screw_would_run_back_without_its_collar():
    # Worked from the same formula: 15.937 N·m up and −0.466 N·m down.
    bare = Screw("30 mm", "8 mm", "0 deg", 0.08, "0 mm", 0)
    assert torque_for(bare, "6400 N").m_as("N*m") == pytest.approx(15.937, abs=0.0005)
    assert torque_to_release(bare, "6400 N").m_as("N*m") == pytest.approx(-0.466, abs=0.0005)


def test_screw_without_friction_is_a_perfect_wedge():
    # Work in = work out: T 2 pi = N lead.
    screw = Screw("18 mm", "4 mm", "15 deg", 0, "26 mm", 0)
    assert torque_for(screw, "1000 N").m_as("N*m") == pytest.approx(1000 * 0.004 / (2 * np.pi))
    assert torque_to_release(screw, "1000 N").m_as("N*m") == pytest.approx(
        -1000 * 0.004 / (2 * np.pi)
    )
    assert efficiency(screw, "1000 N") == pytest.approx(1)


def test_collar_alone_adds_friction_times_its_mean_radius():
    screw = Screw("18 mm", "4 mm", "0 deg", 0, "26 mm", 0.12)
    added = torque_for(screw, "1000 N").m_as("N*m") - 1000 * 0.004 / (2 * np.pi)
    assert added == pytest.approx(0.12 * 1000 * 0.013)


@given(friction=st.floats(0, 0.5), flank=st.floats(0, 45), lead=st.floats(1, 12))
def test_thread_locks_itself_exactly_when_friction_beats_the_lead_angle(friction, flank, lead):
    # Shigley: f > l cos(alpha) / (pi d), square thread alpha = 0.
    screw = Screw("20 mm", Q_(lead, "mm"), Q_(flank, "deg"), friction, "0 mm", 0)
    limit = lead * np.cos(np.radians(flank)) / (np.pi * 20)
    back = torque_to_release(screw, "1000 N").m
    if abs(friction - limit) > 1e-9:
        assert (back > 0) == (friction > limit)


@given(friction=st.floats(0, 0.4), flank=st.floats(0, 45), lead=st.floats(1, 12))
def test_incline_of_the_thread_balances_by_statics(friction, flank, lead):
    # Forces on one turn of the thread, unrolled: push P, thrust W, normal force with its friction.
    # With slope s = l/(pi d) and f' = f/cos(alpha): P = W (s + f')/(1 − s f') by resolving them.
    slope, wedged = lead / (np.pi * 20), friction / np.cos(np.radians(flank))
    screw = Screw("20 mm", Q_(lead, "mm"), Q_(flank, "deg"), friction, "0 mm", 0)
    angle, repose = np.arctan(slope), np.arctan(wedged)
    up = torque_for(screw, "1000 N").m_as("N*m")
    assert up == pytest.approx(1000 * np.tan(angle + repose) * 0.010, rel=1e-9)
    down = torque_to_release(screw, "1000 N").m_as("N*m")
    assert down == pytest.approx(1000 * np.tan(repose - angle) * 0.010, rel=1e-9, abs=1e-9)


@given(force=st.floats(0, 1e5))
def test_torque_and_thrust_lead_back_to_each_other(force):
    there = torque_for(TAILSTOCK, Q_(force, "N"))
    assert from_torque(TAILSTOCK, there).m_as("N") == pytest.approx(force)


def test_efficiency_is_work_out_over_work_in_at_every_thrust():
    for force in (1.0, 600.0, 1e5):
        turn = torque_for(TAILSTOCK, Q_(force, "N")).m_as("N*m") * 2 * np.pi
        assert efficiency(TAILSTOCK, Q_(force, "N")) == pytest.approx(force * 0.004 / turn)
    assert efficiency(TAILSTOCK, Q_([0.0, 1.0, 2.0], "N")).shape == (3,)


def test_friction_and_steeper_flanks_cost_efficiency():
    def share(**changed):
        sizes = {
            "mean_diameter": "18 mm",
            "lead": "4 mm",
            "flank_angle": "15 deg",
            "friction_coefficient": 0.15,
            "collar_diameter": "26 mm",
            "collar_friction": 0.12,
        }
        return efficiency(Screw(**{**sizes, **changed}), "600 N")

    assert share(friction_coefficient=0.2) < share() < share(friction_coefficient=0.1)
    assert share(flank_angle="30 deg") < share() < share(flank_angle="0 deg")
    assert share(collar_friction=0.2) < share() < share(collar_friction=0)
    assert share(collar_diameter="40 mm") < share() < share(collar_diameter="0 mm")


def test_inch_screw_is_its_metric_twin():
    inch = Screw("0.75 in", "0.2 in", "14.5 deg", 0.15, "1 in", 0.12)
    metric = Screw("19.05 mm", "5.08 mm", "14.5 deg", 0.15, "25.4 mm", 0.12)
    found = from_torque(inch, "10 lbf ft").m_as("lbf")
    wanted = from_torque(metric, Q_(13.558179483314004, "N*m")).m_as("N") / 4.4482216152605
    assert found == pytest.approx(wanted, rel=1e-12)


def test_a_band_of_friction_gives_a_band_of_thrust():
    band = Screw("18 mm", "4 mm", "15 deg", [0.1, 0.15, 0.2], "26 mm", 0.12)
    assert band.shape == (3,)
    assert TAILSTOCK.shape == ()
    found = from_torque(band, "2 N m").m
    assert (np.diff(found) < 0).all()
    assert found[1] == pytest.approx(from_torque(TAILSTOCK, "2 N m").m)


@pytest.mark.parametrize(
    ("place", "value", "named"),
    [
        (0, "0 mm", "mean_diameter"),
        (0, 18, "mean_diameter"),
        (1, "0 mm", "lead"),
        (1, "-4 mm", "lead"),
        (1, Q_(4, "mm") / Q_(1, "turn"), "lead"),
        (2, 15, "flank_angle"),
        (2, "-1 deg", "flank_angle"),
        (2, "61 deg", "flank_angle"),
        (3, -0.1, "friction_coefficient"),
        (3, None, "friction_coefficient"),
        (3, 15.0, "friction_coefficient"),  # pi × 18 mm ≤ 15/cos(15°) × 4 mm: it jams
        (4, "-1 mm", "collar_diameter"),
        (5, "lots", "collar_friction"),
        (5, np.inf, "collar_friction"),
    ],
)
def test_an_impossible_screw_is_refused_by_name(place, value, named):
    sizes = ["18 mm", "4 mm", "15 deg", 0.15, "26 mm", 0.12]
    sizes[place] = value
    with pytest.raises(InputError) as refusal:
        Screw(*sizes)
    assert refusal.value.name == named


def test_screw_sizes_that_do_not_fit_together_are_listed():
    with pytest.raises(InputError, match=r"mean_diameter \(2,\), lead \(3,\)"):
        Screw(["18 mm", "20 mm"], ["4 mm", "5 mm", "6 mm"], "15 deg", 0.15, "26 mm", 0.12)
    two = Screw(["18 mm", "20 mm"], "4 mm", "15 deg", 0.15, "26 mm", 0.12)
    with pytest.raises(InputError, match=r"screw \(2,\)"):
        from_torque(two, Q_([1, 2, 3], "N*m"))


@pytest.mark.parametrize("call", [from_torque, torque_for, torque_to_release, efficiency])
@pytest.mark.parametrize("value", ["-1 N", "-1 N m", 5, None, "600 kg", [], np.nan])
def test_impossible_thrust_and_torque_are_refused(call, value):
    with pytest.raises(InputError, match="torque|thrust"):
        call(TAILSTOCK, value)
    with pytest.raises(InputError, match="screw"):
        call("18 mm", "1 N")


# Creep


def test_stiff_set_up_loses_its_thrust_by_statics():
    assert after_creep("600 N", "2 kN/mm", "0.2 mm").m_as("N") == pytest.approx(200)
    assert after_creep("600 N", "500 N/mm", "0 mm").m_as("N") == 600
    inch = after_creep("100 lbf", "1000 lbf/in", "0.05 in")
    assert inch.m_as("lbf") == pytest.approx(50)


def test_thrust_never_turns_into_pull():
    found = after_creep("600 N", "2 kN/mm", Q_(np.linspace(0, 1, 21), "mm")).m_as("N")
    assert (found >= 0).all()
    assert (np.diff(found) <= 0).all()
    assert found[-1] == 0


# Calibration

READINGS = [0.26, 0.51, 0.74, 1.02, 1.24, 1.5]  # turns, invented
FORCES = [95.0, 205.0, 290.0, 410.0, 490.0, 605.0]  # N, invented


def fitted():
    return calibrate(Q_(READINGS, "turn"), Q_(FORCES, "N"))


def test_line_is_scipys_regression():
    known = linregress(np.array(READINGS) * 2 * np.pi, FORCES)
    assert fitted().slope == pytest.approx(known.slope, rel=1e-12)
    assert fitted().intercept == pytest.approx(known.intercept, rel=1e-10)


def test_scatter_is_that_of_the_residuals():
    x = np.array(READINGS) * 2 * np.pi
    residual = np.polyfit(x, FORCES, 1, full=True)[1][0]
    assert fitted().scatter == pytest.approx(np.sqrt(residual / (len(x) - 2)), rel=1e-9)


def test_uncertainty_in_the_middle_is_that_of_a_new_reading():
    # Standard error of a prediction at the mean of x: s sqrt(1 + 1/n).
    wanted = fitted().scatter * np.sqrt(1 + 1 / 6)
    assert fitted().uncertainty.m_as("N") == pytest.approx(wanted, rel=1e-12)


def test_readings_on_a_line_are_read_back():
    fit = calibrate(["90 deg", "180 deg", "270 deg"], ["100 N", "200 N", "300 N"])
    assert fit.thrust_at("135 deg").m_as("N") == pytest.approx(150)
    assert fit.angle_for("150 N").m_as("deg") == pytest.approx(135)
    assert fit.scatter == pytest.approx(0, abs=1e-9)
    # 100 N a quarter turn on a 4 mm lead: 400 N in 4 mm.
    assert fit.stiffness("4 mm").m_as("N/mm") == pytest.approx(100)


@given(place=st.floats(0.26, 1.5))
def test_angle_and_thrust_lead_back_to_each_other(place):
    fit = fitted()
    there = fit.thrust_at(Q_(place, "turn"))
    assert fit.angle_for(there).m_as("turn") == pytest.approx(place)


def test_order_of_the_readings_does_not_matter():
    turned = calibrate(Q_(READINGS[::-1], "turn"), Q_(FORCES[::-1], "N"))
    assert turned.slope == pytest.approx(fitted().slope)


def test_far_marks_on_the_handwheel_lose_no_figures():
    # The same line 1000 turns further on: the slope is what it was.
    far = calibrate(Q_(np.array(READINGS) + 1000, "turn"), Q_(FORCES, "N"))
    assert far.slope == pytest.approx(fitted().slope, rel=1e-9)


def test_thrust_read_off_the_line_is_never_below_zero():
    fit = calibrate(["90 deg", "180 deg", "270 deg"], ["0 N", "0 N", "300 N"])
    assert fit.thrust_at("75 deg").m_as("N") == 0


@pytest.mark.parametrize("angle", ["40 deg", "600 deg", "-90 deg", ["180 deg", "900 deg"]])
def test_beyond_the_readings_is_refused(angle):
    with pytest.raises(InputError, match="outside your readings"):
        fitted().thrust_at(angle)


def test_a_tenth_beyond_the_readings_is_allowed():
    span = 1.5 - 0.26
    assert fitted().thrust_at(Q_(1.5 + 0.09 * span, "turn")).m > 605
    with pytest.raises(InputError):
        fitted().thrust_at(Q_(1.5 + 0.11 * span, "turn"))


@pytest.mark.parametrize("force", ["2 kN", "0 N", "-5 N", 300, "1 N"])
def test_a_thrust_beyond_the_readings_is_refused(force):
    with pytest.raises(InputError):
        fitted().angle_for(force)


@pytest.mark.parametrize(
    ("angles", "forces", "named"),
    [
        (["90 deg", "180 deg"], ["1 N", "2 N"], "angles"),
        ("90 deg", "1 N", "angles"),
        (["90 deg"] * 3, ["1 N", "2 N", "3 N"], "angles"),
        (["90 deg", "180 deg", "270 deg"], ["1 N", "2 N"], "forces"),
        ([["90 deg", "180 deg", "270 deg"]], [["1 N", "2 N", "3 N"]], "forces"),
        (["90 deg", "180 deg", "270 deg"], ["3 N", "2 N", "1 N"], "forces"),
        (["90 deg", "180 deg", "270 deg"], ["2 N", "2 N", "2 N"], "forces"),
        (["90 deg", "180 deg", "270 deg"], ["-1 N", "2 N", "3 N"], "forces"),
        ([90, 180, 270], ["1 N", "2 N", "3 N"], "angles"),
        ([], [], "angles"),
        (None, None, "angles"),
    ],
)
def test_readings_that_make_no_line_are_refused_by_name(angles, forces, named):
    with pytest.raises(InputError) as refusal:
        calibrate(angles, forces)
    assert refusal.value.name == named


def test_stiffness_wants_a_lead():
    for lead in ("0 mm", 4, Q_(4, "mm") / Q_(1, "turn"), None):
        with pytest.raises(InputError, match="lead"):
            fitted().stiffness(lead)


def test_two_calibrations_can_be_compared_without_a_crash():
    assert fitted() != fitted()
    assert isinstance(fitted(), thrust.Calibration)
