"""Where does a label go on a chart? Beside what it names, off the curves, and off other labels."""

from dataclasses import dataclass

import numpy as np

from workshop_lib.drawings.geometry import CAP, DESCENT
from workshop_lib.drawings.markup import text_width
from workshop_lib.drawings.pen import SIZES
from workshop_lib.quantities import say

_AROUND = [(1, -1), (-1, -1), (1, 1), (-1, 1), (1, 0), (-1, 0), (0, -1), (0, 1)]
NEAR = 16  # so many places come first; those after them stand far off, and only where it is crowded
_ALONG = (0.86, 0.72, 0.58, 0.44, 0.3, 0.95, 0.16, 0.05)


@dataclass
class Label:
    """One label: its words and the places where it may stand, best first."""

    words: str
    places: list  # (x, y, anchor, level) in mm, y downward
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
        x, y, anchor, level = place
        height, width = SIZES[self.size], self.width
        left = x - {"start": 0, "middle": width / 2, "end": width}[anchor]
        base = y + {"bottom": -DESCENT, "middle": CAP / 2, "top": CAP, "base": 0}[level] * height
        return left, base - CAP * height, left + width, base + DESCENT * height


def around(x, y, distance):
    """Return the places round a point, the upper right first, then the same further off."""
    reaches = distance, distance + 3.5, distance + 8, distance + 13
    return [_beside(x, y, dx, dy, reach) for reach in reaches for dx, dy in _AROUND]


def _beside(x, y, dx, dy, distance):
    anchor = "start" if dx > 0.35 else "end" if dx < -0.35 else "middle"
    level = "bottom" if dy < -0.35 else "top" if dy > 0.35 else "middle"
    reach = distance / max(np.hypot(dx, dy), 1e-9)
    return x + dx * reach, y + dy * reach, anchor, level


def beside_curve(across, down, distance=1.0):
    """Return places on both sides of a curve, at several shares of its length."""
    good = np.isfinite(across) & np.isfinite(down)
    across, down = across[good], down[good]
    if across.size < 2:
        return []
    run = np.concatenate([[0], np.cumsum(np.hypot(np.diff(across), np.diff(down)))])
    places = [[], [], []]  # close by, and further off for where it is crowded
    for share in _ALONG:
        at = share * run[-1]
        here = np.clip(np.searchsorted(run, at), 1, run.size - 1)
        dx, dy = across[here] - across[here - 1], down[here] - down[here - 1]
        x, y = np.interp(at, run, across), np.interp(at, run, down)
        normal = np.array([dy, -dx]) / max(np.hypot(dx, dy), 1e-9)
        for side in (normal, -normal) if normal[1] <= 0 else (-normal, normal):
            for further, found in enumerate(places):
                reach = distance + 4.5 * further
                found.append(_beside(float(x), float(y), *map(float, side), reach))
    return sum(places, [])


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
        rooms = np.array([label.room(place) for place in label.places])
        cost = _outside(rooms, plot) + _crossed(rooms, points)
        for other in taken:
            cost += 1e3 * _shared(rooms, other)
        later = np.arange(len(rooms))
        best = int(np.argmin(cost + 1e-3 * later + 60 * (later // NEAR)))
        label.place, label.clash = label.places[best], float(cost[best])
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
