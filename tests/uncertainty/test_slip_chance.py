"""The chance of slip: worked by hand where it can be, its laws, and how sure it is itself."""

import re
from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
from scipy import stats

from workshop_lib.friction import Pad
from workshop_lib.quantities import Q_, InputError
from workshop_lib.slip import margin
from workshop_lib.torque import cutting_torque, side_force
from workshop_lib.uncertainty import INPUTS, SlipCase, chance_of_slip, share_interval
from workshop_lib.uncertainty.spreads import even, exactly, normal, of_range, triangular

PAD = Pad("30 mm")
# Exact inputs: with a located nose of high friction torque alone is left, and the margin is
# mu × 600 N × 10 mm / (40 N × 39 mm) = 3.846 mu.
EXACT = {
    "thrust": "600 N",
    "friction_coefficient": 0.3,
    "cutting_force": "40 N",
    "radial_share": 0.5,
    "unbalance": "2 N",
    "disc_diameter": "78 mm",
}
TORQUE_ALONE = {"nose": "located", "nose_friction": 2}
UNSURE = {
    "thrust": normal("600 N", "40 N"),
    "friction_coefficient": triangular(0.2, 0.3, 0.45),
    "cutting_force": triangular("30 N", "40 N", "60 N"),
    "radial_share": triangular(0.25, 0.5, 0.7),
    "unbalance": even("0 N", "5 N"),
}


def case(pad=PAD, nose="floating", nose_friction=None, **spreads):
    known = {name: exactly(value) for name, value in EXACT.items()}
    return SlipCase(pad, known | spreads, nose, nose_friction)


def found(draws=200_000, seed=1, **about):
    return chance_of_slip(case(**about), draws, seed)


# Against the margin itself and hand working


@pytest.mark.parametrize("nose", [{}, {"nose": "located"}, TORQUE_ALONE])
def test_without_any_spread_it_is_the_margin_itself(nose):
    force = EXACT["cutting_force"]
    side = side_force(force, EXACT["radial_share"], EXACT["unbalance"])
    torque = cutting_torque(force, EXACT["disc_diameter"])
    wanted = margin(PAD, EXACT["thrust"], EXACT["friction_coefficient"], side, torque, **nose)
    result = found(draws=1000, **nose)
    assert result.median == pytest.approx(wanted, rel=1e-12)
    assert result.interval == pytest.approx([wanted, wanted], rel=1e-12)
    assert result.chance == (wanted < 1)
    assert set(result.contributions.values()) == {0.0}


def test_torque_alone_by_hand():
    # 3.846 mu < 1 for mu < 0.26: 3/5 of the coefficients from 0.2 to 0.3.
    result = found(friction_coefficient=even(0.2, 0.3), **TORQUE_ALONE)
    assert result.chance == pytest.approx(0.6, abs=4 * np.sqrt(0.24 / 200_000))
    assert result.median == pytest.approx(0.25 * 600 * 10 / (40 * 39), rel=0.001)
    assert result.chance_below_two == 1


def test_thrust_that_is_normal_gives_a_normal_margin():
    # 0.3 N 10 mm / (40 N × 39 mm) < 1 for N < 520 N, and < 2 for N < 1040 N.
    result = found(thrust=normal("600 N", "40 N"), **TORQUE_ALONE)
    assert result.chance == pytest.approx(stats.norm.cdf(-2), abs=4 * np.sqrt(0.0228 / 200_000))
    assert result.margin.linear_chance_below(1) == pytest.approx(stats.norm.cdf(-2), rel=1e-6)
    assert result.margin.linear_is_good
    assert result.interval == pytest.approx(
        (600 + np.array([-78.4, 78.4])) * 0.3 * 10 / (40 * 39), rel=0.003
    )


def test_a_margin_of_two_is_counted_too():
    result = found(thrust=normal("1040 N", "40 N"), **TORQUE_ALONE)
    assert result.chance_below_two == pytest.approx(0.5, abs=0.005)
    assert result.below_two == round(200_000 * result.chance_below_two)
    assert result.slips == 0


def test_cutting_force_divides_the_margin():
    # 0.3 × 600 N × 10 mm / (F 39 mm) < 1 for F > 46.15 N.
    result = found(cutting_force=even("40 N", "50 N"), **TORQUE_ALONE)
    assert result.chance == pytest.approx((50 - 46.1538) / 10, abs=0.005)


def test_disc_diameter_is_a_diameter():
    # 1.8 N·m / (40 N × D/2) < 1 for D > 90 mm.
    result = found(disc_diameter=even("80 mm", "100 mm"), **TORQUE_ALONE)
    assert result.chance == pytest.approx(0.5, abs=0.005)


@pytest.mark.parametrize(
    ("changed", "chance"),
    [
        # A cut close to the centre turns nothing: 180 N against 120 N sqrt(1 + s²) + U.
        ({"radial_share": even(1.0, 1.5)}, 0.761966),  # 1.5 < sqrt(1 + s²) for s > 1.118034
        ({"unbalance": even("40 N", "50 N")}, 0.416408),  # 134.164 N + U > 180 N for U > 45.836 N
    ],
)
def test_side_force_alone_by_hand(changed, chance):
    cut = {"cutting_force": exactly("120 N"), "unbalance": exactly("0 N")}
    near = {"disc_diameter": exactly("0.000001 mm")}
    result = found(**cut | near | changed)
    assert result.chance == pytest.approx(chance, abs=0.005)


def test_chance_agrees_with_draws_of_another_kind():
    """The same chance from NumPy's older generator and the public margin, all else apart."""
    draw = np.random.RandomState(11)
    count = 200_000
    thrust = np.maximum(draw.normal(600, 40, count), 0)
    friction = draw.triangular(0.2, 0.3, 0.45, count)
    force = draw.triangular(30, 40, 60, count)
    side = force * np.sqrt(1 + draw.triangular(0.25, 0.5, 0.7, count) ** 2)
    side += draw.uniform(0, 5, count)
    margins = margin(PAD, Q_(thrust, "N"), friction, Q_(side, "N"), Q_(force * 0.039, "N*m"))
    result = found(**UNSURE)
    assert result.chance == pytest.approx(np.mean(margins < 1), abs=0.006)
    assert result.chance_below_two == pytest.approx(np.mean(margins < 2), abs=0.003)
    assert result.median == pytest.approx(np.median(margins), rel=0.004)
    assert result.interval == pytest.approx(np.quantile(margins, [0.025, 0.975]), rel=0.005)


# Laws


def test_more_thrust_never_makes_slip_likelier():
    more = [found(20_000, **UNSURE | {"thrust": normal(f"{n} N", "40 N")}) for n in (500, 600, 900)]
    chances = [result.chance for result in more]
    assert chances[0] > chances[1] > chances[2]


def test_unbalance_and_a_floating_nose_make_slip_likelier():
    plain = found(50_000, **UNSURE)
    heavier = found(50_000, **UNSURE | {"unbalance": even("50 N", "55 N")})
    held = found(50_000, **UNSURE, nose="located")
    assert held.chance < plain.chance < heavier.chance
    slippery = found(50_000, **UNSURE, nose="located", nose_friction=0)
    assert slippery.chance == pytest.approx(plain.chance, abs=1e-4)


def test_forces_that_all_grow_alike_leave_the_chance_as_it_was():
    single = found(20_000, **UNSURE)
    double = {
        "thrust": normal("1200 N", "80 N"),
        "cutting_force": triangular("60 N", "80 N", "120 N"),
        "unbalance": even("0 N", "10 N"),
    }
    assert found(20_000, **UNSURE | double).chance == single.chance


def test_inch_and_metric_give_the_same():
    inch = {
        "thrust": normal(Q_(600, "N").to("lbf"), Q_(40, "N").to("lbf")),
        "disc_diameter": exactly(Q_(78, "mm").to("inch")),
    }
    assert found(20_000, **UNSURE | inch).median == pytest.approx(found(20_000, **UNSURE).median)


def test_a_thrust_below_zero_counts_as_none():
    result = found(thrust=normal("600 N", "600 N"), **TORQUE_ALONE)
    assert result.chance == pytest.approx(stats.norm.cdf(-80 / 600), abs=0.005)
    assert result.margin.quantile(0.1) == 0


def test_two_that_are_below_zero_do_not_make_a_hold():
    # Either is below zero in Phi(−1) of the draws; their product must not count as friction.
    unlikely = {"thrust": normal("100 kN", "100 kN"), "friction_coefficient": normal(10, 10)}
    result = found(**unlikely, **TORQUE_ALONE)
    assert result.chance == pytest.approx(1 - stats.norm.cdf(1) ** 2, abs=0.004)


def test_no_load_cannot_slip_and_no_thrust_cannot_hold():
    idle = found(1000, cutting_force=exactly("0 N"), unbalance=exactly("0 N"))
    assert (idle.slips, idle.median) == (0, np.inf)
    loose = found(1000, thrust=exactly("0 N"))
    assert (loose.chance, loose.median) == (1, 0)


def test_friction_and_cutting_force_count_most_here_and_come_first():
    result = found(**UNSURE)
    assert list(result.contributions)[:2] == ["friction_coefficient", "cutting_force"]
    assert list(result.contributions.values()) == sorted(
        result.contributions.values(), reverse=True
    )
    assert result.contributions["disc_diameter"] == 0


def test_contributions_of_a_product_by_hand():
    # Margin = mu N × const. For independent factors with relative variances a and b the relative
    # variance is a + b + ab; friction has its hand in a + ab, thrust in b + ab.
    result = found(
        friction_coefficient=even(0.2, 0.4), thrust=normal("600 N", "60 N"), **TORQUE_ALONE
    )
    a, b = (0.2**2 / 12) / 0.3**2, 0.1**2
    total = a + b + a * b
    assert result.contributions["friction_coefficient"] == pytest.approx(
        (a + a * b) / total, abs=0.02
    )
    assert result.contributions["thrust"] == pytest.approx((b + a * b) / total, abs=0.01)


def test_wide_triples_are_too_much_for_linear_propagation():
    spans = {"friction_coefficient": of_range((0.12, 0.2, 0.6)), "thrust": even("200 N", "1000 N")}
    wide = found(**UNSURE | spans)
    assert not wide.margin.linear_is_good
    # Taken for normal, a margin reaches below zero, which none of the draws does.
    assert wide.margin.linear_interval()[0] < 0 < wide.margin.interval(0.999999)[0]


# How sure the chance is


@pytest.mark.parametrize(("count", "of"), [(0, 10), (1, 10), (5, 10), (10, 10), (3, 100_000)])
def test_interval_of_a_share_is_that_of_scipy(count, of):
    wanted = stats.binomtest(count, of).proportion_ci(0.95, method="wilson")
    assert share_interval(count, of) == pytest.approx((wanted.low, wanted.high), abs=1e-9)


@pytest.mark.parametrize(("true", "of"), [(0.6, 1000), (0.02, 1000), (0.001, 20_000)])
def test_interval_of_a_share_covers_the_true_one_about_95_times_in_100(true, of):
    counts = np.random.default_rng(9).binomial(of, true, 4000)
    low, high = np.array([share_interval(count, of) for count in counts]).T
    assert np.mean((low <= true) & (true <= high)) == pytest.approx(0.95, abs=0.025)


def test_the_chance_is_counted_and_its_interval_belongs_to_the_count():
    result = found(friction_coefficient=even(0.2, 0.3), **TORQUE_ALONE)
    assert result.chance_interval == share_interval(result.slips, 200_000)
    assert result.slips == result.chance * 200_000
    assert result.below_two == 200_000


def test_no_slip_in_all_draws_is_not_told_as_impossible():
    result = found(10_000, friction_coefficient=even(0.9, 1.0))
    assert result.chance == 0
    assert result.chance_interval[1] == pytest.approx(3.84 / 10_003.84, rel=1e-3)
    said = "No slip in 10 000 draws: the chance is below 1 in 2 600, if the inputs are as stated. "
    said += "This counts random draws: it is no promise about your machine."
    assert str(result) == said


def test_slip_in_all_draws_is_not_told_as_certain():
    result = found(10_000, friction_coefficient=even(0.01, 0.02))
    said = "Slip in each of 10 000 draws: the chance to hold is below 1 in 2 600"
    assert str(result).startswith(said)


def test_a_chance_is_told_no_finer_than_its_spreads_deserve():
    result = found(friction_coefficient=even(0.2, 0.3), **TORQUE_ALONE)
    assert re.match("Slips .*60 % .*200 000 draws", str(result))


@pytest.mark.parametrize("draws", [1000, 100_000, 1_000_000])
@pytest.mark.parametrize("kept", [1, 2, 9])
def test_a_chance_short_of_certain_is_never_told_as_100_percent(draws, kept):
    result = replace(found(1000), slips=draws - kept)
    result = replace(result, margin=replace(result.margin, draws=draws))
    told = float(re.search(r"about ([0-9.]+) % of", str(result))[1])
    assert told < 100
    assert 100 - told == pytest.approx(100 * kept / draws, rel=0.01)


# What is handed in


def test_anything_that_gives_a_slip_case_will_do():
    job = SimpleNamespace(slip_case=lambda: case(**UNSURE))
    assert chance_of_slip(job, 1000, 1).chance == found(1000, **UNSURE).chance


@pytest.mark.parametrize("job", [None, {}, SimpleNamespace(slip_case=3), SlipCase, EXACT])
def test_what_gives_no_slip_case_is_refused(job):
    with pytest.raises(InputError, match="^job: .*no SlipCase"):
        chance_of_slip(job, 1000, 1)


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"pad": "30 mm"}, "pad: ‘30 mm’ is not a single Pad"),
        ({"pad": Pad(Q_([20.0, 30.0], "mm"))}, "pad: "),
        ({"nose": "loose"}, "nose: "),
        ({"nose_friction": -0.1}, "nose_friction: "),
        ({"nose_friction": [0.1, 0.2]}, "nose_friction: give one value"),
        ({"thrust": None}, "thrust: is missing"),
        ({"thrust": "600 N"}, "thrust: ‘600 N’ is not a spread"),
        ({"thrust": exactly("60 mm")}, "thrust: ‘mm’ is not a unit of force"),
        ({"thrust": exactly(600)}, "thrust: is a spread of plain numbers"),
        ({"friction_coefficient": exactly("0.3 N")}, "friction_coefficient: "),
        ({"radial_share": exactly(-0.1)}, "radial_share: its expectation must not be below zero"),
        ({"disc_diameter": exactly("0 mm")}, "disc_diameter: its expectation"),
        (
            {"thrus": exactly("600 N")},
            "spreads: ‘thrus’ is not a name that the workbook knows. Did you mean thrust",
        ),
    ],
)
def test_bad_input_is_refused_by_name(changed, said):
    with pytest.raises(InputError, match=f"^{said}"):
        case(**changed)


def test_all_six_inputs_are_wanted():
    assert set(INPUTS) == set(EXACT)
    with pytest.raises(InputError, match="^spreads: "):
        SlipCase(PAD, [exactly(1)])
