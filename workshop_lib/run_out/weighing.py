"""By which numbers does a diagnosis weigh its evidence, and what does it assume?"""

import numpy as np

from workshop_lib import sources
from workshop_lib.sources import csv_tables

ALIKE = 1e-6  # logarithms of likelihoods, and shares, that differ by less are alike
_COLUMNS = {
    "key": csv_tables.key,
    "factor": csv_tables.number(1, 1e6),
    "word": csv_tables.text,
    "source": sources.keys_in_cell,
}


def _built(rows):
    return {
        key: (row["factor"], row["word"]) for key, row in csv_tables.by_key(rows, "key").items()
    }


def scale():
    """Return the words of evidence by key: (factor from which it counts, word).

    >>> scale()["strong"]
    (20.0, 'speaks strongly')
    """
    return csv_tables.load("evidence_scale.csv", _COLUMNS, _built)


_SETTINGS = {
    "key": csv_tables.key,
    "value": csv_tables.number(1e-6, 1e6),
    "source": sources.keys_in_cell,
    "note": csv_tables.text,
}


def _settings(rows):
    return {key: row["value"] for key, row in csv_tables.by_key(rows, "key").items()}


def setting(key):
    """Return one of the numbers that a diagnosis takes for granted, from `belief.csv`.

    >>> setting("roughness_high")
    2.0
    """
    known = csv_tables.load("belief.csv", _SETTINGS, _settings)
    return known[csv_tables.choose(key, known, "key", "number in belief.csv")]


def word(weight):
    """Return the word for a weight (logarithm of how many times as likely); "" below the scale."""
    passed = [pair for pair in scale().values() if weight >= np.log(pair[0])]
    return max(passed)[1] if passed else ""
