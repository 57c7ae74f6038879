"""Where does the run-out come from? Ranked causes with their evidence, and what to do next.

Every cause in `causes.csv` is taken as equally common beforehand, a second fault at once as seldom
as `belief.csv` has it; the readings are weighed by the linear model that `evidence` describes. How
sure a verdict may sound is said in `verdicts`; `remarks` say what these readings cannot tell.
"""

from collections.abc import Mapping
from functools import cached_property

import numpy as np

from workshop_lib.quantities import InputError, as_shown, quote, resolution
from workshop_lib.run_out import verdicts
from workshop_lib.run_out.corrections import correction, length_unit
from workshop_lib.run_out.coverage import coverage
from workshop_lib.run_out.estimates import estimate
from workshop_lib.run_out.evidence import Evidence, averaged, shares
from workshop_lib.run_out.evidence_totals import log_likelihood as of_totals
from workshop_lib.run_out.fault_pairs import weighed
from workshop_lib.run_out.misread import settle, without
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
    Raises InputError naming the argument. Notes: no fault, one, or two at once; the likelihood of
    all readings under each by a linear model with normally distributed sizes (see `evidence`), so
    that nothing is claimed that another cause explains as well. One reading in a test that fits
    nothing is set aside and named. Bare totals count as lengths without direction, for one fault.
    Source: gaussian-evidence, kass-raftery-1995; sizes in causes.csv.

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
        return called(self.name, self.part)

    @property
    def smallest(self):
        """The size of the smallest fault of its kind, m."""
        return self._row.sizes[0]

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
            test = self._of.trusted(number)
            showed = f"{test.label}: {observed(test, self._row, self._of.unit)}. This {how}"
            if weight > 0:
                pro.append(f"{showed} for it (compared with {name}).")
            else:
                contra.append(f"{showed} against it (compared with {name}).")
        return tuple(pro), tuple(contra)


class Diagnosis:
    """Ranked `findings` (best first), a verdict in words, remarks, and the next test.

    tests: what it rests on. The shares of all findings sum to 1. two: how likely it is that there
    are two faults at once, 0 to 1. apart: readings that were set aside, since they stand apart.
    """

    def __init__(self, tests, unit):
        self.tests, self.unit = tests, unit
        self.turns = [test for test in tests if not isinstance(test, Total)]
        self._totals = [test for test in tests if isinstance(test, Total)]
        self._faults, self.apart = settle(self.turns)
        self.evidence = self._faults.evidence
        self.likelihood = self._faults.log_likelihood
        if self._totals:
            aside = self.evidence.aside
            self.likelihood = self.likelihood + of_totals(self.turns, self._totals, aside)
        self._share = shares(self.likelihood, self.evidence.candidates)
        self._best = resolution.leading(self.likelihood, ALIKE)
        self.keys = tuple(dict.fromkeys(cause.key for cause in self.evidence.candidates))
        self._two_at_once()
        self.findings = self._ranked()

    def _two_at_once(self):
        """How likely are two faults, which pair is likeliest, and each cause in any pair?"""
        alone, together = weighed(self._faults, averaged(self._faults.log_likelihood))
        every = np.exp(np.append(together, alone) - max(np.append(together, alone)))
        chances = every[: together.size] / every.sum()
        self.two, self._beside = float(chances.sum()), np.zeros(alone.size)
        for pair, chance in zip(self._faults.pairs, chances.tolist(), strict=True):
            self._beside[list(pair.places)] += chance
        likeliest = int(resolution.leading(together, ALIKE)) if together.size else None
        self._pair = None if likeliest is None else self._faults.pairs[likeliest]
        self.together_chance = 0.0 if likeliest is None else float(chances[likeliest])

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
            keep = 1 - np.eye(len(self.turns))
            return every - self._by_key(self.evidence.log_likelihood(keep, self._best))
        without = []
        for place in range(len(self.tests)):
            rest = self.tests[:place] + self.tests[place + 1 :]
            turns = [test for test in rest if not isinstance(test, Total)]
            bare = [test for test in rest if isinstance(test, Total)]
            aside = self._aside_of(turns)
            found = Evidence(turns, aside).log_likelihood() + of_totals(turns, bare, aside)
            without.append(self._by_key(np.take_along_axis(found, self._best[:, None], axis=-1)))
        return every - np.array(without)

    def _aside_of(self, turns):
        """What is set aside, with the numbers that these tests have among themselves."""
        numbers = {id(test): number for number, test in enumerate(turns)}
        named = [(id(self.turns[one.test]), one.reading) for one in self.apart]
        return [(numbers[test], reading) for test, reading in named if test in numbers]

    def _by_key(self, log_likelihood):
        """Logarithm of each cause's likelihood, averaged over its sizes and parts."""
        each = averaged(log_likelihood)
        owned = [[c.key == key for c in self.evidence.candidates] for key in self.keys]
        return np.stack([averaged(each[..., np.array(own)]) for own in owned], axis=-1)

    def trusted(self, number):
        """One of the tests, without what was set aside in it."""
        turn = self.turns.index(self.tests[number]) if self.tests[number] in self.turns else -1
        aside = [one.reading for one in self.apart if one.test == turn]
        return without(self.tests[number], aside) if aside else self.tests[number]

    @property
    def leader(self):
        """The finding with the greatest share."""
        return self.findings[0]

    @cached_property
    def chance(self):
        """How likely it is that the leader is there, alone or with a second fault, 0 to 1."""
        mine = [c.key == self.leader.cause for c in self.evidence.candidates]
        beside = min(self.two, float(self._beside[mine].sum()))
        return self.leader.share * (1 - self.two) + beside

    @property
    def pair(self):
        """The likeliest two faults at once: a `Finding` for each; none without any reading."""
        places = () if self._pair is None else self._pair.places
        keys = [self.evidence.candidates[place].key for place in places]
        found = zip(places, keys, strict=True)
        return tuple(
            Finding(self, place, float(self._share[place]), self._rival(key))
            for place, key in found
        )

    def _rival(self, key):
        """The cause that one is held against: the leader, or what comes next to it."""
        return next(one.cause for one in self.findings if one.cause != key)

    @property
    def together(self):
        """The names of the likeliest two faults at once."""
        return [one.called for one in self.pair]

    @cached_property
    def slight(self):
        """Whether nothing is found that is as large as a fault of its kind is."""
        if not self.explained or not self.turns:
            return False
        real = [one for one in (self.leader, *self.not_excluded) if one.smallest > 0]
        if self.leader.smallest > 0:
            real = real[:1]
        return all(one.size.m_as("m") < setting("slight") * one.smallest for one in real)

    @property
    def claim(self):
        """What the verdict claims: a key of `verdicts.CLAIMS`, such as "likely"."""
        return verdicts.claim(self)

    @property
    def sure(self):
        """Whether one cause is almost certain."""
        return self.claim == "almost_certain"

    @property
    def not_excluded(self):
        """The other findings that the leader does not beat by the factor called strong."""
        strong = scale()["strong"][0]
        return tuple(one for one in self.findings[1:] if strong * one.share > self.leader.share)

    @property
    def explained(self):
        """Whether one cause is enough: two are less likely, and the readings lie close to it."""
        return not resolution.at_least(self.two, 0.5) and not self.unknown

    @cached_property
    def unknown(self):
        """Whether the readings lie further from every cause, and from two, than scatter explains.

        An alternative that is likelier than another fits no worse: only the likeliest is asked.
        """
        if not self.turns:
            return False
        if not resolution.at_least(self.two, 0.5):
            place = int(resolution.leading(self._share, ALIKE))
            deviations = self.evidence.deviations[place, self._best[place]]
        else:
            deviations = self._pair.deviations
        misfit, count = self.evidence.misfit(*self.evidence.spreads(deviations))
        return bool(misfit > 1 + setting("misfit") * np.sqrt(2 / count))

    @property
    def verdict(self):
        """The outcome in a few sentences: what is to be read again, the cause, how sure it is."""
        return verdicts.verdict(self)

    @cached_property
    def remarks(self):
        """What these readings cannot tell, in sentences."""
        return (*verdicts.remarks(self), *coverage(self.tests))

    @cached_property
    def next_tests(self):
        """The usual clockings, ranked by how far they would tell the leading causes apart."""
        return suggestions(self.turns, self._share, self._best, self.evidence.aside)

    @property
    def next_test(self):
        """The clocking most worth making next."""
        return self.next_tests[0]

    @property
    def rows(self):
        """The findings as rows for a table: cause, part, how likely, size if it were that."""
        return [(one.name, one.part, percent(one.share), one.size) for one in self.findings]


def called(name, part):
    """Name a cause and, where it has one, its part: "oval (disc)"."""
    return f"{name} ({part})" if part in PLACES else name


def percent(share):
    """Return a chance in words: whole per cents, never 0 or 100."""
    if share < 0.005:
        return "below 1 %"
    return "above 99 %" if share > 0.995 else f"{100 * share:.0f} %"
