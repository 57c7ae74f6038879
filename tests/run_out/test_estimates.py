"""Sizes and marks of causes as the readings tell them."""

import numpy as np
import pytest

from tests.run_out.run_out_cases import exact, row, wave
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


def test_a_size_without_a_test_that_shows_it_is_a_usual_one():
    evidence = Evidence([exact("spindle", np.zeros(13))])
    place = row("oval", "disc")
    found, vector = estimate(evidence, place, evidence.log_likelihood()[place])
    low, _, high = causes.find("oval", "disc").sizes
    assert low <= found <= high
    assert vector is None
