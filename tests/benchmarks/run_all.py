"""Run every benchmark and print one table. From the top folder of the clone:

    python -m tests.benchmarks.run_all

with the environment's Python; words behind it choose benchmarks, such as `slip`.
"""

import importlib
import sys
from pathlib import Path

from tests.benchmarks.timing import show


def names(chosen):
    """Return the benchmarks in this folder, or those that were chosen."""
    found = sorted(path.stem for path in Path(__file__).parent.glob("bench_*.py"))
    unknown = {f"bench_{word}" for word in chosen} - set(found)
    if unknown:
        sys.exit(f"There is no {', '.join(sorted(unknown))} here. There are: {', '.join(found)}.")
    return [name for name in found if not chosen or name.removeprefix("bench_") in chosen]


def main():
    """Measure and show."""
    modules = [importlib.import_module(f"tests.benchmarks.{name}") for name in names(sys.argv[1:])]
    show([result for module in modules for result in module.results()])


if __name__ == "__main__":
    main()
