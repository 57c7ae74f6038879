"""Propagation of distributions: laws worked by hand, infinite and discrete answers, bad input."""

import numpy as np
import pytest
from scipy import stats

from workshop_lib import uncertainty
from workshop_lib.quantities import Q_, InputError
from workshop_lib.uncertainty import computed, propagate
from workshop_lib.uncertainty.propagation import BLOCK
from workshop_lib.uncertainty.spreads import even, exactly, normal

MILLION = 1_000_000


def added(**numbers):
    return sum(numbers.values())


# Laws


def test_monte_carlo_agrees_with_a_law_that_is_known_exactly():
    # The logarithm of a product of normals in the exponent is normal: a log-normal law.
    found = propagate(lambda x: np.exp(x), {"x": normal(0, 0.5)}, MILLION, 3)
    law = stats.lognorm(0.5)
    assert found.mean == pytest.approx(law.mean(), rel=0.003)
    assert found.median == pytest.approx(1, rel=0.003)
    assert found.interval(0.9) == pytest.approx(law.ppf([0.05, 0.95]), rel=0.005)
    assert found.quantile(0.01) == pytest.approx(law.ppf(0.01), rel=0.01)
    assert found.chance_below(0.7) == pytest.approx(law.cdf(0.7), abs=0.002)


def test_shortest_interval_is_never_longer_than_the_central_one():
    found = propagate(lambda x: np.exp(x), {"x": normal(0, 0.5)}, 100_000, 3)
    for coverage in (0.5, 0.95, 0.99):
        assert np.ptp(found.shortest(coverage)) <= np.ptp(found.interval(coverage))


def test_uncertainty_grows_with_the_input_s():
    wide, narrow = (propagate(added, {"a": normal(5, u)}, 50_000, 1) for u in (0.2, 0.1))
    assert wide.standard_uncertainty == pytest.approx(2 * narrow.standard_uncertainty)


def test_contributions_of_a_weighted_sum_are_its_squared_weights():
    inputs = {"a": normal(0, 1), "b": normal(0, 2), "c": normal(0, 4), "d": exactly(7)}
    shares = propagate(added, inputs, 50_000, 1).contributions
    assert list(shares) == ["c", "b", "a", "d"]
    assert list(shares.values()) == pytest.approx([16 / 21, 4 / 21, 1 / 21, 0], abs=0.015)
    assert shares["d"] == 0


def test_inputs_that_act_only_together_both_have_a_hand_in_all():
    product = propagate(lambda a, b: a * b, {"a": normal(0, 1), "b": normal(0, 1)}, 50_000, 1)
    assert list(product.contributions.values()) == pytest.approx([1, 1], abs=0.05)
    assert product.linear == 0


def test_the_seed_decides_and_nothing_else():
    inputs = {"a": normal(0, 1), "b": even(0, 1)}
    first, again, other = (propagate(added, inputs, 70_000, seed) for seed in (1, 1, 2))
    assert first.interval() == pytest.approx(again.interval(), rel=0, abs=0)
    assert first.contributions == again.contributions
    assert first.mean != other.mean


def test_watching_does_not_change_the_result_and_comes_to_the_end():
    seen = []
    inputs = {"a": normal(0, 1)}
    draws = 2 * BLOCK + 5
    watched = propagate(added, inputs, draws, 1, progress=lambda *done: seen.append(done))
    assert seen == [(BLOCK, draws), (2 * BLOCK, draws), (draws, draws)]
    assert watched.mean == propagate(added, inputs, draws, 1).mean


def test_units_go_in_and_come_out():
    inputs = {"force": normal("600 N", "30 N"), "arm": exactly("2 in")}
    found = propagate(lambda force, arm: force * arm, inputs, 100_000, 1)
    assert found.mean.m_as("N*m") == pytest.approx(600 * 0.0508, rel=0.001)
    assert found.linear.m_as("N*m") == pytest.approx(30 * 0.0508)
    assert found.median.check("[force] * [length]")
    assert found.interval().m_as("N*m") == pytest.approx(found.interval().m_as("N*mm") / 1000)
    assert found.chance_below(Q_(600 * 50.8, "N*mm")) == pytest.approx(0.5, abs=0.01)
    assert found.chance_below("30.48 N m") == found.chance_below(Q_(30.48, "N*m"))
    assert str(found).startswith("1200 N·in ± 60 N·in, 95 %")


def test_a_ratio_of_quantities_is_a_plain_number():
    inputs = {"a": even("1 mm", "2 mm"), "b": exactly("1 in")}
    found = propagate(lambda a, b: a / b, inputs, 20_000, 1)
    assert found.mean == pytest.approx(1.5 / 25.4, rel=0.01)


def test_a_computed_spread_can_be_drawn_from_like_any_other():
    lever = computed(lambda force, arm: force * arm, {"force": even(1, 3), "arm": exactly(2)})
    assert (lever.best, lever.standard_uncertainty) == pytest.approx((4, 4 / np.sqrt(12)))
    found = propagate(lambda torque: torque, {"torque": lever}, 100_000, 1)
    assert found.interval() == pytest.approx([2.1, 5.9], abs=0.02)


# Edges


def test_a_constant_has_no_uncertainty():
    for function in (lambda a: 3.0, lambda a: np.full(a.shape, 3.0)):
        found = propagate(function, {"a": normal(0, 1)}, 100_000, 1)
        assert (found.mean, found.standard_uncertainty, found.linear) == pytest.approx((3, 0, 0))
        assert (found.chance_below(3), found.chance_below(3.1)) == (0, 1)
        assert found.linear_is_good
        assert found.linear_chance_below(3.1) == 1
        assert found.contributions == {"a": 0.0}


def test_a_die():
    found = propagate(lambda a: np.ceil(6 * a), {"a": even(0, 1)}, 600_000, 1)
    assert found.chance_below(4) == pytest.approx(0.5, abs=0.003)
    assert found.chance_below(3.001) == found.chance_below(3.999)
    assert found.chance_below(3.001) == pytest.approx(found.chance_below(4), abs=1e-4)
    assert found.median in (3, 4)
    assert found.mean == pytest.approx(3.5, abs=0.01)
    assert found.standard_uncertainty == pytest.approx(np.sqrt(35 / 12), rel=0.01)


def test_a_rare_event_is_counted_one_by_one():
    happened = []

    def function(a):
        happened.append(np.sum(a < 1e-4) * (a.size > 2))
        return (a >= 1e-4).astype(float)

    found = propagate(function, {"a": even(0, 1)}, 10 * BLOCK, 1)
    assert found.chance_below(1.0) == sum(happened[1:11]) / (10 * BLOCK)
    assert found.chance_below(1.0) == pytest.approx(1e-4, abs=5 * np.sqrt(1e-4 / (10 * BLOCK)))


def test_infinite_answers_are_kept_in_their_place():
    inputs = {"a": even(0, 1), "b": normal(0, 1)}
    found = propagate(lambda a, b: np.where(a < 0.1, np.inf, a) + 0 * b, inputs, 200_000, 1)
    assert found.mean == found.standard_uncertainty == np.inf
    assert found.chance_below(0.5) == pytest.approx(0.4, abs=0.005)
    assert found.interval()[1] == np.inf
    assert found.shortest(0.85)[0] == pytest.approx(0.1, abs=0.05)
    assert found.contributions == pytest.approx({"a": 1, "b": 0}, abs=0.02)
    assert not found.linear_is_good


def test_nothing_but_infinity():
    found = propagate(lambda a: np.full(a.shape, np.inf), {"a": even(0, 1)}, 1000, 1)
    assert found.median == np.inf
    assert found.contributions == {"a": 0.0}
    assert np.isnan(found.linear)
    assert np.isnan(found.linear_chance_below(1))
    assert "no limit" in str(found)


def test_first_answers_that_are_unlike_the_rest_do_not_spoil_it():
    asked = []

    def function(a):
        asked.append(a.size)
        return np.zeros(a.shape) if len(asked) <= 2 else a  # the estimate and the first block

    found = propagate(function, {"a": even(1, 2)}, 100 * BLOCK, 1)
    assert found.chance_below(0.5) == pytest.approx(0.01, abs=2e-4)
    assert found.median == pytest.approx(1 + 0.49 / 0.99, abs=0.005)


# Bad input


def test_the_largest_seed_is_taken():
    assert propagate(**{**GOOD, "seed": 2**63}).draws == 1000


GOOD = {"function": added, "inputs": {"a": normal(0, 1)}, "draws": 1000, "seed": 1}


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"function": 3}, "function: ‘3’ cannot be called"),
        ({"progress": 3}, "progress: ‘3’ cannot be called"),
        ({"inputs": {}}, "inputs: "),
        ({"inputs": [normal(0, 1)]}, "inputs: "),
        ({"inputs": {"a": 3}}, "a: ‘3’ is not a spread. Make one"),
        ({"draws": 999}, "draws: "),
        ({"draws": 1e6}, "draws: "),
        ({"draws": True}, "draws: "),
        ({"draws": 10**10}, "draws: "),
        ({"seed": -1}, "seed: "),
        ({"seed": 2**63 + 1}, "seed: "),
        ({"seed": None}, "seed: "),
        ({"function": lambda a: np.where(a > 0, a, np.nan)}, "function: gave NaN"),
        ({"function": lambda a: a[:-1]}, "function: gave the shape"),
        ({"function": lambda a: "far"}, "function: gave ‘far’, not numbers"),
        ({"function": lambda a: None}, "function: gave "),
    ],
)
def test_bad_input_is_refused_by_name(changed, said):
    with pytest.raises(InputError, match=f"^{said}"):
        propagate(**GOOD | changed)


@pytest.mark.parametrize("share", [0, 1, -0.5, 95, True, "95 %", None])
def test_a_coverage_is_a_share(share):
    found = propagate(**GOOD)
    for ask in (found.interval, found.shortest, found.linear_interval):
        with pytest.raises(InputError, match="^coverage: "):
            ask(share)


@pytest.mark.parametrize("limit", ["1 N", Q_(1, "N"), np.nan, [1, 2], None])
def test_a_limit_is_one_value_in_the_unit_of_the_answer(limit):
    with pytest.raises(InputError, match="^limit: "):
        propagate(**GOOD).chance_below(limit)
    newtons = propagate(added, {"a": normal("1 N", "1 N")}, 1000, 1)
    with pytest.raises(InputError, match="^limit: "):
        newtons.chance_below(1.0)


def test_the_front_door_names_what_it_has():
    assert all(hasattr(uncertainty, name) for name in uncertainty.__all__)
