"""The widget of an exercise: hints in steps, other numbers, and what was answered before."""

import re

import pytest

from tests.teaching.exercise_cases import (
    FACES,
    TORQUE,
    bearing,
    drawn,
    exercise,
    fresh,  # noqa: F401
    labels,
    press,
    words,
)
from workshop_lib.drawings import page
from workshop_lib.teaching import answer_file
from workshop_lib.teaching.exercises import Exercise


def test_hints_come_one_at_a_time_and_the_solution_last():
    card = exercise().ask()
    assert labels(card.face) == ["Check", "Hint (2 left)"]
    face = press(card, "hint")
    assert "Hint 1 of 2: Only one face" in words(face["details"])
    assert "2/3 of the pad" not in words(face["details"])
    face = press(card, "hint")
    assert labels(face) == ["Check", "Show the worked solution"]
    assert "1.2 N" not in words(face["details"])
    face = press(card, "solution")
    assert "1.2 N·m" in words(face["details"]) and labels(face) == ["Check"]
    press(card, "hint"), press(card, "hint")  # pressed by a page that is behind: nothing breaks
    assert not press(card, "anything else")["fault"]


def test_an_honest_try_earns_the_solution_and_a_slip_of_the_keyboard_does_not():
    card = exercise().ask()
    assert labels(press(card, "check", "1.2")) == ["Check", "Hint (2 left)"]
    face = press(card, "check", "2.4 N m")
    assert labels(face) == ["Check", "Hint (2 left)", "Show the worked solution"]


def test_the_card_says_what_is_needed_and_nothing_where_there_is_nothing():
    assert exercise().ask().face["need"] == "" and "You need" not in exercise().ask().still().text()
    card = exercise(paper="M = μ N r_{t}", panel="Will it slip?").ask()
    said = "You need: the panel “Will it slip?”, or by hand M = μ N r_t."
    assert said in card.still().text()
    assert (
        "<strong>You need:</strong>" in card.face["need"] and "r<sub>t</sub>" in card.face["need"]
    )
    for paper in ("Lay a ruler through the point.", lambda: page.table([["1"]], ["a"])):
        assert exercise(paper=paper).ask().face["need"] == ""  # that is for paper alone


def test_a_formula_that_is_the_whole_solution_waits_as_the_first_hint():
    card = exercise(paper="M = μ N r_{t}", withheld=True).ask()
    assert card.face["need"] == "" and "M = " not in card.still().text()
    assert labels(card.face) == ["Check", "Hint (3 left)"]
    assert "M = μ N r" in words(press(card, "hint")["details"])


def test_what_is_needed_changes_with_the_numbers():
    def made(seed=0):
        return Exercise("s", f"{seed}?", TORQUE, paper=f"M = {seed} N r", remake=made)

    card = made().ask()
    assert "M = 0 N r" in card.face["need"]
    press(card, "numbers")
    assert "M = 1 N r" in card.face["need"]


def test_after_the_right_answer_no_help_is_offered():
    assert labels(press(exercise().ask(), "check", "1.2 N m")) == ["Check"]


def test_the_card_keeps_what_was_typed_and_says_what_was_wrong():
    card = exercise().ask()
    face = press(card, "check", "2.4 N m")
    assert FACES in words(face["verdict"]) and face["fields"]["answer"]["value"] == "2.4 N m"
    face = press(card, "check", "2.4")
    assert "has no unit" in face["fields"]["answer"]["complaint"]
    face = press(card, "check", "1.2 N m")
    assert "Right" in words(face["verdict"]) and not face["fields"]["answer"]["complaint"]


def test_the_card_asks_with_other_numbers_and_begins_again():
    card = drawn(0).ask()
    asked = card.face["lead"]
    press(card, "check", "9 N m")
    shown = []
    card.observe(lambda change: shown.append(change["new"]), "face")
    face = press(card, "numbers", "9 N m")
    assert face["lead"] != asked and re.search(r"\(Numbers [0-9]+\.\)$", face["lead"])
    assert face["verdict"] == face["fields"]["answer"]["value"] == ""
    assert shown[0]["answered"] == ["", 0]  # so that the page empties the box as well
    answer = card.exercise.answer
    assert "Right" in press(card, "check", f"{answer.m_as('N*m')} N m")["verdict"]
    last = answer_file.current().entries("d")[-1]
    assert last["numbers"] == card.exercise.seed and last["state"] == "right"


def test_other_numbers_are_never_those_that_stand_there_and_go_on_from_the_record():
    card, questions = drawn(0).ask(), []
    for _ in range(12):
        before = card.exercise.question
        press(card, "numbers")
        assert card.exercise.question not in (before, drawn(0).question)
        questions.append(card.exercise.seed)
        press(card, "check", "9 N m")
    assert questions == sorted(set(questions))
    later = drawn(0).ask()
    press(later, "numbers")
    assert later.exercise.seed > max(questions)


def test_numbers_that_are_all_drawn_stay_as_they_are():
    def same(_seed=0):
        return Exercise("s", "Always?", TORQUE, remake=same)

    card = same().ask()
    face = press(card, "numbers", "2 N m")
    assert card.exercise.seed is None and not face["fault"]


def test_the_record_says_what_help_was_taken():
    card = exercise().ask()
    press(card, "check", "2.4 N m")
    press(card, "hint")
    press(card, "check", "1.8 N m")
    press(card, "solution")
    press(card, "check", "1.2 N m")
    helped = [entry.get("helped") for entry in answer_file.current().entries("e")]
    assert helped == [None, "1 hint", "worked solution"]


def test_what_was_answered_earlier_is_taken_up():
    exercise().check("2.4 N m")
    face = exercise().ask().face
    assert FACES in words(face["verdict"]) and face["fields"]["answer"]["value"] == "2.4 N m"
    assert "Show the worked solution" in labels(face)
    drawn(0).with_seed(3).check("1 N m")
    assert drawn(0).ask().face["verdict"] == ""  # that answer was to other numbers


def test_what_was_chosen_earlier_is_taken_up():
    bearing().check("both")
    face = bearing().ask().face
    assert face["fields"]["answer"]["value"] == "both" and "sliding ring" in words(face["verdict"])


def test_it_is_told_with_how_many_numbers_it_was_right():
    card = drawn(0).ask()
    for _ in range(2):
        press(card, "numbers")
        press(card, "check", f"{card.exercise.answer.m_as('N*m')} N m")
    assert "right with 2 sets" in words(card.face["details"])


@pytest.mark.parametrize("value", [None, 5, True, [], {}, "x" * 5000, "\ud800", "9" * 400 + " N m"])
@pytest.mark.parametrize("action", ["check", "hint", "solution", "numbers", "", "<b>"])
def test_no_message_of_a_page_brings_the_card_down(action, value):
    for task in (drawn(0), bearing()):
        card = task.ask()
        assert press(card, action, value)["fault"] == ""
        card._receive(card, {"stamp": ["p", 2], "action": action, "values": {}}, [])
        assert card.face["fault"] == ""
