"""Which number and which unit did somebody type? Or, in words, what is wrong with it."""

import re
from fractions import Fraction

import numpy as np

from workshop_lib.quantities.errors import LONGEST_TEXT, InputError, quote
from workshop_lib.quantities.kinds import KINDS

_VULGAR = {"¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_NUMBER = re.compile(
    r"(?P<sign>[+-]?)"
    r"(?:(?:(?P<whole>[0-9]{1,6})(?:[ ]|-))?(?P<top>[0-9]{1,6})/(?P<bottom>[0-9]{1,6})"
    r"|(?P<decimal>(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?))"
    r"(?![0-9.,/])[ ]?(?P<unit>.*)",
    re.ASCII,
)


# What to offer to whoever types a bare number.
USUAL = {
    "length": ("mm", "in", "thou"),
    "force": ("N", "lbf"),
    "torque": ("N m", "lbf in"),
    "speed": ("rev/min",),
    "pressure": ("MPa", "psi"),
    "angle": ("deg",),
    "feed": ("mm/rev", "thou/rev"),
    "cutting_speed": ("m/min", "ft/min"),
}


def number_and_unit(text, kind, name):
    """Split typed text into a float and a unit word, or say what stands in the way."""
    if not isinstance(text, str):
        raise InputError(name, f"{quote(text)} is not text", f"Write it as '{kind.example}'")
    if len(text) > LONGEST_TEXT:
        raise InputError(name, f"longer than {LONGEST_TEXT} characters: {quote(text)}")
    plain = text.translate({0xA0: " ", 0x202F: " ", 0x2009: " ", 0x2044: "/"}).strip()
    plain = re.sub("^\u2212", "-", plain)  # further in it would subtract
    for sign, fraction in _VULGAR.items():
        plain = re.sub(rf"(?<=[0-9])[ ]?{sign}(?![0-9])", rf" {fraction}", plain)
        plain = re.sub(rf"{sign}(?![0-9])", fraction, plain)
    found = _NUMBER.fullmatch(plain)
    if not found:
        raise InputError(name, *_no_number(text, plain, kind))
    unit = " ".join(found["unit"].split())
    _refuse_two_meanings(found["decimal"], unit, text, name)
    if unit.endswith(".") and unit[:-1] in kind.units:  # in. and thou. are written so
        unit = unit[:-1]
    value = _decimal(found) if found["top"] is None else _fraction(found, text, name)
    if unit == "tpi" and kind.name == "length" and value:  # threads in an inch: the lead of one
        value, unit = 1 / value, "in"
    return -value if found["sign"] == "-" else value, unit


# A digit, a point and three digits: one or two thousand to some, and a thousandth is never meant.
_THOUSANDS = re.compile(r"[1-9]\.[0-9]{3}")
TWO_MEANINGS = ("N", "lbf", "rpm", "rev/min", "r/min")


def _refuse_two_meanings(decimal, unit, text, name):
    """Ask back where people of two countries read a number differently, such as 1.500 N."""
    if unit in TWO_MEANINGS and decimal and _THOUSANDS.fullmatch(decimal):
        small, large = f"{float(decimal):g}", decimal.replace(".", "")
        raise InputError(
            name, f"{quote(text)} could mean two things", f"Type {small} {unit} or {large} {unit}"
        )


def _decimal(found):
    """Return a decimal number; one that is too small to be stored stays greater than zero."""
    value = float(found["decimal"])
    if value == 0 and re.search("[1-9]", re.split("[eE]", found["decimal"])[0]):
        return np.finfo(float).smallest_subnormal.item()
    return value


def _fraction(found, text, name):
    """Return a fraction or a mixed number; behind a whole number it must be a proper fraction."""
    top, bottom = int(found["top"]), int(found["bottom"])
    if bottom == 0:
        raise InputError(name, f"{quote(text)} divides by zero")
    if found["whole"] is not None and not 0 < top < bottom:
        raise InputError(name, f"{quote(text)} is not a whole number with a fraction behind it")
    return float(int(found["whole"] or 0) + Fraction(top, bottom))


def _no_number(text, plain, kind):
    """Say in words why no number could be read at the start of what was typed."""
    if not plain:
        return f"nothing was typed for {kind.article}", f"Write it as {kind.example}"
    if re.match(r"[+-]?[0-9]+,[0-9]", plain):
        if re.match(r"[+-]?[0-9]{1,3}(,[0-9]{3})+(?![0-9])", plain) and "." not in plain:
            return f"{quote(text)} has a comma", "Leave it out, or write a point if you mean one"
        meant = shown_plain(plain.replace(",", ".", 1))
        return f"{quote(text)} has a comma", f"Write a point: {meant}"
    both = re.match(r"([0-9]{1,3}(?:\.[0-9]{3})+),([0-9]+)(.*)", plain)
    if both:
        meant = f"{both[1].replace('.', '')}.{both[2]}{both[3]}"
        return f"{quote(text)} has points and a comma", f"Type {shown_plain(meant)}"
    if re.match(r"[+-]?[0-9]", plain):
        return (
            f"{quote(text)} cannot be read as one number and a unit",
            f"Write it as {kind.example}",
        )
    return f"{quote(text)} does not start with a number", f"Write it as {kind.example}"


def shown_plain(text):
    """Return text without what cannot be printed."""
    return "".join(c if c.isprintable() else " " for c in text)


def _listed(choices):
    return " or ".join(filter(None, [", ".join(choices[:-1]), choices[-1]]))


def wrong_unit(number, unit, kind, typed=""):
    """Say in words what is wrong with a unit that is not on the list. typed: all of the text."""
    written = f"{number:g} {unit}".strip()
    listed = f"Write it as {kind.example}"
    if not unit:
        bare = shown_plain(typed).strip() or written
        choices = [f"{bare} {each}" for each in USUAL.get(kind.name, ())]
        if not choices:
            return f"{quote(bare)} has no unit", listed
        return f"{quote(bare)} has no unit", f"Type {_listed(choices)}"
    if unit in kind.refused:
        return f"‘{written}’ cannot be used: {kind.refused[unit]}", ""
    if unit.lower() in ("pound", "pounds") and "lbf" in kind.units:
        return f"‘{written}’ could be a mass", f"For a force type {number:g} lbf"
    if re.match(r"['’][0-9]", unit):
        return f"{quote(typed or written)} has a mark in the number", "Write the digits together"
    if re.match(r"[0-9]", unit):
        return f"{quote(written)} has a gap in the number", "Write the digits together"
    same = [known for known in kind.units if known.lower() == unit.lower()]
    if same:
        return f"{quote(unit)} is not a unit that is known here", f"Did you mean {same[0]}?"
    for other in KINDS.values():
        if unit in other.units:
            return f"‘{written}’ is {other.article}, but {kind.article} is wanted", listed
    return f"{quote(unit)} is not a unit of {kind.label} here", listed
