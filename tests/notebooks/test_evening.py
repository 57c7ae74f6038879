"""The two routes for a class: minutes that add up, panels and exercises that exist, numbers."""

import re

import nbformat
import pytest

from tests.notebooks.note_values import marked, value_of
from workshop_lib.launcher.commands import COMMANDS
from workshop_lib.launcher.environment import ROOT, masters
from workshop_lib.teaching import task_list

PAGE = (ROOT / "notebooks" / "for_teachers" / "an_evening.md").read_text(encoding="utf-8")
SOURCES = {path.name[:2]: path.read_text(encoding="utf-8") for path in masters()}


def part(heading):
    return re.split(r"^## ", PAGE.partition(f"## {heading}\n")[2], flags=re.MULTILINE)[0]


def rows(heading):
    found = re.findall(r"^\| (\d+) \| (.+?) \| (.*?) ?\|$", part(heading), re.MULTILINE)
    return [(int(minutes), what, how) for minutes, what, how in found]


@pytest.mark.parametrize(("heading", "minutes"), [("Two hours", 120), ("One hour", 60)])
def test_a_route_fills_its_time_and_has_what_a_lesson_needs(heading, minutes):
    *each, (total, last, _) = rows(heading)
    assert last == "Total" and sum(row[0] for row in each) == total == minutes
    whats = " ".join(what for _, what, _ in each)
    assert "Live demonstration" in whats and "cautions" in whats and "vote" in whats
    assert ("Break" in whats) == (minutes == 120)
    (exercises,) = (how for _, what, how in each if what.startswith("Three exercises"))
    assert len(re.findall(r"<!-- l\d\d-task-", exercises)) == 3


def test_every_panel_prediction_and_exercise_that_is_named_stands_in_its_lesson():
    tasks = {task.key for lesson in task_list.lessons() for task in task_list.tasks_of(lesson)}
    for key in re.findall(r"<!-- (l\d\d-[\w-]+) -->", PAGE):
        assert key in tasks or f'predict.predict(\\n",\n    "    \\"{key}\\"' in SOURCES[key[1:3]]
    for _, _, how in rows("Two hours") + rows("One hour"):
        for panel in re.findall(r"“(.+?)”", how):
            assert f"Panel: {panel} (" in SOURCES[re.search(r"lesson (\d\d)", how)[1]]
    every = "".join(SOURCES.values())
    for panel in re.findall(r"“(.+?)”", part("Panels and their settings")):
        assert f"Panel: {panel} (" in every


def test_every_value_is_what_the_library_computes():
    values = list(marked(PAGE))
    assert len(values) >= 5
    for before, expression in values:
        assert before.endswith(f" {value_of(expression)}"), (before[-25:], value_of(expression))


@pytest.mark.parametrize("path", masters(), ids=lambda path: path.name[:2])
def test_every_lesson_has_learners_explain_to_their_neighbour_once(path):
    cells = nbformat.read(path, as_version=4).cells
    asked = [at for at, c in enumerate(cells) if c.source.startswith("**Explain to your neighbour")]
    assert len(asked) == 1 and "predict.reveal(" in cells[asked[0] - 1].source
    assert "?" in cells[asked[0]].source or "how" in cells[asked[0]].source


def test_the_shopping_list_is_one_and_its_commands_exist():
    listed = part("Shopping list")
    assert listed.count("\n- ") >= 6
    for words in ("local rules", "the machine's own instructions", "trained instructor"):
        assert words in listed
    for command in re.findall(r"workshop_lib ([\w-]+)", listed):
        assert command in COMMANDS
