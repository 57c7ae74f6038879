"""Harmonics against NumPy's FFT and a plain least-squares solver, and what cannot be told."""

import re

import numpy as np
import pytest

from workshop_lib.quantities import Q_, InputError
from workshop_lib.run_out.lobes import harmonics
from workshop_lib.run_out.round_fit import fit

TWELVE = np.arange(0, 360, 30.0)
UNEQUAL = np.array([0, 20, 55, 80, 111, 140, 172, 200, 235, 260, 301, 340.0])


def shape(degrees, waves, offset=0.0):
    """Readings in µm: waves maps an order to its amplitude and crest in degrees."""
    return offset + sum(a * np.cos(np.radians(k * (degrees - c))) for k, (a, c) in waves.items())


MIXED = {1: (30, 40), 2: (8, 100), 3: (5, 10), 4: (1, 60)}


def found(degrees, values, highest=4, **settings):
    return harmonics(Q_(np.asarray(degrees, float), "deg"), Q_(values, "um"), highest, **settings)


@pytest.mark.parametrize("degrees", [TWELVE, UNEQUAL], ids=["equal", "unequal"])
def test_each_harmonic_comes_out_with_its_crest(degrees):
    result = found(degrees, shape(degrees, MIXED, 12))
    assert result.offset.m_as("um") == pytest.approx(12)
    for order, (amplitude, crest) in MIXED.items():
        assert result[order].told
        assert result[order].amplitude.m_as("um") == pytest.approx(amplitude)
        assert result[order].crest.m_as("deg") == pytest.approx(crest % (360 / order))


def test_equal_angles_agree_with_the_fast_fourier_transform():
    values = np.random.default_rng(1).normal(0, 5, 16)
    spectrum = np.abs(np.fft.rfft(values)) * 2 / 16
    result = found(np.arange(16) * 22.5, values, 7)
    np.testing.assert_allclose([h.amplitude.m_as("um") for h in result], spectrum[1:8])


def test_unequal_angles_agree_with_a_plain_least_squares_solver():
    values = np.random.default_rng(2).normal(0, 5, 12)
    turned = np.radians(UNEQUAL)[:, None] * np.arange(1, 4)
    design = np.hstack([np.ones((12, 1)), np.cos(turned), np.sin(turned)])
    solved, squares, *_ = np.linalg.lstsq(design, values)
    result = found(UNEQUAL, values, 3)
    expected = np.hypot(solved[1:4], solved[4:])
    np.testing.assert_allclose([h.amplitude.m_as("um") for h in result], expected)
    assert np.sum(result.residual.m_as("um") ** 2) == pytest.approx(squares[0])


def test_first_harmonic_at_equal_angles_is_the_fit_of_a_round_part():
    values = np.random.default_rng(3).normal(0, 5, 12)
    round_part = fit(Q_(TWELVE, "deg"), Q_(values, "um"))
    assert found(TWELVE, values, 3)[1].vector.core == pytest.approx(round_part.core.vector)


@pytest.mark.parametrize("degrees", [TWELVE, UNEQUAL], ids=["equal", "unequal"])
def test_stated_uncertainty_is_the_spread_of_many_noisy_turns(degrees):
    noise = np.random.default_rng(4).normal(0, 1, (4000, 12))
    waves = {order: MIXED[order] for order in (1, 2, 3)}
    result = found(degrees, shape(degrees, waves) + noise, 3)
    for one in result:
        stated = np.sqrt(np.mean(one.uncertainty.m_as("um") ** 2))
        assert np.std(one.amplitude.m_as("um")) == pytest.approx(stated, rel=0.1)


def test_a_needle_that_runs_the_other_way_swaps_crests_and_troughs():
    into, out = (found(TWELVE, shape(TWELVE, MIXED), direction=d) for d in ("in", "out"))
    for one, other in zip(into, out, strict=True):
        assert other.vector.core == pytest.approx(-one.vector.core)


def test_many_sets_of_readings_keep_their_shape():
    values = np.random.default_rng(5).normal(0, 1, (2, 3, 12))
    result = found(TWELVE, values, 3)
    assert result[2].amplitude.shape == (2, 3)
    single = found(TWELVE, values[1, 2], 3)
    assert result[2].amplitude.m[1, 2] == pytest.approx(single[2].amplitude.m)


# What cannot be told


@pytest.mark.parametrize("count", [5, 8, 9, 12])
def test_equal_angles_cannot_tell_an_order_from_its_mirror(count):
    # At n equal angles cos((n−1) theta) and cos(theta) are the same numbers.
    degrees = np.arange(count) * 360 / count
    one, mirror = (shape(degrees, {order: (1, 0)}) for order in (1, count - 1))
    np.testing.assert_allclose(one, mirror, atol=1e-12)
    result = found(degrees, shape(degrees, {1: (1, 0)}), count - 1)
    assert not result[1].told
    assert f"harmonic {count - 1}" in result[1].why
    assert np.isnan(result[1].amplitude.m)
    assert np.isnan(result[1].crest.m)


def test_equal_angles_warn_of_the_mirror_even_when_it_was_not_asked_for():
    assert re.search("11 lobes .*eccentricity", found(TWELVE, np.ones(12), 3).remarks[0])


def test_an_order_of_half_the_count_can_hide_between_the_marks():
    result = found(TWELVE, shape(TWELVE, MIXED), 6)
    assert [one.told for one in result] == [True] * 5 + [False]
    assert "between these 12 angles" in result[6].why
    assert result[1].amplitude.m_as("um") == pytest.approx(30)


@pytest.mark.parametrize(("count", "most"), [(3, 1), (4, 1), (5, 2), (6, 2), (7, 3)])
def test_so_many_angles_tell_so_many_harmonics(count, most):
    result = found(UNEQUAL[:count], np.zeros(count), 5)
    assert re.match(rf"{count} .*angles .*at most {most} harm", result.remarks[0])
    told = found(UNEQUAL[:count], np.zeros(count), most)
    assert all(one.told for one in told)
    assert not all(one.told for one in found(UNEQUAL[:count], np.zeros(count), most + 1))


def test_repeated_marks_count_once():
    result = found(np.repeat([0, 90, 180, 270], 5), np.zeros(20), 2)
    assert not result[2].told and "these 4 angles" in result[2].why
    assert "4 different angles can tell at most 1 harmonic;" in " ".join(result.remarks)
    turned = found([0, 90, 180, 270, 360, 450], np.zeros(6), 2)  # a whole turn on: the same mark
    assert "4 different angles" in " ".join(turned.remarks)


def test_a_gap_leaves_a_harmonic_blurred_and_says_how_much():
    degrees = np.linspace(0, 120, 12)
    result = found(degrees, shape(degrees, MIXED), 3, graduation="1 um")
    assert all("times less certain" in one.why for one in result)
    assert any("half of the turn" in said for said in result.remarks)
    blur = float(result[1].why.split("about ")[1].split(" ")[0])
    noise = np.random.default_rng(6).normal(0, 1e-3, (4000, 12))
    spread = np.std(found(degrees, shape(degrees, MIXED) + noise, 3)[1].vector.core * 1e6)
    assert spread / (1e-3 * np.sqrt(2 * 2 / 12)) == pytest.approx(blur, rel=0.1)


# Bad input


@pytest.mark.parametrize("highest", [0, -1, 61, 2.0, "3", None, True])
def test_a_highest_order_that_is_no_order_is_refused(highest):
    with pytest.raises(InputError, match="^highest: "):
        found(TWELVE, np.zeros(12), highest)


def test_an_order_that_was_not_asked_for_is_refused():
    result = found(TWELVE, np.zeros(12), 3)
    assert len(result) == 3
    for order in (0, 4, -1, "2", True):
        with pytest.raises(InputError, match="^order: "):
            result[order]


@pytest.mark.parametrize(
    ("angles", "said"),
    [
        ([[0, 90, 180], [0, 90, 180]], "all readings need one list of angles"),
        ([0, 90], "2 angles tell no harmonic"),
    ],
)
def test_angles_that_do_not_serve_are_refused(angles, said):
    with pytest.raises(InputError, match=f"^angles: {said}"):
        found(angles, np.zeros(np.shape(angles)))


def test_one_graduation_for_all_readings():
    with pytest.raises(InputError, match="^graduation: "):
        found(TWELVE, np.zeros(12), graduation=["1 um"] * 12)


def test_three_equal_angles_name_all_that_look_the_same():
    # By hand: at three marks every order k that is no multiple of 3 looks like 1.
    found = harmonics(Q_([0.0, 120, 240], "deg"), Q_([1.0, 2, 4], "um"), highest=5)
    alike = [re.findall(r"harmonic (\d)", found[order].why) for order in (1, 2)]
    assert alike == [["2", "4", "5"], ["1", "4", "5"]]
    assert "the offset" in found[3].why
