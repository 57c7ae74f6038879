"""What does the tool meet as a `Blank` turns about a centre?"""

from dataclasses import dataclass

import numpy as np

from workshop_lib.blank import engagement, outline
from workshop_lib.quantities import InputError, as_shown, boundary, one_value, quote, to_core


def place(value, name):
    """Convert a place to a pair of floats in m; a pair has no shape, so it goes with any array."""
    point = to_core(value, "length", name)
    if np.shape(point) != (2,):
        raise InputError(name, f"{quote(value)} is not a place", "Write it as ('12 mm', '7 mm')")
    return float(point[0]), float(point[1])


@dataclass(frozen=True, eq=False)
class Engagement:
    """What the tool meets in one turn: numbers for one tool radius, arrays for several.

    share: of the turn, with material under the tool. strikes: how often in a turn the cut begins
    anew (0 where it never stops or never starts). peak_depth: the most material on any ray.
    """

    share: object
    strikes: object
    peak_depth: object


class Turned:
    """An outline that turns; `points` are its corners in m, anticlockwise, shape (n, 2)."""

    @boundary(returns="length", centre=place, angle="angle")
    def radius_at(self, centre, angle):
        """How far out does the blank reach in a direction?

        centre: (x, y). angle: anticlockwise from the x direction, any shape. Returns the radius of
        the outermost crossing in mm. Raises InputError.

        >>> from workshop_lib.blank import Blank
        >>> print(Blank.square("60 mm").radius_at(("0 mm", "0 mm"), "45 deg").round(4))
        42.4264 mm
        """
        return engagement.radius_at(self.seen_from(centre), angle)

    @boundary(
        returns="length",
        centre=place,
        angle="angle",
        tool_radius="length > 0",
        depth_of_cut="length > 0",
    )
    def depth_at(self, centre, angle, tool_radius, depth_of_cut):
        """How much material does the tool meet as the blank turns this direction towards it?

        The length of sheet on the ray between tool_radius and tool_radius + depth_of_cut.

        centre: (x, y). angle: from the x direction. tool_radius, depth_of_cut: lengths. Broadcast
        together. Returns a length in mm. Raises InputError. Notes: where a ray leaves the blank and
        meets it again, all its pieces count, since the tool's edge cuts them together.

        >>> from workshop_lib.blank import Blank
        >>> square = Blank.square("60 mm")
        >>> print(square.depth_at(("0 mm", "0 mm"), "45 deg", "42 mm", "2 mm").round(4))
        0.4264 mm
        """
        sight = self.seen_from(centre)
        return engagement.depth_at(sight, angle, tool_radius, tool_radius + depth_of_cut)

    @boundary(centre=place, tool_radius="length > 0", depth_of_cut="length > 0")
    def engagement(self, centre, tool_radius, depth_of_cut):
        """How much of the turn is cut, in how many strikes, and how deep at the most?

        centre: (x, y). tool_radius, depth_of_cut: lengths that broadcast together; the tool meets
        what lies between tool_radius and tool_radius + depth_of_cut. Returns an `Engagement`.
        Raises InputError. Source: elementary-mechanics.

        By hand: a square's sides stop interrupting the cut where the tool is inside of them.
        >>> from workshop_lib.blank import Blank
        >>> found = Blank.square("60 mm").engagement(("0 mm", "0 mm"), "31 mm", "1 mm")
        >>> print(found.strikes, found.peak_depth.round(6))
        4 1.0 mm
        """
        inner, outer = np.broadcast_arrays(tool_radius, tool_radius + depth_of_cut)
        found = engagement.once_round(self.seen_from(centre), inner.ravel(), outer.ravel())
        columns = (column.reshape(inner.shape) for column in vars(found).values())
        share, strikes, depth = (each if each.ndim else each.item() for each in columns)
        return Engagement(share, strikes, as_shown(depth, "length"))

    @boundary(centre=place, tool_radius="length > 0", depth_of_cut="length > 0")
    def arcs(self, centre, tool_radius, depth_of_cut):
        """Where in the turn is the tool in the material?

        centre, tool_radius, depth_of_cut: as in `engagement`, single values. Returns two arrays of
        angles in degrees: where each arc begins, and how wide it is. Raises InputError.

        >>> from workshop_lib.blank import Blank
        >>> begin, width = Blank.square("60 mm").arcs(("0 mm", "0 mm"), "40 mm", "1 mm")
        >>> len(begin)
        4
        """
        one_value(tool_radius=tool_radius, depth_of_cut=depth_of_cut)
        sight = self.seen_from(centre)
        found = engagement.cut_arcs(sight, tool_radius, tool_radius + depth_of_cut)
        return tuple(as_shown(angles, "angle") for angles in found)

    @boundary(centre=place)
    def sees_all(self, centre):
        """Does every ray from the centre leave the blank once and for all?

        If not, some of it hooks round: the tool may cut such a piece loose, so snip it off first.

        centre: (x, y). Returns True or False. Raises InputError.

        >>> from workshop_lib.blank import Blank
        >>> Blank.square("60 mm").sees_all(("10 mm", "0 mm"))
        True
        """
        return self.seen_from(centre).star_shaped

    def room(self, centre):
        """Distance in m of a bare centre inside the blank from its nearest edge."""
        room = outline.clearance(self.points, np.array([centre]))[0]
        if room <= outline.TOUCH * np.ptp(self.points, axis=0).max():
            raise InputError("centre", "is outside the blank or on its edge")
        return room

    def seen_from(self, centre):
        """The `engagement.Sight` from a bare centre in m, for sweeps and panels."""
        self.room(centre)
        return engagement.seen_from(self.points, centre)

    @staticmethod
    def left(sight, tool_radius=None):
        """Area and moment about the centre, m² and m³, of what a bare tool radius has left."""
        radii = np.asarray(sight.reach if tool_radius is None else tool_radius)
        area, moment = engagement.remaining(sight, radii.ravel())
        return area.reshape(radii.shape), moment.reshape(*radii.shape, 2)
