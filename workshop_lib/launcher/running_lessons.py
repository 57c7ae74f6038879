"""Do the lessons run from top to bottom? Run, and stored with their outputs.

What changes from run to run without meaning anything (times, identifiers of widgets, versions) is
left out, so that a stored lesson only differs where its text or its numbers do. A panel is stored
as its still picture: a reader without a kernel sees that instead of an empty frame.
"""

import os
import re
import sys
from pathlib import Path

import nbformat
from nbclient import NotebookClient
from nbclient.exceptions import CellExecutionError

from workshop_lib.launcher import answers
from workshop_lib.launcher.environment import LESSON, ROOT, master, masters
from workshop_lib.launcher.resting import quieten
from workshop_lib.sources import replace_text

KEPT = ("tags", "jupyter")  # what a cell says about itself: how it is checked, and if it is folded
SECONDS_FOR_A_CELL = 60


def main(arguments):
    """Run and store the named notebooks, or all lessons; return an exit status."""
    numbers = re.compile(LESSON).fullmatch
    paths = [master(name) if numbers(name) else Path(name) for name in arguments] or masters()
    for path in paths:
        try:
            store(path)
        except FileNotFoundError:
            print(f"{path}: there is no such notebook", file=sys.stderr)
            return 2
        except CellExecutionError as error:
            print(f"{path}: not stored, a cell failed.\n{error}", file=sys.stderr)
            return 1
        print(f"{path.name}: stored")
    return 0


def store(path):
    """Execute one notebook in its own folder and write it back, normalised, in one step."""
    notebook = nbformat.read(path, as_version=4)
    for cell in notebook.cells:
        if cell.cell_type == "code":
            cell.outputs, cell.execution_count = [], None
    answers.forget(path.parent)
    os.environ["PYTHONPATH"] = os.pathsep.join(
        filter(None, [str(ROOT), os.environ.get("PYTHONPATH")])
    )
    NotebookClient(
        notebook,
        timeout=SECONDS_FOR_A_CELL,
        kernel_name="python3",
        resources={"metadata": {"path": str(path.parent)}},
        store_widget_state=False,
        coalesce_streams=True,  # however the kernel happened to send a text in parts
    ).execute()
    normalise(notebook)
    replace_text(path, nbformat.writes(notebook) + "\n")


def normalise(notebook):
    """Leave out of an executed notebook what differs from run to run."""
    notebook.metadata = {
        "kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"},
        "language_info": {"name": "python"},
    }
    quieten(notebook)
    for cell in notebook.cells:
        cell.metadata = {key: cell.metadata[key] for key in KEPT if key in cell.metadata}
        for output in cell.get("outputs", []):
            if "metadata" in output:
                output.metadata = {}
