"""Exercises: a question whose answer the library computes, with feedback for each usual slip.

    ex = Exercise("l02-ex1", "What torque can the pad carry?", torque_capacity(pad, "600 N", 0.2),
                  common_wrong=[(2 * torque, "You counted both faces: …")], hints=["…"],
                  solution="2/3 × 15 mm × 0.2 × 600 N")
    ex.ask()            # the widget
    ex.check("1.2 N m") # the same from code

The answer may be typed in any unit of its kind. Each wrong answer that is listed must be told from
the right one at the tolerance given, or the exercise refuses to be made.
"""

from dataclasses import dataclass
from itertools import combinations

from workshop_lib.drawings import page
from workshop_lib.drawings.markup import plain
from workshop_lib.lesson import store
from workshop_lib.lesson.fields import kind_like, question_field, sentence
from workshop_lib.lesson.known import near
from workshop_lib.lesson.live import Live, face_of
from workshop_lib.quantities import InputError, quote, show

CLOSE = 5  # times the tolerance: near enough that rounding is the likely cause
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
    exercise with other numbers. Raises InputError when a wrong answer cannot be told from the
    right one or from another wrong one.
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

    def __post_init__(self):
        wrong = [(value() if callable(value) else value, said) for value, said in self.common_wrong]
        object.__setattr__(self, "common_wrong", tuple(wrong))
        values = [self.answer, *(value for value, _ in wrong)]
        if self.options is not None:
            for value in values:
                self.field.read(value)
        for one, other in combinations(values, 2):
            if self._same(one, other, 2):
                what = "the right answer" if one is self.answer else "another wrong one"
                raise InputError("common_wrong", f"{quote(other)} cannot be told from {what}")

    @property
    def field(self):
        """The field that reads an answer."""
        kind = self.kind
        if self.options is None and kind is None:
            kind = kind_like(self.answer)
        return question_field("Your answer", None if self.options else kind, self.options)

    def _same(self, one, other, times=1):
        """Tell whether two answers agree to `times` the tolerance."""
        if self.options is not None:
            return one == other
        return near(one, other, self.within, times) or near(other, one, self.within, times)

    def check(self, given):
        """Return the feedback to an answer: text such as "1.2 N m", a quantity, an option's key."""
        try:
            value = self.field.read(_as_given(given, self.options))
        except InputError as error:
            return Feedback("unreadable", sentence(error))
        feedback = self._judged(value)
        entry = {"given": self.field.words(given), "state": feedback.state}
        store.current().record(self.key, entry)
        return feedback

    def _judged(self, value):
        if self._right(value):
            return Feedback("right", self._answer_words(), self.solution or None)
        for wrong, said in self.common_wrong:
            if self.options is not None and value == wrong:
                return Feedback("known", said)
            if self.options is None and near(value, wrong, self.within):
                return Feedback("known", said)
        return Feedback("wrong", self._direction(value))

    def _right(self, value):
        if self.options is not None:
            return value == self.answer
        return near(value, self.answer, self.within)

    def _direction(self, value):
        """Say something useful about a wrong answer without giving the right one away."""
        if self.options is not None:
            return "think again, or take a hint."
        if near(value, self.answer, self.within, CLOSE):
            return "very close. Look at the rounding of your steps."
        for power in (10, 100, 1000, 1e6):
            if any(near(v, self.answer, self.within) for v in (value / power, value * power)):
                return f"the figures are right, but {power:g} times off. Look at the units."
        unit = getattr(self.answer, "units", None)
        found, right = (float(q if unit is None else q.m_as(unit)) for q in (value, self.answer))
        return f"your answer is too {'large' if found > right else 'small'}."

    def _answer_words(self):
        if self.options is not None:
            return self.options[self.answer]
        return show(self.answer)

    def hint(self, number=1):
        """Return one hint, counted from 1."""
        if not isinstance(number, int) or not 1 <= number <= len(self.hints):
            raise InputError("number", f"{quote(number)} is not a hint from 1 to {len(self.hints)}")
        heading = f"Hint {number} of {len(self.hints)}"
        return page.as_block(f"{heading}: {self.hints[number - 1]}")

    def worked(self):
        """Return the worked solution."""
        return page.stack(page.verdict(f"Answer: {self._answer_words()}"), self.solution or None)

    def with_seed(self, seed):
        """Return the same exercise with other numbers, drawn from a seed."""
        if self.remake is None:
            raise InputError("seed", "this exercise has fixed numbers")
        return self.remake(seed)

    def ask(self):
        """Return the widget that asks the exercise."""
        return ExerciseCard(self)


def _as_given(given, options):
    """Plain numbers are read as typed, so that code and widget meet the same reader."""
    if options is None and isinstance(given, int | float) and not isinstance(given, bool):
        return f"{given:.12g}"
    return given


class ExerciseCard(Live):
    """The widget that asks one exercise: check, hints one at a time, the worked solution last."""

    def __init__(self, exercise):
        self.exercise, self.hinted, self.solved = exercise, 0, False
        self.value, self.feedback = "", None
        frame = {
            "title": "Exercise",
            "lead": plain(exercise.question),
            "summary": f"Exercise: {plain(exercise.question)}",
            "fields": [exercise.field.spec()],
            "follows": False,
        }
        super().__init__(frame, self._face())

    def still(self):
        """Return the question with a line to write on."""
        return page.stack(self.exercise.question, page.blank(self.exercise.field))

    def answer(self, action, values):
        """Check an answer, or give the next hint or the solution."""
        self.value = values.get(self.exercise.field.name, "")
        if action == "check":
            self.feedback = self.exercise.check(self.value)
        elif action == "hint":
            self.hinted = min(self.hinted + 1, len(self.exercise.hints))
        elif action == "solution":
            self.solved = True
        return self._face()

    def _face(self):
        exercise, feedback = self.exercise, self.feedback
        unreadable = feedback is not None and feedback.state == "unreadable"
        state = {"value": self.value, "position": None, "words": self.value}
        state["complaint"] = feedback.said if unreadable else ""
        hints = [exercise.hint(number) for number in range(1, self.hinted + 1)]
        return face_of(
            verdict=None if feedback is None or unreadable else feedback.block(),
            details=page.stack(*hints, exercise.worked() if self.solved else None),
            fields={exercise.field.name: state},
            buttons=self._buttons(),
        )

    def _buttons(self):
        buttons = [{"name": "check", "label": "Check"}]
        left = len(self.exercise.hints) - self.hinted
        if left:
            buttons.append({"name": "hint", "label": f"Hint ({left} left)"})
        elif self.exercise.solution and not self.solved:
            buttons.append({"name": "solution", "label": "Show the worked solution"})
        return buttons
