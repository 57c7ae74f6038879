"""The stored lessons are whole: executed, free of errors, and nothing in them escapes the check."""

import copy
import re

import nbformat
import pytest
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook, new_output

from tests.notebooks import notebook_guards as guards
from workshop_lib.launcher.environment import ROOT

NOTEBOOKS = sorted(
    path for path in (ROOT / "notebooks").rglob("*.ipynb") if ".ipynb_checkpoints" not in path.parts
)
LESSONS = [path for path in NOTEBOOKS if re.match(r"\d\d_", path.name)]
NEEDS_ANSWER = [path for path in LESSONS if not path.name.startswith("00_")]


def name(path):
    return path.relative_to(ROOT).as_posix()


def test_the_first_lesson_is_where_the_workbook_opens():
    assert ROOT / "notebooks" / "00_start_here.ipynb" in LESSONS


def test_lessons_are_numbered_without_a_gap():
    assert [int(path.name[:2]) for path in LESSONS] == list(range(len(LESSONS)))


@pytest.mark.parametrize("path", NOTEBOOKS, ids=name)
def test_nothing_in_a_stored_notebook_escapes_the_check(path):
    assert guards.faults(guards.read(path)) == []


@pytest.mark.parametrize("path", NEEDS_ANSWER, ids=name)
def test_a_lesson_is_held_to_an_answer_from_outside(path):
    cells = guards.code_cells(guards.read(path))
    assert any(guards.is_known_answer(cell) for _, cell in cells)


# The guards themselves: a sound notebook passes, and each single fault in it is found


def cell(source, *outputs, count=1, tags=()):
    return new_code_cell(
        source, execution_count=count, outputs=list(outputs), metadata={"tags": list(tags)}
    )


PRINTED = new_output("stream", name="stdout", text="2.3\n")
RAISED = new_output("error", ename="ValueError", evalue="no", traceback=[])
WARNED = new_output("stream", name="stderr", text="careful\n")
ANSWER = "# Known answer: worked by hand\nassert round(2.3) == 2\nprint(2.3)"


DRAWN = (
    '<svg aria-hidden="true"></svg>'
    '<svg role="img" aria-label="holds > 2.3 times"><svg x="1"></svg></svg>'
)


def html(text):
    return new_output("display_data", {"text/html": text})


def sound():
    return new_notebook(
        cells=[
            new_markdown_cell("# Title\n\n```python\n### no heading\n```\n\n## Part\n\n### Step"),
            cell(ANSWER, PRINTED),
            cell("# NBVAL_RAISES_EXCEPTION\nraise ValueError('no')", RAISED, count=2),
            cell("draw()", html(DRAWN), count=3),
            cell("1 / 0", RAISED, count=4, tags=["raises-exception"]),
            cell("", count=None),
        ],
        metadata={"kernelspec": {"name": "python3", "display_name": "Python 3"}},
    )


def test_a_sound_notebook_has_no_faults():
    notebook = sound()
    nbformat.validate(notebook)
    assert guards.faults(notebook) == []


@pytest.mark.parametrize(
    ("place", "faulty", "words"),
    [
        (1, cell(ANSWER, PRINTED, count=None), "unexecuted"),
        (1, cell(ANSWER, PRINTED, count=9), "ran as number 9, not 1"),
        (1, cell(ANSWER, RAISED), "stored with an error"),
        (1, cell(ANSWER, PRINTED, WARNED), "stored with a warning"),
        (1, cell(ANSWER), "shows nothing"),
        (1, cell("# Known answer: by hand\nprint(2.3)", PRINTED), "asserts nothing"),
        (1, cell("# Known answer: by hand\ndef f():\n    assert 1", PRINTED), "asserts nothing"),
        (
            1,
            cell("# Known answer: by hand\nclick = lambda: agrees(1, 1)", PRINTED),
            "asserts nothing",
        ),
        (1, cell("# known answer, by hand\nassert 1", PRINTED), "must begin with the line"),
        (1, cell("# Known answer:\nassert 1", PRINTED), "must begin with the line"),
        (1, cell("import numpy\n" + ANSWER, PRINTED), "must begin with the line"),
        (1, cell(ANSWER + "\n# NBVAL_CHECK_OUTPUT", PRINTED), "carries a marker"),
        (2, cell("# NBVAL_RAISES_EXCEPTION", PRINTED, count=2), "stores none"),
        (2, cell("# NBVAL_RAISES_EXCEPTION: on purpose", PRINTED, count=2), "not read"),
        (2, cell("# NBVAL_IGNORE_OUTPUT\nprint(1)", PRINTED, count=2), "not allowed"),
        (2, cell("# NBVAL_SKIP\nprint(1)", PRINTED, count=2), "not allowed"),
        (2, cell("print(1)", PRINTED, count=2, tags=["nbval-skip"]), "takes it out"),
        (3, cell("draw()", html("<p>A <svg width='9'></svg></p>"), count=3), "without a sentence"),
        (3, cell("draw()", html('<svg aria-label="it holds">'), count=3), "without a sentence"),
        (3, cell("draw()", html(DRAWN + "<svg><p/></svg>"), count=3), "without a sentence"),
        (3, cell("draw()", html('<img src="2.png" alt="">'), count=3), "without a sentence"),
        (0, new_markdown_cell("## No title"), "only title"),
        (0, new_markdown_cell("# One\n\n# Two"), "only title"),
        (0, new_markdown_cell("# One\n\n### Three"), "level 3 stands below one of level 1"),
    ],
)
def test_each_fault_is_found(place, faulty, words):
    notebook = sound()
    notebook.cells[place] = copy.deepcopy(faulty)
    found = guards.faults(notebook)
    assert len(found) >= 1 and any(words in fault for fault in found), found


def test_an_assertion_may_be_the_lessons_own():
    notebook = sound()
    notebook.cells[1].source = "# Known answer: by hand\nknown.agrees(2.3, 2.3, 0.1, 'by hand')"
    assert guards.faults(notebook) == []


def test_a_notebook_that_names_no_kernel_is_found():
    notebook = sound()
    notebook.metadata = {}
    assert any("kernel" in fault for fault in guards.faults(notebook))
