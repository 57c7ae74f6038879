"""Which tests run, with which processor's rounding, and how many passed?"""

import os
import platform
import subprocess
import sys
import tempfile
import xml.etree.ElementTree
from pathlib import Path

from workshop_lib.launcher.environment import ROOT

# Named one by one: a folder that is missing is an error then, and not silently left out.
TESTED = ["tests", "workshop_lib", "notebooks"]
# The rooms that compute; what they say must not hang on how a processor rounds.
NUMERIC = [
    *("tests/quantities", "tests/gauges", "tests/materials", "tests/torque", "tests/friction"),
    *("tests/slip", "tests/overhang", "tests/blank", "tests/bearings", "tests/load_path"),
    *("tests/run_out", "tests/uncertainty"),
]
QUICK = [*NUMERIC, "tests/house"]
# Kernels of OpenBLAS that round differently: without and with fused multiply-add.
KERNELS = {
    "x86_64": ("Prescott", "Haswell"),
    "amd64": ("Prescott", "Haswell"),
    "aarch64": ("ARMV8", "NEOVERSEN1"),
}
KERNEL = "OPENBLAS_CORETYPE"
# Where no notebook is compared, its tool need not start: two seconds of each process.
NO_NOTEBOOKS = ["-p", "no:nbval", "-o", "addopts=--import-mode=importlib --strict-markers"]


def workers():
    """Return how many processes may compute at once."""
    return min(os.cpu_count() or 1, 8)


def other_kernels():
    """Return the kernels of OpenBLAS to try besides the machine's own; none for another BLAS."""
    import numpy

    blas = numpy.show_config(mode="dicts")["Build Dependencies"]["blas"]["name"]
    kernels = KERNELS.get(platform.machine().lower(), ())
    if "openblas" not in blas.lower():
        return []
    return [kernel for kernel in kernels if kernel != os.environ.get(KERNEL)]


def run(tool, variables=None):
    """Run one tool of the environment on the clone and return its exit status."""
    command = [sys.executable, "-m", *tool]
    given = {**os.environ, **(variables or {})}
    given.pop("PYTHONDONTWRITEBYTECODE", None)  # compiled once, for all processes that follow
    return subprocess.run(command, cwd=ROOT, stdin=subprocess.DEVNULL, env=given).returncode


def tested(paths, variables, processes):
    """Run pytest on some folders; return how many tests passed and how many did not."""
    with tempfile.TemporaryDirectory() as folder:
        report = Path(folder, "report.xml")
        shared = ["-n", str(processes), "--dist", "loadfile"]
        told = ["-q", "-p", "no:cacheprovider", f"--junitxml={report}"]
        told += [] if "notebooks" in paths else NO_NOTEBOOKS
        status = run(["pytest", *shared, *told, *paths], variables)
        good, bad = counts(report)
    return good, bad or int(bool(status))  # where it broke off, or found nothing to run


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
