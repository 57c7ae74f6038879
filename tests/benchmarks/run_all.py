"""Run every benchmark and print one table: the command `bench`.

Words behind it choose benchmarks: `bench slip` runs bench_slip.py. Below the table stands what
falls short of its aim, and what could not run. A slow machine is no failure: the exit status says
whether everything ran.
"""

import importlib
import sys
from pathlib import Path

from tests.benchmarks.timing import shortfalls, show


def names(chosen):
    """Return the benchmarks in this folder, or those that were chosen."""
    found = sorted(path.stem for path in Path(__file__).parent.glob("bench_*.py"))
    unknown = {f"bench_{word}" for word in chosen} - set(found)
    if unknown:
        sys.exit(f"There is no {', '.join(sorted(unknown))} here. There are: {', '.join(found)}.")
    return [name for name in found if not chosen or name.removeprefix("bench_") in chosen]


def measured(name):
    """Return the results of one benchmark and a sentence if it could not run to its end."""
    try:
        return importlib.import_module(f"tests.benchmarks.{name}").results(), ""
    except (Exception, SystemExit) as error:  # the others shall still run
        return [], f"{name} did not run: {type(error).__name__}: {error}"


def main(arguments):
    """Measure and show; return an exit status."""
    found, failed = {}, []
    for name in names(arguments):
        print(f"measuring {name.removeprefix('bench_')} …", file=sys.stderr, flush=True)
        found[name.removeprefix("bench_")], trouble = measured(name)
        failed += [trouble] * bool(trouble)
    show(found)
    print("", *shortfalls(found), *failed, sep="\n")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
