"""A copy of the workbook, opened by the README's command, so that no stored lesson changes."""

import contextlib
import json
import os
import shutil
import sys
import threading

import nbformat

from tests.house.thorough import THOROUGH
from tests.launcher import served
from workshop_lib.launcher.commands import HANDED_OVER
from workshop_lib.launcher.environment import ROOT

COPIED = ("workshop_lib", "notebooks")
CARDS = ("predict.predict(", "predict.reveal(", ".ask()")
FIRST_PORT = 8921
LESSONS = sorted(path.stem for path in (ROOT / "notebooks").glob("[0-9][0-9]_*.ipynb"))

# Opened in the usual check; `check --thorough` opens every lesson. nbval runs all of them in both.
SAMPLE = ("00", "02")
OPENED = [name for name in LESSONS if THOROUGH or name[:2] in SAMPLE]


def copy(folder, change=None):
    """Copy what the command needs; masters lose their counts, so that a count means it ran.

    change: called with each lesson's copy, to add to it.
    """
    for part in COPIED:
        left_out = shutil.ignore_patterns("__pycache__", ".ipynb_checkpoints", "my_*")
        shutil.copytree(ROOT / part, folder / part, ignore=left_out)
    for lesson in LESSONS:
        path = folder / "notebooks" / f"{lesson}.ipynb"
        notebook = nbformat.read(path, as_version=4)
        for cell in notebook.cells:
            if cell.cell_type == "code":
                cell.execution_count = None
                for output in cell.outputs:
                    if "execution_count" in output:
                        output.execution_count = None
        if change:
            change(notebook)
        nbformat.write(notebook, path)


def live_elements(lesson):
    """Return how many panels, and how many cards, the cells of a lesson end with."""
    notebook = nbformat.read(ROOT / "notebooks" / f"{lesson}.ipynb", as_version=4)
    ends = [cell.source for cell in notebook.cells if cell.cell_type == "code"]
    panels = sum("panel()" in source for source in ends)
    return panels, sum(any(call in source for call in CARDS) for source in ends)


def ask_no_questions(settings):
    """Leave out JupyterLab's question about news, as the launcher does in its environment."""
    answers = settings / "JUPYTER_CONFIG_DIR/lab/user-settings/@jupyterlab/apputils-extension"
    answers.mkdir(parents=True)
    said = {"fetchNews": "false", "checkForUpdates": False}
    (answers / "notification.jupyterlab-settings").write_text(json.dumps(said))


@contextlib.contextmanager
def opened(folder, change=None):
    """Start the README's command on a copy, in the environment that runs now; yield its address."""
    copy(folder, change)
    ask_no_questions(folder / "settings")
    with serving(folder) as address:
        yield address


@contextlib.contextmanager
def serving(folder):
    """Start the command on a copy that is there; yield its address."""
    command = [sys.executable, "-m", "workshop_lib", "open", "--no-browser", f"--port={FIRST_PORT}"]
    command.append("--LabApp.expose_app_in_browser=True")  # tells whether every cell has run
    # As if the launcher had already gone over into its environment: a test makes no second one.
    variables = {HANDED_OVER: "1", "PYTHONPATH": str(folder), "PYTHONUNBUFFERED": "1"}
    variables["PATH"] = os.pathsep.join([os.path.dirname(sys.executable), os.environ["PATH"]])
    with served.running(command, folder, folder / "settings", **variables) as process:
        address = served.address_told(process)
        threading.Thread(target=process.stdout.read, daemon=True).start()  # else its pipe fills up
        served.wait_until_it_listens(address)
        yield address
