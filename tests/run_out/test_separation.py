"""Spindle and part told apart by re-indexing: closed forms, simulation, and what stays open."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from workshop_lib.quantities import Q_, InputError
from workshop_lib.run_out.readings import Readings
from workshop_lib.run_out.separation import reversal, separate

TWELVE = np.arange(0, 360, 30.0)
UNEQUAL = np.array([0, 25, 70, 110, 160, 220, 290.0])


def wave(vector, degrees, index=0.0):
    """Readings in µm: vector is (size, mark)."""
    return vector[0] * np.cos(np.radians(degrees - index - vector[1]))


def clocked(spindle, part, index, degrees=TWELVE, noise=0.0, **about):
    values = wave(spindle, degrees) + wave(part, degrees, index) + 10 * index / 90 + noise
    return Readings(Q_(degrees, "deg"), Q_(values, "um"), index=Q_(index, "deg"), **about)


def told(vector):
    return vector.size.m_as("um"), vector.angle.m_as("deg")


SPINDLE, PART = (12.0, 50.0), (30.0, 200.0)


@pytest.mark.parametrize("indices", [(0, 180), (0, 90), (0, 120, 240), (10, 70, 200, 300)])
@pytest.mark.parametrize("degrees", [TWELVE, UNEQUAL], ids=["equal", "unequal"])
def test_what_turns_with_which_comes_out(indices, degrees):
    found = separate([clocked(SPINDLE, PART, index, degrees) for index in indices])
    assert told(found.spindle) == pytest.approx(SPINDLE)
    assert told(found.part) == pytest.approx(PART)
    np.testing.assert_allclose(found.offsets.m_as("um"), [10 * i / 90 for i in indices], atol=1e-9)
    assert found.scatter.m_as("um") == pytest.approx(0, abs=1e-9)
    assert [len(each) for each in found.residuals] == [degrees.size] * len(indices)


def test_half_a_turn_gives_half_the_sum_and_half_the_difference():
    # Two vectors v1 = S + P and v2 = S − P: the reversal that a workshop does on paper.
    first, second = (clocked(SPINDLE, PART, index) for index in (0, 180))
    v1, v2 = (each.fit().core.vector for each in (first, second))
    found = separate({"0 deg": first, "180 deg": second})
    assert found.spindle.core == pytest.approx((v1 + v2) / 2)
    assert found.part.core == pytest.approx((v1 - v2) / 2)


@given(
    spindle=st.tuples(st.floats(0, 50), st.floats(0, 359)),
    part=st.tuples(st.floats(0, 50), st.floats(0, 359)),
    turned=st.floats(0, 359),
)
def test_turning_all_positions_alike_turns_the_parts_marks_only(spindle, part, turned):
    plain = separate([clocked(spindle, part, index) for index in (0, 100, 220)])
    values = [clocked(spindle, part, index) for index in (0, 100, 220)]
    moved = separate({Q_(i + turned, "deg"): v for i, v in zip((0, 100, 220), values, strict=True)})
    assert moved.spindle.core == pytest.approx(plain.spindle.core, abs=1e-12)
    shifted = plain.part.core * np.exp(-1j * np.radians(turned))
    assert moved.part.core == pytest.approx(shifted, abs=1e-12)


def test_a_needle_that_runs_the_other_way_is_allowed_for():
    into = clocked(SPINDLE, PART, 0)
    out = Readings(into.angles, -into.readings, direction="out")
    found = separate({"0 deg": out, "180 deg": clocked(SPINDLE, PART, 180)})
    assert told(found.spindle) == pytest.approx(SPINDLE)


def test_pairs_of_angles_and_readings_are_taken():
    pairs = {
        f"{i} deg": (clocked(SPINDLE, PART, i).angles, clocked(SPINDLE, PART, i).readings)
        for i in (0, 180)
    }
    assert told(separate(pairs).part) == pytest.approx(PART)


@pytest.mark.parametrize("indices", [(0, 180), (0, 90), (0, 120, 240), (0, 30)])
def test_stated_uncertainty_is_the_spread_of_many_noisy_separations(indices):
    luck, found = np.random.default_rng(3), []
    for _ in range(600):
        noise = luck.normal(0, 1, (len(indices), 12))
        found.append(
            separate(
                [clocked(SPINDLE, PART, i, noise=n) for i, n in zip(indices, noise, strict=True)]
            )
        )
    for name in ("spindle", "part"):
        sizes = [getattr(each, name).size.m_as("um") for each in found]
        stated = [getattr(each, name).size_uncertainty.m_as("um") for each in found]
        assert np.std(sizes) == pytest.approx(np.sqrt(np.mean(np.square(stated))), rel=0.1)


def test_positions_far_apart_are_surer_and_close_ones_say_so():
    def unsure(*indices):
        return separate([clocked(SPINDLE, PART, i, graduation="10 um") for i in indices])

    assert unsure(0, 180).spindle.along(1) < unsure(0, 90).spindle.along(1)
    close = unsure(0, 15)
    # |1 − exp(i 15°)| / 2 = sin 7.5° = 0.1305: 7.66 times the uncertainty of half a turn.
    assert close.spindle.along(1) / unsure(0, 180).spindle.along(1) == pytest.approx(7.66, rel=0.01)
    assert any("8 times surer" in said for said in close.remarks)
    assert not any("surer" in said for said in unsure(0, 180).remarks)


def test_two_positions_own_up_that_they_always_fit():
    assert "Only a third" in separate([clocked(SPINDLE, PART, i) for i in (0, 180)]).remarks[0]
    assert separate([clocked(SPINDLE, PART, i) for i in (0, 120, 240)]).remarks == ()


def test_a_part_that_went_back_elsewhere_is_noticed_at_the_third_position():
    luck = np.random.default_rng(4)
    tests = [
        clocked(
            SPINDLE, (30.0, 200.0 + (40 if index == 240 else 0)), index, noise=luck.normal(0, 1, 12)
        )
        for index in (0, 120, 240)
    ]
    assert "Something moved between them" in separate(tests).remarks[0]


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({}, "give 1 to"),
        ([], "give 1 to"),
        (None, "neither a mapping nor a list"),
        ("0 deg", "neither a mapping nor a list"),
        ({"0 deg": clocked(SPINDLE, PART, 0)}, "one position cannot show"),
        (
            {"0 deg": clocked(SPINDLE, PART, 0), "360 deg": clocked(SPINDLE, PART, 0)},
            "one position",
        ),
        ({"0 deg": 7, "90 deg": 8}, "neither Readings nor a pair"),
        ([clocked(SPINDLE, PART, 0), "x"], "neither a mapping nor a list"),
        (
            {
                "0 deg": clocked(SPINDLE, PART, 0, TWELVE[:2]),
                "90 deg": clocked(SPINDLE, PART, 90, TWELVE[:2]),
            },
            "too alike",
        ),
    ],
)
def test_what_cannot_be_separated_is_refused(given, said):
    with pytest.raises(InputError, match=f"^readings_by_index: .*{said}"):
        separate(given)


def test_a_bad_index_or_pair_is_refused_by_name():
    with pytest.raises(InputError, match="^index: "):
        separate({"0 mm": clocked(SPINDLE, PART, 0), "90 deg": clocked(SPINDLE, PART, 90)})
    with pytest.raises(InputError, match="^angles: "):
        separate({"0 deg": ([0, 1], [0, 1]), "90 deg": clocked(SPINDLE, PART, 90)})


# Reversal of a whole profile


def test_reversal_tells_any_two_profiles_apart():
    # donaldson-1972: T1 = P + S, T2 = P − S.
    luck = np.random.default_rng(5)
    part, spindle = (values - values.mean() for values in luck.normal(0, 5, (2, 24)))
    found = reversal(Q_(part + spindle + 3, "um"), Q_(part - spindle - 8, "um"))
    np.testing.assert_allclose(found[0].m_as("um"), part, atol=1e-9)
    np.testing.assert_allclose(found[1].m_as("um"), spindle, atol=1e-9)


def test_reversal_wants_rows_of_the_same_length():
    with pytest.raises(InputError, match="^second: give one row"):
        reversal(["1 um", "2 um"], "1 um")
    with pytest.raises(InputError, match="do not fit together"):
        reversal(["1 um", "2 um"], ["1 um", "2 um", "3 um"])
