"""The facing's modulus comes back from the rim's note, and its spread from the note's."""

import numpy as np
import pytest

from workshop_lib.instruments import facing_from_note
from workshop_lib.instruments.mounted import Facing
from workshop_lib.overhang import natural_frequencies, soft_frequencies
from workshop_lib.quantities import InputError

SHEET = ("78 mm", "50 mm", "0.635 mm", "stainless_steel")


@pytest.mark.parametrize("modulus", [2, 50, 900])
@pytest.mark.parametrize("n", [0, 1, 2])
def test_a_modulus_comes_back_from_its_own_note(modulus, n):
    note = soft_frequencies(*SHEET, f"{modulus} MPa", "3 mm", modes=3)[n]
    found = {f.nodal_diameters: f for f in facing_from_note(note, "1 Hz", *SHEET, "3 mm")}
    assert found[n].modulus.m_as("MPa") == pytest.approx(modulus, rel=1e-6)


def test_the_first_answer_is_the_mode_that_is_lowest_of_all():
    notes = soft_frequencies(*SHEET, "50 MPa", "3 mm", modes=3)
    first = facing_from_note(notes.min(), "1 Hz", *SHEET, "3 mm")[0]
    assert first.nodal_diameters == int(np.argmin(notes.m))


def test_a_surer_note_gives_no_surer_facing_than_the_model_allows():
    note = soft_frequencies(*SHEET, "50 MPa", "3 mm", modes=3).min()
    sharp, blunt = (facing_from_note(note, f"{u} Hz", *SHEET, "3 mm")[0] for u in (0.1, 60))
    assert 1 < sharp.factor < blunt.factor
    assert sharp.low < sharp.modulus < sharp.high


def test_twice_as_thick_a_facing_of_twice_the_modulus_rings_alike():
    """Springs count by modulus over thickness alone (the model of section 4)."""
    note = soft_frequencies(*SHEET, "50 MPa", "3 mm", modes=3).min()
    found = facing_from_note(note, "1 Hz", *SHEET, "6 mm")[0]
    assert found.modulus.m_as("MPa") == pytest.approx(100, rel=1e-6)


def test_a_note_above_the_clamped_one_is_refused():
    clamped = natural_frequencies(*SHEET, modes=3).max()
    with pytest.raises(InputError, match="^frequency: no pad facing"):
        facing_from_note(clamped * 1.05, "1 Hz", *SHEET, "3 mm")


def test_a_sheet_that_only_rocks_on_its_facing_tells_nothing_of_it():
    # D = 69 GPa × (170 mm)³/10.7 = 32 MN·m; with 0.1 TPa over 8 mm, k a⁴/D is 0.004 at the most.
    block = ("20 mm", "3 mm", "170 mm", "aluminium", "8 mm")
    with pytest.raises(InputError, match="^thickness: .*too stiff"):
        facing_from_note("20 Hz", "1 Hz", *block)
    with pytest.raises(InputError, match="^frequency_uncertainty: "):
        facing_from_note("900 Hz", ["1 Hz", "2 Hz"], *SHEET, "3 mm")


def test_a_facing_is_told_with_two_figures_since_it_is_known_no_better():
    """By hand: 54.321 MPa, up or down by 1.2 squared: 37.7 to 78.2."""
    assert str(Facing(1, 54.321e6, 1.2)).startswith("54 MPa (38 MPa to 78 MPa) with 1 nodal diam")
    assert str(Facing(2, 54.321e6, 1.2)).endswith("2 nodal diameters")
