"""A learner's own readings: values worked by hand, published limits for a stray one, bad input."""

import re

import numpy as np
import pytest
from scipy import stats

from workshop_lib import sources
from workshop_lib.friction import Pad
from workshop_lib.quantities import Q_, InputError, Quantity
from workshop_lib.quantities.resolution import beyond
from workshop_lib.uncertainty import SlipCase, chance_of_slip, measured, propagate
from workshop_lib.uncertainty.few_readings import far_from_the_rest
from workshop_lib.uncertainty.measured import pull_test, thrust_at_pull, tilt_test
from workshop_lib.uncertainty.procedures import how_to
from workshop_lib.uncertainty.spreads import exactly

PULLS = ["41 N", "43 N", "40 N", "42 N", "44 N"]  # mean 42, s = sqrt(10/4) = 1.5811
ANGLES = ["20 deg", "21 deg", "19 deg", "20.5 deg", "19.5 deg"]  # mean 20, s = 0.7906


# Worked by hand


def test_pull_test_by_hand():
    found = pull_test(PULLS, "100 N", "1 N")
    assert found.value == pytest.approx(0.42)
    assert found.scatter.m_as("N") == pytest.approx(1.5811, abs=5e-5)
    assert found.type_a == pytest.approx(0.0070711, abs=5e-8)  # 1.5811 / sqrt(5) / 100
    assert found.type_b == pytest.approx(0.0028868, abs=5e-8)  # 1 / sqrt(12) / 100
    assert found.standard_uncertainty == pytest.approx(0.0076376, abs=5e-8)


def test_the_normal_force_has_its_share_in_the_uncertainty():
    found = pull_test(PULLS, "100 N", normal_force_uncertainty="2 N")
    assert found.type_b == pytest.approx(0.42 * 0.02, rel=1e-3)  # mu u_N / N
    assert found.standard_uncertainty == pytest.approx(np.hypot(0.0070711, 0.0084), rel=1e-3)


def test_tilt_test_by_hand():
    found = tilt_test(ANGLES, "0.5 deg")
    slope = 1 / np.cos(np.radians(20)) ** 2
    assert found.value == pytest.approx(0.36397, abs=5e-6)  # tan 20°
    assert found.scatter.m_as("deg") == pytest.approx(0.7906, abs=5e-5)
    assert found.type_a == pytest.approx(slope * np.radians(0.7906 / np.sqrt(5)), rel=1e-3)
    assert found.type_b == pytest.approx(slope * np.radians(0.5 / np.sqrt(12)), rel=1e-3)


def test_thrust_at_a_mark_by_hand():
    found = thrust_at_pull(["590 N", "610 N", "580 N", "600 N", "620 N"], "10 N")
    assert found.value.m_as("N") == pytest.approx(600)
    assert found.type_a.m_as("N") == pytest.approx(15.811 / np.sqrt(5), abs=5e-4)
    assert found.type_b.m_as("N") == pytest.approx(2.887, abs=5e-4)
    assert found.standard_uncertainty.m_as("N") == pytest.approx(7.638, abs=5e-4)


def test_pull_and_tilt_agree_about_the_same_friction():
    # tan 20° = 0.36397: a pull of 36.397 N at 100 N.
    pulled = pull_test(["36.3 N", "36.4 N", "36.4910 N"], "100 N")
    assert pulled.value == pytest.approx(tilt_test(["20 deg"] * 3).value, abs=1e-6)


# What to plan on


def test_low_is_where_five_in_a_hundred_lie_below():
    # t tables print 2.132 for 5 % on one side and four degrees of freedom; the next pull lies at
    # 42 − 2.132 × 1.5811 × sqrt(1 + 1/5) = 38.307 N. The tolerance is four standard errors of low.
    found = pull_test(PULLS, "100 N")
    assert found.low == pytest.approx(0.38307, abs=0.0006)
    assert found.high == pytest.approx(0.45693, abs=0.0006)


def test_the_next_reading_lies_below_low_five_times_in_a_hundred():
    """What low promises, tried out: six pulls from one shop, the sixth against the first five."""
    draw = np.random.default_rng(12)
    pulls = draw.normal(42, 1.5, (20_000, 6))
    scatter = pulls[:, :5].std(axis=1, ddof=1)
    factor = (42 - 100 * pull_test(PULLS, "100 N").low) / 1.5811  # how many s below the mean
    below = pulls[:, 5] < pulls[:, :5].mean(axis=1) - factor * scatter
    assert np.mean(below) == pytest.approx(0.05, abs=4 * np.sqrt(0.05 * 0.95 / 20_000))


def test_more_readings_make_the_mean_surer_but_not_the_next_set_up():
    few, many = (pull_test(PULLS * times, "100 N") for times in (1, 20))
    assert many.standard_uncertainty < few.standard_uncertainty / 4
    assert many.low > few.low
    # With 100 readings t is all but normal: 42 − 1.66 × 1.4213 × sqrt(1.01).
    assert many.low == pytest.approx(0.3963, abs=0.0005)


def test_readings_without_scatter_leave_the_division_alone():
    found = thrust_at_pull(["600 N"] * 5, "10 N")
    assert found.type_a.m == 0
    assert found.low.m_as("N") == pytest.approx(600 - 0.45 * 10, abs=0.1)
    assert found.high.m_as("N") == pytest.approx(600 + 0.45 * 10, abs=0.1)


def test_the_range_stands_in_for_an_assumed_triple():
    found = pull_test(PULLS, "100 N", "1 N")
    span = found.range
    assert (span.low, span.typical, span.high) == (found.low, found.value, found.high)
    assert span.low < span.typical < span.high
    assert span.standing == "measured"
    assert sources.find_all(span.sources)
    assert "5 readings" in span.note


def test_units_do_not_matter():
    newtons = thrust_at_pull(["590 N", "610 N", "600 N"], "10 N")
    pounds = thrust_at_pull([Q_(n, "N").to("lbf") for n in (590, 610, 600)], Q_(10, "N").to("lbf"))
    assert pounds.value.m_as("N") == pytest.approx(newtons.value.m_as("N"))
    assert pounds.low.m_as("N") == pytest.approx(newtons.low.m_as("N"))
    in_one = thrust_at_pull(Q_([590.0, 610.0, 600.0], "N"), "10 N")
    assert in_one.standard_uncertainty == newtons.standard_uncertainty


def test_friction_does_not_depend_on_the_weight():
    light = pull_test(PULLS, "100 N")
    heavy = pull_test([f"{2 * pull} N" for pull in (41, 43, 40, 42, 44)], "200 N")
    assert heavy.value == pytest.approx(light.value)
    assert heavy.low == pytest.approx(light.low)


# Drawn from


@pytest.mark.parametrize(
    "found",
    [
        pull_test(PULLS, "100 N", "1 N", "1 N"),
        tilt_test(ANGLES, "0.5 deg"),
        thrust_at_pull(["590 N", "610 N", "580 N", "600 N"], "10 N"),
    ],
    ids=["pull", "tilt", "thrust"],
)
def test_the_spread_gives_back_what_was_measured(found):
    drawn = propagate(lambda x: x, {"x": found.spread()}, 200_000, 7)
    assert bare(drawn.interval(0.9)) == pytest.approx(
        [bare(found.low), bare(found.high)], rel=0.006
    )
    mean = propagate(lambda x: x, {"x": found.spread("mean")}, 100_000, 7)
    assert bare(mean.linear) == pytest.approx(bare(found.standard_uncertainty), rel=1e-9)
    assert bare(mean.estimate) == pytest.approx(bare(found.value), rel=1e-12)


def bare(value):
    return getattr(value, "magnitude", value)


def test_what_was_measured_can_stand_in_a_slip_case():
    thrust = thrust_at_pull(["590 N", "610 N", "580 N", "600 N", "620 N"], "10 N")
    given = {
        "thrust": thrust.spread(),
        "friction_coefficient": pull_test(PULLS, "100 N", "1 N").spread(),
        "cutting_force": exactly("60 N"),
        "radial_share": exactly(0),
        "unbalance": exactly("0 N"),
        "disc_diameter": exactly("80 mm"),
    }
    case = SlipCase(Pad("30 mm"), given, "located", 2)
    found = chance_of_slip(case, 50_000, 1)
    assert found.median == pytest.approx(0.42 * 600 * 10 / (60 * 40), rel=0.005)


# What readings cannot tell


def test_good_readings_have_nothing_said_against_them():
    assert pull_test(PULLS, "100 N", "1 N").remarks == ()


def test_few_readings_are_remarked_on():
    for count in (3, 4):
        (said,) = thrust_at_pull(["590 N", "610 N", "600 N", "605 N"][:count], "10 N").remarks
        assert said.startswith(f"Only {count} readings")


def test_a_stray_reading_is_named_with_its_number():
    (said,) = thrust_at_pull(["590 N", "610 N", "900 N", "600 N", "620 N"], "10 N").remarks
    assert re.match(r"Reading 3 \(900 N\) .*leave it out only if", said)


def test_a_missing_graduation_is_remarked_on():
    (said,) = pull_test(PULLS, "100 N").remarks
    assert "graduation" in said


def test_a_friction_that_cannot_be_is_remarked_on():
    (said,) = pull_test(PULLS, "10 N", "1 N").remarks
    assert "check the units" in said


def test_readings_that_promise_nothing_say_so():
    found = thrust_at_pull(["100 N", "600 N", "900 N"], "10 N")
    assert found.low.m_as("N") == 0
    assert np.copysign(1, found.low.m) == 1
    assert "promise no hold" in found.remarks[-1]


# Grubbs' test: two-sided 5 % limits of G = |x − mean|/s as handbooks print them (from memory, three
# decimals), each a little below and above.
GRUBBS = {3: 1.155, 4: 1.481, 5: 1.715, 6: 1.887, 8: 2.126, 10: 2.290, 20: 2.709}


@pytest.mark.parametrize(("count", "limit"), list(GRUBBS.items())[1:])
def test_a_stray_reading_is_one_beyond_the_limit_of_grubbs(count, limit):
    assert far_from_the_rest(readings_with(count, limit + 0.006)) == count - 1
    assert far_from_the_rest(readings_with(count, limit - 0.006)) is None


def readings_with(count, grubbs):
    """Readings of which the last has that G: the others alike on either side of their mean."""
    others = np.where(np.arange(count - 1) % 2, 1.0, -1.0)
    others -= others.mean()
    away = np.geomspace(0.1, 2000, 100_001)
    mean = away / count
    squares = np.sum(others**2) + (count - 1) * mean**2 + (away - mean) ** 2
    values = (away - mean) / np.sqrt(squares / (count - 1))
    return np.append(others, away[np.searchsorted(values, grubbs)])


def test_no_reading_is_called_stray_oftener_than_one_time_in_twenty():
    draw = np.random.default_rng(13).normal(10, 1, (3000, 6))
    called = np.mean([far_from_the_rest(row) is not None for row in draw])
    assert called == pytest.approx(0.05, abs=4 * np.sqrt(0.05 * 0.95 / 3000))


@pytest.mark.parametrize("freedom", [1, 2, 3, 8, 30])
@pytest.mark.parametrize("ratio", [0.1, 1, 2.5, 12])
def test_chance_beyond_a_ratio_is_that_of_scipy(ratio, freedom):
    assert beyond(ratio, freedom) == pytest.approx(2 * stats.t.sf(ratio, freedom), rel=1e-6)


def test_the_same_reading_but_once_is_far_only_beyond_the_division():
    assert far_from_the_rest(np.array([20.0, 20, 20, 20, 21])) is None  # whole numbers: steps of 1
    assert far_from_the_rest(np.array([8, 8, 8, 8, 8.1])) is None
    assert far_from_the_rest(np.array([20.0, 20, 20, 20, 50])) == 4
    assert far_from_the_rest(np.array([20.0, 20, 20, 20, 21]), graduation=1.0) is None
    assert far_from_the_rest(np.array([20.0, 20, 20, 20, 30]), graduation=1.0) == 4
    assert far_from_the_rest(np.full(4, 20.0)) is None


# How it is done


@pytest.mark.parametrize("test", ["pull_test", "tilt_test", "thrust_at_pull"])
def test_every_test_has_its_steps_and_its_cautions(test):
    how = how_to(test)
    assert len(how.steps) >= 3
    assert any("instructor" in caution for caution in how.cautions)
    assert hasattr(measured, how.key)


def test_what_is_done_at_the_machine_begins_with_isolating_it():
    assert "isolate the machine" in how_to("thrust_at_pull").cautions[0]
    assert all("bench" in how_to(test).steps[0] for test in ("pull_test", "tilt_test"))


def test_a_result_knows_how_it_was_taken():
    assert tilt_test(ANGLES).how is how_to("tilt_test")
    said = str(pull_test(PULLS, "100 N", "1 N"))
    assert re.match(r"friction .*: 0\.420 ± 0\.008 .*5 readings.* 0\.38", said)


# Bad input


@pytest.mark.parametrize(
    ("pulls", "said"),
    [
        (["41 N", "43 N", "-40 N"], "pulls, reading 3: ‘-40 N’ must be greater than zero"),
        (["41 N", "0 N", "40 N"], "pulls, reading 2: .* must be greater than zero"),
        (["41 N", "43 N", 40], "pulls, reading 3: has no unit"),
        (["41 N", "4o N", "40 N"], "pulls, reading 2: ‘o N’ is not a unit of force"),
        (["4,1 N", "43 N", "40 N"], "pulls, reading 1: .*comma"),
        (["41 N", "43 mm", "40 N"], "pulls, reading 2: .*length"),
        (["41 N", None, "40 N"], "pulls, reading 2: "),
        (["41 N", "43 N", ["40 N"]], "pulls, reading 3: give one value"),
        (Quantity([41.0, np.nan, 40.0], "N"), "pulls, reading 2: not a finite number"),
        (["41 N", "43 N"], "pulls: give 3 to 1000 readings, not 2"),
        ([], "pulls: "),
        ("41 N", "pulls: ‘41 N’ is not a list of readings"),
        (Q_(41, "N"), "pulls: .* is not a list of readings"),
        ([["41 N"] * 3] * 3, "pulls, reading 1: give one value"),
        (["41 N", ["43 N", "44 N"], "40 N"], "pulls, reading 2: give one value"),
        (None, "pulls: "),
    ],
)
def test_a_bad_reading_is_refused_by_its_number(pulls, said):
    with pytest.raises(InputError, match=f"^{said}"):
        pull_test(pulls, "100 N")


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: pull_test(PULLS, "0 N"), "normal_force: "),
        (lambda: pull_test(PULLS, "10 kg"), "normal_force: .*mass"),
        (
            lambda: pull_test(PULLS, ["100 N", "90 N"]),
            "normal_force: give one value|.*shapes do not fit",
        ),
        (lambda: pull_test(PULLS, "100 N", "0 N"), "graduation: "),
        (lambda: pull_test(PULLS, "100 N", "1 N", "11 N"), "normal_force_uncertainty: is more"),
        (
            lambda: tilt_test(["20 deg", "21 deg", "86 deg"]),
            "angles, reading 3: is steeper than 85",
        ),
        (lambda: tilt_test(["20 deg", "21 deg", "0 deg"]), "angles, reading 3: "),
        (lambda: tilt_test(["20 deg", "21 deg", "19"]), "angles, reading 3: "),
        (lambda: thrust_at_pull(["600 N", "60 mm", "1 N"]), "forces, reading 2: "),
        (lambda: thrust_at_pull(["600 N"] * 3, "5 mm"), "graduation: "),
        (lambda: pull_test(PULLS, "100 N").spread("all"), "of: "),
        (lambda: how_to("drop_test"), "test: "),
    ],
)
def test_bad_input_is_refused_by_name(call, said):
    with pytest.raises(InputError, match=f"^{said}|^: {said}"):
        call()
