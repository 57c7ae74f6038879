"""How is a sentence told in inch or metric? Every number with its unit in it is written anew.

A sentence is written once, in the unit in which its author thinks. `spoken` finds each number that
has a unit behind it and writes it in the system that is spoken; all else in the sentence stays.
"""

import re
from fractions import Fraction

from workshop_lib.quantities.systems import in_system, known_system, speaking, system
from workshop_lib.quantities.units import Q_, rounded, unit_text

# How people write a unit in a sentence, and what it is. Times, angles and rev/min are one for all;
# "in" is left out, since in most sentences it is a word.
WRITTEN = {
    "mm": "mm", "µm": "um", "N": "N", "kN": "kN", "N·m": "N*m", "N m": "N*m", "N·mm": "N*mm",
    "MPa": "MPa", "N/mm²": "MPa", "kN/mm": "kN/mm", "N/mm": "N/mm", "m/min": "m/min",
    "mm²": "mm**2", "mm/rev": "mm", "thou": "thou", "lbf": "lbf", "lbf·in": "lbf*inch",
    "psi": "psi", "lbf/in": "lbf/inch", "ft/min": "ft/min", "in²": "inch**2", "thou/rev": "thou",
}  # fmt: skip
ALIKE = {"inch": ("µm/mm", "thou/in"), "metric": ("thou/in", "µm/mm")}  # a lean: 0.001 in both
_BEHIND = {"mm/rev": "/rev", "thou/rev": "/rev"}
_NUMBER = r"[−-]?[0-9]+(?:\.[0-9]+)?"
_UNITS = "|".join(map(re.escape, sorted(WRITTEN, key=len, reverse=True)))
_AMOUNT = re.compile(
    rf"(?<![\w.,/^{{}}])"
    rf"(?P<before>(?:{_NUMBER}, ){{2,}}(?:{_NUMBER} and )?|{_NUMBER}(?:–| to | or ))?"
    rf"(?P<last>{_NUMBER})[ \u00a0](?P<unit>{_UNITS})(?![\w·/²³^])"
)
_EACH = re.compile(_NUMBER)
FEWEST, MOST = 3, 5  # figures of a converted number
PARTS = 16  # of an inch: a rule's finest


def either(metric, inch):
    """Return what is said in the system that is spoken: metric until one is chosen.

    >>> either("mm", "in")
    'mm'
    """
    return inch if system() == "inch" else metric


def spoken(text, units=None, parts=False):
    """How is this sentence said in the system that is spoken?

    text: sentence with numbers and units such as "a 60 mm pad, pressed with 800 N". units: "inch",
    "metric", or None: the system that is spoken; until one is chosen the text stays as it is.
    parts: whether a length in inches that a rule shows is written as on the rule, 2 1/2 in.
    Returns text; a number keeps its figures, at least three and at most five. What belongs to the
    system, has no unit or another kind of unit stays. Raises InputError for no such system.

    >>> spoken("A 63.5 mm pad at 0.05 mm/rev, pressed with 800 N.", "inch")
    'A 2.5 in pad at 1.97 thou/rev, pressed with 180 lbf.'
    >>> spoken("A 63.5 mm pad", "inch", parts=True)
    'A 2 1/2 in pad'
    """
    units = known_system(units) or system()
    if units is None or not isinstance(text, str):
        return text
    with speaking(units):
        return _AMOUNT.sub(lambda found: _told(found, parts), text).replace(*ALIKE[units])


def _told(found, parts):
    """Write one amount, or several that share a unit, anew."""
    word = found["unit"]
    first = _EACH.findall(found["before"] or "") + [found["last"]]
    amounts = [Q_(float(each.replace("−", "-")), WRITTEN[word]) for each in first]
    largest = in_system(max(amounts, key=abs))
    if largest.units == amounts[0].units:
        return found[0]
    pairs = zip(first, amounts, strict=True)
    texts = iter([_written(each, q.m_as(largest.units), parts) for each, q in pairs])
    body = _EACH.sub(lambda _: next(texts), (found["before"] or "") + found["last"])
    if parts and len(first) == 1 and str(largest.units) == "in":
        body = on_a_rule(abs(largest.magnitude)) or body
    return f"{body}{unit_text(largest.units)}{_BEHIND.get(word, '')}"


def _written(was, number, parts):
    """A number with as many figures as it had, from three to five, and no zeros at its end."""
    digits = was.strip("−-").lstrip("0.")
    figures = len(digits.replace(".", "") if "." in was else digits.rstrip("0"))
    text = rounded(number, min(max(figures, FEWEST), MOST))
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return text.replace("-", "−")


def on_a_rule(inches):
    """Return a length as a rule shows it, such as 2 1/2; None where it lies between the marks.

    >>> on_a_rule(2.5), on_a_rule(0.125), on_a_rule(3.0), on_a_rule(0.3)
    ('2 1/2', '1/8', '3', None)
    """
    marks = round(inches * PARTS)
    if not marks or abs(inches * PARTS - marks) > 1e-3:
        return None
    whole, rest = divmod(Fraction(marks, PARTS), 1)
    return f"{whole} {rest}" if whole and rest else str(whole or rest)
