"""What bare totals add, against the distributions of Rayleigh and Rice."""

import numpy as np
import pytest
from scipy.special import ive
from scipy.stats import rice

from tests.run_out.run_out_cases import TURN, dense, exact, row, some_tests, wave
from workshop_lib.run_out.evidence import Evidence, averaged
from workshop_lib.run_out.evidence_totals import log_likelihood as of_totals
from workshop_lib.run_out.evidence_totals import log_rice
from workshop_lib.run_out.readings import Total


@pytest.mark.parametrize("middle", [0.0, 3.0, 80.0])
def test_a_length_about_a_middle_follows_rices_distribution(middle):
    lengths = np.linspace(0.1, 120, 50)
    expected = rice(middle / 2.0, scale=2.0).logpdf(lengths)
    found = log_rice(lengths, middle, np.full(50, 4.0))
    inside = np.isfinite(expected)
    np.testing.assert_allclose(found[inside], expected[inside], rtol=1e-2, atol=2e-2)


def test_a_single_total_follows_rayleighs_distribution():
    found = of_totals([], [Total("80 um", "nose")])
    evidence = Evidence([exact("nose", np.zeros(13))])
    cause, size = row("eccentric_seat", "nose"), 2
    ones = evidence.patterns[:12] ** 2 @ evidence.variances[cause, size]
    variance = ones.mean() + evidence.noise[cause, size, 0]
    assert found[cause, size] == pytest.approx(
        rice(0, scale=np.sqrt(variance)).logpdf(40e-6), rel=1e-3
    )


def test_two_totals_of_one_thing_follow_the_bivariate_rayleigh_distribution():
    # From memory: f(r, s) = rs/(v²(1−q²)) exp(−(r²+s²)/(2v(1−q²))) I0(q r s/(v(1−q²))).
    totals = [Total("80 um", "nose", state="before"), Total("100 um", "nose", state="after")]
    cause, size = row("eccentric_seat", "nose"), 2
    evidence = Evidence([exact("nose", np.zeros(12), degrees=TURN[:12], state=s) for s in "ab"])
    covariance = dense(evidence, cause, size)
    v = np.diag(covariance).mean()
    q = np.diag(covariance[:12, 12:]).mean() / v
    r, s = 40e-6, 50e-6
    argument = q * r * s / (v * (1 - q**2))
    bessel = (
        argument - 0.5 * np.log(2 * np.pi * argument) if argument > 500 else np.log(np.i0(argument))
    )
    expected = np.log(r * s / (v**2 * (1 - q**2))) - (r**2 + s**2) / (2 * v * (1 - q**2)) + bessel
    assert of_totals([], totals)[cause, size] == pytest.approx(expected, abs=0.02)


def test_a_total_that_changed_between_states_speaks_for_what_can_change():
    states, eight = ("before", "after"), Total("8 thou", "nose", state="before")
    changed = of_totals([], [eight, Total("2 thou", "nose", state="after")])
    steady = of_totals([], [Total("8 thou", "nose", state=state) for state in states])
    seat, disc = row("eccentric_seat", "nose"), row("displaced_disc")
    assert averaged(changed)[disc] > averaged(changed)[seat] + np.log(20)
    assert averaged(steady)[seat] > averaged(steady)[disc] + np.log(3)


def test_a_total_agrees_with_angles_at_the_same_place():
    tests = [exact("nose", wave(50, 20))]
    near, far = (averaged(of_totals(tests, [Total(t, "nose")])) for t in ("100 um", "300 um"))
    seat = row("eccentric_seat", "nose")
    assert near[seat] > far[seat] + np.log(150)


def test_a_total_of_nothing_is_no_infinity():
    assert np.all(np.isfinite(of_totals([], [Total("0 mm", "nose")])))


def test_without_totals_nothing_is_added():
    assert not np.any(of_totals(some_tests(), []))


@pytest.mark.parametrize("argument", [0.5, 29.5, 30.5, 80.0])
def test_rices_density_is_right_on_either_side_of_the_seam(argument):
    # Beyond 30 the Bessel function is taken from its first asymptotic term: 1/(8 x) is left out.
    middle, variance = 61.0, 4.0
    seen = argument * variance / middle
    bessel = np.log(ive(0, argument)) + argument
    exact_log = np.log(seen / variance) - (seen**2 + middle**2) / (2 * variance) + bessel
    within = 1e-9 if argument < 30 else 0.2 / argument
    assert log_rice(seen, middle, variance) == pytest.approx(exact_log, abs=within)


def test_a_total_has_no_side():
    # Two totals after a turn that gave a direction: the same turn with the opposite high spot, each
    # reading negated, makes the totals neither likelier nor less likely.
    totals = [Total("100 um", "nose", state="before"), Total("140 um", "nose", state="after")]
    one, other = (of_totals([exact("nose", wave(50, at))], totals) for at in (20, 200))
    np.testing.assert_allclose(other, one, rtol=1e-9)


@pytest.mark.parametrize("later", ["20 um", "60 um", "140 um"])
def test_a_total_that_stays_is_likelier_than_one_that_leaves_what_the_angles_told(later):
    turn, seat = [exact("nose", wave(50, 20), graduation="20 um")], row("eccentric_seat", "nose")
    stays, leaves = (
        of_totals(turn, [Total("100 um", "nose", state="before"), Total(t, "nose", state="after")])
        for t in ("100 um", later)
    )
    usual = slice(5)  # the sizes in a set-up that is not rough
    assert np.all(stays[seat][usual] > leaves[seat][usual] + np.log(100))
