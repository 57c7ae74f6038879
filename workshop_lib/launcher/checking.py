"""The command `check`: everything that must hold before a change is kept, in one run.

To add a check, write a test. A tool of its own gets a row in `TOOLS`.
"""

import subprocess
import sys
import tempfile
import xml.etree.ElementTree
from pathlib import Path

from workshop_lib.launcher import browser
from workshop_lib.launcher.environment import ROOT

TOOLS = {
    "Lint": ["ruff", "check"],
    "Format": ["ruff", "format", "--check"],
}
# Named one by one: a folder that is missing is an error then, and not silently left out.
TESTED = ["tests", "workshop_lib", "notebooks"]
# What mostly waits, for a browser or a hub, runs beside the rest, which keeps one core busy.
ASIDE = ["tests/browser", "tests/classroom/test_classroom_hub.py"]


def main(arguments):
    """Run every check and add them up; with arguments, only pytest with those."""
    if arguments:
        return run(["pytest", *arguments])
    passed, failed = [], []
    for heading, tool in TOOLS.items():
        print(f"== {heading}: {' '.join(tool)}", flush=True)
        (failed if run(tool) else passed).append(heading)
    print(f"== Tests, doctests, stored notebooks, lessons: pytest {' '.join(TESTED)}", flush=True)
    print(f"== At the same time, told below: {' '.join(ASIDE)}", flush=True)
    tests_passed, tests_failed = run_tests()
    print("== In total")
    for heading in failed:
        print(f"{heading} failed: see its part above")
    if not browser.find():
        print(f"{'Failed' if browser.must_be_there() else 'Left out'}: {browser.MISSING}")
        failed += ["Browser"] * browser.must_be_there()
    print(f"{len(passed) + tests_passed} passed, {len(failed) + tests_failed} failed")
    return 1 if failed or tests_failed else 0


def run(tool):
    """Run one tool of the environment on the clone and return its exit status."""
    with begun(tool) as process:
        return process.wait()


def begun(tool, **streams):
    """Begin to run one tool of the environment on the clone; return its process."""
    command = [sys.executable, "-m", *tool]
    return subprocess.Popen(command, cwd=ROOT, stdin=subprocess.DEVNULL, **streams)


def run_tests():
    """Run pytest on everything; return how many tests passed and how many did not."""
    with tempfile.TemporaryDirectory() as folder, tempfile.TemporaryFile("w+") as told:
        rest, aside = Path(folder, "rest.xml"), Path(folder, "aside.xml")
        left_out = [f"--ignore={path}" for path in ASIDE]
        # Both would write what pytest remembers of its last run.
        tool = ["pytest", "-p", "no:cacheprovider", f"--junitxml={aside}", *ASIDE]
        with begun(tool, stdout=told, stderr=subprocess.STDOUT) as process:
            status = run(["pytest", f"--junitxml={rest}", *left_out, *TESTED])
        told.seek(0)
        print(f"== {' '.join(ASIDE)}", told.read(), sep="\n", flush=True)
        results = [(status, *counts(rest)), (process.returncode, *counts(aside))]
    passed, failed = 0, 0
    for status, good, bad in results:
        passed += good
        failed += bad or bool(status)  # where it broke off, or found nothing to run
    return passed, failed


def counts(report):
    """Return the numbers of passed and of failed tests in a JUnit report."""
    if not report.exists():
        return 0, 0
    suites = xml.etree.ElementTree.parse(report).getroot().iter("testsuite")
    rows = [{name: int(suite.get(name, 0)) for name in SUITE_COUNTS} for suite in suites]
    failed = sum(row["failures"] + row["errors"] for row in rows)
    passed = sum(row["tests"] - row["skipped"] for row in rows) - failed
    return max(passed, 0), failed


SUITE_COUNTS = ("tests", "failures", "errors", "skipped")
