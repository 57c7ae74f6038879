"""A known answer is met, or it fails loudly: no way past it for a wrong, missing or odd value."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from workshop_lib import sources
from workshop_lib.quantities import Q_, InputError
from workshop_lib.teaching.known import agrees, near

HAND = "by hand: 2/3 x 15 mm x 0.2 x 600 N"


def test_the_wording_of_the_printed_line_names_answer_source_and_result(capsys):
    agrees(Q_(1.20004, "N*m"), "1.2 N m", "0.001 N m", HAND)
    assert capsys.readouterr().out == f"Agrees: 1.2 N·m ({HAND}); computed 1.200 N·m\n"


def test_a_key_is_printed_by_its_short_name_with_its_place(capsys):
    key = sources.all_sources()[0].key
    short = sources.find_source(key).short
    agrees(2.0, 2.0, 0.1, key)
    agrees(2.0, 2.0, 0.1, f"{key}: Table 3")
    out = capsys.readouterr().out.splitlines()
    assert f"({short});" in out[0] and f"({short}, Table 3);" in out[1]


@given(st.floats(-10, 10), st.floats(0.001, 0.4))
def test_it_passes_exactly_when_the_difference_is_within(difference, within):
    # Away from the very edge, where rounding decides.
    if abs(abs(difference) - within) < 1e-9:
        return
    if abs(difference) < within:
        agrees(Q_(5 + difference, "N"), Q_(5, "N"), Q_(within, "N"), HAND)
    else:
        with pytest.raises(AssertionError, match="Does not agree"):
            agrees(Q_(5 + difference, "N"), Q_(5, "N"), Q_(within, "N"), HAND)


def test_units_are_converted_before_comparing():
    agrees(Q_(1200, "N*mm"), "1.2 N m", "1 N mm", HAND)
    with pytest.raises(AssertionError, match="computed 1200000"):
        agrees(Q_(1200, "N*m"), "1200 N mm", "1 N mm", HAND)


def test_a_plain_tolerance_is_in_the_unit_of_the_expected_value():
    agrees(Q_(1004, "mm"), Q_(1, "m"), 0.005, HAND)
    with pytest.raises(AssertionError):
        agrees(Q_(1006, "mm"), Q_(1, "m"), 0.005, HAND)


def test_a_share_is_of_the_expected_value():
    agrees(102.0, 100.0, "3 %", HAND)
    with pytest.raises(AssertionError):
        agrees(104.0, 100.0, "3 %", HAND)


def test_one_bad_value_in_an_array_fails_it():
    agrees([1.0, 2.0], [1.0, 2.0], 0.1, HAND)
    with pytest.raises(AssertionError, match="not agree"):
        agrees([1.0, 2.2], [1.0, 2.0], 0.1, HAND)


@pytest.mark.parametrize(
    ("computed", "expected", "words"),
    [
        (float("nan"), 1.0, "computed is not finite"),
        (float("inf"), 1.0, "computed is not finite"),
        (1.0, float("nan"), "expected is not finite"),
        ([1.0, np.nan], [1.0, 2.0], "computed is not finite"),
        ([1.0, 1.0], 1.0, r"shape \(2,\) computed, one value expected"),
        (1.0, [1.0, 1.0], r"one value computed, shape \(2,\) expected"),
        (Q_(1, "N"), Q_(1, "N*m"), "computed is in N, expected in N·m"),
        (Q_(1, "N"), 1.0, "expected in no unit"),
        (1.0, Q_(1, "N"), "computed is in no unit"),
        (True, 1.0, "neither a number"),
        (None, 1.0, "neither a number"),
        (1.0, None, "neither a number"),
        ("1.0", 1.0, "is text; nothing was computed"),
        (object(), 1.0, "neither a number"),
    ],
)
def test_nothing_odd_passes(computed, expected, words):
    with pytest.raises(AssertionError, match=words):
        agrees(computed, expected, 0.5, HAND)


@pytest.mark.parametrize(
    "within", [0, -1, "0 N", float("nan"), float("inf"), 5, "6 N", "100 %", "0 %", "1 mm", "x"]
)
def test_a_tolerance_that_proves_nothing_is_refused(within):
    with pytest.raises(InputError):
        agrees(Q_(5, "N"), Q_(5, "N"), within, HAND)


def test_zero_can_be_expected_with_a_tolerance_of_its_own():
    agrees(Q_(0.001, "N"), Q_(0, "N"), Q_(0.01, "N"), HAND)
    with pytest.raises(InputError, match="share of zero"):
        agrees(Q_(0, "N"), Q_(0, "N"), "1 %", HAND)


def test_expected_text_of_another_kind_is_refused():
    with pytest.raises(InputError, match="^expected: .*torque.* force"):
        agrees(Q_(5, "N"), "5 N m", 0.1, HAND)


@pytest.mark.parametrize("source", ["", "  ", None, 3, "no-such-key", "no-such-key: Table 3"])
def test_a_known_answer_names_a_source_that_exists(source):
    with pytest.raises(InputError, match="source"):
        agrees(1.0, 1.0, 0.1, source)


def test_near_reads_text_like_the_other_value():
    assert near("1200 N mm", Q_(1.2, "N*m"), "1 %")
    assert not near("1300 N mm", Q_(1.2, "N*m"), "1 %")
    assert near("1300 N mm", Q_(1.2, "N*m"), "1 %", times=9)
