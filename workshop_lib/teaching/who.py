"""Whose answers are these? A name that a learner may give, for the teacher who collects the files.

Nothing asks for it: without a name the file says only what was answered.
"""

from dataclasses import dataclass

from workshop_lib.drawings import page
from workshop_lib.quantities import InputError, quote
from workshop_lib.teaching import answer_file
from workshop_lib.teaching.answer_file import LONGEST_NAME, WHO, name_in
from workshop_lib.teaching.fields import Control, sentence
from workshop_lib.teaching.live import Live, face_of

SEEN = (
    "Your teacher can see your predictions, which exercises you got right, and which mistakes came "
    "up: on a class machine at any time, with your login name; otherwise once you hand in the file "
    "my_answers.jsonl. Your name is in that file only if you put it there."
)


def ask():
    """Return the widget that takes a name, if the learner wishes to give one."""
    return NameCard()


@dataclass(frozen=True)
class NameField(Control):
    """A line for a name."""

    name: str = "answer"
    label: str = "Your name, if you like"
    help: str = ""
    control = "typed"

    def read(self, given):
        """Return the name in plain letters; InputError for what is none."""
        plain = answer_file.plain_name(given)
        if not plain:
            problem = f"{quote(given)} is no name" if given else "nothing was typed"
            mend = f"Write at most {LONGEST_NAME} letters, or leave it"
            raise InputError(self.label, problem, mend)
        return plain

    def details(self):
        """Return an example."""
        return {"example": "Bo Lind"}


class NameCard(Live):
    """The widget that takes a name, and takes it away again."""

    def __init__(self):
        self.field, self.value = NameField(), name_in(answer_file.current().entries(WHO))
        frame = {
            "title": "Whose answers?",
            "lead": SEEN,
            "summary": SEEN,
            "fields": [self.field.spec()],
            "follows": False,
        }
        super().__init__(frame, self._face())
        answer_file.current().watch(WHO, self)

    def still(self):
        """Return the sentence, and a line to write on."""
        return page.stack(SEEN, page.blank(self.field))

    def refresh(self):
        """Show what has been put on record elsewhere."""
        self.show_face(self._face())

    def answer(self, action, values):
        """Keep the name, or a line that says that there is none any more."""
        self.value = values.get(self.field.name, "")
        try:
            given = self.field.read(self.value) if action == "commit" else ""
        except InputError as error:
            return self._face(sentence(error))
        if action in ("commit", "without"):
            self.value = given
            answer_file.current().record(WHO, {"given": given})
        return self._face()

    def _face(self, complaint=""):
        entries = answer_file.current().entries(WHO)
        said = name_in(entries)
        state = {"value": self.value, "complaint": complaint, "position": None, "words": ""}
        buttons = [{"name": "commit", "label": "Put my name on my answers"}]
        buttons += [{"name": "without", "label": "Take it off"}] if said else []
        return face_of(
            verdict=page.verdict(f"Your answers carry the name {said}.") if said else None,
            details=page.stack(answer_file.current().word() or None),
            fields={self.field.name: state},
            buttons=buttons,
        )
