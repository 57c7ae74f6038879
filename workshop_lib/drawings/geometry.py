"""How are outlines, hatching and the space of a text worked out for a drawing?"""

from dataclasses import dataclass

import numpy as np

CAP, DESCENT = 0.72, 0.21  # height of capitals and depth of tails, relative to the font size
LEVELS = {"base": 0.0, "middle": -CAP / 2, "top": -CAP, "bottom": DESCENT}


def polar(centre, radius, angle):
    """Return the point at that radius and angle (degrees) from a centre."""
    turned = np.deg2rad(angle)
    return centre[0] + radius * float(np.cos(turned)), centre[1] + radius * float(np.sin(turned))


def box(corner, width, height):
    """Return the four corners of a rectangle from its lower left one."""
    x, y = corner
    return [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]


def along(start, end):
    """Return the length from start to end, and the unit vectors along it and to its left."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = float(np.hypot(dx, dy))
    if length == 0:
        raise ValueError("two points of a drawing coincide, so no direction is given")
    return length, (dx / length, dy / length), (-dy / length, dx / length)


def move(point, direction, distance):
    """Return a point shifted by a distance along a direction."""
    return point[0] + direction[0] * distance, point[1] + direction[1] * distance


def hatch_lines(rings, angle, gap):
    """Return the strokes that hatch the inside of rings of points: array (strokes, 2 ends, x y).

    Holes count by the even-odd rule.
    Strokes lie on one grid through the origin, so that two sections of one part match.
    """
    turned = np.deg2rad(angle)
    turn_back = np.array([[np.cos(turned), np.sin(turned)], [-np.sin(turned), np.cos(turned)]])
    flat = [np.asarray(ring, dtype=float) @ turn_back.T for ring in rings]
    start = np.vstack(flat)
    end = np.vstack([np.roll(ring, -1, axis=0) for ring in flat])
    lowest, highest = start[:, 1].min(), start[:, 1].max()
    levels = np.arange(np.floor(lowest / gap) + 1, np.ceil(highest / gap))[:, None] * gap
    (ax, ay), (bx, by) = start.T, end.T
    crossed = (ay <= levels) != (by <= levels)
    slope = (bx - ax) / np.where(by == ay, 1.0, by - ay)
    across = np.sort(np.where(crossed, ax + (levels - ay) * slope, np.inf), axis=1)
    across = across[:, : 2 * (crossed.sum(axis=1).max(initial=0) // 2)]
    ends = np.stack([across, np.broadcast_to(levels, across.shape)], axis=-1).reshape(-1, 2, 2)
    return ends[np.isfinite(ends).all(axis=(1, 2))] @ turn_back


def baseline(at, height, level, turn=0):
    """Return where a text's base line starts so that its `level` stands at the point."""
    return polar(at, LEVELS[level] * height, 90 + turn)


def text_box(at, width, height, anchor, level, turn=0):
    """Return the room that a text takes, as a `Room`."""
    left = {"start": 0.0, "middle": -width / 2, "end": -width}[anchor]
    low = (LEVELS[level] - DESCENT) * height
    along_text, up = np.deg2rad(turn), np.deg2rad(turn + 90)
    u = np.array([np.cos(along_text), np.sin(along_text)])
    v = np.array([np.cos(up), np.sin(up)])
    corners = [
        tuple(np.asarray(at) + u * x + v * y) for x, y in box((left, low), width, height * 0.93)
    ]
    return Room(tuple(corners))


@dataclass(frozen=True)
class Room:
    """The four corners of a text's box, which may be turned."""

    corners: tuple

    def moved(self, shift):
        """Return the box shifted."""
        return Room(tuple((x + shift[0], y + shift[1]) for x, y in self.corners))

    def within(self, sheet):
        """Tell whether the box lies inside (left, bottom, right, top)."""
        left, bottom, right, top = sheet
        return all(left <= x <= right and bottom <= y <= top for x, y in self.corners)

    def overlaps(self, other, slack=0.15):
        """Tell whether two boxes share more than a touch (separating axes)."""
        for one in (self.corners, other.corners):
            for index in range(2):
                _, direction, _ = along(one[index], one[index + 1])
                mine = [x * direction[0] + y * direction[1] for x, y in self.corners]
                theirs = [x * direction[0] + y * direction[1] for x, y in other.corners]
                if max(mine) <= min(theirs) + slack or max(theirs) <= min(mine) + slack:
                    return False
        return True
