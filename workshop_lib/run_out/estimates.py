"""How large is it, and towards which mark? The size of a cause, given all readings together."""

import numpy as np

from workshop_lib.quantities import resolution
from workshop_lib.run_out.patterns import BASE
from workshop_lib.run_out.vectors import Vector
from workshop_lib.run_out.weighing import ALIKE


def estimate(evidence, place, log_likelihood):
    """Return the size (m) of one candidate and, where it has a direction, its `Vector`; else None.

    evidence: `Evidence`. place: number of the candidate. log_likelihood: of its sizes.
    A lean is given as what its face shows: the vector points to the mark that stands out most.
    """
    cause = evidence.candidates[place]
    best = int(resolution.leading(log_likelihood, ALIKE))
    belief = np.exp(log_likelihood - log_likelihood.max())
    usual = float(evidence.sizes[place] @ belief / belief.sum())
    own = np.flatnonzero(evidence.owner == evidence.rows.index(cause))
    if own.size == 0 or cause.pattern == "none":
        return usual, None
    mean, covariance = evidence.posterior(place, best)
    labels = [evidence.labels[column] for column in own]
    if cause.pattern == "wave" and cause.each != "turn":
        found = [
            _vector(mean, covariance, own[i : i + 2], labels[i].surface)
            for i, label in enumerate(labels[:-1])
            if label.name == BASE and labels[i + 1] == label and (i == 0 or labels[i - 1] != label)
        ]
        return _surest(found, cause.harmonic) if found else (usual, None)
    turns = [c for c, label in zip(own, labels, strict=True) if _counts(cause, label)]
    if not turns:
        return usual, None
    parts = 2 if cause.pattern == "wave" else 1
    return float(np.sqrt(parts * np.mean(mean[turns] ** 2))), None


def _counts(cause, label):
    """Whether a column is of the kind that tells the size of what has no lasting direction."""
    if cause.pattern == "scatter":
        return label.name == "pushed"
    return label.surface != "push" and not label.name.startswith("slip")


def _vector(mean, covariance, columns, surface):
    sense = -1.0 if surface == "radial" else 1.0  # a part that leans out there dips on its face
    return Vector(
        np.asarray(sense * (mean[columns[0]] + 1j * mean[columns[1]])),
        covariance[np.ix_(columns, columns)],
    )


def _surest(found, harmonic):
    """Return size and vector of what is known best; in doubt of what was found last."""
    best = min(reversed(found), key=lambda each: np.trace(each.spread))
    return float(np.abs(best.core)), best if harmonic == 1 else None
