"""The fit of one turn: closed forms, independent references, and the laws that it must obey."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import least_squares

from workshop_lib.quantities import Q_, InputError
from workshop_lib.run_out.round_fit import distinct, fit

TWELVE = np.arange(0, 360, 30.0)
# A worn dial typed by hand: 14 marks, unequal, some twice, none between 200° and 255°.
UNEQUAL = np.array([0, 0, 17, 40, 41, 90, 123, 150, 180, 200, 255, 270, 300, 333.0])
RAGGED = np.array([1, 2, 4, 7, 7, 9, 6, 3, 0, -3, -8, -7, -5, -1.5])


def turn(eccentricity, high_spot, degrees=TWELVE, offset=0.0):
    """Readings in µm of a round part, as the model has it."""
    return offset + eccentricity * np.cos(np.radians(degrees - high_spot))


def fitted(degrees, microns, **settings):
    return fit(Q_(degrees, "deg"), Q_(microns, "um"), **settings)


def microns(quantity):
    return quantity.m_as("um")


# Printed and hand-worked answers


def test_equal_angles_agree_with_the_closed_form():
    # iso-4291, as remembered: R = mean, a = (2/N) sum r cos, b = (2/N) sum r sin.
    values = np.array([3, 5, 8, 9, 11, 8, 6, 2, 0, -2, 1, 2.5])
    theta = np.radians(TWELVE)
    a, b = (2 / 12 * np.sum(values * wave(theta)) for wave in (np.cos, np.sin))
    found = fitted(TWELVE, values)
    assert microns(found.offset) == pytest.approx(values.mean())
    assert microns(found.eccentricity) == pytest.approx(np.hypot(a, b))
    assert found.high_spot.m_as("deg") == pytest.approx(np.degrees(np.arctan2(b, a)) % 360)
    deviation = values - values.mean() - a * np.cos(theta) - b * np.sin(theta)
    np.testing.assert_allclose(microns(found.residual), deviation, atol=1e-9)


def test_total_is_the_largest_less_the_smallest():
    # By hand: from +3 thou to −1 thou the needle goes 4 thou.
    found = fit(
        ["0 deg", "90 deg", "180 deg", "270 deg"], ["3 thou", "1 thou", "-1 thou", "1 thou"]
    )
    assert found.total.m_as("thou") == pytest.approx(4)
    assert found.eccentricity.m_as("thou") == pytest.approx(2)  # half of it
    assert found.high_spot.m_as("deg") == pytest.approx(0, abs=1e-9)


def test_three_marks_by_hand():
    # 0°, 120°, 240° reading 4, 1, 1: mean 2; a = (2/3)(4 − ½ − ½) = 2; b = 0.
    found = fitted([0, 120, 240], [4, 1, 1])
    assert microns(found.offset) == pytest.approx(2)
    assert microns(found.eccentricity) == pytest.approx(2)


@given(e=st.floats(0.1, 500), high=st.floats(0, 359))
def test_total_of_a_round_part_is_twice_its_eccentricity(e, high):
    every_degree = np.arange(360.0)
    found = fitted(every_degree, turn(e, high, every_degree, 20))
    assert microns(found.total) == pytest.approx(2 * e, rel=2e-4)
    assert microns(found.eccentricity) == pytest.approx(e, rel=1e-9)


# Independent references


def test_equal_angles_agree_with_the_fast_fourier_transform():
    values = np.array([3, 5, 8, 9, 11, 8, 6, 2, 0, -2, 1, 2.5])
    spectrum = np.fft.rfft(values) / 12
    found = fitted(TWELVE, values)
    assert microns(found.offset) == pytest.approx(spectrum[0].real)
    assert found.core.vector == pytest.approx(2e-6 * np.conj(spectrum[1]))


def test_any_angles_agree_with_a_general_least_squares_solver():
    def error(guess):
        offset, e, high = guess
        return offset + e * np.cos(np.radians(UNEQUAL) - high) - RAGGED

    solved = least_squares(error, [0, 5, 1], xtol=1e-15, ftol=1e-15, gtol=1e-15)
    offset, e, high = solved.x
    found = fitted(UNEQUAL, RAGGED)
    assert microns(found.offset) == pytest.approx(offset, rel=1e-6)
    assert microns(found.eccentricity) == pytest.approx(e, rel=1e-6)
    assert found.high_spot.m_as("rad") == pytest.approx(high % (2 * np.pi), rel=1e-6)
    # Its Jacobian gives the covariance of e and of the high spot as well.
    scatter = np.sqrt(np.sum(solved.fun**2) / (RAGGED.size - 3))
    spread = scatter * np.sqrt(np.diag(np.linalg.inv(solved.jac.T @ solved.jac)))
    assert microns(found.scatter) == pytest.approx(scatter, rel=1e-6)
    assert microns(found.eccentricity_uncertainty) == pytest.approx(spread[1], rel=1e-3)
    assert found.high_spot_uncertainty.m_as("rad") == pytest.approx(spread[2], rel=1e-3)


def test_residual_stands_square_on_what_was_fitted():
    left = microns(fitted(UNEQUAL, RAGGED).residual)
    theta = np.radians(UNEQUAL)
    for column in (np.ones_like(theta), np.cos(theta), np.sin(theta)):
        assert left @ column == pytest.approx(0, abs=1e-10)


# Laws


@pytest.mark.parametrize("turned", [0.0, 33.0, 200.0])
def test_turning_the_marks_turns_the_high_spot_and_nothing_else(turned):
    plain, moved = fitted(UNEQUAL, RAGGED), fitted(UNEQUAL + turned, RAGGED)
    apart = (moved.high_spot - plain.high_spot).m_as("deg") - turned
    assert (apart + 180) % 360 - 180 == pytest.approx(0, abs=1e-9)
    assert microns(moved.eccentricity) == pytest.approx(microns(plain.eccentricity))
    np.testing.assert_allclose(microns(moved.residual), microns(plain.residual), atol=1e-9)


def test_setting_the_dial_moves_the_offset_and_nothing_else():
    plain, moved = fitted(UNEQUAL, RAGGED), fitted(UNEQUAL, RAGGED + 50)
    assert microns(moved.offset) == pytest.approx(microns(plain.offset) + 50)
    assert moved.core.vector == pytest.approx(plain.core.vector)


def test_order_of_the_readings_does_not_matter():
    order = np.random.default_rng(1).permutation(UNEQUAL.size)
    plain, mixed = fitted(UNEQUAL, RAGGED), fitted(UNEQUAL[order], RAGGED[order])
    assert mixed.core.vector == pytest.approx(plain.core.vector)


def test_another_whole_turn_on_the_marks_changes_nothing():
    plain, more = fitted(UNEQUAL, RAGGED), fitted(UNEQUAL - 720, RAGGED)
    assert more.core.vector == pytest.approx(plain.core.vector)


def test_a_needle_that_runs_the_other_way_puts_the_high_spot_across():
    into, out = fitted(UNEQUAL, RAGGED), fitted(UNEQUAL, RAGGED, direction="out")
    assert (out.high_spot - into.high_spot).m_as("deg") % 360 == pytest.approx(180)
    assert microns(out.eccentricity) == pytest.approx(microns(into.eccentricity))
    assert microns(out.offset) == microns(into.offset)


def test_missing_readings_of_a_round_part_change_nothing():
    kept = np.array([0, 1, 4, 5, 6, 9])
    whole, some = (fitted(TWELVE[k], turn(7, 100)[k]) for k in (np.arange(12), kept))
    assert some.core.vector == pytest.approx(whole.core.vector)


def test_thou_and_millimetres_agree():
    in_mm = fit(Q_(UNEQUAL, "deg"), Q_(0.0254 * RAGGED, "mm"), "0.0254 mm")
    in_thou = fit(Q_(np.radians(UNEQUAL), "rad"), Q_(RAGGED, "thou"), "1 thou")
    assert in_thou.core.vector == pytest.approx(in_mm.core.vector)
    assert microns(in_thou.eccentricity_uncertainty) == pytest.approx(
        microns(in_mm.eccentricity_uncertainty)
    )


def test_many_sets_of_readings_at_once_agree_with_one_at_a_time():
    many = np.stack([RAGGED, 2 * RAGGED + 3, RAGGED[::-1]]).reshape(3, 1, -1)
    found = fitted(UNEQUAL, many, graduation="2 um")
    assert found.eccentricity.shape == found.high_spot_uncertainty.shape == (3, 1)
    assert found.residual.shape == (3, 1, 14)
    for place in range(3):
        single = fitted(UNEQUAL, many[place, 0], graduation="2 um")
        assert found.core.vector[place, 0] == pytest.approx(single.core.vector)
        for name in ("offset", "total", "scatter", "eccentricity_uncertainty"):
            assert microns(getattr(found, name))[place, 0] == pytest.approx(
                microns(getattr(single, name))
            )


def test_each_set_can_have_its_own_angles():
    angles = np.stack([UNEQUAL, UNEQUAL + 10])
    found = fitted(angles, RAGGED)
    assert found.high_spot.m_as("deg")[1] - found.high_spot.m_as("deg")[0] == pytest.approx(10)


# How sure it is


@pytest.mark.parametrize("count", [4, 8, 12, 36])
def test_graduation_alone_gives_the_closed_form_for_equal_angles(count):
    # d / sqrt(12) for one reading (gum-resolution), times sqrt(2/n) for an amplitude from n.
    degrees = np.arange(count) * 360 / count
    found = fitted(degrees, turn(50, 10, degrees), graduation="10 um")
    expected = 10 / np.sqrt(12) * np.sqrt(2 / count)
    assert microns(found.eccentricity_uncertainty) == pytest.approx(expected)
    assert found.high_spot_uncertainty.m_as("rad") == pytest.approx(expected / 50)


def test_the_larger_of_scatter_and_graduation_counts():
    coarse, fine, none = (fitted(UNEQUAL, RAGGED, graduation=g) for g in ("20 um", "1 um", None))
    assert microns(coarse.core.reading_uncertainty * Q_(1, "m")) == pytest.approx(20 / np.sqrt(12))
    assert fine.core.reading_uncertainty == none.core.reading_uncertainty == none.core.scatter


@pytest.mark.parametrize("degrees", [TWELVE, UNEQUAL, np.array([0, 50, 100, 150, 200.0])])
def test_stated_uncertainty_is_the_spread_of_many_noisy_turns(degrees):
    noise = np.random.default_rng(5).normal(0, 2, (4000, degrees.size))
    found = fitted(degrees, turn(60, 75, degrees) + noise)
    for value, stated in (
        (microns(found.eccentricity), microns(found.eccentricity_uncertainty)),
        (60 * found.high_spot.m_as("rad"), 60 * found.high_spot_uncertainty.m_as("rad")),
    ):
        assert np.std(value) == pytest.approx(np.sqrt(np.mean(stated**2)), rel=0.06)


def test_rounding_to_the_graduation_spreads_as_stated():
    luck = np.random.default_rng(6)
    high, offset = luck.uniform(0, 360, (3000, 1)), luck.uniform(0, 10, (3000, 1))
    rounded = 10 * np.round(turn(80, high, TWELVE, offset) / 10)
    found = fitted(TWELVE, rounded)
    error = microns(found.eccentricity) - 80
    assert np.std(error) == pytest.approx(10 / np.sqrt(12) * np.sqrt(2 / 12), rel=0.1)


def test_a_gap_in_the_turn_costs_certainty_and_is_said():
    whole, half, third = (
        fitted(d, turn(50, 20, d), graduation="10 um")
        for d in (TWELVE, TWELVE / 2, np.linspace(0, 110, 12))
    )
    unsure = [microns(f.eccentricity_uncertainty) for f in (whole, half, third)]
    assert unsure[0] < unsure[1] < unsure[2] / 2
    assert [f.gap.m_as("deg") for f in (whole, half, third)] == pytest.approx([30, 195, 250])
    assert whole.remarks == ()
    assert any("gap of 195°" in said for said in half.remarks)


def test_an_eccentricity_lost_in_the_scatter_tells_no_high_spot():
    found = fitted(TWELVE, turn(1, 60), graduation="10 um")
    assert not found.tells_high_spot
    assert np.isnan(found.high_spot_uncertainty.m)
    assert any("no high spot" in said for said in found.remarks)


def test_a_part_that_runs_true_has_no_high_spot():
    found = fitted(TWELVE, np.full(12, 7.0))
    assert microns(found.eccentricity) == 0
    assert np.isnan(found.high_spot.m)
    assert not found.tells_high_spot


def test_three_readings_say_that_they_cannot_show_scatter():
    found = fitted([0, 120, 240], [4, 1, 1])
    assert np.isnan(found.scatter.m)
    assert np.isnan(found.eccentricity_uncertainty.m)
    assert len(found.remarks) == 2
    assert microns(fitted([0, 120, 240], [4, 1, 1], graduation="1 um").eccentricity_uncertainty) > 0


# Bad input


@pytest.mark.parametrize(
    ("degrees", "said"),
    [
        ([0], "1 angle tells neither"),
        ([0, 0, 360, 720], "1 angle tells neither"),
        ([0, 180], "2 different angles tell neither"),
        ([0, 180, 0, 180], "2 different angles tell neither"),
        ([0, 0.01, 0.02], "stand too close together"),
    ],
)
def test_too_few_or_crowded_angles_are_refused(degrees, said):
    with pytest.raises(InputError, match=f"^angles: .*{said}"):
        fitted(degrees, np.ones(len(degrees)))


@pytest.mark.parametrize(
    ("name", "settings"),
    [
        ("angles", {"angles": ["0 mm", "1 mm", "2 mm"]}),
        ("angles", {"angles": [0, 90, 180]}),
        ("angles", {"angles": Q_([0, np.pi, 1])}),
        ("readings", {"readings": ["1 N", "2 N", "3 N"]}),
        ("readings", {"readings": [1, 2, 3]}),
        ("readings", {"readings": ["1 um", "2,5 um", "3 um"]}),
        ("readings", {"readings": []}),
        ("readings", {"readings": [float("nan")] * 3}),
        ("graduation", {"graduation": "0 mm"}),
        ("graduation", {"graduation": "-1 um"}),
        ("graduation", {"graduation": ["1 um", "2 um", "3 um"]}),
        ("direction", {"direction": "up"}),
    ],
)
def test_bad_input_is_refused_by_name(name, settings):
    good = {"angles": ["0 deg", "90 deg", "180 deg"], "readings": ["1 um", "2 um", "3 um"]}
    with pytest.raises(InputError, match=f"^{name}: "):
        fit(**{**good, **settings})


def test_shapes_that_do_not_fit_are_refused():
    with pytest.raises(InputError, match="angles .*3.* readings .*4"):
        fitted([0, 90, 180], [1, 2, 3, 4])


def test_marks_a_whole_turn_apart_are_one():
    np.testing.assert_allclose(
        distinct(np.radians([0, 360, 90, -270, 359.99999999])), [0, np.pi / 2]
    )


def test_angles_less_than_a_millionth_of_a_radian_apart_are_one():
    assert distinct([0, 0.95e-6]).size == 1
    assert distinct([0, 1.05e-6]).size == 2
    assert distinct([0, 2 * np.pi - 0.95e-6]).size == 1
    assert distinct([0, 2 * np.pi - 1.05e-6]).size == 2
