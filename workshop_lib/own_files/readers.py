"""How is one entry of a job file read? Each reader takes (value, key) and gives it back checked.

Quantities keep the unit that they were written in. Every refusal names the entry's key, what was
wrong and what would work.
"""

import unicodedata

import numpy as np

from workshop_lib.quantities import KINDS, InputError, Quantity, parse_unit, quote, read, to_core
from workshop_lib.sources import choose, meant

LONGEST_WORDS = 4000  # characters in one text of a job
LONGEST_TITLE = 200
MOST_ITEMS = 1000
LARGEST_NUMBER = 1e6


class Faults(InputError):
    """Several items of one entry are at fault. found: an InputError for each."""

    def __init__(self, found):
        self.found = tuple(found)
        super().__init__(self.found[0].name, self.found[0].problem, self.found[0].mend)

    def __reduce__(self):
        return type(self), (self.found,)


def faults_of(fault):
    """Return the single refusals that a refusal is made of."""
    return fault.found if isinstance(fault, Faults) else (fault,)


def _each_read(pairs):
    """Read pairs of key and call; give all that came out, or refuse all that is at fault."""
    found, faults = {}, []
    for key, call in pairs:
        try:
            found[key] = call()
        except InputError as fault:
            faults += faults_of(fault)
    if faults:
        raise Faults(faults)
    return found


def quantity(spec, most=None):
    """Return a reader of one quantity, such as "length > 0"; most: text, beyond it is a mistake."""
    kind, _, sign = spec.partition(" ")
    limit = np.inf if most is None else to_core(most, kind, "most")

    def convert(value, key):
        if to_core(_single(value, key, kind), kind, key, sign or None) > limit:
            problem = f"{quote(value)} is more than {most}, the largest that the workbook takes"
            raise InputError(key, problem, "Check its unit")
        return read(value, kind, key) if isinstance(value, str) else _in_known_unit(value, kind)

    return convert


def _in_known_unit(q, kind):
    """Return a quantity in a unit that can be typed, so that it can stand in a file."""
    typed = {parse_unit(unit) for unit in KINDS[kind].units.values()}
    return q if q.units in typed else q.to(parse_unit(KINDS[kind].shown))


def _single(value, key, kind):
    if isinstance(value, str):
        return value
    if isinstance(value, Quantity) and np.ndim(value.magnitude) == 0:
        return value
    example = KINDS[kind].example
    problem = "it needs one value with its unit"
    if isinstance(value, int | float) and not isinstance(value, bool):
        problem = f"{quote(value)} has no unit"
    raise InputError(key, problem, f"Write it in quotation marks, such as “{example}”")


def plain(sign="> 0", largest=LARGEST_NUMBER):
    """Return a reader of one plain number."""

    def convert(value, key):
        if not isinstance(value, int | float) or isinstance(value, bool):
            raise InputError(
                key, f"{quote(value)} is not a plain number", "Write it without quotation marks"
            )
        if value > largest:  # before any float is made of a whole number of a thousand digits
            raise InputError(key, f"{quote(value)} is too large")
        if value < -largest:
            raise InputError(key, f"{quote(value)} must not be negative")
        to_core(float(value), "ratio", key, sign)
        return float(value) if isinstance(value, float) else value

    return convert


def whole(low, high):
    """Return a reader of a whole number between two limits, both allowed."""

    def convert(value, key):
        if not isinstance(value, int) or isinstance(value, bool) or not low <= value <= high:
            raise InputError(key, f"{quote(value)} is not a whole number from {low} to {high}")
        return value

    return convert


def words(value, key):
    """Read a text of a few lines; it is kept as it is and escaped wherever it is shown."""
    if not isinstance(value, str):
        raise InputError(key, f"{quote(value)} is not a text", "Put it in quotation marks")
    if len(value) > LONGEST_WORDS:
        raise InputError(key, f"it is longer than {LONGEST_WORDS} characters")
    text = "".join(" " if unicodedata.category(each) == "Zs" else each for each in value)
    for each in text.replace("\r\n", "\n"):
        if not (each.isprintable() or each in "\n\t"):
            problem = f"it has an invisible character in it (U+{ord(each):04X})"
            raise InputError(key, problem, "Take it out, or type the text again")
    return text.replace("\r\n", "\n").strip()


def title(value, key):
    """Read a text of one line that says something."""
    text = words(value, key)
    if not text:
        raise InputError(key, "it is empty", "Type a few words")
    if "\n" in text or "\t" in text or len(text) > LONGEST_TITLE:
        raise InputError(key, f"it must be one line of at most {LONGEST_TITLE} characters")
    return text


def named(known, what):
    """Return a reader of a text that must be one of those that `known()` gives."""

    def convert(value, key):
        keys = list(known())
        return choose(meant(value, keys), keys, key, what)

    return convert


def switch(value, key):
    """Read true or false."""
    if not isinstance(value, bool):
        raise InputError(key, f"{quote(value)} is neither true nor false")
    return value


def several(reader, least=1, most=MOST_ITEMS):
    """Return a reader of a list, each item by the same reader; faults name the item's number."""

    def convert(value, key):
        if not isinstance(value, list | tuple):
            raise InputError(key, f"{quote(value)} is not a list", "Put it in square brackets")
        if not least <= len(value) <= most:
            wanted = f"{least}" if least == most else f"{least} to {most}"
            raise InputError(
                key, f"it has {len(value)} item{'s' * (len(value) != 1)}, but needs {wanted}"
            )
        places = {f"{key}[{place}]": item for place, item in enumerate(value, start=1)}
        read_all = _each_read(
            (k, lambda k=k, item=item: reader(item, k)) for k, item in places.items()
        )
        return tuple(read_all.values())

    return convert


def rising(reader):
    """Return a reader of low, typical and high, in this order."""
    read_all = several(reader, 3, 3)

    def convert(value, key):
        triple = read_all(value, key)
        if not triple[0] <= triple[1] <= triple[2]:
            raise InputError(key, "low, typical and high are not in rising order")
        return triple

    return convert


def group(readers, required=()):
    """Return a reader of a table inside the file: a dictionary with known keys."""

    def convert(value, key):
        if not isinstance(value, dict):
            raise InputError(key, f"{quote(value)} is not a table of entries")
        missing = {name: _missing for name in required if name not in value}
        calls = {
            name: readers.get(name, _stranger(name, readers)) for name in [*value, *missing]
        } | missing
        return _each_read(
            (name, lambda name=name, call=call: call(value.get(name), f"{key}.{as_key(name)}"))
            for name, call in calls.items()
        )

    return convert


def _missing(_value, key):
    raise InputError(key, "is missing")


def _stranger(name, readers):
    return lambda _value, key: choose(name, list(readers), key, "key")


def as_key(name):
    """Return a key as a person wrote it, safe to put in a sentence."""
    return quote(name)[1:-1]
