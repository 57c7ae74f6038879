"""What does a bare total add? Its half is an eccentricity without a direction.

Given the other readings, the eccentricity vector at a place is normally distributed about what they
predict; its length alone then follows Rice's distribution. Totals at one place in two states are
taken one after the other, so that a total that has changed speaks for what can change.
"""

import numpy as np

from workshop_lib.quantities import Q_
from workshop_lib.run_out.evidence import Evidence
from workshop_lib.run_out.readings import Readings

MARKS = np.radians(np.arange(0, 360, 30))
FINEST = 0.5e-6  # m; a total of nothing is read as less than this


def log_likelihood(tests, totals, aside=()):
    """Logarithm of the likelihood of bare totals, given tests with angles.

    tests: list of `Readings` and `Push`. totals: list of `Total`. aside: readings that do not
    count, as `Evidence` has them. Returns (causes, sizes) as `Evidence.log_likelihood` does; zeros
    without totals.
    """
    stand_ins = [_as_readings(total) for total in totals]
    both = Evidence([*tests, *stand_ins], aside)
    if not totals:
        return np.zeros(both.sizes.shape)
    mean, covariance = both.posterior(used=len(tests))
    blocks = [both.patterns[part] for part in both.parts[len(tests) :]]
    expected = [_vector(mean @ block.T) for block in blocks]
    noise = both.noise[..., len(tests) :]

    def shared(one, other):
        return np.einsum("kr,...rs,ks->...", blocks[one], covariance, blocks[other]) / MARKS.size

    found = 0.0
    for place, total in enumerate(totals):
        seen = max(total.core.total / 2, FINEST)
        middle, variance = expected[place], shared(place, place) + noise[..., place]
        before = _last_at_same_place(totals, place)
        if before is not None:
            own = shared(before, before) + noise[..., before]
            share = shared(place, before) / own
            size = np.abs(expected[before])
            unit = np.where(size > 0, expected[before] / np.where(size > 0, size, 1), 1)
            middle = middle + share * (totals[before].core.total / 2 * unit - expected[before])
            variance = variance - share**2 * own
        found = found + log_rice(seen, np.abs(middle), variance)
    return found


def _as_readings(total):
    """Return readings of nothing, whose patterns are those of a total."""
    core, division = total.core, total.core.graduation
    return Readings(
        Q_(MARKS, "rad"),
        Q_(np.zeros(MARKS.size), "m"),
        where=total.where,
        what=total.what,
        position=None if core.position is None else Q_(core.position, "m"),
        state=total.state,
        graduation=None if division is None else Q_(division, "m"),
    )


def _vector(values):
    """Return the first harmonic of readings at the marks, as complex numbers."""
    return 2 / MARKS.size * values @ np.exp(1j * MARKS)


def _last_at_same_place(totals, place):
    same = [
        number
        for number in range(place)
        if (totals[number].where, totals[number].what) == (totals[place].where, totals[place].what)
    ]
    return same[-1] if same else None


def log_rice(seen, middle, variance):
    """Logarithm of Rice's density: length of a vector about `middle` with that variance a part."""
    argument = seen * middle / variance
    near = np.log(np.i0(np.minimum(argument, 30.0)))
    far = argument - 0.5 * np.log(2 * np.pi * np.maximum(argument, 1.0))
    bessel = np.where(argument < 30, near, far)
    return np.log(seen / variance) - (seen**2 + middle**2) / (2 * variance) + bessel
