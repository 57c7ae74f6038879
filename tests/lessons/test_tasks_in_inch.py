"""Every exercise where inch is spoken: round numbers, answers by hand, slips that stay apart."""

import re

import pytest

from tests.house.laws import held_for
from tests.house.thorough import among
from tests.lessons.hand_working import BY_HAND, ROUGHLY, numbers_in
from workshop_lib.drawings import page
from workshop_lib.quantities import read, speaking
from workshop_lib.teaching import task_list

SEEDS = (None, *range(among(1, 40)))
METRIC = re.compile(r"[0-9] ?(mm|µm|kN|N|N·m+|MPa|m/min|kg|kgf)\b|newton|millimet|kilogram")
ABOUT_UNITS = (
    "l00-task-comma",
    "l01-task-gauge",
    "l08-task-inches",
)  # they say what an inch is in millimetres
MEASURED = {  # told as a micrometer, a table or the library finds it: three figures or four
    "l01-task-identify", "l01-task-tape", "l03-task-pass", "l04-task-drift", "l04-task-preload",
    "l04-task-life", "l04-task-static", "l04-task-governs", "l07-task-ring",
    "l06-task-warm", "l08-task-seat", "l08-task-press",
}  # fmt: skip
# A law for each unit: of what is a round number a whole multiple? A rule has sixteenths.
STEPS = {"in": (1 / 16, 0.05), "thou": (0.05,), "lbf": (0.1,), "lbf·in": (1,), "lbf/in": (500,),
         "ft/min": (5,), "psi": (0.5,), "lb": (1,)}  # fmt: skip
BASE = {"thou": ("mm", "mm"), "in": ("mm", "mm"), "lbf": ("N", "N"), "lbf·in": ("N*m", "N m"),
        "psi": ("MPa", "MPa")}  # fmt: skip
AMOUNT = re.compile(
    r"(?P<number>[0-9]+ [0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]+(?:[.,][0-9]+)?) "
    r"(?P<unit>in(?! the thread)|thou|lbf·in|lbf/in|lbf|lb|ft/min|psi)(?![\w·/])"
)


@pytest.fixture(scope="module")
def tasks():
    with speaking("inch"):
        own = {t.key: t for lesson in task_list.lessons() for t in task_list.tasks_of(lesson)}
        return {
            (key, seed): task if seed is None else task.with_seed(seed)
            for key, task in own.items()
            for seed in SEEDS
            if seed is None or task.remake
        }


@pytest.fixture(autouse=True)
def _inch():
    with speaking("inch"):
        yield


def every_sentence(task):
    steps = task.solution if isinstance(task.solution, list) else [task.solution]
    blocks = [page.as_block(each).text() for each in (*steps, *task.aids()) if each]
    said = [words for _, words in task.common_wrong]
    return [task.question, *task.hints, *said, *blocks, *(task.options or {}).values()]


def size(number):
    return sum(float(a) / float(b or 1) for a, _, b in
               (part.partition("/") for part in number.replace(",", ".").split()))  # fmt: skip


def test_no_sentence_of_an_exercise_has_a_metric_unit(tasks):
    for place, task in tasks.items():
        for words in every_sentence(task):
            assert not METRIC.search(words) or place[0] in ABOUT_UNITS, (place, words)


def test_every_number_in_a_question_is_round_in_inch(tasks):
    met = set()
    for (key, seed), task in tasks.items():
        for found in AMOUNT.finditer(task.question):
            met.add(found["unit"])
            number = size(found["number"])
            figures = len(found["number"].replace(".", "").lstrip("0"))
            whole = any(abs(number / s - round(number / s)) < 1e-6 for s in STEPS[found["unit"]])
            assert whole or (key in MEASURED and figures <= 5), (key, seed, found[0])
    assert met == set(STEPS)


def test_hand_working_gives_the_answer(tasks):
    for (key, seed), task in tasks.items():
        if key in BY_HAND:
            unit, worked = BY_HAND[key]
            wanted = worked(task.question, *numbers_in(task.question, unit))
            found = float(task.answer if not unit else task.answer.m_as(unit))
            rel = 4e-3 if key in MEASURED else 1e-6  # they are told to three figures
            assert found == pytest.approx(wanted, rel=max(rel, ROUGHLY.get(key, 0))), (key, seed)


def test_the_answer_is_told_in_inch_and_taken_in_both_systems(tasks):
    for place, task in tasks.items():
        said = task.answer_words() if task.options is None else task.answer
        assert task.judged(said).right, place
        if task.options is None and task.unit:
            base = BASE.get(task.unit)
            assert base or task.unit in ("rev/min", "Hz", "h", "%"), place
            metric = read(said, task._kind).m_as(base[0]) if base else 0
            assert not base or task.judged(f"{metric:.9f} {base[1]}").right, place


def test_no_slip_passes_for_the_answer_or_for_another(tasks):
    for place, task in tasks.items():
        for value, said in task.common_wrong:
            feedback = task.judged(value)
            assert (feedback.state, feedback.said) == ("known", said), place


@held_for(["l05-task-knock"], (None, 0, 1, 2, 3))
def test_what_is_written_in_thou_is_told_in_round_millimetres_where_metric_is_spoken(key, seed):
    with speaking("metric"):
        task = task_list.by_name(key[1:3])[key.rpartition("-")[2]]
        task = task if seed is None else task.with_seed(seed)
        shown = re.findall(r"([0-9.]+) mm", task.question)
        assert len(shown) == 2 and all(round(float(each) / 0.05, 6).is_integer() for each in shown)
        assert task.unit == "mm" and not any("thou" in words for words in every_sentence(task))
