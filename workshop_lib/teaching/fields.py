"""What may a person set in a panel or an exercise, and how is each field read?

A field turns what was typed, slid or chosen into a value for the library's public calls, or raises
InputError in words that name the field by its label. What was typed is kept as it was typed.
"""

import re
from copy import copy
from dataclasses import dataclass, field
from functools import cached_property, lru_cache

import numpy as np
import pint

from workshop_lib.quantities import (
    DECIMAL_POINT,
    KINDS,
    UNIT_WORDS,
    InputError,
    in_figures,
    kind_of,
    parse_unit,
    quote,
    read,
    say,
    system,
    to_core,
    unit_text,
    with_point,
)
from workshop_lib.teaching.round_inch import example_of, in_inch

_GAUGE = re.compile(r"[0-9] ?(?:ga\.?|gauge|swg|awg|bg)\s*$", re.IGNORECASE)
NO_THICKNESS = "{value} cannot be used: a gauge number is not a thickness"
# The page makes a link of what stands in brackets.
OF_A_GAUGE = (
    "The panel “What sheet is in your hand?” of [lesson 01](01_holding_without_a_bore.ipynb) turns "
    "it into a thickness"
)


class Control:
    """What every field is to its panel and page, unless it says otherwise."""

    def words(self, given):
        """Return a value in words."""
        return str(given)

    def shown(self, given):
        """Return what the page's control shows for a value."""
        return given if isinstance(given, bool) else str(given)

    def kept(self, given):
        """Return what was set as it is kept."""
        return given

    def position(self, _given):
        """Return where the slider stands; None where there is none."""

    def spec(self):
        """Return what the page needs to build the field's controls."""
        own = {"name": self.name, "control": self.control}
        return own | {"label": say(self.label), "help": say(self.help)} | self.details()

    def details(self):
        """Return what only this field's controls need."""
        return {}


@dataclass(frozen=True)
class Field(Control):
    """A quantity: a typed box beside a slider, two views of one value.

    name: what the value is called in the judging function. label: what people read. kind: a kind
    with an optional sign, such as "force >= 0". start: text such as "600 N"; the slider counts in
    its unit. slider: (low, high, step) in that unit; what is typed may go beyond. help: a sentence.
    """

    name: str
    label: str
    kind: str
    start: str
    slider: tuple | None = None
    help: str = ""
    control = "typed"

    def __post_init__(self):
        if self.start or self.slider is not None:  # a question starts empty, a panel never
            self.read(self.start)
        if system() == "inch" and self.slider is not None:
            start, slider = in_inch(self.read(self.start), self._kind, self.slider, self.unit)
            object.__setattr__(self, "start", start)
            object.__setattr__(self, "slider", slider)
            vars(self).pop("unit", None)  # it was that of the metric start
        if self.slider is not None:
            object.__setattr__(self, "slider", tuple(self.slider))
            low, high, step = self.slider
            if not low < high or not 0 < step <= high - low:
                raise InputError(self.label, f"a slider cannot run {quote(self.slider)}")

    @cached_property
    def unit(self):
        """The unit word of the start value, in which the slider counts."""
        typed = " ".join(self.start.split())
        return max((word for word in self._kind.units if typed.endswith(word)), key=len)

    @property
    def _kind(self):
        return kind_of(self.kind.partition(" ")[0])

    def read(self, given):
        """Return the value as a quantity in the unit that was typed; InputError in words."""
        if isinstance(given, str):
            try:
                return copy(_read_text(with_point(given), self.kind, self.label))
            except InputError as error:
                error = _as_typed(error, given)
                if _GAUGE.search(given) and self._kind.name == "length":
                    problem = say(NO_THICKNESS, value=quote(given.strip()))
                    raise InputError(self.label, problem, say(OF_A_GAUGE)) from error
                raise error from None
        if not isinstance(given, pint.Quantity):
            problem = say("{value} is not text", value=quote(given))
            mend = say("Write it as {example}", example=f"'{example_of(self._kind)}'")
            raise InputError(self.label, problem, mend)
        return _checked(given, given, self.kind, self.label)

    def words(self, given):
        """Return a value in words: what was typed, or a quantity written out."""
        if isinstance(given, pint.Quantity):
            given = f"{given.magnitude + 0.0:.6g}{unit_text(given.units)}"
        return in_figures(str(given))

    def shown(self, given):
        """Return what the box shows for a value, in the figures of the language."""
        return in_figures(str(given))

    def kept(self, given):
        """Return what was typed as it is kept, with a point; what cannot be read, as it is."""
        if (pointed := with_point(given)) == given:
            return given
        try:
            self.read(pointed)
        except InputError:
            return given
        return pointed

    def position(self, given):
        """Return where the slider stands: at an end when a good value lies beyond it."""
        if self.slider is None:
            return None
        return _position(self, given if isinstance(given, str) else self.read(given))

    def details(self):
        """Return an example, and the slider's numbers with its unit."""
        if self.slider is None:
            return {"example": example_of(self._kind)}
        low, high, step = map(float, self.slider)
        slider = {"low": low, "high": high, "step": step, "decimals": _decimals(low, step)}
        unit = {"unit": self.unit, "unit_words": say(UNIT_WORDS.get(self.unit, self.unit))}
        unit |= {"point": say(DECIMAL_POINT)}
        return {"example": example_of(self._kind)} | slider | unit | _slider_label(self)


@dataclass(frozen=True)
class Count(Control):
    """A whole number: a typed box beside a slider of (low, high), beyond which nothing goes."""

    name: str
    label: str
    start: int
    slider: tuple
    help: str = ""
    control = "typed"

    def read(self, given):
        """Return the whole number, or raise InputError in words."""
        low, high = self.slider
        mend = say("Write a whole number from {low} to {high}", low=low, high=high)
        not_whole = say("{value} is not a whole number", value=quote(given))
        if isinstance(given, str):
            text = given.strip()
            if not text.isascii() or not text.isdigit() or len(text) > 9:
                raise InputError(self.label, not_whole if text else say("nothing was typed"), mend)
            given = int(text)
        if isinstance(given, bool) or not isinstance(given, int | np.integer):
            raise InputError(self.label, not_whole, mend)
        if not low <= given <= high:
            raise InputError(self.label, say("{value} cannot be used", value=given), mend)
        return int(given)

    def position(self, given):
        """Return where the slider stands."""
        return self.read(given)

    def details(self):
        """Return an example, and the slider's numbers."""
        low, high = self.slider
        limits = {"low": low, "high": high, "step": 1, "decimals": 0, "unit": "", "unit_words": ""}
        return limits | {"example": str(self.start)} | _slider_label(self)


def _slider_label(field):
    """What a screen reader calls a field's slider, beside the box of the same label."""
    return {"slider_label": say("{label}, slider", label=say(field.label))}


@dataclass(frozen=True)
class Choice(Control):
    """One of a few possibilities. options: {key: words}; few and short ones show side by side."""

    name: str
    label: str
    options: dict = field(hash=False)
    start: str
    help: str = ""

    def __post_init__(self):
        if self.start:  # a question starts with nothing chosen
            self.read(self.start)

    @property
    def control(self):
        """Radio buttons while they fit, else a list that opens."""
        return "radio" if len(self.options) <= 4 else "select"

    def read(self, given):
        """Return the key, or raise InputError listing the keys."""
        if isinstance(given, str) and given in self.options:
            return given
        mend = say("Choose {choices}", choices=", ".join(self.options))
        problem = say("{value} is not one of the choices", value=quote(given))
        raise InputError(self.label, problem, mend)

    def words(self, given):
        """Return the choice in words."""
        return say(self.options[self.read(given)])

    def details(self):
        """Return the options, each with its words."""
        return {"options": [[key, say(words)] for key, words in self.options.items()]}


@dataclass(frozen=True)
class Switch(Control):
    """Something that is so or not: a box to tick. quiet: not worth a word while it is not so."""

    name: str
    label: str
    start: bool = False
    help: str = ""
    quiet: bool = False
    control = "switch"

    def read(self, given):
        """Return True or False, or raise InputError."""
        if isinstance(given, bool | np.bool_):
            return bool(given)
        raise InputError(self.label, f"{quote(given)} is neither True nor False")

    def words(self, given):
        """Return the state in words."""
        return say("yes" if self.read(given) else "no")


def question_field(label, kind=None, options=None, help=""):
    """Return the empty field of a question: a quantity of a kind, or one of options."""
    if (kind is None) == (options is None):
        raise InputError("kind", "a question needs either a kind or options, not both")
    if options is not None:
        return Choice("answer", label, options, "", help)
    what = "plain number" if kind.startswith("ratio") else "number with its unit"
    example = f"A {what}, written like {example_of(kind_of(kind.partition(' ')[0]))}."
    return Field("answer", label, kind, "", help=help or example)


def kind_like(value):
    """Return the name of the first kind that a quantity or plain number may be."""
    if not isinstance(value, pint.Quantity):
        return "ratio"
    unit = value.units
    angular = unit in [parse_unit(word) for word in KINDS["angle"].units]
    for kind in KINDS.values():
        fits = parse_unit(kind.core).is_compatible_with(unit)
        if fits and (angular or kind.name != "angle"):  # pint takes an angle for a bare number
            return kind.name
    raise InputError("kind", f"nothing here is measured in {unit}")


@lru_cache(maxsize=1024)
def _read_text(text, kind, label):
    """Read typed text; kept, since each step of one slider asks for all the others again."""
    return _checked(text, read(text, kind.partition(" ")[0], label), kind, label)


@lru_cache(maxsize=1024)
def _position(a_field, given):
    low, high, _ = a_field.slider
    number = float(a_field.read(given).m_as(a_field._kind.units[a_field.unit]))
    return min(max(number, float(low)), float(high))


def _checked(given, quantity, kind, label):
    """Return a quantity if its kind and sign fit; a complaint quotes what was given."""
    name, _, sign = kind.partition(" ")
    if np.ndim(quantity.magnitude):
        raise InputError(label, "give one value, not several")
    to_core(given, name, label, sign or None)
    return quantity


def _as_typed(error, typed):
    """Return a complaint that quotes what was typed, not what it was read as."""
    if (read_as := with_point(typed)) == typed:
        return error
    said = error.problem.replace(quote(read_as.strip()), quote(typed.strip()))
    return InputError(error.name, said.replace(quote(read_as), quote(typed)), error.mend)


def sentence(error):
    """Return an InputError's own words without the name in front, as one sentence or two."""
    return str(InputError("", error.problem, error.mend))


def _decimals(low, step):
    """Return the decimals that write every position of a slider exactly."""
    for decimals in range(7):
        if all(abs(round(v, decimals) - v) < 1e-9 * max(1, abs(v)) for v in (low, step)):
            return decimals
    return 7


MOST_SAID = 5  # complaints that are written out beside the field; the others are counted


@dataclass(frozen=True)
class Text(Control):
    """Several lines of text. What it means is for the judging function to say.

    name, label, help: as for `Field`. start: its text. rows: how many lines show at once. longest:
    characters that are taken.
    """

    name: str
    label: str
    start: str
    help: str = ""
    rows: int = 8
    longest: int = 4000
    control = "text"

    def __post_init__(self):
        self.read(self.start)

    def read(self, given):
        """Return the text with plain line ends; InputError for nothing, too much or no text."""
        if not isinstance(given, str):
            raise InputError(self.label, f"{quote(given)} is not text")
        if not given.strip():
            raise InputError(self.label, "nothing was typed", "Type one entry on each line")
        if len(given) > self.longest:
            problem = f"it has {len(given)} characters"
            raise InputError(self.label, problem, f"Type at most {self.longest}")
        return "\n".join(given.splitlines())

    def words(self, given):
        """Return how much it is; the text itself stands in the field."""
        lines = sum(bool(line.strip()) for line in str(given).splitlines())
        return f"{lines} line{'s' * (lines != 1)} of text"

    def details(self):
        """Return how many lines show, and how much is taken."""
        return {"rows": self.rows, "longest": self.longest}


def by_line(complaints):
    """Return complaints about single lines as one text, a line for each; "" when there are none."""
    said = [words[0].upper() + words[1:] for words in complaints[:MOST_SAID]]
    more = len(complaints) - len(said)
    return "\n".join(said + ([f"And {more} more."] if more else []))
