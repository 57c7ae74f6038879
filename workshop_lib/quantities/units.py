"""How is a typed quantity read, and shown to people? The one pint registry.

Unit text is never handed to a general parser: such a parser reads `3,5 mm` as 35 mm and `10 000 N`
as 0 N. What a person types is a number and one unit word from a known list, or it is refused with
a sentence that says what would work.
"""

import os
import re
import shutil
import sys
from functools import lru_cache
from numbers import Real
from pathlib import Path

import numpy as np
import pint
from pint.util import to_units_container

from workshop_lib.quantities.catalogue import say
from workshop_lib.quantities.errors import (
    LONGEST_TEXT,
    InputError,
    OutOfRangeWarning,
    quote,
    refuse_missing,
)
from workshop_lib.quantities.kinds import KINDS
from workshop_lib.quantities.resolution import SAME
from workshop_lib.quantities.systems import in_system, system
from workshop_lib.quantities.typed_text import number_and_unit, wrong_unit

__all__ = [
    "LONGEST_TEXT",
    "InputError",
    "OutOfRangeWarning",
    "Q_",
    "Quantity",
    "angle_parts",
    "as_numbers",
    "hides_turns",
    "kind_of",
    "names_energy",
    "parse_unit",
    "quote",
    "read",
    "rounded",
    "show",
    "unit_text",
    "ureg",
]


def _registry():
    """Return the registry, from pint's list of units as it was read at the first start.

    Reading that list takes a third of the time in which a lesson starts. What was read is kept in
    the environment that pint belongs to, apart for every release of it, and is read anew whenever
    it cannot be used, as when another process is just writing it.
    """
    kept = Path(sys.prefix, "share", f"workshop-units-{pint.__version__}")
    if kept.is_dir() or (sys.prefix != sys.base_prefix and os.access(sys.prefix, os.W_OK)):
        try:
            return pint.UnitRegistry(cache_folder=kept)
        except Exception:  # half a file raises whatever its unpickling meets
            shutil.rmtree(kept, ignore_errors=True)
    return pint.UnitRegistry(cache_folder=None)


ureg = _registry()


@pint.register_unit_format("W")
def _workshop_format(unit, registry, **_options):
    """Write units alike under every release of pint, which disagree about the dot and the micro."""
    if "dimensionless" in unit:
        return ""
    return f"{registry.Unit(unit):~P}".replace("\u22c5", "·").replace("\u03bc", "µ")


ureg.formatter.default_sort_func = None
ureg.formatter.default_format = "W"
ureg.define("@alias revolution = rev")
# pint 0.25 reads a word with a prefix, such as mm, anew each time: dearer than converting.
ureg.parse_units_as_container = lru_cache(maxsize=512)(ureg.parse_units_as_container)
pint.set_application_registry(ureg)
Quantity = ureg.Quantity


FIGURES_BELOW_SAME = 8  # so many figures are coarser than what counts as the same
LARGER = "{value} is larger than any {kind} here"
SMALLER = "{value} is smaller than any {kind} here"
FOREIGN = "comes from another unit registry", "Make it with quantities.Q_"
SMALLEST = 1e-15  # in core units; nothing in a workshop that is not zero is smaller
# Digits stand in a unit only as small powers and in 1/s: a tower of powers would never end.
_UNIT_TEXT = re.compile(
    r"(?:1(?=/)|(?:\*\*|\^)-?[1-4](?![0-9.])|[A-Za-zµμ°·*/²³() %\"'″′]){0,30}", re.ASCII
)


def kind_of(kind, name="kind"):
    """Return the `Kind` of that name; InputError lists the kinds when there is none."""
    if isinstance(kind, str) and kind in KINDS:
        return KINDS[kind]
    raise InputError(name, f"{quote(kind)} is not a kind of quantity", f"Kinds: {', '.join(KINDS)}")


def Q_(value, unit="dimensionless"):
    """Make a quantity of the workbook's registry from numbers and a unit's name.

    value: number or array of any shape, finite. unit: text such as "mm", "N*m", "rev/min".
    Raises InputError for text instead of a number, for NaN or infinity, and for unknown units.

    >>> print(Q_(30, "mm"))
    30.0 mm
    """
    numbers = as_numbers(value, "value")
    return Quantity(numbers if numbers.ndim else numbers.item(), parse_unit(unit))


def parse_unit(unit, name="unit"):
    """Return the pint unit of a unit's name; text is checked before pint sees it."""
    if isinstance(unit, pint.Unit):
        return unit
    known = _unit_of(unit) if isinstance(unit, str) else None
    if known is None:
        raise InputError(name, f"{quote(unit)} is not a unit", "Write one such as mm, N or rev/min")
    return known


@lru_cache(maxsize=512)
def _unit_of(text):
    """Return the unit that a text names, or None."""
    for kind in KINDS.values():
        if text in kind.units:
            return ureg.Unit(kind.units[text])
    if not _UNIT_TEXT.fullmatch(text):
        return None
    try:
        return ureg.Unit(text)
    except Exception:  # pint raises a dozen kinds for unreadable text
        return None


@lru_cache(maxsize=512)
def hides_turns(given, wanted):
    """Tell whether converting between two units would take turns or angles for plain numbers.

    pint counts an angle as dimensionless: 250 rev/min becomes 26 Hz, and 8 mm/rev becomes 1.3 mm.
    Radians are such numbers, so that omega × r is a cutting speed; but not as a ratio or in Hz.
    """
    angles = [angle_parts(given), angle_parts(wanted)]
    if bool(angles[0]) == bool(angles[1]):
        return False
    plain = Quantity(1, given if angles[1] else wanted)
    return angles[0] + angles[1] != ["radian"] or plain.dimensionless or plain.check("1/[time]")


@lru_cache(maxsize=512)
def angle_parts(unit):
    """Return the names of those parts of a unit that count turns or angles, such as ["turn"]."""
    roots = {part: Quantity(1, part).to_root_units().units for part in to_units_container(unit)}
    return [part for part, root in roots.items() if "radian" in to_units_container(root)]


@lru_cache(maxsize=512)
def names_energy(unit):
    """Tell whether a part of a unit is an energy by itself, such as the joule: no torque is."""
    parts = to_units_container(unit)
    return any(Quantity(1, part).check("[energy]") for part in parts)


def as_numbers(value, name):
    """Return plain finite numbers as a float array of the same shape; refuse all else by name."""
    items = value if isinstance(value, list | tuple) else [value]
    for item in items:
        if item is None or isinstance(item, bool | np.bool_ | str | bytes | pint.Quantity):
            raise InputError(name, f"{quote(item)} is not a plain number")
    refuse_missing(value, name)
    array = _array(value, name)
    if array.size == 0:
        raise InputError(name, "there are no values in it")
    if not np.isfinite(array).all():
        raise InputError(name, "not a finite number (NaN or infinity)")
    return array.astype(float)


def _array(value, name):
    """Return an array of real numbers, integers of any length included."""
    try:
        array = np.asarray(value)
    except (ValueError, TypeError) as error:
        raise InputError(name, "the rows have different lengths, so it is not an array") from error
    if array.dtype == object and all(isinstance(item, Real) for item in array.flat):
        try:
            array = array.astype(float)
        except OverflowError as error:
            raise InputError(name, "larger than any number here") from error
    if array.dtype.kind not in "iuf":
        raise InputError(name, f"{quote(value)} is not a number")
    return array


def read(text, kind, name="value"):
    """Read one typed quantity strictly: a number, a space or none, and a unit from a known list.

    text: at most 40 characters. Numbers: 12, 0.5, .5, 1e3, 3/16, 1 1/2, 1-1/2, ½.
    kind: name of a kind, such as "length" or "force". name: what to call it in an error.
    Returns a quantity in the unit that was typed. Raises InputError in words.

    >>> print(read("4 thou", "length").to("mm"))
    0.1016 mm
    >>> read("3,5 mm", "length")
    Traceback (most recent call last):
    workshop_lib.quantities.errors.InputError: value: ‘3,5 mm’ has a comma. Write a point: 3.5 mm.
    """
    kind = kind_of(kind)
    number, unit = number_and_unit(text, kind, name)
    if unit == "" and number == 0 and kind.units and "" not in kind.units:
        return Quantity(0.0, parse_unit(kind.shown))  # nought is nought in every unit
    if unit not in kind.units:
        raise InputError(name, *wrong_unit(number, unit, kind, text))
    quantity = Quantity(number, kind.units[unit])
    size = abs(quantity.m_as(kind.core))
    if size > kind.largest or (number and size < SMALLEST):
        problem = LARGER if size > kind.largest else SMALLER
        raise InputError(name, say(problem, value=quote(text), kind=kind.label))
    return quantity


def show(q, unit=None, figures=3):
    """Write a quantity for people: rounded to honest figures, unit behind, no exponents.

    q: quantity, plain number, or array of either (at most eight values are written out).
    unit: text; None: the system that is spoken (see `speak`), or the quantity's own unit until one
    is chosen. figures: significant figures, 1 to 12.
    Returns text. Raises InputError for what is no quantity or has no such unit.

    >>> show(Q_(1.0567, "N*m")), show(Q_(600, "N")), show(0.3333, figures=2)
    ('1.06 N·m', '600 N', '0.33')
    """
    if not isinstance(figures, int) or isinstance(figures, bool) or not 1 <= figures <= 12:
        raise InputError("figures", f"{quote(figures)} is not a whole number from 1 to 12")
    if not isinstance(q, Quantity):
        if isinstance(q, pint.Quantity):
            raise InputError("q", *FOREIGN)
        q = _joined(q)
    if unit == "um" and system() == "inch":  # who asks for µm wants a small length, not metres
        unit = None
    q = in_system(q) if unit is None else _expressed(q, parse_unit(unit))
    values = np.atleast_1d(_any_numbers(q.magnitude)).ravel()
    texts = [rounded(float(value), figures) for value in values[:8]]
    if values.size == 1 and not np.isfinite(values[0]):
        return texts[0]
    body = texts[0] if np.ndim(q.magnitude) == 0 else ", ".join(texts)
    if values.size > 8:
        body += f" … ({values.size} values)"
    return f"{body}{unit_text(q.units)}"


def _joined(values):
    """Make one quantity of plain numbers, or of a list of quantities in the first one's unit."""
    if not isinstance(values, list | tuple) or not any(isinstance(v, Quantity) for v in values):
        return Quantity(_any_numbers(values), "dimensionless")
    try:
        return Quantity.from_list(list(values))
    except (pint.DimensionalityError, AttributeError, TypeError, ValueError) as error:
        raise InputError("q", "a list that does not hold quantities of one kind") from error


def _expressed(q, unit):
    """Return a quantity in another unit; turns are never taken for plain numbers."""
    if not q.is_compatible_with(unit) or hides_turns(q.units, unit):
        raise InputError("unit", f"{unit} cannot express {q.units}")
    return q.to(unit)


def _any_numbers(value):
    """Like `as_numbers`, but infinity and NaN may be shown."""
    try:
        array = np.asarray(value)
    except ValueError as error:
        raise InputError("q", "the rows have different lengths, so it is not an array") from error
    if array.dtype.kind not in "iuf" or array.size == 0:
        raise InputError("q", f"{quote(value)} is not a quantity")
    return array.astype(float)


def rounded(value, figures=3):
    """Return one number as text with that many significant figures and no exponent.

    Halves are rounded away from zero, also where the machine's own rounding hides one.

    >>> rounded(0.125, 2), rounded(1.005), rounded(2.675)
    ('0.13', '1.01', '2.68')
    """
    if np.isnan(value):
        return say("not known")
    if np.isinf(value):
        return say("no limit" if value > 0 else "minus no limit")
    if value == 0:
        return "0"
    value = value * (1 + SAME) if figures <= FIGURES_BELOW_SAME else value
    with_exponent = f"{value:.{figures - 1}e}"
    before_point = int(with_exponent.split("e")[1]) + 1
    if before_point < -9:
        return with_exponent
    decimals = max(figures - before_point, 0)
    return f"{round(value, figures - before_point):.{decimals}f}"


_UNIT_SYMBOLS = {
    "": "",
    "rpm": " rev/min",
    "turn/min": " rev/min",
    "deg": "°",
    "%": " %",
    "th": " thou",
}


@lru_cache(maxsize=512)
def unit_text(units):
    """Return a unit as it is written behind a number, the gap before it included."""
    symbol = str(units)
    return _UNIT_SYMBOLS.get(symbol, f" {symbol}")
