"""Sums of vectors across the axis, by hand."""

import numpy as np
import pytest

from workshop_lib.run_out.vectors import Vector, summed


def test_uncertainties_and_reaches_of_a_sum_add_in_squares():
    # Weights 1 and −2; standard uncertainties 3 and 1 in both directions; reaches 2 and 5:
    # variance 9 + 4 = 13, reach sqrt((2² · 18 + (2 · 5)² · 2)/26) = sqrt(272/26).
    one = Vector(np.array(3 + 4j), 9.0 * np.eye(2), np.array(2.0))
    other = Vector(np.array(1 + 1j), 1.0 * np.eye(2), np.array(5.0))
    found = summed([one, other], np.array([1.0, -2.0]))
    assert found.core == 1 + 2j
    np.testing.assert_allclose(found.spread, 13.0 * np.eye(2))
    assert found.reach == pytest.approx(np.sqrt(272 / 26))
