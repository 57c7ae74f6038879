"""What every benchmark shares: the median time of a call, and one table of results.

A benchmark is a file `bench_*.py` in this folder with a function `results()` that returns a list of
`Result`. It compares a call of the library with a reference that is measured in the same run, so
that the ratio means the same on a fast and on a slow machine. Nothing here is a timed test: a busy
machine must not turn a check red.
"""

import statistics
import time
from dataclasses import dataclass


@dataclass(frozen=True)
class Result:
    """One line of the table: what was measured, against what, and what ratio was aimed at."""

    name: str
    measured: float
    reference: float
    aim: float  # the ratio measured / reference should not be above it
    unit: str = "ms"

    @property
    def ratio(self):
        """How many times the reference it is."""
        return self.measured / self.reference

    @property
    def verdict(self):
        """In words, so that nobody has to compare two columns."""
        return "reached" if self.ratio <= self.aim else "missed"


def median_ms(*calls, runs=11):
    """Return the median time of each call in milliseconds, after one round that fills the caches.

    The calls take turns, so that a machine that is busy for a while is busy for all of them.
    """
    times = [[] for _ in calls]
    for run in range(runs + 1):
        for call, taken in zip(calls, times, strict=True):
            started = time.perf_counter()
            call()
            if run:
                taken.append(1e3 * (time.perf_counter() - started))
    return [statistics.median(taken) for taken in times]


def show(found):
    """Print one table of all results; found: {name of the benchmark: its results}."""
    rows = [("benchmark", "what", "measured", "reference", "ratio", "aim", "verdict")]
    for benchmark, results in found.items():
        for each in results:
            numbers = (f"{each.measured:.4g} {each.unit}", f"{each.reference:.4g} {each.unit}")
            ratios = (f"{each.ratio:.3g}", f"{each.aim:.3g}", each.verdict)
            rows.append((benchmark, each.name, *numbers, *ratios))
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    for row in rows:
        words = [cell.ljust(width) for cell, width in zip(row[:2], widths[:2], strict=True)]
        words += [cell.rjust(width) for cell, width in zip(row[2:], widths[2:], strict=True)]
        print("  ".join(words))


def shortfalls(found):
    """Return the lines that say how many aims were reached, and name those that were not."""
    results = [(name, each) for name, some in found.items() for each in some]
    missed = [(name, each) for name, each in results if each.verdict == "missed"]
    if not missed:
        return [f"All {len(results)} aims are reached."]
    missed.sort(key=lambda pair: pair[1].ratio / pair[1].aim, reverse=True)
    return [
        f"{len(results) - len(missed)} of {len(results)} aims are reached. Short of theirs fall, "
        "the furthest first:",
        *(
            f"  {name}: {each.name}: {each.ratio:.3g} times the reference, {each.aim:.3g} aimed at"
            for name, each in missed
        ),
    ]
