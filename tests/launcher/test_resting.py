"""Between two runs live panels rest as pictures with a button, and files stay as they are."""

import asyncio
import json
from types import SimpleNamespace

import nbformat
import pytest
from nbformat.sign import NotebookNotary
from nbformat.v4 import new_code_cell, new_notebook, new_output
from traitlets.config import Configurable

from workshop_lib.launcher import resting
from workshop_lib.launcher.served_files import Contents

HTML = f"<p>Holds</p><p>{resting.ASLEEP}</p>"


SHOWN = {"output_type": "display_data", "metadata": {}, "data": {"text/html": resting.OFFER}}
OFFERED = f'"outputs": [{json.dumps(SHOWN)}]'


def panel(*processes, words="Panel: Will it slip?"):
    data = {resting.LIVE: {"model_id": "a", "processes": list(processes)}}
    data |= {"text/html": HTML, "text/plain": words}
    return new_code_cell("show()", outputs=[new_output("display_data", data)])


@pytest.fixture
def served(monkeypatch, tmp_path):
    """A lesson as JupyterLab saves it, and a server's files, with a kernel that may run it."""
    monkeypatch.setenv("JUPYTER_DATA_DIR", str(tmp_path / "data"))
    cells = [new_code_cell("check()"), panel(70, 7), panel(70, words="Exercise:")]
    lesson = new_notebook(cells=[*cells, new_code_cell(""), new_code_cell("\n")])
    lesson.metadata["widgets"] = {"state": {}}
    nbformat.write(lesson, tmp_path / "02_lesson.ipynb")
    kernel = SimpleNamespace(provisioner=SimpleNamespace(pid=None))

    async def sessions():
        running = [{"path": "02_lesson.ipynb", "kernel": {"id": "k"}}]
        return running if kernel.provisioner.pid else []

    files = Contents(root_dir=str(tmp_path), parent=Configurable())
    files.parent.session_manager = SimpleNamespace(list_sessions=sessions)
    files.parent.kernel_manager = SimpleNamespace(get_kernel=lambda _: kernel)

    def get(process=None):
        kernel.provisioner.pid = process
        return asyncio.run(files.get("02_lesson.ipynb", type="notebook"))["content"]["cells"]

    return SimpleNamespace(path=tmp_path / "02_lesson.ipynb", get=get)


@pytest.mark.parametrize("process", [None, 8, 700])
def test_what_no_running_process_made_rests_and_says_what_to_press(served, process):
    before = served.path.read_bytes()
    offer, live, card = served.get(process)
    assert offer["outputs"][0]["data"]["text/html"] == resting.OFFER
    for cell, command in ((live, "notebook:run-cell"), (card, "notebook:run-all-cells")):
        data = cell["outputs"][0]["data"]
        assert resting.LIVE not in data and resting.ASLEEP not in data["text/html"]
        assert f'command="{command}"' in data["text/html"] and "Holds" in data["text/html"]
    assert served.path.read_bytes() == before
    served.path.write_text(served.path.read_text().replace('"outputs": []', OFFERED, 1))
    assert len(served.get(process)[0]["outputs"]) == 1  # saved with it, it is not made twice


@pytest.mark.parametrize("process", [70, 7])
def test_what_the_running_process_made_stays_alive(served, process):
    # Windows starts Python through another process: either of the two is the kernel's.
    live = served.get(process)[1]
    assert resting.LIVE in live["outputs"][0]["data"]
    assert live["outputs"][0]["data"]["text/html"] == HTML


@pytest.mark.parametrize("signed", [True, False])
def test_what_was_trusted_stays_so_and_what_was_not_is_not_made_so(served, signed):
    if signed:
        notary = NotebookNotary()
        notary.sign(nbformat.read(served.path, as_version=4))
        notary.store.close()
    assert all(cell["metadata"]["trusted"] is signed for cell in served.get()[1:])


def test_empty_cells_at_the_end_are_left_out(served):
    assert [cell["source"] for cell in served.get()] == ["check()", "show()", "show()"]


def test_a_notebook_that_never_ran_gets_its_offer(served):
    nbformat.write(new_notebook(cells=[new_code_cell("1")]), served.path)
    assert served.get()[0]["outputs"] and served.get(5)[0]["outputs"] == []


def test_an_output_that_is_nothing_but_a_panel_stays(served):
    notebook = nbformat.read(served.path, as_version=4)
    notebook.cells[1].outputs[0].data = {resting.LIVE: {"model_id": "abc"}}
    nbformat.write(notebook, served.path)
    assert resting.LIVE in served.get()[1]["outputs"][0]["data"]
