"""Is one reading out of line with the rest? A needle misread, or a figure written down wrongly.

A reading that was misread says nothing of the part: it may lie anywhere within `misread_span`. It
is set aside where that explains it better than any fault, or pair of faults, explains it among all
the others (`belief.csv` says how seldom it is expected). At most one in a test is set aside: more
would be a fault of its own.
"""

from copy import copy
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from workshop_lib.quantities import resolution
from workshop_lib.run_out.evidence import Evidence, averaged
from workshop_lib.run_out.fault_pairs import Faults, weighed
from workshop_lib.run_out.weighing import ALIKE, setting

FEWEST = 6  # readings of a test from which one of them can stand apart
ROUNDS = 4


class Apart(NamedTuple):
    """A reading that stands apart: numbers of its test and of itself, and by how much, m."""

    test: int
    reading: int
    by: float


def settle(tests):
    """Set aside what stands apart. Returns (`Faults` of the rest, tuple of `Apart`)."""
    apart = {}
    for _ in range(ROUNDS):
        faults = Faults(Evidence(tests, [(one.test, one.reading) for one in apart.values()]))
        found = _standing_apart(faults, apart)
        if not found:
            break
        apart |= found
    kept = {test: one for test, one in apart.items() if _still_apart(faults, one)}
    if len(kept) < len(apart):
        faults = Faults(Evidence(tests, [(one.test, one.reading) for one in kept.values()]))
    return faults, tuple(kept[test] for test in sorted(kept))


def _hypotheses(faults):
    """Deviations of the likeliest size of each cause and of the likeliest pair; their weights."""
    found = faults.log_likelihood
    best = resolution.leading(found, ALIKE)
    alone, together = weighed(faults, averaged(found))
    rows = [faults.evidence.deviations[place, size] for place, size in enumerate(best)]
    if together.size:
        likeliest = int(resolution.leading(together, ALIKE))
        rows.append(faults.pairs[likeliest].deviations)
        alone = np.append(alone, together[likeliest])
    return np.array(rows), alone


def _standing_apart(faults, apart):
    """Return what stands apart in the tests where nothing does yet, by test."""
    evidence = faults.evidence
    rows, weights = _hypotheses(faults)
    open_ones = [
        number
        for number, part in enumerate(evidence.parts)
        if number not in apart and part.stop - part.start >= FEWEST
    ]
    if not open_ones:
        return {}
    mean, covariance = evidence.given(*evidence.spreads(rows))
    noise = evidence.spreads(rows)[1]
    best = []
    for number in open_ones:
        gain, off = _gains(evidence, number, mean, covariance, noise[:, number])
        place = resolution.leading(gain, ALIKE)
        along = np.arange(len(rows)), place
        best.append((gain[along], place, off[along]))
    total = weights + sum(np.maximum(gain, 0) for gain, _, _ in best)
    chosen = int(resolution.leading(total, ALIKE))
    return {
        number: Apart(number, int(place[chosen]), float(off[chosen]))
        for number, (gain, place, off) in zip(open_ones, best, strict=True)
        if gain[chosen] > ALIKE
    }


def _gains(evidence, number, mean, covariance, noise):
    """By how much each reading of a test is better explained as misread, and how far it is off.

    Returns logarithms and m, both (hypotheses, readings of the test).
    """
    part = evidence.parts[number]
    columns = evidence.patterns[part] - evidence.patterns[part].mean(axis=0)
    weight = 1 / noise[:, None]
    left = weight * (evidence.values[number] - mean @ columns.T)
    felt = np.flatnonzero(columns.any(axis=0))  # by this test; most causes it does not feel at all
    some = columns[:, felt]
    lever = np.sum((some @ covariance[:, felt[:, None], felt]) * some, axis=-1)
    known = weight * (1 - 1 / len(columns)) - weight**2 * lever
    known = np.maximum(known, 1e-9 * weight)
    unlikely = np.log(setting("misread_span") * 1e-6 / setting("misread"))
    gain = 0.5 * np.log(2 * np.pi / known) + 0.5 * left**2 / known - unlikely
    return gain, left / known


def _still_apart(faults, one):
    """Whether a reading set aside would still be explained better as misread."""
    aside = faults.evidence.aside - {(one.test, one.reading)}
    evidence = Evidence(faults.evidence.tests, aside)
    rows, weights = _hypotheses(faults)
    row = rows[int(resolution.leading(weights, ALIKE))][None]
    noise = evidence.spreads(row)[1]
    mean, covariance = evidence.given(*evidence.spreads(row))
    gain, _ = _gains(evidence, one.test, mean, covariance, noise[:, one.test])
    place = np.flatnonzero(evidence.counted[one.test]).tolist().index(one.reading)
    return gain[0, place] > ALIKE


def without(test, readings):
    """Return a test without the readings of these numbers."""
    rest, core = copy(test), test.core
    kept = {
        name: np.delete(getattr(core, name), readings)
        for name in ("angles", "forces", "readings")
        if getattr(core, name).size
    }
    rest.core = replace(core, **kept)
    return rest
