"""What does one page on a class of forty cost? Forty answer files of two worked lessons.

    python -m tests.benchmarks.run_all overview

Reading, counting and writing, once the lessons are loaded, against a budget of 1 s: the page is
wanted while the class waits. Beside it, the reading of the files against bare JSON of their lines,
and the whole command from its start against a Python that imports NumPy and pint and does nothing.
"""

import json
import random
import subprocess
import sys
import tempfile
from pathlib import Path

from tests.benchmarks.timing import Result, median_ms
from workshop_lib.launcher.environment import ROOT
from workshop_lib.teaching import answer_file, class_answers, overview, task_list

LEARNERS, BUDGET = 40, 1000.0  # ms
LESSONS = ("01", "02")
COMMAND = "import sys; from workshop_lib.teaching.overview import main; main(sys.argv[1:])"
BARE = "import numpy, pint; pint.UnitRegistry(cache_folder=None)"


def entries(rng):
    """Yield the entries of one learner who has worked through the lessons."""
    for number in LESSONS:
        for question in class_answers.predictions(class_answers.lesson_file(number)):
            options = list(getattr(question.field, "options", {})) or ["240 N", "0.4 kN", "1 lbf"]
            for _ in range(2):
                given = rng.choice(options)
                yield question.key, {"given": given, "raw": given}
        for task in task_list.tasks_of(number):
            for state in rng.choices(class_answers.STATES, k=3):
                yield task.key, {"given": "1 N", "state": state, "helped": "1 hint"}


def results():
    """The whole page, and the reading alone."""
    rng = random.Random(1)
    with tempfile.TemporaryDirectory() as named:
        folder = Path(named)
        for number in range(LEARNERS):
            store = answer_file.FileStore(folder / f"{number}.jsonl")
            for key, entry in entries(rng):
                store.record(key, entry)
        lines = [p.read_text(encoding="utf-8").splitlines() for p in folder.iterdir()]

        def page():
            overview.document(class_answers.read_folder(folder), LESSONS, "numbers")

        whole, reading, bare = median_ms(
            page,
            lambda: class_answers.read_folder(folder),
            lambda: [json.loads(line) for each in lines for line in each],
        )
        page_file = str(folder / "class_overview.html")
        command, imports = median_ms(
            lambda: started(COMMAND, str(folder), *LESSONS, "--page", page_file),
            lambda: started(BARE),
            runs=5,
        )
    return [
        Result("forty files to one page", whole, BUDGET, 1),
        Result("reading forty files, against bare JSON", reading, bare, 5),
        Result("the command from its start, against bare imports", command, imports, 1.6),
    ]


def started(*arguments):
    """Run a program in a Python of its own."""
    run = [sys.executable, "-c", *arguments]
    subprocess.run(run, cwd=ROOT, check=True, capture_output=True)
