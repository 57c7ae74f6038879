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

    tests: list of `Readings` and `Push`. aside: pairs of the number of a test and of a reading in
    it that shall not count. The rows of every result are `.candidates`, the columns the five sizes
    in a usual set-up, and once more in a rough one.
    """

    def __init__(self, tests, aside=()):
        self.tests, self.aside = list(tests), frozenset(aside)
        self.rows = causes.known()
        self.candidates = tuple(row for row in self.rows if row.candidate)
        found = [patterns.columns(row, self.tests) for row in self.rows]
        self.counted = [self._counted(number) for number in range(len(self.tests))]
        every = np.concatenate([block for block, _, _ in found], axis=1)
        self.patterns = every[np.concatenate([np.zeros(0, dtype=bool), *self.counted])]
        self.labels = [label for _, labels, _ in found for label in labels]
        self.portion = np.array([one for _, _, portions in found for one in portions])
        widths = [block.shape[1] for block, _, _ in found]
        self.owner = np.repeat(np.arange(len(self.rows)), widths)
        ends = np.cumsum([0, *(np.sum(counted) for counted in self.counted)])
        self.parts = [slice(*pair) for pair in zip(ends, ends[1:], strict=False)]
        self._sum_up()
        self._set_sizes()

    def _counted(self, number):
        """Which readings of a test count."""
        counted = np.ones(self.tests[number].core.readings.size, dtype=bool)
        counted[[reading for test, reading in self.aside if test == number]] = False
        return counted

    def _sum_up(self):
        """Centre every test, and keep the sums over its readings that all likelihoods need."""
        self.counts = np.array([counted.sum() - 1 for counted in self.counted], dtype=float)
        centred = [self.patterns[part] - self.patterns[part].mean(axis=0) for part in self.parts]
        kept = [
            test.core.readings[counted]
            for test, counted in zip(self.tests, self.counted, strict=True)
        ]
        values = self.values = [readings - readings.mean() for readings in kept]
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
        shares = [[patterns.scatter(row, test) for row in self.rows] for test in self.tests]
        self.scattering = np.array(shares).reshape(-1, len(self.rows)).T ** 2
        self.rounding = np.array([(test.division or 0.0) ** 2 / 12 for test in self.tests])
        self.own, self.sizes, self.deviations = own, sizes, every
        self.variances, self.noise = self.spreads(every)

    def spreads(self, deviations):
        """Variance of every column, and of one reading of every test.

        deviations: standard deviation of every row of the table, m; (…, rows).
        """
        noise = deviations**2 @ self.scattering + self.rounding + BARE_MINIMUM**2
        return deviations[..., self.owner] ** 2 * self.portion, noise

    def log_likelihood(self, keep=None, only=None):
        """Logarithm of the likelihood of the readings, for each cause and size.

        keep: 0 or 1 for each test, to leave tests out; (…, tests). only: for each cause the number
        of the one size to take; None for all. Returns (…, causes, sizes).
        """
        keep = np.ones(len(self.tests)) if keep is None else np.asarray(keep, dtype=float)
        chosen = ... if only is None else (np.arange(len(self.candidates))[:, None], only[:, None])
        return self.summed(self.variances[chosen], self.noise[chosen], keep[..., None, None, :])

    def summed(self, variances, noise, keep=1.0, inner=None):
        """Logarithm of the likelihood for variances (…, columns) and noise (…, tests).

        inner: what `inner` returns for them, where it is known already.
        """
        root, weights = np.sqrt(variances), keep / noise
        lower = np.linalg.cholesky(self.inner(weights, root) if inner is None else inner)
        seen = np.einsum("...t,tr->...r", weights, self.products) * root
        solved = np.linalg.solve(lower, seen[..., None])[..., 0]
        explained = np.sum(solved**2, axis=-1)
        spread = 2 * np.log(np.diagonal(lower, axis1=-2, axis2=-1)).sum(axis=-1)
        spread = spread + np.sum(keep * self.counts * np.log(2 * np.pi * noise), axis=-1)
        return -0.5 * (spread + weights @ self.squares - explained)

    def misfit(self, variances, noise):
        """How far the readings lie from what these spreads let expect: about 1 if they fit.

        yᵀ K⁻¹ y / n with K the readings' covariance: its mean is 1, its standard deviation
        sqrt(2/n). variances: (columns,). noise: (tests,). Returns misfit and n, the number of
        readings less one for each test.
        """
        weights = 1 / noise
        mean, _ = self.given(variances, noise)
        left = weights @ self.squares - np.einsum("t,tr,r->", weights, self.products, mean)
        count = max(self.counts.sum(), 1.0)
        return left / count, count

    def inner(self, weights, root):
        """Return 1 + root patternsᵀ patterns root / noise, the matrix that all is solved with."""
        return self.gram(weights) * (root[..., :, None] * root[..., None, :]) + np.eye(
            root.shape[-1]
        )

    def gram(self, weights):
        """Return patternsᵀ patterns, summed over the tests with these weights (…, tests)."""
        columns = self.grams.shape[-1]
        flat = self.grams.reshape(len(self.tests), columns**2)
        return (weights @ flat).reshape(*weights.shape[:-1], columns, columns)

    def posterior(self, cause=..., size=..., used=None):
        """Mean and covariance of every column's size, given the readings.

        cause, size: which rows and columns of the results, as an index; all of them if not given.
        used: how many tests count, from the first; None for all. Returns (…, columns) and
        (…, columns, columns).
        """
        chosen = ... if cause is ... else (cause, size)
        return self.given(self.variances[chosen], self.noise[chosen], used)

    def given(self, variances, noise, used=None):
        """Mean and covariance of every column's size: variances (…, columns), noise (…, tests)."""
        keep = np.arange(len(self.tests)) < (len(self.tests) if used is None else used)
        weights, root = keep / noise, np.sqrt(variances)
        inverse = np.linalg.inv(self.inner(weights, root))
        covariance = inverse * (root[..., :, None] * root[..., None, :])
        seen = np.einsum("...t,tr->...r", weights, self.products)
        return np.einsum("...rs,...s->...r", covariance, seen), covariance


def _five(low, typical, high):
    """Return five sizes from low to high, evenly spaced in their logarithms on either side."""
    if high == 0:
        return [0.0] * SIZES
    return [low, np.sqrt(low * typical), typical, np.sqrt(typical * high), high]


def shares(log_likelihood, candidates):
    """Return how probable each candidate is: all causes alike beforehand, summing to 1.

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
