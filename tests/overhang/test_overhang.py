"""The rim beyond its pad: laws, limits and hand working; the numbers behind are in test_plate."""

import numpy as np
import pytest

from workshop_lib.materials import find_material, materials
from workshop_lib.overhang import (
    natural_frequencies,
    pad_for,
    rim_deflection,
    rim_shape,
    rim_stiffness,
    ring_deflection,
    understatement,
)
from workshop_lib.quantities import Q_, InputError, OutOfRangeWarning, read

DISC = ("100 mm", "30 mm", "0.55 mm", "stainless_steel")
CALLS = [rim_deflection, ring_deflection]
EACH_CALL = pytest.mark.parametrize("call", CALLS, ids=[call.__name__ for call in CALLS])


def mm(quantity):
    return quantity.m_as("mm")


def test_the_designs_own_disc_bends_a_tenth_of_a_millimetre_for_each_newton():
    assert mm(rim_deflection("1 N", *DISC)) == pytest.approx(0.1, abs=0.02)


def test_the_same_disc_by_hand():
    # D = 193 GPa × (0.55 mm)³ / (12 × 0.91) = 2.9405 N·m. At 0.3, nu = 0.3 Roark's table has
    # 0.13895 for the ring: 0.13895 × (1 / (2 pi 0.05)) × 0.05³ / 2.9405 = 18.80 µm.
    assert ring_deflection("1 N", *DISC).m_as("um") == pytest.approx(18.80, abs=0.005)


@EACH_CALL
def test_bend_grows_in_step_with_force(call):
    bends = mm(call(Q_([0.0, 0.5, 1.0, 2.0], "N"), *DISC))
    assert bends == pytest.approx(np.array([0, 0.5, 1, 2]) * bends[2])


@EACH_CALL
def test_bend_falls_as_the_cube_of_the_thickness(call):
    bends = mm(call("0.01 N", "100 mm", "30 mm", Q_([0.5, 1.0, 2.0], "mm"), "acrylic"))
    assert bends == pytest.approx(bends[0] / np.array([1, 8, 64]))


@EACH_CALL
def test_bend_grows_as_the_square_of_the_size(call):
    sizes = np.array([1.0, 2.0, 3.0])
    bends = mm(call("0.1 N", Q_(50 * sizes, "mm"), Q_(20 * sizes, "mm"), "0.5 mm", "mild_steel"))
    assert bends == pytest.approx(bends[0] * sizes**2)


@EACH_CALL
def test_bend_falls_with_youngs_modulus_at_the_same_poisson_ratio(call):
    brass, copper = (
        mm(call("0.1 N", "100 mm", "30 mm", "0.5 mm", key)) for key in ("brass", "copper")
    )
    stiff = [find_material(key).core.youngs_modulus for key in ("brass", "copper")]
    assert find_material("brass").poisson_ratio == find_material("copper").poisson_ratio
    assert brass * stiff[0] == pytest.approx(copper * stiff[1])


@EACH_CALL
def test_inches_and_millimetres_agree(call):
    inch = call("1 lbf", "4 in", "1.5 in", "0.05 in", "brass")
    metric = call("4.4482216 N", "101.6 mm", "38.1 mm", "1.27 mm", "brass")
    assert mm(inch) == pytest.approx(mm(metric), rel=1e-7)


@EACH_CALL
def test_arrays_broadcast_to_the_values_of_single_calls(call):
    discs, pads = np.array([[100.0], [150.0]]), np.array([30.0, 60.0, 97.0])
    both = mm(call("0.1 N", Q_(discs, "mm"), Q_(pads, "mm"), "0.5 mm", "brass"))
    assert both.shape == (2, 3)
    for row, column in np.ndindex(2, 3):
        sizes = Q_(discs[row, 0], "mm"), Q_(pads[column], "mm")
        assert both[row, column] == pytest.approx(mm(call("0.1 N", *sizes, "0.5 mm", "brass")))


def test_larger_pads_hold_the_rim_stiffer():
    stiff = rim_stiffness("100 mm", Q_(np.linspace(5, 96, 60), "mm"), "0.55 mm", "brass")
    assert (np.diff(stiff.m_as("N/mm")) > 0).all()


def test_small_and_large_discs_differ_by_orders_of_magnitude():
    small = rim_stiffness("64 mm", "54 mm", "1.6 mm", "phenolic_laminate")
    large = rim_stiffness("150 mm", "40 mm", "2 mm", "acrylic")
    assert small.m_as("N/mm") > 100 * large.m_as("N/mm")


@pytest.mark.parametrize("material", [each.key for each in materials()])
def test_stiffness_is_force_over_bend_for_every_material(material):
    sizes = ("120 mm", "50 mm", "1 mm", material)
    bend = rim_deflection("0.2 N", *sizes)
    stiff = rim_stiffness(*sizes)
    assert stiff.m_as("N/mm") == pytest.approx(0.2 / mm(bend))


def test_spreading_the_force_round_the_rim_hides_most_of_the_bend():
    for pad in ("10 mm", "30 mm", "70 mm", "95 mm"):
        ratio = understatement("100 mm", pad, "brass")
        point, ring = (call("0.01 N", "100 mm", pad, "0.5 mm", "brass") for call in CALLS)
        assert ratio == pytest.approx(mm(point) / mm(ring))
    ratios = understatement("100 mm", Q_(np.linspace(20, 99, 30), "mm"), "brass")
    assert (ratios > 3).all()
    assert (np.diff(ratios) > 0).all()


# Bent shape


def test_shape_is_the_same_on_both_sides_and_deepest_at_the_load():
    angles = np.linspace(0, 180, 91)
    left = mm(rim_shape("1 N", *DISC, Q_(angles, "deg")))
    right = mm(rim_shape("1 N", *DISC, Q_(-angles, "deg")))
    assert left == pytest.approx(right)
    assert left.argmax() == 0
    assert left[0] == pytest.approx(mm(rim_deflection("1 N", *DISC)), rel=1e-4)


def test_shape_grows_in_step_with_force():
    angles = Q_([0.0, 60.0, 180.0], "deg")
    one, three = (mm(rim_shape(force, *DISC, angles)) for force in ("0.5 N", "1.5 N"))
    assert three == pytest.approx(3 * one)


def test_shape_broadcasts_angles_and_radii():
    angles, radii = Q_(np.zeros((5, 1)), "deg"), Q_([0.0, 15.0, 30.0, 50.0], "mm")
    shape = mm(rim_shape("1 N", *DISC, angles, radii))
    assert shape.shape == (5, 4)
    assert shape[0, :2] == pytest.approx([0, 0], abs=1e-12)
    assert 0 < shape[0, 2] < shape[0, 3]


@pytest.mark.parametrize(
    ("change", "name"),
    [
        ({"radius": "51 mm"}, "radius"),
        ({"pad_diameter": "99.5 mm"}, "pad_diameter"),
        ({"disc_diameter": ["100 mm", "90 mm"]}, "disc_diameter"),
        ({"angle": "4 mm"}, "angle"),
    ],
)
def test_shapes_that_cannot_be_drawn_are_refused_by_name(change, name):
    right = dict(zip(("disc_diameter", "pad_diameter", "thickness", "material"), DISC, strict=True))
    with pytest.raises(InputError) as refusal:
        rim_shape(**{"force": "1 N", "angle": "0 deg"} | right | change)
    assert refusal.value.name == name


# Frequencies


def test_frequencies_by_hand():
    # sqrt(D / (rho t)) = sqrt(2.9405 / (8000 × 0.00055)) = 0.81749 m²/s, over 2 pi × 0.05²:
    # 52.043 Hz; times 6.660, 6.552, 7.956 and 13.276 of the reference table at 0.3.
    found = natural_frequencies(*DISC).m_as("Hz")
    assert found == pytest.approx(52.043 * np.array([6.660, 6.552, 7.956, 13.276]), rel=1e-4)


def test_frequency_grows_with_thickness_and_falls_with_the_square_of_the_size():
    base = natural_frequencies("100 mm", "30 mm", "0.5 mm", "brass").m_as("Hz")
    thick = natural_frequencies("100 mm", "30 mm", "1 mm", "brass").m_as("Hz")
    large = natural_frequencies("200 mm", "60 mm", "0.5 mm", "brass").m_as("Hz")
    assert thick == pytest.approx(2 * base)
    assert large == pytest.approx(base / 4)


def test_modes_stand_on_the_last_axis():
    discs = Q_([[100.0], [120.0]], "mm")
    found = natural_frequencies(discs, Q_([30.0, 40.0, 50.0], "mm"), "0.5 mm", "brass", 2)
    assert found.shape == (2, 3, 2)
    one = natural_frequencies("120 mm", "50 mm", "0.5 mm", "brass", 2)
    assert found[1, 2].m == pytest.approx(one.m)
    assert natural_frequencies("120 mm", "50 mm", "0.5 mm", "brass", 1).m == pytest.approx(
        one.m[:1]
    )
    thick = natural_frequencies("120 mm", "50 mm", Q_([0.5, 1.0], "mm"), "brass", 2)
    assert thick[0].m == pytest.approx(one.m)
    assert thick[1].m == pytest.approx(2 * one.m)


@pytest.mark.parametrize("modes", [0, 13, 2.0, True, "3", None])
def test_modes_are_a_whole_number(modes):
    with pytest.raises(InputError) as refusal:
        natural_frequencies(*DISC, modes)
    assert refusal.value.name == "modes"


# The pad to choose


@pytest.mark.parametrize("limit", ["0.3 mm", "0.1 mm", "0.02 mm", "1 um"])
@pytest.mark.filterwarnings("ignore::workshop_lib.quantities.errors.OutOfRangeWarning")
def test_the_least_pad_bends_just_to_the_limit(limit):
    pad = pad_for("1 N", "100 mm", "0.55 mm", "stainless_steel", limit)
    bend = rim_deflection("1 N", "100 mm", pad, "0.55 mm", "stainless_steel")
    limit = mm(read(limit, "length"))
    assert mm(bend) == pytest.approx(limit, rel=1e-5)
    assert mm(bend) <= limit


def test_lighter_forces_want_smaller_pads_down_to_any_pad():
    force = Q_(np.geomspace(1e-4, 30, 40), "N")
    pads = mm(pad_for(force, "100 mm", "0.55 mm", "stainless_steel", "0.1 mm"))
    assert (np.diff(pads) >= 0).all()
    assert pads[0] == pytest.approx(1)
    assert pads[-1] < 100


def test_pads_broadcast():
    limits = Q_([[0.1], [0.01]], "mm")
    pads = pad_for(Q_([1.0, 2.0, 4.0], "N"), "100 mm", "0.5 mm", "brass", limits)
    assert pads.shape == (2, 3)
    one = pad_for("4 N", "100 mm", "0.5 mm", "brass", "0.01 mm")
    assert mm(pads[1, 2]) == pytest.approx(mm(one))


# Bad input and ranges


@pytest.mark.parametrize("pad", ["100 mm", "120 mm", "0.5 mm", "0 mm", "-3 mm"])
@pytest.mark.parametrize("call", [understatement, rim_stiffness, natural_frequencies])
def test_pads_that_cannot_be_are_refused(call, pad):
    sizes = {"disc_diameter": "100 mm", "pad_diameter": pad, "material": "brass"}
    more = {} if call is understatement else {"thickness": "0.5 mm"}
    with pytest.raises(InputError) as refusal:
        call(**sizes, **more)
    assert refusal.value.name == "pad_diameter"


def test_a_bend_beyond_the_thin_plates_range_is_warned_of_once():
    with pytest.warns(OutOfRangeWarning, match="half its thickness") as warned:
        rim_deflection("5 N", *DISC)
    assert len(warned) == 1


@pytest.mark.parametrize("call", [rim_stiffness, lambda *sizes: rim_deflection("1 N", *sizes)])
def test_a_stubby_overhang_is_warned_of_once(call):
    with pytest.warns(OutOfRangeWarning, match="3 thicknesses") as warned:
        call("100 mm", "97 mm", "0.6 mm", "brass")
    assert len(warned) == 1
