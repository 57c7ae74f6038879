"""The kinds of quantity and their unit words, against exact definitions."""

from fractions import Fraction

import pytest

from tests.house.laws import held_for
from tests.references.unit_reference import (
    EVERY_WORD,
    FACTORS,
    FORCES,
    LENGTHS,
    PSI,
    factor,
    torque_factor,
)
from workshop_lib.quantities import InputError, Quantity, parse_unit, read, to_core, ureg
from workshop_lib.quantities.kinds import KINDS
from workshop_lib.quantities.units import SMALLEST

EACH_KIND = pytest.mark.parametrize("kind", KINDS.values(), ids=KINDS)


@held_for(EVERY_WORD)
def test_every_unit_word_has_its_defined_size(kind, word):
    found = read(f"3 {word}", kind).m_as(KINDS[kind].core)
    known = float(3 * factor(kind, word))
    assert found == pytest.approx(known, rel=1e-6 if "Hg" in word else 1e-12)


@held_for(EVERY_WORD)
def test_the_gap_before_the_unit_does_not_matter(kind, word):
    assert read(f"12{word}", kind) == read(f"12 {word}", kind) == read(f" 12   {word} ", kind)


def test_constants_of_this_table_are_the_printed_ones():
    # NIST SP 811: 1 lbf = 4.448 221 615 260 5 N exactly; 1 psi = 6894.757 Pa.
    assert FORCES["lbf"] == Fraction("4.4482216152605")
    assert float(PSI) == pytest.approx(6894.757, abs=0.0005)
    assert torque_factor("lbf ft") == Fraction("1.3558179483314004")


def test_the_kinds_that_lessons_name_are_there():
    assert {"length", "force", "torque", "speed", "angle", "pressure", "ratio"} <= set(KINDS)


@EACH_KIND
def test_core_unit_is_the_coherent_si_unit(kind):
    assert Quantity(1, parse_unit(kind.core)).to_base_units().magnitude == 1


@EACH_KIND
def test_shown_unit_belongs_to_the_kind(kind):
    assert parse_unit(kind.shown).is_compatible_with(parse_unit(kind.core))


@EACH_KIND
def test_example_can_be_typed_as_it_stands(kind):
    assert read(kind.example, kind.name).m > 0


@EACH_KIND
def test_key_and_name_agree(kind):
    assert KINDS[kind.name] is kind


@EACH_KIND
def test_kind_stands_in_a_sentence_with_its_article(kind):
    vowel = kind.label[0] in "aeiou"
    assert kind.article == f"{'an' if vowel else 'a'} {kind.name.replace('_', ' ')}"


@EACH_KIND
def test_refused_words_are_refused_with_their_reason(kind):
    for word, reason in kind.refused.items():
        assert word not in kind.units
        with pytest.raises(InputError) as refusal:
            read(f"3 {word}", kind.name, "box")
        assert reason in str(refusal.value)
        assert refusal.value.name == "box"


@EACH_KIND
def test_sizes_beyond_the_kind_are_refused(kind):
    word = next(iter(kind.units))
    size = float(factor(kind.name, word))
    for text in (f"1e99 {word}", f"-1e99 {word}", f"1e999 {word}"):
        with pytest.raises(InputError, match="larger"):
            read(text, kind.name)
    for text in (f"1e-99 {word}", f"-1e-99 {word}", f"1e-999 {word}", f"0.1e-320 {word}"):
        with pytest.raises(InputError, match="smaller"):
            read(text, kind.name)
    for just_inside in (0.99 * kind.largest / size, 1.01 * SMALLEST / size):
        assert read(f"{just_inside:.3e} {word}", kind.name).m > 0
    for just_outside in (1.01 * kind.largest / size, 0.99 * SMALLEST / size):
        with pytest.raises(InputError, match="larger|smaller"):
            read(f"{just_outside:.3e} {word}", kind.name)


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("5000 m", "length"),
        ("1e9 N", "force"),
        ("1e9 N m", "torque"),
        ("1e6 rev/min", "speed"),
        ("1e6 m/s", "cutting_speed"),
        ("5 m", "feed"),
        ("1e6 turn", "angle"),
        ("1e6 GPa", "pressure"),
        ("1e9 kg", "mass"),
        ("1e6 g/cm³", "density"),
        ("1e13 s", "time"),
        ("1e9 kHz", "frequency"),
        ("1e13 kN/mm", "stiffness"),
        ("1e13 mm²", "area"),
        ("1e12", "ratio"),
    ],
)
def test_what_no_workshop_has_is_refused(text, kind):
    with pytest.raises(InputError):
        read(text, kind)


@held_for(EVERY_WORD)
def test_nought_is_nought_in_every_unit(kind, word):
    for number in ("0", "0.0", "-0", "0/4", "0e5", "0e-9"):
        assert read(f"{number} {word}", kind).m == 0


def test_words_of_one_letter_case_do_not_stand_for_two_units():
    # "MM" must not be read; it may only be asked back as mm. Pa and mPa, N and n and so on.
    for kind in KINDS.values():
        for word in kind.units:
            for changed in (word.upper(), word.lower(), word.title()):
                if changed not in kind.units:
                    with pytest.raises(InputError):
                        read(f"3 {changed}", kind.name)


def test_one_registry_knows_every_unit():
    for kind in KINDS.values():
        for unit in {*kind.units.values(), kind.core, kind.shown}:
            assert ureg.Unit(unit) is not None


def test_every_kind_reads_the_words_of_the_reference_table_and_no_others():
    for name, kind in KINDS.items():
        if name != "torque":
            assert set(kind.units) == set(FACTORS[name]), name
    halves = [(force, length) for force in ("N", "kN", "mN", "kgf", "lbf") for length in LENGTHS]
    usual = {("N", "m"), ("N", "mm"), ("N", "cm"), ("kN", "m"), ("mN", "m")}
    usual |= {("lbf", "ft"), ("lbf", "in"), ("kgf", "m"), ("kgf", "cm")}
    for force, length in halves:
        for joint in " ·*.-":
            taken = (force, length) in usual
            assert (f"{force}{joint}{length}" in KINDS["torque"].units) == taken
            # the length first, as in ft-lbf; with newtons it would be a millinewton metre's double
            swapped = taken and force in ("lbf", "kgf")
            assert (f"{length}{joint}{force}" in KINDS["torque"].units) == swapped
    assert {"Nm", "Nmm", "Ncm"} <= set(KINDS["torque"].units)


# In SI: what is still thinkable. A length ends at 1 km, a feed at 1 m, a speed at 191 000 rev/min.
LARGEST = {
    "length": 1e3,
    "force": 1e8,
    "torque": 1e7,
    "speed": 2e4,
    "cutting_speed": 1e3,
    "feed": 1.0,
    "angle": 1e4,
    "pressure": 1e13,
    "mass": 1e6,
    "density": 1e5,
    "time": 1e12,
    "frequency": 1e9,
    "stiffness": 1e15,
    "area": 1e4,
    "ratio": 1e9,
}


@EACH_KIND
def test_what_is_beyond_all_reason_is_refused_as_a_slip_of_the_unit(kind):
    most = LARGEST[kind.name]
    assert to_core(Quantity(0.999 * most, kind.core), kind.name, "x") == pytest.approx(0.999 * most)
    with pytest.raises(InputError, match="^x: "):
        to_core(Quantity(1.001 * most, kind.core), kind.name, "x")
