"""What a set of tests cannot tell, and what a test showed, in words."""

import re

import numpy as np
import pytest

from tests.run_out.run_out_cases import TURN, clocked, creep, exact, pushed, wave
from workshop_lib.quantities import Q_
from workshop_lib.run_out import causes
from workshop_lib.run_out.coverage import coverage
from workshop_lib.run_out.observed import closing_error, observed
from workshop_lib.run_out.readings import Push, Readings, Total

DISPLACED = causes.find_cause("displaced_disc")

# What a set of tests cannot tell


@pytest.mark.parametrize(
    ("tests", "said"),
    [
        ([Total("4 thou", "pad")], "Only totals are known of the pad: no direction"),
        ([clocked("pad")], "The pad was clocked in one plane only"),
        ([clocked("nose")], "Nothing was clocked on the spindle, pad and disc."),
        ([clocked("nose")], "The nose was not pushed"),
        ([clocked("nose")], "Nothing was clocked twice"),
        (
            [Readings(["0 deg", "90 deg"], ["1 um", "2 um"])],
            "fewer than three different angles",
        ),
        (
            [Readings(["0 deg", "90 deg", "180 deg"], ["1 um"] * 3)],
            "3 different angles cannot tell oval or three lobes",
        ),
        (
            [Readings(Q_(90.0 * np.arange(4), "deg"), Q_(np.ones(4), "um"))],
            "4 different angles cannot tell oval or three lobes",
        ),
        (
            [Readings(Q_(72.0 * np.arange(5), "deg"), Q_(np.ones(5), "um"))],
            "cannot tell three lobes",
        ),
        ([Readings(Q_(TURN[:-1], "deg"), Q_(np.ones(12), "um"))], "No turn was brought back"),
        ([Readings(Q_(TURN, "deg"), Q_(np.ones(13), "um"))], "No graduation was given: how finely"),
        ([Readings(Q_(TURN, "deg"), Q_(10 * np.round(wave(5, 0)), "um"))], "look like 0.01 mm"),
    ],
)
def test_remarks_name_what_is_missing(tests, said):
    assert any(said in remark for remark in coverage(tests)), coverage(tests)


def test_a_full_set_of_tests_leaves_nothing_to_remark():
    full = [
        clocked("spindle"),
        clocked("pad"),
        clocked("pad", what="face"),
        clocked("disc"),
        clocked("nose"),
        clocked("nose", position="30 mm"),
        clocked("nose"),
        pushed("nose", 0),
    ]
    assert coverage(full) == ()


def remarks(*tests):
    return " ".join(coverage(list(tests)))


def turned(last, step=30.0, **about):
    """Readings of one place from 0° up to the last mark."""
    marks = np.arange(0, last + 1, step)
    return exact("pad", wave(5, 0, degrees=marks), degrees=marks, **about)


@pytest.mark.parametrize(
    ("last", "said"),
    [(360, True), (420, True), (480, False), (720, False)],  # a turn and a quarter is 450°
)
def test_well_over_one_turn_shows_what_changes_from_turn_to_turn(last, said):
    assert ("Nothing was clocked twice" in remarks(turned(last))) is said


@pytest.mark.parametrize(
    ("another", "said"),
    [
        ({}, False),
        ({"index": "360 deg"}, False),
        ({"index": "90 deg"}, True),
        ({"index": "0.00002 deg"}, False),  # less than a millionth of a radian
        ({"index": "0.001 deg"}, True),
        ({"position": "30 mm"}, True),
        ({"state": "after"}, True),
        ({"what": "face"}, True),
    ],
)
def test_the_same_place_must_be_clocked_in_the_same_way_to_be_clocked_twice(another, said):
    told = remarks(turned(360, position="10 mm"), turned(360, **{"position": "10 mm", **another}))
    assert ("Nothing was clocked twice" in told) is said


@pytest.mark.parametrize(("count", "said"), [(4, "oval or three"), (6, "three lobes"), (7, "")])
def test_seven_angles_tell_an_oval_from_three_lobes(count, said):
    marks = 360 / count * np.arange(count)
    told = remarks(exact("disc", np.zeros(count), degrees=marks))
    assert ("cannot tell" in told) is bool(said)
    assert said in told


def test_two_planes_or_a_face_tell_a_tilt_from_an_offset():
    alike = "pad was clocked in one plane"
    one, other = turned(360, position="10 mm"), turned(360, position="30 mm")
    assert alike in remarks(one) and alike in remarks(one, turned(360, position="10 mm"))
    assert alike not in remarks(one, other)
    assert alike not in remarks(one, turned(360, what="face"))


def test_a_total_beside_a_turn_at_the_same_place_is_nothing_to_remark_on():
    assert "Only totals" not in remarks(Total("4 thou", "pad"), turned(360))
    assert re.search("Only totals .*disc", remarks(Total("4 thou", "disc"), turned(360)))


def test_a_push_elsewhere_is_no_push_of_the_nose():
    assert "not pushed" in remarks(pushed("pad", 0))
    assert "not pushed" not in remarks(pushed("nose", 0))


def test_a_graduation_is_missed_where_one_test_has_none():
    given = turned(360, graduation="2 um")
    assert "No graduation" not in remarks(given)
    assert "No graduation" in remarks(given, turned(360))


# What a test showed


def test_observations_are_worded_by_the_kind_of_cause():
    test = clocked("disc", wave(50, 120) + wave(12, 0, 3) + creep(9))
    for key, said in (
        (
            "displaced_disc",
            r"an eccentricity of 0\.0[45]\d mm \(± 0\.00\d mm\), high spot at 1\d\d°",
        ),
        ("three_jaw_lobes", r"three lobes of 0\.01[12] mm"),
        ("bearing_clearance", r"a scatter of 0\.00\d+ mm about a smooth shape"),
        ("indicator_setup", r"after a turn it comes back 0\.0\d+ mm off its first reading"),
    ):
        assert re.match(said, observed(test, causes.find_cause(key), "mm")), observed(
            test, causes.find_cause(key), "mm"
        )


def test_observations_own_up_to_too_few_angles():
    few = Readings(["0 deg", "90 deg", "180 deg", "270 deg"], ["1 um", "2 um", "3 um", "2 um"])
    assert "nothing can be told" in observed(few, causes.find_cause("oval"), "mm")
    assert "too few readings" in observed(few, causes.find_cause("bearing_clearance"), "mm")
    assert "was not brought back" in observed(few, causes.find_cause("indicator_setup"), "mm")
    two = Readings(["0 deg", "90 deg"], ["1 um", "2 um"])
    assert "at too few angles" in observed(two, causes.find_cause("oval"), "mm")


def test_a_wave_is_told_apart_from_ovals_and_lobes_by_seven_angles():
    marks = np.array([0, 20, 60, 130, 200, 250, 310.0])  # uneven, so that shapes mix if left out
    shape = wave(50, 300, 1, marks) + wave(20, 10, 2, marks) + wave(10, 75, 3, marks)
    told = observed(exact("disc", shape, degrees=marks), causes.find_cause("displaced_disc"), "mm")
    assert re.match(r".*eccentricity of 0\.050 mm\b.* 300°$", told)
    told = observed(exact("disc", shape, degrees=marks), causes.find_cause("oval"), "mm")
    assert re.match(r"oval of 0\.020 mm\b", told) and "high spot" not in told
    # What is no wave at all is told as run-out off centre.
    assert "eccentricity of 0.050" in observed(
        exact("disc", shape, degrees=marks), causes.find_cause("nothing_found"), "mm"
    )


def test_six_angles_are_asked_for_an_eccentricity_alone():
    marks = 60 * np.arange(6.0)
    told = observed(exact("disc", wave(50, 0, degrees=marks), degrees=marks), DISPLACED, "mm")
    assert "eccentricity of 0.050 mm" in told


def test_scatter_is_what_three_harmonics_leave():
    # At eight equal angles the fourth harmonic, +1 −1 +1 …, is blind to the first three. Seven
    # numbers are fitted and one is free: sqrt(8 × 1² / 1) = 2.83 µm.
    marks = 45 * np.arange(8.0)
    values = wave(30, 40, 3, marks) + wave(20, 10, 2, marks) + np.tile([1.0, -1.0], 4)
    told = observed(
        exact("nose", values, degrees=marks), causes.find_cause("bearing_clearance"), "mm"
    )
    assert "scatter of 0.0028 mm" in told
    # Sixteen readings at them in two turns leave nine free: sqrt(16 / 9) = 1.33 µm.
    twice = exact("nose", np.tile(values, 2), degrees=np.append(marks, marks + 360))
    assert observed(twice, causes.find_cause("bearing_clearance"), "mm").startswith(
        "a scatter of 0.0013"
    )


@pytest.mark.parametrize(
    "marks",
    [360 / 7 * np.arange(7.0), np.append(60 * np.arange(6.0), [360.0, 420.0])],
    ids=["as many as are fitted", "six angles"],
)
def test_scatter_needs_a_reading_to_spare_and_seven_angles(marks):
    few = exact("nose", wave(5, 0, degrees=marks), degrees=marks)
    assert "too few readings" in observed(few, causes.find_cause("bearing_clearance"), "mm")


def test_pushes_and_totals_are_told_as_they_are():
    assert "total of 0.10 mm" in observed(Total("4 thou", "pad"), DISPLACED, "mm")
    test = Push(["10 N", "0 N", "-10 N"], ["7 um", "1 um", "-5 um"], "nose")
    assert "moves by 0.012 mm" in observed(test, causes.find_cause("bearing_clearance"), "mm")
    two = Readings(["0 deg", "90 deg"], ["1 um", "13 um"])
    assert re.search(r"total of 0\.012 mm .*too few", observed(two, DISPLACED, "mm"))


# Where a turn closes


def test_closing_error_is_last_less_first_at_the_same_mark():
    assert closing_error(
        Readings(["0 deg", "180 deg", "360 deg"], ["1 um", "9 um", "5 um"])
    ) == pytest.approx(4e-6)
    assert closing_error(Readings(["0 deg", "180 deg"], ["1 um", "9 um"])) is None


def test_closing_error_is_the_mean_over_all_marks_that_were_met_again():
    # Marks 0°, 90° and 360°, 450°, in any order: 5 − 1 and 10 − 2, the mean is 6.
    for order in ([0, 1, 2, 3], [3, 0, 2, 1]):
        marks, values = np.array([0, 90, 360, 450])[order], np.array([1, 2, 5, 10.0])[order]
        assert closing_error(exact("pad", values, degrees=marks)) == pytest.approx(6e-6)
    # Three turns: what is a turn apart counts, what is two turns apart does not.
    assert closing_error(
        exact("pad", [1.0, 2.0, 9.0], degrees=[0.0, 360.0, 720.0])
    ) == pytest.approx(4e-6)


@pytest.mark.parametrize(("mark", "closes"), [(358.1, True), (361.9, True), (362.1, False)])
def test_a_turn_is_closed_within_two_degrees(mark, closes):
    test = exact("pad", [1.0, 2.0, 3.0], degrees=[0.0, 100.0, mark])
    assert (closing_error(test) is not None) is closes


def test_a_long_scan_closes_too():
    marks = np.linspace(0, 720, 5001)
    assert closing_error(exact("pad", marks / 90, degrees=marks)) == pytest.approx(4e-6, rel=1e-3)
