"""Which clocking is worth making next: overlaps in closed form, and plain cases."""

import numpy as np
import pytest
from scipy.stats import norm

from tests.run_out.run_out_cases import exact, some_tests, wave
from workshop_lib.run_out.evidence import Evidence, shares
from workshop_lib.run_out.next_test import _contrasts, overlap, suggestions


def test_overlap_of_two_normal_distributions():
    # In one dimension, by hand: sqrt(2 s1 s2/(s1² + s2²)) exp(−d²/(4 (s1² + s2²))).
    middles, spreads = np.array([[0.0], [3.0]]), np.array([[[1.0]], [[4.0]]])
    found = overlap(middles, spreads)
    assert found[0, 1] == pytest.approx(np.sqrt(2 * 2 / 5) * np.exp(-9 / 20))
    np.testing.assert_allclose(np.diag(found), 1)
    grid = np.linspace(-30, 30, 60_001)
    by_integral = np.trapezoid(np.sqrt(norm(0, 1).pdf(grid) * norm(3, 2).pdf(grid)), grid)
    assert found[0, 1] == pytest.approx(by_integral)


def suggested(tests):
    evidence = Evidence(tests)
    found = evidence.log_likelihood()
    return suggestions(tests, shares(found, evidence.candidates), found.argmax(axis=-1))


def test_after_one_plane_of_a_running_out_nose_the_disc_or_the_pad_is_next():
    first = suggested([exact("nose", wave(60, 20), position="8 mm")])[0]
    assert first.clocking.key in ("disc_radial", "pad_radial", "nose_turned")
    assert not first.again
    assert first.telling > 0.3


def test_off_centre_against_tilt_asks_for_a_face():
    tests = [
        exact(w, wave(s, 20), position="10 mm") for w, s in (("pad", 35), ("disc", 1), ("nose", 1))
    ]
    assert suggested(tests)[0].clocking.what == "face"


def test_the_same_again_is_told_as_such_and_its_worth_falls():
    tests = [exact("nose", wave(60, 20), position="8 mm", graduation="2 um")]
    once = next(s for s in suggested(tests) if s.clocking.key == "nose_near")
    assert once.again
    assert once.sentence.startswith("Repeat: clock")
    thrice = next(s for s in suggested(tests * 4) if s.clocking.key == "nose_near")
    assert thrice.worth < once.worth


def test_every_clocking_is_ranked_and_none_tells_more_than_all():
    found = suggested(some_tests())
    assert len(found) == 10
    assert all(0 <= each.telling <= 1 for each in found)
    rounded = [round(each.worth, 3) for each in found]
    assert rounded == sorted(rounded, reverse=True)


def test_what_disturbs_the_set_up_is_worth_less_than_it_tells():
    found = suggested([exact("nose", wave(60, 20), position="8 mm")])
    paid = [each.worth / each.telling / each.clocking.ease for each in found if each.telling > 0.01]
    np.testing.assert_allclose(paid, paid[0])
    assert {each.clocking.key for each in found if each.clocking.ease < 1} == {
        "pad_face",
        "nose_turned",
    }


def test_contrasts_are_orthonormal_and_blind_to_the_offset():
    contrasts = _contrasts(np.eye(6))
    np.testing.assert_allclose(contrasts @ contrasts.T, np.eye(5), atol=1e-12)
    np.testing.assert_allclose(contrasts @ np.ones(6), 0, atol=1e-12)


def test_the_order_in_which_tests_were_taken_does_not_matter():
    tests = [
        exact("nose", wave(60, 20), position="8 mm", graduation="2 um"),
        exact("disc", wave(10, 40), graduation="20 um"),
        exact("pad", wave(5, 100), position="10 mm", graduation="10 um"),
    ]
    worth = [
        {each.clocking.key: each.worth for each in suggested(order)}
        for order in (tests, [tests[0], tests[2], tests[1]])
    ]
    assert worth[0] == pytest.approx(worth[1])
