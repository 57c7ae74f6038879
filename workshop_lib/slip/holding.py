"""How can you hold a disc that has no hole? Ways compared by what each can compute to hold.

Every way that grips a face obeys the same limit curve: what friction is under a pad, shear
strength is in a bond, and suction is under a plate. Only how the hold arises is different.
"""

from dataclasses import dataclass, field

import numpy as np

from workshop_lib import sources
from workshop_lib.friction import Pad, coefficient, torque_radius
from workshop_lib.quantities import Q_, as_shown, boundary, one_value
from workshop_lib.slip.criterion import margin as slip_margin
from workshop_lib.sources import Range, csv_tables
from workshop_lib.torque import ESTIMATES

KINDS_OF_HOLD = ("press", "bond", "suction", "clamp")
CLAMPS, CLAMP_INSET = 3, 8e-3  # three clamps, 8 mm in from the rim: common practice
BACKING = 0.9  # a sandwich's backing discs, as a share of the disc's diameter: common practice


@dataclass(frozen=True, eq=False)
class Way:
    """One way to hold a disc: how it holds, what it leaves on the work, and its caution."""

    key: str
    name: str
    kind: str
    strength: Range | None = field(repr=False)  # Pa for bond and suction, N for each clamp
    reaches_rim: bool
    leaves: str = field(repr=False)
    caution: str = field(repr=False)
    cited: tuple = field(repr=False)

    @property
    def standing(self):
        """How far its strength can be trusted."""
        return sources.standing(self.cited)


@dataclass(frozen=True, eq=False)
class Hold:
    """What one way holds in a given set-up."""

    way: Way
    side: object  # largest side force alone, N
    torque: object  # largest torque alone, N·m
    margin: float  # for both together

    @property
    def holds(self):
        """Whether it holds the load at all (margin above 1)."""
        return self.margin > 1


_UNITS = {"MPa": 1e6, "N": 1.0}
_COLUMNS = {
    "key": csv_tables.key,
    "name": csv_tables.text,
    "kind": csv_tables.one_of(*KINDS_OF_HOLD),
    **dict.fromkeys(("low", "typical", "high"), csv_tables.or_empty(csv_tables.number(1e-6, 1e6))),
    "unit": csv_tables.or_empty(csv_tables.one_of(*_UNITS)),
    "source": sources.keys_in_cell,
    "reaches_rim": csv_tables.one_of("yes", "no"),
    "leaves": csv_tables.text,
    "caution": csv_tables.text,
}


def _way(row):
    cited = row["source"]
    strength = None
    if row["kind"] != "press":
        if row["unit"] != ("N" if row["kind"] == "clamp" else "MPa"):
            raise row.error(f"this unit is wrong for a {row['kind']}", "Write MPa, or N for clamps")
        values = (_UNITS[row["unit"]] * x for x in row.ordered("low", "typical", "high"))
        strength = Range(*values, sources=cited, standing=sources.standing(cited))
    named = {name: row[name] for name in ("key", "name", "kind", "leaves", "caution")}
    return Way(**named, strength=strength, reaches_rim=row["reaches_rim"] == "yes", cited=cited)


def _built(rows):
    return {key: _way(row) for key, row in csv_tables.by_key(rows, "key").items()}


def _known():
    return csv_tables.load("holding.csv", _COLUMNS, _built)


def ways():
    """Which ways are there to hold a disc that has no hole?

    Returns a tuple of `Way`, in the order of their table.

    >>> [way.key for way in ways()][:2]
    ['pressure_pad', 'sandwich']
    """
    return tuple(_known().values())


def find_way(key, name="way"):
    """What is known about this way of holding? Returns a `Way`; InputError for an unknown key."""
    if isinstance(key, Way):
        return key
    return _known()[csv_tables.choose(key, _known(), name, "way of holding")]


@boundary(
    way=find_way,
    face=Pad,
    disc_diameter="length > 0",
    thrust="force >= 0",
    friction_coefficient=coefficient,
    side_force="force >= 0",
    torque="torque >= 0",
    estimate=ESTIMATES,
)
def hold(
    way,
    face,
    disc_diameter,
    thrust,
    friction_coefficient,
    side_force,
    torque,
    estimate="low",
):
    """What does one way of holding give against a side force and a torque?

    pressed: mu N on the face. Sandwich: the same on a face of 0.9 D. Bond: tau A on the face.
    Suction: mu p A on the face. Clamps: 2 mu n P at a circle 8 mm inside the rim (both sides of the
    sheet are gripped by parts that turn with the spindle, so here two faces count).

    way: key or `Way`. face: `Pad` that is pressed, taped, glued or sucked. disc_diameter: length.
    thrust: of the tailstock, force. friction_coefficient: plain number. side_force, torque: the
    load. estimate: "low", "typical" or "high" strength of bond, vacuum or clamp. Scalars.
    Returns a `Hold`. Raises InputError. Notes: peel, heat and leaks are not in it; the clamps are
    taken as spread round their circle. Source: the way's row; argatov-2005 for the combination.

    By hand: a 30 mm full pad at 600 N and 0.2 holds 1.2 N·m.
    >>> found = hold("pressure_pad", Pad("30 mm"), "78 mm", "600 N", 0.2, "0 N", "0.6 N m")
    >>> print(found.torque.round(6), round(found.margin, 6))
    1.2 N·m 2.0
    """
    one_value(face=face.relief, disc_diameter=disc_diameter, thrust=thrust, torque=torque)
    one_value(friction_coefficient=friction_coefficient, side_force=side_force)
    face, grip = _grip(way, face, disc_diameter, thrust, friction_coefficient, estimate)
    factor = slip_margin.core(face, grip, 1.0, side_force, torque)
    torque_held = as_shown(grip * torque_radius(face), "torque")
    return Hold(way, as_shown(grip, "force"), torque_held, float(factor))


def _grip(way, face, disc_diameter, thrust, friction_coefficient, estimate):
    """The face that grips, and its hold against pure side force in N."""
    area = np.pi * (face.outer_radius**2 - face.inner_radius**2)
    if way.kind == "clamp":
        circle = max(disc_diameter - 2 * CLAMP_INSET, disc_diameter / 2)
        ring = Pad(Q_(circle, "m"), Q_(0.999 * circle, "m"))
        return ring, 2 * CLAMPS * friction_coefficient * getattr(way.strength, estimate)
    if way.kind == "bond":
        return face, getattr(way.strength, estimate) * area
    if way.kind == "suction":
        return face, friction_coefficient * getattr(way.strength, estimate) * area
    if way.key == "sandwich":
        face = Pad(Q_(BACKING * disc_diameter, "m"))
    return face, friction_coefficient * thrust


def compare(*load, **settings):
    """Which way of holding gives most against this load?

    Takes what `hold` takes, without the way. Returns a list of `Hold`, best margin first.
    Raises InputError. Source: see `hold`.
    """
    found = [hold(way, *load, **settings) for way in ways()]
    return sorted(found, key=lambda each: each.margin, reverse=True)


RULES_FIRST = (
    "Your workshop's rules, the machine's own instructions and a trained instructor come before "
    "anything written here."
)
KEEP_THE_THRUST = (
    "Never ease the thrust, and never reach for the handwheel, while the spindle turns: the disc "
    "has nothing else to hold it."
)
