"""Is an outline simple, how large is it, and what fits inside? Geometry on bare arrays.

An outline is an array of corner points in metres, shape (n, 2), taken round in order; the line
from the last point back to the first closes it. `checked` turns it anticlockwise.
"""

import numpy as np

from workshop_lib.quantities import InputError

MOST_POINTS = 4_000
SMALLEST = 1e-6  # m; an outline less than a thousandth of a millimetre across is a slip of a unit
TOUCH = 1e-9  # of the outline's size: edges closer than this count as touching
FINE = 1e-9  # of the outline's size: the largest circle's radius is found to this
TIE = 1e-12  # of the outline's size: two places that differ by less are equally good
COARSE = 64  # the search starts with squares no smaller than this part of the outline
CORNERS = np.array([[-1.0, -1.0], [-1.0, 1.0], [1.0, -1.0], [1.0, 1.0]])
DIAGONAL = np.sqrt(2)
CROWD, ZOOMS = 64, 30  # more squares than that line up on a ridge; zooms into its middle
NEAR_EDGES = 8  # edges that bound the clearance in one cell of the search
EFFORT = 2e7  # distances that the search for the largest circle may compute, about a second
BLOCK = 1 << 19  # values handled at a time, so that the working set stays small


def checked(points):
    """Return an outline as an anticlockwise array without the repeated last point, or refuse it."""
    points = np.array(points, dtype=float)
    if points.ndim != 2 or points.shape[1] != 2:
        raise InputError("outline", "is not a list of points, each with an x and a y")
    size = np.ptp(points, axis=0).max()
    if len(points) > 1 and np.hypot(*(points[-1] - points[0])) <= TOUCH * size:
        points = points[:-1]
    if len(points) < 3:
        raise InputError("outline", f"has {len(points)} points", "An outline needs at least three")
    if len(points) > MOST_POINTS:
        mend = f"Leave points out until there are at most {MOST_POINTS}"
        raise InputError("outline", f"has {len(points)} points", mend)
    if size < SMALLEST:
        raise InputError("outline", "is less than a thousandth of a millimetre across")
    _refuse_repeats(points, TOUCH * size)
    crossing = first_touch(points, TOUCH * size)
    if crossing is not None:
        names = " and ".join(f"from point {i + 1} to {(i + 1) % len(points) + 1}" for i in crossing)
        mend = "Give the points in order round the blank"
        raise InputError("outline", f"its edges {names} touch or cross", mend)
    return points if signed_area(points) > 0 else points[::-1].copy()


def _refuse_repeats(points, tolerance):
    """Refuse points that follow one another in one place, and points all on one line."""
    steps = np.hypot(*edge_vectors(points).T)
    if (steps <= tolerance).any():
        first = int(np.argmax(steps <= tolerance))
        names = f"points {first + 1} and {(first + 1) % len(points) + 1}"
        raise InputError("outline", f"{names} are in the same place", "Leave one of them out")
    away = points - points[0]
    along = away[np.argmax(np.hypot(*away.T))]
    if (np.abs(cross(along, away)) <= tolerance * np.hypot(*along)).all():
        raise InputError("outline", "all its points lie on one line, so it has no area")


def cross(first, second):
    """The z part of the cross product of plane vectors; arrays of shape (..., 2) broadcast."""
    return first[..., 0] * second[..., 1] - first[..., 1] * second[..., 0]


def edge_vectors(points):
    """The vector along each edge, from its point to the next."""
    return np.roll(points, -1, axis=0) - points


def first_touch(points, tolerance):
    """Return two edges that cross, touch or fold back on each other, as indices; None if none do.

    Only edges whose spans along one axis overlap are compared, so that an ordinary outline costs
    little more than a sort.
    """
    ends = np.roll(points, -1, axis=0)
    low, high = np.minimum(points, ends) - tolerance, np.maximum(points, ends) + tolerance
    sweeps = [_overlaps(low[:, axis], high[:, axis]) for axis in (0, 1)]
    axis = int(sweeps[1][1].sum() < sweeps[0][1].sum())
    order, counts = sweeps[axis]
    other = 1 - axis
    bounds = np.concatenate([[0], np.cumsum(counts)])
    start = 0
    while start < len(order):
        stop = max(start + 1, int(np.searchsorted(bounds, bounds[start] + BLOCK, "right")) - 1)
        rank = np.repeat(np.arange(start, stop), counts[start:stop])
        step = np.arange(len(rank)) - (bounds[rank] - bounds[start])
        one, two = order[rank], order[rank + 1 + step]
        meet = (low[one, other] <= high[two, other]) & (low[two, other] <= high[one, other])
        one, two = one[meet], two[meet]
        found = _touching(points, ends, one, two, tolerance)
        if found.any():
            return tuple(sorted((int(one[found][0]), int(two[found][0]))))
        start = stop
    return None


def _overlaps(low, high):
    """Edges sorted by the start of their span, and how many later ones begin before each ends."""
    order = np.argsort(low, kind="stable")
    last = np.searchsorted(low[order], high[order], "right")
    return order, last - np.arange(len(low)) - 1


def _touching(starts, ends, one, two, tolerance):
    """Tell for pairs of edges whether they cross or come nearer than the tolerance.

    Neighbours share a point; they touch where one folds back on the other.
    """
    a, b, c, d = starts[one], ends[one], starts[two], ends[two]
    gaps = np.stack([_gap(a, c, d), _gap(b, c, d), _gap(c, a, b), _gap(d, a, b)])
    count = len(starts)
    after, before = (one + 1) % count == two, (two + 1) % count == one
    gaps[1:3, after] = np.inf
    gaps[0::3, before] = np.inf
    apart = cross(b - a, c - a) * cross(b - a, d - a) >= 0
    apart |= cross(d - c, a - c) * cross(d - c, b - c) >= 0
    return (gaps.min(axis=0) <= tolerance) | ~(apart | after | before)


def _gap(point, start, end):
    """Distance of points from line segments; arrays of shape (..., 2) broadcast."""
    along = end - start
    away = point - start
    share = (away * along).sum(axis=-1) / (along**2).sum(axis=-1)
    rest = away - np.clip(share, 0, 1)[..., None] * along
    return np.hypot(rest[..., 0], rest[..., 1])


def signed_area(points):
    """Area in m², positive for an anticlockwise outline."""
    local = points - points[0]
    return cross(local, np.roll(local, -1, axis=0)).sum() / 2


def centroid(points):
    """Centre of area, shape (2,)."""
    local = points - points[0]
    following = np.roll(local, -1, axis=0)
    twice = cross(local, following)
    return points[0] + (twice[:, None] * (local + following)).sum(axis=0) / (3 * twice.sum())


def clearance(points, where):
    """Distance of places from the outline, positive inside; where: shape (k, 2)."""
    return np.concatenate([_clearance(points, part) for part in _blocks(points, where)])


def _blocks(points, where):
    step = max(1, BLOCK // len(points))
    return [where[start : start + step] for start in range(0, len(where), step)]


def _clearance(points, where):
    ends = np.roll(points, -1, axis=0)
    nearest = _gap(where[:, None], points, ends).min(axis=1)
    return np.where(_inside(points, ends, where), nearest, -nearest)


def _inside(points, ends, where):
    """Tell whether places lie inside: a line to the right meets the outline an odd number of times.

    An edge counts with its lower end and without its upper one, so that no corner counts twice.
    """
    x, y = where[:, :1], where[:, 1:]
    spans = (points[:, 1] <= y) != (ends[:, 1] <= y)
    turn = (ends[:, 0] - points[:, 0]) * (y - points[:, 1])
    turn = turn - (x - points[:, 0]) * (ends[:, 1] - points[:, 1])
    left = np.where(ends[:, 1] > points[:, 1], turn > 0, turn < 0)
    return (spans & left).sum(axis=1) % 2 == 1


def largest_circle(points):
    """Return the largest circle inside a simple outline, convex or not: centre, radius, doubt.

    Squares that cover the outline are quartered for as long as any place in them could have more
    clearance than the best one found. Where several places are equally good, the centre of area is
    taken if it is one of them. No circle inside is larger than the radius plus the doubt, which is
    FINE of the outline's size, and more only for an outline so ragged that EFFORT runs out.
    """
    low, high = points.min(axis=0), points.max(axis=0)
    size = (high - low).max()
    half = max((high - low).min() / 2, size / COARSE)
    spans = zip(low, high, strict=True)
    axes = [np.arange(start + half, end + half, 2 * half) for start, end in spans]
    cells = np.stack(np.meshgrid(*axes), axis=-1).reshape(-1, 2)
    best = centroid(points)
    most = clearance(points, best[None])[0]
    doubt, effort = FINE * size, EFFORT / len(points)
    while len(cells) and len(cells) <= effort:
        effort -= len(cells)
        room = clearance(points, cells)
        if room.max() > most + TIE * size:
            best, most = cells[room.argmax()], room.max()
            if len(cells) > CROWD:
                best, most = _lifted(points, best, half)
        cells = cells[room + half * DIAGONAL > most + doubt]
        bound = _most_room(points, cells, half)
        cells, bound = cells[bound > most + doubt], bound[bound > most + doubt]
        half /= 2
        cells = (cells[:, None] + half * CORNERS).reshape(-1, 2)
    return best, most, bound.max() - most if len(cells) else doubt


def _lifted(points, place, reach):
    """Move a place straight away from its nearest edge to where it has most clearance.

    Between parallel edges that is the middle, exactly; squares along it would never get there, and
    none of them could be ruled out.
    """
    ends = np.roll(points, -1, axis=0)
    nearest = _gap(place, points, ends).argmin()
    along = ends[nearest] - points[nearest]
    share = np.clip((place - points[nearest]) @ along / (along @ along), 0, 1)
    away = place - points[nearest] - share * along
    line, low, width = away / np.hypot(*away), -reach, 2 * reach
    for _ in range(ZOOMS):
        steps = low + width * np.linspace(0, 1, 9)
        room = clearance(points, place + steps[:, None] * line)
        low, width = steps[max(room.argmax() - 1, 0)], width / 4
    return place + steps[room.argmax()] * line, room.max()


def _most_room(points, cells, half):
    """An upper bound of the clearance anywhere in square cells of that half width.

    The distance from an edge is a convex function of place, so the mean of two such distances is
    greatest at a corner of the cell; no place has more clearance than the least of these bounds.
    Pairs prune the ridge between parallel edges, along which single distances would not.
    """
    return np.concatenate([np.empty(0)] + [_bound(points, p, half) for p in _blocks(points, cells)])


def _bound(points, cells, half):
    ends = np.roll(points, -1, axis=0)
    gaps = _gap(cells[:, None], points, ends)
    keep = min(NEAR_EDGES, len(points))
    near = np.argpartition(gaps, keep - 1, axis=1)[:, None, :keep]
    corners = (cells[:, None] + half * CORNERS)[:, :, None]
    gaps = _gap(corners, points[near], ends[near])
    pairs = gaps[..., None] + gaps[..., None, :]
    return pairs.max(axis=1).min(axis=(1, 2)) / 2
