"""Predictions and exercises in the page: answered right, wrong and unreadably."""

import ast

import nbformat
import pytest
from playwright.sync_api import expect

from tests.browser import workbook
from tests.browser.panel import Panel
from tests.house.thorough import THOROUGH
from workshop_lib.drawings.markup import plain
from workshop_lib.launcher.environment import ROOT
from workshop_lib.quantities import kind_of
from workshop_lib.teaching import task_list

ASKED = [name for name in workbook.OPENED if workbook.live_elements(name)[1]]
REVEALED = "Prediction and answer"


def calls(name, wanted):
    """Yield the calls of a function of `predict` in a lesson's cells, in order."""
    notebook = nbformat.read(ROOT / "notebooks" / f"{name}.ipynb", as_version=4)
    for cell in notebook.cells:
        if cell.cell_type == "code" and f"predict.{wanted}(" in cell.source:
            for node in ast.walk(ast.parse(cell.source)):
                if isinstance(node, ast.Call) and ast.unparse(node.func) == f"predict.{wanted}":
                    yield node


def exercises(name):
    """Return the exercises that a lesson asks; a worksheet may ask more."""
    text = (ROOT / "notebooks" / f"{name}.ipynb").read_text(encoding="utf-8")
    shown = task_list.by_name(name[:2]).items()
    return [task for short, task in shown if f'\\"{short}\\"' in text]


def literal(node):
    try:
        return ast.literal_eval(node)
    except ValueError:
        return None


def card(lesson, title, index):
    """Return one of the cards with this title, counted from 0."""
    own = lesson.page.locator(".wb-title").get_by_text(title, exact=True)
    return Panel(lesson.cards.filter(has=own).nth(index))


@pytest.mark.parametrize("name", ASKED)
def test_a_prediction_is_committed_once_in_words_and_set_beside_the_answer(lessons, name):
    lesson = lessons[name]
    answers = {literal(call.args[0]): literal(call.args[1]) for call in calls(name, "reveal")}
    for index, call in enumerate(calls(name, "predict")):
        key, given = literal(call.args[0]), {each.arg: each.value for each in call.keywords}
        options = literal(given["options"]) if "options" in given else None
        asking = card(lesson, "Predict", index)
        revealed = card(lesson, REVEALED, list(answers).index(key))
        expect(revealed.details).to_contain_text("No prediction is on record yet")
        assert asking.press("Commit")["complaints"]  # nothing was chosen or typed
        right = answers[key]  # None where a cell computes it
        if options:
            wrong = next(option for option in options if option != right)
            predict_option(asking, revealed, options[wrong], "Not so" if right else "")
            if right:
                asking.press("I want to change it")
                predict_option(asking, revealed, options[right], "Right")
        else:
            assert asking.type("Your prediction", "about 3")["complaints"]
            typed = kind_of(literal(given["kind"])).example
            assert f"You predict: {typed}" in asking.type("Your prediction", typed)["verdict"]
            expect(revealed.verdict).to_contain_text(f"You predicted: {typed}")


def predict_option(asking, revealed, words, judged):
    """Choose an option by the mouse, commit, and see it judged further down."""
    asking.root.get_by_text(words, exact=True).click()
    assert f"You predict: {words}" in asking.press("Commit")["verdict"]
    expect(revealed.verdict).to_contain_text(
        f"{judged}: You predicted: {words}" if judged else words
    )


def test_a_predicted_quantity_is_judged_and_the_usual_slip_explained(lessons):
    asking, revealed = (card(lessons["00"], title, 0) for title in ("Predict", REVEALED))
    open_again(asking)
    asking.type("Your prediction", "240 N")
    expect(revealed.verdict).to_contain_text("Not so: You predicted: 240 N")
    expect(revealed.verdict).to_contain_text("You counted both faces")
    open_again(asking)
    asking.type("Your prediction", "0.12 kN")  # by hand: 0.2 × 600 N
    expect(revealed.verdict).to_contain_text("Right: You predicted: 0.12 kN")


def open_again(asking):
    """Take a committed prediction up again, if there is one."""
    again = asking.root.get_by_role("button", name="I want to change it")
    if again.count():
        asking.press("I want to change it")


@pytest.mark.parametrize("name", [name for name in ASKED if exercises(name)])
def test_an_exercise_tells_right_from_wrong_and_from_what_cannot_be_read(lessons, name):
    lesson = lessons[name]
    found = exercises(name)
    for exercise in found if THOROUGH else to_try(found):
        asked = Panel(lesson.exercises.filter(has_text=plain(exercise.question)))
        assert asked.press("Check")["complaints"]
        if exercise.hints:
            asked.press("Hint")
            expect(asked.details).to_contain_text(f"Hint 1 of {len(exercise.hints)}")
        for value, said in exercise.common_wrong[:1]:
            assert f"Not yet: {plain(said)}" in handed_in(asked, exercise, value)
        assert handed_in(asked, exercise, exercise.answer).startswith("Right")
    assert lesson.errors == []


def to_try(found):
    """Return the first exercise that is answered by choosing, and the first with a number."""
    ways = {exercise.options is None: exercise for exercise in reversed(found)}
    return list(ways.values())


def handed_in(asked, exercise, value):
    """Hand an answer in, and return what is said to it."""
    if exercise.options is not None:
        asked.root.get_by_text(exercise.options[value], exact=True).click()
        return asked.press("Check")["verdict"]
    return asked.type("Your answer", exercise.words_for(value))["verdict"]
