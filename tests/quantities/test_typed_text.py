"""The strict reader: traps by hand, and against a second reader for any text."""

import math
import time
from decimal import Decimal

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from tests.fuzz.misread import refusable
from tests.house.thorough import among
from tests.references.second_reader import asked_back, meant
from tests.references.unit_reference import EVERY_WORD, factor
from workshop_lib.quantities import LONGEST_TEXT, Q_, InputError, Quantity, kind_of, read, ureg
from workshop_lib.quantities.kinds import KINDS

# What people type


@pytest.mark.parametrize(
    ("text", "kind", "core"),
    [
        ("30 mm", "length", 0.03),
        ("30mm", "length", 0.03),
        ("  30   mm ", "length", 0.03),
        ("30\u00a0mm", "length", 0.03),
        ("30\u2009mm", "length", 0.03),
        ("30\u202fmm", "length", 0.03),
        ("30\tmm", "length", 0.03),
        ("+30 mm", "length", 0.03),
        ("-30 mm", "length", -0.03),
        ("\u221230 mm", "length", -0.03),
        (".5 mm", "length", 0.0005),
        ("5. mm", "length", 0.005),
        ("1e-3 m", "length", 0.001),
        ("1E3 mm", "length", 1.0),
        ("4 thou", "length", 0.0001016),
        ("3/16 in", "length", 0.0047625),
        ('3/16"', "length", 0.0047625),
        ("1 1/2 in", "length", 0.0381),
        ("1-1/2 in", "length", 0.0381),
        ("-1 1/2 in", "length", -0.0381),
        ("½ in", "length", 0.0127),
        ("-½ in", "length", -0.0127),
        ("1½ in", "length", 0.0381),
        ("1 ½ in", "length", 0.0381),
        ("1-½ in", "length", 0.0381),
        ("1⁄2 in", "length", 0.0127),
        ("5/4 in", "length", 0.03175),
        ("5'", "length", 1.524),
        ("5 ft", "length", 1.524),
        ("5'", "angle", math.pi / 180 / 12),
        ("600 N", "force", 600),
        ("0.6 kN", "force", 600),
        ("100 lbf", "force", 444.82216152605),
        ("5 N m", "torque", 5),
        ("5 N·m", "torque", 5),
        ("5 Nm", "torque", 5),
        ("5 N*m", "torque", 5),
        ("1 ft lbf", "torque", 1.3558179483314004),
        ("1 lbf-ft", "torque", 1.3558179483314004),
        ("1 in·lbf", "torque", 0.1129848290276167),
        ("250 rev/min", "speed", 250 * 2 * math.pi / 60),
        ("250 rpm", "speed", 250 * 2 * math.pi / 60),
        ("10 rad/s", "speed", 10),
        ("0.05 mm/rev", "feed", 5e-5),
        ("0.05 mm", "feed", 5e-5),
        ("1/4 turn", "angle", math.pi / 2),
        ("45°", "angle", math.pi / 4),
        ("20 %", "ratio", 0.2),
        ("20%", "ratio", 0.2),
        ("0.2", "ratio", 0.2),
        ("1/5", "ratio", 0.2),
        ("⅜", "ratio", 0.375),
    ],
)
def test_what_people_type_is_read_as_they_mean_it(text, kind, core):
    assert read(text, kind).m_as(KINDS[kind].core) == pytest.approx(core, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "kind", "said"),
    [
        ("3,5 mm", "length", "3.5 mm"),  # a general parser reads 35 mm
        ("1,000 mm", "length", "comma"),
        ("1.000,5 mm", "length", "Type 1000.5 mm"),
        ("10 000 N", "force", "gap"),  # a general parser reads 0 N
        ("10\u00a0000 N", "force", "gap"),
        ("10\u2009000 N", "force", "gap"),
        ("10'000 N", "force", "mark in the number"),
        ("1.500 N", "force", "1.5 N or 1500 N"),
        ("10.000 N", "force", "10 N or 10000 N"),
        ("5 pounds", "force", "5 lbf"),
        ("1/8", "length", "1/8 in or 1/8 thou"),
        ("10_000 N", "force", "not a unit"),
        ("5", "length", "no unit"),
        ("5 '", "force", "is a length"),
        ("9**9**9", "length", "cannot|not a unit"),  # a general parser never ends
        ("9^9^9 mm", "length", "not a unit"),
        ("9**9**9 mm", "length", "not a unit"),
        ("0.5 MM", "length", "mm"),  # a general parser reads megamolar
        ("5 MN", "force", "kN|mN|unit"),
        ("5 n", "force", "N"),
        ("1e99 mm", "length", "larger"),
        ("1e999 mm", "length", "larger"),
        ("1e9999 mm", "length", "not a unit"),
        ("1e-99 mm", "length", "smaller"),
        ("4 mil", "length", "thou"),
        ("5 lb", "force", "lbf"),
        ("5 kg", "force", "kgf"),
        ("5 J", "torque", "N m"),
        ("5 ft lb", "torque", "lbf ft"),
        ("24 ga", "length", "in its own table"),
        ("24 SWG", "length", "in its own table"),
        ("24 gauge", "length", "in its own table"),
        ("No. 24", "length", "number"),
        ("50 Hz", "speed", "rev/min"),
        ("50 1/s", "speed", "rev/min"),
        ("50 s-1", "speed", "rev/min"),
        ("30 N", "length", "is a force, but this needs a length"),
        ("8 mm/rev", "length", "is a feed"),
        ("½5 mm", "length", "number"),
        ("3½5 mm", "length", "unit"),
        ("½½ in", "length", "cannot|number"),
        ("1½/2 in", "length", "gap"),
        ("1 3/2 in", "length", "followed by a fraction"),
        ("1 0/2 in", "length", "followed by a fraction"),
        ("1 000/3 mm", "length", "followed by a fraction"),
        ("1\u22121/2 in", "length", "unit"),  # one minus a half?
        ("3/0 in", "length", "divides by zero"),
        ("1/2/3 in", "length", "cannot be read"),
        ("1/ 2 in", "length", "unit|cannot"),
        ("5.5.5 mm", "length", "cannot be read"),
        ("1 2 mm", "length", "gap"),
        ("12. 5 mm", "length", "gap"),
        ("1e 3 mm", "length", "unit"),
        ("0x10 mm", "length", "unit"),
        ("--5 mm", "length", "number"),
        ("+-5 mm", "length", "number"),
        ("- 5 mm", "length", "number"),
        ("\u20135 mm", "length", "number"),
        ("(5) mm", "length", "number"),
        ("5 mm + 3 mm", "length", "unit"),
        ("5 mm 3", "length", "unit"),
        ("mm", "length", "number"),
        ("mm 5", "length", "number"),
        ("nan mm", "length", "number"),
        ("inf mm", "length", "number"),
        ("-infinity mm", "length", "number"),
        ("5j mm", "length", "unit"),
        ("٣ mm", "length", "number"),  # Arabic-Indic three
        ("３ mm", "length", "number"),  # full-width three
        ("५ mm", "length", "number"),  # Devanagari five
        ("² mm", "length", "number"),
        ("", "length", "nothing was typed"),
        (" \u00a0 ", "length", "nothing was typed"),
        ("\n", "length", "nothing was typed"),
        ("5 \x00mm", "length", "unit"),
        ("5 m\x07m", "length", "unit"),
        ("5 mm\n6 mm", "length", "cannot be read"),
        ("5 \u202emm", "length", "unit"),
        ("5\u200bmm", "length", "unit"),
        ("5 mm</b><script>", "length", "unit"),
        ("<b>5</b> mm", "length", "number"),
        ("5 ${HOME}", "length", "unit"),
        ("5 __import__('os')", "length", "unit"),
    ],
)
def test_what_cannot_be_meant_is_refused_in_words(text, kind, said):
    with pytest.raises(InputError, match=said) as refusal:
        read(text, kind, "depth_of_cut")
    assert refusal.value.name == "depth_of_cut"
    assert str(refusal.value).startswith("depth_of_cut: ")
    assert str(refusal.value).endswith((".", "?"))
    assert str(refusal.value).isprintable()
    assert len(str(refusal.value)) < 250


@pytest.mark.parametrize("text", ["9" * 10_000, " " * 10_000, "5 mm" + " " * 10_000, "½" * 10_000])
def test_ten_thousand_characters_are_refused_at_once(text):
    started = time.process_time()
    with pytest.raises(InputError, match="longer than 40 characters"):
        read(text, "length")
    assert time.process_time() - started < 0.05


def test_forty_characters_are_read_and_one_more_is_not():
    assert read("0" * 37 + "5mm", "length").m == 5
    with pytest.raises(InputError, match="longer than 40 characters"):
        read("0" * 38 + "5mm", "length")


@pytest.mark.parametrize(
    "thing", [None, 5, 5.0, True, b"5 mm", ["5 mm"], {"a": 1}, object(), Q_(5, "mm"), np.nan]
)
def test_what_is_not_text_is_refused(thing):
    with pytest.raises(InputError, match="^depth: .*not text"):
        read(thing, "length", "depth")


@pytest.mark.parametrize("kind", ["lenght", "", None, 5, ["length"], KINDS["length"]])
def test_an_unknown_kind_is_refused_with_the_known_ones(kind):
    with pytest.raises(InputError, match="length.*force"):
        read("5 mm", kind)
    with pytest.raises(InputError):
        kind_of(kind)


def test_the_unit_stays_as_it_was_typed():
    assert str(read("4 thou", "length").units) == str(ureg.Unit("thou"))
    assert read("3/16 in", "length").m == 0.1875


# Against the second reader


def read_at_once(text, kind):
    """Return what is read, or None; hold that it takes less than 50 ms."""
    for _ in range(3):  # the first call may fill a cache, or wait for the garbage
        started = time.process_time()
        try:
            found = read(text, kind)
        except InputError as refusal:
            assert refusal.name == "value"
            found = None
        if time.process_time() - started < 0.05:
            return found
    raise AssertionError(f"{text!r} takes longer than 50 ms")


def agrees(text, kind):
    """Hold the strict reader against the second one; return whether the text was read."""
    known = meant(text, kind, KINDS[kind].units) if len(text) <= LONGEST_TEXT else None
    found = read_at_once(text, kind)
    if found is None:
        assert known is None or refusable(*known, kind) or asked_back(text, known[1]), (
            f"{text!r} should be read"
        )
        return False
    assert isinstance(found, Quantity)
    assert found.is_compatible_with(KINDS[kind].core)
    assert known is not None, f"{text!r} should be refused"
    value, unit = known
    exact = float(value * factor(kind, unit))
    tolerance = 1e-6 if "Hg" in unit else 1e-12
    assert found.m_as(KINDS[kind].core) == pytest.approx(exact, rel=tolerance, abs=1e-300)
    return True


ANY_KIND = st.sampled_from(sorted(KINDS))
SHOP_TEXT = st.text(
    alphabet="0123456789.,/ +-−eE½¼⅜'\"″*^·%°mNinftlbkgHzrevupdsath²³⁄\u00a0\u2009\t\n", max_size=24
)
UNIT_WORDS = sorted({word for _, word in EVERY_WORD} | {"lb", "ga", "MM", "mil", "Hz", ""})
NUMBERS = st.one_of(
    st.from_regex(r"[+\-−]?[0-9]{0,5}\.?[0-9]{0,5}([eE][+-]?[0-9]{1,2})?", fullmatch=True),
    st.from_regex(r"-?([0-9]{1,3}[ -])?[0-9]{1,3}/[0-9]{1,3}", fullmatch=True),
    st.from_regex(r"[+-]?[0-9]{0,2} ?[¼½¾⅛⅜⅝⅞]", fullmatch=True),
    st.from_regex(r"[0-9]{1,3}[ ,.'][0-9]{3}", fullmatch=True),
)


@settings(max_examples=among(100, 600))
@given(text=st.text(max_size=60), kind=ANY_KIND)
@example(text="9**9**9**9", kind="length")
@example(text="½5 mm", kind="length")
def test_any_text_is_read_truly_or_refused(text, kind):
    agrees(text, kind)


@settings(max_examples=among(200, 1500))
@given(text=SHOP_TEXT, kind=ANY_KIND)
def test_text_from_the_shop_is_read_truly_or_refused(text, kind):
    agrees(text, kind)


@settings(max_examples=among(200, 1500))
@given(
    number=NUMBERS,
    gap=st.sampled_from(["", " ", "  ", "\u00a0"]),
    meant=st.one_of(st.sampled_from(EVERY_WORD), st.tuples(ANY_KIND, st.sampled_from(UNIT_WORDS))),
)
@example(number="1 1/2", gap=" ", meant=("length", "in"))
@example(number="½5", gap=" ", meant=("length", "mm"))
def test_numbers_with_units_are_read_truly_or_refused(number, gap, meant):
    kind, unit = meant
    agrees(number + gap + unit, kind)


@settings(max_examples=among(60, 300))
@given(millionths=st.integers(1, 10**9))
def test_a_number_written_out_is_read_back(millionths):
    text = f"{Decimal(millionths) / 10**6:f} mm"
    assert read(text, "length").m_as("m") == pytest.approx(millionths * 1e-9, rel=1e-12)
