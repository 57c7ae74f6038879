"""How does a nose of somebody's own work? One of the three designs with their bearings and sizes.

What a design is (which ring is pushed, what the thrust passes through) comes from the tables of
`designs`; bearings, places, fits and diameters are the person's. A nose that cannot work is refused
in words, since nobody should find that out at the machine.
"""

from dataclasses import replace

from workshop_lib.bearings import RADIAL_ONLY, TYPED, bearing_of, ring_play, seat, tolerance
from workshop_lib.load_path.design_parts import (
    is_class,
    keep_apart,
    loosened,
    moved,
    single,
)
from workshop_lib.load_path.design_tables import find_design
from workshop_lib.load_path.own_steps import Faces, steps_of
from workshop_lib.quantities import InputError, as_shown, quote, show, to_core
from workshop_lib.sources import choose

PUSHED = ("front", "rear", "both")
SLACK = 0.1e-3  # m by which a spindle may miss the bore that it goes through
SEATS = {"front": "k5", "rear": "g6", "third": "h5", "thrust": "js6"}


def own_design(
    design,
    bearings,
    overhang=None,
    span=None,
    positions=None,
    fit=None,
    clearance=None,
    pushed="front",
    spacing=None,
    preload=None,
    spindle=None,
    seats=None,
    faces=None,
    name="",
):
    """The design that somebody has built, ready for everything that computes with one.

    design: key such as "pressure_nose". bearings: {place: designation, `Bearing`, or a mapping of
    typed sizes and ratings}. overhang, span: lengths, or positions: {place: length behind the tip}.
    fit, clearance: one for all, or {place: one}: a class such as "H7" or "C3", or the play that was
    measured. pushed: which inner ring the spindle pushes: "front", "rear" or "both"; spacing: how
    much later the rear one. preload: force. spindle: {place: its diameter just before that
    bearing}. seats: {place: class of the shaft, such as "k5"}. faces: {what touches the rings:
    diameter}, see `own_steps.Faces`. name: what its owner calls it. Returns a `Design`. Raises
    InputError, also where such a nose could not work.

    >>> nose = own_design("pressure_nose", {"front": "6001", "rear": "6001"}, span="30 mm")
    >>> print(nose.span, nose.support("front").bearing.designation)
    30.0 mm 6001
    """
    pattern = find_design(design)
    supports = _bearings(pattern, bearings)
    pushed = _pushed(pattern.key, pushed)
    supports = _axial(pattern.key, supports, pushed, spacing)
    supports = _placed(supports, overhang, span, positions)
    supports = _played(supports, fit, clearance)
    supports = _on_spindle(supports, spindle)
    supports = _seated(supports, pushed, seats)
    _slide(supports, pattern.key, pushed)
    force = pattern.preload if preload is None else to_core(preload, "force", "preload", ">= 0")
    if preload is not None and all(each.axial != "forward" for each in supports):
        raise InputError("preload", f"the {pattern.name} has nothing to hold a preload")
    found = Faces.of(pattern.key, supports, faces)
    supports = (replace(supports[0], shaft_ahead=_head(supports, spindle, found)), *supports[1:])
    return replace(
        pattern,
        name=name or f"your {pattern.name}",
        supports=supports,
        steps=steps_of(pattern, supports, found, pushed),
        preload=single(float(force), "preload"),
        source=TYPED,
        note="Sizes as typed in.",
    )


def _bearings(pattern, wanted):
    """The pattern's supports with the person's bearings, each fit for its place."""
    places = [each.place for each in pattern.supports]
    if not isinstance(wanted, dict):
        raise InputError(
            "bearings", f"{quote(wanted)} does not say which bearing goes where", _each(places)
        )
    for place in wanted:
        choose(place, places, f"bearings.{quote(place)[1:-1]}", "place in this design")
    found = []
    for support in pattern.supports:
        key = f"bearings.{support.place}"
        if support.place not in wanted:
            raise InputError(key, "is missing", _each(places))
        bearing = bearing_of(wanted[support.place], key)
        if bearing.inside is None:
            mend = "Choose another, or type one whose ratings are known"
            raise InputError(key, f"the inside of {bearing.name} is not known", mend)
        _fit_for(pattern.key, support, bearing, key)
        bare = replace(support, bearing=bearing, fit=0.0, clearance=0.0)
        found.append(replace(bare, fit_class=None, clearance_class=None))
    return tuple(found)


def _each(places):
    return f"Name one for each of: {', '.join(places)}"


def _fit_for(key, support, bearing, name):
    """Refuse a bearing that cannot do what its place asks for."""
    place = support.place
    if key == "pressure_nose":
        if bearing.kind == "thrust_ball":
            problem = f"{bearing.name} cannot hold the spindle sideways"
            raise InputError(name, problem, "Take a deep-groove bearing")
        return
    if place == "thrust" and bearing.kind in RADIAL_ONLY:
        problem = f"{bearing.name} carries no axial load, and all of the thrust would pass here"
        raise InputError(name, problem, "Take a thrust ball bearing, such as 51101")
    if place == "thrust" and bearing.kind != "thrust_ball":
        problem = f"{bearing.name} is not a thrust bearing, and this design needs one here"
        raise InputError(name, problem, "Take a thrust ball bearing, such as 51101")
    if key == "preloaded_centre" and place == "front" and bearing.kind != "angular_contact":
        problem = f"{bearing.name} cannot hold the preload: it has no slanted contact"
        raise InputError(name, problem, "Take an angular-contact bearing, such as 7201 B")
    if key == "roller_centre" and place != "thrust" and bearing.kind not in RADIAL_ONLY:
        problem = f"{bearing.name} would take a share of the thrust, and nobody can say how much"
        raise InputError(name, problem, "Take a roller or needle bearing, such as HK 1210")


def _pushed(key, pushed):
    if pushed == "none":
        problem = "nothing would pass the thrust from the spindle to a bearing"
        raise InputError(
            "pushed", problem, "Give the spindle a shoulder: write front, rear or both"
        )
    choose(pushed, PUSHED, "pushed", "choice")
    if key != "pressure_nose" and pushed != "front":
        raise InputError("pushed", "is only for the pressure nose", "Leave it out")
    return pushed


def _axial(key, supports, pushed, spacing):
    """Which rings the spindle pushes; refuse one that has nothing to carry a push with."""
    if spacing is not None and pushed != "both":
        raise InputError("spacing", "is only used where both rings are pushed")
    if spacing is None and pushed == "both":
        problem = "is missing: a hundredth of a millimetre decides how the bearings share the load"
        raise InputError("spacing", problem, "Measure how much later the rear ring is pushed")
    if key != "pressure_nose":
        return supports
    gap = 0.0 if spacing is None else single(to_core(spacing, "length", "spacing"), "spacing")
    made = []
    for each in supports:
        carries = pushed in (each.place, "both")
        if carries and each.bearing.kind in RADIAL_ONLY:
            problem = f"{each.bearing.name} carries no axial load, and the thrust would pass here"
            mend = "Take a deep-groove bearing, or push the other ring"
            raise InputError(f"bearings.{each.place}", problem, mend)
        way = "rearward" if carries else "none" if each.bearing.kind in RADIAL_ONLY else "free"
        made.append(replace(each, axial=way, spacing=gap if each.place == "rear" else 0.0))
    if pushed == "front" and supports[1].bearing.kind in RADIAL_ONLY:
        problem = f"the sleeve cannot press on {supports[1].bearing.name}, whose shell is thin"
        raise InputError("bearings.rear", problem, "Take a deep-groove bearing there")
    return tuple(made)


def _placed(supports, overhang, span, positions):
    if positions is None:
        return moved(supports, overhang, span)
    if overhang is not None or span is not None:
        raise InputError(
            "positions", "overhang and span already give the positions", "Keep one or the other"
        )
    if not isinstance(positions, dict):
        raise InputError(
            "positions", f"{quote(positions)} does not say which place", "Write {front = …}"
        )
    places = {each.place: each for each in supports}
    for place in positions:
        choose(place, places, f"positions.{quote(place)[1:-1]}", "place in this design")
    found = []
    for place, each in places.items():
        key = f"positions.{place}"
        if place not in positions:
            raise InputError(key, "is missing", "Measure from the tip to the middle of the bearing")
        spot = single(to_core(positions[place], "length", key, "> 0"), key)
        found.append(replace(each, behind_tip=float(spot)))
    spots = [each.behind_tip for each in found]
    if any(one >= other for one, other in zip(spots, spots[1:], strict=False)):
        raise InputError("positions", f"must rise in this order: {', '.join(places)}")
    keep_apart(found, found[0].behind_tip, 1.0)
    return tuple(found)


def _at(value, place, key, places):
    """What a value that is one for all, or one for each place, says for this place."""
    if not isinstance(value, dict):
        return value
    for each in value:
        choose(each, places, f"{key}.{quote(each)[1:-1]}", "place in this design")
    return value.get(place)


def _played(supports, fit, clearance):
    """The supports with the play in their bores and inside them; usual classes where not said."""
    places = [each.place for each in supports]
    made = []
    for each in supports:
        bore = _at(fit, each.place, "fit", places) or ("H7" if each.radial == "sliding" else None)
        inside = _at(clearance, each.place, "clearance", places) or "normal"
        try:
            made.append(loosened(each, bore, inside))
        except InputError as error:
            raise InputError(f"{error.name}.{each.place}", error.problem, error.mend) from error
    return tuple(made)


def _on_spindle(supports, spindle):
    """The diameters of the spindle between bearings: the bore of the one behind, or as typed."""
    places = [each.place for each in supports]
    if spindle is not None and not isinstance(spindle, dict):
        spindle = dict.fromkeys(places[1:], spindle)
        if len({each.bearing.core.bore for each in supports}) == 1:
            _goes_through(supports, spindle[places[1]], "spindle")
    for place in spindle or ():
        choose(place, places, f"spindle.{quote(place)[1:-1]}", "place in this design")
    made = [supports[0]]
    for ahead, each in zip(supports, supports[1:], strict=False):
        given = (spindle or {}).get(each.place)
        size = each.bearing.core.bore
        if given is not None:
            size = _just_before(each, given)
            _passes(ahead, each, size)
        made.append(replace(each, shaft_ahead=size))
    return tuple(made)


def _just_before(support, given):
    """The diameter of the spindle just before a bearing, m; refuse one thinner than its bore."""
    key = f"spindle.{support.place}"
    size = float(single(to_core(given, "length", key, "> 0"), key))
    if size < support.bearing.core.bore - SLACK:
        problem = f"{_mm(size)} is thinner than the bore of {support.bearing.name}"
        raise InputError(key, problem, "Give the spindle's diameter just in front of that bearing")
    return size


def _passes(ahead, support, size):
    """Refuse a spindle that could not be slid through the bearing ahead of it.

    Only where the rear ring alone is pushed may a shoulder stand between the two bearings: the
    front one then goes on from the tip.
    """
    between = support.place == "rear" and support.axial == "rearward"
    if between and ahead.axial != "rearward":
        return
    if size > ahead.bearing.core.bore + SLACK:
        problem = f"{_mm(size)} does not go through {ahead.bearing.name}, whose bore is "
        problem += _mm(ahead.bearing.core.bore)
        mend = "Turn it to that bore, or push the rear ring"
        raise InputError(f"spindle.{support.place}", problem, mend)


def _goes_through(supports, diameter, key):
    size = float(single(to_core(diameter, "length", key, "> 0"), key))
    for each in supports:
        if abs(size - each.bearing.core.bore) > SLACK:
            problem = f"{_mm(size)} does not fit {each.bearing.name}, whose bore is "
            problem += _mm(each.bearing.core.bore)
            raise InputError(key, problem, "Turn the spindle to the bore, or change the bearing")


def _head(supports, spindle, faces):
    """Diameter of the spindle in front of the first bearing."""
    first = supports[0]
    if isinstance(spindle, dict) and first.place in spindle:
        return _just_before(first, spindle[first.place])
    return faces.shoulder


def _seated(supports, pushed, seats):
    """The supports with the class of the shaft under each: a ring that is pushed sits tight."""
    chosen = _seats(supports, seats)
    if pushed != "front" and not (isinstance(seats, dict) and "rear" in seats):
        chosen["rear"] = SEATS["front"]
    return tuple(replace(each, seat_class=chosen[each.place]) for each in supports)


def _slide(supports, key, pushed):
    """Refuse rings that must slide and cannot: a tight bore, a tight seat of the ring behind."""
    if key != "pressure_nose":
        return
    for each in supports:
        if each.fit_class is not None:
            low, _ = _bore_play(each)
            tight = low < -1e-9
        else:
            tight = not each.fit > 0
        if tight and not (pushed == "rear" and each.place == "front"):
            problem = f"the {each.place} outer ring cannot slide in its bore, so the thrust "
            problem += "would stay in the wall instead of passing on"
            raise InputError(f"fit.{each.place}", problem, "Bore it H7, or measure the play")
    rear = supports[-1]
    if pushed == "front" and seat(rear.bearing, rear.seat_class).typical.m_as("m") <= 0:
        problem = "the rear inner ring would be held on the spindle and take an unknown share of "
        problem += "the thrust"
        raise InputError("seats.rear", problem, "Turn it g6, so that the ring slides")


def _bore_play(support):
    return ring_play(support.bearing, tolerance(support.fit_class, "fit"))


def _seats(supports, seats):
    """The class of the shaft under each bearing: as typed, else the usual one."""
    places = [each.place for each in supports]
    chosen = {place: SEATS[place] for place in places}
    if seats is None:
        return chosen
    if not isinstance(seats, dict):
        raise InputError(
            "seats", f"{quote(seats)} does not say which place", "Write {front = k5, rear = g6}"
        )
    for place, value in seats.items():
        key = f"seats.{quote(place)[1:-1]}"
        choose(place, places, key, "place in this design")
        if not is_class(value) or not value[0].islower():
            raise InputError(
                key, f"{quote(value)} is not a tolerance class of a shaft", "Write k5, g6 or h5"
            )
        tolerance(value, key)
        chosen[place] = value
    return chosen


def _mm(length):
    return show(as_shown(length, "length"))
