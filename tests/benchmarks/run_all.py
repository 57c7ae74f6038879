"""Run every benchmark and print one table: the command `bench`.

Words behind it choose benchmarks: `bench slip` runs bench_slip.py.
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


def main(arguments):
    """Measure and show; return an exit status."""
    modules = [importlib.import_module(f"tests.benchmarks.{name}") for name in names(arguments)]
    show([result for module in modules for result in module.results()])
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
