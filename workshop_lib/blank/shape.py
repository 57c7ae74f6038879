"""What fits in a rough blank, how far out are its corners, and how does it balance?

A blank is any simple outline, typed, built or read from a file. Its turning centre is a place in
the outline's own coordinates; all else is seen from there.
"""

from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

import numpy as np

from workshop_lib.blank import outline
from workshop_lib.blank.blank_turned import Turned, place
from workshop_lib.blank.point_file import read_points
from workshop_lib.materials import find_material
from workshop_lib.quantities import InputError, as_shown, boundary, to_core, whole_number

_corners = whole_number(3, outline.MOST_POINTS)


@dataclass(frozen=True, eq=False)
class Disc:
    """A disc that fits in a blank: its centre (x, y) and its diameter.

    within: no disc that fits is larger than the diameter by more than this.
    """

    centre: object
    diameter: object
    within: object = field(repr=False)


@dataclass(frozen=True, eq=False)
class Mark:
    """A marked centre against the best one: how far off, what disc is left, what it has cost."""

    centre: object
    offset: object
    diameter: object
    lost: object


@dataclass(frozen=True, init=False, eq=False)
class Blank(Turned):
    """A blank of sheet with any simple outline, convex or not.

    outline: its corner points in order round it (either way round; the first may be repeated at
    the end): pairs of lengths such as ("0 mm", "10 mm"), or one quantity of shape (n, 2); 3 to
    4000 points. Raises InputError for an outline that crosses or touches itself, with the edges;
    for repeated points, points on one line, missing numbers.

    A centre is a pair of lengths in the same coordinates; methods refuse one outside the blank.

    >>> Blank([("0 mm", "0 mm"), ("80 mm", "0 mm"), ("80 mm", "60 mm"), ("0 mm", "60 mm")])
    Blank(4 points, 80 mm by 60 mm)
    """

    points: np.ndarray = field(repr=False)  # m, anticlockwise, shape (n, 2)

    def __init__(self, outline):
        object.__setattr__(self, "points", _points(outline))

    def __repr__(self):
        width, height = 1e3 * np.ptp(self.points, axis=0)
        return f"Blank({len(self.points)} points, {width:.4g} mm by {height:.4g} mm)"

    @staticmethod
    def regular(corners, across_flats=None, across_corners=None):
        """Which blank has this many equal sides and corners? Its centre is at (0, 0).

        corners: whole number from 3 to 4000. across_flats: twice the distance from the centre to a
        side. across_corners: twice the distance to a corner; one of the two is wanted. A side lies
        at the bottom. Returns a `Blank`. Raises InputError.

        >>> print(Blank.regular(8, across_flats="80 mm").largest_disc().diameter.round(6))
        80.0 mm
        """
        corners = _corners(corners, "corners")
        if (across_flats is None) == (across_corners is None):
            mend = "Give across_flats or across_corners"
            raise InputError("across_flats", "give one size, and only one", mend)
        half = np.pi / corners
        if across_flats is None:
            radius = to_core(across_corners, "length", "across_corners", "> 0") / 2
        else:
            radius = to_core(across_flats, "length", "across_flats", "> 0") / 2 / np.cos(half)
        angle = half * (2 * np.arange(corners) + 1) - np.pi / 2
        return _built(radius * np.stack([np.cos(angle), np.sin(angle)], axis=1))

    @staticmethod
    def square(side, clipped_corner="0 mm"):
        """Which blank is a square, with its corners clipped off or whole? Its centre is at (0, 0).

        side: length. clipped_corner: how much of each side a clipped corner takes at each end (not
        the length of the slanting cut). Returns a `Blank`. Raises InputError.

        By hand: four triangles of 10 mm by 10 mm off 80 mm by 80 mm.
        >>> print(Blank.square("80 mm", "10 mm").area.round(6))
        6200.0 mm²
        """
        half = to_core(side, "length", "side", "> 0") / 2
        clip = to_core(clipped_corner, "length", "clipped_corner", ">= 0")
        if clip >= half:
            raise InputError("clipped_corner", "must be less than half the side")
        corner = [(half, half - clip), (half - clip, half)] if clip else [(half, half)]
        quarter = np.array([[0.0, 1.0], [-1.0, 0.0]])
        turns = [np.linalg.matrix_power(quarter, turn) for turn in range(4)]
        return _built(np.concatenate([corner @ turn for turn in turns]))

    @staticmethod
    def from_csv(path):
        """Which blank has its points in this file?

        path: of a CSV file of at most 1 MB in UTF-8, with commas between the columns x (mm) and
        y (mm), or x_in and y_in, and so on; or x, y and unit, where each row names its unit.
        Returns a `Blank`. Raises InputError that names the file, and the line of a bad row.
        """
        points = read_points(path)
        try:
            return Blank(points)
        except InputError as error:
            raise InputError(Path(path).name, error.problem, error.mend) from error

    @property
    def area(self):
        """Area of the sheet, mm²."""
        return as_shown(outline.signed_area(self.points), "area")

    @property
    def centre_of_mass(self):
        """Where it balances, (x, y) in mm."""
        return as_shown(outline.centroid(self.points), "length")

    @cached_property
    def _largest(self):
        return outline.largest_circle(self.points)

    @property
    def best_centre(self):
        """Centre of the largest disc, a pair of bare numbers in m."""
        return tuple(self._largest[0].tolist())

    def largest_disc(self):
        """Which is the largest disc that fits, and where is its centre?

        Returns a `Disc` with centre and diameter in mm; exact to 2e-9 of the blank's size (its
        `within` says so, and says more for an outline of thousands of crowded points). Where
        several centres do equally well, the centre of mass is taken if it is one of them.
        Notes: any simple outline, convex or not. Source: elementary-mechanics.

        >>> print(Blank.square("80 mm").largest_disc().diameter.round(6))
        80.0 mm
        """
        centre, radius, doubt = self._largest
        return Disc(*(as_shown(x, "length") for x in (centre, 2 * radius, 2 * doubt)))

    @boundary(returns="length", centre=place)
    def disc_at(self, centre):
        """How large a disc fits about a centre as marked?

        centre: (x, y). Returns a diameter in mm. Raises InputError.

        >>> print(Blank.square("80 mm").disc_at(("3 mm", "0 mm")).round(6))
        74.0 mm
        """
        return 2 * self.room(centre)

    @boundary(centre=place)
    def mark(self, centre):
        """How far is a marked centre off the best one, and what diameter does that cost?

        centre: (x, y). Returns a `Mark`: offset, diameter of the disc that is left, diameter lost,
        in mm. Raises InputError.

        >>> print(Blank.square("80 mm").mark(("3 mm", "0 mm")).lost.round(6))
        6.0 mm
        """
        best, radius, _ = self._largest
        room = self.room(centre)
        offset = np.hypot(*(np.array(centre) - best))
        sizes = (np.array(centre), offset, 2 * room, 2 * max(radius - room, 0.0))
        return Mark(*(as_shown(size, "length") for size in sizes))

    @boundary(returns="length", centre=place)
    def corner_radius(self, centre):
        """How far out is the farthest corner, beyond which the tool must start?

        centre: (x, y). Returns a radius in mm. Raises InputError.

        By hand: a 3-4-5 triangle.
        >>> print(Blank.square("60 mm").corner_radius(("0 mm", "10 mm")).round(6))
        50.0 mm
        """
        return self.seen_from(centre).reach

    @boundary(returns="length", centre=place, tool_radius="length > 0")
    def offset_of_mass(self, centre, tool_radius=None):
        """How far from the turning centre does the blank's mass lie?

        centre: (x, y). tool_radius: down to which it is turned, any shape; None: not yet turned.
        Returns a length in mm. Raises InputError.

        >>> print(Blank.square("60 mm").offset_of_mass(("3 mm", "4 mm")).round(6))
        5.0 mm
        """
        area, moment = self.left(self.seen_from(centre), tool_radius)
        return np.hypot(moment[..., 0], moment[..., 1]) / area

    @boundary(
        returns="force",
        centre=place,
        thickness="length > 0",
        material=find_material,
        speed="speed >= 0",
        tool_radius="length > 0",
    )
    def unbalance(self, centre, thickness, material, speed, tool_radius=None):
        """How hard does the blank pull sideways on its pad because its mass lies off the centre?

        U = m e omega², with the mass m = density × thickness × area and its offset e.

        centre: (x, y). thickness, speed: quantities. material: key or `Material`. tool_radius: down
        to which the blank is turned; None: not yet turned. Arrays broadcast together. Returns a
        force in N. Raises InputError. Notes: a flat blank of even thickness; a piece that the cut
        sets loose still counts. Source: elementary-mechanics; the material's row for its density.

        By hand: 7.2 mm² × 10 m × 8000 kg/m³ is 57.6 g; × 5 mm × (100 rad/s)² = 2.88 N.
        >>> blank = Blank.square("60 mm")
        >>> about = ("3 mm", "4 mm")
        >>> print(blank.unbalance(about, "2 mm", "stainless_steel", "100 rad/s").round(6))
        2.88 N
        """
        _, moment = self.left(self.seen_from(centre), tool_radius)
        pull = np.hypot(moment[..., 0], moment[..., 1])
        return material.core.density * thickness * pull * speed**2


def _points(typed):
    """Convert and check an outline, and keep it from being changed."""
    if hasattr(typed, "__len__") and len(typed) > outline.MOST_POINTS + 1:
        problem = f"has more than {outline.MOST_POINTS} points"
        raise InputError("outline", problem, "Leave some of them out")
    return _kept(to_core(typed, "length", "outline"))


def _kept(points):
    points = outline.checked(points)
    points.flags.writeable = False
    return points


def _built(points):
    """A blank of bare points in m."""
    blank = Blank.__new__(Blank)
    object.__setattr__(blank, "points", _kept(points))
    return blank
