"""Was what somebody typed taken for something else? Held against the second reader.

What was given and what came of it are walked side by side: every quantity and every number must be
the one that was written.
"""

from fractions import Fraction

from tests.references.second_reader import asked_back, meant
from tests.references.unit_reference import factor
from workshop_lib.quantities import LONGEST_TEXT, Quantity, parse_unit
from workshop_lib.quantities.kinds import KINDS
from workshop_lib.quantities.units import SMALLEST

CORES = {name: parse_unit(kind.core) for name, kind in KINDS.items()}


def exact(text, kind):
    """Return (exact size in the core unit, allowed part) of a typed quantity, or None."""
    known = meant(text, kind, KINDS[kind].units) if len(text) <= LONGEST_TEXT else None
    if known is None or known[1] not in KINDS[kind].units:
        return None
    within = 1e-6 if "Hg" in known[1] else 1e-12
    return float(known[0] * factor(kind, known[1])), within


def same_size(text, found, kind):
    """Whether a quantity is what was typed, as the second reader reads it."""
    known = exact(text, kind)
    return known is not None and abs(found.m_as(KINDS[kind].core) - known[0]) <= known[1] * abs(
        known[0]
    )


def should_be_taken(text, kind, sign=""):
    """Whether a good reader has to take this text: sense, a known unit, the sign that is wanted."""
    known = meant(text, kind, KINDS[kind].units) if len(text) <= LONGEST_TEXT else None
    if known is None or refusable(*known, kind) or asked_back(text, known[1]):
        return False
    return known[0] > 0 or (not sign or sign == ">= 0") and known[0] == 0 or not sign


def refusable(value, unit, kind):
    """Whether a good number may be refused: an unknown unit, beyond sense, too many digits."""
    if unit not in KINDS[kind].units:
        return True
    size = abs(value * factor(kind, unit))
    long = max(value.denominator, abs(value.numerator)) >= 10**6
    return long or size > KINDS[kind].largest or 0 < size < SMALLEST


def misread(given, found):
    """Say what was read as something else, or nothing."""
    if isinstance(found, dict) and isinstance(given, dict):
        pairs = [(_of(given, name), each) for name, each in found.items()]
    elif isinstance(found, tuple | list) and isinstance(given, tuple | list):
        if len(given) != len(found):
            return f"{len(given)} were given, {len(found)} read"
        pairs = zip(given, found, strict=True)
    else:
        return "" if _one(given, found) else f"{given!r} was read as {found!r}"
    return next(filter(None, (misread(*pair) for pair in pairs)), "")


def _of(given, name):
    """The entry of that name; `cut.depth` may stand as a table in a table."""
    if name in given:
        return given[name]
    table, _, inside = name.partition(".")
    return given[table][inside]


def _one(given, found):
    if isinstance(found, Quantity) and isinstance(given, str):
        kinds = [name for name, core in CORES.items() if core.is_compatible_with(found.units)]
        return any(same_size(given, found, kind) for kind in kinds)
    if isinstance(found, bool) or isinstance(given, bool):
        return found is given
    if isinstance(found, int | float):
        digits = "".join(filter(str.isdigit, given)) if isinstance(given, str) else given
        return Fraction(digits) == Fraction(found)
    return True
