"""What does a learner expect? An answer is committed before the computer gives one, then compared.

    predict("l02-torque", "How much torque can the pad carry?", kind="torque")
    commit("l02-torque", "2 N m")                      # from code, without the widget
    reveal("l02-torque", torque, "Because the radius of friction is 2/3 of the rim's.")

What a stored or printed page shows never depends on what was committed: the question with a line
to write on, then the answer.
"""

from workshop_lib.drawings import page
from workshop_lib.drawings.markup import plain
from workshop_lib.quantities import InputError, quote, show, spoken
from workshop_lib.teaching import answer_file, withheld
from workshop_lib.teaching.fields import question_field, sentence
from workshop_lib.teaching.known import near
from workshop_lib.teaching.live import Live, face_of

_asked = {}
UNASKED = (
    "No prediction is on record yet. Go back and commit one first: a wrong guess teaches more than "
    "none. Or read on."
)
GOOD_GUESS = "10 %"  # nobody guesses better from a page
LATER = "On record. Go on to the next cells and see."


def predict(key, question, kind=None, options=None, help=""):
    """Ask for a prediction: a quantity of a kind, or one of options {key: words}.

    Returns the widget that ends the cell. Its plain text is the question. Where inch or metric is
    spoken, question and options are told in it.
    """
    options = _spoken_words(options) if options else options
    _asked[key] = question_field("Your prediction", kind, options, spoken(help))
    if not _on_record(key):
        withheld.hold_back(key)
    return PredictionCard(key, spoken(question, parts=True), _asked[key])


def _spoken_words(told):
    """Return {key: words} in the system that is spoken."""
    return {key: spoken(words) for key, words in told.items()}


def commit(key, answer):
    """Put a prediction on record from code. Raises InputError for what cannot be read.

    Returns a block that says what is on record.
    """
    field = _field_of(key)
    field.read(answer)
    answer = field.kept(answer)
    answer_file.current().record(key, {"given": field.words(answer), "raw": _bare(field, answer)})
    withheld.show(key)
    return page.note(f"On record: {field.words(answer)}. {_history(key)}".strip())


def reveal(key, answer, because, feedback=None, slips=(), within="5 %"):
    """Set a committed prediction beside the computed answer, and say what a difference means.

    answer: quantity, number, or the key of an option. because: why it is so. feedback: for options,
    {key: sentence}. slips: for quantities, (value, sentence) of common slips. within: how close a
    predicted quantity counts as met. Returns a widget; its plain text is answer and reason.
    """
    withheld.lift(key)
    slips = tuple((value, spoken(said)) for value, said in slips)
    return Revelation(key, answer, spoken(because), _spoken_words(feedback or {}), slips, within)


def _field_of(key):
    if key not in _asked:
        raise InputError(
            "key", f"no prediction {quote(key)} was asked", "Run the cell that asks it"
        )
    return _asked[key]


def _bare(field, answer):
    return answer if isinstance(answer, str) else field.words(answer)


def _on_record(key):
    """Return the predictions on record that the question as it stands now can be answered with."""
    field = _asked.get(key)
    return [entry for entry in answer_file.current().entries(key) if field and _reads(field, entry)]


def _reads(field, entry):
    try:
        field.read(entry.get("raw"))
    except InputError:
        return False
    return isinstance(entry.get("given"), str)


def _history(key):
    """Say what was predicted first, once the prediction has been changed."""
    given = [entry["given"] for entry in _on_record(key)]
    return f"Your first prediction stays on record: {given[0]}." if len(given) > 1 else ""


class PredictionCard(Live):
    """The widget that asks for a prediction."""

    def __init__(self, key, question, field):
        self.key, self.question, self.field = key, question, field
        self.value, self.changing = "", False
        frame = {
            "title": "Predict",
            "lead": plain(question),
            "summary": f"Prediction: {plain(question)}",
            "fields": [field.spec()],
            "follows": False,
        }
        super().__init__(frame, self._face())
        answer_file.current().watch(key, self)

    def still(self):
        """Return the question with a line to write on."""
        return page.stack(self.question, page.blank(self.field))

    def refresh(self):
        """Show what has been put on record elsewhere."""
        self.changing = False
        self.show_face(self._face())

    def answer(self, action, values):
        """Commit, or open a committed prediction again."""
        self.value = values.get(self.field.name, "")
        if action == "change":
            self.changing = True
        elif action == "commit":
            try:
                commit(self.key, self.value)
            except InputError as error:
                return self._face(sentence(error))
            self.changing = False
        return self._face()

    def _face(self, complaint=""):
        entries = _on_record(self.key)
        fixed = bool(entries) and not self.changing
        value = entries[-1]["raw"] if fixed else self.value
        said = f"You predict: {entries[-1]['given']}" if fixed else ""
        state = {"value": value, "complaint": complaint, "position": None, "words": value}
        button = {"name": "change", "label": "I want to change it"}
        if not fixed:
            button = {"name": "commit", "label": "Commit"}
        first = f"Your first prediction stays on record: {entries[0]['given']}." if entries else ""
        after = f"{LATER} {_history(self.key)}" if fixed else first
        return face_of(
            verdict=page.verdict(said) if said else None,
            details=page.stack(*filter(None, [after.strip(), answer_file.current().word()])),
            fields={self.field.name: {**state, "locked": fixed}},
            buttons=[button],
        )


class Revelation(Live):
    """The widget that sets the prediction beside the answer."""

    def __init__(self, key, answer, because, feedback, slips, within):
        self.key, self.right, self.because = key, answer, because
        self.feedback, self.slips, self.within = feedback, slips, within
        self.field = _field_of(key)
        for value, _ in slips:
            if near(value, answer, within):
                raise InputError("slips", f"{quote(value)} is the same as the answer")
        frame = {
            "title": "Prediction and answer",
            "summary": f"Answer: {self._words(answer)}. {plain(because)}",
            "fields": [],
            "follows": False,
        }
        self._mark()
        super().__init__(frame, self._face())
        answer_file.current().watch(key, self)

    def _mark(self):
        """Put on record which answer was set beside the prediction, for whoever reads the file."""
        right = self.right if isinstance(self.right, str) else self.field.words(self.right)
        marked = {"right": right, "within": self.within}
        entries = answer_file.current().entries(self.key)
        if _on_record(self.key) and not any(marked.items() <= entry.items() for entry in entries):
            answer_file.current().record(self.key, marked)

    def still(self):
        """Return the answer with its reason."""
        return page.stack(page.verdict(f"Answer: {self._words(self.right)}"), self.because)

    def at_rest(self):
        """Return the same; folded for a learner who has not committed a prediction yet."""
        waits = isinstance(answer_file.current(), answer_file.FileStore) and not _on_record(
            self.key
        )
        return self._unasked() if waits else self.still()

    def refresh(self):
        """Show the newest prediction."""
        self._mark()
        self.show_face(self._face())

    def answer(self, _action, _values):
        """Nothing can be set here."""
        return self._face()

    def _words(self, value):
        return self.field.words(value) if isinstance(value, str) else show(value)

    def _face(self):
        entries = _on_record(self.key)
        block = self._compared(entries) if entries else None
        return face_of(verdict=block, details=self.still() if entries else self._unasked())

    def _unasked(self):
        return page.stack(UNASKED, page.folded("Show the answer", self.still()))

    def _compared(self, entries):
        given = self.field.read(entries[-1]["raw"])
        met = (
            given == self.right if isinstance(given, str) else near(given, self.right, self.within)
        )
        said = f"You predicted: {entries[-1]['given']}"
        first = entries[0]["given"]
        if len(entries) > 1 and first != entries[-1]["given"]:
            said += f" (at first {first})"
        word = "Right" if met else "A good guess" if self._near(given) else "Not so"
        lead = page.verdict(said, "no" if word == "Not so" else "yes", word)
        return page.stack(lead, None if met else self._meaning(given))

    def _near(self, given):
        """Tell whether a guess comes within a tenth, and is no usual mistake."""
        if isinstance(given, str) or not near(given, self.right, GOOD_GUESS):
            return False
        return not any(near(given, value, self.within) for value, _ in self.slips)

    def _meaning(self, given):
        """Say what a difference usually means."""
        if isinstance(given, str):
            return self.feedback.get(given, "Compare the reason below with yours.")
        for value, words in self.slips:
            if self._is(given, value):
                return words
        return ratio_sentence(given, self.right, "Your prediction is", "the computed value")

    def _is(self, given, value):
        """Whether a prediction is that slip; nothing is only like nothing, as no share of it is."""
        value = self.field.read(value) if isinstance(value, str) else value
        if not getattr(value, "magnitude", value):
            return not getattr(given, "magnitude", given)
        return near(given, value, self.within)


def ratio_sentence(given, right, subject, other):
    """Say how many times too large or small a value is, where that can be said."""
    unit = getattr(right, "units", None)
    found, wanted = (float(q if unit is None else q.m_as(unit)) for q in (given, right))
    if wanted == 0 or found * wanted <= 0:
        return f"{subject} {'larger' if found > wanted else 'smaller'} than {other}."
    return f"{subject} {show(found / wanted, figures=2)} times {other}."
