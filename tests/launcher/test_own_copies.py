"""A learner's own copies: laid out once, brought up to date, and never at the cost of work."""

import nbformat
import pytest

from tests.launcher.copy_cells import read
from workshop_lib.launcher import copies
from workshop_lib.launcher.environment import masters

MASTERS = masters()


def another_edition(path, worked=False):
    """Let a copy be one of an earlier edition, in which somebody has worked or not."""
    notebook = read(path)
    notebook.cells[0].source += "\n\nAs it was."
    notebook.metadata[copies.OWN] = copies.mark(notebook)
    if worked:
        notebook.cells[0].source += "\n\nMine."
    nbformat.write(notebook, path)
    return path.read_bytes()


def test_a_new_folder_gets_every_lesson_and_what_it_leads_to(folder, tmp_path):
    assert copies.lay_out(tmp_path / "own") == [tmp_path / "own" / path.name for path in MASTERS]
    for path in folder.rglob("*"):
        if path.is_file():
            own = tmp_path / "own" / path.relative_to(folder)
            assert own.read_bytes() == path.read_bytes()


def test_what_was_run_or_written_on_the_day_before_is_still_there(tmp_path):
    copies.lay_out(tmp_path)
    run, worked = tmp_path / MASTERS[0].name, tmp_path / MASTERS[1].name
    notebook = read(run)
    for cell in notebook.cells:
        if cell.cell_type == "code":
            cell.execution_count = 1
    nbformat.write(notebook, run)
    notebook = read(worked)
    notebook.cells[-1].source += "\n# mine"
    nbformat.write(notebook, worked)
    before = [run.read_bytes(), worked.read_bytes()]
    assert copies.lay_out(tmp_path) == []
    assert [run.read_bytes(), worked.read_bytes()] == before


def test_an_explanation_of_the_learners_own_is_work_that_stays(tmp_path):
    copies.lay_out(tmp_path)
    explained = 0
    for path in (tmp_path / master.name for master in MASTERS):
        notebook = read(path)
        own = [cell for cell in notebook.cells if cell.source == copies.OWN_WORDS]
        for cell in own[:1]:
            cell.source = cell.source.replace("…", "The rim is slack, I think.")
            nbformat.write(notebook, path)
            explained += 1
            assert copies.worked_in(path)
            before = path.read_bytes()
            assert copies.lay_out(tmp_path) == [] and path.read_bytes() == before
    assert explained >= 4


def test_an_earlier_edition_is_replaced_unless_somebody_worked_in_it(tmp_path):
    copies.lay_out(tmp_path)
    fresh = {path.name: path.read_bytes() for path in tmp_path.glob("*.ipynb")}
    plain, own = tmp_path / MASTERS[0].name, tmp_path / MASTERS[1].name
    another_edition(plain)
    mine = another_edition(own, worked=True)
    newer = own.with_stem(own.stem + copies.NEWER)
    assert copies.lay_out(tmp_path) == [plain, newer]
    assert plain.read_bytes() == fresh[plain.name] and own.read_bytes() == mine
    assert newer.read_bytes() == fresh[own.name]
    assert copies.lay_out(tmp_path) == []


def test_editions_that_were_all_worked_in_stay_side_by_side(tmp_path):
    copies.lay_out(tmp_path)
    own = tmp_path / MASTERS[1].name
    another_edition(own, worked=True)
    (newer,) = copies.lay_out(tmp_path)
    kept = [own.read_bytes(), another_edition(newer, worked=True)]
    (newest,) = copies.lay_out(tmp_path)
    assert newest.stem == f"{own.stem}{copies.NEWER} 2"
    assert [own.read_bytes(), newer.read_bytes()] == kept


@pytest.mark.parametrize("content", ['{"cells": [', '{"cells": 5, "nbformat": 4}', "[]", ""])
def test_a_torn_file_under_a_lessons_name_is_left_and_the_lesson_comes_beside_it(tmp_path, content):
    torn = tmp_path / MASTERS[0].name
    torn.write_text(content)
    new = copies.lay_out(tmp_path)
    assert torn.read_text() == content and torn.with_stem(torn.stem + copies.NEWER) in new


@pytest.mark.parametrize(
    "first_cell",  # of lesson 00, and of all the others, before they moved
    [
        "from workshop_lib.lesson.start_scenes import first_look",
        "from workshop_lib.drawings import page\npage.objectives(90, 'Compute the torque.')",
    ],
)
def test_a_copy_of_an_earlier_edition_is_told_how_to_go_on_in_one_sentence(first_cell):
    with pytest.raises(ImportError, match="earlier edition") as told:
        exec(first_cell, {})
    assert told.value._render_traceback_() == [str(told.value)]
    assert "your answers" in str(told.value)


def glossaries(folder):
    return sorted(path.name for path in folder.glob("words_used*"))


def test_what_a_learner_wrote_into_the_glossary_is_kept_and_a_link_is_left_alone(tmp_path):
    copies.lay_out(tmp_path)
    copies.lay_out(tmp_path)
    assert glossaries(tmp_path) == ["words_used.md"]
    glossary = tmp_path / "words_used.md"
    glossary.write_text(glossary.read_text(encoding="utf-8") + "my own note\n", encoding="utf-8")
    copies.lay_out(tmp_path)
    assert glossaries(tmp_path) == ["words_used.md", "words_used.mine-1.md"]
    assert "my own note" in (tmp_path / "words_used.mine-1.md").read_text(encoding="utf-8")
    assert "my own note" not in glossary.read_text(encoding="utf-8")
    elsewhere = tmp_path / "elsewhere.md"
    elsewhere.write_text("mine")
    glossary.unlink()
    glossary.symlink_to(elsewhere)
    copies.lay_out(tmp_path)
    assert glossary.is_symlink() and elsewhere.read_text() == "mine"


def test_a_glossary_of_an_edition_before_is_replaced_without_a_copy(tmp_path):
    copies.lay_out(tmp_path)
    copies._add_glossary(tmp_path / copies.WORDS, "another edition")
    assert glossaries(tmp_path) == ["words_used.md"]
    assert (tmp_path / copies.WORDS).read_text().startswith("another edition")
