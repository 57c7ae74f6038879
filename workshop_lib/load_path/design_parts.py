"""What is a pressure nose or a centre made of, and how do you change its parts? See `designs`."""

from dataclasses import dataclass, field, replace

from workshop_lib.bearings import (
    RADIAL_ONLY,
    Bearing,
    catalogue,
    clearance,
    clearance_classes,
    needle_play,
    ring_play,
    tolerance,
)
from workshop_lib.quantities import InputError, as_shown, quote, resolution, show, to_core
from workshop_lib.sources import csv_tables

# How a bearing meets the shaft's axial movement: it holds it back, holds it from coming forward,
# slides along, or could not hold it anyway.
AXIAL = ("rearward", "forward", "free", "none")
# How its outer ring or washer sits: fast in the body, with play in a bore, or free to go sideways.
RADIAL = ("fixed", "sliding", "free")
HOW = ("column", "face", "bearing")
PATHS = ("thrust", "preload", "beside")
LONGEST = 0.5  # m of overhang or span; no tailstock bears a longer nose


@dataclass(frozen=True, eq=False)
class Support:
    """One bearing of a design; lengths in m. `role` says in words what it is there for."""

    place: str
    bearing: Bearing
    behind_tip: float
    shaft_ahead: float  # diameter of the shaft between it and its neighbour nearer the tip
    axial: str
    radial: str
    fit: float  # play of the outer ring in its bore, on the diameter
    clearance: float  # play inside the bearing, on the diameter
    faces: int  # on which the thrust presses the outer ring against its neighbours
    role: str = field(repr=False)
    spacing: float = 0.0  # how far the shaft must go back before it pushes this ring too
    fit_class: str | None = None  # where the two plays came from, if from a class
    clearance_class: str | None = None
    seat_class: str | None = None  # of the shaft under its inner ring, where it is known


@dataclass(frozen=True, eq=False)
class Step:
    """One thing that carries axial load: a column, a face or a bearing; diameters in m."""

    path: str
    name: str
    how: str
    inner: float | None
    outer: float | None
    carries: tuple  # places of the bearings whose axial loads pass through it; ("applied",)
    role: str = field(repr=False)


def single(value, name):
    """Return a value that is no array; a design has one of each size."""
    if getattr(value, "shape", ()):
        raise InputError(name, "must be a single value")
    return value


def moved(supports, overhang, span):
    """The supports with the first at the overhang, and the others stretched to the span."""
    first, last = supports[0].behind_tip, supports[-1].behind_tip
    start, length = first, last - first
    if overhang is not None:
        start = single(to_core(overhang, "length", "overhang", "> 0"), "overhang")
    if span is not None:
        length = single(to_core(span, "length", "span", "> 0"), "span")
    keep_apart(supports, start, length / (last - first))
    spots = (start + (each.behind_tip - first) / (last - first) * length for each in supports)
    return tuple(replace(each, behind_tip=spot) for each, spot in zip(supports, spots, strict=True))


def keep_apart(supports, start, stretch):
    """Refuse places at which a bearing would stick out, meet its neighbour, or be far away."""
    length = stretch * (supports[-1].behind_tip - supports[0].behind_tip)
    for name, size in (("overhang", start), ("span", length)):
        if resolution.more_than(size, LONGEST):
            problem = f"{show(as_shown(size, 'length'))} is longer than any nose here"
            mend = f"Check the unit; give at most {show(as_shown(LONGEST, 'length'))}"
            raise InputError(name, problem, mend)
    if start < supports[0].bearing.core.width / 2:
        least = show(as_shown(supports[0].bearing.core.width / 2, "length"))
        raise InputError("overhang", "the first bearing would stick out", f"Give {least} or more")
    for one, other in zip(supports, supports[1:], strict=False):
        room = stretch * (other.behind_tip - one.behind_tip)
        if room < (one.bearing.core.width + other.bearing.core.width) / 2:
            problem = f"the {one.place} and the {other.place} bearing would run into one another"
            raise InputError("span", problem, "Give a longer one")


def at(supports, place, name="place"):
    """The support at a place such as "front"; InputError lists the places."""
    known = {support.place: support for support in supports}
    return known[csv_tables.choose(place, known, name, "place in this design")]


def exchanged(supports, wanted):
    """The supports with other bearings of the same kind; wanted: place -> designation."""
    if not isinstance(wanted, dict):
        raise InputError("bearings", f"{quote(wanted)} is not a mapping of place to designation")
    for place in wanted:
        at(supports, place, "bearings")
    changed = []
    for support in supports:
        bearing = catalogue(wanted.get(support.place, support.bearing), "bearings")
        if bearing.kind != support.bearing.kind:
            problem = f"{bearing.name} is not the same kind as {support.bearing.name}"
            raise InputError("bearings", problem, "Choose one of the same kind")
        if bearing.inside is None:
            raise InputError("bearings", f"the inside of {bearing.name} is not known")
        fresh = replace(support, bearing=bearing)
        changed.append(loosened(fresh, support.fit_class, support.clearance_class))
    return tuple(changed)


def loosened(support, fit, play):
    """The support with another play in its bore or inside it, where it has such a play."""
    if fit is not None and support.radial == "sliding":
        named = fit if is_class(fit) else None
        support = replace(support, fit=fit_of(fit, support.bearing), fit_class=named)
    if play is not None and has_clearance(support.bearing):
        named = play if is_class(play) else None
        size = clearance_of(play, support.bearing)
        support = replace(support, clearance=size, clearance_class=named)
    return support


def is_class(value):
    """Tell a class such as "H7" or "C3" from a length such as "18 um"."""
    return isinstance(value, str) and value[:1].isalpha()


def has_clearance(bearing):
    """Tell whether a bearing has radial play of its own."""
    return bearing.kind == "deep_groove" or bearing.kind in RADIAL_ONLY


def fit_of(value, bearing):
    """Play in metres, on the diameter, of a bearing's outer ring in a bore that is described.

    value: length, or tolerance class, whose middle is taken.
    """
    if is_class(value):
        if value[0].islower():
            raise InputError("fit", f"{quote(value)} is a shaft's tolerance", "Write H7 or G7")
        low, high = ring_play(bearing, tolerance(value, "fit"))
        return max((low + high) / 2, 0.0)
    return single(to_core(value, "length", "fit", ">= 0"), "fit")


def clearance_of(value, bearing):
    """Play in metres, on the diameter, inside a bearing.

    value: a length; a clearance class; or for needles, which have none, their shaft's tolerance
    (a clearance class leaves it at h5).
    """
    if is_class(value):
        needles = bearing.kind == "drawn_cup_needle"
        if needles and value in ("normal", *clearance_classes("cylindrical_roller")):
            value = "h5"
        try:
            found = needle_play(bearing, value) if needles else clearance(bearing, value)
        except InputError as error:
            raise InputError("clearance", error.problem, error.mend) from error
        return found.typical.m_as("m")
    return single(to_core(value, "length", "clearance", ">= 0"), "clearance")


def pushed(supports, rear_ring, spacing):
    """The supports with the rear inner ring sliding on the shaft or pushed by it."""
    if rear_ring is None:
        if spacing is not None:
            raise InputError("spacing", "is only used with rear_ring='pushed'")
        return supports
    csv_tables.choose(rear_ring, ("slides", "pushed"), "rear_ring", "choice")
    rear = at(supports, "rear", "rear_ring").place
    gap = to_core(spacing, "length", "spacing") if spacing is not None else 0.0
    held = "rearward" if rear_ring == "pushed" else "free"
    return tuple(
        replace(each, axial=held, spacing=single(gap, "spacing")) if each.place == rear else each
        for each in supports
    )
