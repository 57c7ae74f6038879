"""The limit curve and the turning centre as they are handed out."""

import numpy as np
import pytest
from scipy.spatial import ConvexHull

from tests.references.limit_reference import FULL_AND_RELIEVED, farkas
from workshop_lib.friction import Pad, limit_curve, turning_centre
from workshop_lib.quantities import Q_, InputError


@pytest.mark.parametrize("points", [2, 3, 181, 1000])
@pytest.mark.parametrize(("pressure", "relief"), FULL_AND_RELIEVED)
def test_curve_runs_from_pure_torque_to_pure_side_force(pressure, relief, points):
    pad = Pad("40 mm", Q_(40 * relief, "mm"), pressure)
    side, torque = limit_curve(pad, points)
    assert side.shape == torque.shape == (points,)
    assert (side[0], side[-1], torque[-1]) == (0, 1, 0)
    assert torque[0] * 20 == pytest.approx(pad.torque_radius.m_as("mm"), rel=1e-9)


def test_curve_passes_through_the_anchor():
    side, torque = limit_curve(Pad("30 mm"))
    assert (side[90], torque[90]) == pytest.approx((8 / (3 * np.pi), 8 / (9 * np.pi)), abs=1e-12)


def test_curve_of_a_full_uniform_pad_is_the_closed_form():
    side, torque = limit_curve(Pad("30 mm"), 61)
    known = np.array([farkas(np.tan(angle)) for angle in np.linspace(0, np.pi / 2, 61)[:-1]])
    np.testing.assert_allclose(np.stack([side, torque], 1)[:-1], known, atol=1e-11)


@pytest.mark.parametrize(("pressure", "relief"), FULL_AND_RELIEVED)
def test_curve_is_its_own_convex_hull(pressure, relief):
    side, torque = limit_curve(Pad("40 mm", Q_(40 * relief, "mm"), pressure), 91)
    corners = np.vstack([np.stack([side, torque], 1), [[0, 0]]])
    assert len(ConvexHull(corners).vertices) == len(corners)


def overstated(pad):
    """Return by what factor the ellipse through the curve's ends promises too much, at worst."""
    side, torque = limit_curve(pad, 2001)
    share = np.hypot(side, torque / torque[0])
    assert share.max() <= 1 + 1e-12, "the curve leaves the ellipse"
    return 1 / share.min()


def test_ellipse_through_the_ends_promises_seven_per_cent_too_much_for_a_full_pad():
    assert overstated(Pad("30 mm")) == pytest.approx(1.070, abs=0.5e-3)


@pytest.mark.parametrize("pressure", ["uniform", "uniform_wear"])
def test_ellipse_promises_more_too_much_the_more_a_pad_is_relieved(pressure):
    found = [overstated(Pad("40 mm", Q_(40 * k, "mm"), pressure)) for k in (0.1, 0.3, 0.6, 0.9)]
    assert found == sorted(found)
    # A thin ring that turns about itself holds 2/pi of each: pi / (2 sqrt 2) too much, by hand.
    ring = overstated(Pad("40 mm", "39.9999 mm", pressure))
    assert ring == pytest.approx(np.pi / (2 * np.sqrt(2)), abs=1e-4)
    assert found[-1] < ring


def test_curve_does_not_depend_on_the_size_of_the_pad():
    small, large = limit_curve(Pad("3 mm", "1 mm")), limit_curve(Pad("30 in", "10 in"))
    np.testing.assert_allclose(small, large, atol=1e-12)


# The turning centre


@pytest.mark.parametrize("centre", [0.05, 0.5, 1.0, 3.0, 20.0])
def test_turning_centre_gives_back_the_centre_of_the_closed_form(centre):
    force, torque = farkas(centre)
    found = turning_centre(Pad("30 mm"), Q_(100 * force, "N"), Q_(100 * torque * 0.015, "N*m"))
    assert found.m_as("mm") == pytest.approx(15 * centre, rel=1e-8)


def test_turning_centre_of_a_single_load():
    assert turning_centre(Pad("30 mm"), "0 N", "1 N m").m_as("mm") == 0
    assert np.isinf(turning_centre(Pad("30 mm"), "1 N", "0 N m").m_as("mm"))


def test_turning_centre_does_not_change_when_the_load_grows():
    pad = Pad("30 mm", "12 mm", "uniform_wear")
    found = [turning_centre(pad, Q_(30 * k, "N"), Q_(0.3 * k, "N*m")).m for k in (0.01, 1, 500)]
    assert found == pytest.approx([found[0]] * 3, rel=1e-9)


@pytest.mark.parametrize(
    "points", [1, 0, -5, 1.5, 181.0, True, None, "181", 100_001, 10**9, np.nan]
)
def test_a_wrong_number_of_points_is_refused_at_once(points):
    with pytest.raises(InputError, match="points"):
        limit_curve(Pad("30 mm"), points)


def test_number_of_points_may_come_from_numpy():
    assert len(limit_curve(Pad("30 mm"), np.int64(7))[0]) == 7


@pytest.mark.parametrize("pad", [None, "30 mm", 30, Pad(["30 mm", "40 mm"])])
def test_a_curve_is_drawn_for_one_pad(pad):
    with pytest.raises(InputError, match="pad"):
        limit_curve(pad)


@pytest.mark.parametrize(
    "load", [(["1 N", "2 N"], "1 N m"), ("1 N", ["1 N m", "2 N m"]), ("-1 N", "1 N m")]
)
def test_a_turning_centre_is_found_for_one_load(load):
    with pytest.raises(InputError):
        turning_centre(Pad("30 mm"), *load)


def test_a_number_too_long_to_be_written_out_is_refused_like_any_other():
    with pytest.raises(InputError, match="points"):
        limit_curve(Pad("30 mm"), 10**5000)
