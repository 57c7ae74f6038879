"""Sizes and marks of causes as the readings tell them."""

import numpy as np
import pytest

from tests.run_out.run_out_cases import exact, pushed, row, wave
from workshop_lib.run_out import causes
from workshop_lib.run_out.estimates import estimate
from workshop_lib.run_out.evidence import Evidence


@pytest.mark.parametrize(
    ("key", "part", "test", "size", "mark"),
    [
        ("eccentric_seat", "nose", exact("nose", wave(50, 130)), 50, 130),
        ("displaced_disc", "disc", exact("disc", wave(90, 200)), 90, 200),
        ("tilted", "pad", exact("pad", wave(30, 75), "face", position="15 mm"), 50, 75),
        # A rim that runs out to 75° leans to 75°, so that its face stands out at 255°.
        ("tilted", "pad", exact("pad", wave(30, 75), position="15 mm"), 50, 255),
        ("oval", "disc", exact("disc", wave(30, 20, 2)), 30, None),
        ("indicator_setup", "indicator", exact("spindle", 40 * np.linspace(0, 1, 13)), 40, None),
    ],
)
def test_sizes_and_marks_come_out(key, part, test, size, mark):
    evidence = Evidence([test])
    place = row(key, part)
    found, vector = estimate(evidence, place, evidence.log_likelihood()[place])
    assert found * 1e6 == pytest.approx(size, rel=0.04)
    if mark is None:
        assert vector is None
    else:
        assert vector.angle.m_as("deg") == pytest.approx(mark, abs=1)


def told(tests, key, part=None):
    """The size in µm and the vector of one candidate."""
    evidence = Evidence(tests)
    place = row(key, part)
    size, vector = estimate(evidence, place, evidence.log_likelihood()[place])
    return size * 1e6, vector


def test_a_size_without_a_test_that_shows_it_is_a_usual_one():
    # Nothing tells one of the five sizes from another: 4, 15 and 60 µm (causes.csv), and between
    # them sqrt(4 × 15) and sqrt(15 × 60); their mean is 23.35 µm.
    size, vector = told([exact("spindle", np.zeros(13))], "oval", "disc")
    assert causes.find_cause("oval", "disc").sizes == pytest.approx((4e-6, 15e-6, 60e-6))
    assert size == pytest.approx((4 + 15 + 60 + np.sqrt(60) + 30) / 5, rel=1e-6)
    assert vector is None


def test_play_is_told_by_how_far_it_is_pushed():
    # 15 µm to either side; a turn beside it has no say in that.
    size, vector = told([pushed("nose", 15), exact("nose", np.zeros(13))], "bearing_clearance")
    assert size == pytest.approx(15, rel=0.1)
    assert vector is None


def test_what_moves_from_turn_to_turn_has_the_mean_square_size_of_its_turns():
    # Amplitudes 25 and 31 µm: sqrt((25² + 31²)/2) = 28.2 µm, whatever way they point.
    turns = [exact("pad", wave(25, 10)), exact("pad", wave(31, 130))]
    size, vector = told(turns, "loose_mounting")
    assert size == pytest.approx(np.sqrt((25**2 + 31**2) / 2), rel=0.05)
    assert vector is None


def test_of_two_states_the_one_that_was_read_more_finely_is_told():
    fine = exact("disc", wave(50, 130), state="before", graduation="1 um")
    coarse = exact("disc", wave(90, 200), state="after", graduation="20 um")
    for tests in ([fine, coarse], [coarse, fine]):
        size, vector = told(tests, "displaced_disc")
        assert size == pytest.approx(50, rel=0.04)
        assert vector.angle.m_as("deg") == pytest.approx(130, abs=1)
        assert vector.spread.shape == (2, 2)  # its own two columns and no other


def test_of_two_states_alike_the_later_one_is_told():
    before = exact("disc", wave(50, 130), state="before", graduation="1 um")
    after = exact("disc", wave(90, 200), state="after", graduation="1 um")
    size, vector = told([before, after], "displaced_disc")
    assert size == pytest.approx(90, rel=0.04)
    assert vector.angle.m_as("deg") == pytest.approx(200, abs=1)
    assert vector.spread.shape == (2, 2)  # its own two columns and no other
