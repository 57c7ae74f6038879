"""Which outlines and load paths does a nose or centre have, cut along its axis, in its own mm?

Everything follows from the design's data: bearings, overhang, span, and the diameters of its steps.
Points are (x, r): mm behind the tip and mm from the axis; what is drawn above the axis is mirrored
below it. What the data leave open (walls, shank, cap, the point of a centre) is sketched round it.
"""

from dataclasses import dataclass, field

import numpy as np

from workshop_lib.drawings.geometry import box

WALL = 5.0  # of the body round its largest bore
SHANK = 14.0  # how much of the shank is shown
SLOPE = np.tan(np.radians(30))  # of a centre's 60° point
LEANING = 15.0  # degrees: a deep-groove bearing's angle is 10 to 20 under the thrust of a nose
MM = 1e3


@dataclass(frozen=True)
class Part:
    """One cut part: its outline, how it is filled and hatched, and the steps that it carries."""

    name: str
    outline: list = field(repr=False)
    carries: tuple = ()
    fill: str = "steel"
    hatch: float | None = 45
    gap: float = 1.8


@dataclass(frozen=True)
class Cut:
    """A design in section: parts from back to front, the legs of its paths by step, its ends.

    rolling: {place: ("ball", centre, radius) or ("roller", outline)}. legs: {step's name: points},
    joined end to end in the order of the steps. exit: where the thrust goes on in the body. back:
    how the preload comes back through the body. length, wall: of the body. sizes: {place: Sizes}.
    """

    parts: tuple
    rolling: dict
    legs: dict
    exit: list
    back: list
    length: float
    wall: float
    sizes: dict


@dataclass(frozen=True)
class Sizes:
    """What the drawing needs of one bearing at its place, in mm."""

    place: str
    kind: str
    x: float
    bore: float
    outer: float
    width: float
    body: float  # diameter of its balls or rollers
    pitch: float
    length: float
    angle: float

    @property
    def front(self):
        """Where its face towards the tip stands."""
        return self.x - self.width / 2

    @property
    def rear(self):
        """Where its face away from the tip stands."""
        return self.x + self.width / 2

    def land(self, ring, share=0.7):
        """Radius of a ring's shoulder beside the groove, which hides that share of the ball."""
        sign = -1 if ring == "inner" else 1
        return (self.pitch + sign * share * self.body) / 2


def sizes(support):
    """The `Sizes` of a design's support."""
    bare, inside = support.bearing.core, support.bearing.inside
    angle = np.degrees(inside.contact_angle)
    if support.bearing.kind == "deep_groove":
        angle = LEANING
    return Sizes(
        support.place,
        support.bearing.kind,
        MM * support.behind_tip,
        *(MM * value for value in (bare.bore, bare.outside_diameter, bare.width)),
        MM * inside.element_diameter,
        MM * inside.pitch_diameter,
        MM * (inside.length or 0.0),
        float(angle),
    )


def rings(size, carries=()):
    """The two rings or washers of a bearing, and its ball or roller as (shape, …)."""
    x, width, middle = size.x, size.width, size.pitch / 2
    ball = ("ball", (x, middle), size.body / 2)
    roller = ("roller", box((x - size.length / 2, middle - size.body / 2), size.length, size.body))
    kinds = {
        "thrust_ball": (_washers, ball),
        "cylindrical_roller": (_roller_rings, roller),
        "drawn_cup_needle": (_cup, roller),
    }
    make, rolling = kinds.get(size.kind, (_ball_rings, ball))
    found = [
        Part(f"{size.place} {name}", outline, carries, "steel", turn, 1.1)
        for name, outline, turn in make(size, x, width)
    ]
    return found, rolling


def _ball_rings(size, x, width):
    inner, outer = size.land("inner"), size.land("outer")
    low = box((size.front, size.bore / 2), width, inner - size.bore / 2)
    relief = outer
    if size.kind == "angular_contact":  # its outer ring has one shoulder, on the side of the cap
        relief = size.land("outer", 1.0)
    high = [(size.front, outer), (x, outer), (size.rear, relief)]
    high += [(size.rear, size.outer / 2), (size.front, size.outer / 2)]
    return ("inner ring", low, -45), ("outer ring", high, 45)


def _washers(size, x, width):
    thick = (width - 0.7 * size.body) / 2
    shaft = box((size.front, size.bore / 2), thick, (size.outer - size.bore) / 2 - 0.3)
    held = box((size.rear - thick, size.bore / 2 + 0.5), thick, (size.outer - size.bore) / 2 - 0.5)
    return ("shaft washer", shaft, -45), ("housing washer", held, 45)


def _roller_rings(size, x, width):
    inner = box((size.front, size.bore / 2), width, size.land("inner", 1.0) - size.bore / 2)
    ring = _cup(size, x, width)[0][1]
    return ("inner ring", inner, -45), ("outer ring", ring, 45)


def _cup(size, x, width):
    """A ring with two ribs, between which the rollers run."""
    track, rib, half = size.land("outer", 1.0), size.land("outer", 0.35), size.length / 2 + 0.2
    ring = [(size.front, rib), (x - half, rib), (x - half, track), (x + half, track)]
    ring += [(x + half, rib), (size.rear, rib), (size.rear, size.outer / 2)]
    return (("outer ring", [*ring, (size.front, size.outer / 2)], 45),)


def through(size, entry, leave):
    """The way of an axial load through a bearing: from a point on one ring to one on the other.

    A ball passes it on along its contact line; the load comes from the inner ring or shaft washer.
    """
    lean = np.radians(size.angle)
    across = size.body / 2 * np.sin(lean), size.body / 2 * np.cos(lean)
    if size.kind == "thrust_ball":
        across = size.body / 2, 0.0
    middle = size.x, size.pitch / 2
    first = middle[0] - across[0], middle[1] - across[1]
    last = middle[0] + across[0], middle[1] + across[1]
    return [entry, first, last, leave]


def mean_radius(step):
    """Where the load of a column or a face is drawn: half-way between its two radii, mm."""
    return MM * (step.inner + step.outer) / 4
