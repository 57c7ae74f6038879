"""How does a panel write a file? A button, a sentence, and a link to what it made."""

from dataclasses import dataclass

from workshop_lib import shop, write_up
from workshop_lib.quantities import InputError
from workshop_lib.teaching.panels import Panel


@dataclass(frozen=True)
class Button:
    """A button of a panel that writes. do: called with the values by name; returns a `Written`."""

    name: str
    label: str
    do: object


@dataclass(frozen=True)
class Written:
    """What a button did. words: a sentence. page: text of an HTML page to open, or None."""

    words: str
    page: str | None = None
    label: str = ""


class WritingPanel(Panel):
    """A panel with buttons that write files. buttons: `Button`s."""

    def __init__(self, scene, *buttons):
        self.buttons = {each.name: each for each in buttons}
        self.done = None
        super().__init__(scene)

    def answer(self, action, values):
        """Take what was set; write where a button was pressed."""
        self.done = None
        face = super().answer(action, values)
        if action in self.buttons:
            self.done = self._written(self.buttons[action])
            face = self._safe_face()
        return face

    def _written(self, button):
        if self.scene.look(self.given).view is None:
            return Written("Nothing was written: first correct what is said above.")
        try:
            read = {each.name: each.read(self.given[each.name]) for each in self.scene.fields}
            return button.do(**read)
        except InputError as error:
            return Written(f"Nothing was written. {error}")

    def _face(self, complaints, beside=None):
        face = super()._face(complaints, beside)
        own = [{"name": each.name, "label": each.label} for each in self.buttons.values()]
        face["buttons"] = own + face["buttons"]
        if self.done is None:
            return face
        opens = self.done.page and {"label": self.done.label, "page": self.done.page}
        note = f"{self.done.words} {face['note']}".rstrip()
        return face | {"note": note, "done": not face["note"], "opens": opens}


def sheet_of(design, name):
    """Write the making sheet of a design beside the lessons; returns a `Written` that opens it.

    name: of the nose, part of the file's name. Raises InputError.
    """
    text = write_up.sheet(design)
    path = write_up.save_sheet(text, name, shop.folder())
    return Written(f"Written: {path.name}, beside your lessons.", text, "Open the making sheet")
