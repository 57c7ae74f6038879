"""How are the three designs put together round their bearings? A `Cut` for each."""

import numpy as np

from workshop_lib.drawings.bearing_parts import (
    MM,
    SHANK,
    SLOPE,
    WALL,
    Cut,
    Part,
    mean_radius,
    rings,
    sizes,
    through,
)
from workshop_lib.drawings.geometry import box
from workshop_lib.quantities import InputError


def cut(design):
    """A design's `Cut`: outlines of its parts, and where thrust and preload run through them.

    Raises InputError for a design that nobody has drawn yet.
    """
    if design.key not in _LAYOUTS:
        mend = "Add its outlines to drawings/bearing_layouts.py, or go by the table of its parts"
        raise InputError("design", f"nobody has drawn a section of “{design.key}” yet", mend)
    size = {each.place: sizes(each) for each in design.supports}
    steps = {step.name: step for step in design.steps}
    return _LAYOUTS[design.key](size, steps)


def _shank(floor, recess, wall, closed):
    """Outline of the body behind the floor of its bore: recess, closed end and shank."""
    back = floor + closed
    hollow = [(floor, recess), (floor + 3, recess), (floor + 3, 0)]
    tail = [(back + SHANK, 0), (back + SHANK, 9.0), (back, 9.8), (back, wall)]
    return [*hollow, *tail], back + SHANK


def _from_axis(outline):
    """The same outline, begun and ended on the axis, so that it is drawn as one whole piece."""
    second = next(i for i, (_, r) in enumerate(outline) if r == 0 == outline[i - 1][1])
    return [*outline[second:], *outline[:second]]


def _rows(size, carries):
    """Rings and rolling bodies of every bearing; carries: {place: steps}."""
    made = {place: rings(each, carries.get(place, ())) for place, each in size.items()}
    parts = [part for found, _ in made.values() for part in found]
    return parts, {place: rolling for place, (_, rolling) in made.items()}


def _nose(size, steps):
    """Two deep-groove bearings: shoulder, front bearing, sleeve, rear outer ring, floor."""
    front, rear = size["front"], size["rear"]
    radius = {name: mean_radius(step) for name, step in steps.items() if step.outer}
    bore, floor = front.outer / 2, rear.rear
    head = MM * steps["nose spindle"].outer / 2
    wall = bore + WALL
    spindle = [(0, 0), (0, head - 1), (1, head), (front.front, head)]
    spindle += [(front.front, front.bore / 2), (rear.rear - 1, front.bore / 2), (rear.rear - 1, 0)]
    behind, length = _shank(floor, MM * steps["floor of the bore"].inner / 2, wall, 11)
    body = [(front.front - 2, bore), (floor, bore), *behind, (front.front - 2, wall)]
    tube = [MM * value / 2 for value in (steps["sleeve"].inner, steps["sleeve"].outer)]
    sleeve = box((front.rear, tube[0]), rear.front - front.rear, tube[1] - tube[0])
    parts, rolling = _rows(size, {"front": ("front bearing",), "rear": ("rear outer ring",)})
    parts = [
        Part("body", _from_axis(body), ("floor of the bore",)),
        Part("spindle", spindle, ("nose spindle", "rotating shoulder"), "nose", None),
        Part("sleeve", sleeve, ("sleeve",), "sheet", -45, 1.0),
        *parts,
    ]
    push, out = radius["rotating shoulder"], radius["floor of the bore"]
    legs = {
        "nose spindle": [(0, push), (front.front, push)],
        "rotating shoulder": [(front.front, push)],
        "front bearing": through(front, (front.front, push), (front.rear, radius["sleeve"])),
        "sleeve": [(front.rear, radius["sleeve"]), (rear.front, radius["sleeve"])],
        "rear outer ring": [(rear.front, radius["sleeve"]), (floor, out)],
        "floor of the bore": [(floor, out)],
    }
    return Cut(
        tuple(parts), rolling, legs, [(floor, out), (floor + 10, out)], [], length, wall, size
    )


def _point(front, head):
    """The 60° point of a centre, whose head is pressed onto a spigot of the spindle.

    Returns its outline, the radius of the spigot, and how far behind the tip that begins.
    """
    reach = 0.62 * front.front
    cone = min(reach * SLOPE, head)
    spigot = min(0.31 * front.bore, 0.8 * cone)
    outline = [(0, 0), (cone / SLOPE, cone), (reach, head), (front.front, head)]
    return [*outline, (front.front, spigot), (reach, spigot), (reach, 0)], spigot, reach


def _spindle(front, thrust, steps, start, head_seat, behind):
    """Outline of a centre's spindle: spigot, seat of the front bearing, collar, thrust seat."""
    collar = MM * steps["shoulder on the shaft washer"].outer / 2
    seat = thrust.bore / 2
    outline = [(start, 0), (start, head_seat), (front.front, head_seat)]
    outline += [(front.front, front.bore / 2)]
    if "front shoulder" in steps:
        lip = MM * steps["front shoulder"].outer / 2
        outline += [(front.rear, front.bore / 2), (front.rear, lip)]
        outline += [(front.rear + 3, lip), (front.rear + 3, seat)]
    outline += [(thrust.front - 4, seat), (thrust.front - 4, collar), (thrust.front, collar)]
    return [*outline, (thrust.front, seat), *behind]


def _thrust_legs(thrust, steps, head_seat):
    """Legs of the thrust from a centre's point to the floor behind its thrust bearing."""
    middle = min(mean_radius(steps["spindle"]), 0.8 * head_seat)
    push, out = (
        mean_radius(steps[name]) for name in ("shoulder on the shaft washer", "floor of the bore")
    )
    start, seat = middle / SLOPE, thrust.front
    return {
        "spindle": [(start, middle), (seat - 3.4, middle), (seat - 1.2, push), (seat, push)],
        "shoulder on the shaft washer": [(thrust.front, push)],
        "thrust bearing": through(thrust, (thrust.front, push), (thrust.rear, out)),
        "floor of the bore": [(thrust.rear, out)],
    }, out


def _centre_parts(size, steps, tail, head, carries):
    """What both centres have: point, spindle, bearings. Returns parts, rolling, legs, exit."""
    front, thrust = size["front"], size["thrust"]
    point, spigot, reach = _point(front, head)
    spindle = _spindle(front, thrust, steps, reach, spigot, tail)
    both = ("spindle", "shoulder on the shaft washer", "front shoulder")
    rows, rolling = _rows(size, carries)
    parts = [
        Part("spindle", spindle, both, "nose", None),
        Part("point", point, ("spindle",), "pad", None),
        *rows,
    ]
    legs, out = _thrust_legs(thrust, steps, spigot)
    return parts, rolling, legs, [(thrust.rear, out), (thrust.rear + 8, out)]


def _roller_centre(size, steps):
    """Rollers in front, a thrust bearing, needles behind: each with its own task."""
    front, thrust, third = (size[place] for place in ("front", "thrust", "third"))
    bore, floor = front.outer / 2, thrust.rear
    wall, room = bore + WALL, thrust.outer / 2 + 1
    recess, needles = MM * steps["floor of the bore"].inner / 2, third.outer / 2
    tail = [(floor, thrust.bore / 2), (floor, third.bore / 2), (third.rear + 2, third.bore / 2)]
    behind, length = _shank(third.rear, needles, wall, 9)
    body = [(front.front - 3, bore), (front.rear, bore), (front.rear, room), (floor, room)]
    body += [(floor, recess), (third.front, recess), (third.front, needles)]
    body += [*behind, (front.front - 3, wall)]
    cover = box((front.front - 3, bore - 3), 3, 3)
    given = {
        "front": ("front bearing",),
        "thrust": ("thrust bearing",),
        "third": ("third bearing",),
    }
    tail = [*tail, (third.rear + 2, 0)]
    parts, rolling, legs, leave = _centre_parts(size, steps, tail, front.outer * 0.34, given)
    parts = [
        Part("body", _from_axis(body), ("floor of the bore",)),
        Part("cover", cover, (), "pad", -45),
        *parts,
    ]
    return Cut(tuple(parts), rolling, legs, leave, [], length, wall, size)


def _preloaded_centre(size, steps):
    """Angular contact in front, a thrust bearing behind, and a screwed cap that presses both."""
    front, thrust = size["front"], size["thrust"]
    bore, floor, start = front.outer / 2, thrust.rear, front.front
    wall, room = bore + WALL, thrust.outer / 2 + 1
    recess = MM * steps["floor of the bore"].inner / 2
    tail = [(floor + 1.5, thrust.bore / 2), (floor + 1.5, 0)]
    behind, length = _shank(floor, recess, wall, 12)
    gap = front.rear + 1.2  # nothing but the balls may hold the outer ring back
    body = [(start - 5, bore + 0.8), (start, bore + 0.8), (start, bore), (gap, bore), (gap, room)]
    body += [(floor, room), *behind, (start - 5, wall)]
    face = [MM * value / 2 for value in (steps["screwed cap"].inner, steps["screwed cap"].outer)]
    cap = [(start, face[0]), (start, face[1]), (start - 1, bore + 0.8), (start - 6, bore + 0.8)]
    cap += [
        (start - 6, wall),
        (start - 9, wall),
        (start - 9, face[0] - 2),
        (start - 1.5, face[0] - 2),
    ]
    given = {"front": ("front bearing",), "thrust": ("thrust bearing",)}
    parts, rolling, legs, leave = _centre_parts(size, steps, tail, front.outer * 0.34, given)
    parts = [
        Part("body", _from_axis(body), ("floor of the bore",)),
        Part("cap", cap, ("screwed cap",), "pad", -45, 1.2),
        *parts,
    ]
    legs, back = legs | _preload_legs(front, thrust, steps), _way_back(front, thrust, steps, wall)
    return Cut(tuple(parts), rolling, legs, leave, back, length, wall, size)


def _preload_legs(front, thrust, steps):
    """Legs of the preload: cap, outer ring, balls, inner ring, shoulder, and on to the collar."""
    held, push = mean_radius(steps["screwed cap"]), mean_radius(steps["front shoulder"])
    lean = np.radians(front.angle)
    across = front.body / 2 * np.sin(lean), front.body / 2 * np.cos(lean)
    middle = front.x, front.pitch / 2
    balls = [
        (front.front, held),
        (middle[0] - across[0], middle[1] + across[1]),
        (middle[0] + across[0], middle[1] - across[1]),
        (front.rear, push),
    ]
    collar = mean_radius(steps["shoulder on the shaft washer"])
    inside = front.bore / 2 - 1.2
    return {
        "screwed cap": [(front.front - 4, held), (front.front, held)],
        "front bearing": balls,
        "front shoulder": [
            (front.rear, push),
            (front.rear + 1.5, push),
            (front.rear + 4, inside),
            (thrust.front - 4.5, inside),
            (thrust.front - 1, collar - 0.8),
        ],
    }


def _way_back(front, thrust, steps, wall):
    """The body's pull from the floor back to the cap."""
    out, held = (mean_radius(steps[name]) for name in ("floor of the bore", "screwed cap"))
    line, cap = wall - WALL / 2, front.front - 4
    turn = thrust.rear + 4
    return [(thrust.rear, out + 0.8), (turn, out + 3), (turn, line), (cap, line), (cap, held)]


_LAYOUTS = {
    "pressure_nose": _nose,
    "roller_centre": _roller_centre,
    "preloaded_centre": _preloaded_centre,
}
