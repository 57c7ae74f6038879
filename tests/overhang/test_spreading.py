"""How a sheet spreads its nose's load: limits, scaling, and SciPy on the same plate equation."""

import warnings

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import special
from scipy.integrate import solve_bvp

from tests.house.thorough import among
from workshop_lib.materials import facings, find_material
from workshop_lib.overhang.plate import rigidity
from workshop_lib.overhang.spreading import (
    facing_modulus,
    pressed,
    rim_share,
    scaled_i,
    scaled_k,
    spreading_length,
)
from workshop_lib.quantities import Q_, InputError, OutOfRangeWarning

SHEET = {"material": "stainless_steel", "thickness": "0.6 mm"}
LEATHER = {"facing_modulus": "50 MPa", "facing_thickness": "3 mm"}


def share(nose, pad, disc="78 mm", **changed):
    """`rim_share` with its warnings left out."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", OutOfRangeWarning)
        return rim_share(nose, pad, disc, **{**SHEET, **LEATHER, **changed})


@given(st.floats(1e-3, 300), st.floats(-1.5, 1.5))
def test_the_bessel_functions_are_those_of_scipy(size, angle):
    at = np.array([size * np.exp(1j * angle)])
    for order in (0, 1):
        np.testing.assert_allclose(
            scaled_i(order, at) * np.exp(at - at.real),
            special.ive(order, at),
            rtol=1e-9,
            atol=1e-12,
        )
    if abs(angle) < 1.2:
        for order in (0, 1):
            np.testing.assert_allclose(scaled_k(order, at), special.kve(order, at), rtol=1e-9)


def by_scipy(edge, rim, end, nu):
    """Pressure at the rim over that in the middle: the plate equation as a boundary problem.

    Lengths in spreading lengths; y = w, w', laplacian of w, its slope, on x = r up to the rim; the
    load's edge is smoothed over a hundredth of a length, which changes nothing at this accuracy.
    """

    def slopes(x, y):
        load = 0.5 * (1 - np.tanh((x - edge) / 0.01))
        return np.stack([y[1], y[2] - y[1] / x, y[3], load - y[0] - y[3] / x])

    def ends(left, right):
        ring = 2 / (rim + end**2 / rim * (1 + nu) / (1 - nu))
        return np.array([left[1], left[3], right[3], right[2] - ring * right[1]])

    start = 1e-4
    x = np.unique(np.concatenate([np.linspace(start, rim, 100), edge + np.linspace(-0.1, 0.1, 41)]))
    x = x[(x >= start) & (x <= rim)]
    found = solve_bvp(slopes, ends, x, np.ones((4, x.size)), tol=1e-5)
    assert found.success
    return found.y[0, -1] / found.y[0, 0]


@pytest.mark.parametrize(
    ("edge", "beyond", "overhang"),
    [(0.4, 1, 1), (0.4, 2, 3), (2.5, 0.3, 3), (5, 1, 1), (2.5, 2, 1.5)],
)
def test_the_plate_on_springs_is_scipys(edge, beyond, overhang):
    rim = edge + beyond
    ours = pressed(*(np.array([x]) for x in (rim, edge, rim)), _hold(rim, overhang * rim, 0.3))
    middle = pressed(*(np.array([x]) for x in (0.0, edge, rim)), _hold(rim, overhang * rim, 0.3))
    assert (ours / middle)[0] == pytest.approx(by_scipy(edge, rim, overhang * rim, 0.3), abs=2e-3)


@pytest.mark.parametrize(("nose", "pad", "disc"), [(12, 20, 22), (12, 20, 40), (6, 10, 30)])
def test_the_share_of_a_rim_in_the_shop_is_scipys(nose, pad, disc):
    """Small pads, where it matters how the sheet beyond the pad resists."""
    core = find_material("stainless_steel").core
    stiff = core.youngs_modulus * 0.6e-3**3 / (12 * (1 - core.poisson_ratio**2))
    length = 1e3 * (stiff * 3e-3 / 50e6) ** 0.25  # mm
    sizes = [size / 2 / length for size in (nose, pad, disc)]
    found = share(f"{nose} mm", f"{pad} mm", f"{disc} mm")
    assert found == pytest.approx(by_scipy(*sizes, core.poisson_ratio), abs=2e-3)


def _hold(rim, end, nu):
    return np.array([2 / (rim + end**2 / rim * (1 + nu) / (1 - nu))])


@settings(max_examples=among(10, 20))
@given(st.floats(0.2, 20), st.floats(0.05, 6))
def test_the_facing_gives_back_the_whole_load(edge, beyond):
    """Balance of forces: the pressure over the pad sums to the load over the nose."""
    rim = edge + beyond
    radius = np.linspace(0, rim, 601)
    held = pressed(
        radius, np.full_like(radius, edge), np.full_like(radius, rim), _hold(rim, rim, 0.3)
    )
    total = np.trapezoid(held * radius, radius)
    assert total == pytest.approx(edge**2 / 2, rel=1e-3)


def test_beyond_a_long_straight_edge_the_pressure_is_the_beams():
    # A half plane loaded: a beam on springs, exp(−y) cos(y)/2 with y = x/(√2 l).
    away = np.array([0.0, 0.5, 1.0, 2.2])
    edge = np.full(4, 200.0)
    found = pressed(edge + away, edge, edge + 60, np.zeros(4))
    expected = np.exp(-away / np.sqrt(2)) * np.cos(away / np.sqrt(2)) / 2
    np.testing.assert_allclose(found, expected, atol=3e-3)


def test_the_spreading_length_is_the_fourth_root():
    core = find_material("stainless_steel").core
    stiff = rigidity(core.youngs_modulus, core.poisson_ratio, 0.6e-3)
    found = spreading_length(**SHEET, **LEATHER).m_as("m")
    assert found == pytest.approx((stiff * 3e-3 / 50e6) ** 0.25)
    assert 3.5 < 1e3 * found < 4.5  # a few millimetres, for a common sheet on leather


def test_a_sheet_sixteen_times_as_thick_spreads_eight_times_as_far():
    thin, thick = spreading_length("acrylic", ["1 mm", "16 mm"], **LEATHER).m
    assert thick / thin == pytest.approx(8)


def test_inches_and_millimetres_agree():
    assert share("1 in", "2 in", "4 in") == pytest.approx(share("25.4 mm", "50.8 mm", "101.6 mm"))


def test_a_larger_nose_presses_the_rim_harder():
    shares = share([f"{size} mm" for size in (10, 20, 26, 28, 29)], "30 mm")
    assert np.all(np.diff(shares) >= 0)
    assert shares[0] < 0.05 < 0.5 < shares[-1]


@pytest.mark.parametrize("nose", ["30 mm", "40 mm"])
def test_a_nose_as_large_as_the_pad_presses_it_to_its_rim(nose):
    assert share(nose, "30 mm") == 1
    assert share("29.99 mm", "30 mm") == pytest.approx(1, abs=0.02)


def test_a_small_nose_under_a_thin_sheet_is_warned_of_in_words():
    with pytest.warns(OutOfRangeWarning, match=r"nose by 20\.0 mm.*3\.89 mm"):
        rim_share("20 mm", "60 mm", "78 mm", **SHEET, **LEATHER)


def test_a_nose_that_reaches_the_rim_passes_in_silence():
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        rim_share("56 mm", "60 mm", "78 mm", **SHEET, **LEATHER)


def test_scalars_and_arrays_agree():
    noses = ["12 mm", "25 mm"]
    np.testing.assert_allclose(share(noses, "30 mm"), [share(nose, "30 mm") for nose in noses])


def test_extreme_sizes_stay_between_none_and_all():
    for thickness in ("0.001 mm", "0.01 mm", "100 mm", "1 m"):
        assert 0 <= share("20 mm", "60 mm", thickness=thickness) <= 1


def test_a_disc_smaller_than_its_pad_is_refused():
    with pytest.raises(InputError, match="disc_diameter"):
        share("20 mm", "60 mm", "50 mm")


def test_every_soft_facing_has_a_stiffness_and_a_bare_pad_none():
    for facing in facings():
        if facing.key.startswith("bare_"):
            with pytest.raises(InputError, match="facing"):
                facing_modulus(facing)
            continue
        low, typical, high = facing_modulus(facing.key)
        assert Q_(0, "MPa") < low <= typical <= high
        assert facing_modulus(facing.key).standing == "from memory"
