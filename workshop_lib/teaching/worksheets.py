"""How does every sheet of a class get other numbers, with one key to all of them?

The same lessons, numbers and seed give the same sheets everywhere. Two sheets that lie side by side
never have the same answer to a question, not even within its tolerance.
"""

import itertools
import random
import re
import zlib
from dataclasses import dataclass

from workshop_lib.quantities import InputError, listed, quote, speaking, system
from workshop_lib.teaching import task_list

MOST_SHEETS, MOST_TASKS, LARGEST_SEED = 200, 5, 999_999
USUAL = 4  # questions on a sheet
BLANK = "____"
_BARE = re.compile(r"(?<![\w./_{^])[0-9]+(?:\.[0-9]+)?(?![\w/°]|\.[0-9])")  # not 2/3 nor 18°
_TRIES = 60
_PATIENT = 12  # tries for numbers that no sheet has had yet
_APART = 2  # how many sheets back an answer may not come again


@dataclass(frozen=True)
class Sheet:
    """One worksheet: its number, from 1 on, its exercises with their numbers drawn, and its owner's
    name, if there is one.
    """

    number: int
    tasks: tuple
    name: str = ""


@dataclass(frozen=True)
class WorksheetSet:
    """All worksheets of one run. code: stands on every sheet and on the key that belongs to it.
    units: the system that they speak, or None. faded: whether a worked example and a half-worked
    one stand before each question.
    """

    lessons: tuple
    seed: int
    sheets: tuple
    code: str
    units: str | None = None
    faded: bool = False

    def speaking(self):
        """Speak the system of these worksheets inside a `with` block."""
        return speaking(self.units or system())

    @property
    def title(self):
        """The lesson's title, or the numbers of the lessons that are mixed."""
        if len(self.lessons) == 1:
            return f"Lesson {self.lessons[0]}: {task_list.title_of(self.lessons[0])}"
        return f"Lessons {listed(self.lessons)}"


def draw(lessons, sheets=12, tasks=None, seed=1, questions=(), names=(), faded=False):
    """Draw a set of worksheets, in the system of units that is spoken.

    lessons: numbers of lessons, such as ["02"] or ["01", "02"]. sheets: how many, 1 to 200. tasks:
    questions on each, 1 to 5; None: four, or five for more lessons. seed: 0 to 999999. questions:
    which, such as ["torque", "faces"], in that order; none named: chosen by the seed, and one with
    a lesson's chart where it has one. names: of the learners, one sheet for each of them.
    faded: with examples before each question.
    Returns a `WorksheetSet`. Raises InputError.
    """
    lessons = tuple(dict.fromkeys(_lesson(each) for each in lessons))
    if not lessons:
        raise InputError("lessons", "no lesson was named", f"The lessons are {_listed()}")
    sheets = len(names) or sheets
    _whole("sheets", sheets, 1, MOST_SHEETS)
    if tasks is not None:
        _whole("tasks", tasks, 1, MOST_TASKS)
    _whole("seed", seed, 0, LARGEST_SEED)
    chosen = _named(lessons, questions) if questions else _chosen(lessons, tasks, seed)
    drawn = []
    for number in range(1, sheets + 1):
        before = drawn[-_APART:]
        seen = {task.question for sheet in drawn for task in sheet.tasks}
        own = [_other_numbers(task, seed, number, before, seen) for task in chosen]
        drawn.append(Sheet(number, tuple(own), names[number - 1] if names else ""))
    text = repr([(t.key, t.question) for sheet in drawn for t in sheet.tasks])
    code = f"{zlib.crc32(text.encode()) % 10**6:06d}"
    return WorksheetSet(lessons, seed, tuple(drawn), f"{code[:3]}-{code[3:]}", system(), faded)


def _named(lessons, questions):
    """Return the questions that are named, such as "faces" or, where two share it, "01-scale"."""
    pool = {}
    for lesson in lessons:
        for task in task_list.tasks_of(lesson):
            if task.remake is not None:
                short = task.key.rpartition("-task-")[2]
                pool.setdefault(short, []).append(task)
                pool[f"{lesson}-{short}"] = [task]
    found = []
    for name in dict.fromkeys(questions):
        fitting = pool.get(name, [])
        if len(fitting) != 1:
            several = f"{quote(name)} is in {len(fitting)} of these lessons"
            problem = several if fitting else f"{quote(name)} has no numbers to draw"
            known = ", ".join(each for each in pool if len(pool[each]) == 1 and each[0].isalpha())
            mend = f"Write it with its lesson, {lessons[0]}-{name}" if fitting else f"Name {known}"
            raise InputError("questions", problem, mend)
        found += fitting
    if len(found) > MOST_TASKS:
        raise InputError(
            "questions",
            f"{len(found)} questions do not fit on a sheet",
            f"Choose at most {MOST_TASKS}",
        )
    return found


def _lesson(text):
    number = str(text).strip().zfill(2)
    if number not in task_list.lessons():
        raise InputError(
            "lessons", f"{quote(text)} is not a lesson", f"The lessons are {_listed()}"
        )
    return number


def _listed():
    return ", ".join(task_list.lessons())


def _whole(name, value, low, high):
    if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
        mend = f"Write a whole number from {low} to {high}"
        raise InputError(name, f"{quote(value)} cannot be used", mend)


def _chosen(lessons, count, seed):
    """Choose the questions of a set: from each lesson in turn, the easier ones first."""
    shuffle = random.Random(f"questions {seed}")
    pools = []
    for lesson in lessons:
        pool = [task for task in task_list.tasks_of(lesson) if task.remake is not None]
        placed = [(lesson, place, task) for place, task in enumerate(pool)]
        placed.sort(key=lambda _: shuffle.random())
        first = next((each for each in placed if each[2].charted), None)
        pools.append(sorted(placed, key=lambda each: each is not first))
    pools.sort(key=lambda _: shuffle.random())  # which lessons, if there is no room for all
    there = sum(map(len, pools))
    wanted = min(there, max(USUAL, min(len(lessons), MOST_TASKS))) if count is None else count
    if wanted > there:
        problem = f"these lessons have only {there} questions with numbers to draw"
        raise InputError("tasks", problem, f"Write {there} or fewer, or name more lessons")
    picked = []
    while len(picked) < wanted:
        picked += [pool.pop(0) for pool in pools if pool]
    return [task for *_, task in sorted(picked[:wanted], key=_easier_first)]


def _easier_first(picked):
    """Questions of one step come first and those that are long by hand last, each by lessons."""
    lesson, place, task = picked
    return task.long_by_hand, not task.withheld, lesson, place


def _other_numbers(task, seed, number, before, seen):
    """Draw a sheet's numbers for one question: new ones, and never a neighbour's answer."""
    neighbours = [each for sheet in before for each in sheet.tasks if each.key == task.key]
    best, least, unfit = None, None, _hidden(task)
    for attempt in range(_TRIES):
        fresh = task.with_seed((seed * 1000 + number) * 100 + attempt)
        if any(_same_answer(fresh, each) for each in neighbours):
            continue
        faults = (fresh.question in seen, max(_hidden(fresh) - unfit, 0))
        if least is None or faults < least:
            best, least = fresh, faults
        if not any(least) or (attempt > _PATIENT and not least[0]):
            return best
    if best is None:
        raise InputError("seed", f"no numbers were found for {task.key} on sheet {number}")
    return best


def examples(task):
    """Return a drawn question twice with other numbers: one to read worked, one to complete."""
    return [task.with_seed(task.seed // 100 * 100 + place) for place in (98, 99)]


def half_worked(text, answer=""):
    """Return a worked step with every second number, and what it comes to, left out.

    answer: the right answer in words, which is left out wherever it stands.

    >>> half_worked("0.25 × 900 N × 2/3 × 20 mm = 3.00 N·m: below 4.", "3.00 N·m")
    '0.25 × ____ N × 2/3 × 20 mm = ____ N·m: below 4.'
    """
    before, equals, after = text.rpartition("=")
    numbers = itertools.count(1)
    right = answer.split(" ")[0]
    before = _BARE.sub(lambda found: found[0] if next(numbers) % 2 else BLANK, before)
    after = _BARE.sub(BLANK, after, count=1) if equals else after
    return _BARE.sub(
        lambda found: BLANK if found[0] == right else found[0], before + equals + after
    )


def _hidden(task):
    """Return how many mistakes lie so near the answer that a chart cannot tell them from it."""
    return len(task.common_wrong) - len(task.mistakes_on_paper())


def _same_answer(one, other):
    return one.judged(other.answer).right or other.judged(one.answer).right
