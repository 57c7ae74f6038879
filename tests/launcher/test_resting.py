"""Between two days live panels rest as pictures; what was trusted stays so, nothing else is."""

import nbformat
import pytest
from nbformat.sign import NotebookNotary
from nbformat.v4 import new_code_cell, new_notebook, new_output

from workshop_lib.launcher import resting
from workshop_lib.launcher.environment import ROOT


@pytest.fixture
def saved(monkeypatch, tmp_path):
    """A lesson as JupyterLab saves it: a panel by its number, with the picture beside it."""
    monkeypatch.setenv("JUPYTER_DATA_DIR", str(tmp_path / "data"))
    monkeypatch.setattr(resting, "list_running_servers", list)
    data = {resting.LIVE: {"model_id": "abc"}, "text/html": "<p>Holds</p>", "text/plain": "Holds"}
    cell = new_code_cell("panel()", outputs=[new_output("display_data", data)])
    path = tmp_path / "02_lesson.ipynb"
    nbformat.write(new_notebook(cells=[cell], metadata={"widgets": {"state": {}}}), path)
    return path


def read(path):
    return nbformat.read(path, as_version=4)


def trusted(path):
    notary = NotebookNotary()
    found = notary.check_signature(read(path))
    notary.store.close()
    return found


def test_a_panel_rests_as_its_picture_and_its_words(saved):
    resting.rest([saved])
    (output,) = read(saved).cells[0].outputs
    assert dict(output.data) == {"text/html": "<p>Holds</p>", "text/plain": "Holds"}
    assert "widgets" not in read(saved).metadata


@pytest.mark.parametrize("before", [True, False])
def test_what_was_trusted_stays_so_and_what_was_not_is_not_made_so(saved, before):
    if before:
        notary = NotebookNotary()
        notary.sign(read(saved))
        notary.store.close()
    resting.rest([saved])
    assert trusted(saved) == before


def test_nothing_is_touched_while_a_server_has_the_workbook_open(saved, monkeypatch):
    before = saved.read_bytes()
    monkeypatch.setattr(resting, "list_running_servers", lambda: [{"root_dir": str(ROOT)}])
    resting.rest([saved])
    assert saved.read_bytes() == before


def test_a_notebook_without_panels_is_not_written(saved):
    resting.rest([saved])
    before = saved.stat().st_mtime_ns
    resting.rest([saved])
    assert saved.stat().st_mtime_ns == before


def test_an_output_that_is_nothing_but_a_panel_stays(saved):
    notebook = read(saved)
    notebook.cells[0].outputs[0].data = {resting.LIVE: {"model_id": "abc"}}
    nbformat.write(notebook, saved)
    resting.rest([saved])
    assert resting.LIVE in read(saved).cells[0].outputs[0].data


@pytest.mark.parametrize("content", ["", "[]", "{", '{"cells": 5, "nbformat": 4}'])
def test_a_torn_file_is_passed_over(saved, content, tmp_path):
    torn = tmp_path / "01_torn.ipynb"
    torn.write_text(content)
    resting.rest([torn, tmp_path, saved])
    assert torn.read_text() == content
    assert resting.LIVE not in read(saved).cells[0].outputs[0].data
