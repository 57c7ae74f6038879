"""Which clocking is worth making next? The one that tells the leading causes apart best.

Under each cause that still leads, the readings of a clocking to come are normally distributed about
what the readings so far predict. Where two such distributions hardly overlap, the clocking decides
between the two; the overlap is Bhattacharyya's coefficient.
"""

from dataclasses import dataclass, field

import numpy as np

from workshop_lib.run_out.clocking_list import Clocking, clockings
from workshop_lib.run_out.evidence import Evidence
from workshop_lib.run_out.weighing import setting

FEWEST, FAINTEST = 3, 1e-6  # so many are compared at least, and none weighs less than this


@dataclass(frozen=True, eq=False)
class Suggestion:
    """A clocking to come, and how far it would tell the leading causes apart."""

    clocking: Clocking
    telling: float  # 0: tells nothing; 1: tells all leading causes apart
    again: bool
    worth: float = field(repr=False)

    @property
    def sentence(self):
        """What to do, in words."""
        how = self.clocking.how
        return f"Repeat: {how[0].lower()}{how[1:]}" if self.again else how

    @property
    def caution(self):
        """What to take care of while doing it; empty when it needs nothing special."""
        return self.clocking.caution


def suggestions(tests, share, best_size, aside=()):
    """Rank the usual clockings by what they would tell. Returns a tuple of `Suggestion`.

    tests: the `Readings` and `Push`es so far. share: how likely each candidate is, as
    `Evidence.candidates` has them. best_size: number of each candidate's likeliest size. aside:
    readings that do not count, as `Evidence` has them.
    """
    leading = np.argsort(share)[::-1]
    leading = leading[: max(FEWEST, int(np.sum(share >= setting("leading_share"))))]
    divisions = [test.division for test in tests if test.division is not None]
    division = max(divisions) if divisions else None
    found = []
    for clocking in clockings():
        telling, worth = _told(tests, clocking, division, leading, share, best_size, aside)
        again = any(_same(clocking, test) for test in tests)
        found.append(Suggestion(clocking, telling, again, clocking.ease * worth))
    # Nearly equal ones keep the order of their table, which puts what is easy first.
    return tuple(sorted(found, key=lambda each: -round(each.worth, 3)))


def _same(clocking, test):
    core = test.core
    return (
        clocking.where == test.where
        and clocking.what == test.what
        and np.isclose(clocking.position, core.position or 0.0)
        and np.isclose(clocking.index, core.index)
    )


def _told(tests, clocking, division, leading, share, best_size, aside):
    """Return how far a clocking tells the leading causes apart, and what that is worth."""
    count = 7 if clocking.what == "push" else 13
    both = Evidence([*tests, clocking.test(np.zeros(count), graduation=division)], aside)
    contrasts = _contrasts(both.patterns[both.parts[-1]])
    sizes = best_size[leading]
    mean, covariance = both.posterior(leading, sizes, used=len(tests))
    noise = both.noise[leading, sizes, -1]
    middles = mean @ contrasts.T
    spreads = contrasts @ covariance @ contrasts.T + noise[:, None, None] * np.eye(count - 1)
    apart = 1 - overlap(middles, spreads)
    weights = np.maximum(share[leading], FAINTEST)
    weights = np.outer(weights, weights)
    np.fill_diagonal(weights, 0)
    worth = float(np.sum(weights * apart))
    return worth / float(weights.sum()), worth


def _contrasts(patterns):
    """Return the patterns as differences between readings, since the dial's offset is free."""
    count = patterns.shape[0]
    basis = np.linalg.qr(np.column_stack([np.ones(count), np.eye(count)[:, 1:]]))[0]
    return basis[:, 1:].T @ patterns


def overlap(middles, spreads):
    """Return Bhattacharyya's coefficient of every pair of normal distributions: 1 if they agree.

    middles: (k, n). spreads: covariances (k, n, n). Returns (k, k).
    """
    between = (spreads[:, None] + spreads[None]) / 2
    apart = middles[:, None] - middles[None]
    far = np.einsum("abi,abi->ab", apart, np.linalg.solve(between, apart[..., None])[..., 0])
    own = np.linalg.slogdet(spreads)[1]
    wide = np.linalg.slogdet(between)[1] - (own[:, None] + own[None]) / 2
    return np.exp(-far / 8 - wide / 2)
