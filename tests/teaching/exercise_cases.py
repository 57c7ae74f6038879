"""Exercises that several test modules try, and how a page presses their buttons."""

import random
import re

import pytest

from workshop_lib.quantities import Q_
from workshop_lib.teaching import answer_file
from workshop_lib.teaching.exercises import Exercise

TORQUE = Q_(1.2, "N*m")  # by hand: 2/3 × 15 mm × 0.2 × 600 N
FACES, RIM = "You counted both faces.", "You took the rim for the friction radius."


@pytest.fixture(autouse=True)
def fresh():
    """A store of the test's own, in each module that imports this, so that it meets no other's."""
    before = answer_file.use(answer_file.Store())
    yield
    answer_file.use(before)


def exercise(**more):
    given = {
        "common_wrong": [(2 * TORQUE, FACES), (lambda: 1.5 * TORQUE, RIM)],
        "hints": ["Only one face drives.", "The friction radius is 2/3 of the pad's."],
        "solution": "2/3 × 15 mm × 0.2 × 600 N = 1.2 N·m",
    }
    return Exercise("e", "What torque can it carry?", TORQUE, **{**given, **more})


def bearing():
    ways = {"front": "the front one", "both": "both share it"}
    said = [("both", "A sliding ring cannot take it.")]
    return Exercise(
        "b", "Which bearing?", "front", options=ways, common_wrong=said, hints=["Look."]
    )


def words(html):
    return re.sub(r"<[^>]+>", " ", html)


def press(card, action, value=""):
    """Press a button of the card, as the page does; return the new face."""
    card._receive(card, {"stamp": ["p", 1], "action": action, "values": {"answer": value}}, [])
    return card.face


def labels(face):
    return [button["label"] for button in face["buttons"]]


def drawn(seed):
    thrust = random.Random(seed).choice([400, 600, 800])
    answer = Q_(thrust * 0.2 * 0.01, "N*m")
    return Exercise("d", f"At {thrust} N?", answer, remake=drawn)
