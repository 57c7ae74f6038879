"""In which language does the workbook speak? One catalogue of texts, by their English sentence.

Code is written in English. `say` hands on what the catalogue of the chosen language has for a
sentence, and the English one where it has nothing; `sources.translations` reads the catalogues.
Words in one piece (labels, choices, headings, cells) are looked up where a page, a drawing or a
panel sets them, so that only sentences with numbers in them call `say` by themselves.

A language may write decimals with a comma: its catalogue then says so. Only what people read has
the comma, and only what they type may have it; inside, and in every file, a number has its point.
"""

import re
from contextlib import contextmanager

ENGLISH = "en"
DECIMAL_POINT = "."  # a language's catalogue says what it writes instead
# What stands with numbers in an amount: units, and signs between them. All else is words.
_UNITS = (
    "mm|cm|m|µm|um|in|thou|N|kN|lbf|kgf|MPa|kPa|GPa|psi|bar|g|kg|oz|J|K|s|ms|min|rev|rpm|Hz|ft|deg"
)
_SIGNS = r"[0-9.\s'\u00a0/·²³^%°‰Ø×±<>(),;:–−+-]"
_AMOUNT = re.compile(rf"(?:[A-Z] = )?(?:{_SIGNS}|(?:{_UNITS})(?![^\W\d_]))+")
_DECIMAL = re.compile(r"(?<![\w.,])([0-9]*)\.([0-9]+)(?![.,]?[0-9])")
_LISTED = re.compile(r",(?= [−+-]?[0-9])")
_TYPED = re.compile(r"\s*[+−-]?[0-9]*,[0-9]+(?![0-9.,])[^,]*")
_spoken = (ENGLISH, {})


def language():
    """In which language does the workbook speak? A code such as "en" or "de"."""
    return _spoken[0]


def say(text, **fields):
    """How is this said in the language that is spoken?

    text: English, its amounts as named fields. fields: what takes their place, ready to be read.
    Returns text. What is no text, or is not in the catalogue, comes back as it is.

    >>> say("Holds: {times} times the load", times="2.3")
    'Holds: 2.3 times the load'
    """
    told = _spoken[1].get(text, text) if isinstance(text, str) else text
    if not fields:
        return told if told is not text else in_figures(text)
    return told.format(**{name: in_figures(each) for name, each in fields.items()})


def in_figures(text):
    """How is an amount written in the language that is spoken? With its own mark before decimals.

    text: such as "0.3 mm", which becomes "0,3 mm" in German, and "0.3, 0.5" which becomes
    "0,3; 0,5". What is no amount, such as a sentence or what somebody typed, stays as it is.
    """
    mark = _spoken[1].get(DECIMAL_POINT, DECIMAL_POINT)
    if mark == DECIMAL_POINT or not isinstance(text, str) or not _AMOUNT.fullmatch(text):
        return text
    return _DECIMAL.sub(rf"\1{mark}\2", _LISTED.sub(";", text))


def with_point(typed):
    """Return what was typed with a point where the language that is spoken writes a comma.

    typed: such as "1,5 mm". What holds anything else than one comma between digits stays.
    """
    if _spoken[1].get(DECIMAL_POINT, DECIMAL_POINT) == DECIMAL_POINT or not isinstance(typed, str):
        return typed
    return typed.replace(",", DECIMAL_POINT) if _TYPED.fullmatch(typed) else typed


def speak_in(code, texts):
    """Speak a language from now on. texts: English -> that language. Returns what was spoken."""
    global _spoken
    before, _spoken = _spoken, (code, texts)
    return before


@contextmanager
def speaking_in(code, texts):
    """Speak a language inside a `with` block only."""
    before = speak_in(code, texts)
    try:
        yield
    finally:
        speak_in(*before)
