"""Lever indicators against the printed tables, the exact circle, and the front door."""

import warnings

import numpy as np
import pytest

from workshop_lib import run_out
from workshop_lib.quantities import Q_, InputError, OutOfRangeWarning
from workshop_lib.run_out import fit, harmonics, limacon_error, true_travel

# Lever indicators


# Mitutoyo catalogue 2019: factors to two places, and 0.200 mm at 10°, 20°, 30°. The older guide
# prints truncated cosines, so that two places differ by 0.01 between them: hence the tolerance.
@pytest.mark.parametrize(
    ("angle", "factor"),
    [(10, 0.98), (20, 0.94), (30, 0.87), (40, 0.77), (50, 0.64), (60, 0.50)],
)
def test_cosine_factors_are_the_printed_ones(angle, factor):
    assert true_travel("1 mm", Q_(angle, "deg")).m_as("mm") == pytest.approx(factor, abs=0.01)


@pytest.mark.parametrize(("angle", "true"), [(10, 0.196), (20, 0.188), (30, 0.174)])
def test_printed_readings_of_a_fifth_of_a_millimetre(angle, true):
    found = true_travel("0.2 mm", Q_(angle, "deg")).m_as("mm")
    assert found == pytest.approx(true, abs=0.01 * 0.2)


def test_a_flat_stylus_needs_no_correction():
    assert true_travel("3 thou", "0 deg").m_as("thou") == pytest.approx(3)


def test_the_needle_never_shows_too_little():
    angles = Q_(np.arange(0, 61.0), "deg")
    found = true_travel("1 mm", angles).m_as("mm")
    assert np.all(np.diff(found) < 0)
    assert found.max() <= 1


def test_a_travel_backwards_keeps_its_sign():
    assert true_travel("-2 um", "60 deg").m_as("um") == pytest.approx(-1)


def test_sixty_degrees_pass_and_more_is_warned_of_once():
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        true_travel("1 mm", "60 deg")
    with pytest.warns(OutOfRangeWarning, match="steeper than 60°") as caught:
        true_travel("1 mm", ["65 deg", "70 deg"])
    assert len(caught) == 1


def test_the_warning_states_the_error_of_a_degree_rightly():
    # Just above 60°, one degree more changes the cosine by tan(60°) × 1° = 3.0 %.
    assert np.cos(np.radians(61)) / np.cos(np.radians(60)) == pytest.approx(0.97, abs=0.001)


@pytest.mark.parametrize("angle", ["90 deg", "-1 deg", "120 deg", "45", "45 mm"])
def test_an_angle_that_cannot_be_is_refused(angle):
    with pytest.raises(InputError, match="^angle: "):
        true_travel("1 mm", angle)


# The exact circle


def exact(eccentricity, high_spot, radius, degrees):
    """What a point on a line through the axis meets on a circle off the axis, less its radius."""
    seen = np.radians(degrees - high_spot)
    along, across = eccentricity * np.cos(seen), eccentricity * np.sin(seen)
    return along + np.sqrt(radius**2 - across**2) - radius


@pytest.mark.parametrize("eccentricity", [0.01, 0.1, 0.5, 2.0])
@pytest.mark.parametrize("radius", [12.0, 39.0])
def test_an_exact_circle_leaves_no_more_than_the_limacon_error(eccentricity, radius):
    degrees = np.arange(0, 360, 5.0)
    readings = exact(eccentricity, 40, radius, degrees)
    bound = limacon_error(Q_(eccentricity, "mm"), Q_(radius, "mm")).m_as("mm")
    pure = eccentricity * np.cos(np.radians(degrees - 40))
    # The next term of the series is e⁴/(8 R³).
    spare = 1 + (eccentricity / radius) ** 2
    assert np.abs(readings - pure).max() == pytest.approx(bound, rel=0.02)
    assert np.abs(readings - pure).max() <= bound * spare
    found = fit(Q_(degrees, "deg"), Q_(readings, "mm"))
    assert np.abs(found.residual.m_as("mm")).max() <= bound * spare / 2
    assert found.eccentricity.m_as("mm") == pytest.approx(eccentricity, rel=1e-9)
    assert found.high_spot.m_as("deg") == pytest.approx(40)
    oval = harmonics(Q_(degrees, "deg"), Q_(readings, "mm"), 2)[2].amplitude.m_as("mm")
    assert oval == pytest.approx(bound / 2, rel=0.01)


def test_limacon_error_by_hand():
    # 0.1 mm off the axis on a 78 mm disc: 0.01 / 78 = 0.000128 mm, nothing beside a graduation.
    assert limacon_error("0.1 mm", "39 mm").m_as("mm") == pytest.approx(0.000128, abs=5e-7)


def test_limacon_error_falls_with_the_radius_and_grows_with_the_square():
    one, larger, further = (
        limacon_error(*pair).m_as("um")
        for pair in (("0.1 mm", "20 mm"), ("0.1 mm", "40 mm"), ("0.2 mm", "20 mm"))
    )
    assert larger == pytest.approx(one / 2)
    assert further == pytest.approx(4 * one)


@pytest.mark.parametrize(
    ("name", "pair"),
    [("radius", ("1 mm", "0 mm")), ("eccentricity", ("-1 mm", "1 mm")), ("radius", ("1 mm", "1"))],
)
def test_bad_lengths_are_refused(name, pair):
    with pytest.raises(InputError, match=f"^{name}: "):
        limacon_error(*pair)


# The front door


def test_the_front_door_offers_what_the_design_names():
    for name in ("fit", "harmonics", "separate", "shift_between", "true_travel", "Readings"):
        assert name in run_out.__all__
    for name in run_out.__all__:
        assert hasattr(run_out, name)
