"""Where does a label go on a chart? Beside what it names, off the curves, and off other labels."""

from dataclasses import dataclass

import numpy as np

from workshop_lib.drawings.geometry import CAP, DESCENT, LEVELS
from workshop_lib.drawings.markup import text_width
from workshop_lib.drawings.pen import SIZES
from workshop_lib.quantities import say

LEFT = {"start": 0.0, "middle": 0.5, "end": 1.0}  # of a label's width, left of its place
_AROUND = np.array([(1, -1), (-1, -1), (1, 1), (-1, 1), (1, 0), (-1, 0), (0, -1), (0, 1)])
_ALONG = np.array(
    [0.86, 0.72, 0.58, 0.44, 0.3, 0.95, 0.16, 0.05, 0.79, 0.65, 0.51, 0.37, 0.23, 0.9, 0.1]
)
_POINT_OFF = (2.0, 5.5, 10.0, 15.0)  # mm from a point to its name, the nearest first
_CURVE_OFF = (1.0, 5.5, 10.0)  # and from a curve
_OVER = (0.8, 0.5, 0.2)  # of a curve's width, over all of it
_LEVEL = 0.08  # the slope of a curve up to which its name stands over or under a point of it
FAR = (0, 5, 14, 30)  # what it costs to stand so far off, in points of a curve that a name hides


@dataclass
class Label:
    """One label: its words and the places where it may stand, best first."""

    words: str
    places: list  # for each distance, a list of (x, y, anchor, level) in mm, y downward
    colour: str
    size: str = "normal"
    bold: bool = False
    place: tuple = ()
    clash: float = 0.0

    def __post_init__(self):
        self.words = say(self.words)
        self.width = text_width(self.words, SIZES[self.size], self.bold)

    def room(self, place):
        """Return (left, top, right, bottom) of the label at a place."""
        return tuple(self.rooms([place])[0].tolist())

    def rooms(self, places):
        """Return left, top, right and bottom of the label at each place, (n, 4) mm."""
        x, y, anchors, levels = zip(*places, strict=True)
        height = SIZES[self.size]
        left = np.array(x) - self.width * np.array([LEFT[each] for each in anchors])
        base = np.array(y) - height * np.array([LEVELS[each] for each in levels])
        edges = left, base - CAP * height, left + self.width, base + DESCENT * height
        return np.column_stack(edges)


def around(x, y):
    """Return the places round a point, the upper right first, then the same further off."""
    at = np.broadcast_to([x, y], _AROUND.shape)
    return [_beside(at, _AROUND, distance, 0.35) for distance in _POINT_OFF]


def beside_curve(across, down):
    """Return places on both sides of a curve, over its highest and under its lowest point."""
    good = np.isfinite(across) & np.isfinite(down)
    across, down = across[good], down[good]
    if across.size < 2:
        return []
    steps = np.diff(across), np.diff(down)
    run = np.concatenate([[0], np.cumsum(np.hypot(*steps))])
    here = np.clip(np.searchsorted(run, _ALONG * run[-1]), 1, run.size - 1) - 1
    at = np.array([np.interp(_ALONG * run[-1], run, part) for part in (across, down)]).T
    normal = np.array([steps[1][here], -steps[0][here]]).T
    normal[normal[:, 1] > 0] *= -1  # upward first
    ends = [np.argmin(down), np.argmax(down)]
    at = np.vstack([np.repeat(at, 2, axis=0), np.array([across[ends], down[ends]]).T])
    sides = np.stack([normal, -normal], axis=1).reshape(-1, 2)
    sides = np.vstack([sides, [(0, -1), (0, 1)]])
    places = [_beside(at, sides, distance, _LEVEL) for distance in _CURVE_OFF]
    over = float(down.min()) - _CURVE_OFF[0]  # where one peak stands by the other
    left, right = float(across.min()), float(across.max())
    places[1] += [(left + share * (right - left), over, "middle", "bottom") for share in _OVER]
    return places


def _beside(at, ways, distance, level):
    """Return places at a distance from points, each on its way: right, left, above or below."""
    ways = ways / np.maximum(np.hypot(*ways.T), 1e-9)[:, None]
    places = (at + distance * ways).tolist()
    return [
        (x, y, *_held_by(dx, dy, level))
        for (x, y), (dx, dy) in zip(places, ways.tolist(), strict=True)
    ]


def _held_by(dx, dy, level):
    anchor = "start" if dx > level else "end" if dx < -level else "middle"
    return anchor, "bottom" if dy < -0.35 else "top" if dy > 0.35 else "middle"


def dense(across, down, gap=1.0):
    """Return points about every `gap` mm along a curve, where NaN breaks it."""
    steps = np.hypot(np.diff(across), np.diff(down))
    steps = np.where(np.isfinite(steps), steps, 0.0)
    run = np.concatenate([[0], np.cumsum(steps)])
    at = np.arange(0, run[-1] + gap, gap)[:1200]
    filled = np.nan_to_num(across, nan=-1e3), np.nan_to_num(down, nan=-1e3)
    return np.column_stack([np.interp(at, run, part) for part in filled])


def settle(labels, obstacles, plot, fixed=()):
    """Choose each label's place in turn: inside the plot, off curves, off the labels before it.

    obstacles: points of all curves (n, 2). plot: (width, height) mm. fixed: labels that have their
    place. Leaves in `clash` how badly the best place still collides; 0 for none.
    """
    points = np.vstack(obstacles) if obstacles else np.empty((0, 2))
    taken = [np.array(label.room(label.place)) for label in fixed]
    for label in labels:
        places = [place for near in label.places for place in near]
        rooms = label.rooms(places)
        cost = _outside(rooms, plot) + _crossed(rooms, points)
        for other in taken:
            cost += 1e3 * _shared(rooms, other)
        away = np.repeat(FAR[: len(label.places)], [len(near) for near in label.places])
        best = int(np.argmin(cost + away + 1e-3 * np.arange(len(rooms))))
        label.place, label.clash = places[best], float(cost[best])
        room = rooms[best]
        if _outside(rooms[[best]], plot)[0]:  # no place is good: at least nothing is cut off
            label.place = _pushed_in(label.place, room, plot)
            room = np.array(label.room(label.place))
            label.clash = float((_outside(room[None], plot) + _crossed(room[None], points))[0])
            label.clash += sum(1e3 * float(_shared(room[None], other)[0]) for other in taken)
        taken.append(room)
    return labels


def _pushed_in(place, room, plot):
    """Return a place moved as little as brings its room into the plot."""
    x, y, anchor, level = place
    left, top, right, bottom = room
    across = max(0.0, -left) - max(0.0, right - plot[0])
    down = max(0.0, -top) - max(0.0, bottom - plot[1])
    return x + across, y + down, anchor, level


def _outside(rooms, plot):
    over = np.maximum(0, np.column_stack([-rooms[:, :2], rooms[:, 2:] - np.asarray(plot)]))
    return 50 * over.sum(axis=1)


def _crossed(rooms, points):
    """Count the curve points inside each room."""
    x, y = points[:, 0], points[:, 1]
    left, top, right, bottom = rooms.T[:, :, None]
    return ((x > left) & (x < right) & (y > top) & (y < bottom)).sum(axis=1).astype(float)


def _shared(rooms, other):
    """Return the area that each room shares with another."""
    low, high = np.maximum(rooms[:, :2], other[:2]), np.minimum(rooms[:, 2:], other[2:])
    return np.prod(np.maximum(0, high - low), axis=1)
