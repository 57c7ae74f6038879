"""A few readings of one thing: their mean, their scatter, and the one that stands out."""

import numpy as np

from workshop_lib.quantities import KINDS, InputError, Quantity, quote, to_core
from workshop_lib.uncertainty.spreads import even, exactly, student

FEWEST, MOST = 3, 1000
ODDS = 0.05  # of calling a reading far from the rest although it belongs to them
STEPS = 2001


def readings(kind, sign="> 0"):
    """Return a converter (value, name) to an array of readings; a bad one is named by its number.

    kind, sign: as for a boundary.
    """

    def convert(value, name):
        listed = isinstance(value, list | tuple) or (
            isinstance(value, np.ndarray | Quantity) and np.ndim(value) == 1
        )
        if not listed:
            mend = f"Give a list, such as ['{KINDS[kind].example}', …]"
            raise InputError(name, f"{quote(value)} is not a row of readings", mend)
        if not FEWEST <= len(value) <= MOST:
            problem = f"from {FEWEST} to {MOST} readings are wanted, not {len(value)}"
            raise InputError(name, problem, "Take five or more")
        return np.array(
            [
                _one(item, kind, sign, f"{name}, reading {n}")
                for n, item in enumerate(value, start=1)
            ]
        )

    return convert


def _one(item, kind, sign, name):
    number = to_core(item, kind, name, sign)
    if np.ndim(number):
        raise InputError(name, "one value is wanted, not several")
    return number


def deviation(values):
    """Standard deviation of one reading, from the scatter of all; exactly 0 where none differs."""
    return float(np.std(values, ddof=1)) if np.ptp(values) else 0.0


def mean_spread(values):
    """How sure the mean is: t, scaled by s/sqrt(n), with n − 1 degrees of freedom (JCGM 101)."""
    return _t(values, deviation(values) / np.sqrt(values.size))


def next_spread(values):
    """Where the next reading will lie: t, scaled by s sqrt(1 + 1/n)."""
    return _t(values, deviation(values) * np.sqrt(1 + 1 / values.size))


def _t(values, scale):
    mean = float(np.mean(values))
    return student(mean, float(scale), values.size - 1) if scale else exactly(mean)


def division_spread(graduation):
    """What reading to the nearest division leaves open: half a division either way."""
    return exactly(0) if graduation is None else even(-graduation / 2, graduation / 2)


def beyond(ratio, freedom):
    """Chance that a t distribution of so many degrees of freedom lies farther out than ± ratio.

    With t = sqrt(v) tan(a) the density becomes cos(a)^(v − 1), which is smooth and ends at 90°.
    """
    angle = np.arctan2(ratio, np.sqrt(freedom))
    inside = _area(0, angle, freedom)
    return float(1 - inside / (inside + _area(angle, np.pi / 2, freedom)))


def _area(start, end, freedom):
    """Simpson's rule on cos(a)^(v − 1), in any unit of area."""
    angles = np.linspace(start, end, STEPS)
    height = np.maximum(np.cos(angles), 0) ** (freedom - 1)
    weights = np.ones(STEPS)
    weights[1:-1:2], weights[2:-1:2] = 4, 2
    return (weights @ height) * (end - start)


def far_from_the_rest(values, graduation=None):
    """Place of the reading that does not seem to belong to the others, or None.

    Grubbs' test at 5 %, written as a t test of the one against the mean of the rest; the rest is
    never taken to scatter less than its scale's division does.
    """
    count = values.size
    place = int(np.argmax(np.abs(values - np.mean(values))))
    rest = np.delete(values, place)
    scatter = max(deviation(rest), 0.0 if graduation is None else graduation / np.sqrt(12))
    away = abs(values[place] - np.mean(rest))
    if away <= 1e-12 * abs(values[place]):
        return None
    if scatter == 0:
        return place
    chance = count * beyond(away / (scatter * np.sqrt(count / (count - 1))), count - 2)
    return place if chance < ODDS else None
