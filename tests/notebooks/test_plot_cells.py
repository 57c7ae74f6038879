"""The cells "Plot it yourself": short, stored, and what is to be tried next works."""

import json
import re

import pytest
from IPython.core.interactiveshell import InteractiveShell

from tests.house.thorough import only_thorough
from workshop_lib.drawings.figures import Figure
from workshop_lib.launcher import answers
from workshop_lib.launcher.environment import ROOT

LESSONS = sorted((ROOT / "notebooks").glob("0*.ipynb"))
MOST = 6  # lines
# What a learner changes in the cell who does as "Try this next" says.
NEXT = {
    "00": ("[0, 100]", "[0, 130]"),
    "01": ("[0, 2.4], \"N*m\"), Q_([0, 800]", "[0, 2], \"N*m\"), Q_([0, 650]"),
    "02": ("[0, 168], \"N\"), Q_([0, 2.4]", "[0, 300], \"N\"), Q_([0, 1.2]"),
    "03": ("[1, len(plan)], [2, 2]", "[1, 3, 3, len(plan)], [2.5, 2.5, 2, 2]"),
    "04": ("Q_([0, 16], \"um\")", "Q_([0, 8], \"um\")"),
    "05": ("[2.5, 2.5]", "[3, 3]"),
    "06": ("float(chance.median)", "float(chance.margin.quantile(0.05))"),
    "07": ("[30, 30]", "[20, 20]"),
    "08": ("[18, 24, 90, 15]", "[14, 20, 80, 12]"),
}  # fmt: skip


def cells_of(path):
    return json.loads(path.read_text(encoding="utf-8"))["cells"]


@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.name[:2])
def test_a_lesson_has_a_short_cell_to_plot_in_and_says_what_to_try_next(path):
    cells = {cell["id"]: cell for cell in cells_of(path)}
    name = f"l{path.name[:2]}-plot"
    source, words = ("".join(cells[each]["source"]) for each in (name, f"{name}-words"))
    lines = [line for line in source.splitlines() if line]
    assert len(lines) <= MOST and lines[-1].startswith("chart.picture(")
    assert re.search(r"^chart\.axes\.plot\(.*label=", source, re.MULTILINE)
    assert "Plot it yourself" in words and "**Try this next:**" in words
    assert NEXT[path.name[:2]][0] in source
    (output,) = cells[name]["outputs"]
    assert "<img " in "".join(output["data"]["text/html"])


@only_thorough
@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.name[:2])
def test_what_is_to_be_tried_next_works_when_it_is_typed(path, monkeypatch):
    monkeypatch.chdir(path.parent)
    answers.forget()
    shell, name = InteractiveShell(), f"l{path.name[:2]}-plot"
    for cell in cells_of(path):
        source = "".join(cell["source"])
        if cell["cell_type"] == "code":
            shell.run_cell(source, silent=True).raise_error()
        if cell["id"] == name:
            break
    before = shell.run_cell(source).result
    after = shell.run_cell(source.replace(*NEXT[path.name[:2]])).result
    assert isinstance(after, Figure) and after.svg != before.svg
