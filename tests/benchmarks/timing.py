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


def show(results):
    """Print the table of results."""
    rows = [("name", "measured", "reference", "ratio", "aim", "verdict")]
    for each in results:
        numbers = (f"{each.measured:.4g} {each.unit}", f"{each.reference:.4g} {each.unit}")
        rows.append((each.name, *numbers, f"{each.ratio:.3g}", f"{each.aim:.3g}", each.verdict))
    widths = [max(len(row[column]) for row in rows) for column in range(6)]
    for row in rows:
        name, *rest = (cell.rjust(width) for cell, width in zip(row, widths, strict=True))
        print("  ".join([name.strip().ljust(widths[0]), *rest]))
