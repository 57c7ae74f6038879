"""Quantities: made of plain numbers and known units, and written for people."""

import time
from decimal import ROUND_HALF_EVEN, Decimal
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from tests.house.thorough import among
from workshop_lib.quantities import (
    Q_,
    InputError,
    Quantity,
    as_numbers,
    hides_turns,
    parse_unit,
    rounded,
    show,
    ureg,
)

# Q_ and units


@pytest.mark.parametrize(
    "value",
    [
        "30",
        "30 mm",
        b"30",
        None,
        True,
        np.True_,
        [True, 1.0],
        1j,
        [1j],
        {},
        object(),
        {1, 2},
        ["1"],
    ],
)
def test_a_quantity_is_made_of_plain_numbers(value):
    with pytest.raises(InputError, match="value"):
        Q_(value, "mm")


@pytest.mark.parametrize("value", [np.nan, np.inf, -np.inf, [1.0, np.nan], [], [[]], [[1], [1, 2]]])
def test_a_quantity_is_finite_and_whole(value):
    with pytest.raises(InputError, match="value"):
        Q_(value, "mm")


@pytest.mark.parametrize("wrapped", [lambda q: q, lambda q: [q], lambda q: (q, q)])
def test_a_quantity_is_not_wrapped_twice(wrapped):
    # Once 5 thou became 5 mm in this way.
    with pytest.raises(InputError, match="value"):
        Q_(wrapped(Q_(5, "thou")), "mm")


def test_missing_values_are_refused():
    with pytest.raises(InputError, match="missing"):
        Q_(np.ma.array([1.0, 2.0], mask=[False, True]), "mm")
    assert Q_(np.ma.array([1.0, 2.0]), "mm").shape == (2,)


@pytest.mark.parametrize("value", [3, 3.0, np.float32(3), np.int64(3), Fraction(3), np.array(3)])
def test_every_sort_of_real_number_will_do(value):
    made = Q_(value, "mm")
    assert type(made.m) is float
    assert made.m == 3


def test_whole_numbers_of_any_length_are_numbers():
    assert as_numbers(10**30, "x") == 1e30
    assert Q_([10**30, 1], "mm").m[0] == 1e30


@pytest.mark.parametrize(
    "unit",
    [
        "9**9**9",
        "4**4**4**4",
        "4**(4**(4**4))",
        "mm**1e9",
        "mm**9",
        "mm**-9",
        "mm^99",
        "2*mm",
        "3 mm",
        "parsec/0",
        "__class__",
        "mm; import os",
        "mm\n",
        "x" * 31,
        "(" * 30,
        "lorem",
        None,
        5,
        ["mm"],
        b"mm",
    ],
)
def test_a_unit_that_is_none_is_refused_at_once(unit):
    started = time.process_time()
    with pytest.raises(InputError, match="unit"):
        parse_unit(unit)
    assert time.process_time() - started < 0.5


@pytest.mark.parametrize(
    "unit", ["mm", "N·m", "N*m", "kg/m**3", "mm²", "mm^2", "rev/min", "1/s", "N/mm**2"]
)
def test_units_as_the_field_writes_them_are_known(unit):
    assert Q_(1, unit).m == 1


@pytest.mark.parametrize(
    ("given", "wanted", "hidden"),
    [
        ("rpm", "rad/s", False),
        ("deg", "rad", False),
        ("mm/turn", "mm/rad", False),
        ("rad*m/s", "m/s", False),
        ("kg*m*rad**2/s**2", "N", False),  # m e omega²
        ("kg*m*rpm**2", "N", True),
        ("mm", "inch", False),
        ("rpm", "Hz", True),
        ("rad/s", "Hz", True),
        ("Hz", "rad/s", True),
        ("mm/turn", "mm", True),
        ("mm*rpm", "m/min", True),
        ("turn", "dimensionless", True),
        ("dimensionless", "rad", True),
        ("rad", "percent", True),
        ("deg*m/s", "m/s", True),
    ],
)
def test_a_hidden_two_pi_is_seen(given, wanted, hidden):
    assert hides_turns(ureg.Unit(given), ureg.Unit(wanted)) is hidden


# Text for people


@settings(max_examples=among(100, 1000))
@given(
    value=st.one_of(
        st.floats(1e-9, 1e9), st.floats(-1e9, -1e-9), st.integers(-(10**9), 10**9).map(float)
    ),
    figures=st.integers(1, 12),
)
@example(value=2.675, figures=3)  # is 2.67499999999999982…: whoever typed it meant a half
@example(value=0.285, figures=2)
@example(value=999.5, figures=3)
@example(value=0.00099995, figures=4)
@example(value=5.0, figures=1)
@example(value=125.0, figures=2)
def test_show_rounds_the_exact_value_to_the_figures_asked_for(value, figures):
    exact = Decimal(value)
    if exact == 0:
        assert show(value, figures=figures) == "0"
        return
    if figures <= 8:  # a half is one also where the machine's rounding hides it, see `resolution`
        exact *= 1 + Decimal("1e-10")
    last = exact.adjusted() - figures + 1
    wanted = exact.quantize(Decimal(1).scaleb(last), ROUND_HALF_EVEN)
    text = show(value, figures=figures)
    assert Decimal(text) == wanted
    behind = max(figures - 1 - wanted.adjusted(), 0)
    assert len(text.partition(".")[2]) == behind
    assert "e" not in text.lower()


@pytest.mark.parametrize(
    ("quantity", "unit", "text"),
    [
        (Q_(30, "mm"), None, "30.0 mm"),
        (Q_(0.03, "m"), "mm", "30.0 mm"),
        (Q_(25.4, "mm"), "in", "1.00 in"),
        (Q_(0.1016, "mm"), "thou", "4.00 thou"),
        (Q_(1.0567, "N*m"), None, "1.06 N·m"),
        (Q_(1.3558179483314004, "N*m"), "lbf*ft", "1.00 lbf·ft"),
        (Q_(26.18, "rad/s"), "rev/min", "250 rev/min"),
        (Q_(90, "deg"), None, "90.0°"),
        (Q_(0.2), "%", "20.0 %"),
        (0.2, None, "0.200"),
        (3, None, "3.00"),
        (Q_(12345, "N"), None, "12300 N"),
        (Q_(1e8, "N"), None, "100000000 N"),
        (Q_(0.000012, "mm"), None, "0.0000120 mm"),
        (Q_(193, "GPa"), "MPa", "193000 MPa"),
        (Q_(7850, "kg/m**3"), None, "7850 kg/m³"),
        (Q_(700, "mm**2"), None, "700 mm²"),
        (Q_(20, "m/min"), None, "20.0 m/min"),
        (Q_(500, "N/mm"), None, "500 N/mm"),
        (Q_(0, "mm"), None, "0 mm"),
        (Q_(-0.0, "mm"), None, "0 mm"),
        (Q_(-2.5, "mm"), None, "-2.50 mm"),
        (Q_([1, 2.5], "mm"), None, "1.00, 2.50 mm"),
        (Q_([[1], [2]], "mm"), None, "1.00, 2.00 mm"),
        ([Q_(1, "mm"), Q_(1, "in")], None, "1.00, 25.4 mm"),
        ((Q_(1, "mm"), Q_(1, "in")), "mm", "1.00, 25.4 mm"),
        (np.array([0.1, 0.2]), None, "0.100, 0.200"),
        (Q_([7.0], "mm"), None, "7.00 mm"),
    ],
)
def test_show_writes_what_a_person_would(quantity, unit, text):
    assert show(quantity, unit) == text


def test_show_cuts_long_arrays_short_and_says_how_long_they_are():
    text = show(Q_(np.arange(1.0, 101.0), "mm"))
    assert text.startswith("1.00, 2.00, ")
    assert text.endswith(" … (100 values) mm")
    assert text.count(",") == 7
    assert "…" not in show(Q_(np.ones(8), "mm"))
    assert show(Q_(np.ones(9), "mm")).endswith(" … (9 values) mm")


def test_show_says_nan_and_infinity_in_words():
    assert show(np.nan) == show(Quantity(np.nan, "mm")) == "not known"
    assert show(np.inf) == show(Quantity(np.inf, "N")) == "no limit"
    assert show(-np.inf) == "minus no limit"
    mixed = show(Quantity(np.array([1.0, np.inf, np.nan]), "N"))
    assert mixed == "1.00, no limit, not known N"


def test_rounded_is_the_number_that_show_writes():
    assert rounded(1.0567) == "1.06"
    assert rounded(1.0567, figures=2) == "1.1"


@pytest.mark.parametrize(
    ("quantity", "unit"),
    [
        (Q_(3, "mm"), "N"),
        (3, "mm"),
        (Q_(250, "rev/min"), "Hz"),
        (Q_(50, "Hz"), "rev/min"),
        (Q_(8, "mm") / Q_(1, "turn"), "mm"),
        (Q_(0.5, "rad"), "%"),
        (Q_(3, "mm"), "lorem"),
        (Q_(3, "mm"), "9**9**9"),
        (Q_(3, "mm"), 5),
    ],
)
def test_show_refuses_a_unit_that_cannot_express_the_quantity(quantity, unit):
    with pytest.raises(InputError, match="unit"):
        show(quantity, unit)


@pytest.mark.parametrize(
    "thing",
    [
        "3 mm",
        None,
        True,
        [],
        {},
        object(),
        1j,
        [Q_(1, "mm"), Q_(1, "N")],
        [Q_(1, "mm"), 2],
        [[1], [1, 2]],
    ],
)
def test_show_refuses_what_is_no_quantity(thing):
    with pytest.raises(InputError, match="q: "):
        show(thing)


@pytest.mark.parametrize("figures", [0, 13, -1, 2.0, "3", None, True])
def test_show_refuses_a_wrong_number_of_figures(figures):
    with pytest.raises(InputError, match="figures"):
        show(1.0, figures=figures)


def test_numbers_too_long_to_be_written_out_are_refused_like_any_other():
    with pytest.raises(InputError, match="value"):
        Q_(10**5000, "mm")
    with pytest.raises(InputError, match="figures"):
        show(1.0, figures=10**5000)
