"""Which three ways are there to press from the tailstock? A pressure nose and two centres.

Read from `data/designs.csv` (one row each), `data/design_supports.csv` (its bearings, from the tip
backwards) and `data/design_steps.csv` (what the thrust passes through, in order). The sizes are
invented ones of a common kind; `Design.changed` puts one's own in their place.
"""

from dataclasses import dataclass, field, replace

from workshop_lib import sources
from workshop_lib.bearings import (
    RADIAL_ONLY,
    catalogue,
    known_bearings,
    known_clearances,
    known_fits,
)
from workshop_lib.load_path.design_parts import (
    AXIAL,
    HOW,
    PATHS,
    RADIAL,
    Step,
    Support,
    at,
    exchanged,
    has_clearance,
    loosened,
    moved,
    pushed,
    single,
)
from workshop_lib.quantities import InputError, as_shown, quote, to_core
from workshop_lib.sources import csv_tables


@dataclass(frozen=True, eq=False)
class Design:
    """A pressure nose or a centre: its bearings from the tip backwards, its path of thrust.

    preload: N. ring_friction: coefficient of friction on the faces of rings that slide in a bore, 0
    where it is not to be counted on. root: the design that this one was changed from, if any.
    Lengths in its supports are bare (m).
    """

    key: str
    name: str
    purpose: str = field(repr=False)
    preload: float = field(repr=False)
    supports: tuple = field(repr=False)
    steps: tuple = field(repr=False)
    source: str = field(repr=False)
    note: str = field(repr=False)
    ring_friction: float = 0.0
    root: object = field(default=None, repr=False)

    @property
    def overhang(self):
        """From the tip back to the middle of the first bearing, mm."""
        return as_shown(round(self.supports[0].behind_tip, 12), "length")

    @property
    def span(self):
        """From the first bearing to the last, mm."""
        length = self.supports[-1].behind_tip - self.supports[0].behind_tip
        return as_shown(round(length, 12), "length")

    def support(self, place, name="place"):
        """The bearing at a place such as "front"; InputError lists the places."""
        return at(self.supports, place, name)

    def changed(
        self,
        overhang=None,
        span=None,
        fit=None,
        clearance=None,
        preload=None,
        bearings=None,
        rear_ring=None,
        spacing=None,
        ring_friction=None,
    ):
        """The same design with other sizes; what is None stays.

        overhang, span: lengths. fit: play of the sliding outer rings in their bore on the diameter,
        a length or a tolerance class such as "G7". clearance: inside the radial bearings, a length
        or a class such as "C3". preload: force, for a design that has one. bearings: mapping of
        place to designation. rear_ring: "slides", or "pushed" when the shaft pushes the rear inner
        ring too; spacing: how much later than the front one it is pushed, a length. ring_friction:
        plain number; the thrust then holds the rings still until friction gives way. Raises
        InputError naming the argument. Notes: the diameters of spindle, sleeve and faces stay.

        >>> print(find_design("pressure_nose").changed(overhang="40 mm").overhang)
        40.0 mm
        """
        supports = exchanged(self.supports, {} if bearings is None else bearings)
        supports = moved(supports, overhang, span)
        supports = tuple(loosened(each, fit, clearance) for each in supports)
        supports = pushed(supports, rear_ring, spacing)
        _refuse_idle(self, fit, clearance)
        force = self.preload if preload is None else to_core(preload, "force", "preload", ">= 0")
        if preload is not None and not any(each.axial == "forward" for each in supports):
            raise InputError("preload", f"the {self.name} has nothing to hold a preload")
        grip = self.ring_friction
        if ring_friction is not None:
            grip = single(to_core(ring_friction, "ratio", "ring_friction", ">= 0"), "ring_friction")
        force = single(force, "preload")
        told = {"supports": supports, "preload": force, "ring_friction": grip}
        return replace(self, **told, root=self.root or self)


def _refuse_idle(design, fit, play):
    """Refuse a change that would do nothing in this design."""
    if fit is not None and not any(each.radial == "sliding" for each in design.supports):
        raise InputError("fit", f"no ring of the {design.name} slides in its bore")
    if play is not None and not any(has_clearance(each.bearing) for each in design.supports):
        raise InputError("clearance", f"no bearing of the {design.name} has a clearance of its own")


_MILLIMETRES = csv_tables.number(0, 1000)
_DESIGN_COLUMNS = {
    "key": csv_tables.key,
    "name": csv_tables.text,
    "preload_N": csv_tables.number(0, 1e5),
    "purpose": csv_tables.text,
    "source": sources.keys_in_cell,
    "note": csv_tables.anything,
}
_SUPPORT_COLUMNS = {
    "design": csv_tables.key,
    "place": csv_tables.key,
    "bearing": csv_tables.text,
    **dict.fromkeys(("behind_tip_mm", "shaft_ahead_mm"), _MILLIMETRES),
    "axial": csv_tables.one_of(*AXIAL),
    "radial": csv_tables.one_of(*RADIAL),
    **dict.fromkeys(("fit", "clearance"), csv_tables.anything),
    "faces": csv_tables.or_empty(csv_tables.whole(1, 2)),
    "role": csv_tables.text,
    "source": sources.keys_in_cell,
}
_STEP_COLUMNS = {
    "design": csv_tables.key,
    "order": csv_tables.whole(1, 99),
    "path": csv_tables.one_of(*PATHS),
    "name": csv_tables.text,
    "how": csv_tables.one_of(*HOW),
    **dict.fromkeys(("inner_mm", "outer_mm"), csv_tables.or_empty(_MILLIMETRES)),
    "carries": lambda cell: tuple(csv_tables.text(cell).split()),
    "role": csv_tables.text,
    "source": sources.keys_in_cell,
}


def _grouped(rows):
    """Rows by the design that they belong to, as they stand."""
    found = {}
    for row in rows:
        found.setdefault(row["design"], []).append(row)
    return found


def _support(row):
    try:
        bearing = catalogue(row["bearing"])
    except InputError as error:
        raise row.error(error.problem, error.mend) from error
    if bearing.inside is None:
        raise row.error(f"the inside of {bearing.name} is not known")
    if (bearing.kind in RADIAL_ONLY) != (row["axial"] == "none"):
        raise row.error("axial is none for rollers and needles, and for no other bearing")
    sizes = row["behind_tip_mm"] * 1e-3, row["shaft_ahead_mm"] * 1e-3
    told = {name: row[name] for name in ("axial", "radial", "role")}
    told |= {"fit": 0.0, "clearance": 0.0, "faces": row["faces"] or 0}
    bare = Support(row["place"], bearing, *sizes, **told)
    try:
        return loosened(bare, row["fit"] or None, row["clearance"] or None)
    except InputError as error:
        raise row.error(f"{error.name}: {error.problem}", error.mend) from error


def _step(row, places):
    unknown = set(row["carries"]) - {*places, "applied"}
    if unknown:
        raise row.error(
            f"carries names {', '.join(sorted(unknown))}, which is not a place in this design"
        )
    sizes = [None if row[end] is None else row[end] * 1e-3 for end in ("inner_mm", "outer_mm")]
    if row["how"] != "bearing" and (None in sizes or sizes[0] >= sizes[1]):
        raise row.error("a column or a face needs inner_mm below outer_mm")
    return Step(row["path"], row["name"], row["how"], *sizes, row["carries"], row["role"])


def _design(row, supports, steps):
    key = row["key"]
    if len(supports.get(key, ())) < 2:
        raise row.error("a design needs two rows or more in design_supports.csv")
    bearings = sorted(map(_support, supports[key]), key=lambda each: each.behind_tip)
    if len({each.behind_tip for each in bearings}) < len(bearings):
        raise row.error("two of its bearings are at the same distance behind the tip")
    if row["preload_N"] and all(each.axial != "forward" for each in bearings):
        raise row.error("a preload needs a bearing that holds the spindle from coming forward")
    places = [each.place for each in bearings]
    path = sorted(steps.get(key, ()), key=lambda each: each["order"])
    named = {name: row[name] for name in ("key", "name", "purpose", "source", "note")}
    return Design(
        **named,
        preload=row["preload_N"],
        supports=tuple(bearings),
        steps=tuple(_step(each, places) for each in path),
    )


def _by_key(rows):
    return csv_tables.by_key(rows, "key")


_built = {}


def known_designs():
    """Return all designs by key, as their files and those of the bearings are now."""
    rows = csv_tables.load("designs.csv", _DESIGN_COLUMNS, _by_key)
    supports = csv_tables.load("design_supports.csv", _SUPPORT_COLUMNS, _grouped)
    steps = csv_tables.load("design_steps.csv", _STEP_COLUMNS, _grouped)

    def build():
        for grouped in (supports, steps):
            for key in set(grouped) - set(rows):
                raise grouped[key][0].error(f"{quote(key)} has no row in designs.csv")
        return {key: _design(row, supports, steps) for key, row in rows.items()}

    parts = rows, supports, steps, known_bearings(), known_clearances(), known_fits()
    return csv_tables.kept_while_same(_built, parts, build)


def find_design(key, name="design"):
    """The design of that key, such as "pressure_nose"; a `Design` comes back as it is."""
    if isinstance(key, Design):
        return key
    known = known_designs()
    return known[csv_tables.choose(key, known, name, "design")]


def designs():
    """Which ways are there to press from the tailstock?

    Returns a tuple of `Design`, in the order of their table: the pressure nose on two deep-groove
    bearings, the centre with roller, thrust and needle bearings, the centre with an angular-contact
    and a thrust bearing under preload. Source: typical-sizes; the bearings' own sources.

    >>> [design.key for design in designs()]
    ['pressure_nose', 'roller_centre', 'preloaded_centre']
    """
    return tuple(known_designs().values())
