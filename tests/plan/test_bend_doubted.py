"""When is the computed bend of a rim not to be trusted?"""

import numpy as np
import pytest

from tests.plan.job_cases import judged
from workshop_lib.plan import sheet_checks


@pytest.mark.parametrize("allowed", [None, "9 mm"])
def test_a_rim_that_bends_by_half_its_thickness_is_not_to_be_trusted(allowed):
    # Thin plates: the linear law is for a bend below about half the thickness (Timoshenko).
    thin = {"sheet__thickness": "0.3 mm", "pad__outer_diameter": "50 mm", "cut__depth": "0.1 mm"}
    found = judged(rim__bend_allowed=allowed, **thin).reason("rim")
    assert found.value.m_as("mm") > 0.15
    assert found.holds == "open" and "half of the sheet's thickness" in found.sentence
    assert found.changes and all(each.entries for each in found.changes)


def strip_on_springs(share, stiff=2.0, held=2.0, overhang=1.0, pieces=150):
    """How much farther a strip bends whose springs only push, as a multiple of one whose springs
    pull too. Hermite beam elements, EI = 1, springs 4 stiff⁴; pressed down evenly, so that the
    force at its free end takes that share of the pressing away where it lifts most.
    """
    step = (held + overhang) / pieces
    place = -held + step * np.arange(pieces + 1)
    weight = np.where(place <= 1e-9, step, 0.0) * 4 * stiff**4
    part = np.array([[12, 6, -12, 6], [6, 4, -6, 2], [-12, -6, 12, -6], [6, 2, -6, 4]], float)
    part = part * np.outer([1, step, 1, step], [1, step, 1, step]) / step**3
    beam = np.zeros((2 * pieces + 2,) * 2)
    for at in range(0, 2 * pieces, 2):
        beam[at : at + 4, at : at + 4] += part
    force = np.zeros(len(beam))
    force[-2] = 1.0

    def bent(touches, pressed):
        matrix, load = beam.copy(), force.copy()
        matrix[::2, ::2] += np.diag(weight * touches)
        load[::2] += weight * pressed * ~touches
        return np.linalg.solve(matrix, load)

    touches = np.ones(pieces + 1, bool)
    straight = bent(touches, 0.0)
    pressed = -straight[::2][place <= 0].min() / share
    for _ in range(40):
        found = bent(touches, pressed)
        before, touches = touches, pressed + found[::2] >= 0
        if (before == touches).all():
            return found[-2] / straight[-2]
    return np.inf


def test_a_sheet_that_lifts_a_little_bends_hardly_farther():
    assert strip_on_springs(0.99) == pytest.approx(1.0)
    assert 1.01 < strip_on_springs(sheet_checks.MOST_LIFT) < 1.05
    assert strip_on_springs(1.5 * sheet_checks.MOST_LIFT) > 1.2


def test_a_rim_whose_sheet_lifts_off_its_facing_is_looked_at_again():
    stiff = {"pad__facing": "moulded_lining", "pad__outer_diameter": "80 mm"}
    weak, strong = (judged(thrust__force=each, **stiff).reason("rim") for each in ("60 N", "600 N"))
    assert weak.holds == "open" and "lifts the sheet off" in weak.sentence
    assert strong.holds == "yes" and strong.value == weak.value
