"""Inch or metric? The one choice in which the workbook speaks, and the unit of each kind in it.

Until somebody chooses, a quantity is shown in the unit that it has: what was typed as it was typed,
what was computed in millimetres and newtons. After `speak("inch")` or `speak("metric")` every
quantity for people is shown in a unit of that system. What is typed may have any unit all the time.
"""

from contextlib import contextmanager
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from workshop_lib.quantities.errors import InputError, quote
from workshop_lib.quantities.kinds import KINDS

SYSTEMS = ("metric", "inch")
SMALL = 0.1  # inch; a shorter length is said in thou
_METRIC = {
    **{name: kind.shown for name, kind in KINDS.items()},
    "small_length": "mm",
    "feed": "mm",
}
_INCH = _METRIC | {
    "length": "inch",
    "small_length": "thou",
    "feed": "thou",
    "force": "lbf",
    "torque": "lbf*inch",
    "cutting_speed": "ft/min",
    "pressure": "psi",
    "mass": "oz",
    "area": "inch**2",
    "stiffness": "lbf/inch",
}
_UNITS = {"metric": _METRIC, "inch": _INCH}
_LABELS = {
    "inch": "in",
    "N*m": "N·m",
    "lbf*inch": "lbf·in",
    "mm**2": "mm²",
    "inch**2": "in²",
    "lbf/inch": "lbf/in",
    "kg/m**3": "kg/m³",
    "deg": "°",
    "dimensionless": "",
}
# Kinds that the two systems measure differently; speed of turning, time and angles are one for all.
DIFFER = tuple(name for name in KINDS if _INCH[name] != _METRIC[name] and name != "feed")
_chosen = None


class Spoken(NamedTuple):
    """A unit in which people are told a quantity: for the library, and as it is written."""

    unit: str
    label: str


def system():
    """In which system does the workbook speak? "metric", "inch", or None until one is chosen."""
    return _chosen


def speak(name):
    """Speak inch or metric from now on; None: each quantity in the unit that it has.

    name: "metric", "inch" or None. Returns what was spoken before. Raises InputError.

    >>> before = speak("inch")
    >>> unit_for("force"), unit_for("length", small=True).label
    (Spoken(unit='lbf', label='lbf'), 'thou')
    >>> _ = speak(before)
    """
    global _chosen
    before, _chosen = _chosen, known_system(name)
    return before


@contextmanager
def speaking(name):
    """Speak a system inside a `with` block only."""
    before = speak(name)
    try:
        yield
    finally:
        speak(before)


def known_system(value, name="units"):
    """Return the name of a system, or None; refuse all else."""
    if value is None or (isinstance(value, str) and value in SYSTEMS):
        return value
    raise InputError(name, f"{quote(value)} is not a system of units", "Write inch or metric")


def unit_for(kind, small=False, system=None):
    """In which unit is a quantity of this kind told, and what is written behind the number?

    kind: name of a kind, such as "length" or "force". small: a length below a tenth of an inch,
    such as a depth of cut, a bend or a run-out: in thou. system: "metric" or "inch"; None: the one
    that is spoken, metric until one is chosen. Returns `Spoken`: `.unit` for the library (text that
    `Q_` and `m_as` take), `.label` for people. Raises InputError.

    >>> unit_for("torque"), unit_for("torque", system="inch")
    (Spoken(unit='N*m', label='N·m'), Spoken(unit='lbf*inch', label='lbf·in'))
    """
    if not isinstance(kind, str) or kind not in KINDS:
        raise InputError(
            "kind", f"{quote(kind)} is not a kind of quantity", f"Kinds: {', '.join(KINDS)}"
        )
    spoken = known_system(system, "system") or _chosen or "metric"
    key = "small_length" if small and kind == "length" else kind
    unit = _UNITS[spoken][key]
    return Spoken(unit, _LABELS.get(unit, unit))


@lru_cache(maxsize=512)
def _kind_of_unit(unit, registry):
    """Return the kind that a unit measures if the two systems differ in it, else None."""
    for name in DIFFER:
        if registry.Unit(KINDS[name].core).is_compatible_with(unit):
            return name
    return None


def system_of(q):
    """In which system was this quantity typed? "inch" where its unit is made of inches or pounds.

    >>> from workshop_lib.quantities import Q_
    >>> system_of(Q_(5, "inch")), system_of(Q_(5, "mm"))
    ('inch', 'metric')
    """
    return _belongs(q.units, q._REGISTRY)


@lru_cache(maxsize=512)
def _belongs(unit, registry):
    """Return the system that a unit belongs to, judged by the parts that it is made of."""
    inches = ("inch", "foot", "thou", "pound", "ounce", "psi", "lbf", "ozf", "force_ounce")
    names = " ".join(part for part, _ in unit._units.items())
    return "inch" if any(each in names for each in inches) else "metric"


def in_system(q):
    """Return a quantity in a unit of the system that is spoken; what belongs to it stays.

    q: quantity. A length turns to thou where all of it lies below a tenth of an inch.
    """
    unit = q.units
    kind = _kind_of_unit(unit, q._REGISTRY) if _chosen else None
    if kind is None or _belongs(unit, q._REGISTRY) == _chosen:
        return q
    if kind == "length":
        sizes = np.abs(np.asarray(q.m_as("inch"), dtype=float))
        sizes = sizes[np.isfinite(sizes)]
        return q.to(unit_for(kind, small=bool(sizes.size and np.all(sizes < SMALL))).unit)
    return q.to(unit_for(kind).unit)
