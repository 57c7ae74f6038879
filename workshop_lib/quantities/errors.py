"""How does the library say no? One error, one warning, and how what was typed is quoted."""

import sys

import numpy as np
import pint

LONGEST_TEXT = 40
_PLAIN = str | bytes | int | float | complex | np.generic | pint.Quantity | None


class InputError(ValueError):
    """Something that a person or a program handed in cannot be used; the text says what and why."""

    def __init__(self, name, problem, mend=""):
        self.name, self.problem, self.mend = name, problem, mend
        sentences = [part if part[-1] in ".?" else f"{part}." for part in (problem, mend) if part]
        super().__init__((f"{name}: " if name else "") + " ".join(sentences))

    def __reduce__(self):
        return type(self), (self.name, self.problem, self.mend)

    def _render_traceback_(self):
        """What a notebook shows, which asks for it by this name: the sentence and no more."""
        return [str(self)]


class OutOfRangeWarning(UserWarning):
    """A value lies outside the range for which the formula or its source was made."""


def quote(value):
    """Return what was handed in as short printable text, safe to put in a sentence."""
    if isinstance(value, str):
        text = value if len(value) <= LONGEST_TEXT else value[: LONGEST_TEXT - 1] + "…"
    else:
        text = _short(value)
    return "‘" + "".join(c if c.isprintable() else "·" for c in text) + "’"


def listed(words, join="and"):
    """Return words as a sentence lists them.

    >>> listed(["pad"]), listed(["pad", "disc", "nose"])
    ('pad', 'pad, disc and nose')
    """
    *first, last = words
    return f"{', '.join(first)} {join} {last}" if first else last


def refuse_missing(value, name):
    """Raise InputError when some values of an array are masked as missing.

    Code that has such an array has already loaded NumPy's part for them; it is not loaded to look
    for one.
    """
    masked = sys.modules.get("numpy.ma")
    if masked and masked.is_masked(value):
        raise InputError(name, "some of its values are missing")


def _short(value):
    """Write a single value out; name the type of what is long, or can write itself at will."""
    kind = type(value).__name__
    few = isinstance(value, list | tuple) and len(value) <= 4
    if isinstance(value, _PLAIN) or (few and all(isinstance(item, _PLAIN) for item in value)):
        try:
            if len(str(value)) <= LONGEST_TEXT:
                return str(value)
        except ValueError:  # Python refuses to write out integers of thousands of digits
            pass
    return f"{'an' if kind[0].lower() in 'aeiou' else 'a'} {kind}"
