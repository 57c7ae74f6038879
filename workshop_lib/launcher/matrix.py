"""Would other machines compute the same? The command `check --matrix`.

Each Python from 3.11 to 3.13 on this machine gets an environment of its own, in `.venv.matrix`.
In each, the tests run under the machine's own kernel of OpenBLAS, under two others, and with
NumPy's own choice of processor instructions reduced.
"""

import json
import os
import shutil
import subprocess
import tempfile
from pathlib import Path

from workshop_lib.launcher import running_tests
from workshop_lib.launcher.environment import FOREIGN_VARIABLES, ROOT, WINDOWS

VERSIONS = ("3.11", "3.12", "3.13")
FOLDER = ROOT / ".venv.matrix"
WIDTH = 18
# What NumPy found and would use, beyond what every processor of the kind has.
ASK = """
import json, numpy, pint
from threadpoolctl import threadpool_info
from numpy._core._multiarray_umath import __cpu_dispatch__ as known, __cpu_features__ as has
blas = [each.get("architecture", "") for each in threadpool_info() if each["user_api"] == "blas"]
print(json.dumps([numpy.__version__, pint.__version__, blas, [k for k in known if has.get(k)]]))
"""


def main(wanted=()):
    """Make the environments, run the tests in each cell of the table, print it.

    wanted: the Pythons to try, such as ["3.12"]; all of them when it is empty.
    """
    rows, failed = [], 0
    for version in [each for each in VERSIONS if not wanted or each in wanted]:
        python = ready(version)
        if python is None:
            rows.append([version, "not on this machine"])
            continue
        numpy, pint, (own, *_), instructions = asked(python)
        label = f"{version}, NumPy {numpy}, pint {pint}"
        cells = {f"own ({own})": {}}
        cells |= {
            kernel: {running_tests.KERNEL: kernel} for kernel in running_tests.other_kernels()
        }
        cells["reduced"] = {"NPY_DISABLE_CPU_FEATURES": " ".join(instructions)}
        for heading, variables in cells.items():
            good, bad = tried(python, variables)
            failed += bad
            ran = asked(python, variables)[2] if running_tests.KERNEL in variables else []
            note = "" if not ran or heading in ran else f" (ran as {', '.join(ran)})"
            rows.append([label, heading + note, f"{good} passed, {bad} failed"])
            print("  ".join(rows[-1]), flush=True)
    print("\n== The numeric tests and the lessons, as other machines compute")
    for row in rows:
        print("  ".join(cell.ljust(WIDTH) for cell in row).rstrip())
    return 1 if failed else 0


def ready(version):
    """Return the Python of a version's own environment, made if need be; None without it."""
    found = interpreter(version)
    if found is None:
        return None
    folder = FOLDER / version
    python = folder / ("Scripts/python.exe" if WINDOWS else "bin/python")
    stamp = folder / "ready"
    wanted = "".join((ROOT / name).read_text() for name in ("requirements.txt", LISTED))
    if not (stamp.exists() and stamp.read_text() == wanted):
        shutil.rmtree(folder, ignore_errors=True)
        print(f"== Python {version}: an environment of its own", flush=True)
        subprocess.run([found, "-I", "-m", "venv", folder], check=True, env=plain())
        pip = ["-m", "pip", "install", "-q", "--disable-pip-version-check", "-r", LISTED]
        subprocess.run([python, *pip], check=True, cwd=ROOT, env=plain())
        stamp.write_text(wanted)
    return str(python)


LISTED = "tests/requirements.txt"


def interpreter(version):
    """Return a Python of that version on this machine: on the path, or where pyenv keeps them."""
    kept = sorted(Path.home().glob(f".pyenv/versions/{version}.*/bin/python"))
    for candidate in (shutil.which(f"python{version}"), *map(str, reversed(kept))):
        code = "import sys; print('%d.%d' % sys.version_info[:2])"
        if (
            candidate
            and subprocess.run(
                [candidate, "-c", code], capture_output=True, text=True
            ).stdout.strip()
            == version
        ):
            return candidate
    return None


def plain(variables=()):
    """Return this process's variables without what would reach into another environment."""
    kept = {k: v for k, v in os.environ.items() if k.upper() not in FOREIGN_VARIABLES}
    dropped = ("VIRTUAL_ENV", "PYTHONDONTWRITEBYTECODE", "NPY_DISABLE_CPU_FEATURES")
    for name in (*dropped, running_tests.KERNEL):
        kept.pop(name, None)
    return kept | dict(variables)


def asked(python, variables=()):
    """Return an environment's NumPy, pint, kernel of BLAS and instructions that NumPy chooses."""
    told = subprocess.run(
        [python, "-c", ASK], env=plain(variables), capture_output=True, text=True, check=True
    )
    return json.loads(told.stdout)


def tried(python, variables):
    """Run the numeric tests and the lessons in an environment; return passed and failed."""
    with tempfile.TemporaryDirectory() as folder:
        report = Path(folder, "report.xml")
        shared = ["-n", str(running_tests.workers()), "--dist", "loadfile", "-q", "--no-header"]
        told = ["-p", "no:cacheprovider", f"--junitxml={report}", "--tb=line"]
        command = [python, "-m", "pytest", *shared, *told, *running_tests.NUMERIC, "notebooks"]
        done = subprocess.run(
            command, cwd=ROOT, env=plain(variables), capture_output=True, text=True
        )
        good, bad = running_tests.counts(report)
    if done.returncode:
        print("\n".join(done.stdout.splitlines()[-25:]), done.stderr, flush=True)
    return good, bad or int(bool(done.returncode))
