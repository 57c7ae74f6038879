"""How well does each cause explain all readings together? One linear model, summed up exactly.

Readings = an offset for each test + sum over all causes of pattern × size + scatter. The size of
each column is normally distributed with mean 0: with the background's standard deviation for every
cause, except for the one that is put to the test, which has one of its usual sizes. The likelihood
of all readings under one cause is then a normal distribution that can be written down. It is
averaged over five sizes from low to high, and over two kinds of set-up: one with the usual small
errors, and a rough one (`belief.csv`). The offsets are left free (each test is centred).
"""

import numpy as np

from workshop_lib.run_out import causes, patterns, weighing

SIZES = 5
BARE_MINIMUM = 1e-9  # m; no reading is surer than a nanometre, however fine the graduation


class Evidence:
    """The patterns of every cause in these tests, and the likelihood of the readings under each.

    tests: list of `Readings` and `Push`. The rows of every result are `.candidates`, the columns
    the five sizes in a usual set-up, and once more in a rough one.
    """

    def __init__(self, tests):
        self.tests = list(tests)
        self.rows = causes.known()
        self.candidates = tuple(row for row in self.rows if row.candidate)
        found = [patterns.columns(row, self.tests) for row in self.rows]
        self.patterns = np.concatenate([block for block, _, _ in found], axis=1)
        self.labels = [label for _, labels, _ in found for label in labels]
        self.portion = np.array([one for _, _, portions in found for one in portions])
        widths = [block.shape[1] for block, _, _ in found]
        self.owner = np.repeat(np.arange(len(self.rows)), widths)
        ends = np.cumsum([0, *(test.core.readings.size for test in self.tests)])
        self.parts = [slice(*pair) for pair in zip(ends, ends[1:], strict=False)]
        self._sum_up()
        self._set_sizes()

    def _sum_up(self):
        """Centre every test, and keep the sums over its readings that all likelihoods need."""
        self.counts = np.array([test.core.readings.size - 1 for test in self.tests], dtype=float)
        centred = [self.patterns[part] - self.patterns[part].mean(axis=0) for part in self.parts]
        values = [test.core.readings - test.core.readings.mean() for test in self.tests]
        columns = self.patterns.shape[1]
        shape = (len(self.tests), columns)
        self.grams = np.array([c.T @ c for c in centred]).reshape(*shape, columns)
        pairs = list(zip(centred, values, strict=True))
        self.products = np.array([c.T @ v for c, v in pairs]).reshape(shape)
        self.squares = np.array([v @ v for v in values])

    def _set_sizes(self):
        """Variance of every column, and of one reading of every test, for each cause and size."""
        background = np.array([row.background for row in self.rows])
        own = np.array([self.rows.index(cause) for cause in self.candidates])
        rough = [weighing.setting(key) for key in ("roughness_usual", "roughness_high")]
        sizes = np.array([_five(*cause.sizes) * len(rough) for cause in self.candidates])
        every = np.repeat(rough, SIZES)[:, None] * np.tile(background, (*sizes.shape, 1))
        place = np.broadcast_to(own[:, None, None], (*sizes.shape, 1))
        np.put_along_axis(every, place, sizes[..., None], axis=-1)
        shares = np.array(
            [[patterns.scatter(row, test) for row in self.rows] for test in self.tests]
        )
        rounding = np.array([(test.division or 0.0) ** 2 / 12 for test in self.tests])
        self.variances = every[..., self.owner] ** 2 * self.portion
        self.noise = every**2 @ shares.reshape(-1, len(self.rows)).T ** 2 + rounding
        self.noise += BARE_MINIMUM**2
        self.sizes = sizes

    def log_likelihood(self, keep=None, only=None):
        """Logarithm of the likelihood of the readings, for each cause and size.

        keep: 0 or 1 for each test, to leave tests out; (…, tests). only: for each cause the number
        of the one size to take; None for all. Returns (…, causes, sizes).
        """
        keep = np.ones(len(self.tests)) if keep is None else np.asarray(keep, dtype=float)
        chosen = ... if only is None else (np.arange(len(self.candidates))[:, None], only[:, None])
        noise, root = self.noise[chosen], np.sqrt(self.variances[chosen])
        weights = keep[..., None, None, :] / noise
        lower = np.linalg.cholesky(self._inner(weights, root))
        seen = np.einsum("...t,tr->...r", weights, self.products) * root
        solved = np.linalg.solve(lower, seen[..., None])[..., 0]
        explained = np.sum(solved**2, axis=-1)
        spread = 2 * np.log(np.diagonal(lower, axis1=-2, axis2=-1)).sum(axis=-1)
        used = (keep * self.counts)[..., None, None, :]
        spread = spread + np.sum(used * np.log(2 * np.pi * noise), axis=-1)
        return -0.5 * (spread + weights @ self.squares - explained)

    def misfit(self, cause, size):
        """How far the readings lie from what one cause and size let expect: about 1 if they fit.

        yᵀ K⁻¹ y / n with K the readings' covariance: its mean is 1, its standard deviation
        sqrt(2/n). Returns misfit and n, the number of readings less one for each test.
        """
        weights = 1 / self.noise[cause, size]
        mean, _ = self.posterior(cause, size)
        left = weights @ self.squares - np.einsum("t,tr,r->", weights, self.products, mean)
        count = max(self.counts.sum(), 1.0)
        return left / count, count

    def _inner(self, weights, root):
        """Return 1 + root patternsᵀ patterns root / noise, the matrix that all is solved with."""
        columns = root.shape[-1]
        flat = self.grams.reshape(len(self.tests), columns**2)
        inner = (weights @ flat).reshape(*weights.shape[:-1], columns, columns)
        return inner * (root[..., :, None] * root[..., None, :]) + np.eye(columns)

    def posterior(self, cause=..., size=..., used=None):
        """Mean and covariance of every column's size, given the readings.

        cause, size: which rows and columns of the results, as an index; all of them if not given.
        used: how many tests count, from the first; None for all. Returns (…, columns) and
        (…, columns, columns).
        """
        keep = np.arange(len(self.tests)) < (len(self.tests) if used is None else used)
        weights = keep / self.noise[cause, size] if cause is not ... else keep / self.noise
        root = np.sqrt(self.variances[cause, size] if cause is not ... else self.variances)
        inverse = np.linalg.inv(self._inner(weights, root))
        covariance = inverse * (root[..., :, None] * root[..., None, :])
        seen = np.einsum("...t,tr->...r", weights, self.products)
        return np.einsum("...rs,...s->...r", covariance, seen), covariance


def _five(low, typical, high):
    """Return five sizes from low to high, evenly spaced in their logarithms on either side."""
    if high == 0:
        return [0.0] * SIZES
    return [low, np.sqrt(low * typical), typical, np.sqrt(typical * high), high]


def shares(log_likelihood, candidates):
    """Return the share of belief in each candidate: all causes alike beforehand, summing to 1.

    log_likelihood: (…, causes, sizes). A cause that several parts can have is split evenly.
    """
    keys = [cause.key for cause in candidates]
    beforehand = -np.log([keys.count(key) for key in keys])
    weighed = averaged(log_likelihood) + beforehand
    weighed = weighed - weighed.max(axis=-1, keepdims=True)
    found = np.exp(weighed)
    return found / found.sum(axis=-1, keepdims=True)


def averaged(log_likelihood):
    """Return the logarithm of the likelihood averaged over the last axis."""
    top = log_likelihood.max(axis=-1, keepdims=True)
    return (top + np.log(np.mean(np.exp(log_likelihood - top), axis=-1, keepdims=True)))[..., 0]
