"""Two faults at once: the quick sums against sums written out in full, and their laws."""

import re

import numpy as np
import pytest

from tests.run_out.run_out_cases import PLAIN, clocked, exact, some_tests, wave
from workshop_lib.quantities import Q_
from workshop_lib.run_out.diagnosis import diagnose
from workshop_lib.run_out.evidence import Evidence, averaged
from workshop_lib.run_out.fault_pairs import OF_PAIRS, Faults, weighed
from workshop_lib.run_out.misread import settle
from workshop_lib.run_out.readings import Push, Readings


@pytest.mark.parametrize("seed", [0, 1])
def test_one_fault_is_as_likely_as_when_it_is_summed_up_in_full(seed):
    evidence = Evidence(some_tests(seed))
    found = Faults(evidence).log_likelihood
    np.testing.assert_allclose(found, evidence.log_likelihood(), atol=1e-7)


def test_a_pair_is_as_likely_as_when_it_is_summed_up_in_full():
    faults = Faults(Evidence(some_tests()))
    evidence = faults.evidence
    usual = evidence.deviations[-1]  # "no fault that shows" is the last candidate
    for pair in faults.pairs[::7]:
        one, other = (evidence.own[place] for place in pair.places)
        each = []
        for rough in (0, 5):
            for size in OF_PAIRS:
                for second in OF_PAIRS:
                    row = usual[rough].copy()
                    row[one] = evidence.sizes[pair.places[0], size]
                    row[other] = evidence.sizes[pair.places[1], second]
                    each.append(evidence.summed(*evidence.spreads(row)))
        assert pair.log_likelihood == pytest.approx(averaged(np.array(each)), abs=1e-6)
        assert evidence.summed(*evidence.spreads(pair.deviations)) == pytest.approx(max(each))


def test_every_two_faults_that_differ_are_a_pair_once():
    faults = Faults(Evidence(some_tests()))
    named = [n for n, cause in enumerate(faults.evidence.candidates) if cause.pattern != "none"]
    pairs = {frozenset(pair.places) for pair in faults.pairs}
    assert len(pairs) == len(faults.pairs) == len(named) * (len(named) - 1) / 2


def test_before_anything_is_known_two_faults_are_as_seldom_as_the_table_says():
    # One reading tells nothing: belief.csv takes a second fault once for ten times none or one.
    found = diagnose([Readings(["0 deg"], ["0 mm"])])
    assert found.two == pytest.approx(0.1 / 1.1)


def test_weights_beforehand_sum_to_one_for_single_faults():
    faults = Faults(Evidence(some_tests()))
    alone, _ = weighed(faults, np.zeros(len(faults.evidence.candidates)))
    assert np.exp(alone).sum() == pytest.approx(1)


def test_no_reading_at_all_leaves_nothing_to_set_aside():
    faults, apart = settle([])
    assert apart == ()
    assert np.ptp(faults.log_likelihood) == pytest.approx(0)


# A reading that stands apart


def spoiled(test, place, by):
    """The same readings in µm, one of them off."""
    values = test.readings.m_as("um").copy()
    values[place] += by
    return Readings(
        test.angles,
        Q_(values, "um"),
        test.where,
        test.what,
        None if test.core.position is None else Q_(test.core.position, "m"),
        graduation="2 um",
    )


@pytest.mark.parametrize("by", [-100, -40, 40, 100])
@pytest.mark.parametrize("key", [key for key in PLAIN if key != "bearing_clearance"])
def test_a_misread_reading_is_named_and_the_cause_is_found_all_the_same(key, by):
    tests = list(PLAIN[key])
    tests[1] = spoiled(tests[1], 4, by)
    found = diagnose(tests, "um")
    assert [(one.test, one.reading) for one in found.apart] == [(1, 4)]
    assert 1e6 * found.apart[0].by == pytest.approx(by, abs=12)
    assert found.leader.cause == key
    assert found.verdict.startswith(f"Read again: {tests[1].label} at 120°")
    plain = diagnose(PLAIN[key])
    assert found.explained == plain.explained


@pytest.mark.parametrize("key", PLAIN)
def test_nothing_is_set_aside_in_plain_cases(key):
    assert diagnose(PLAIN[key]).apart == ()


def test_a_reading_that_is_off_by_a_division_is_kept():
    tests = list(PLAIN["displaced_disc"])
    tests[2] = spoiled(tests[2], 4, 2)
    assert diagnose(tests).apart == ()


def test_what_is_set_aside_counts_for_nothing():
    tests = [clocked("disc", wave(70, 210)), clocked("nose", wave(55, 205)), clocked("pad")]
    one, other = (diagnose([tests[0], spoiled(tests[1], 7, by), tests[2]]) for by in (300, -5000))
    np.testing.assert_allclose(one.likelihood, other.likelihood, rtol=1e-9)


def test_evidence_without_a_reading_is_that_of_a_turn_without_it():
    # A wave is where it was; only a needle that creeps knows of the reading that is gone.
    whole = exact("disc", wave(60, 40), graduation="2 um")
    less = exact(
        "disc", np.delete(wave(60, 40), 5), degrees=np.delete(np.arange(0, 361, 30.0), 5),
        graduation="2 um",
    )  # fmt: skip
    found = Evidence([whole], [(0, 5)])
    assert found.counts.tolist() == [11]
    oval = [n for n, c in enumerate(found.candidates) if (c.key, c.part) == ("oval", "disc")]
    np.testing.assert_allclose(
        found.patterns[:, found.owner == found.own[oval[0]]],
        Evidence([less]).patterns[:, found.owner == found.own[oval[0]]],
    )


def test_too_few_readings_are_all_kept():
    few = Readings(["0 deg", "90 deg", "180 deg"], ["0 mm", "0.9 mm", "0 mm"], graduation="2 um")
    assert diagnose([few]).apart == ()


def test_a_misread_push_is_named_by_its_force():
    push = Push(
        ["0 N", "10 N", "20 N", "0 N", "-10 N", "-20 N", "0 N"],
        Q_([0, 2, 4, 0, 98, -4, 0.0], "um"),
        "nose",
        graduation="2 um",
    )
    found = diagnose([push, clocked("nose"), clocked("nose", seed=2), clocked("disc")], "um")
    assert re.search(r"Read again: nose.* -10 N \(reading 5\)", found.verdict)
