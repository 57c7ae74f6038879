"""A second reader of typed quantities: exact fractions, one character after another.

Written apart from the library's own, from the rules that people are told, to be held against it.
"""

import re
from fractions import Fraction

SIMPLE = {"¼": (1, 4), "½": (1, 2), "¾": (3, 4), "⅛": (1, 8), "⅜": (3, 8), "⅝": (5, 8), "⅞": (7, 8)}


class Scanner:
    """Walks along a text; each step takes what it can and says whether there was any."""

    def __init__(self, text):
        self.text, self.at = text, 0

    def next(self):
        return self.text[self.at] if self.at < len(self.text) else ""

    def take(self, characters):
        if self.next() and self.next() in characters:
            self.at += 1
            return self.text[self.at - 1]
        return ""

    def digits(self):
        found = ""
        while self.next() and self.next() in "0123456789":
            found += self.take("0123456789")
        return found


def fraction_at(scan):
    """Read 3/16 or ½ here, or nothing."""
    place = scan.at
    sign = scan.take("".join(SIMPLE))
    if sign:
        return Fraction(*SIMPLE[sign])
    top = scan.digits()
    if top and scan.take("/"):
        bottom = scan.digits()
        if bottom and int(bottom):
            return Fraction(int(top), int(bottom))
    scan.at = place
    return None


def decimal_at(scan):
    """Read 12, 0.5, .5, 5. or 1e3 here, or nothing."""
    place = scan.at
    whole = scan.digits()
    part = scan.digits() if scan.take(".") else ""
    if not whole + part:
        scan.at = place
        return None
    value = Fraction(int(whole + part), 10 ** len(part))
    place = scan.at
    if scan.take("eE"):
        sign = scan.take("+-")
        power = scan.digits()
        if power:
            return value * Fraction(10) ** int(sign + power)
    scan.at = place
    return value


def mixed_at(scan):
    """Read 1 1/2, 1-1/2, 1½ or 1 ½ here, or nothing."""
    place = scan.at
    whole = scan.digits()
    if not whole:
        return None
    gap = scan.take(" -")
    if not gap and scan.next() not in SIMPLE:
        scan.at = place
        return None
    behind = fraction_at(scan)
    if behind is None or not 0 < behind < 1:
        scan.at = place
        return None
    return int(whole) + behind


def second_reading(text):
    """Return (exact value, unit word) of a typed quantity, or None when it is none."""
    for gap in "\u00a0\u202f\u2009":
        text = text.replace(gap, " ")
    scan = Scanner(text.replace("⁄", "/").strip())
    sign = -1 if scan.take("+-−") in ("-", "−") else 1
    for reader in (mixed_at, fraction_at, decimal_at):
        value = reader(scan)
        if value is not None:
            break
    if value is None or scan.next() in [*"0123456789.,/", *SIMPLE]:
        return None
    return sign * value, " ".join(scan.text[scan.at :].split())


POINTS = re.compile(r"\s*[-+−]?(?:[1-9]|[1-9][0-9][0-9]?(?=.[0-9]00))[.][0-9][0-9][0-9](?![0-9eE])")


def asked_back(text, unit):
    """Whether people of two countries read this number differently, such as 1.500 N or 12.500 N."""
    return unit in ("N", "lbf", "rpm", "rev/min", "r/min") and bool(POINTS.match(text))


def meant(text, kind, units):
    """As `second_reading`, for one kind: a full stop behind a unit drops, nought needs no unit.

    Threads in an inch (tpi) stand for the lead of one thread, the inch over their number.
    """
    known = second_reading(text)
    if known is None:
        return None
    value, unit = known
    if unit not in units and unit.endswith("."):
        unit = unit[:-1]
    if unit == "tpi" and kind == "length" and value:
        return 1 / value, "in"
    return value, unit if unit or value else next(iter(units))
