"""What did a class answer? Answer files of its learners read, and their answers counted.

A file may have any name and may have been made to do harm: it is read as data only. Every word that
is counted here is the workbook's own, a number that the strict reader took, or a learner's name.
"""

import ast
import contextlib
import functools
import itertools
import json
from collections import Counter
from typing import NamedTuple

from workshop_lib.launcher.environment import masters, own_lessons
from workshop_lib.quantities import Q_, InputError, show, speaking
from workshop_lib.teaching import answer_file, task_list
from workshop_lib.teaching.exercises import mistake_key
from workshop_lib.teaching.fields import question_field
from workshop_lib.teaching.known import near

MOST_FILES = 500
STATES = ("right", "known", "wrong")  # of an answer to an exercise
FEWEST = 3  # entries by which one file is known to be the beginning of another
MOST_BARS = 8  # different answers in numbers that are shown apart
ANOTHER = "a listed mistake from an earlier edition"


class Learner(NamedTuple):
    """Whose answers they are, the file's name without its ending, and the entries by key."""

    name: str
    file: str
    entries: dict

    def began(self, number):
        """Return whether anything of a lesson was answered."""
        return any(key.startswith(f"l{number}-") for key in self.entries)


class Read(NamedTuple):
    """What a folder gave: learners, and (file, why) of what was left out or read in part."""

    learners: list
    remarks: list


class Question(NamedTuple):
    """A prediction as the lesson asks it."""

    key: str
    words: str
    field: object


def read_folder(folder):
    """Read every answer file below a folder; return `Read`. What is none is named, and left out."""
    found = sorted(p for p in folder.rglob("[!.]*") if p.is_file() and not p.is_symlink())
    learners, remarks = [], []
    for path in found[:MOST_FILES]:
        shown = path.relative_to(folder).as_posix()
        try:
            entries, torn = answer_file.parsed(path) if path.stat().st_size else ({}, 0)
        except answer_file.NotOurs as error:
            remarks.append((shown, f"{error}: left out"))
            continue
        except OSError as error:
            remarks.append((shown, f"cannot be read ({error.strerror}): left out"))
            continue
        if torn:
            remarks.append((shown, f"{torn} of its lines cannot be read, the others are counted"))
        name = answer_file.name_in(entries.get(answer_file.WHO, []))
        learners.append(Learner(name, shown, entries))
    if len(found) > MOST_FILES:
        remarks.append((found[MOST_FILES].name, f"and what comes after {MOST_FILES} is left out"))
    return _without_copies(learners, remarks)


def _without_copies(learners, remarks):
    """Leave out a file that is the beginning of another: handed in earlier, or twice."""
    kept = []
    for one in sorted(learners, key=lambda each: (-_size(each), len(each.file))):
        whole = next((other for other in kept if _begins(one, other)), None)
        if whole is None:
            kept.append(one)
        else:
            remarks.append((one.file, f"is an earlier copy of {whole.file}: left out"))
    return Read(sorted(kept, key=lambda each: each.file), remarks)


def _size(learner):
    return sum(map(len, learner.entries.values()))


def _begins(one, other):
    """Return whether all that stands in one file stands in the other, at the same times.

    Two learners may well give one answer in the same second, but not three in a row.
    """
    return _size(one) >= FEWEST and all(
        rows == other.entries.get(key, [])[: len(rows)] and all("when" in row for row in rows)
        for key, rows in one.entries.items()
    )


@functools.lru_cache(maxsize=32)
def predictions(path):
    """Return the predictions that a notebook asks, as its stored cells have them; none is run.

    Raises InputError for a file that is no notebook, as a teacher's own may be.
    """
    found = []
    for source in _code(path):
        with contextlib.suppress(SyntaxError):  # such as a line that begins with %
            calls = [node for node in ast.walk(ast.parse(source)) if _predicts(node)]
            found += filter(None, map(_question, calls))
    return found


def _code(path):
    """The code cells of a notebook that predict, as text; nbformat would load for a second."""
    try:
        cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
        code = ["".join(each["source"]) for each in cells if each["cell_type"] == "code"]
    except (OSError, ValueError, TypeError, KeyError, RecursionError) as error:
        mend = "Open it in JupyterLab and save it again"
        raise InputError(path.name, "is not a notebook that can be read", mend) from error
    return [source for source in code if "predict(" in source]


def _predicts(node):
    named = isinstance(node, ast.Call) and getattr(node.func, "attr", getattr(node.func, "id", ""))
    return named == "predict"


def _question(call):
    """Return what a call asks, where it says so in plain words."""
    try:
        key, words = map(ast.literal_eval, call.args)
        given = {each.arg: ast.literal_eval(each.value) for each in call.keywords}
        return Question(key, words, question_field("Prediction", **given))
    except (ValueError, TypeError):
        return None


def lesson_file(number):
    """Return the notebook of a lesson, or None."""
    lessons = [*masters(), *own_lessons()]
    return next((path for path in lessons if path.name.startswith(f"{number}_")), None)


class Votes(NamedTuple):
    """What one learner voted at first, and after talking it over or seeing the answer."""

    first: object
    last: object
    met: tuple  # whether each of them met the answer; None while no answer was shown


def votes(learner, question):
    """Return the votes of a learner on a question, or None. A vote is a key, or a quantity."""
    entries = learner.entries.get(question.key, [])
    given = [v for entry in entries if (v := _value(question, entry.get("raw"))) is not None]
    if not given:
        return None
    shown = [entry for entry in entries if "right" in entry]
    ends = given[0], given[-1]
    return Votes(*ends, tuple(_met(question, each, shown) for each in ends))


def _value(question, text):
    try:
        return question.field.read(text)
    except InputError:
        return None


def _met(question, value, shown):
    """Return whether a vote met the answer that was shown last; None when none was."""
    right = _value(question, shown[-1]["right"]) if shown else None
    if right is None:
        return None
    try:
        return value == right if isinstance(right, str) else near(value, right, shown[-1]["within"])
    except (InputError, KeyError, AssertionError):
        return None


class Bar(NamedTuple):
    """One answer: its words, and how many gave it at first and in the end."""

    words: str
    first: int
    last: int


def bars(question, given):
    """Return a bar for each answer: every option, or the numbers in their order.

    given: votes. Numbers are counted in the unit that most of them were typed in, to three figures:
    240 N and 0.24 kN are one answer.
    """
    if hasattr(question.field, "options"):
        groups = {words: [key] for key, words in question.field.options.items()}
        first, last = [vote.first for vote in given], [vote.last for vote in given]
    elif given:
        unit = Counter(vote.first.units for vote in given).most_common(1)[0][0]
        first, last = ([_figures(vote[i].m_as(unit)) for vote in given] for i in (0, 1))
        groups = {}
        for group in grouped(sorted({*first, *last})):
            ends = dict.fromkeys(show(Q_(group[i], unit)) for i in (0, -1))
            groups[" to ".join(ends)] = group
    else:
        return []
    return [
        Bar(words, *(sum(vote in group for vote in votes) for votes in (first, last)))
        for words, group in groups.items()
    ]


def _figures(number):
    return float(f"{float(number):.3g}")


def grouped(values, most=MOST_BARS):
    """Return sorted numbers in at most so many groups, the nearest ones together.

    >>> grouped([1, 30, 750, 790, 800], most=3)
    [[1], [30], [750, 790, 800]]
    """
    groups = [[value] for value in values]
    while len(groups) > most:
        pairs = [(before[-1], after[0]) for before, after in itertools.pairwise(groups)]
        rising = min(values) > 0  # then 1 N and 30 N lie farther apart than 750 N and 790 N
        gaps = [high / low if rising else high - low for low, high in pairs]
        at = min(range(len(gaps)), key=gaps.__getitem__)
        groups[at : at + 2] = [groups[at] + groups[at + 1]]
    return groups


class Score(NamedTuple):
    """What one learner did in one exercise: tries, whether it came out right, whether with help."""

    tries: int
    right: bool
    helped: bool


def score(learner, key):
    """Return the score up to the first right answer, or None where nothing was tried."""
    states = [entry for entry in learner.entries.get(key, []) if entry.get("state") in STATES]
    tries = next((n for n, each in enumerate(states, 1) if each["state"] == "right"), None)
    if not states:
        return None
    counted = states[: tries or len(states)]
    return Score(len(counted), bool(tries), any(each.get("helped") for each in counted))


def sentences(number):
    """Return what the listed mistakes of a lesson say, by key, as metric and inch learners see it.

    Where only the numbers differ, the metric one stands for both.
    """
    with speaking("inch"):
        found = {mistake_key(s): s for t in task_list.tasks_of(number) for _, s in t.common_wrong}
    with speaking("metric"):
        tasks = task_list.tasks_of(number)
    return found | {mistake_key(said): said for task in tasks for _, said in task.common_wrong}


def mistakes(learners, key, known):
    """Return (sentence, learners) for each listed mistake that was made, the commonest first.

    key: of the exercise. known: `sentences` of its lesson.
    """
    counted = Counter()
    for learner in learners:
        made = [entry.get("mistake") for entry in learner.entries.get(key, [])]
        counted.update({known.get(each, ANOTHER) for each in made if isinstance(each, str)})
    return counted.most_common()
