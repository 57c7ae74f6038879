"""How does a check of a job answer? With a reason, and the changes that would fix it."""

import warnings
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from workshop_lib.own_files import as_typed
from workshop_lib.quantities import (
    OutOfRangeWarning,
    Quantity,
    in_system,
    resolution,
    rounded,
    speaking,
    system,
    unit_text,
)

OPEN = 0.99  # use of what is open, in the order of weight, whatever its numbers


@dataclass(frozen=True)
class Change:
    """Something to change: a sentence with its number, and the entries that would do it."""

    sentence: str
    entries: dict = field(default_factory=dict, repr=False)


@dataclass(frozen=True)
class Reason:
    """One thing that was asked. holds: "yes", "open" or "no". use: share of what is allowed.

    about: what it was asked of, such as "hold" or "rim". value, allowed: what was found and what
    may be. known: False where something that decides is not known. mend: finds what would mend
    it, a sequence of `Change`.
    """

    about: str
    holds: str
    use: float
    sentence: str
    value: object = None
    allowed: object = None
    mend: object = field(default=tuple, repr=False, compare=False)
    known: bool = True
    spoken: str | None = field(default_factory=system, repr=False, compare=False)

    @cached_property
    def changes(self):
        """What would mend it; looked for when first asked, since many other jobs are tried."""
        with warnings.catch_warnings(), speaking(self.spoken):  # of a job that was only tried
            warnings.simplefilter("ignore", OutOfRangeWarning)
            return tuple(self.mend())

    @property
    def rank(self):
        """Order of weight: what fails first, then what is open, then what holds."""
        return ("no", "open", "yes").index(self.holds), -self.use


def graded(use, near=1.0):
    """Say yes up to a share of what is allowed, open up to all of it, and no beyond."""
    return "yes" if resolution.at_least(near, use) else "open" if use <= 1 else "no"


def share(value, allowed):
    """What part of an allowed amount is used up; infinite where nothing is allowed.

    Exactly 1 where only rounding lies between the two.
    """
    part = float((value / allowed).m_as("")) if allowed.m > 0 else np.inf
    return 1.0 if resolution.same(part, 1.0) else part


def brief(value, figures=2):
    """Write a quantity or number to a few figures, without zeros that say nothing.

    >>> brief(Quantity(6.0, "m/min")), brief(Quantity(0.0060, "mm")), brief(2.0), brief(1.96)
    ('6 m/min', '0.006 mm', '2', '2')
    """
    if not isinstance(value, Quantity):
        return _short(value, figures)
    value = in_system(value)
    return f"{_short(value.m, figures)}{unit_text(value.units)}"


LONGEST_TYPED = 14  # characters up to which an amount is shown as it was typed


def as_spoken(q):
    """Write a quantity as it was typed where it was typed in the system that is spoken, else in it.

    What is converted is told to three figures, whole inches to four.

    >>> as_spoken(Quantity(78.0, "mm")), as_spoken(Quantity(0.62345678901, "mm"))
    ('78 mm', '0.6235 mm')
    """
    typed = as_typed(q)
    told = in_system(q)
    if told is q and len(typed) <= LONGEST_TYPED:
        return typed
    return brief(told, 3 if told is not q and str(told.units) != "inch" else 4)


def _short(number, figures):
    text = rounded(float(number), figures)
    return text.rstrip("0").rstrip(".") if "." in text else text
