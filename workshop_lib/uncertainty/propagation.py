"""Propagation of distributions: what spread has a result when its inputs have theirs?

After JCGM 101 by Monte Carlo, with the linear law of JCGM 100 beside it.
"""

from dataclasses import dataclass, field
from statistics import NormalDist

import numpy as np

from workshop_lib.quantities import (
    InputError,
    Quantity,
    as_numbers,
    quote,
    resolution,
    show,
    whole_number,
)
from workshop_lib.uncertainty.draws import Ordered
from workshop_lib.uncertainty.one_unit import quantity
from workshop_lib.uncertainty.spreads import Spread

MOST_DRAWS = 10_000_000  # 80 MB of answers
BLOCK = 32_768  # draws at a time: what a processor holds close
NEAR = 0.1  # as a share of the standard uncertainty; see `Outcome.linear_is_good`


@dataclass(frozen=True, eq=False)
class Outcome:
    """What came of the draws, in the function's own unit.

    mean, standard_uncertainty: quantities or plain numbers; infinite where the function was.
    draws: how many. contributions: input -> share of the variance in which it has a hand, largest
    first (see `propagate`). estimate: the function of the inputs' expectations. linear: its
    standard uncertainty by the law of propagation (JCGM 100). The other names ask the distribution.
    """

    mean: object
    standard_uncertainty: object
    draws: int
    contributions: dict
    estimate: object
    linear: object
    _answers: object = field(repr=False)
    _unit: object = field(repr=False)

    @property
    def median(self):
        """The value that half of the draws did not exceed."""
        return self._given(self._answers.quantile(0.5).item())

    def interval(self, coverage=0.95):
        """The interval that leaves out equal shares at both ends."""
        share = _share(coverage, "coverage")
        return self._given(self._answers.quantile([(1 - share) / 2, (1 + share) / 2]))

    def shortest(self, coverage=0.95):
        """The shortest interval with that coverage."""
        return self._given(self._answers.shortest(_share(coverage, "coverage")))

    def quantile(self, share):
        """The value that this share of the draws did not exceed."""
        return self._given(self._answers.quantile(_share(share, "share")).item())

    def chance_below(self, limit):
        """The share of the draws that fell below a limit: a plain number from 0 to 1."""
        return self._answers.share_below(_in_unit(limit, self._unit, "limit"))

    def linear_interval(self, coverage=0.95):
        """What JCGM 100 gives for it: the estimate and so many standard uncertainties about it."""
        share = _share(coverage, "coverage")
        times = NormalDist().inv_cdf((1 + share) / 2)
        return self._given(_bare(self.estimate) + times * _bare(self.linear) * np.array([-1, 1]))

    def linear_chance_below(self, limit):
        """What JCGM 100 gives for the chance of less than a limit, taking the result for normal.

        0 or 1 where the linear uncertainty is none; NaN where it is not known.
        """
        estimate, unsure = _bare(self.estimate), _bare(self.linear)
        limit = _in_unit(limit, self._unit, "limit")
        if not (np.isfinite(unsure) and unsure > 0 and np.isfinite(estimate)):
            return np.nan if unsure != 0 else float(not resolution.at_least(estimate, limit))
        return NormalDist(estimate, unsure).cdf(limit)

    @property
    def linear_is_good(self):
        """Whether linear propagation would have done.

        As in JCGM 101, clause 8, the ends of both 95 % intervals are compared; they must agree
        within a tenth of the standard uncertainty. Ask with 100 000 draws or more.
        """
        ends, linear = _bare(self.interval()), _bare(self.linear_interval())
        with np.errstate(invalid="ignore"):
            apart = np.abs(ends - linear).max()
        near = NEAR * _bare(self.standard_uncertainty)
        size = np.abs(ends).max()
        return bool(np.isfinite(near) and not resolution.more_than(apart, near, size))

    def _given(self, numbers):
        return numbers if self._unit is None else Quantity(numbers, self._unit)

    def __str__(self):
        low, high = (show(end) for end in self.interval())
        unsure = show(self.standard_uncertainty, figures=2)
        return f"{show(self.mean)} ± {unsure}, 95 % of it from {low} to {high}"


def propagate(function, inputs, draws, seed, progress=None):
    """What spread does a result have when its inputs have theirs?

    Every input is drawn from its spread, the function is asked for each draw, and the distribution
    of the answers is the answer (JCGM 101). Beside it: u² = Σ (f(x_i + u_i) − f(x_i − u_i))²/4,
    the law of propagation with its slopes by differences (JCGM 100, 5.1.3).

    function: called with one array for each input, by name, in the unit of its spread (plain
    numbers where it has none); gives an array of the same length, or one value if it is constant.
    inputs: name -> `Spread`. draws: whole number from 1000 to 10 million. seed: whole number; the
    same seed, the same result. progress: called with (done, draws) after each block, or None.
    Returns an `Outcome`. Raises InputError, also when the function gives NaN.
    Notes: inputs are independent of one another. The draws come in blocks; of each only its answer
    is kept, 8 bytes. A contribution is the
    share of the variance that would be left if all other inputs were known exactly, on average:
    shares add up to 1 where effects add up, and to more where inputs act together. They are found
    to about 0.01 from a block of 32 768 draws, less well from fewer. Where some answers are
    infinite the shares are those of the answers' ranks.
    Source: jcgm-101; gum for the linear law; jansen-1999 for the contributions.

    >>> from workshop_lib.uncertainty import normal
    >>> four = {name: normal(0, 1) for name in "abcd"}
    >>> found = propagate(lambda a, b, c, d: a + b + c + d, four, draws=100_000, seed=1)
    >>> print(round(found.standard_uncertainty, 1), round(found.linear, 6))
    2.0 2.0
    """
    draws = whole_number(1000, MOST_DRAWS)(draws, "draws")
    seed = whole_number(0, 2**63)(seed, "seed")
    _check(function, inputs, progress)
    estimate, unit = _ask(function, {key: each.middle(1) for key, each in inputs.items()}, 1)
    answers = np.empty(draws)
    generator = np.random.default_rng(seed)
    for start in range(0, draws, BLOCK):
        size = min(BLOCK, draws - start)
        drawn = _drawn(inputs, generator, size)
        answers[start : start + size] = _ask(function, drawn, size, unit)[0]
        if progress is not None:
            progress(start + size, draws)
    shares = _contributions(
        function, inputs, np.random.default_rng([seed, 1]), unit, min(draws, BLOCK)
    )
    parts = linear_parts(function, inputs, unit)  # NaN where the function has no slope
    ordered = Ordered(answers)
    del answers  # the ordered ones are enough: two of these arrays at most are held at a time
    found = ordered.mean, ordered.deviation, float(estimate[0]), _joined(parts)
    if unit is not None:
        found = tuple(Quantity(number, unit) for number in found)
    mean, deviation, estimate, linear = found
    return Outcome(mean, deviation, draws, shares, estimate, linear, ordered, unit)


def _check(function, inputs, progress):
    for name, value in (("function", function), ("progress", progress)):
        if not callable(value) and not (name == "progress" and value is None):
            raise InputError(name, f"{quote(value)} cannot be called")
    if not isinstance(inputs, dict) or not inputs:
        raise InputError("inputs", f"{quote(inputs)} is not a dictionary of spreads by name")
    for name, spread in inputs.items():
        if not isinstance(spread, Spread):
            mend = "Make one, such as spreads.normal('600 N', '30 N')"
            raise InputError(str(name), f"{quote(spread)} is not a spread", mend)


def _drawn(inputs, generator, size):
    return {name: spread.draw(generator, size) for name, spread in inputs.items()}


def _ask(function, values, size, unit=None):
    """Ask the function once for many values; give bare numbers and their unit."""
    answer = function(**values)
    if isinstance(answer, Quantity):
        unit = answer.units if unit is None and not answer.unitless else unit
        answer = answer.m_as("dimensionless" if unit is None else unit)
    try:
        numbers = np.asarray(answer, dtype=float)
    except (TypeError, ValueError) as error:
        raise InputError("function", f"gave {quote(answer)}, not numbers") from error
    if numbers.ndim == 0:
        numbers = np.full(size, float(numbers))
    if numbers.shape != (size,):
        raise InputError("function", f"gave the shape {numbers.shape} for {size} draws")
    if np.isnan(numbers).any():
        raise InputError("function", "gave NaN (not a number) for some of the draws")
    return numbers, unit


def _contributions(function, inputs, generator, unit, size):
    """Jansen's estimate of each input's total share of the variance, largest first."""
    drawn = _drawn(inputs, generator, size)
    answers, _ = _ask(function, drawn, size, unit)
    shares = dict.fromkeys(inputs, 0.0)
    for name, spread in inputs.items():
        if not spread.is_exact:
            anew = drawn | {name: spread.draw(generator, size)}
            changed, _ = _ask(function, anew, size, unit)
            shares[name] = _left_by(answers, changed)
    return {name: shares[name] for name in sorted(shares, key=shares.get, reverse=True)}


def _left_by(answers, changed):
    if not (np.isfinite(answers).all() and np.isfinite(changed).all()):
        _, ranks = np.unique(np.concatenate([answers, changed]), return_inverse=True)
        answers, changed = ranks[: answers.size].astype(float), ranks[answers.size :].astype(float)
    total = (np.var(answers) + np.var(changed)) / 2
    if not resolution.span(np.append(answers, changed)):
        return 0.0
    return float(min(np.mean((answers - changed) ** 2) / 2 / total, 1.0))


def computed(function, inputs, words="computed"):
    """How is a value spread that follows from others? Drawn by drawing those.

    function, inputs: as for `propagate`. words: what to call the spread. Returns a `Spread` whose
    `best` is the function of the expectations and whose standard_uncertainty is the linear law's.
    Raises InputError. Source: jcgm-101.

    By hand: (3² + 4²) = 5².
    >>> from workshop_lib.uncertainty import normal
    >>> computed(lambda a, b: a - b, {"a": normal(10, 3), "b": normal(4, 4)}).standard_uncertainty
    5.0
    """
    _check(function, inputs, None)
    best, unit = _ask(function, {key: each.middle(1) for key, each in inputs.items()}, 1)
    unsure = _joined(linear_parts(function, inputs, unit))

    def sampler(generator, size):
        return _ask(function, _drawn(inputs, generator, size), size, unit)[0]

    return Spread(words, best[0], unsure, unit, -np.inf, sampler)


def linear_parts(function, inputs, unit=None):
    """What one standard uncertainty of each input does to the answer, in bare numbers."""
    middle = {name: spread.middle(2) for name, spread in inputs.items()}
    parts = dict.fromkeys(inputs, 0.0)
    for name, spread in inputs.items():
        if not spread.is_exact:
            answer, _ = _ask(function, middle | {name: spread.around()}, 2, unit)
            with np.errstate(invalid="ignore"):
                parts[name] = float(_moved(answer)) / 2
    return parts


def _moved(ends):
    """How far the second lies above the first; nothing where only rounding parts them."""
    apart = ends[1] - ends[0]
    return resolution.without_dust(apart, resolution.dust(ends)) if np.isfinite(apart) else apart


def _joined(parts):
    return float(np.sqrt(sum(part**2 for part in parts.values())))


def _in_unit(value, unit, name):
    """A limit as a bare number in the function's unit."""
    value = quantity(value, name)
    if isinstance(value, Quantity):
        wanted = "dimensionless" if unit is None else unit
        if not value.is_compatible_with(wanted):
            raise InputError(name, f"{quote(value)} is not in the unit of the answer")
        value = value.m_as(wanted)
    elif unit is not None:
        raise InputError(name, f"{quote(value)} has no unit, but the answer has {unit}")
    number = as_numbers(value, name)
    if number.ndim:
        raise InputError(name, "give one value, not several")
    return float(number)


def _share(value, name):
    if isinstance(value, bool) or not isinstance(value, int | float) or not 0 < value < 1:
        raise InputError(name, f"{quote(value)} is not a share between 0 and 1")
    return float(value)


def _bare(value):
    return value.magnitude if isinstance(value, Quantity) else value
