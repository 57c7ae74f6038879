"""Which number and which unit did somebody type? Or, in words, what is wrong with it."""

import re
from fractions import Fraction

import numpy as np

from workshop_lib.quantities.catalogue import say
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
    """Split typed text into a float and a unit word, or say what is wrong."""
    if not isinstance(text, str):
        raise InputError(name, f"{quote(text)} is not text", f"Write it as '{kind.example}'")
    if len(text) > LONGEST_TEXT:
        problem = "{value} is longer than {count} characters"
        raise InputError(name, say(problem, count=LONGEST_TEXT, value=quote(text)))
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


# A digit, a point and three digits, or more digits and round hundreds: thousands to some readers.
_THOUSANDS = re.compile(r"[1-9]\.[0-9]{3}|[1-9][0-9]{1,2}\.[0-9]00")
TWO_MEANINGS = ("N", "lbf", "rpm", "rev/min", "r/min")


def unmistakable(decimal, unit):
    """Return a decimal number as it may be typed before a unit: 1.1250 N cannot be misread.

    >>> unmistakable("1.125", "N"), unmistakable("1.5", "N"), unmistakable("1.125", "in")
    ('1.1250', '1.5', '1.125')
    """
    doubtful = unit in TWO_MEANINGS and _THOUSANDS.fullmatch(decimal)
    return f"{decimal}0" if doubtful else decimal


def _refuse_two_meanings(decimal, unit, text, name):
    """Ask back where people of two countries read a number differently, such as 1.500 N."""
    if decimal and unmistakable(decimal, unit) != decimal:
        small, large = unmistakable(f"{float(decimal):g}", unit), decimal.replace(".", "")
        raise InputError(
            name,
            say("{value} could mean two things", value=quote(text)),
            say("Type {choices}", choices=_listed([f"{small} {unit}", f"{large} {unit}"])),
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
        raise InputError(name, say("{value} divides by zero", value=quote(text)))
    if found["whole"] is not None and not 0 < top < bottom:
        problem = "{value} is not a whole number followed by a fraction"
        raise InputError(name, say(problem, value=quote(text)))
    return float(int(found["whole"] or 0) + Fraction(top, bottom))


def _no_number(text, plain, kind):
    """Say in words why no number could be read at the start of what was typed."""
    written, typed = say("Write it as {example}", example=kind.example), quote(text)
    comma = say("{value} has a comma", value=typed)
    if not plain:
        return say("nothing was typed for {a_kind}", a_kind=kind.article), written
    if re.match(r"[+-]?[0-9]+,[0-9]", plain):
        if re.match(r"[+-]?[0-9]{1,3}(,[0-9]{3})+(?![0-9])", plain) and "." not in plain:
            return comma, say("Leave it out, or write a point if you mean one")
        meant = shown_plain(plain.replace(",", ".", 1))
        return comma, say("Write a point: {meant}", meant=meant)
    both = re.match(r"([0-9]{1,3}(?:\.[0-9]{3})+),([0-9]+)(.*)", plain)
    if both:
        meant = f"{both[1].replace('.', '')}.{both[2]}{both[3]}"
        problem = say("{value} has points and a comma", value=typed)
        return problem, say("Type {choices}", choices=shown_plain(meant))
    if re.match(r"[+-]?[0-9]", plain):
        return say("{value} cannot be read as one number and a unit", value=typed), written
    return say("{value} does not start with a number", value=typed), written


def shown_plain(text):
    """Return text without what cannot be printed."""
    return "".join(c if c.isprintable() else " " for c in text)


def _listed(choices):
    *first, last = choices
    return say("{some} or {last}", some=", ".join(first), last=last) if first else last


def wrong_unit(number, unit, kind, typed=""):
    """Say in words what is wrong with a unit that is not on the list. typed: all of the text."""
    written = f"{number:g} {unit}".strip()
    listed = say("Write it as {example}", example=kind.example)
    if not unit:
        bare = shown_plain(typed).strip() or written
        choices = [f"{bare} {each}" for each in USUAL.get(kind.name, ())]
        missing = say("{value} has no unit", value=quote(bare))
        return missing, say("Type {choices}", choices=_listed(choices)) if choices else listed
    if unit in kind.refused:
        why = say(kind.refused[unit])
        return say("‘{value}’ cannot be used: {why}", value=written, why=why), ""
    if unit.lower() in ("lb", "lbs", "pound", "pounds") and "lbf" in kind.units:
        mend = say("For a force type {meant}", meant=f"{number:g} lbf")
        return say("‘{value}’ could be a mass", value=written), mend
    if re.match(r"['’][0-9]", unit):
        problem = say("{value} has a mark in the number", value=quote(typed or written))
        return problem, say("Write the digits together")
    if re.match(r"[0-9]", unit):
        problem = say("{value} has a gap in the number", value=quote(written))
        return problem, say("Write the digits together")
    same = [known for known in kind.units if known.lower() == unit.lower()]
    if same:
        problem = say("{unit} is not a unit that the workbook knows", unit=quote(unit))
        return problem, say("Did you mean {meant}?", meant=same[0])
    for other in KINDS.values():
        if unit in other.units:
            problem = "‘{value}’ is {a_kind}, but this needs {wanted}"
            amount = {"value": written, "a_kind": other.article, "wanted": kind.article}
            return say(problem, **amount), listed
    return say("{unit} is not a unit of {kind} here", unit=quote(unit), kind=kind.label), listed
