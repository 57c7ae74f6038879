"""The rim on a soft facing: Kelvin functions, a rigid disc on springs, and the clamped limit."""

import numpy as np
import pytest

from tests.references.springs_reference import rim_of_harmonic
from workshop_lib.materials import find_material
from workshop_lib.overhang import (
    lift_share,
    natural_frequencies,
    rim_deflection,
    soft_frequencies,
    soft_rim_curve,
    soft_rim_deflection,
)
from workshop_lib.overhang.plate import rigidity
from workshop_lib.overhang.springs import solved
from workshop_lib.quantities import Q_, InputError

COVER = ("78 mm", "70 mm", "0.635 mm", "stainless_steel")
LEATHER = ("50 MPa", "3 mm")


def mm(quantity):
    return quantity.m_as("mm")


@pytest.mark.parametrize("order", [0, 1, 2, 3, 7, 15])
@pytest.mark.parametrize(("ratio", "kappa"), [(70 / 78, 9000.0), (0.5, 2e4), (0.97, 300.0)])
def test_each_harmonic_is_that_of_kelvin_functions(order, ratio, kappa):
    wanted = rim_of_harmonic(order, ratio, 0.3, kappa)
    assert solved(0.0, ratio, 0.3, kappa)[1][order, -1] == pytest.approx(wanted, rel=2e-5)


@pytest.mark.parametrize(
    ("pad", "modulus", "wanted"),
    [("70 mm", "50 MPa", 0.106), ("70 mm", "200 MPa", 0.068), ("76 mm", "50 MPa", 0.055)],
)
def test_the_case_that_two_engineers_computed(pad, modulus, wanted):
    # the design's own reference case: 24 N on a 78 mm disc of 0.635 mm stainless, 3 mm leather
    found = soft_rim_deflection("24 N", "78 mm", pad, *COVER[2:], modulus, "3 mm")
    assert mm(found) == pytest.approx(wanted, abs=0.001)


def test_a_thick_disc_sinks_and_tilts_on_its_springs_as_a_rigid_one_does():
    # By hand: k A = 50 MPa/3 mm × pi (35 mm)² = 64.1 MN/m; k I = k pi r⁴/4.
    # w = F/kA + F a²/kI for a force at the radius a.
    springs, pad, disc = 50e6 / 3e-3, 0.035, 0.039
    wanted = 100 / (springs * np.pi * pad**2) + 100 * disc**2 / (springs * np.pi * pad**4 / 4)
    found = soft_rim_deflection("100 N", "78 mm", "70 mm", "60 mm", "stainless_steel", *LEATHER)
    assert found.m_as("m") == pytest.approx(wanted, rel=1e-3)


def test_no_rim_bends_less_than_a_clamped_one_and_a_hard_facing_comes_near_it():
    clamped = mm(rim_deflection("1 N", "100 mm", "30 mm", "0.55 mm", "stainless_steel"))
    thinner = Q_([1e3, 10, 0.1, 1e-3], "mm")
    sheet = ("100 mm", "30 mm", "0.55 mm", "stainless_steel")
    soft = mm(soft_rim_deflection("1 N", *sheet, "100 GPa", thinner))
    assert (np.diff(soft) < 0).all()
    assert (soft > clamped).all()
    assert soft[-1] == pytest.approx(clamped, rel=0.03)


def test_no_rim_rings_higher_than_a_clamped_one_and_a_hard_facing_comes_near_it():
    sheet = ("100 mm", "50 mm", "0.55 mm", "stainless_steel")
    clamped = natural_frequencies(*sheet).m_as("Hz")
    moduli = Q_([1e1, 1e3, 1e5, 1e7], "MPa")
    soft = soft_frequencies(*sheet, moduli, "1 mm").m_as("Hz")
    assert soft.shape == (4, 4)
    assert (np.diff(soft, axis=0) > 0).all()
    assert (soft < clamped).all()
    assert soft[-1] == pytest.approx(clamped, rel=0.03)


def test_a_thick_disc_bounces_and_rocks_as_a_rigid_one_does():
    # By hand: omega² = kA/m, and kI/(m a²/4) for the rocking about a diameter.
    springs, pad, disc, thick = 50e6 / 3e-3, 0.035, 0.039, 0.03
    mass = find_material("stainless_steel").core.density * thick * np.pi * disc**2
    bounce = np.sqrt(springs * np.pi * pad**2 / mass) / (2 * np.pi)
    rock = np.sqrt(springs * np.pi * pad**4 / mass / disc**2) / (2 * np.pi)
    found = soft_frequencies("78 mm", "70 mm", "30 mm", "stainless_steel", *LEATHER, modes=2)
    assert found.m_as("Hz") == pytest.approx([bounce, rock], rel=5e-3)


def test_softer_thicker_facings_smaller_pads_and_thinner_sheets_never_bend_less():
    thicker = mm(soft_rim_deflection("10 N", *COVER, "50 MPa", Q_([0.5, 1, 3, 6], "mm")))
    pads = Q_([40, 55, 65, 70, 74, 77], "mm")
    wider = mm(soft_rim_deflection("10 N", "78 mm", pads, *COVER[2:], *LEATHER))
    sheets = Q_([0.4, 0.6, 1.0, 2.0], "mm")
    stouter = mm(soft_rim_deflection("10 N", *COVER[:2], sheets, "stainless_steel", *LEATHER))
    assert (np.diff(thicker) > 0).all()
    assert (np.diff(wider) < 0).all()
    assert (np.diff(stouter) < 0).all()


def test_a_relieved_pad_never_bends_less_than_a_full_one():
    holes = Q_([0, 20, 40, 60], "mm")
    bends = mm(soft_rim_deflection("10 N", *COVER, *LEATHER, holes))
    assert (np.diff(bends) > -1e-9 * bends[0]).all()


def test_lift_grows_with_the_force_and_falls_with_the_thrust():
    pressed = lift_share("24 N", Q_([500.0, 1000.0], "N"), *COVER, *LEATHER)
    assert pressed[0] == pytest.approx(2 * pressed[1])
    assert lift_share("48 N", "500 N", *COVER, *LEATHER) == pytest.approx(2 * pressed[0])


@pytest.mark.parametrize(("share", "taken"), [(1.05, True), (0.95, False)])
def test_a_curve_is_drawn_from_a_hundredth_of_the_sheets_own_stiffness_on(share, taken):
    # k a⁴/D = 0.01: a facing so soft that its springs hardly feel the sheet bend
    pressure = share * 0.01 * rigidity(193e9, 0.3, 1e-3) / 0.05**4 * 0.01
    case = ("1 N", "100 mm", "1 mm", "stainless_steel", Q_(pressure, "Pa"), "10 mm")
    if taken:
        curve = soft_rim_curve(*case).m_as("m")
        # by hand, a rigid disc on springs under all of it: F/(k pi a²) × (1 + 4)
        wanted = 5 / (pressure / 0.01 * np.pi * 0.05**2)
        assert curve[-1] == pytest.approx(wanted, rel=0.2)  # on a pad of 0.97 times the disc
    else:
        with pytest.raises(InputError, match="sheet on this facing"):
            soft_rim_curve(*case)


@pytest.mark.parametrize("pad", ["78 mm", "80 mm", "3 mm"])
def test_a_pad_beyond_the_sum_is_refused(pad):
    with pytest.raises(InputError, match="pad_diameter"):
        soft_rim_deflection("10 N", "78 mm", pad, *COVER[2:], *LEATHER)


def test_a_relief_as_large_as_the_pad_is_refused():
    with pytest.raises(InputError, match="inner_diameter"):
        soft_rim_deflection("10 N", *COVER, *LEATHER, "70 mm")


def test_the_scale_is_that_of_the_plate():
    thin = soft_rim_deflection("1 N", *COVER, *LEATHER)
    stiff = rigidity(193e9, 0.3, 0.635e-3)
    kappa = 50e6 / 3e-3 * 0.039**4 / stiff
    each = [rim_of_harmonic(n, 70 / 78, 0.3, kappa) for n in range(24)]
    alpha = sum(each) + each[-1] * 23.5 / 2 * (23 / 23.5) ** 3  # far out they fall as 1/n³
    assert thin.m_as("m") == pytest.approx(alpha * 0.039**2 / stiff, rel=2e-3)


def test_a_hole_too_small_to_matter_changes_nothing_and_a_ring_too_narrow_is_refused():
    """A hole of a hundredth takes a ten-thousandth of the disc's face; below, ever less."""
    sizes = ("78 mm", "50 mm", "0.635 mm", "stainless_steel", "50 MPa", "3 mm")
    whole = soft_frequencies(*sizes, modes=3)
    for hole in (1e-320, 1e-15, 1e-9, 1e-6, 1e-4, 1e-3, 1e-2):
        ringing = soft_frequencies(*sizes, Q_(hole, "mm"), modes=3)
        assert ringing.m == pytest.approx(whole.m, rel=1e-5)
    narrow = [soft_frequencies(*sizes, f"{inner} mm", modes=3).m for inner in (40, 48, 49, 49.8)]
    assert (np.diff(narrow, axis=0) < 0).all()  # less to lie on: a lower note
    for inner in ("49.9 mm", "49.999999 mm", "50 mm"):
        with pytest.raises(InputError, match="^inner_diameter: "):
            soft_frequencies(*sizes, inner)


def test_a_sheet_as_thick_as_a_house_is_refused():
    with pytest.raises(InputError, match="^thickness: .*rocks like a block"):
        soft_rim_deflection("100 N", "10 mm", "9 mm", "24 m", "copper", "26 MPa", "25 mm")
