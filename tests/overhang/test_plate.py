"""The plate equation against handbook values, many digits, strips and finite elements."""

import mpmath
import numpy as np
import pytest
from scipy.integrate import quad

from tests.references.plate_reference import Elements, exact_harmonic
from workshop_lib.overhang import plate

RATIOS = [0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9]
# Roark table 11.2, case 1l with the load at the rim, nu = 0.3: Ky of w a³/D, w per unit of length.
# Remembered, and equal to an independent solution of the plate equation to the digits given.
ROARK = [0.26913, 0.20153, 0.13895, 0.08806, 0.05045, 0.02526, 0.01032, 0.00294, 0.00035]
POISSON = [0.0, 0.25, 0.3, 0.38, 0.5]


def test_ring_load_bends_as_far_as_the_handbook_says():
    spread = plate.ring_compliance(RATIOS, 0.3) * 2 * np.pi
    assert spread == pytest.approx(ROARK, abs=6e-6)


@pytest.mark.parametrize("nu", POISSON)
@pytest.mark.parametrize("ratio", RATIOS)
def test_ring_load_follows_the_handbooks_formula(ratio, nu):
    # The same case by its formulas: C2, C3, C8, C9 of b/a, M_rb = −(a/C8)(C9 a/b), Q_b = a/b.
    log = np.log(1 / ratio)
    c2 = (1 - ratio**2 * (1 + 2 * log)) / 4
    c3 = ratio / 4 * ((ratio**2 + 1) * log + ratio**2 - 1)
    c8 = (1 + nu + (1 - nu) * ratio**2) / 2
    c9 = ratio * ((1 + nu) / 2 * log + (1 - nu) / 4 * (1 - ratio**2))
    deflection = -c9 / (c8 * ratio) * c2 + c3 / ratio
    assert plate.ring_compliance(ratio, nu) * 2 * np.pi == pytest.approx(-deflection, rel=1e-8)


@pytest.mark.parametrize("n", [0, 1, 2, 3, 7, 30])
@pytest.mark.parametrize(("ratio", "nu"), [(0.05, 0.3), (0.5, 0.25), (0.9, 0.38)])
def test_each_harmonic_is_that_of_sixty_digits(n, ratio, nu):
    if n == 0:
        rim = plate._ring(ratio, nu)
    elif n == 1:
        rim = sum(plate._tilting(ratio, nu)[:3])
    else:
        first, second, third, fourth = plate._waved(float(n), ratio, nu)
        rim = first + second * ratio**n + third + fourth * ratio ** (n - 2)
    assert rim == pytest.approx(exact_harmonic(n, ratio, nu), rel=1e-11)


@pytest.mark.parametrize("nu", POISSON)
def test_full_disc_harmonics_are_what_the_clamped_ones_tend_to(nu):
    with mpmath.workdps(30):
        total = mpmath.nsum(lambda n: plate._full_disc(n, mpmath.mpf(nu)), [2, mpmath.inf])
    assert plate._full_disc_sum(nu) == pytest.approx(float(total), rel=1e-12)
    far = exact_harmonic(40, 0.3, nu)
    assert plate._full_disc(40, nu) == pytest.approx(far, rel=1e-12)


@pytest.mark.parametrize(("ratio", "nu"), [(0.001, 0.3), (0.3, 0.3), (0.5, 0.0), (0.7, 0.5)])
def test_point_load_is_the_plain_sum_of_very_many_harmonics(ratio, nu):
    count = 40_000
    n = np.arange(2.0, count)
    first, second, third, fourth = plate._waved(n, ratio, nu)
    rims = first + second * ratio**n + third + fourth * ratio ** (n - 2)
    plain = plate._ring(ratio, nu) + sum(plate._tilting(ratio, nu)[:3]) + rims.sum()
    rest = 2 / (np.pi * (3 + nu) * (1 - nu)) / (2 * count**2)
    assert plate.point_compliance(ratio, nu) == pytest.approx(plain + rest, rel=1e-8)


@pytest.mark.parametrize("nu", POISSON)
def test_pads_close_to_the_disc_are_reckoned_to_a_millionth(nu):
    overhang = np.linspace(0.005, 0.1, 40)
    exact = plate._point(1 - overhang, np.full(40, nu))
    assert plate.point_compliance(1 - overhang, nu) == pytest.approx(exact, rel=1e-8)
    exact = plate._ring(1 - overhang, np.full(40, nu))
    assert plate.ring_compliance(1 - overhang, nu) == pytest.approx(exact, rel=1e-8)


@pytest.mark.parametrize("nu", POISSON)
def test_a_narrow_overhang_bends_like_a_straight_strip(nu):
    def answer(k):
        below = (3 + nu) * (1 - nu) * np.cosh(k) ** 2 + ((1 - nu) * k) ** 2 + (1 + nu) ** 2
        return 2 * (np.sinh(k) * np.cosh(k) - k) / (k**3 * below)

    strip = quad(answer, 1e-3, 30, epsabs=1e-13)[0] + 1e-3 / 3
    strip += 1 / ((3 + nu) * (1 - nu) * 30**2)
    assert plate.strip_compliance(nu) == pytest.approx(strip / np.pi, rel=1e-6)
    for overhang in (1e-3, 1e-6):
        bend = plate.point_compliance(1 - overhang, nu) / overhang**2
        assert bend == pytest.approx(plate.strip_compliance(nu), rel=overhang)
        # Under a ring load it is a row of cantilevers, q L³ / 3D with q = F / (2 pi a).
        bend = plate.ring_compliance(1 - overhang, nu) / overhang**3
        assert bend == pytest.approx(1 / (6 * np.pi), rel=2 * overhang)


def test_a_finer_net_of_finite_elements_comes_nearer():
    for ratio in (0.3, 0.6):
        exact = plate.point_compliance(ratio, 0.3)
        off = [Elements(ratio, 0.3, rings, 8 * rings).bent()[0] / exact - 1 for rings in (4, 8, 12)]
        assert off[0] < off[1] < off[2] < 0  # elements are too stiff, and less so when smaller
        assert off[2] == pytest.approx(0, abs=6e-4)


def test_shape_of_the_rim_is_that_of_finite_elements():
    elements = Elements(0.3, 0.33, 10, 96)
    shape = plate.bent_shape(0.3, 0.33, 1.0, 2 * np.pi * np.arange(96) / 96)
    assert elements.bent() == pytest.approx(shape, abs=3e-4 * shape.max())


def test_mean_of_the_rim_is_the_ring_loads_bend():
    # Maxwell and Betti: what a point load does to the ring, the ring load does to the point.
    angles = 2 * np.pi * np.arange(1000) / 1000
    for ratio in (0.1, 0.5, 0.9):
        mean = plate.bent_shape(ratio, 0.3, 1.0, angles).mean()
        assert mean == pytest.approx(plate.ring_compliance(ratio, 0.3), rel=1e-6)


def test_shape_at_the_loaded_point_is_the_rim_deflection():
    for ratio in (0.05, 0.3, 0.8):
        rim = plate.bent_shape(ratio, 0.3, 1.0, 0.0)
        assert rim == pytest.approx(plate.point_compliance(ratio, 0.3), abs=1e-6)


def test_shape_is_flat_on_the_pad_and_leaves_it_without_a_kink():
    angles = np.linspace(0, 2 * np.pi, 50)
    assert plate.bent_shape(0.4, 0.3, [[0.0], [0.2], [0.4]], angles) == pytest.approx(0, abs=1e-15)
    beside = plate.bent_shape(0.4, 0.3, [[0.4001], [0.4002]], angles)
    assert beside[1] == pytest.approx(4 * beside[0], rel=2e-2)  # as the square of the way


def test_shape_obeys_the_plate_equation_between_pad_and_rim():
    # On a small square of 13 points the sum for the biharmonic operator: 20, −8, 2 and 1.
    step, middle = 0.02, np.array([0.6, 0.25])
    total = size = 0.0
    for x in range(-2, 3):
        for y in range(-2, 3):
            weight = {0: 20, 1: -8, 2: 2 if x and y else 1}.get(abs(x) + abs(y), 0)
            place = middle + step * np.array([x, y])
            value = plate.bent_shape(0.3, 0.3, np.hypot(*place), np.arctan2(*place[::-1]))
            total, size = total + weight * value, size + abs(weight * value)
    assert total == pytest.approx(0, abs=2e-6 * size)


def test_larger_pads_and_softer_sheets_bend_as_they_should():
    ratios = np.linspace(0.01, 0.999, 300)
    bends = plate.point_compliance(ratios, 0.3)
    assert (np.diff(bends) < 0).all()
    assert (bends > plate.ring_compliance(ratios, 0.3)).all()


def test_arrays_of_ratio_and_poisson_ratio_broadcast_to_the_same_values():
    ratios, nus = np.array([[0.2], [0.91], [0.97]]), np.array([0.25, 0.3])
    both = plate.point_compliance(ratios, nus)
    assert both.shape == (3, 2)
    for row, column in np.ndindex(3, 2):
        one = plate.point_compliance(ratios[row, 0], nus[column])
        assert both[row, column] == pytest.approx(one, rel=1e-12)


def test_long_arrays_go_in_blocks_to_the_same_result(monkeypatch):
    ratios = np.random.default_rng(0).uniform(0.01, 0.99, 500)
    whole = plate.point_compliance(ratios, 0.3)
    shape = plate.bent_shape(0.5, 0.3, 1.0, ratios)
    monkeypatch.setattr(plate, "BLOCK", 100)
    assert plate.point_compliance(ratios, 0.3) == pytest.approx(whole, rel=1e-12)
    assert plate.bent_shape(0.5, 0.3, 1.0, ratios) == pytest.approx(shape, rel=1e-12)
