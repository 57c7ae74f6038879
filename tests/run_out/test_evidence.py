"""The likelihoods behind a diagnosis against SciPy, and the laws that they must obey."""

import numpy as np
import pytest
from scipy import linalg
from scipy.stats import multivariate_normal

from tests.house.thorough import once
from tests.run_out.run_out_cases import TURN, dense, exact, some_tests
from workshop_lib.quantities import Q_
from workshop_lib.run_out import causes
from workshop_lib.run_out.evidence import Evidence, averaged, shares
from workshop_lib.run_out.readings import Push, Readings


def contrasts(evidence):
    """Rows that leave out the offset of each test, of length 1 and square on one another."""
    return linalg.block_diag(
        *(linalg.null_space(np.ones((1, test.core.readings.size))).T for test in evidence.tests)
    )


def replace_readings(evidence, values):
    """Put other readings in the place of those that the evidence was made from."""
    centred = [
        evidence.patterns[part] - evidence.patterns[part].mean(axis=0) for part in evidence.parts
    ]
    pairs = list(zip(centred, evidence.parts, strict=True))
    evidence.products = np.array([columns.T @ values[part] for columns, part in pairs])
    evidence.squares = np.array([np.var(values[p]) * values[p].size for p in evidence.parts])


# Against SciPy


@pytest.mark.parametrize("seed", [0, 1])
def test_likelihood_is_that_of_a_normal_distribution(seed):
    evidence = Evidence(some_tests(seed))
    found, basis = evidence.log_likelihood(), contrasts(evidence)
    values = basis @ np.concatenate([test.core.readings for test in evidence.tests])
    for cause, size in ((0, 0), (3, 2), (10, 4), (11, 7), (14, 9)):
        spread = basis @ dense(evidence, cause, size) @ basis.T
        expected = multivariate_normal(np.zeros(len(basis)), spread).logpdf(values)
        assert found[cause, size] == pytest.approx(expected, abs=1e-6)


def test_sizes_of_the_columns_are_those_of_plain_conditioning():
    evidence = Evidence(some_tests())
    basis = contrasts(evidence)
    values = basis @ np.concatenate([test.core.readings for test in evidence.tests])
    cause, size = 11, 2
    spread = basis @ dense(evidence, cause, size) @ basis.T
    cross = (evidence.patterns * evidence.variances[cause, size]).T @ basis.T
    mean, covariance = evidence.posterior(cause, size)
    np.testing.assert_allclose(mean, cross @ np.linalg.solve(spread, values), atol=1e-12)
    left = np.diag(evidence.variances[cause, size]) - cross @ np.linalg.solve(spread, cross.T)
    np.testing.assert_allclose(covariance, left, atol=1e-16)
    every, _ = evidence.posterior()
    np.testing.assert_allclose(every[cause, size], mean, atol=1e-15)


def test_misfit_is_about_one_for_readings_of_its_own_kind():
    luck, cause, size = np.random.default_rng(1), 11, 2
    evidence = Evidence(some_tests())
    root = np.linalg.cholesky(dense(evidence, cause, size))
    spreads, found = (evidence.variances[cause, size], evidence.noise[cause, size]), []
    for _ in range(200):
        values = root @ luck.normal(size=root.shape[0])
        replace_readings(evidence, values)
        found.append(evidence.misfit(*spreads)[0])
    count = evidence.misfit(*spreads)[1]
    assert count == sum(test.core.readings.size - 1 for test in evidence.tests)
    assert np.mean(found) == pytest.approx(1, abs=4 * np.sqrt(2 / count / 200))
    assert np.std(found) == pytest.approx(np.sqrt(2 / count), rel=0.2)


# Laws


def belief(tests):
    evidence = Evidence(tests)
    return shares(evidence.log_likelihood(), evidence.candidates)


def test_shares_sum_to_one_and_say_nothing_before_the_first_test():
    assert belief(some_tests()).sum() == pytest.approx(1)
    nothing, those = belief([]), causes.candidates()
    by_key = {
        c.key: sum(s for s, o in zip(nothing, those, strict=True) if o.key == c.key) for c in those
    }
    np.testing.assert_allclose(list(by_key.values()), 1 / 9)


def test_order_of_the_tests_does_not_matter():
    np.testing.assert_allclose(belief(some_tests()), belief(some_tests()[::-1]), atol=1e-9)


def remade(test, angles=0.0, readings=0.0, sign=1):
    core, values = test.core, sign * test.readings + Q_(readings, "um")
    direction = "in" if sign > 0 else "out"
    if isinstance(test, Push):
        return Push(test.forces, values, test.where, direction=direction)
    return Readings(
        test.angles + Q_(angles, "deg"),
        values,
        test.where,
        test.what,
        None if core.position is None else Q_(core.position, "m"),
        Q_(core.index, "rad"),
        graduation=None if core.graduation is None else Q_(core.graduation, "m"),
        direction=direction,
    )


@pytest.mark.parametrize("change", [{"angles": 77}, {"readings": 500}, {"sign": -1}], ids=str)
def test_marks_dial_setting_and_sense_do_not_matter(change):
    # Turned marks move the closing mark of a turn off its multiple of 360°, and so a loose pad.
    tests = [
        test for test in some_tests() if test.core.readings.size != 13 or "angles" not in change
    ]
    tests = tests or some_tests()
    found = belief([remade(test, **change) for test in tests])
    np.testing.assert_allclose(found, belief(tests), atol=1e-9)


def test_leaving_a_test_out_is_as_if_it_had_not_been_made():
    tests = some_tests()
    keep = 1 - np.eye(len(tests))
    left = Evidence(tests).log_likelihood(keep)
    best = np.zeros(left.shape[1], dtype=int)
    only = Evidence(tests).log_likelihood(keep, best)
    for place in (0, 3, 5):
        fewer = Evidence(tests[:place] + tests[place + 1 :]).log_likelihood()
        np.testing.assert_allclose(left[place], fewer, atol=1e-6)
        np.testing.assert_allclose(only[place][:, 0], fewer[:, 0], atol=1e-6)


def test_a_graduation_adds_the_variance_of_a_rectangle_of_its_width():
    # gum-resolution: d²/12 for a dial of division d.
    values = np.random.default_rng(2).normal(0, 5, TURN.size)
    fine, coarse = (
        Evidence([exact("disc", values, graduation=division)]).noise for division in (None, "6 um")
    )
    np.testing.assert_allclose(coarse - fine, 6e-6**2 / 12)


def test_a_rough_set_up_has_twice_the_small_errors_and_the_same_fault():
    evidence = Evidence(some_tests())
    usual, rough = evidence.variances[..., :5, :], evidence.variances[..., 5:, :]
    for place, cause in enumerate(evidence.candidates):
        own = evidence.owner == evidence.rows.index(cause)
        np.testing.assert_array_equal(rough[place][:, own], usual[place][:, own])
        np.testing.assert_allclose(rough[place][:, ~own], 4 * usual[place][:, ~own])


def test_averages_are_of_likelihoods_and_not_of_their_logarithms():
    assert averaged(np.log([1.0, 3.0])) == pytest.approx(np.log(2))
    assert averaged(np.array([-1e5, -1e5])) == pytest.approx(-1e5)


@once
def test_shares_are_as_right_as_they_say():
    # Readings drawn from the model itself: the mean share of the leader is how often it is right.
    luck, tests = np.random.default_rng(7), some_tests()
    counts = [test.core.readings.size for test in tests]
    evidence = Evidence(tests)
    keys = [cause.key for cause in evidence.candidates]
    chance = np.array([1 / keys.count(key) for key in keys])
    said, right = [], []
    for _ in range(300):
        cause, size = (
            luck.choice(len(keys), p=chance / chance.sum()),
            luck.integers(evidence.sizes.shape[1]),
        )
        sizes = luck.normal(size=evidence.owner.size) * np.sqrt(evidence.variances[cause, size])
        noise = np.sqrt(np.repeat(evidence.noise[cause, size], counts))
        replace_readings(evidence, evidence.patterns @ sizes + noise * luck.normal(size=noise.size))
        share = shares(evidence.log_likelihood(), evidence.candidates)
        said.append(share.max())
        right.append(share.argmax() == cause)
    error = np.sqrt(np.mean(np.array(said) * (1 - np.array(said))) / len(said))
    assert np.mean(right) == pytest.approx(np.mean(said), abs=4 * error)
