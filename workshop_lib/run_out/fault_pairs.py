"""How well do one fault, and two faults at once, explain the readings? Every pair, quickly.

A fault changes the spread of its own few columns only. So the likelihood of the usual set-up is
summed up in full, and each fault, or pair of faults, adds a small correction to it. With B = AᵀPA
and q = AᵀPy of the usual set-up, and D the variance that the faults add to their columns:
Δ log L = −½ log|1 + D B| + ½ qᵀ(1 + D B)⁻¹ D q (Woodbury). What scatters, or has many columns, is
summed up in full for each of its sizes, as a base for what comes with it.
"""

from functools import cached_property
from itertools import combinations
from typing import NamedTuple

import numpy as np

from workshop_lib.run_out.evidence import SIZES, averaged
from workshop_lib.run_out.weighing import setting

WIDE = 12  # columns from which a cause is summed up in full
OF_PAIRS = np.array([0, 2, 4])  # low, typical and high: the sizes that are tried in pairs


class Pair(NamedTuple):
    """Two faults at once: numbers of the candidates, and the likeliest spread of every cause."""

    places: tuple
    log_likelihood: float  # averaged over their sizes
    deviations: np.ndarray  # of every row of the table, at the likeliest sizes, m


class Faults:
    """The likelihood of the readings of an `Evidence` under one fault and under two."""

    def __init__(self, evidence):
        self.evidence = evidence
        candidates = evidence.candidates
        self.columns = [np.flatnonzero(evidence.owner == own) for own in evidence.own]
        named = [n for n, cause in enumerate(candidates) if cause.pattern != "none"]
        scatter = [n for n in named if candidates[n].pattern == "scatter"]
        wide = [n for n in named if n not in scatter and self.columns[n].size >= WIDE]
        self.heads = wide + scatter
        self.light = [n for n in named if n not in self.heads]
        none = next(n for n, cause in enumerate(candidates) if cause.pattern == "none")
        usual = evidence.deviations[none, ::SIZES]
        self._rows = np.concatenate([usual, *(evidence.deviations[n] for n in self.heads)])
        self._bases()

    def _bases(self):
        """Sum up the usual and the rough set-up, and every size of each head, in full.

        What is left to explain, with G = AᵀA / noise: G − G V½ (1 + V½ G V½)⁻¹ V½ G (Woodbury).
        """
        found = self.evidence
        variances, noise = found.spreads(self._rows)
        gram, root = found.gram(1 / noise), np.sqrt(variances)
        inner = gram * (root[..., :, None] * root[..., None, :]) + np.eye(root.shape[-1])
        seen = (1 / noise) @ found.products
        self.log_bases = found.summed(variances, noise, inner=inner)
        weighed = root[..., None] * gram
        solved = np.linalg.solve(
            inner, np.concatenate([weighed, (root * seen)[..., None]], axis=-1)
        )
        taken = np.swapaxes(weighed, -1, -2) @ solved
        self._inner = gram - taken[..., :-1]
        self._seen = seen - taken[..., -1]

    def _of_head(self, number, sizes=slice(None)):
        """The numbers of the bases of a head: its sizes in a usual set-up, then in a rough one."""
        ours = 2 + 2 * SIZES * number + np.arange(2 * SIZES)
        return ours.reshape(2, SIZES)[:, sizes].ravel()

    def _added(self, bases, places, sizes):
        """The correction for faults added to bases: (bases, sizes of each fault …).

        places: candidates. sizes: numbers of the sizes of each that are tried.
        """
        own = np.concatenate([self.columns[place] for place in places])
        count = len(places)
        if own.size == 0:
            return np.zeros((bases.size, *[sizes.size] * count))
        more = [self._more(place, bases, sizes) for place in places]
        for axis, each in enumerate(more):
            shape = [bases.size, *[1] * count, each.shape[-1]]
            shape[1 + axis] = sizes.size
            full = (bases.size, *[sizes.size] * count, each.shape[-1])
            more[axis] = np.broadcast_to(each.reshape(shape), full)
        more = np.concatenate(more, axis=-1)
        block = (slice(None), *[None] * count)
        inner = self._inner[bases[:, None, None], own[:, None], own][block]
        seen = self._seen[bases[:, None], own][block]
        matrix = np.eye(own.size) + more[..., None] * inner
        solved = np.linalg.solve(matrix, (more * seen)[..., None])[..., 0]
        return 0.5 * (np.sum(seen * solved, axis=-1) - np.log(np.linalg.det(matrix)))

    def _more(self, place, bases, sizes):
        """Variance that a fault adds to its columns in each base: (bases, sizes, columns)."""
        found = self.evidence
        before = self._rows[bases, found.own[place]][:, None] ** 2
        more = found.sizes[place, sizes] ** 2 - before
        return more[..., None] * found.portion[self.columns[place]]

    @cached_property
    def log_likelihood(self):
        """Under one fault: (causes, sizes), as `Evidence.log_likelihood` has them."""
        found = np.repeat(self.log_bases[:2], SIZES) * np.ones((len(self.columns), 1))
        for place in self.light:
            found[place] += self._added(np.arange(2), (place,), np.arange(SIZES)).ravel()
        for number, place in enumerate(self.heads):
            found[place] = self.log_bases[self._of_head(number)]
        return found

    @cached_property
    def pairs(self):
        """Every `Pair` of faults that differ; never two that both scatter."""
        both = np.arange(2)
        found = [self._pair(pair, both) for pair in combinations(self.light, 2)]
        for number, head in enumerate(self.heads):
            bases = self._of_head(number, OF_PAIRS)
            found += [self._pair((other,), bases, (head,)) for other in self.light]
            wide = [n for n in self.heads[:number] if self._is_wave(n)]
            found += [self._pair((other,), bases, (head,)) for other in wide]
        return found

    def _is_wave(self, place):
        return self.evidence.candidates[place].pattern != "scatter"

    def _pair(self, places, bases, head=()):
        """Average a pair over its sizes: those that are added, and those of the bases."""
        each = self._added(bases, places, OF_PAIRS)
        each = each + self.log_bases[bases].reshape(-1, *[1] * len(places))
        best = np.unravel_index(np.argmax(each), each.shape)
        deviations = self._rows[bases[best[0]]].copy()
        for place, size in zip(places, best[1:], strict=True):
            deviations[self.evidence.own[place]] = self.evidence.sizes[place, OF_PAIRS[size]]
        return Pair((*head, *places), float(averaged(each.reshape(1, -1))[0]), deviations)


def weighed(faults, singles):
    """How much is believed in every pair, beside single faults? Logarithms, unnormalised.

    singles: log likelihood of each candidate, averaged over its sizes (causes,). Returns (singles,
    pairs), each with what is taken for granted beforehand: all causes alike, a cause that several
    parts can have split evenly, and a second fault as seldom as `belief.csv` has it.
    """
    keys = [cause.key for cause in faults.evidence.candidates]
    chance = np.array([1 / keys.count(key) for key in keys])
    chance = np.log(chance / chance.sum())
    if not faults.pairs:
        return singles + chance, np.zeros(0)
    both = np.array([chance[list(pair.places)].sum() for pair in faults.pairs])
    both -= np.log(np.exp(both).sum())
    told = np.array([pair.log_likelihood for pair in faults.pairs])
    return singles + chance, told + both + np.log(setting("second_fault"))
