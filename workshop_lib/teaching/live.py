"""What is alive on a lesson's page? One widget, whose page side is `panel.js` and `panel.css`.

Python holds the truth. The page sends what a person set; Python answers with a new `face`: texts of
the fields, complaints, and finished safe HTML. The page sends the next message only after the
answer to the last, always with the newest values, so a burst of slider steps neither lags nor
loses its end.
"""

import logging
import os
from pathlib import Path

import anywidget
import traitlets

from workshop_lib.drawings.figures import Layered
from workshop_lib.drawings.markup import escape
from workshop_lib.launcher.resting import ASLEEP, LIVE, asleep
from workshop_lib.quantities import ENGLISH, language, say

_HERE = Path(__file__).parent
# What the page says by itself, as it stands in `panel.js`.
PAGE_WORDS = (
    "One moment: the computer is still working.",
    "No answer yet. What you set is kept. If another cell is still running, wait for it. "
    "If Python was restarted, click here and press Shift + Enter.",
    "Python was restarted: click here and press Shift + Enter. What you set last is kept.",
    "Fill the screen",
    "Back to the lesson",
    "Settings",
)
_LOG = logging.getLogger("workshop_lib.teaching")
_LOG.addHandler(logging.NullHandler())  # else the log would print a traceback into the page


class Live(anywidget.AnyWidget):
    """A live element: subclasses say what a message does and what stands in the page without it.

    frame: what never changes (title, fields, buttons). face: what the last answer showed.
    """

    _esm = _HERE / "panel.js"
    _css = _HERE / "panel.css"
    translated = False  # whether all its words are said in the language that is spoken
    frame = traitlets.Dict().tag(sync=True)
    face = traitlets.Dict().tag(sync=True)

    def __init__(self, frame, face):
        words = {} if language() == ENGLISH else {each: say(each) for each in PAGE_WORDS}
        super().__init__(frame=frame | {"words": words}, face={**face, "answered": ["", 0]})
        self.on_msg(self._receive)

    def answer(self, action, values):
        """Return the new face for what was set: {field name: value} and a button's name or ''."""
        raise NotImplementedError

    def still(self):
        """Return the block that stands in a page where nothing is live."""
        raise NotImplementedError

    def at_rest(self):
        """Return the block that stands in a learner's page when Python has ended."""
        return self.still()

    def show_face(self, face):
        """Show another face though no one asked from the page."""
        self.face = {**face, "answered": ["", 0]}

    def _receive(self, _widget, content, _buffers):
        stamp, action, values = _checked(content)
        try:
            face = self.answer(action, values)
        except Exception as error:  # whatever went wrong, the learner gets a sentence
            face = {**self.face, "fault": fault_sentence(error)}
        self.face = {**face, "answered": stamp}

    def __repr__(self):
        return self.frame.get("summary", "A live element")

    def _repr_mimebundle_(self, **kwargs):
        bundle = super()._repr_mimebundle_(**kwargs)
        data = bundle[0] if isinstance(bundle, tuple) else bundle
        if LIVE in data:  # alive as long as this process is; Windows starts it through another
            data[LIVE]["processes"] = [os.getpid(), os.getppid()]
        return {**data, "text/plain": repr(self), "text/html": self._fallback()}

    def _fallback(self):  # the launcher looks for its last line
        told = say(ASLEEP) if self.translated else ASLEEP
        rests = asleep() if told == ASLEEP else asleep(say, language())
        edge = "border:1px solid var(--jp-border-color2,#c3c9d0);border-radius:8px"
        return (
            f'<div style="{edge};padding:.6em 1em;margin:.6em 0">'
            f"<div><strong>{escape(self.frame['title'])}</strong></div>{self.at_rest().portable()}"
            f"{rests}</div>"
        )


def fault_sentence(error):
    """Say honestly that the lesson itself is at fault, and keep the details in the log."""
    _LOG.error("a live element met a fault", exc_info=error)
    return say(
        "This panel met a fault of its own: {fault}. Nothing that you typed is at fault, and what "
        "you typed is kept. Please tell whoever looks after the workbook.",
        fault=type(error).__name__,
    )


def _checked(content):
    """Return (stamp, action, values) from a message of the page, whatever it holds."""
    content = content if isinstance(content, dict) else {}
    stamp, action, values = (content.get(key) for key in ("stamp", "action", "values"))
    stamp = stamp if isinstance(stamp, list) and len(stamp) == 2 else ["", 0]
    action = action if isinstance(action, str) else ""
    return stamp, action, values if isinstance(values, dict) else {}


def face_of(verdict=None, picture=None, details=None, **more):
    """Return a face from blocks; more: fields, buttons, and the texts note, fault and setting.

    A chart goes in two layers, so that the page takes in anew only what a step has moved.
    """
    blocks = {"verdict": verdict, "picture": picture, "details": details}
    html = {name: str(block.html()) if block else "" for name, block in blocks.items()}
    if isinstance(picture, Layered):
        html |= {"picture": str(picture.slot()), "moving": picture.moving, "alt": picture.text()}
    words = {"note": "", "fault": "", "setting": ""}
    return {**html, **words, "fields": {}, "buttons": [], "anew": False, **more}
