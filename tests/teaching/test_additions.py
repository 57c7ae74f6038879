"""A teacher's own folder adds to everything, takes nothing away, and faults in it are named."""

import json
import re

import pytest

from tests.lessons.languages import unsaid
from workshop_lib import gauges, materials, plan
from workshop_lib.launcher import answers, copies, environment
from workshop_lib.launcher.environment import ROOT, own_lessons
from workshop_lib.launcher.trouble import Trouble
from workshop_lib.own_files import translations
from workshop_lib.quantities import InputError
from workshop_lib.sources import all_sources, csv_tables
from workshop_lib.teaching import (
    class_answers,
    overview,
    own_exercises,
    task_list,
    words,
    worksheets,
)

TITANIUM = (
    "titanium,titanium sheet,metal,din,1000,1400,1800,0.23,our-book,4510,our-book,105,our-book,"
    "0.34,our-book,275,our-book,6,10,15,30,45,60,our-book,"
)
ROWS = {
    "sources.csv": "our-book,Our book,published,The workshop's own book,",
    "materials.csv": TITANIUM,
    "facings.csv": "chamois,chamois,any,dry,0.2,0.3,0.4,,our-book,",
    "words.csv": "aluminium foil,Very thin aluminium.,01,",
}
EXERCISES = """
[[exercise]]
lesson = "02"
name = "winter"
question = "600 N and friction 0.2. How large a side force can one face hold?"
kind = "force"
answer = "120 N"
mistakes = [["240 N", "You counted both faces."]]
hints = ["Friction times thrust."]

[[exercise]]
lesson = "20"
name = "lamp"
question = "Does the lamp above our lathe stay on?"
options = { yes = "Yes", no = "No" }
answer = "yes"
"""
LESSON = {
    "cells": [
        {"cell_type": "markdown", "id": "a", "metadata": {}, "source": "# 20 · Our lathe"},
        {"cell_type": "code", "id": "b", "metadata": {}, "outputs": [], "execution_count": None,
         "source": 'predict("l20-lamp", "Is it on?", options={"y": "yes", "n": "no"})'},
    ],
    "metadata": {}, "nbformat": 4, "nbformat_minor": 5,
}  # fmt: skip


@pytest.fixture
def mine(tmp_path, monkeypatch):
    """A folder with a row for four tables, a gauge table, two exercises and a lesson."""
    folder = tmp_path / "my_additions"
    folder.mkdir()
    for name, row in ROWS.items():
        head = (csv_tables.BUILT_IN / name).read_text(encoding="utf-8").splitlines()[0]
        (folder / name).write_text(f"{head}\n{row}\n", encoding="utf-8")
    gauge = "gauge,thickness_mm,source,note\n1,5.0,our-book,\n3,2.5,our-book,\n2,3.5,our-book,\n"
    (folder / "gauge_din.csv").write_text(gauge)
    (folder / own_exercises.FILE).write_text(EXERCISES)
    (folder / "20_our_lathe.ipynb").write_text(json.dumps(LESSON, ensure_ascii=False), "utf-8")
    monkeypatch.setenv(csv_tables.VARIABLE, str(folder))
    return folder


def test_both_ends_of_the_house_mean_the_same_folder():
    assert csv_tables.VARIABLE == environment.ADDITIONS
    assert csv_tables.OWN == environment.MY_ADDITIONS


def test_rows_stand_beside_the_built_in_ones(mine, monkeypatch):
    with_own = (
        [each.key for each in materials.materials()],
        [each.key for each in materials.facings()],
    )
    assert materials.friction("chamois", "titanium").low == 0.2
    assert words.find_word("aluminium foil").lesson == 1
    assert "our-book" in {each.key for each in all_sources()}
    monkeypatch.setenv(csv_tables.VARIABLE, "")
    without = (
        [each.key for each in materials.materials()],
        [each.key for each in materials.facings()],
    )
    for both, built_in in zip(with_own, without, strict=True):
        assert len(both) == len(built_in) + 1 and both[: len(built_in)] == built_in
    with pytest.raises(InputError, match="aluminium foil"):
        words.find_word("aluminium foil")


def test_a_gauge_table_needs_one_file(mine):
    assert gauges.thickness(3, "din").m_as("mm") == pytest.approx(2.5)
    assert {"din"} < set(gauges.tables())
    (match, *_) = gauges.identify("3.5 mm", tables="din")
    assert (match.gauge, match.label, match.sources) == (2, "2 din", "our-book")
    assert any(each.table == "din" for each in gauges.identify("3.5 mm"))
    (mine / "gauge_swg.csv").write_text((mine / "gauge_din.csv").read_text())
    with pytest.raises(InputError, match="built-in"):
        gauges.tables()


def test_own_exercises_are_asked_counted_and_kept_off_worksheets(mine):
    task = task_list.by_name("02")["winter"]
    assert task.judged("0.12 kN").right and task.judged("240 N").said == "You counted both faces."
    assert task_list.by_name("20")["lamp"].judged("no").state == "wrong"
    drawn = worksheets.draw(["02"], 2, 4)
    assert "l02-task-winter" not in {t.key for sheet in drawn.sheets for t in sheet.tasks}


BAD = [
    ('kind = "force"', 'kind = "farce"', "exercise 1"),
    ('answer = "120 N"', 'answer = "120"', "exercise 1: answer"),
    ('answer = "120 N"', 'answer = "240 N"', "exercise 1: common_wrong"),
    ('name = "lamp"', 'name = "La mp"', "exercise 2: name"),
    ('lesson = "20"', "lesson = 2", "exercise 2: lesson"),
    ('answer = "yes"', 'answer = "perhaps"', "exercise 2"),
    ("hints", "hint", "exercise 1: hint .*Did you mean hints"),
    ('name = "winter"\n', "", "exercise 1: name is missing"),
    ("[[exercise]]", "[[task]]", "holds no|exercise"),
    ('question = "600', "question = 600", "line"),
    ("mistakes = [[", "mistakes = [", "exercise 1|line"),
    ("hints = [", "hints = 3 # [", "exercise 1: hints"),
    ("[[exercise]]\nlesson", "exercise = [1]\nlesson", "exercise 1|line|table"),
]


@pytest.mark.parametrize(("old", "new", "said"), BAD)
def test_a_bad_exercise_is_named_by_its_place(mine, old, new, said):
    assert old in EXERCISES
    (mine / own_exercises.FILE).write_text(EXERCISES.replace(old, new))
    with pytest.raises(InputError, match=rf"my_additions/exercises\.toml.*({said})"):
        task_list.tasks_of("02")


def test_an_own_lesson_is_copied_opened_and_counted_without_notes_for_teachers(mine, tmp_path):
    assert [path.name for path in own_lessons()] == ["20_our_lathe.ipynb"]
    own = tmp_path / "lessons"
    copies.lay_out(own)
    assert (own / "20_our_lathe.ipynb").is_file()
    glossary = (own / copies.WORDS).read_text(encoding="utf-8")
    assert "Added by your teacher" in glossary and "Very thin aluminium." in glossary
    assert task_list.title_of("20") == "Our lathe"
    (question,) = class_answers.predictions(class_answers.lesson_file("20"))
    entries = {question.key: [{"given": "yes", "raw": "y"}]}
    read = class_answers.Read([class_answers.Learner("", "a.jsonl", entries)], [])
    page = overview.document(read, overview.begun(read.learners), "numbers")
    assert "20 Our lathe" in page and "Is it on?" in page


def test_an_own_lesson_goes_by_its_number_and_is_run_with_what_stands_beside_it(mine, monkeypatch):
    path = mine / "20_our_lathe.ipynb"
    assert environment.master("20") == path and environment.master("2").name.startswith("02_")
    with pytest.raises(Trouble, match="no lesson 21: the lessons are 00 to 08, and 20 of your own"):
        environment.master("21")
    answers.forget(path.parent)
    assert csv_tables.own_folder() == mine
    answers.forget(environment.NOTEBOOKS)
    assert csv_tables.own_folder() is None


def test_what_a_teacher_really_added_holds_too(monkeypatch):
    """Run on every check, so that a fault in `my_additions` is found before a class finds it."""
    monkeypatch.delenv(csv_tables.VARIABLE)
    materials.materials(), materials.facings(), gauges.tables(), words.all_words(), all_sources()
    for path in translations.files():
        texts = translations.texts_in(path)
        lost = [f"{path.name}, line {texts[each][1]}: {each}" for each in unsaid(texts)]
        assert lost == [], "nothing says these"
    for path in own_lessons():
        assert re.match(r"[0-9]{2}_", path.name) and class_answers.predictions(path) is not None
    for number in [*task_list.lessons(), *(path.name[:2] for path in own_lessons())]:
        assert len({task.key for task in task_list.tasks_of(number)}) == len(
            task_list.tasks_of(number)
        )


@pytest.mark.parametrize(
    "cells", ["3", '[{"cell_type": "code", "source": 7}]', "[7]", '"x"', "[" * 9999, ""]
)
def test_a_lesson_that_is_no_notebook_is_named(mine, cells):
    path = mine / "21_torn.ipynb"
    path.write_text(f'{{"cells": {cells}}}')
    with pytest.raises(InputError, match=r"21_torn\.ipynb: is not a notebook"):
        class_answers.predictions(path)


def test_a_cell_that_is_no_plain_python_hides_no_prediction_of_the_others(mine):
    path = mine / "22_magic.ipynb"
    cell = LESSON["cells"][1]
    odd = cell | {"source": "%time predict('l22-x', 'x', kind='force')"}
    path.write_text(json.dumps(LESSON | {"cells": [odd, cell]}))
    assert [each.key for each in class_answers.predictions(path)] == ["l20-lamp"]


def test_a_table_that_no_other_can_be_read_without_is_named_once(mine):
    (mine / "materials.csv").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(InputError) as refused:
        plan.parse((ROOT / "notebooks" / "jobs" / "tide_gauge_lid.toml").read_text())
    lines = str(refused.value).splitlines()
    assert [line for line in lines if "my_additions/materials.csv, line 1" in line] == lines[1:]
    assert len(lines) == 2
