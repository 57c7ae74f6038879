"""What is a panel? One scene, live with controls, and a still twin that prints and is checked.

def judge(thrust):
    return View(f"Holds with {show(thrust)}", "yes")

scene = Scene("Does it hold?", [Field("thrust", "Thrust", "force >= 0", "600 N")], judge)
scene.panel()                   # live
scene.still(thrust="900 N")     # the twin: no widget, no kernel needed to read it
"""

import warnings
from dataclasses import dataclass, field

from workshop_lib.drawings import page
from workshop_lib.drawings.markup import plain
from workshop_lib.quantities import InputError, OutOfRangeWarning, quote, say
from workshop_lib.teaching import kept_values
from workshop_lib.teaching.fields import Choice, Count, Field, Switch, Text, sentence
from workshop_lib.teaching.live import Live, face_of, fault_sentence

__all__ = ["Choice", "Count", "Field", "Panel", "Scene", "Still", "Switch", "Text", "View"]

RESET = "reset"  # the button after which the page shows Python's values, not its own
START = {"name": RESET, "label": "Start values"}
LAST_GOOD = "Shown for the last valid entries ({setting})."


@dataclass(frozen=True)
class View:
    """What a judging function answers.

    verdict: one sentence, the answer first. holds: "yes", "no", "open", or None when the result is
    neither good nor bad. picture: a Figure (or Canvas). details: tables, sentences, lists of them.
    beside: {field name: words} for what could not be used at a field although the rest answers,
    such as single lines of a `Text`.
    """

    verdict: str
    holds: str | None = None
    picture: object = None
    details: tuple | list = ()
    beside: dict = field(default_factory=dict)

    def __post_init__(self):
        if self.holds is not None and self.holds not in page.HOLDS:
            raise InputError("holds", f"{quote(self.holds)} is not yes, no, open or None")
        if self.picture is not None and not hasattr(self.picture, "figure"):
            raise InputError("picture", f"{quote(self.picture)} is not a Figure")


@dataclass(frozen=True)
class Scene:
    """A question with its fields and the function that judges it.

    title: the question. fields: Field, Count, Choice, Switch, Text, in order. judge: called with
    each field's value by name; returns a View. words: what the verdict says for yes, no and open,
    such as {"yes": "Holds", "no": "Slips"}.
    """

    title: str
    fields: tuple | list
    judge: object
    words: dict = field(default_factory=dict)

    def __post_init__(self):
        names = [each.name for each in self.fields]
        if len(set(names)) != len(names):
            raise InputError("fields", f"a name is there twice: {', '.join(names)}")

    def panel(self):
        """Return the live panel."""
        return Panel(self)

    def still(self, **overrides):
        """Return the scene as it stands for these values, with no widget: a page that prints.

        overrides: by field name, text or a value. Raises InputError for a name that is no field;
        a value that cannot be used gives a Still that says so in a sentence.
        """
        given = self.given()
        for name, value in overrides.items():
            if name not in given:
                raise InputError(name, "no field has this name", f"Fields: {', '.join(given)}")
            given[name] = value
        return Still(self, given, self.look(given))

    def given(self):
        """Return the start values by field name."""
        return {each.name: each.start for each in self.fields}

    def look(self, given):
        """Read the fields and judge: a `Look`. Only InputError is caught here."""
        values, complaints = {}, {}
        for each in self.fields:
            try:
                values[each.name] = each.read(given[each.name])
            except InputError as error:
                complaints[each.name] = sentence(error)
        if complaints:
            return Look(complaints=complaints)
        with warnings.catch_warnings(record=True) as caught:
            warnings.simplefilter("always")
            try:
                view = self.judge(**values)
            except InputError as error:
                return Look(complaints=_by_field(error, values))
        if not isinstance(view, View):
            raise TypeError("the judging function returned no View")
        return Look(view, cautions=_said(caught))

    def setting(self, given):
        """Return values in words, for those fields that `given` names; quiet ones are left out."""
        named = [each for each in self.fields if each.name in given]
        quiet = [each for each in named if getattr(each, "quiet", False) and not given[each.name]]
        wanted = [each for each in named if each not in quiet]
        return "; ".join(f"{say(each.label)}: {each.words(given[each.name])}" for each in wanted)


@dataclass(frozen=True)
class Look:
    """What one look at a scene gave: a view, or complaints by field name ("" for the whole)."""

    view: View | None = None
    complaints: dict = field(default_factory=dict)
    cautions: tuple = ()


def _by_field(error, values):
    """What was refused, by field; one refusal may stand for several faults."""
    found = {}
    for each in getattr(error, "faults", [error]):
        known = each.name if each.name in values else ""
        said = sentence(each) if known else str(each)
        found[known] = f"{found[known]} {said}" if known in found else said
    return found


def _said(caught):
    """Return the sentences of the warnings that are meant for people; pass the others on."""
    said = []
    for each in caught:
        if issubclass(each.category, OutOfRangeWarning):
            said.append(str(each.message))
        else:
            warnings.warn_explicit(each.message, each.category, each.filename, each.lineno)
    return tuple(dict.fromkeys(said))


class Still:
    """A scene without a widget: verdict, picture, details; as plain text the same in words."""

    def __init__(self, scene, given, look):
        self.scene, self.given, self.look = scene, given, look

    def block(self):
        """Return the still as one block of a page."""
        view, scene = self.look.view, self.scene
        if view is None:
            labels = {each.name: say(each.label) for each in scene.fields}
            said = [
                f"{labels[name]}: {words}" if name else words
                for name, words in self.look.complaints.items()
            ]
            return page.stack(page.verdict(" ".join(said), "open", say("No answer")))
        return page.stack(
            page.verdict(view.verdict, view.holds, scene.words.get(view.holds)),
            say("Set to {setting}.", setting=scene.setting(self.given)),
            *([page.caution(*self.look.cautions)] if self.look.cautions else []),
            *(page.note(*words.splitlines()) for words in view.beside.values()),
            view.picture and view.picture.figure(),
            *view.details,
        )

    def html(self):
        """Return the still as safe HTML."""
        return self.block().html()

    def portable(self):
        """Return the still as HTML that a wary viewer keeps: drawings as images."""
        return self.block().portable()

    def text(self):
        """Return the still in words."""
        return self.block().text()

    def _repr_html_(self):
        return str(self.portable())

    def __repr__(self):
        return self.text()


class Panel(Live):
    """The live side of a scene. Ends a cell; the same panel may be shown in several places."""

    translated = True

    def __init__(self, scene):
        self.scene, self.given = scene, scene.given() | kept_values.of(scene)
        self.good = None  # the last values and look that gave a view
        self.anew = False  # whether the page shall show these values in place of its own
        frame = {
            "title": say(scene.title),
            "summary": f"Panel: {plain(scene.title)} ({len(scene.fields)} fields)",
            "fields": [each.spec() for each in scene.fields],
            "buttons": [],
            "follows": True,
        }
        super().__init__(frame, self._safe_face())

    def still(self):
        """Return the start of the scene, for pages where nothing is live."""
        return self.scene.still()

    def answer(self, action, values):
        """Take what was set, or the start values, and return the new face."""
        set_now = [each for each in self.scene.fields if each.name in values]
        self.given |= {each.name: each.kept(values[each.name]) for each in set_now}
        self.anew = action == RESET
        if self.anew:
            self.given = self.scene.given()
        kept_values.keep(self.scene, self.given)
        return self._safe_face()

    def _safe_face(self):
        try:
            look = self.scene.look(self.given)
            if look.view is not None:
                self.good = (dict(self.given), look, self._parts(look))
                return self._face({}, look.view.beside)
            return self._face(look.complaints)
        except Exception as error:  # a fault of the lesson, never the learner's traceback
            return self._face({"": fault_sentence(error)})

    def _parts(self, look):
        view = look.view
        cautions = [page.caution(*look.cautions)] if look.cautions else []
        return {
            "verdict": page.verdict(view.verdict, view.holds, self.scene.words.get(view.holds)),
            "picture": view.picture and view.picture.figure(),
            "details": page.stack(*cautions, *view.details),
        }

    def _face(self, complaints, beside=None):
        given, parts = (self.good[0], self.good[2]) if self.good else ({}, {})
        return face_of(
            **parts,
            setting=self.scene.setting(given),
            note=self._note(complaints),
            fault=complaints.get("", ""),
            anew=self.anew,
            buttons=[START | {"label": say("Start values")}] if self._moved() else [],
            fields={
                each.name: self._field_state(each, complaints | (beside or {}))
                for each in self.scene.fields
            },
        )

    def _moved(self):
        start = self.scene.given()
        return any(str(start[name]) != str(value) for name, value in self.given.items())

    def _note(self, complaints):
        """Say to which values the results belong while some of what was typed cannot be used."""
        if not complaints or not self.good:
            return ""
        good = self.good[0].items()
        changed = {name: value for name, value in good if self.given[name] != value}
        return say(LAST_GOOD, setting=self.scene.setting(changed))

    def _field_state(self, each, complaints):
        given = self.given[each.name]
        state = {"value": each.shown(given), "complaint": complaints.get(each.name, "")}
        try:
            return {**state, "position": each.position(given), "words": each.words(given)}
        except InputError:
            return {**state, "position": None, "words": str(state["value"])}
