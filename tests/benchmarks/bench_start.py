"""How long does a lesson take to start, and how much memory, above the packages that it rests on?

    python -m tests.benchmarks.run_all start

For every notebook: all imports of its cells, in a fresh Python, against NumPy, pint with one unit
registry, anywidget and matplotlib's figure module alone. The processor's time and the largest
memory, medians of runs that take turns. The lessons find pint's list of units as it was read at an
earlier start; the bare packages read it.
"""

import ast
import json
import os
import statistics
import subprocess
import sys

from tests.benchmarks.timing import Result
from workshop_lib.launcher.environment import ROOT

AIM = 1.3
RUNS = 7
BARE = "import numpy, pint, anywidget, matplotlib.figure\npint.UnitRegistry(cache_folder=None)"
ASK = """
import sys, time
begun = time.process_time()
exec(sys.argv[1])
print(1e3 * (time.process_time() - begun))
try:
    with open("/proc/self/status") as told:  # since this program began, not its parent's
        print(next(line.split()[1] for line in told if line.startswith("VmHWM")))
except OSError:
    import resource
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    print(most / 1024 if sys.platform == "darwin" else most)
"""


def imports(path):
    """Every import of a notebook's cells, as one program."""
    cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    found = []
    for cell in cells:
        if cell["cell_type"] == "code":
            lines = "".join(cell["source"]).splitlines()
            plain = "\n".join("" if line.startswith(("%", "!")) else line for line in lines)
            for node in ast.walk(ast.parse(plain)):
                if isinstance(node, ast.Import | ast.ImportFrom):
                    found.append(ast.unparse(node))
    return "\n".join(dict.fromkeys(found))


def asked(program):
    """Milliseconds of the processor and kilobytes at most that a program takes."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    command = [sys.executable, "-c", ASK, program]
    told = subprocess.run(
        command, env=environment, cwd=ROOT, capture_output=True, text=True, check=True
    )
    return [float(line) for line in told.stdout.split()[-2:]]


def results():
    """Time and memory of every lesson's imports."""
    lessons = {path.stem: imports(path) for path in sorted((ROOT / "notebooks").glob("*.ipynb"))}
    programs = {"": BARE, **lessons}
    for program in programs.values():
        asked(program)  # fills the caches of the disk
    taken = {name: [] for name in programs}
    for _ in range(RUNS):
        for name, program in programs.items():
            taken[name].append(asked(program))
    middle = {
        name: [statistics.median(column) for column in zip(*runs, strict=True)]
        for name, runs in taken.items()
    }
    found = []
    for name in lessons:
        for ours, bare, unit, what in zip(
            middle[name], middle[""], ("ms", "kB"), ("time", "memory"), strict=True
        ):
            found.append(Result(f"imports of {name}, {what}", ours, bare, AIM, unit))
    return found
