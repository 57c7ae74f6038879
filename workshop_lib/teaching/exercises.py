"""What is an exercise? A question whose answer the library computes, with its usual mistakes.

    ex = Exercise("l02-ex1", "What torque can the pad carry?", torque_capacity(pad, "600 N", 0.2),
                  common_wrong=[(2 * torque, "You counted both faces: …")], hints=["…"],
                  solution="2/3 × 15 mm × 0.2 × 600 N")
    ex.ask()            # the widget
    ex.check("1.2 N m") # the same from code
    ex.with_seed(3)     # the same with other numbers

The answer may be typed in any unit of its kind. Each wrong answer that is listed must be told from
the right one at the tolerance given, or the exercise refuses to be made.
"""

import hashlib
import math
import re
from copy import copy
from dataclasses import dataclass
from functools import partial
from itertools import combinations

from workshop_lib.drawings import page
from workshop_lib.quantities import (
    Q_,
    UNIT_WORDS,
    InputError,
    Quantity,
    in_system,
    kind_of,
    quote,
    read,
    show,
    spoken,
    system,
    unit_text,
)
from workshop_lib.teaching import answer_file, judging
from workshop_lib.teaching.fields import kind_like, question_field, sentence
from workshop_lib.teaching.judging import Tolerance
from workshop_lib.teaching.round_inch import example_of

FROM_CHART = "10 %"  # a difference of two thrusts errs more than the reading that it is made from
CLOSE = 2.5  # times the tolerance: nearer than that, only a rounding is off
NEAR, FAR = 1.25, 5  # times an answer: what might pass for it, and what is not of its size
_UNITS = "|".join(sorted(map(re.escape, filter(None, [*UNIT_WORDS, "µm"])), key=len, reverse=True))
_AMOUNT = re.compile(rf"[0-9]+(?:[.,][0-9]+)*(?:\s?(?:{_UNITS})(?!\w))?")
_WORDS = {"right": ("yes", "Right"), "known": ("no", "Not yet"), "wrong": ("no", "Not yet")}


@dataclass(frozen=True)
class Feedback:
    """What is said to an answer. state: right, known (a listed slip), wrong, or unreadable."""

    state: str
    said: str
    working: object = None

    @property
    def right(self):
        """Tell whether the answer was right."""
        return self.state == "right"

    def block(self):
        """Return the feedback as a block of a page."""
        if self.state == "unreadable":
            return page.verdict(self.said, "open", "Cannot be read")
        return page.stack(page.verdict(self.said, *_WORDS[self.state]), self.working)

    def _repr_html_(self):
        return str(self.block().portable())

    def __repr__(self):
        return self.block().text()


@dataclass(frozen=True)
class Exercise:
    """One exercise.

    key: names it in the learner's record. answer: quantity, number, or the key of one of `options`.
    kind: of the answer; None: found from its unit. within: how close is right ("2 %", "0.1 mm").
    common_wrong: (value or function without arguments, sentence). hints: sentences, mildest first.
    solution: sentence, list of steps, or block. remake: function of a seed that returns the same
    exercise with other numbers. paper: what somebody without a computer needs for it (a table, a
    chart, a formula): a part of a page, a tuple of them, or a function that gives either. panel:
    the title of the lesson's panel that answers it. withheld: whether the formula on the paper is
    the whole solution, so that on the screen it is the first hint. caution: a sentence to print
    with it. long_by_hand: whether it comes last on a worksheet. kept: whether the answer is told in
    the unit that it has, whatever is spoken. seed: which numbers these are; None
    for the lesson's own.
    Raises InputError when a wrong answer cannot be told from the right one or from another wrong
    one.
    """

    key: str
    question: str
    answer: object
    kind: str | None = None
    options: dict | None = None
    within: str = "2 %"
    common_wrong: tuple | list = ()
    hints: tuple | list = ()
    solution: object = ""
    remake: object = None
    paper: object = None
    panel: str = ""
    withheld: bool = False
    caution: str = ""
    long_by_hand: bool = False
    kept: bool = False
    seed: int | None = None

    def __post_init__(self):
        if system() is not None:
            self._speak()
        if self.withheld:
            object.__setattr__(self, "hints", (f"You need {self._formula()}.", *self.hints))
        wrong = [(value() if callable(value) else value, said) for value, said in self.common_wrong]
        if self.options is None:
            wrong = [(self._as_quantity(value), said) for value, said in wrong]
            tolerance = Tolerance(self.answer, self.within, self._kind)
            object.__setattr__(self, "tolerance", tolerance)
        object.__setattr__(self, "common_wrong", tuple(wrong))
        values = [self.answer, *(value for value, _ in wrong)]
        if self.options is not None:
            for value in values:
                self.field.read(value)
        for one, other in combinations(values, 2):
            if self._alike(one, other):
                what = "the right answer" if one is self.answer else "another wrong one"
                raise InputError("common_wrong", f"{quote(other)} is the same as {what}")

    def _speak(self):
        """Tell question, answer and all sentences in the system that is spoken."""
        tell = partial(object.__setattr__, self)
        tell("question", spoken(self.question, parts=True))
        told = (lambda value: value) if self.kept else _told
        tell("answer", told(self.answer))
        wrong = [(each() if callable(each) else each, said) for each, said in self.common_wrong]
        tell("common_wrong", [(told(each), spoken(said)) for each, said in wrong])
        tell("hints", tuple(map(spoken, self.hints)))
        steps = self.solution
        tell("solution", list(map(spoken, steps)) if isinstance(steps, list) else spoken(steps))
        if self.options is not None:
            tell("options", {key: spoken(words) for key, words in self.options.items()})
        tell("caution", spoken(self.caution))

    @property
    def _kind(self):
        return (self.kind or kind_like(self.answer)).partition(" ")[0]

    def _as_quantity(self, value):
        return self.field.read(value) if isinstance(value, str) else value

    @property
    def field(self):
        """The field that reads an answer."""
        if self.options is not None:
            return question_field("Your answer", options=self.options)
        kind = self.kind or kind_like(self.answer)
        return question_field("Your answer", kind, help=self._written_like())

    def _written_like(self):
        """Say how an answer is written, with a number of its size that is not the answer."""
        unit = unit_text(getattr(self.answer, "units", ""))
        whole = isinstance(self.answer, int)
        what = "number with its unit" if unit else "whole number" if whole else "plain number"
        return f"A {what}, written like {fitting_example(self.answer, self._kind)}."

    @property
    def unit(self):
        """The unit in which the answer is written here; '' for a plain number or an option."""
        return unit_text(getattr(self.answer, "units", "")).strip()

    def check(self, given, helped=""):
        """Return the feedback to an answer: text such as "1.2 N m", a quantity, an option's key.

        What can be read goes on record. helped: what help was taken before, for the record.
        """
        feedback = self.judged(given)
        if feedback.state != "unreadable":
            entry = {"given": self.field.words(given), "state": feedback.state}
            entry |= {"choice": given} if self.options is not None else {}
            entry |= {} if self.seed is None else {"numbers": self.seed}
            entry |= {"helped": helped} if helped else {}
            known = feedback.state == "known"
            entry |= {"mistake": mistake_key(feedback.said)} if known else {}
            answer_file.current().record(self.key, entry)
        return feedback

    def judged(self, given):
        """Return the feedback to an answer as `check` does, and leave the record alone."""
        try:
            value = self.field.read(_as_given(given, self.options, self.answer))
        except InputError as error:
            return Feedback("unreadable", sentence(error))
        if self._meets(value, self.answer):
            return Feedback("right", self.answer_words(), self.solution or None)
        for wrong, said in self.common_wrong:
            if self._meets(value, wrong):
                return Feedback("known", said)
        return Feedback("wrong", self._direction(value, given))

    def _alike(self, one, other):
        if self.options is not None:
            return one == other
        return self.tolerance.alike(one, other)

    def _meets(self, value, wanted, times=1):
        """Tell whether a value agrees with another to `times` the tolerance."""
        if self.options is not None:
            return value == wanted
        return self.tolerance.meets(value, wanted, times)

    def _direction(self, value, given):
        """Say something useful about a wrong answer without giving the right one away."""
        if self.options is not None:
            return "think again, or take a hint."
        if judging.only_rounded(given, value, self.answer):
            return "right as far as it goes, but rounded too far. Give one more figure."
        if self._meets(value, self.answer, CLOSE):
            return "very close. Check the rounding in your steps."
        found, right = self.tolerance.number(value), self.tolerance.right
        said = judging.told(value, kind_of(self._kind), self.tolerance)
        return said or f"your answer is too {'large' if found > right else 'small'}."

    def answer_words(self):
        """Return the right answer in words, with three figures or as many as its check wants."""
        return self.words_for(self.answer)

    def words_for(self, value):
        """Return an answer in words, rounded only so far that it still counts as the same."""
        if self.options is not None:
            return self.options[value]
        if isinstance(value, int):
            return str(value)
        said, unit = "", value.units if self.kept else None
        for figures in range(3, 9):
            said = show(value, unit, figures)
            if not value or self._meets(self.field.read(said), value, 0.5):
                break
        return said

    def hint(self, number=1):
        """Return one hint, counted from 1."""
        if not isinstance(number, int) or not 1 <= number <= len(self.hints):
            problem = f"{quote(number)} is not a hint from 1 to {len(self.hints)}"
            raise InputError("number", problem)
        heading = f"Hint {number} of {len(self.hints)}"
        return page.as_block(f"{heading}: {self.hints[number - 1]}")

    def worked(self):
        """Return the worked solution."""
        return page.stack(page.verdict(f"Answer: {self.answer_words()}"), self.solution or None)

    def with_seed(self, seed):
        """Return the same exercise with other numbers, drawn from a seed: 0, 1, 2, …"""
        if self.remake is None:
            raise InputError("seed", "this exercise has fixed numbers")
        if isinstance(seed, bool) or not isinstance(seed, int) or seed < 0:
            raise InputError("seed", f"{quote(seed)} is not a whole number from 0")
        fresh = copy(self.remake(seed))
        object.__setattr__(fresh, "seed", seed)
        return fresh

    def aids(self):
        """Return the parts of a page that somebody without a computer needs, or none."""
        paper = self.paper() if callable(self.paper) else self.paper
        parts = paper if isinstance(paper, tuple) else () if paper is None else (paper,)
        return list(map(spoken, parts))

    @property
    def charted(self):
        """Tell whether its paper has a chart, off which numbers are read."""
        return any(hasattr(part, "svg") for part in self.aids())

    def mistakes_on_paper(self):
        """Return those listed mistakes that paper tells from the answer: what is read from a chart
        may be off by `FROM_CHART`.
        """
        if not self.charted:
            return list(self.common_wrong)
        allowed = Tolerance(self.answer, FROM_CHART, self._kind)
        return [each for each in self.common_wrong if not allowed.meets(each[0], self.answer)]

    def _formula(self):
        return "; ".join(part for part in self.aids() if is_formula(part))

    def need(self):
        """Return what the card says under the question: which panel, which formula, or ''."""
        formula = "" if self.withheld else self._formula()
        if not self.panel:
            return formula
        return f"the panel “{self.panel}”" + (f", or by hand {formula}" if formula else "")

    def ask(self):
        """Return the widget that asks the exercise."""
        from workshop_lib.teaching.exercise_card import ExerciseCard  # widgets: a class needs none

        return ExerciseCard(self)


_COUNTED = re.compile(
    r"^\s*(?:no\.? ?)?([0-9]{1,3}) ?(?:ga\.?|gauge|swg|awg|bg)\s*$", re.IGNORECASE
)


def fitting_example(answer, kind):
    """Return how an answer of a kind is written: the kind's usual example, where that is of the
    answer's size, else a round number in the answer's unit. Never the answer, nor near it.
    """
    unit = getattr(answer, "units", "")
    usual = read(example_of(kind_of(kind)), kind)
    number, other = (float(each.m_as(unit) if unit else each) for each in (abs(answer), usual))
    if not number or (not isinstance(answer, int) and NEAR < _times(number, other) < FAR):
        return example_of(kind_of(kind))
    power = 10.0 ** math.floor(math.log10(number))
    size = next(each * power for each in (3, 2, 5) if _times(number, each * power) > NEAR)
    shown = show(Q_(size, unit) if unit else size, figures=1).replace("·", " ")
    return f"{shown} or {shown.replace('µ', 'u')}" if "µ" in shown else shown  # as keys have it


def _times(one, other):
    """Return how many times one number is the other, the larger divided by the smaller."""
    return max(one / other, other / one)


def mistake_key(said):
    """Return what names a listed mistake in a learner's record, whatever the numbers and units.

    >>> mistake_key("You took 30 mm for r.") == mistake_key("You took 2 in for r.")
    True
    """
    bare = " ".join(_AMOUNT.sub("#", said.replace("·", " ")).split())
    return hashlib.sha256(bare.encode()).hexdigest()[:8]


def is_formula(part):
    """Tell whether a part of an exercise's paper is a formula in words."""
    return isinstance(part, str) and "=" in part


def told_apart(answer, slips, within):
    """Return those slips that can be told from the answer and from every slip before them.

    For slips that are looked up in tables, where two tables may happen to agree. slips: pairs of
    value and sentence, the likeliest first.
    """
    tolerance = Tolerance(answer, within, kind_like(answer))
    kept = []
    for value, said in slips:
        others = [answer, *(each for each, _ in kept)]
        if not any(tolerance.alike(value, other) for other in others):
            kept.append((value, said))
    return kept


def _told(value):
    """Return an answer in the system that is spoken; a number or an option's key stays."""
    return in_system(value) if isinstance(value, Quantity) else value


def _as_given(given, options, answer):
    """Plain numbers are read as typed, so that code and widget meet the same reader.

    A whole number may have the word behind it that it is called by, such as 20 gauge.
    """
    if isinstance(answer, int) and isinstance(given, str):
        return _COUNTED.sub(r"\1", given)
    if options is None and isinstance(given, int | float) and not isinstance(given, bool):
        return f"{given:.12g}"
    return given
