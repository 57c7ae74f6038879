"""What must hold before a change is kept? The command `check`, everything in one run.

To add a check, write a test. A tool of its own gets a row in `TOOLS`.
"""

import time

from workshop_lib.launcher import browser, matrix
from workshop_lib.launcher.running_tests import (
    KERNEL,
    NUMERIC,
    QUICK,
    TESTED,
    other_kernels,
    run,
    tested,
    workers,
)

THOROUGH = "WORKSHOP_THOROUGH"  # variable: 1 where tests try all instead of a sample
NO_RATES = "WORKSHOP_NO_RATES"  # variable: 1 where no rates over hundreds of set-ups are counted
TOOLS = {
    "Lint": ["ruff", "check"],
    "Format": ["ruff", "format", "--check"],
}


def main(arguments):
    """Run every check and add them up; with arguments, only pytest with those."""
    if arguments[:1] == ["--matrix"]:
        return matrix.main(arguments[1:])
    thorough = arguments == ["--thorough"]
    if arguments == ["--quick"]:
        return added_up([("Units, physics and the house", QUICK, {NO_RATES: "1"}, workers())])
    if arguments and not thorough:
        return run(["pytest", *arguments])
    much = {THOROUGH: "1"} if thorough else {}
    # The browser and the hub mostly wait: one worker more than there are cores keeps all busy.
    runs = [("Tests, doctests, stored notebooks, lessons", TESTED, much, workers() + 1)]
    for kernel in other_kernels()[:1]:
        heading = f"The numeric tests once more, as {kernel} rounds"
        runs.append((heading, NUMERIC, {KERNEL: kernel, NO_RATES: "1", **much}, workers()))
    return added_up(runs, with_browser=True)


def added_up(runs, with_browser=False):
    """Run the tools, then pytest as each row says; print the sums and return an exit status."""
    start = time.monotonic()
    passed, failed = [], []
    for heading, tool in TOOLS.items():
        print(f"== {heading}: {' '.join(tool)}", flush=True)
        (failed if run(tool) else passed).append(heading)
    tests_passed = tests_failed = 0
    for heading, paths, variables, processes in runs:
        print(f"== {heading}: pytest {' '.join(paths)}", flush=True)
        good, bad = tested(paths, variables, processes)
        tests_passed, tests_failed = tests_passed + good, tests_failed + bad
    print(f"== In total, {(time.monotonic() - start) / 60:.1f} minutes")
    for heading in failed:
        print(f"{heading} failed: see its part above")
    if with_browser and not browser.find():
        print(f"{'Failed' if browser.must_be_there() else 'Left out'}: {browser.MISSING}")
        failed += ["Browser"] * browser.must_be_there()
    print(f"{len(passed) + tests_passed} passed, {len(failed) + tests_failed} failed")
    return 1 if failed or tests_failed else 0
