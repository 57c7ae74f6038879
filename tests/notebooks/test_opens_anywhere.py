"""A copy of a lesson that lies anywhere runs from any working folder, as people run notebooks."""

import os
import shutil
import subprocess
import sys

import nbformat
import pytest
from nbclient import NotebookClient

from tests.house.thorough import among, only_thorough
from workshop_lib.launcher.environment import ROOT, masters

BIN = os.path.dirname(sys.executable)


@pytest.fixture
def elsewhere(tmp_path, monkeypatch):
    """A folder outside of the workbook; nothing tells a process where the library lies."""
    monkeypatch.delenv("PYTHONPATH", raising=False)
    monkeypatch.setenv("PATH", BIN, prepend=os.pathsep)
    for name in ("JUPYTER_CONFIG_DIR", "JUPYTER_DATA_DIR", "JUPYTER_RUNTIME_DIR", "IPYTHONDIR"):
        monkeypatch.setenv(name, str(tmp_path / name))
    (tmp_path / "a copy").mkdir()
    return tmp_path / "a copy"


def copied(number, folder):
    """Copy one lesson, and nothing that lies beside it."""
    return shutil.copy(masters()[number], folder)


@pytest.mark.parametrize(
    ("command", "number", "cwd"),
    [
        (["execute", "--inplace"], 2, "/"),
        pytest.param(
            ["nbconvert", "--execute", "--to", "notebook", "--inplace"],
            0,
            ROOT,
            marks=only_thorough,
        ),
    ],
)
def test_a_command_of_jupyter_runs_a_copy_from_any_folder(command, number, cwd, elsewhere):
    path = copied(number, elsewhere)
    done = subprocess.run(
        [os.path.join(BIN, "jupyter"), *command, path],
        cwd=cwd,
        capture_output=True,
        text=True,
        timeout=120,
    )
    assert done.returncode == 0, done.stderr[-2000:]
    assert_whole(nbformat.read(path, as_version=4))


@only_thorough
def test_a_program_runs_a_copy_in_its_own_working_folder(elsewhere, monkeypatch):
    for folder, number in among([(ROOT / "figures", 0)], [(elsewhere, 0), (ROOT / "figures", 6)]):
        monkeypatch.chdir(folder)
        notebook = nbformat.read(copied(number, elsewhere), as_version=4)
        assert_whole(NotebookClient(notebook, timeout=60, kernel_name="python3").execute())


def assert_whole(notebook):
    """Hold a lesson that has run to this: every cell ran, none failed, panels stand there."""
    cells = [cell for cell in notebook.cells if cell.cell_type == "code"]
    assert all(cell.execution_count for cell in cells)
    outputs = [output for cell in cells for output in cell.outputs]
    assert not [each for each in outputs if each.output_type == "error"]
    live = "application/vnd.jupyter.widget-view+json"
    assert any(live in each.get("data", {}) for each in outputs)
