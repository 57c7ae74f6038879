"""What does the tool meet as a blank turns? The material between two radii, all the way round.

Everything is seen from the turning centre. A ray at some angle crosses the outline at one or more
radii; with s = +1 where it leaves the material and −1 where it enters, the length of material on it
between radii R and S is the sum of s (clip(rho, R, S) − R) over the edges that it crosses.
"""

from dataclasses import dataclass

import numpy as np

from workshop_lib.blank.outline import cross, edge_vectors

TURN = 2 * np.pi
NARROW = 1e-11  # rad; an arc narrower than this is rounding
FAINT = 1e-11  # of the blank's size: less material on a ray, or less offset, is rounding
FAR_CORNERS, BESIDE = 64, 1e-9  # corners, and rad beside them, where a reach is looked for
BLOCK = 1 << 14  # arcs handled at a time, so that the working set stays in the cache
ZOOMS, STEPS = 8, np.linspace(0, 1, 9)


@dataclass(frozen=True, eq=False)
class Sight:
    """An outline as seen from a point: for each edge, over which angles it stands and how far off.

    corners: (n, 2) in m from that point. bearing: angle of each corner, 0 to 2 pi. sense: +1 where
    the edge runs anticlockwise, −1 clockwise, 0 along a ray. distance, foot: of the edge's line,
    so that it is crossed at distance / cos(angle − foot). first, last: corners where an edge's
    span of angles begins and ends.
    """

    corners: np.ndarray
    bearing: np.ndarray
    sense: np.ndarray
    distance: np.ndarray
    foot: np.ndarray
    first: np.ndarray
    last: np.ndarray

    @property
    def reach(self):
        """Distance of the farthest corner, m."""
        return np.hypot(*self.corners.T).max()

    @property
    def star_shaped(self):
        """Whether every ray from the point leaves the material once and for all."""
        return bool((self.sense >= 0).all())


def seen_from(points, centre):
    """Return the `Sight` of an anticlockwise outline from a point that is not on it."""
    corners = points - np.asarray(centre)
    bearing = np.arctan2(corners[:, 1], corners[:, 0]) % TURN
    sweep = (np.roll(bearing, -1) - bearing + np.pi) % TURN - np.pi
    sense = np.sign(sweep)
    along = edge_vectors(corners)
    outward = np.stack([along[:, 1], -along[:, 0]], axis=1) * np.where(sense < 0, -1, 1)[:, None]
    here = np.arange(len(points))
    after = np.roll(here, -1)
    return Sight(
        corners,
        bearing,
        sense,
        np.abs(cross(corners, along)) / np.hypot(*along.T),
        np.arctan2(outward[:, 1], outward[:, 0]),
        np.where(sense < 0, after, here),
        np.where(sense < 0, here, after),
    )


def _crossings(sight, angle):
    """For each angle and edge: the radius at which the ray crosses it, and +1, −1 or 0 (not)."""
    angle = np.asarray(angle, dtype=float)[..., None]
    start, end = sight.bearing[sight.first], sight.bearing[sight.last]
    turned = angle % TURN
    spans = np.where(
        start <= end, (turned >= start) & (turned < end), (turned >= start) | (turned < end)
    )
    lean = np.maximum(np.cos(angle - sight.foot), 1e-300)
    return np.minimum(sight.distance / lean, sight.reach), sight.sense * spans


def radius_at(sight, angle):
    """How far out the outline's outermost crossing lies at an angle, m; any shape."""
    radius, sense = _crossings(sight, angle)
    return np.where(sense != 0, radius, 0.0).max(axis=-1)


def solid_reach(sight):
    """A radius to which at least one ray from the centre stays in the material all the way, m.

    Up to there a pass meets its whole depth somewhere. Looked for beside the farthest corners; for
    an outline that the centre sees whole it is the farthest of them.
    """
    if sight.star_shaped:
        return sight.reach
    far = np.argsort(np.hypot(*sight.corners.T))[-FAR_CORNERS:]
    radius, sense = _crossings(sight, np.add.outer([-BESIDE, BESIDE], sight.bearing[far]))
    return np.where(sense != 0, radius, np.inf).min(axis=-1).max()


def depth_at(sight, angle, inner, outer):
    """Length of material on the ray at an angle between two radii, m; arrays broadcast."""
    radius, sense = _crossings(sight, angle)
    inner, outer = np.asarray(inner)[..., None], np.asarray(outer)[..., None]
    return (sense * (np.clip(radius, inner, outer) - inner)).sum(axis=-1)


@dataclass(frozen=True, eq=False)
class Round:
    """What the tool meets in one turn, for each pair of radii: arrays of shape (passes,)."""

    share: np.ndarray  # of the turn that has material under the tool
    strikes: np.ndarray  # how often in a turn the material begins anew
    depth: np.ndarray  # the most material on any ray, m


def once_round(sight, inner, outer):
    """Return the `Round` for passes from the radii `outer` to the radii `inner`, shape (p,) each.

    The cost grows in step with passes times corners. The depth is exact for an outline that the
    centre sees whole; elsewhere it is found by zooming into each arc.
    """
    step = max(1, BLOCK // (5 * len(sight.corners)))
    parts = [slice(start, start + step) for start in range(0, len(inner), step)]
    found = [_once_round(sight, inner[part], outer[part]) for part in parts]
    return Round(*(np.concatenate(columns) for columns in zip(*found, strict=True)))


def _once_round(sight, inner, outer):
    arcs = _Arcs(sight, inner, outer)
    starts, widths = arcs.starts, arcs.widths
    middle = arcs.material(starts + widths / 2)
    cut = arcs.settled(middle > FAINT * sight.reach)
    share = np.where(cut, widths, 0.0).sum(axis=1) / TURN
    strikes = (cut & ~np.roll(cut, 1, axis=1)).sum(axis=1)
    ends = np.maximum(arcs.material(starts), arcs.material(starts + widths))
    depth = np.where(cut, np.maximum(ends, middle), 0.0).max(axis=1)
    if not sight.star_shaped:
        depth = np.maximum(depth, arcs.deepest())
    return np.minimum(share, 1.0), strikes, np.minimum(depth, outer - inner)


def rise(sight, inner, outer):
    """How fast a corner comes on: the least angle in rad over which the cut grows, and what part.

    For each edge that crosses between the radii, the angle from where it leaves the tool's circle
    `inner` (or from its foot, where that lies farther out) to where it reaches `outer` or its own
    corner; and the share of outer − inner that it rises by. The steepest edge counts: infinite
    and 0 where none rises. inner, outer: shape (p,). Returns two arrays of that shape.
    """
    ends = np.stack([sight.corners[sight.first], sight.corners[sight.last]])
    far = np.hypot(ends[..., 0], ends[..., 1]).max(axis=0)
    inner, outer = np.asarray(inner)[:, None], np.asarray(outer)[:, None]
    top, low = np.minimum(outer, far), np.maximum(inner, sight.distance)
    rises = top > low * (1 + FAINT)
    with np.errstate(divide="ignore", invalid="ignore"):
        swing = np.arccos(np.minimum(sight.distance / top, 1.0)) - np.arccos(
            np.minimum(sight.distance / low, 1.0)
        )
        part = np.where(rises, np.clip((top - low) / np.maximum(outer - inner, 1e-300), 0, 1), 0.0)
    return np.where(rises, swing, np.inf).min(axis=1), part.max(axis=1)


def cut_arcs(sight, inner, outer):
    """Return where the arcs under the tool begin and how wide they are, rad; shape (k,) each."""
    arcs = _Arcs(sight, np.array([inner]), np.array([outer]))
    middle = arcs.material(arcs.starts + arcs.widths / 2)
    cut = arcs.settled(middle > FAINT * sight.reach)[0]
    if cut.all():
        return np.array([0.0]), np.array([TURN])
    begin = np.flatnonzero(cut & ~np.roll(cut, 1))
    if not len(begin):
        return np.empty(0), np.empty(0)
    order = np.roll(np.arange(len(cut)), -begin[0])
    widths = np.where(cut, arcs.widths[0], 0.0)[order]
    group = np.cumsum((cut & ~np.roll(cut, 1))[order]) - 1
    return arcs.starts[0, begin], np.bincount(group, widths)


class _Arcs:
    """One turn divided where anything changes: at corners, and where edges cross either radius.

    Each row is a pass. `pair` names, for every edge and every arc that it spans, the arc (counted
    through all rows) and `edge` the edge; each arc meets few edges, so there are few pairs.
    """

    def __init__(self, sight, inner, outer):
        self.sight, self.inner, self.outer = sight, inner, outer
        events = self._events()
        rows, count = events.shape
        order = np.argsort(events, axis=1, kind="stable")
        self.starts = np.take_along_axis(events, order, axis=1)
        after = np.roll(self.starts, -1, axis=1)
        after[:, -1] += TURN
        self.widths = after - self.starts
        place = np.empty_like(order)
        np.put_along_axis(place, order, np.arange(count)[None], axis=1)
        first, last = place[:, sight.first], place[:, sight.last]
        spans = np.where(sight.sense == 0, 0, (last - first) % count).ravel()
        before = np.repeat(np.cumsum(spans) - spans, spans)
        offset = np.repeat(first.ravel(), spans) + np.arange(spans.sum()) - before
        which = np.repeat(np.arange(spans.size), spans)
        row, self.edge = np.divmod(which, first.shape[1])
        self.pair = row * count + offset % count

    def _events(self):
        sight = self.sight
        rows = (len(self.inner), len(sight.bearing))
        events = [np.broadcast_to(sight.bearing, rows)]
        start = sight.bearing[sight.first]
        sweep = (sight.bearing[sight.last] - start) % TURN
        for radius in (self.inner, self.outer):
            swing = np.arccos(np.minimum(sight.distance / radius[:, None], 1.0))
            for angle in (sight.foot - swing, sight.foot + swing):
                off = (angle - start) % TURN
                events.append(np.where(off < sweep, (start + off) % TURN, start))
        return np.concatenate(events, axis=1)

    def material(self, angles, some=slice(None)):
        """Length of material on rays, one in each arc: shape (passes, arcs)."""
        pair, edge = self.pair[some], self.edge[some]
        sight, count = self.sight, self.starts.shape[1]
        row = pair // count
        lean = np.maximum(np.cos(angles.ravel()[pair] - sight.foot[edge]), 1e-300)
        inner = self.inner[row]
        radius = np.clip(sight.distance[edge] / lean, inner, self.outer[row])
        total = np.bincount(pair, sight.sense[edge] * (radius - inner), self.starts.size)
        return total.reshape(self.starts.shape)

    def settled(self, cut):
        """Give arcs too narrow to count the state of the arc before them."""
        wide = self.widths > NARROW
        place = np.where(wide, np.arange(cut.shape[1]), -1)
        place = np.maximum.accumulate(place, axis=1)
        place = np.where(place < 0, place[:, -1:], place)
        return np.take_along_axis(cut, place, axis=1)

    def deepest(self):
        """The most material on any ray, by zooming into the arcs that several edges span."""
        crowd = np.bincount(self.pair, minlength=self.starts.size) > 1
        some = np.flatnonzero(crowd[self.pair])
        low, width = self.starts, self.widths
        most = np.zeros(self.starts.shape)
        for _ in range(ZOOMS):
            found = np.stack([self.material(low + width * step, some) for step in STEPS])
            most = np.maximum(most, found.max(axis=0))
            best = np.clip(found.argmax(axis=0), 1, len(STEPS) - 2)
            low, width = low + width * STEPS[best - 1], width * (STEPS[2] - STEPS[0])
        return np.where(self.widths > NARROW, most, 0.0).max(axis=1)


def remaining(sight, radii):
    """Area in m² and first moment in m³ about the centre of what lies within radii of shape (p,).

    By Green's theorem, edge by edge: inside the circle the triangle that the edge makes with the
    centre, outside it the sector of the circle. Returns shapes (p,) and (p, 2); the cost grows with
    radii times corners.
    """
    step = max(1, BLOCK // len(sight.corners))
    parts = [_remaining(sight, radii[at : at + step]) for at in range(0, len(radii), step)]
    areas, moments = zip(*parts, strict=True)
    return np.concatenate(areas), np.concatenate(moments)


def _remaining(sight, radii):
    start = sight.corners
    along = edge_vectors(start)
    length = (along**2).sum(axis=1)
    foot = -(start * along).sum(axis=1) / length
    half = np.sqrt(np.maximum(radii[:, None] ** 2 - sight.distance**2, 0) / length)
    enter = start + np.clip(foot - half, 0, 1)[..., None] * along
    leave = start + np.clip(foot + half, 0, 1)[..., None] * along
    twice = cross(enter, leave)
    end = np.roll(start, -1, axis=0)
    turned = _angle(start, enter) + _angle(leave, end)
    area = (twice + turned * radii[:, None] ** 2).sum(axis=1) / 2
    chord = _unit(enter) - _unit(start) + _unit(end) - _unit(leave)
    sector = np.stack([chord[..., 1], -chord[..., 0]], axis=-1) * radii[:, None, None] ** 3
    moment = (twice[..., None] * (enter + leave) / 2 + sector).sum(axis=1) / 3
    rounding = np.hypot(*moment.T) < FAINT * area * sight.reach
    return area, np.where(rounding[:, None], 0.0, moment)


def _angle(first, second):
    return np.arctan2(cross(first, second), (first * second).sum(axis=-1))


def _unit(vector):
    return vector / np.hypot(vector[..., 0], vector[..., 1])[..., None]
