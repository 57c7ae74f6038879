"""The bare limit curve against friction vectors, closed forms and SciPy; and its quick table."""

import mpmath
import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq, minimize_scalar
from scipy.special import ellipe, ellipkm1

from tests.references.limit_reference import (
    FULL_AND_RELIEVED,
    by_arrows,
    farkas,
    load_within,
    point,
    ring,
    ring_by_arrows,
)
from workshop_lib.friction.limit_shape import limit_points, reach, reach_and_slope

LAWS = ["uniform", "uniform_wear", "rigid_punch", "hertz"]
RELIEVABLE = ["uniform", "uniform_wear"]
MEAN_RADIUS = {  # torque radius of a full pad over its radius: integral of r × load, by hand
    "uniform": 2 / 3,
    "uniform_wear": 1 / 2,
    "rigid_punch": np.pi / 4,
    "hertz": 3 * np.pi / 16,
}


def at(pressure, relief, centre):
    force, torque = limit_points(pressure, relief, [centre])
    return force[0], torque[0]


# The reference itself


@pytest.mark.parametrize("radius", [0.3, 1.0])
@pytest.mark.parametrize("centre", [0.0, 0.1, 0.9, 3.0])
def test_a_ring_in_closed_form_is_the_sum_of_its_arrows(radius, centre):
    assert ring(radius, centre) == pytest.approx(ring_by_arrows(radius, centre), abs=1e-12)


@pytest.mark.parametrize(("pressure", "relief"), FULL_AND_RELIEVED)
def test_each_law_of_the_reference_adds_up_to_the_thrust(pressure, relief):
    total = quad(load_within(pressure, relief), relief, 1)[0]
    assert total == pytest.approx(1, abs=1e-9)


# The curve


@pytest.mark.parametrize("centre", [0.2, 0.45, 1.0, 2.5])
@pytest.mark.parametrize(("pressure", "relief"), FULL_AND_RELIEVED)
def test_force_and_torque_are_the_sum_of_friction_vectors(pressure, relief, centre):
    # The arrows turn sharply near the turning centre: their own sum is good to about 3e-7.
    assert at(pressure, relief, centre) == pytest.approx(
        by_arrows(pressure, relief, centre), abs=1e-6
    )


@pytest.mark.parametrize("centre", [0.01, 0.3, 0.99, 1.01, 1.7, 40.0])
@pytest.mark.parametrize(("pressure", "relief"), FULL_AND_RELIEVED)
def test_force_and_torque_agree_with_scipy_quadrature(pressure, relief, centre):
    assert at(pressure, relief, centre) == pytest.approx(point(pressure, relief, centre), abs=1e-9)


def test_full_uniform_pad_turning_about_its_rim():
    # Design anchor: F = 8/(3 pi) mu N, M = 8/(9 pi) mu N r_o.
    assert at("uniform", 0.0, 1.0) == pytest.approx((8 / (3 * np.pi), 8 / (9 * np.pi)), abs=1e-13)


@pytest.mark.parametrize("centre", [1e-3, 0.1, 0.25, 0.5, 0.75, 0.999, 1.001, 1.5, 2.0, 4.0, 9.0])
def test_full_uniform_pad_follows_the_closed_form(centre):
    assert at("uniform", 0.0, centre) == pytest.approx(farkas(centre), abs=1e-11)


# The closed form worked out to four figures (reference table, eps: f, m, m/(2/3)).
@pytest.mark.parametrize(
    ("centre", "force", "torque"),
    [
        (0.1, 0.0999, 0.6617),
        (0.2, 0.1990, 0.6468),
        (0.3, 0.2966, 0.6224),
        (0.4, 0.3918, 0.5891),
        (0.5, 0.4838, 0.5477),
        (0.6, 0.5716, 0.4995),
        (0.7, 0.6540, 0.4460),
        (0.8, 0.7294, 0.3895),
        (0.9, 0.7958, 0.3332),
        (1.5, 0.9408, 0.1738),
        (2.0, 0.9677, 0.1278),
        (5.0, 0.9950, 0.0502),
    ],
)
def test_full_uniform_pad_gives_the_table_to_its_four_figures(centre, force, torque):
    assert at("uniform", 0.0, centre) == pytest.approx((force, torque), abs=0.6e-4)


def test_sliding_disc_keeps_the_published_ratio_of_speeds():
    # A disc that slides and spins ends at v = 0.653 omega R: the root of f = 2 eps m
    # (Farkas and others 2003; Voyenli and Eriksen 1985).
    def miss(centre):
        force, torque = at("uniform", 0.0, centre)
        return force - 2 * centre * torque

    assert brentq(miss, 0.1, 2.0) == pytest.approx(0.653, abs=0.5e-3)


@pytest.mark.parametrize("pressure", LAWS)
def test_turning_about_the_middle_is_pure_torque_at_the_mean_radius(pressure):
    assert at(pressure, 0.0, 0.0) == pytest.approx((0.0, MEAN_RADIUS[pressure]), abs=1e-9)


@pytest.mark.parametrize(("pressure", "relief"), FULL_AND_RELIEVED)
def test_a_far_turning_centre_is_pure_side_force(pressure, relief):
    force, torque = at(pressure, relief, 1e6)
    assert force == pytest.approx(1, abs=1e-9)
    assert 0 < torque < 1e-6


def test_thin_ring_is_a_single_elliptic_ring():
    for centre in (0.2, 0.8, 1.0, 1.3, 6.0):
        near = ((1 - centre) / (1 + centre)) ** 2
        first = ellipkm1(near) if near else 0.0  # its factor is zero there
        second = ellipe(1 - near)
        force = ((centre - 1) * first + (centre + 1) * second) / (np.pi * centre)
        torque = ((1 - centre) * first + (1 + centre) * second) / np.pi
        for pressure in RELIEVABLE:
            assert at(pressure, 1.0, centre) == pytest.approx((force, torque), abs=1e-12)
            # 1e-9 narrow: the log in the first integral moves the ring by about 2e-8.
            assert at(pressure, 1 - 1e-9, centre) == pytest.approx((force, torque), abs=1e-7)


def test_thin_ring_turning_about_itself_holds_two_over_pi_of_each():
    # Mean of |sin(phi/2)| round the ring, by hand: 2/pi.
    assert at("uniform", 1.0, 1.0) == pytest.approx((2 / np.pi, 2 / np.pi), abs=1e-12)


def test_full_worn_pad_agrees_with_mpmath_in_thirty_digits():
    def ring_force(radius):
        parameter = min(4 * radius * c / (radius + c) ** 2, 1)
        first = mpmath.ellipk(parameter) if parameter < 1 else 0  # its factor is zero there
        inner = (c - radius) * first + (c + radius) * mpmath.ellipe(parameter)
        return inner / (mpmath.pi * c)

    with mpmath.workdps(30):
        c = mpmath.mpf("0.37")
        known = float(mpmath.quad(ring_force, [0, c, 1]))
    assert at("uniform_wear", 0.0, 0.37)[0] == pytest.approx(known, abs=1e-9)


@pytest.mark.parametrize(("pressure", "relief"), FULL_AND_RELIEVED)
def test_curve_is_convex_and_falls(pressure, relief):
    force, torque = limit_points(pressure, relief, np.tan(np.linspace(0.003, 1.567, 400)))
    along = np.stack([np.diff(force), np.diff(torque)])
    assert (along[0] > 0).all()
    assert (along[1] < 0).all()
    turning = along[0, :-1] * along[1, 1:] - along[1, :-1] * along[0, 1:]
    assert (turning < 0).all()


@pytest.mark.parametrize("centre", [0.15, 0.6, 1.4, 5.0])
@pytest.mark.parametrize(("pressure", "relief"), FULL_AND_RELIEVED)
def test_motion_stands_square_to_the_curve(pressure, relief, centre):
    # Greatest dissipation: moving by (c, 1) at slip, (df, dm) along the curve does no work on it.
    step = 1e-5
    force, torque = limit_points(pressure, relief, [centre - step, centre + step])
    assert (torque[1] - torque[0]) / (force[1] - force[0]) == pytest.approx(-centre, rel=1e-5)


@pytest.mark.parametrize(("pressure", "relief"), FULL_AND_RELIEVED)
def test_no_other_point_of_the_curve_dissipates_more(pressure, relief):
    centres = np.tan(np.linspace(0.01, 1.56, 150))
    force, torque = limit_points(pressure, relief, centres)
    work = np.outer(centres, force) + torque
    assert (work <= np.diag(work)[:, None] + 1e-12).all()


def test_ellipse_overstates_a_full_uniform_pad_by_up_to_seven_per_cent():
    # Reference table: worst radial deficit 6.58 % at eps = 0.766 (f 0.705, m/(2/3) 0.613).
    def share_of_ellipse(centre):
        force, torque = at("uniform", 0.0, centre)
        return np.hypot(force, torque / (2 / 3))

    worst = minimize_scalar(share_of_ellipse, bounds=(0.3, 2), method="bounded")
    assert 1 - worst.fun == pytest.approx(0.0658, abs=0.5e-4)
    assert worst.x == pytest.approx(0.766, abs=2e-3)
    force, torque = at("uniform", 0.0, worst.x)
    assert (force, torque / (2 / 3)) == pytest.approx((0.705, 0.613), abs=2e-3)


# The table


def sample(seed, count):
    """Turning centres all over the curve, crowded where it is hardest."""
    draw = np.random.default_rng(seed)
    spread = np.tan(draw.uniform(0, np.pi / 2, count))
    near_ring = np.abs(1 + 0.03 * draw.standard_normal(count // 4))
    near_middle = 10 ** draw.uniform(-4, 0, count // 4)
    return np.concatenate([spread, near_ring, near_middle])


def worst_error(pressure, relief, seed, as_array):
    force, torque = limit_points(pressure, relief, sample(seed, 300))
    share = torque / (force + torque)
    asked = np.full(share.shape, relief) if as_array else relief
    return np.max(np.abs(reach(pressure, asked, share) / (force + torque) - 1))


RELIEFS = np.concatenate(
    [
        [0.0, 1e-6, 1e-4, 0.999, 0.9999],
        np.random.default_rng(1).uniform(0, 0.999, 40),
        10 ** np.random.default_rng(2).uniform(-5, -1, 40),
        1 - 10 ** np.random.default_rng(3).uniform(-3, -1, 25),
    ]
)


@pytest.mark.parametrize("as_array", [False, True])
@pytest.mark.parametrize("pressure", RELIEVABLE)
def test_table_errs_by_a_millionth_at_most_for_any_relief(pressure, as_array):
    reliefs = RELIEFS if as_array else RELIEFS[::3]
    errors = [worst_error(pressure, k, seed, as_array) for seed, k in enumerate(reliefs)]
    assert max(errors) <= 1e-6, f"relief {reliefs[np.argmax(errors)]}"


@pytest.mark.parametrize("pressure", LAWS)
def test_table_of_a_full_pad_errs_by_a_millionth_at_most(pressure):
    assert max(worst_error(pressure, 0.0, seed, False) for seed in range(5)) <= 1e-6


@pytest.mark.parametrize("pressure", LAWS)
def test_table_is_exact_at_both_ends(pressure):
    ends = reach(pressure, 0.0, np.array([0.0, 1.0]))
    assert ends == pytest.approx([1.0, MEAN_RADIUS[pressure]], abs=1e-9)


@pytest.mark.parametrize("pressure", RELIEVABLE)
def test_reliefs_in_an_array_are_told_apart(pressure):
    reliefs = np.array([0.0, 0.3, 0.6, 0.9])
    one_by_one = [reach(pressure, k, 0.5) for k in reliefs]
    assert reach(pressure, reliefs, 0.5) == pytest.approx(one_by_one, abs=1e-6)
    assert np.ptp(one_by_one) > 0.01


@pytest.mark.parametrize("relief", [0.0, 0.4, np.array(0.4), np.array([0.4, 0.4])])
@pytest.mark.parametrize("pressure", RELIEVABLE)
def test_slope_is_the_change_of_reach_with_direction(pressure, relief):
    for share in (0.1, 0.37, 0.9):
        value, slope = reach_and_slope(pressure, relief, share)
        assert value == pytest.approx(reach(pressure, relief, share), rel=1e-15)
        step = 1e-3
        ahead, behind = (reach(pressure, relief, share + end) for end in (step, -step))
        assert slope == pytest.approx((ahead - behind) / (2 * step), abs=1e-3)


def test_reliefs_and_directions_broadcast():
    assert reach("uniform", np.zeros((3, 1)) + 0.2, np.linspace(0, 1, 5)).shape == (3, 5)
    assert reach("uniform", np.zeros((3, 1)), np.linspace(0, 1, 5)).shape in ((5,), (3, 5))
