"""How does a lesson ask an exercise? Check, hints one at a time, solution, other numbers.

The worked solution is offered after an honest try or after the last hint. What the learner answered
earlier is taken from the store, so that a notebook opened on the next day shows where they were.
"""

from workshop_lib.drawings import page
from workshop_lib.drawings.markup import plain, rich
from workshop_lib.teaching import answer_file
from workshop_lib.teaching.live import Live, face_of

AGAIN = "Now try it yourself with other numbers."


class ExerciseCard(Live):
    """The widget that asks one exercise."""

    def __init__(self, exercise):
        self.exercise, self.first = exercise, exercise
        self._begin()
        self._take_up()
        frame = {
            "title": "Exercise",
            "lead": plain(exercise.question),
            "summary": f"Exercise: {plain(exercise.question)}",
            "fields": [exercise.field.spec()],
            "follows": False,
        }
        super().__init__(frame, self._face())

    def still(self):
        """Return the question, what it needs, and a line to write on."""
        return page.stack(self.first.question, _need(self.first), page.blank(self.first.field))

    def answer(self, action, values):
        """Check an answer, give the next hint, the solution, or other numbers."""
        typed = values.get(self.exercise.field.name, "")
        self.value = typed if isinstance(typed, str) else ""
        if action == "check":
            given = self.exercise.field.kept(self.value)
            self.feedback = self.exercise.check(given, self._helped())
            self.tried = self.tried or self.feedback.state != "unreadable"
        elif action == "hint":
            self.hinted = min(self.hinted + 1, len(self.exercise.hints))
        elif action == "solution":
            self.solved = True
        elif action == "numbers" and self.first.remake is not None:
            self._redraw()
            self.show_face(self._face())  # nobody's answer: it empties the box on the page as well
        return self._face()

    def _begin(self):
        """Forget what was typed and taken with the numbers before."""
        needed = _need(self.exercise)
        self._need = str(needed.html()) if needed else ""
        self.value, self.feedback = "", None
        self.hinted, self.solved, self.tried = 0, False, False

    def _take_up(self):
        """Show the last answer to these numbers, if one is on record."""
        for entry in reversed(self._record()):
            given = entry.get("choice", entry.get("given"))
            if entry.get("numbers") == self.exercise.seed and isinstance(given, str):
                feedback = self.exercise.judged(given)
                if feedback.state != "unreadable":
                    self.value, self.feedback, self.tried = given, feedback, True
                    return

    def _record(self):
        return answer_file.current().entries(self.first.key)

    def _redraw(self):
        """Draw numbers that this learner has not answered yet, and not those that stand here."""
        used = [entry.get("numbers") for entry in self._record()] + [self.exercise.seed]
        seed = 1 + max((n for n in used if type(n) is int and 0 <= n < 10**6), default=0)
        for fresh in map(self.first.with_seed, range(seed, seed + 20)):
            if fresh.question not in (self.exercise.question, self.first.question):
                self.exercise = fresh
                self._begin()
                return

    def _helped(self):
        """Say for the record what help was taken before this answer."""
        hints = f"{self.hinted} hint{'s' if self.hinted > 1 else ''}" if self.hinted else ""
        return "worked solution" if self.solved else hints

    def _face(self):
        exercise, feedback = self.exercise, self.feedback
        unreadable = feedback is not None and feedback.state == "unreadable"
        state = {"value": self.value, "position": None, "words": self.value}
        state["complaint"] = feedback.said if unreadable else ""
        return face_of(
            lead=self._lead(),
            need=self._need,
            verdict=None if feedback is None or unreadable else feedback.block(),
            details=self._details(),
            fields={exercise.field.name: state},
            buttons=self._buttons(),
        )

    def _lead(self):
        """The question, and which numbers these are where they are not the lesson's own."""
        seed = self.exercise.seed
        return plain(self.exercise.question) + (f" (Numbers {seed}.)" if seed is not None else "")

    def _details(self):
        exercise = self.exercise
        parts = [exercise.hint(number) for number in range(1, self.hinted + 1)]
        if self.solved:
            parts.append(exercise.worked())
            parts += [AGAIN] if exercise.remake else []
        parts += [words for words in (self._progress(), answer_file.current().word()) if words]
        return page.stack(*parts)

    def _progress(self):
        """Say with how many sets of numbers the learner has got it right."""
        right = {str(e.get("numbers")) for e in self._record() if e.get("state") == "right"}
        return f"You have got this right with {len(right)} sets of numbers." * (len(right) > 1)

    def _buttons(self):
        right = self.feedback is not None and self.feedback.right
        left = len(self.exercise.hints) - self.hinted
        buttons = [("check", "Check")]
        if left and not right and not self.solved:
            buttons.append(("hint", f"Hint ({left} left)"))
        earned = self.tried or not left
        if self.exercise.solution and earned and not right and not self.solved:
            buttons.append(("solution", "Show the worked solution"))
        if self.exercise.remake is not None:
            buttons.append(("numbers", "Other numbers"))
        return [{"name": name, "label": label} for name, label in buttons]


def _need(exercise):
    """Return the line that says what an exercise needs, or None."""
    words = exercise.need()
    if not words:
        return None
    return page.Block(
        f"<p><strong>You need:</strong> {rich(words)}.</p>", f"You need: {plain(words)}."
    )
