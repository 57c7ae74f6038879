"""Free plates against the Bessel determinant by mpmath, and Leissa's values from memory."""

import mpmath
import numpy as np
import pytest

from workshop_lib.instruments import (
    free_frequencies,
    free_shapes,
    match_modes,
    modulus_from_note,
    sheet_from_note,
)
from workshop_lib.materials import find_material
from workshop_lib.quantities import InputError

# Nodal diameters, nodal circles; lambda² for nu = 0.33, from memory after Leissa (NASA SP-160). The
# determinant below gives 5.262, 9.069 and 12.244: the remembered ones are older approximations.
REMEMBERED = {(2, 0): 5.253, (0, 1): 9.084, (3, 0): 12.23}


def determinant(n, k, nu):
    """Moment and edge shear of J_n(kr) and I_n(kr) at the free rim r = 1; nought at a mode."""

    def laws(function, sign):
        value, first = function(k), k * mpmath.diff(function, k)
        second = k**2 * mpmath.diff(function, k, 2)
        moment = second + nu * (first - n**2 * value)
        return moment, sign * k**2 * first - (1 - nu) * n**2 * (first - value)

    one = laws(lambda x: mpmath.besselj(n, x), -1)
    two = laws(lambda x: mpmath.besseli(n, x), 1)
    return one[0] * two[1] - one[1] * two[0]


@pytest.mark.parametrize("nu", [0.0, 0.2, 0.3, 0.33, 0.45])
def test_shapes_are_those_of_the_bessel_determinant(nu):
    for shape in free_shapes(nu)[:8]:
        k = mpmath.findroot(
            lambda x, n=shape.diameters: determinant(n, x, nu), np.sqrt(shape.parameter)
        )
        assert shape.parameter == pytest.approx(float(k) ** 2, rel=1e-7)


@pytest.mark.parametrize("mode", REMEMBERED)
def test_remembered_values_are_met_as_closely_as_they_are_known(mode):
    found = {(s.diameters, s.circles): s.parameter for s in free_shapes(0.33)}
    assert found[mode] == pytest.approx(REMEMBERED[mode], rel=0.003)


def test_the_lowest_five_come_in_the_published_order():
    order = [(s.diameters, s.circles) for s in free_shapes(0.33)[:5]]
    assert order == [(2, 0), (0, 1), (3, 0), (1, 1), (4, 0)]


def test_twice_as_thick_rings_an_octave_higher_and_twice_as_large_two_lower():
    one = free_frequencies("80 mm", "0.6 mm", "stainless_steel").m
    assert free_frequencies("80 mm", "1.2 mm", "stainless_steel").m == pytest.approx(2 * one)
    assert free_frequencies("160 mm", "0.6 mm", "stainless_steel").m == pytest.approx(one / 4)


def test_a_note_gives_back_the_thickness_it_was_made_from():
    for key in ("stainless_steel", "brass", "acrylic"):
        note = free_frequencies("78 mm", "0.64 mm", key, modes=1)[0]
        sheets = sheet_from_note(note, "0.5 Hz", "78 mm", "0.02 mm")
        (own,) = [sheet for sheet in sheets if sheet.material.key == key]
        assert own.thickness.m_as("mm") == pytest.approx(0.64, rel=1e-9)


def test_twenty_four_gauge_stainless_is_recognised_from_its_note():
    """24 gauge stainless is 0.635 mm (0.0250 in) in the table of lesson 01."""
    note = free_frequencies("78 mm", "0.635 mm", "stainless_steel", modes=1)[0]
    sheets = sheet_from_note(note, "0.5 Hz", "78 mm", "0.02 mm")
    (own,) = [sheet for sheet in sheets if sheet.material.key == "stainless_steel"]
    assert own.gauges[0].gauge == 24


def test_lead_like_nonsense_does_not_agree():
    """A plastic disc of steel's thickness rings three times lower: told apart by the note alone."""
    note = free_frequencies("78 mm", "2 mm", "acrylic", modes=1)[0]
    sheets = sheet_from_note(note, "1 Hz", "78 mm", "0.05 mm", "2 mm", "0.01 mm")
    assert {s.material.key for s in sheets if s.agrees} & {"mild_steel", "aluminium"} == set()
    assert "acrylic" in {s.material.key for s in sheets if s.agrees}


def test_the_next_mode_taken_for_the_lowest_is_wrong_by_their_ratio():
    note = free_frequencies("78 mm", "0.64 mm", "mild_steel", modes=2)[1]
    shapes = free_shapes(float(find_material("mild_steel").core.poisson_ratio))
    wrong = sheet_from_note(note, "1 Hz", "78 mm", "0.05 mm", mode=1)
    right = sheet_from_note(note, "1 Hz", "78 mm", "0.05 mm", mode=2)
    ratio = {s.material.key: s.thickness_core for s in wrong}["mild_steel"]
    ratio /= {s.material.key: s.thickness_core for s in right}["mild_steel"]
    assert ratio == pytest.approx(shapes[1].parameter / shapes[0].parameter)


@pytest.mark.parametrize("key", ["stainless_steel", "aluminium", "polycarbonate"])
def test_a_modulus_comes_back_from_note_and_mass(key):
    core = find_material(key).core
    mass = core.density * np.pi * 0.039**2 * 1e-3 * 1e3  # g
    note = free_frequencies("78 mm", "1 mm", key, modes=1)[0]
    found = modulus_from_note(note, "78 mm", "1 mm", f"{mass:.6f} g", core.poisson_ratio)
    assert found.m_as("Pa") == pytest.approx(core.youngs_modulus, rel=1e-5)


@pytest.mark.parametrize("drop", [0, 1])
def test_notes_are_matched_to_their_modes_even_when_the_lowest_was_not_heard(drop):
    notes = free_frequencies("78 mm", "0.64 mm", "mild_steel", modes=5).m[drop:]
    shapes, miss = match_modes(notes, 0.29)
    assert shapes == free_shapes(0.29)[drop:5]
    assert miss < 1e-6


def test_an_impossible_poisson_ratio_is_refused():
    with pytest.raises(InputError, match="poisson_ratio"):
        modulus_from_note("500 Hz", "78 mm", "1 mm", "20 g", 0.5)


@pytest.mark.parametrize("place", range(6))
def test_one_note_at_a_time_is_asked_for(place):
    names = ("frequency", "frequency_uncertainty", "diameter", "diameter_uncertainty")
    names += ("thickness", "thickness_uncertainty")
    given = ["530 Hz", "1 Hz", "100 mm", "0.05 mm", "1 mm", "0.01 mm"]
    given[place] = [given[place]] * 2
    with pytest.raises(InputError, match=f"^{names[place]}: give one value"):
        sheet_from_note(*given)
