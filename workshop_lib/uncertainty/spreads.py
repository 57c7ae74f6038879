"""How is an input distributed? Spreads to draw from, chosen after JCGM 101, section 6.4.

A spread is made by the call that names what is known: a measured value (`normal`), a mean of few
readings (`student`), two limits (`even`), a low / typical / high triple (`of_range`), and so on.
"""

from dataclasses import dataclass, field

import numpy as np

from workshop_lib.quantities import KINDS, InputError, Quantity, quote, to_core
from workshop_lib.uncertainty.one_unit import numbers, refuse_below_zero, refuse_falling, said


@dataclass(frozen=True, eq=False)
class Spread:
    """One input's distribution: what is drawn, its expectation and its standard uncertainty.

    best: expectation. standard_uncertainty: as JCGM 100 takes it. lowest: no draw is less. These
    are bare numbers in `unit`, which the draws carry (None: plain numbers).
    """

    words: str
    best: float
    standard_uncertainty: float
    unit: object = field(repr=False)
    lowest: float = field(repr=False)
    sampler: object = field(repr=False)

    def __post_init__(self):
        for name in ("best", "standard_uncertainty", "lowest"):
            object.__setattr__(self, name, float(getattr(self, name)))

    def __str__(self):
        return self.words

    def draw(self, generator, size):
        """That many draws, with the unit. generator: a `numpy.random.Generator`."""
        return self._with_unit(self.sampler(generator, size))

    def middle(self, size):
        """The expectation, that many times."""
        return self._with_unit(np.full(size, self.best))

    def around(self):
        """One standard uncertainty below and above the expectation."""
        return self._with_unit(self.best + self.standard_uncertainty * np.array([-1.0, 1.0]))

    def bare(self, kind, name="spread"):
        """The same spread in plain numbers of a kind's core unit, such as newtons for "force".

        Raises InputError, by name, when it is no spread of that kind.
        """
        if self.unit is None and kind != "ratio":
            mend = f"Make it from quantities, such as '{KINDS[kind].example}'"
            raise InputError(name, f"is a spread of plain numbers, not of {kind}s", mend)
        factor = 1.0 if self.unit is None else to_core(Quantity(1.0, self.unit), kind, name)
        return Spread(
            self.words,
            self.best * factor,
            self.standard_uncertainty * factor,
            None,
            self.lowest * factor,
            lambda generator, size: self.sampler(generator, size) * factor,
        )

    def not_below_zero(self):
        """The same spread in which a draw below zero counts as zero; itself if there is none."""
        if self.lowest >= 0:
            return self
        best, unsure = max(self.best, 0.0), self.standard_uncertainty

        def sampler(generator, size):
            return np.maximum(self.sampler(generator, size), 0.0)

        return Spread(self.words, best, unsure, self.unit, 0.0, sampler)

    @property
    def is_exact(self):
        """Whether it has no width at all."""
        return self.standard_uncertainty == 0

    def _with_unit(self, numbers):
        return numbers if self.unit is None else Quantity(numbers, self.unit)


def exactly(value):
    """A value that is known, or is to be taken as known: every draw is the same.

    value: quantity, text or plain number. Returns a `Spread`. Raises InputError.

    >>> print(exactly("78 mm"))
    exactly 78 mm
    """
    (number,), unit = numbers(value=value)
    words = f"exactly {said(number, unit)}"
    return Spread(words, number, 0.0, unit, number, lambda _, size: np.full(size, number))


def normal(mean, standard_uncertainty):
    """A measured value with its standard uncertainty: a normal distribution.

    mean, standard_uncertainty: quantities, text or plain numbers, in units of one kind. Returns a
    `Spread`. Raises InputError. Source: jcgm-101.

    >>> print(normal("600 N", "30 N"))
    normal, 600 N with a standard uncertainty of 30 N
    """
    (mean, unsure), unit = numbers(mean=mean, standard_uncertainty=standard_uncertainty)
    refuse_below_zero(standard_uncertainty=unsure)
    words = f"normal, {said(mean, unit)} with a standard uncertainty of {said(unsure, unit)}"
    lowest = -np.inf if unsure else mean
    return Spread(words, mean, unsure, unit, lowest, lambda g, n: g.normal(mean, unsure, n))


def even(low, high):
    """Anywhere between two limits, none more likely than another: a rectangular distribution.

    So a reading is spread over its scale's division. low, high: quantities, text or plain numbers.
    Returns a `Spread` with the standard uncertainty (high − low)/sqrt(12). Raises InputError.
    Source: jcgm-101; gum-resolution.

    >>> print(even("-5 N", "5 N"), round(even(-3, 3).standard_uncertainty, 3))
    even, from -5 N to 5 N 1.732
    """
    (low, high), unit = numbers(low=low, high=high)
    refuse_falling(low=low, high=high)
    words = f"even, from {said(low, unit)} to {said(high, unit)}"
    unsure = (high - low) / np.sqrt(12)
    return Spread(words, (low + high) / 2, unsure, unit, low, lambda g, n: g.uniform(low, high, n))


def triangular(low, typical, high):
    """Limits that are not passed, and a likeliest value between them: a triangular distribution.

    low, typical, high: quantities, text or plain numbers. Returns a `Spread`: expectation
    (low + typical + high)/3, variance (l² + t² + h² − lt − lh − th)/18. Raises InputError.
    Source: gum (4.3.9, for the symmetrical one).

    >>> print(triangular(0.2, 0.3, 0.45))
    triangular, from 0.2 to 0.45, likeliest 0.3
    """
    (low, typical, high), unit = numbers(low=low, typical=typical, high=high)
    refuse_falling(low=low, high=high)
    if not low <= typical <= high:
        raise InputError("typical", "must lie between low and high")
    ends = f"from {said(low, unit)} to {said(high, unit)}"
    words = f"triangular, {ends}, likeliest {said(typical, unit)}"
    below, above = typical - low, high - typical
    unsure = np.sqrt((below**2 + below * above + above**2) / 18)
    mean = low + (2 * below + above) / 3
    return Spread(words, mean, unsure, unit, low, lambda g, n: g.triangular(low, typical, high, n))


def of_range(span):
    """How an assumed low / typical / high triple is read: as a triangle.

    Three numbers say more than two limits, for which JCGM 101 takes a rectangle, and less than a
    measurement, for which it takes a normal or t distribution. A triangle uses the three and adds
    nothing: no draw passes the limits, and typical is the likeliest. Mind that its corners are
    drawn seldom, so that a chance calculated from assumed triples is no firmer than the triples.
    Three equal values give `exactly` that value.

    span: a `tables.Range`, or three quantities, texts or plain numbers. Returns a `Spread`. Raises
    InputError.

    >>> print(of_range((0.2, 0.3, 0.45)))
    triangular, from 0.2 to 0.45, likeliest 0.3
    """
    few = list(span) if np.iterable(span) and not isinstance(span, str | bytes | dict) else []
    if len(few) != 3:
        mend = "Give low, typical and high"
        raise InputError("span", f"{quote(span)} does not hold three values", mend)
    (low, typical, high), unit = numbers(low=few[0], typical=few[1], high=few[2])
    return exactly(few[0]) if low == typical == high else triangular(*few)


def student(mean, scale, degrees_of_freedom):
    """A mean of few readings: a t distribution, scaled by s/sqrt(n) and shifted to the mean.

    mean, scale: quantities, text or plain numbers. degrees_of_freedom: of n readings n − 1. Returns
    a `Spread`. Its standard_uncertainty is the scale, as JCGM 100 has it; the draws spread wider,
    by sqrt(v/(v − 2)) for v > 2 degrees of freedom. Raises InputError. Source: jcgm-101.

    >>> print(student("600 N", "12 N", 4))
    t, 600 N with a scale of 12 N and 4 degrees of freedom
    """
    (mean, scale), unit = numbers(mean=mean, scale=scale)
    (freedom,), plain = numbers(degrees_of_freedom=degrees_of_freedom)
    refuse_below_zero(scale=scale)
    if plain is not None or freedom <= 0:
        raise InputError("degrees_of_freedom", "must be a plain number greater than zero")
    sizes = f"{said(mean, unit)} with a scale of {said(scale, unit)}"
    words = f"t, {sizes} and {freedom:g} degrees of freedom"
    lowest = -np.inf if scale else mean

    def sampler(generator, size):
        return mean + scale * generator.standard_t(freedom, size)

    return Spread(words, mean, scale, unit, lowest, sampler)


def arcsine(low, high):
    """What swings to and fro between two limits, such as a temperature: a U-shaped distribution.

    low, high: quantities, text or plain numbers. Returns a `Spread` with the standard uncertainty
    (high − low)/sqrt(8). Raises InputError. Source: jcgm-101.

    >>> round(arcsine(-0.5, 0.5).standard_uncertainty, 4)
    0.3536
    """
    (low, high), unit = numbers(low=low, high=high)
    refuse_falling(low=low, high=high)
    middle, swing = (low + high) / 2, (high - low) / 2
    words = f"swinging, from {said(low, unit)} to {said(high, unit)}"

    def sampler(generator, size):
        return middle + swing * np.sin(2 * np.pi * generator.random(size))

    return Spread(words, middle, swing / np.sqrt(2), unit, low, sampler)


def blurred_even(low, high, blur):
    """Two limits that are themselves known only to ± blur: a curvilinear trapezoid.

    low, high, blur: quantities, text or plain numbers; the width may change by the blur at either
    end, the middle stays. Returns a `Spread` with the variance (high − low)²/12 + blur²/9. Raises
    InputError. Source: jcgm-101.

    By hand: sqrt(0.1²/12 + 0.025²/9).
    >>> round(blurred_even(-0.05, 0.05, 0.025).standard_uncertainty, 4)
    0.03
    """
    (low, high, blur), unit = numbers(low=low, high=high, blur=blur)
    refuse_falling(low=low, high=high)
    if not 0 <= blur <= (high - low) / 2:
        raise InputError("blur", "must lie between zero and half the width")
    ends = f"from {said(low, unit)} to {said(high, unit)}"
    words = f"even, {ends}, each limit known to ±{said(blur, unit)}"

    def sampler(generator, size):
        lower = low + blur * generator.uniform(-1, 1, size)
        return lower + (low + high - 2 * lower) * generator.random(size)

    unsure = np.sqrt((high - low) ** 2 / 12 + blur**2 / 9)
    return Spread(words, (low + high) / 2, unsure, unit, low - blur, sampler)
