"""Do a lesson's numbers agree with hand working or a named source? Its known answers.

`agrees` stands in a plain cell of a lesson. It prints one line that never changes from run to run,
or raises AssertionError in words, so that a wrong library turns the notebook run red.
"""

import io
from contextlib import contextmanager, redirect_stdout

import numpy as np
import pint

from workshop_lib import sources
from workshop_lib.quantities import KINDS, Q_, InputError, Quantity, quote, read, unit_text


def agrees(computed, expected, within, source):
    """Does a computed value meet a known answer?

    computed: quantity, number, or array of either. expected: the same, or text ("26.18 N m"); same
    shape as computed. within: largest difference allowed, greater than zero: quantity or text of
    the same kind, a plain number (then in expected's unit), or a share of expected ("1 %").
    source: key of `sources`, alone or as "key: Table 3", or words such as "by hand: 2/3 x 600".
    Prints one line. Raises AssertionError when the values differ by more, when either is not
    finite, or when shape or unit do not fit; InputError for text that cannot be read as that kind,
    an unknown source, and a tolerance that allows nothing or everything.

    >>> agrees(Q_(26.1799, "N*m"), "26.18 N m", "0.01 N m", "by hand: 10 pi/12 x 10 N m")
    Agrees: 26.18 N·m (by hand: 10 pi/12 x 10 N m); computed 26.18 N·m
    """
    where = _named(source)
    expected = _as_quantity(expected, computed, "expected")
    if isinstance(computed, str):
        raise AssertionError(f"computed: {quote(computed)} is text; nothing was computed.")
    computed = _as_quantity(computed, expected, "computed")
    unit = expected.units
    wanted = np.asarray(expected.m_as(unit), dtype=float)
    found = np.asarray(_in_unit(computed, unit, where), dtype=float)
    allowed = _allowed(within, wanted, unit)
    if found.shape != wanted.shape:
        raise AssertionError(
            f"Does not agree ({where}): {_shape(found)} computed, {_shape(wanted)} expected."
        )
    for number, what in ((found, "computed"), (wanted, "expected")):
        if not np.isfinite(number).all():
            raise AssertionError(f"Does not agree ({where}): {what} is not finite.")
    decimals = _decimals(allowed)
    difference = np.abs(found - wanted)
    shown = _written(found, decimals, unit)
    if not (difference <= allowed).all():
        worst = f"{np.max(difference / allowed):.3g} times the {_written(allowed, None, unit)}"
        raise AssertionError(
            f"Does not agree: {_written(wanted, None, unit)} ({where}); computed {shown}. "
            f"The difference is {worst} allowed."
        )
    line = f"Agrees: {_written(wanted, None, unit)} ({where}); computed {shown}"
    print(line)  # noqa: T201 - the printed line is what the lesson's checks compare


@contextmanager
def gathered():
    """Keep the lines of the known answers that are asked for inside, for a part that is folded.

    >>> with gathered() as met:
    ...     agrees(2 + 2, 4, 0.1, "by hand: two pairs")
    >>> met
    ['Agrees: 4 (by hand: two pairs); computed 4.0']
    """
    said, met = io.StringIO(), []
    with redirect_stdout(said):
        yield met
    met += said.getvalue().splitlines()


def near(found, wanted, within, times=1):
    """Tell whether two values agree to `times` a tolerance, which is read as in `agrees`."""
    wanted = _as_quantity(wanted, found, "wanted")
    found = _as_quantity(found, wanted, "found")
    unit = wanted.units
    number, target = (np.asarray(q.m_as(unit), dtype=float) for q in (found, wanted))
    return bool(np.all(np.abs(number - target) <= times * _allowed(within, target, unit)))


def _named(source):
    """Return how to name a source: a key of `sources` by its short name, else the text itself."""
    if not isinstance(source, str) or not source.strip():
        raise InputError("source", "a known answer names its source or how it was worked by hand")
    first, _, place = (" ".join(part.split()) for part in source.partition(":"))
    if " " in first:
        return " ".join(source.split())
    short = sources.find_source(first).short
    return f"{short}, {place}" if place else short


def _as_quantity(value, other, name):
    """Return a value as a quantity; text is read as the kind of the value it is held against."""
    if isinstance(value, pint.Quantity):
        return value
    if isinstance(value, str):
        return _read_like(value, other, name)
    return Quantity(_plain_numbers(value, name), "dimensionless")


def _plain_numbers(value, name):
    array = np.asarray(value)
    if array.dtype.kind not in "iuf":
        raise AssertionError(f"{name}: {quote(value)} is neither a number nor a quantity.")
    return array.astype(float)


def _read_like(text, other, name):
    """Read text as the first kind that has the other value's dimension and the typed unit."""
    units = getattr(other, "units", Quantity(1.0).units)
    problem = None
    for kind in KINDS.values():
        if Quantity(1, kind.core).is_compatible_with(Quantity(1, units)):
            try:
                return read(text, kind.name, name)
            except InputError as error:
                problem = problem or error
    raise problem or InputError(name, f"nothing here is measured in {units}")


def _in_unit(quantity, unit, where):
    try:
        return quantity.m_as(unit)
    except pint.DimensionalityError as error:
        given, wanted = unit_text(quantity.units).strip(), unit_text(unit).strip()
        raise AssertionError(
            f"Does not agree ({where}): computed is in {given or 'no unit'}, "
            f"expected in {wanted or 'no unit'}."
        ) from error


def _allowed(within, wanted, unit):
    """Return the largest difference allowed as numbers in the expected value's unit."""
    if isinstance(within, str) and within.strip().endswith("%"):
        allowed = read(within, "ratio", "within").m_as("dimensionless") * np.abs(wanted)
        if allowed.size and (allowed <= 0).any():
            raise InputError("within", "a share of zero allows nothing; give it in the unit")
    elif isinstance(within, str | pint.Quantity):
        quantity = _as_quantity(within, Q_(1.0, unit), "within")
        allowed = np.asarray(quantity.m_as(unit), dtype=float)
    else:
        allowed = _plain_numbers(within, "within")
    if not (np.isfinite(allowed).all() and (allowed > 0).all()):
        raise InputError("within", f"{quote(within)} is not greater than zero and finite")
    if ((allowed >= np.abs(wanted)) & (wanted != 0)).any():
        raise InputError("within", f"{quote(within)} is as wide as the answer: it proves nothing")
    return allowed


def _decimals(allowed):
    """Return how many decimals make the tolerance's first figure visible."""
    return int(np.clip(-np.floor(np.log10(np.min(allowed))), 0, 12))


def _written(numbers, decimals, unit):
    """Write numbers with their unit: to so many decimals, or (None) as they were given."""
    if decimals is None:
        texts = [f"{number:.10g}" for number in np.ravel(numbers)]
    else:
        texts = [f"{number + 0.0:.{decimals}f}" for number in np.ravel(numbers)]
    return ", ".join(texts[:8]) + (" …" if len(texts) > 8 else "") + unit_text(unit)


def _shape(numbers):
    return "one value" if numbers.ndim == 0 else f"shape {numbers.shape}"
