"""A new group meets nothing of the last one's, and the last one loses nothing."""

import nbformat
import pytest

from workshop_lib.launcher import answers, copies, fresh
from workshop_lib.launcher.environment import ROOT
from workshop_lib.launcher.trouble import Trouble

SECRET = "It slips, says the group of before"


@pytest.fixture
def folder(tmp_path, monkeypatch):
    """A folder in which a group has worked: run cells, answers, words of its own, and a shop."""
    monkeypatch.setattr(fresh, "list_running_servers", lambda: [{"root_dir": "/elsewhere"}])
    monkeypatch.delenv(answers.VARIABLE, raising=False)
    folder = tmp_path / "my_lessons"
    first = copies.lay_out(folder)[0]
    notebook = nbformat.read(first, as_version=4)
    code = next(cell for cell in notebook.cells if cell.cell_type == "code")
    code.outputs = [nbformat.v4.new_output("stream", text=SECRET)]
    nbformat.write(notebook, first)
    (folder / answers.FILE.name).write_text(SECRET)
    (folder / fresh.STAYS).write_text('units = "inch"')
    return folder


def below(folder):
    return {p.relative_to(folder): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def test_a_new_group_sees_nothing_of_before_and_nothing_is_lost(folder, tmp_path):
    before = below(folder)
    for number in "12":
        fresh.begin_anew(folder)
        assert set(below(folder)) == {folder.joinpath(fresh.STAYS).relative_to(folder)}
        copies.lay_out(folder)
        assert not any(SECRET.encode() in content for content in below(folder).values())
        assert (folder / fresh.STAYS).read_text() == 'units = "inch"'
        if number == "1":
            assert below(tmp_path / fresh.BEFORE / number) == before
    assert fresh.BEFORE.startswith(".")  # what JupyterLab's file list leaves out


def test_answers_that_lie_elsewhere_are_put_aside_too(folder, tmp_path, monkeypatch):
    file = tmp_path / "else.jsonl"
    file.write_text(SECRET)
    monkeypatch.setenv(answers.VARIABLE, str(file))
    fresh.begin_anew(folder)
    assert not file.exists()
    assert [p.read_text() for p in tmp_path.glob("else*")] == [SECRET]


def test_an_open_window_is_not_robbed_of_its_lessons(folder, monkeypatch):
    monkeypatch.setattr(fresh, "list_running_servers", lambda: [{"root_dir": str(ROOT)}])
    before = below(folder)
    with pytest.raises(Trouble, match="already open"):
        fresh.begin_anew(folder)
    assert below(folder) == before


def test_without_lessons_there_is_nothing_to_put_away(tmp_path, monkeypatch):
    monkeypatch.setattr(fresh, "list_running_servers", list)
    fresh.begin_anew(tmp_path / "none")
    assert list(tmp_path.iterdir()) == []
