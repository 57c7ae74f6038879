"""Honest set-ups raise no alarm, real faults do, and exact readings leave exactly nothing.

The rates of every call are in the benchmark `false_alarms`; here a few set-ups of each are enough
to see a rate that is far from what is stated.
"""

import numpy as np
import pytest

from tests.benchmarks import bench_false_alarms as rates
from workshop_lib.quantities import Q_, resolution
from workshop_lib.run_out import Readings, axis_through, fit, push_test, separate, shift_between
from workshop_lib.uncertainty.measured import pull_test, tilt_test

QUARTERS = ["0 deg", "90 deg", "180 deg", "270 deg"]
CASES = [
    (name, ask, marks, divisions)
    for name, ask, sizes in rates.CASES
    for marks, divisions in sizes[:1]
]


@pytest.mark.parametrize(("name", "ask", "marks", "fault"), CASES, ids=[case[0] for case in CASES])
def test_few_readings_raise_no_more_alarms_than_stated_and_see_the_fault(name, ask, marks, fault):
    setups = 15 if "stray" in name else 60  # a pull test draws 200 000 times each
    most = 0.05 + 2.6 * np.sqrt(0.05 * 0.95 / setups)  # passed once in two hundred by luck
    assert rates.share(ask, marks, True, 0.0, setups) <= most
    assert rates.share(ask, marks, False, 0.0, setups) <= most
    assert rates.share(ask, marks, True, fault * rates.DIVISION, setups) >= 1 - rates.OVERLOOKED


def test_three_marks_that_fit_exactly_are_no_proof_of_precision():
    three = ["0 deg", "120 deg", "240 deg"]
    rows = (["4 um", "0 um", "-2 um"], ["2 um", "2 um", "-4 um"], ["0 um", "4 um", "-2 um"])
    places = ("0 deg", "120 deg", "240 deg")
    bare = separate(dict(zip(places, ((three, row) for row in rows), strict=True)))
    assert ["no telling" in said for said in bare.remarks] == [True]
    dial = [
        Readings(three, row, index=place, graduation="2 um")
        for place, row in zip(places, rows, strict=True)
    ]
    assert separate(dial).remarks == ()


def test_four_exact_readings_have_no_uncertainty_to_show():
    found = fit(QUARTERS, ["0.3 mm", "0.2 mm", "0.1 mm", "0.2 mm"])
    assert found.residual.m.tolist() == [0, 0, 0, 0]
    assert found.scatter.m == 0
    assert np.isnan(found.eccentricity_uncertainty.m)
    assert any("proves no precision" in said for said in found.remarks)
    known = fit(QUARTERS, ["0.3 mm", "0.2 mm", "0.1 mm", "0.2 mm"], graduation="0.01 mm")
    # By hand: 0.01 mm/sqrt(12) for one reading (gum-resolution), times sqrt(2/4).
    assert known.eccentricity_uncertainty.m_as("mm") == pytest.approx(0.01 / np.sqrt(24))


def test_nothing_moved_between_equal_readings():
    taken = Readings(QUARTERS, ["0.31 mm", "0.2 mm", "0.1 mm", "0.22 mm"])
    again = Readings(
        ["90 deg", "180 deg", "270 deg", "360 deg"], ["0.2 mm", "0.1 mm", "0.22 mm", "0.31 mm"]
    )
    moved = shift_between(taken, again)
    assert moved.size.m == 0
    assert np.isnan(moved.direction.m)
    assert any("may be none" in said for said in moved.remarks)
    assert shift_between("4 thou", "0.1016 mm").least.m == 0


def test_exact_planes_on_a_line_are_straight_and_others_are_said_to_be_unsure():
    def axis(*sizes):
        rows = [Q_(size * np.cos(np.radians([0, 90, 180, 270])), "um") for size in sizes]
        return axis_through([Readings(QUARTERS, row) for row in rows], ["0 mm", "1 in", "2 in"])

    assert axis(0.1, 0.2, 0.3).remarks == ()
    assert ["no telling" in said for said in axis(0.1, 0.5, 0.3).remarks] == [True]


def test_a_rigid_part_shows_no_stiffness_and_no_clearance():
    forces = ["-20 N", "-10 N", "10 N", "20 N"]
    found = push_test(forces, ["0.3 mm"] * 4)
    assert found.movement.m == 0
    assert np.isnan(found.stiffness.m)
    assert any("none at all" in said for said in found.remarks)


def test_a_tenth_of_a_newton_is_no_stray_and_equal_readings_prove_nothing():
    # The readings are whole tenths: the scale may well show no less.
    pulls = ["8 N", "8 N", "8 N", "8 N", "8.1 N"]
    assert not any("stands far" in said for said in pull_test(pulls, "20 N").remarks)
    angles = ["20 deg", "20 deg", "20 deg", "20 deg", "20.5 deg"]
    assert not any("stands far" in said for said in tilt_test(angles).remarks)
    assert any("stands far" in said for said in pull_test([*pulls, "12 N"], "20 N").remarks)
    same = pull_test(["8 N", "0.008 kN", "8 N", "8 N", "8 N"], "20 N")
    assert same.scatter.m == 0
    assert any("proves no precision" in said for said in same.remarks)


def test_what_is_stated_is_twice_what_is_tested():
    assert resolution.STATED == 0.05 == 2 * resolution.ALARM
