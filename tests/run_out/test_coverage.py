"""What a set of tests cannot tell, and what a test showed, in words."""

import re

import numpy as np
import pytest

from tests.run_out.run_out_cases import TURN, clocked, creep, pushed, wave
from workshop_lib.quantities import Q_
from workshop_lib.run_out import causes
from workshop_lib.run_out.coverage import coverage
from workshop_lib.run_out.observed import closing_error, observed
from workshop_lib.run_out.readings import Readings, Total

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
            "fewer than three different angles tell not even",
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
        assert re.match(said, observed(test, causes.find(key), "mm")), observed(
            test, causes.find(key), "mm"
        )


def test_observations_own_up_to_too_few_angles():
    few = Readings(["0 deg", "90 deg", "180 deg", "270 deg"], ["1 um", "2 um", "3 um", "2 um"])
    assert "nothing can be told" in observed(few, causes.find("oval"), "mm")
    assert "too few readings" in observed(few, causes.find("bearing_clearance"), "mm")
    assert "was not brought back" in observed(few, causes.find("indicator_setup"), "mm")
    two = Readings(["0 deg", "90 deg"], ["1 um", "2 um"])
    assert "at too few angles" in observed(two, causes.find("oval"), "mm")


def test_closing_error_is_last_less_first_at_the_same_mark():
    assert closing_error(
        Readings(["0 deg", "180 deg", "360 deg"], ["1 um", "9 um", "5 um"])
    ) == pytest.approx(4e-6)
    assert closing_error(Readings(["0 deg", "180 deg"], ["1 um", "9 um"])) is None
