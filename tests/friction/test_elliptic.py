"""Complete elliptic integrals against SciPy, mpmath and the values that are known exactly."""

import mpmath
import numpy as np
import pytest
from scipy.special import ellipe, ellipkm1, gamma

from workshop_lib.friction.limit_shape import complete_integrals

COMPLEMENTS = np.concatenate([10.0 ** np.arange(-30, 0), np.linspace(0.05, 1, 96)])


def test_first_kind_agrees_with_scipy_down_to_1e_minus_30():
    np.testing.assert_allclose(
        complete_integrals(COMPLEMENTS)[0], ellipkm1(COMPLEMENTS), rtol=4e-15
    )


def test_second_kind_agrees_with_scipy_down_to_1e_minus_30():
    second = complete_integrals(COMPLEMENTS)[1]
    np.testing.assert_allclose(second, ellipe(1 - COMPLEMENTS), rtol=2e-14)


@pytest.mark.parametrize("complement", ["1e-30", "1e-20", "1e-12", "1e-6", "0.01", "0.3", "0.999"])
def test_both_kinds_agree_with_mpmath_in_fifty_digits(complement):
    with mpmath.workdps(50):
        parameter = 1 - mpmath.mpf(complement)
        known = [float(mpmath.ellipk(parameter)), float(mpmath.ellipe(parameter))]
    found = complete_integrals(np.array([float(complement)]))
    np.testing.assert_allclose(np.ravel(found), known, rtol=1e-14)


def test_without_a_parameter_both_are_half_pi():
    np.testing.assert_allclose(complete_integrals(np.array([1.0])), np.pi / 2, rtol=1e-15)


def test_half_parameter_gives_the_lemniscate_constant():
    # K(1/2) = Gamma(1/4)² / (4 sqrt(pi)), DLMF 19.20(i) and any table of constants: 1.8540746773…
    first = complete_integrals(np.array([0.5]))[0][0]
    assert first == pytest.approx(gamma(0.25) ** 2 / (4 * np.sqrt(np.pi)), rel=1e-14)
    assert first == pytest.approx(1.8540746773, abs=1e-10)


def test_legendre_relation_ties_the_two_kinds():
    # DLMF 19.7.1: E K' + E' K − K K' = pi/2.
    complement = np.linspace(0.01, 0.99, 99)
    first, second = complete_integrals(complement)
    other_first, other_second = complete_integrals(1 - complement)
    tied = second * other_first + other_second * first - first * other_first
    np.testing.assert_allclose(tied, np.pi / 2, rtol=1e-13)


def test_one_hard_value_does_not_spoil_its_neighbours():
    alone = complete_integrals(np.array([0.7]))
    together = complete_integrals(np.array([1e-30, 0.7, 1.0]))
    assert np.ravel(alone) == pytest.approx([together[0][1], together[1][1]], rel=1e-15)


def test_shape_is_kept():
    first, second = complete_integrals(np.full((2, 3, 4), 0.4))
    assert first.shape == second.shape == (2, 3, 4)
