"""Predictions are committed before the answer, kept, and set beside it with what they mean."""

import gc
import re

import pytest

from tests.teaching.exercise_cases import fresh, labels, press, words  # noqa: F401
from workshop_lib.quantities import Q_, InputError, speaking
from workshop_lib.teaching import answer_file
from workshop_lib.teaching.predict import commit, predict, reveal

TORQUE = Q_(1.2, "N*m")
WAYS = {"same": "It stays the same", "double": "It doubles"}


def test_where_inch_is_spoken_a_prediction_is_asked_and_told_in_it():
    with speaking("inch"):
        card = predict("i", "A 50.8 mm pad at 800 N: what torque?", kind="torque")
        told = reveal("i", TORQUE, "It is μ × 800 N.", slips=[("2.4 N m", "That is 1600 N.")])
        shown = [repr(card.still()), repr(told.still()), told.slips[0][1], card.field.help]
    assert "2 in pad at 180 lbf" in shown[0] and "written like 12 lbf in" in shown[3]
    assert "10.6 lbf·in" in shown[1] and "180 lbf" in shown[1] and shown[2] == "That is 360 lbf."


def ask(**more):
    return predict("k", "How much torque?", kind="torque", **more)


def tell(**more):
    return reveal("k", TORQUE, "Only the pad drives.", **more)


def test_a_committed_prediction_is_fixed_and_stays_to_be_seen():
    card = ask()
    face = press(card, "commit", "2 N m")
    assert face["fields"]["answer"]["locked"] and face["fields"]["answer"]["value"] == "2 N m"
    assert "predict: 2 N m" in words(face["verdict"])
    assert labels(face) == ["I want to change it"]


def test_a_changed_prediction_keeps_the_first_on_record():
    card = ask()
    press(card, "commit", "2 N m")
    opened = press(card, "change", "2 N m")
    assert not opened["fields"]["answer"]["locked"] and labels(opened) == ["Commit"]
    changed = press(card, "commit", "3 N m")
    assert re.search("first prediction .*: 2 N m", words(changed["details"]))
    assert [entry["given"] for entry in answer_file.current().entries("k")] == ["2 N m", "3 N m"]
    assert re.search(r"predicted: 3 N m \(.*2 N m\)", words(tell().face["verdict"]))


@pytest.mark.parametrize("typed", ["2", "2 N", "", "two", "<script>", None, 5])
def test_what_cannot_be_read_is_not_committed(typed):
    face = press(ask(), "commit", typed)
    assert face["fields"]["answer"]["complaint"]
    assert answer_file.current().entries("k") == []


def test_a_prediction_from_code_shows_in_the_card_and_the_answer():
    card, told = ask(), tell()
    assert "record: 2.4 N m" in repr(commit("k", "2.4 N m"))
    assert card.face["fields"]["answer"]["locked"]
    assert "predicted: 2.4 N m" in words(told.face["verdict"])


def test_code_may_commit_a_quantity():
    ask()
    commit("k", Q_(2.4, "N*m"))
    assert "2.4 N·m" in words(tell().face["verdict"])


def test_code_that_cannot_be_read_is_refused():
    ask()
    with pytest.raises(InputError, match="Your prediction"):
        commit("k", "2 N")
    with pytest.raises(InputError, match="no prediction"):
        commit("never-asked", "2 N m")


@pytest.mark.parametrize("given", ["1.2 N m", "1.25 N m", "1200 N mm"])
def test_a_prediction_that_is_close_is_met_in_any_unit(given):
    ask()
    commit("k", given)
    assert "Right: You predicted" in words(tell().face["verdict"])


def test_a_common_slip_is_named():
    ask()
    commit("k", "2.4 N m")
    told = tell(slips=[("2.4 N m", "You counted both faces.")])
    assert "You counted both faces." in words(told.face["verdict"])


@pytest.mark.parametrize(("given", "named"), [("0 N m", True), ("30 N m", False)])
def test_nothing_at_all_may_be_a_slip(given, named):
    ask()
    commit("k", given)
    told = tell(slips=[("0 N m", "It does press.")])
    assert ("It does press." in words(told.face["verdict"])) == named


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ("3.6 N m", "3.0 times the computed"),
        ("0.6 N m", "0.50 times the computed"),
        ("0 N m", "smaller than the computed"),
    ],
)
def test_another_difference_is_said_as_a_ratio(given, said):
    ask()
    commit("k", given)
    assert said in words(tell().face["verdict"])


def test_a_slip_that_is_the_answer_is_refused():
    ask()
    with pytest.raises(InputError, match="^slips: .* the same as the answer"):
        tell(slips=[("1.21 N m", "x")])


def test_before_a_commitment_the_answer_is_folded_away_and_not_lost():
    ask()
    face = tell().face
    assert "No prediction" in words(face["details"])
    assert "<details>" in face["details"] and "1.20 N·m" in words(face["details"])


def test_an_answer_that_is_already_shown_follows_a_late_prediction():
    ask()
    told = tell()
    commit("k", "1.2 N m")
    assert "Right" in words(told.face["verdict"])


def test_options_are_judged_by_key_and_answered_one_by_one():
    predict("w", "What happens?", options=WAYS)
    commit("w", "same")
    told = reveal("w", "double", "Proportional.", feedback={"same": "Friction grows with thrust."})
    assert re.search("Not so: .*It stays the same", words(told.face["verdict"]))
    assert "Friction grows with thrust." in words(told.face["verdict"])
    commit("w", "double")
    assert re.search("Right: .*It doubles", words(told.face["verdict"]))


def test_a_stored_page_does_not_depend_on_what_was_committed():
    cards = [ask(), tell()]
    before = [card._repr_mimebundle_() for card in cards]
    commit("k", "2.4 N m")
    after = [card._repr_mimebundle_() for card in [ask(), tell()]]
    for kind in ("text/plain", "text/html"):
        assert [each[kind] for each in before] == [each[kind] for each in after]


def test_the_wording_of_a_printed_page_is_a_line_to_ask_and_the_reason_to_answer():
    assert repr(ask().still()) == "How much torque?\nYour prediction: ____________"
    assert repr(tell()) == "Answer: 1.20 N·m. Only the pad drives."
    assert repr(ask()) == "Prediction: How much torque?"


def test_an_answer_to_what_was_never_asked_is_refused():
    with pytest.raises(InputError, match="no prediction"):
        reveal("never-asked-either", TORQUE, "x")


class Watcher:
    def __init__(self):
        self.told = 0

    def refresh(self):
        self.told += 1


def test_a_store_tells_those_who_watch_and_forgets_the_dead():
    shelf, watcher = answer_file.Store(), Watcher()
    shelf.watch("k", watcher)
    shelf.record("k", {"given": "1"})
    shelf.record("other", {"given": "2"})
    assert watcher.told == 1
    del watcher
    gc.collect()
    shelf.record("k", {"given": "3"})
    assert [entry["given"] for entry in shelf.entries("k")] == ["1", "3"]


def test_entries_cannot_be_changed_from_outside():
    shelf = answer_file.Store()
    shelf.record("k", {"given": "1"})
    shelf.entries("k")[0]["given"] = "2"
    assert shelf.entries("k") == [{"given": "1"}]


def test_a_guess_within_a_tenth_is_a_good_one_but_no_usual_mistake_is():
    ask()
    commit("k", "1.11 N m")  # 7.5 % below
    assert "A good guess: You predicted: 1.11 N m" in str(tell().face["verdict"]).replace(
        "</strong>", ""
    )
    slip = [(Q_(1.31, "N*m"), "You took the rim.")]
    commit("k", "1.31 N m")  # 9 % above, and a mistake that has a name
    shown = tell(slips=slip).face["verdict"]
    assert "Not so" in shown and "You took the rim" in shown
