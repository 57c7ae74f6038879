"""What may be handed in for a spread? Quantities, text or plain numbers, all in one unit."""

import numpy as np

from workshop_lib.quantities import (
    KINDS,
    InputError,
    Quantity,
    angle_parts,
    as_numbers,
    hides_turns,
    number_and_unit,
    quote,
    read,
    to_core,
    unit_text,
)


def numbers(**values):
    """Bare numbers in the unit of the first that has one, and that unit (None: plain numbers)."""
    values = {name: quantity(value, name) for name, value in values.items()}
    unit = next((value.units for value in values.values() if _has_unit(value)), None)
    return [_in_unit(value, unit, name) for name, value in values.items()], unit


def quantity(value, name):
    """Text as a quantity of the first kind that has its unit word; everything else as it is."""
    if not isinstance(value, str):
        return value
    _, unit = number_and_unit(value, KINDS["ratio"], name)
    for kind in KINDS.values():
        if unit in kind.units:
            return read(value, kind.name, name)
    raise InputError(name, f"{quote(unit)} is not a unit", "Write it as '600 N' or '0.3'")


def _has_unit(value):
    """Whether it is more than a plain number; an angle is, although pint has it dimensionless."""
    return isinstance(value, Quantity) and bool(not value.dimensionless or angle_parts(value.units))


def _in_unit(value, unit, name):
    _refuse_several(value, name)
    if unit is None:
        return to_core(value, "ratio", name)
    if not isinstance(value, Quantity):
        if as_numbers(value, name) != 0:
            raise InputError(name, f"{quote(value)} has no unit, but another has {unit}")
        return 0.0
    if not value.is_compatible_with(unit) or hides_turns(value.units, unit):
        raise InputError(
            name, f"{quote(value)} is not in the same kind of unit as the others ({unit})"
        )
    return float(as_numbers(value.m_as(unit), name))


def _refuse_several(value, name):
    if isinstance(value, list | tuple | np.ndarray | Quantity) and np.ndim(_magnitude(value)):
        raise InputError(name, "give one value, not several")


def _magnitude(value):
    return value.magnitude if isinstance(value, Quantity) else value


def refuse_falling(low, high):
    """Refuse limits that do not rise."""
    if not low < high:
        mend = "For a value with no spread use exactly(...)"
        raise InputError("high", "must be greater than low", mend)


def refuse_below_zero(**values):
    """Refuse, by name, the first that is below zero."""
    for name, value in values.items():
        if value < 0:
            raise InputError(name, "must not be negative")


def said(number, unit):
    """A number with its unit, in few letters."""
    return f"{number:g}{'' if unit is None else unit_text(unit)}"
