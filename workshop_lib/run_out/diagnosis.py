"""Where does the run-out come from? Ranked causes with their evidence, and what to do next.

The shares are those of belief between the causes in `causes.csv`, each taken as equally common
beforehand, one fault at a time, by the linear model that `evidence` describes. They are as good as
that table; `remarks` say what these readings cannot tell.
"""

from collections.abc import Mapping
from functools import cached_property

import numpy as np

from workshop_lib.quantities import InputError, as_shown, quote, resolution
from workshop_lib.run_out.corrections import correction, length_unit
from workshop_lib.run_out.coverage import coverage
from workshop_lib.run_out.estimates import estimate
from workshop_lib.run_out.evidence import Evidence, averaged, shares
from workshop_lib.run_out.evidence_totals import log_likelihood as of_totals
from workshop_lib.run_out.next_test import suggestions
from workshop_lib.run_out.observed import observed
from workshop_lib.run_out.readings import PLACES, Push, Readings, Total
from workshop_lib.run_out.weighing import ALIKE, scale, setting, word

MOST_TESTS = 60
FAINTEST = 1e-300  # shares below it are alike


def diagnose(tests, unit="mm"):
    """Where does the run-out come from, how sure is that, and what should be clocked next?

    tests: list (or mapping) of `Readings`, `Push` and `Total`, of whatever was clocked. unit: of
    lengths in the sentences, such as "mm", "um" or "thou". Returns a `Diagnosis`.
    Raises InputError naming the argument. Notes: one fault at a time; the likelihood of all
    readings under each cause by a linear model with normally distributed sizes (see `evidence`),
    so that nothing is claimed that another cause explains as well. Bare totals count as lengths
    without direction. Source: gaussian-evidence, kass-raftery-1995; sizes in causes.csv.

    >>> from workshop_lib.run_out import mystery
    >>> setup = mystery(3, "displaced_disc")
    >>> found = diagnose([setup.take(key) for key in ("nose_near", "disc_radial", "pad_radial")])
    >>> print(found.leader.name)
    displaced disc
    """
    if isinstance(tests, Mapping):
        tests = list(tests.values())
    if not isinstance(tests, list | tuple) or not tests:
        raise InputError("tests", "no test is given", "Give a list of Readings, Push or Total")
    if len(tests) > MOST_TESTS:
        raise InputError("tests", f"more than {MOST_TESTS} tests")
    for test in tests:
        if not isinstance(test, Readings | Push | Total):
            raise InputError("tests", f"{quote(test)} is neither Readings nor Push nor Total")
    return Diagnosis(tuple(tests), length_unit(unit))


class Finding:
    """One cause as the readings see it.

    cause: its key. name, part: what it is called, and where it would most likely be. share: of
    belief, 0 to 1. Evidence, size and correction are worked out when they are first asked for.
    """

    def __init__(self, diagnosis, place, share, rival):
        self._of, self._place, self._rival = diagnosis, place, rival
        self._row = diagnosis.evidence.candidates[place]
        self.cause, self.name, self.part = self._row.key, self._row.name, self._row.part
        self.share = share

    def __repr__(self):
        return f"<{self.called}: {percent(self.share)}>"

    @property
    def called(self):
        """Its name and, where it has one, its part: "oval (disc)"."""
        return f"{self.name} ({self.part})" if self.part in PLACES else self.name

    @cached_property
    def _estimate(self):
        return estimate(self._of.evidence, self._place, self._of.likelihood[self._place])

    @property
    def size(self):
        """How large it would be, mm: an eccentricity or amplitude, never a total."""
        return as_shown(self._estimate[0], "length")

    @property
    def vector(self):
        """Its size and mark as a `Vector`; None when it has no direction."""
        return self._estimate[1]

    @property
    def mark(self):
        """The mark to which it points; NaN when it has no direction, or none that is told."""
        known = self.vector is not None and bool(self.vector.told)
        return self.vector.angle if known else as_shown(np.nan, "angle")

    @property
    def correction(self):
        """What would mend it: a `Correction`."""
        found = self.size if self.vector is None else self.vector
        return correction(self._row, found, unit=self._of.unit)

    @property
    def speaks_for(self):
        """Sentences on the tests that speak for it rather than for its strongest rival."""
        return self._evidence[0]

    @property
    def speaks_against(self):
        """Sentences on the tests that speak for its strongest rival rather than for it."""
        return self._evidence[1]

    @cached_property
    def _evidence(self):
        own, other = (self._of.keys.index(key) for key in (self.cause, self._rival))
        name = next(c.name for c in self._of.evidence.candidates if c.key == self._rival)
        weights = self._of.support[:, own] - self._of.support[:, other]
        pro, contra = [], []
        for number in resolution.ranked(np.abs(weights), ALIKE):
            weight, how = float(weights[number]), word(abs(weights[number]))
            if not how:
                continue
            test = self._of.tests[number]
            showed = f"{test.label}: {observed(test, self._row, self._of.unit)}. This {how}"
            if weight > 0:
                pro.append(f"{showed} for it (compared with {name}).")
            else:
                contra.append(f"{showed} against it (compared with {name}).")
        return tuple(pro), tuple(contra)


class Diagnosis:
    """Ranked `findings` (best first), a verdict in words, remarks, and the next test.

    tests: what it rests on. The shares of all findings sum to 1.
    """

    def __init__(self, tests, unit):
        self.tests, self.unit = tests, unit
        self._turns = [test for test in tests if not isinstance(test, Total)]
        self._totals = [test for test in tests if isinstance(test, Total)]
        self.evidence = Evidence(self._turns)
        self.likelihood = self._log_likelihood(self.evidence, self._totals)
        self._share = shares(self.likelihood, self.evidence.candidates)
        self._best = resolution.leading(self.likelihood, ALIKE)
        self.keys = tuple(dict.fromkeys(cause.key for cause in self.evidence.candidates))
        self.findings = self._ranked()

    @staticmethod
    def _log_likelihood(evidence, totals):
        return evidence.log_likelihood() + of_totals(evidence.tests, totals)

    def _ranked(self):
        parts = {key: [] for key in self.keys}
        for place, cause in enumerate(self.evidence.candidates):
            parts[cause.key].append(place)
        total = {key: float(self._share[places].sum()) for key, places in parts.items()}
        weights = np.log([max(total[key], FAINTEST) for key in self.keys])
        order = [self.keys[place] for place in resolution.ranked(weights, ALIKE)]
        likeliest = {
            key: places[resolution.leading(np.log(self._share[places] + FAINTEST), ALIKE)]
            for key, places in parts.items()
        }
        rivals = dict.fromkeys(order, order[0]) | {order[0]: order[1]}
        return tuple(Finding(self, likeliest[key], total[key], rivals[key]) for key in order)

    @cached_property
    def support(self):
        """How much each test adds to the logarithm of each cause's likelihood: (tests, causes).

        Each cause is taken in its likeliest size; the columns are `keys`.
        """
        every = self._by_key(np.take_along_axis(self.likelihood, self._best[:, None], axis=-1))
        if not self._totals:
            keep = 1 - np.eye(len(self._turns))
            return every - self._by_key(self.evidence.log_likelihood(keep, self._best))
        without = []
        for place in range(len(self.tests)):
            rest = self.tests[:place] + self.tests[place + 1 :]
            turns = [test for test in rest if not isinstance(test, Total)]
            bare = [test for test in rest if isinstance(test, Total)]
            found = self._log_likelihood(Evidence(turns), bare)
            without.append(self._by_key(np.take_along_axis(found, self._best[:, None], axis=-1)))
        return every - np.array(without)

    def _by_key(self, log_likelihood):
        """Logarithm of each cause's likelihood, averaged over its sizes and parts."""
        each = averaged(log_likelihood)
        owned = [[c.key == key for c in self.evidence.candidates] for key in self.keys]
        return np.stack([averaged(each[..., np.array(own)]) for own in owned], axis=-1)

    @property
    def leader(self):
        """The finding with the greatest share."""
        return self.findings[0]

    @property
    def not_excluded(self):
        """The other findings that the leader does not beat by the factor called strong."""
        strong = scale()["strong"][0]
        return tuple(one for one in self.findings[1:] if strong * one.share > self.leader.share)

    @property
    def verdict(self):
        """The outcome in a sentence or two."""
        leader, rivals = self.leader, self.not_excluded
        if not self.explained:
            start = "No single cause in the table explains these readings."
            return f"{start} Least badly: {leader.called}."
        first = f"{leader.called}, share of belief {percent(leader.share)}"
        if not rivals:
            return f"The readings point to {first}."
        others = "; ".join(f"{one.called}, {percent(one.share)}" for one in rivals[:3])
        others += "; and others" if len(rivals) > 3 else ""
        if leader.share > scale()["positive"][0] * rivals[0].share:
            return f"The readings lean towards {first}. Not excluded: {others}."
        return f"The readings do not decide: {first}; {others}."

    @cached_property
    def explained(self):
        """Whether the leading cause explains the readings as well as their scatter lets expect."""
        if not self._turns:
            return True
        place = int(resolution.leading(self._share, ALIKE))
        misfit, count = self.evidence.misfit(place, int(self._best[place]))
        return bool(misfit < 1 + setting("misfit") * np.sqrt(2 / count))

    @cached_property
    def remarks(self):
        """What these readings cannot tell, in sentences."""
        if self.explained:
            return coverage(self.tests)
        return (
            "The readings lie further from every single cause than scatter explains: there may be "
            "two faults at once, one that is not in the table, or a wrong unit.",
            *coverage(self.tests),
        )

    @cached_property
    def next_tests(self):
        """The usual clockings, ranked by how far they would tell the leading causes apart."""
        return suggestions(self._turns, self._share, self._best)

    @property
    def next_test(self):
        """The clocking most worth making next."""
        return self.next_tests[0]

    @property
    def rows(self):
        """The findings as rows for a table: cause, part, share of belief, size if it were that."""
        return [(one.name, one.part, percent(one.share), one.size) for one in self.findings]


def percent(share):
    """Return a share of belief in words: whole per cents, never 0 or 100."""
    if share < 0.005:
        return "below 1 %"
    return "above 99 %" if share > 0.995 else f"{100 * share:.0f} %"
