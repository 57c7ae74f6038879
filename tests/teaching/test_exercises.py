"""Exercises know right from each usual wrong, in any unit, and never answer with a traceback."""

import re

import nbformat
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.teaching.exercise_cases import FACES, RIM, TORQUE, bearing, drawn, exercise, fresh, press  # noqa: F401
from workshop_lib.launcher.environment import ROOT
from workshop_lib.quantities import Q_, InputError
from workshop_lib.teaching import answer_file, task_list
from workshop_lib.teaching.exercises import Exercise, fitting_example, told_apart
from workshop_lib.teaching.task_list import tasks_of


@pytest.mark.parametrize(
    "typed", ["1.2 N m", "1200 N mm", "1.22 Nm", "10.62 lbf in", "0.1224 kgf m"]
)
def test_the_right_answer_is_right_in_any_unit(typed):
    feedback = exercise().check(typed)
    assert feedback.right
    assert re.match(r"Right: 1\.20 N·m\n2/3 ", repr(feedback))


@pytest.mark.parametrize(
    ("typed", "said"), [("2.4 N m", FACES), ("2400 N mm", FACES), ("1.8 N m", RIM)]
)
def test_each_common_wrong_answer_is_recognised(typed, said):
    feedback = exercise().check(typed)
    assert feedback.state == "known" and repr(feedback) == f"Not yet: {said}"


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("3 N m", "too large"),
        ("0.45 N m", "too small"),
        ("1.25 N m", "very close"),
        ("1.27 N m", "too large"),
        ("1200 N m", "a unit other than N·m"),
        ("10.62 N m", "a unit other than"),  # 1.2 N·m is 10.62 lbf in
        ("1.2 lbf ft", "a unit other than"),
        ("0.12 N m", "factor of 10"),
        ("-1.2 N m", "sign is wrong"),
        ("0.6 N m", "2 times too small. Check for a diameter"),
        ("4.8 N m", "4 times too large"),
        ("3.77 N m", "3.14 times too large. Check for a missing π"),
        ("68.75 N m", "57.3 times too large. Check the angles"),
        ("0 N m", "too small"),
    ],
)
def test_another_wrong_answer_is_not_given_away(typed, said):
    feedback = exercise().check(typed)
    assert feedback.state == "wrong" and said in feedback.said
    assert exercise().answer_words() not in repr(feedback)
    assert not re.search(r"\b1\.20?0? N", repr(feedback))


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("1.2", "has no unit"),
        (1.2, "has no unit"),
        ("1.2 N", "is a force, but this needs a torque"),
        ("1,2 N m", "has a comma"),
        ("", "nothing was typed"),
        ("<script>", "does not start with a number"),
    ],
)
def test_what_cannot_be_read_is_answered_in_the_readers_words(typed, said):
    feedback = exercise().check(typed)
    assert feedback.state == "unreadable" and said in feedback.said
    assert answer_file.current().entries("e") == []


@given(
    st.one_of(
        st.text(max_size=50), st.none(), st.floats(), st.integers(), st.booleans(), st.binary()
    )
)
def test_whatever_is_handed_in_is_answered(value):
    for each in (ONE, WAY):
        assert each.check(value).state in ("right", "known", "wrong", "unreadable")


ONE, WAY = exercise(), bearing()


def test_a_quantity_may_be_checked_from_code():
    assert exercise().check(Q_(1.2, "N*m")).right


@pytest.mark.parametrize(
    ("wrong", "what"),
    [
        ([(1.01 * TORQUE, "x")], "the right answer"),
        ([(1.03 * TORQUE, "x")], "the right answer"),  # each within 2 %: the two windows meet
        ([(2 * TORQUE, "x"), (2.01 * TORQUE, "y")], "another wrong one"),
    ],
)
def test_a_wrong_answer_that_cannot_be_told_apart_is_refused(wrong, what):
    with pytest.raises(InputError, match=f"^common_wrong: .* the same as {what}"):
        exercise(common_wrong=wrong)


def test_a_wrong_answer_of_another_kind_is_refused():
    with pytest.raises(InputError, match="torque"):
        exercise(common_wrong=[("3 mm", "x")])


def test_options_are_right_wrong_or_unknown():
    assert repr(bearing().check("front")) == "Right: the front one"
    assert repr(bearing().check("both")) == "Not yet: A sliding ring cannot take it."
    assert bearing().check("neither").state == "unreadable"


def test_an_option_that_does_not_exist_is_refused():
    with pytest.raises(InputError, match="^Your answer: .*choices"):
        Exercise("b", "?", "back", options={"front": "f"})


def test_a_plain_number_is_asked_without_a_unit():
    ratio = Exercise("r", "How many times?", 2.0)
    assert ratio.check("2").right and ratio.check("200 %").right and ratio.check(2).right


def test_an_absolute_tolerance_serves_an_answer_of_zero():
    nothing = Exercise("z", "What torque does the nose carry?", Q_(0, "N*m"), within="0.01 N m")
    assert nothing.check("0 N m").right and not nothing.check("0.1 N m").right


def test_every_attempt_is_on_record():
    task = exercise()
    task.check("2.4 N m"), task.check("1.2 N m")
    states = [(entry["given"], entry["state"]) for entry in answer_file.current().entries("e")]
    assert states == [("2.4 N m", "known"), ("1.2 N m", "right")]


def test_a_stored_page_shows_the_question_and_neither_answer_nor_hint():
    bundle = exercise().ask()._repr_mimebundle_()
    assert bundle["text/plain"] == "Exercise: What torque can it carry?"
    assert "What torque can it carry?" in bundle["text/html"]
    for secret in ("1.2", "Only one face"):
        assert secret not in bundle["text/html"].replace("margin", "")


def test_hints_and_solution_can_be_had_from_code():
    assert repr(exercise().hint(2)).startswith("Hint 2 of 2: The friction radius")
    assert repr(exercise().worked()).startswith("Answer: 1.20 N·m")
    with pytest.raises(InputError, match="not a hint"):
        exercise().hint(3)


def test_other_numbers_can_be_drawn_and_the_same_seed_draws_the_same():
    first = drawn(0)
    assert first.with_seed(5).question == first.with_seed(5).question
    assert len({first.with_seed(seed).question for seed in range(20)}) == 3
    for seed in range(5):
        again = first.with_seed(seed)
        assert again.check(again.answer).right and again.seed == seed
    with pytest.raises(InputError, match="fixed numbers"):
        exercise().with_seed(1)


@pytest.mark.parametrize(
    ("typed", "right"), [("0 N", True), ("0.9 N", True), ("2 N", False), ("0 lbf", True)]
)
def test_a_slip_of_nothing_can_be_told_from_a_share(typed, right):
    task = Exercise("z", "?", Q_(50, "N"), common_wrong=[(Q_(0, "N"), "Not nothing.")])
    assert (task.check(typed).said == "Not nothing.") == right


def test_slips_from_tables_are_kept_where_they_can_be_told_apart():
    slips = [(Q_(1.001, "mm"), "a"), (Q_(2, "mm"), "b"), (Q_(2.01, "mm"), "c"), (Q_(3, "mm"), "d")]
    kept = told_apart(Q_(1, "mm"), slips, "1 %")
    assert [said for _, said in kept] == ["b", "d"]


@pytest.mark.parametrize(
    ("answer", "within", "said"),
    [
        (Q_(21.3, "mm"), "2 %", "21.3 mm"),
        (Q_(108.536, "mm"), "0.3 %", "108.5 mm"),
        (Q_(100.04, "mm"), "0.01 %", "100.04 mm"),
        (20, "0.3", "20"),
        (Q_(0, "N"), "1 N", "0 N"),
    ],
)
def test_the_answer_in_words_is_rounded_no_further_than_its_check_allows(answer, within, said):
    task = Exercise("w", "?", answer, within=within)
    assert task.answer_words() == said and task.judged(said).right


def test_nothing_typed_becomes_markup():
    hostile = "<script>alert(1)</script>"
    task = Exercise("h", hostile, TORQUE, common_wrong=[(2 * TORQUE, hostile)], solution=hostile)
    card = task.ask()
    for value in (hostile, "2.4 N m", "1.2 N m"):
        face = press(card, "check", value)
        assert "<script" not in face["verdict"] + face["details"]
    assert "<script" not in card._repr_mimebundle_()["text/html"]


def test_no_exercise_shares_its_record_with_a_prediction_or_another_exercise():
    # They are kept in one store by key: a shared key mixes up two kinds of record.
    tasks = [task for number in task_list.lessons() for task in task_list.tasks_of(number)]
    predicted = {
        key
        for path in sorted((ROOT / "notebooks").glob("[0-9]*.ipynb"))
        for cell in nbformat.read(path, as_version=4).cells
        for key in re.findall(r'predict\.predict\(\s*"([^"]+)"', cell.source)
    }
    keys = [task.key for task in tasks]
    assert len(predicted) >= 10
    assert len(set(keys)) == len(keys) > 0
    assert not set(keys) & predicted


# How an answer is written


@pytest.mark.parametrize(
    ("answer", "kind", "example"),
    [
        (20, "ratio", "30"),  # a gauge number is whole
        (0.35, "ratio", "0.2"),  # the kind's own example, being of that size
        (3.05, "ratio", "2"),  # 3 might pass for it
        (Q_(0.224, "mm"), "length", "0.3 mm"),
        (Q_(-0.224, "mm"), "length", "0.3 mm"),
        (Q_(29, "mm"), "length", "20 mm"),  # 30 mm might pass for it
        (Q_(13.5, "um"), "length", "30 µm or 30 um"),  # few keyboards have a µ
        (Q_(10, "N*m"), "torque", "30 N m"),  # nor a raised point
        (Q_(0.0384, "percent"), "ratio", "0.03 %"),
        (Q_(45_600, "hour"), "time", "30000 h"),
        (Q_(0, "N"), "force", "600 N"),
    ],
)
def test_the_example_is_a_round_number_of_the_answers_size(answer, kind, example):
    assert fitting_example(answer, kind) == example


def test_the_wording_of_the_field_says_whether_a_unit_is_wanted():
    assert "A whole number, written like 30." in Exercise("n", "Which?", 20).field.help
    assert "A plain number, written like" in Exercise("n", "Which?", 2.5).field.help
    assert "A number with its unit, written like" in Exercise("n", "Which?", TORQUE).field.help


def test_a_whole_number_may_have_its_gauge_behind_it():
    (identify,) = [each for each in tasks_of("01") if each.key == "l01-task-identify"]
    for typed in ("20 gauge", "20 ga", "No. 20 ga.", "20"):
        assert identify.check(typed).state == "right", typed
