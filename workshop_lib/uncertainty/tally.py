"""A stream of numbers, kept small: its moments, exact counts below limits, and its order.

Of the order a digest is kept: lists of BLOCK sorted values. Two lists of the same weight are merged
into one of twice the weight by taking every other value, so that n values need BLOCK log2(n/BLOCK)
places. A merger moves a rank by at most the weight, so that no share is off by more than
log2(n/BLOCK)/(2 BLOCK): 0.008 % for a million values, whatever the order in which they come. The
values kept are values that came, so that whole numbers stay whole and infinities may be among them.
"""

import numpy as np

BLOCK = 32_768


class Tally:
    """What is kept of a stream. limits: values below which everything is counted exactly."""

    def __init__(self, limits=()):
        self.below = dict.fromkeys(limits, 0)
        self.number = 0
        self._finite, self._mean, self._squares = 0, 0.0, 0.0
        self._infinite = set()
        self._full, self._rest = {}, []  # weight -> BLOCK sorted values; shorter blocks
        self._ordered = None  # all in order, once asked for
        self._odd = {}  # weight -> whether the next merger takes the odd places

    def add(self, values):
        """Take in a block of BLOCK values; the last block may hold fewer."""
        self.number += values.size
        self._ordered = None
        for limit in self.below:
            self.below[limit] += int(np.count_nonzero(values < limit))
        ordered = np.sort(values)
        self._keep(ordered)
        if np.isinf(ordered[[0, -1]]).any():
            self._infinite |= set(ordered[np.isinf(ordered)].tolist())
            values = values[np.isfinite(values)]
        if values.size:
            self._moments(values)

    def _moments(self, values):
        """Mean and sum of squares about it, joined block by block so that no figures are lost."""
        total = self._finite + values.size
        shift = values.mean() - self._mean
        self._squares += values.var() * values.size
        self._squares += shift**2 * self._finite * values.size / total
        self._mean += shift * values.size / total
        self._finite = total

    def _keep(self, values):
        """Add a sorted block to the lists, and merge as long as there are two of one weight."""
        weight = 1
        while values.size == BLOCK and weight in self._full:
            both = np.concatenate([self._full.pop(weight), values])
            both.sort(kind="stable")
            odd = self._odd[weight] = not self._odd.get(weight, True)
            values, weight = both[int(odd) :: 2].copy(), 2 * weight
        if values.size == BLOCK:
            self._full[weight] = values
        else:
            self._rest.append(values)

    @property
    def mean(self):
        """Mean of all values; infinite if some are, NaN if they are so both ways."""
        return float(sum(self._infinite)) if self._infinite else float(self._mean)

    @property
    def deviation(self):
        """Standard deviation of all values; infinite if some are."""
        if self._infinite:
            return np.inf
        return float(np.sqrt(self._squares / max(self.number - 1, 1)))

    def _in_order(self):
        """All kept values in order, and how many of the stream stand up to and with each."""
        if self._ordered is None:
            self._ordered = self._put_in_order()
        return self._ordered

    def _put_in_order(self):
        values = np.concatenate([*self._full.values(), *self._rest])
        weights = np.ones(values.size, int)
        weights[: BLOCK * len(self._full)] = np.repeat(list(self._full), BLOCK)
        order = np.argsort(values, kind="stable")
        return values[order], np.cumsum(weights[order])

    def quantile(self, shares):
        """The least value that at least those shares of the stream do not exceed."""
        values, up_to = self._in_order()
        return values[self._place(up_to, np.asarray(shares) * self.number)]

    def _place(self, up_to, wanted):
        """First place at which so many are reached; what is rounded off does not count."""
        place = np.searchsorted(up_to, wanted * (1 - 1e-12), side="left")
        return np.minimum(place, up_to.size - 1)

    def share_below(self, limit):
        """Share of the stream that is less than a limit: exact for a limit named beforehand."""
        if limit in self.below:
            return self.below[limit] / self.number
        values, up_to = self._in_order()
        place = int(np.searchsorted(values, limit, side="left"))
        return float(up_to[place - 1] / self.number) if place else 0.0

    def shortest(self, share):
        """Ends of the shortest interval that holds that share."""
        values, up_to = self._in_order()
        before = np.concatenate([[0], up_to[:-1]])
        wanted = before + share * self.number
        starts = np.flatnonzero(wanted <= self.number * (1 + 1e-12))
        ends = self._place(up_to, wanted[starts])
        with np.errstate(invalid="ignore"):
            widths = values[ends] - values[starts]
        widths = np.where(np.isnan(widths), np.inf, widths)
        # Where infinities are too many to be left out, the interval begins as high as it can.
        best = int(np.argmin(widths)) if np.isfinite(widths).any() else starts.size - 1
        return np.array([values[starts[best]], values[ends[best]]])
