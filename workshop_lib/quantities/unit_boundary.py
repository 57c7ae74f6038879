"""Where do people's quantities become the bare numbers that the physics computes with?

A public physics function is written on plain floats or arrays in core units (SI: m, N, N·m, Pa,
rad/s, kg, s) and wrapped with `boundary`. The wrapped function takes quantities or text, converts
once, and hands back a quantity; the bare body stays reachable as `.core`.
"""

import functools
import inspect

import numpy as np
import pint

from workshop_lib.quantities.catalogue import say
from workshop_lib.quantities.errors import InputError, quote
from workshop_lib.quantities.kinds import KINDS
from workshop_lib.quantities.units import (
    FOREIGN,
    LARGER,
    SMALLER,
    SMALLEST,
    Quantity,
    angle_parts,
    as_numbers,
    hides_turns,
    names_energy,
    parse_unit,
    read,
)

_SIGNS = {
    "> 0": (lambda x: x > 0, "{value} must be greater than zero"),
    ">= 0": (lambda x: x >= 0, "{value} must not be negative"),
}


def boundary(returns=None, **specs):
    """Wrap a bare numeric function so that it takes and returns quantities.

    specs: one for each argument that wants converting, either
    a kind with an optional sign ("length > 0", "force >= 0", "torque", "ratio >= 0"),
    a class (the argument must be an instance), a tuple of allowed texts, or a callable
    `convert(value, name)`. Arguments without a spec pass untouched; an argument whose default is
    None may be None. returns: a kind, or None to hand the result back as it is.
    All array arguments must broadcast together. Raises InputError naming the argument.
    """

    def wrap(core):
        signature = inspect.signature(core)
        unknown = set(specs) - set(signature.parameters)
        if unknown:
            raise TypeError(f"{core.__name__} has no argument {sorted(unknown)}")
        converters = {name: _converter(spec) for name, spec in specs.items()}

        @functools.wraps(core)
        def public(*args, **kwargs):
            bound = signature.bind(*args, **kwargs)
            bound.apply_defaults()
            for name, convert in converters.items():
                value = bound.arguments[name]
                if not (value is None and signature.parameters[name].default is None):
                    bound.arguments[name] = convert(value, name)
            common_shape(**{name: bound.arguments[name] for name in converters})
            result = core(*bound.args, **bound.kwargs)
            return result if returns is None else as_shown(result, returns)

        public.core, public.specs, public.returns = core, specs, returns
        return public

    return wrap


def as_shown(number, kind):
    """Give numbers in a kind's core unit back in the unit that people see; a ratio stays bare."""
    number = np.asarray(number, dtype=float) + 0.0  # no minus zero
    bare = number if number.ndim else number.item()
    factor, unit = _shown_scale(kind)
    if unit is None:
        return bare
    return Quantity(bare if factor is None else bare * factor, unit)


@functools.cache
def _shown_scale(kind):
    """What turns a kind's core numbers into shown ones, and the unit shown; None for a ratio."""
    kind = KINDS[kind]
    if kind.name == "ratio":
        return None, None
    unit = parse_unit(kind.shown)
    same = kind.core == kind.shown
    return None if same else Quantity(1.0, parse_unit(kind.core)).m_as(unit), unit


def to_core(value, kind, name, sign=None):
    """Convert a quantity, text, number (for ratios) or a sequence of these to core numbers.

    sign: "> 0", ">= 0" or None. Returns float, or float array of the same shape.
    """
    kind = KINDS[kind]
    try:
        numbers = as_numbers(_magnitudes(value, kind, name), name)
    except RecursionError as error:
        raise InputError(name, "there are too many lists inside lists") from error
    if np.abs(numbers).max() > kind.largest:
        raise InputError(name, say(LARGER, value=quote(value), kind=kind.label))
    if sign is not None:
        allowed, complaint = _SIGNS[sign]
        if not allowed(numbers).all():
            raise InputError(name, say(complaint, value=quote(_worst(value, numbers))))
        if sign == "> 0" and (numbers < SMALLEST).any():
            worst = quote(_worst(value, numbers))
            raise InputError(name, say(SMALLER, value=worst, kind=kind.label))
    numbers = numbers + 0.0  # no minus zero
    return numbers if numbers.ndim else numbers.item()


def _worst(value, numbers):
    """Return what to quote when a value has the wrong sign."""
    return value if numbers.ndim == 0 else f"one of {numbers.size} values"


def _magnitudes(value, kind, name):
    if isinstance(value, str):
        return _quantity_in_core(read(value, kind.name, name), kind, name)
    if isinstance(value, pint.Quantity):
        return _quantity_in_core(value, kind, name)
    if isinstance(value, np.ndarray) and value.ndim == 0:
        return _magnitudes(value.item(), kind, name)
    if isinstance(value, list | tuple | np.ndarray) and len(value) == 0:
        raise InputError(name, "there are no values in it", f"Write it as '{kind.example}'")
    if isinstance(value, list | tuple | np.ndarray) and _holds_quantities(value):
        return [_magnitudes(item, kind, name) for item in value]
    if kind.name == "ratio":
        return value
    if isinstance(value, int | float | np.number | np.ndarray | list | tuple):
        written = "" if isinstance(value, list | tuple | np.ndarray) else f" ({quote(value)})"
        raise InputError(name, f"has no unit{written}", f"Write it as '{kind.example}'")
    raise InputError(name, f"{quote(value)} is not {kind.article}", f"Write it as '{kind.example}'")


def _holds_quantities(value):
    """Tell whether text or quantities stand anywhere in a nested sequence."""
    if isinstance(value, np.ndarray) and value.dtype != object:
        return value.dtype.kind in "US"
    return any(
        isinstance(item, str | pint.Quantity)
        or (isinstance(item, list | tuple | np.ndarray) and _holds_quantities(item))
        for item in value
    )


def _quantity_in_core(quantity, kind, name):
    if not isinstance(quantity, Quantity):
        raise InputError(name, *FOREIGN)
    wanted, given = parse_unit(kind.core), quantity.units
    try:
        if kind.name == "feed" and angle_parts(given):
            quantity = quantity * Quantity(1, "turn")
        with np.errstate(all="ignore"):  # what overflows is refused as infinite
            numbers = quantity.m_as(wanted)
    except pint.DimensionalityError as error:
        mend = f"Write it as '{kind.example}'"
        raise InputError(
            name, f"{quote(f'{given}')} is not a unit of {kind.label}", mend
        ) from error
    except (TypeError, ValueError, ArithmeticError) as error:
        raise InputError(name, f"{quote(quantity)} is not made of numbers") from error
    if kind.name == "torque" and names_energy(given):
        mend = f"Write it as '{kind.example}'"
        raise InputError(name, f"{quote(f'{given}')} is a unit of energy, not of torque", mend)
    if hides_turns(quantity.units, wanted):
        written = quote(f"{given}") if str(given) else "a bare number"
        problem = f"{written} could hide a factor of 2 pi"
        raise InputError(name, problem, f"Write it as '{kind.example}'")
    return numbers


def _converter(spec):
    """Turn one spec into a function of (value, name)."""
    if isinstance(spec, str):
        kind, _, sign = spec.partition(" ")
        if kind not in KINDS or (sign and sign not in _SIGNS):
            raise TypeError(f"unknown spec {spec!r}")
        return lambda value, name: to_core(value, kind, name, sign or None)
    if isinstance(spec, tuple):
        return functools.partial(_choice, spec)
    if isinstance(spec, type):
        return functools.partial(_instance, spec)
    return spec


def _choice(allowed, value, name):
    if isinstance(value, str) and value in allowed:
        return value
    raise InputError(name, f"{quote(value)} cannot be chosen", f"Choose {', '.join(allowed)}")


def _instance(wanted, value, name):
    if isinstance(value, wanted):
        return value
    raise InputError(name, f"{quote(value)} is not a {wanted.__name__}")


def common_shape(**arguments):
    """Return the shape that named arguments broadcast to; InputError lists those that do not fit.

    arguments: numbers, arrays, and objects with a `shape`; anything else counts as a single value.
    """
    shapes = {name: getattr(value, "shape", ()) for name, value in arguments.items()}
    try:
        return np.broadcast_shapes(*shapes.values())
    except ValueError as error:
        listed = ", ".join(f"{name} {shape}" for name, shape in shapes.items() if shape)
        raise InputError("", f"these shapes do not fit together: {listed}") from error


def one_value(**arguments):
    """Refuse, by name, the first of these bare arguments that is an array."""
    for name, value in arguments.items():
        if np.ndim(value):
            raise InputError(name, "give one value, not several")


def whole_number(low, high):
    """Return a converter (value, name) to an int from low to high."""

    def convert(value, name):
        whole = isinstance(value, int | np.integer) and not isinstance(value, bool)
        if not whole or not low <= value <= high:
            raise InputError(name, f"{quote(value)} is not a whole number from {low} to {high}")
        return int(value)

    return convert
