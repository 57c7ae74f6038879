"""What do a few readings of one thing say? Their mean, their scatter, the odd one out."""

import numpy as np

from workshop_lib.quantities import KINDS, InputError, Quantity, quote, resolution, to_core
from workshop_lib.uncertainty.spreads import even, exactly, student

FEWEST, MOST = 3, 1000
DIVISION = 1 / np.sqrt(3)  # of a division: what one reading is trusted to, see `resolution`


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
            raise InputError(name, f"{quote(value)} is not a list of readings", mend)
        if not FEWEST <= len(value) <= MOST:
            problem = f"give {FEWEST} to {MOST} readings, not {len(value)}"
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
        raise InputError(name, "give one value, not several")
    return number


def deviation(values):
    """Standard deviation of one reading, from the scatter of all; exactly 0 where none differs."""
    return float(resolution.deviation(values))


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


def far_from_the_rest(values, graduation=None):
    """Place of the reading that does not seem to belong to the others, or None.

    Grubbs' test at 5 %, written as a t test of the one against the mean of the rest. It must stand
    far from the rest by their own scatter, and also by what the scale's division alone does; where
    no division is given it is the largest step of which all readings are multiples.
    """
    count, small = values.size, resolution.dust(values)
    place = int(resolution.leading(np.abs(values - np.mean(values)), small))
    rest = np.delete(values, place)
    away = resolution.without_dust(np.abs(values[place] - np.mean(rest)), 2 * small)
    away = away / np.sqrt(count / (count - 1))
    step = resolution.common_step(values) if graduation is None else graduation
    kinds = (deviation(rest), count - 2), ((step or 0) * DIVISION, count - 2 + resolution.REPUTE)
    chances = [resolution.beyond(away / scatter, freedom) for scatter, freedom in kinds if scatter]
    return place if away and count * max(chances, default=0.0) < resolution.STATED else None
