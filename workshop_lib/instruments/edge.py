"""Where exactly is the edge? Sub-pixel points of a disc's edge in a scan.

The grey of the disc just inside its edge and of the background just outside are followed round the
turn, so that uneven light and a shaded background do not shift the level; the edge is where the
light is halfway between them. Scanners store grey values bent by a curve; whether the values
look stored so (sRGB) or straight is judged by which of the two makes the edge symmetrical.
"""

from dataclasses import dataclass, field

import contourpy
import numpy as np

from workshop_lib.quantities import InputError

ROUND = 0.03  # scatter of a rough outline over its radius, above which it is no disc
TILE = 128  # pixels
TURN = 2 * np.pi
LOOK = 14_400  # sectors of the tables that follow radius and greys round the turn
PLATEAUS = 720  # places round the turn at which both greys are followed
ORDER = 3  # harmonics by which a grey may change round the turn
TONES = ("srgb", "linear")
NEAR = 9.0  # pixels either side of the edge that are looked at
BINS = 16  # of the edge's profile, for each pixel
FEET = 4.0


@dataclass(frozen=True, eq=False)
class Edge:
    """The edge of a disc in pixels.

    points: complex, column + i row. tone: how grey values were read. slope: at the edge, share of
    the step in grey for each pixel. lean: how far the halfway point lies from the middle of the
    edge's flanks, pixels; nothing for a symmetrical edge. noise: of a plateau's pixel, share of the
    step.
    """

    points: np.ndarray = field(repr=False)
    tone: str
    slope: float
    lean: float
    noise: float


def straight(values, white, tone):
    """Return grey values as shares of white light.

    values: whole numbers or shares. white: value of full white. tone: "srgb" (IEC 61966-2-1, from
    memory) or "linear".
    """
    if values.dtype == np.uint8:
        return straight(np.arange(256) / np.float32(255), 1.0, tone)[values]
    share = values / np.float32(white)
    if tone == "linear":
        return share
    return np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)


def rough_circle(outline):
    """Return centre and radius of a rough outline in pixels; InputError if it is no disc."""
    steps = np.abs(np.diff(outline))
    even = np.interp(
        np.linspace(0, steps.sum(), PLATEAUS, endpoint=False),
        np.concatenate([[0], np.cumsum(steps)]),
        np.arange(len(outline)),
    )
    low = np.floor(even).astype(int)
    share = even - low
    line = outline[low] * (1 - share) + outline[np.minimum(low + 1, len(outline) - 1)] * share
    design = np.column_stack([2 * line.real, 2 * line.imag, np.ones(len(line))])
    x, y, rest = np.linalg.lstsq(design, np.abs(line) ** 2, rcond=None)[0]
    centre = x + 1j * y
    radius = float(np.sqrt(max(rest + abs(centre) ** 2, 0)))
    off = np.abs(line - centre) - radius
    if np.sqrt(np.mean(off**2)) > ROUND * radius:
        mend = "For a blank, ask for its outline. Lay a disc alone and flat, glass all round it"
        raise InputError("picture", "what is on the glass is not a disc", mend)
    return centre, radius


def find_edges(picture, found):
    """Return an `Edge` for each of the bodies of a picture, all read in the same tone."""
    both = [_of_disc(picture, body) for body in found]
    tried = zip(*both, strict=True)
    return min(tried, key=lambda edges: sum(abs(edge.lean) for edge in edges))


def _of_disc(picture, body):
    """Return the edge of one body in every tone."""
    centre, radius = rough_circle(body.outline)
    reach = max(2.5 * picture.shrunk, NEAR)
    if radius < 4 * reach:
        raise InputError(
            "picture", "the disc is too small in the picture", "Scan at 600 dots per inch"
        )
    rough = _rough_radius(body.outline, centre)
    greys = {tone: _plateaus(picture, rough, centre, reach, tone) for tone in TONES}
    tiles = list(_tiles(picture.values.shape, body.outline, reach))
    patches = [_patch(picture, rough, centre, reach, *tile) for tile in tiles]
    patches = [patch for patch in patches if patch.near.any()]
    return [_edge(picture, patches, tone, *greys[tone]) for tone in TONES]


def _rough_radius(outline, centre):
    """Return a table of the rough outline's radius at LOOK places round the turn."""
    out = outline - centre
    angles = np.angle(out) % TURN
    order = np.argsort(angles, kind="stable")
    return np.interp(_middles(LOOK), angles[order], np.abs(out)[order], period=TURN)


def _middles(count):
    return (np.arange(count) + 0.5) * TURN / count


def _sector(angle):
    """Index into a table of LOOK places."""
    return (angle * (LOOK / TURN)).astype(np.intp) % LOOK


@dataclass(frozen=True, eq=False)
class _Patch:
    """One tile: its grey values with a pixel more all round, and where its pixels lie."""

    corner: complex  # from the centre, pixels
    centre: complex
    rough: np.ndarray
    values: np.ndarray
    sector: np.ndarray  # of each pixel, among LOOK
    off: np.ndarray  # from the rough outline, pixels
    near: np.ndarray


def _patch(picture, rough, centre, reach, rows, columns):
    place = np.arange(*columns) + 1j * np.arange(*rows)[:, None] - centre
    sector = _sector(np.angle(place) % TURN)
    off = np.abs(place) - rough[sector]
    values = _padded(picture.values, rows, columns)
    corner, near = columns[0] + 1j * rows[0] - centre, np.abs(off) < reach
    return _Patch(corner, centre, rough, values, sector, off, near)


def _plateaus(picture, rough, centre, reach, tone):
    """Return tables of the greys inside and outside round the turn, and their pixels' noise."""
    at = _middles(PLATEAUS)
    radius, waves = rough[:: LOOK // PLATEAUS], _waves(at)
    greys, noise = [], []
    for side in (-1, 1):
        sampled = []
        for step in (1.0, 1.25, 1.5):
            place = centre + (radius + side * step * reach) * np.exp(1j * at)
            row = np.clip(np.rint(place.imag).astype(int), 0, picture.values.shape[0] - 1)
            column = np.clip(np.rint(place.real).astype(int), 0, picture.values.shape[1] - 1)
            sampled.append(straight(picture.values[row, column], picture.white, tone))
        grey, scatter = _steady(waves, np.median(sampled, axis=0), np.array(sampled))
        greys.append(_waves(_middles(LOOK)) @ grey)
        noise.append(scatter)
    return greys, noise


def _waves(at):
    orders = np.arange(1, ORDER + 1) * np.asarray(at)[..., None]
    return np.concatenate([np.ones((*np.shape(at), 1)), np.cos(orders), np.sin(orders)], axis=-1)


def _steady(waves, grey, sampled):
    """Fit a grey round the turn, leaving out dust and marks; return it and one pixel's scatter."""
    kept = np.ones(len(grey), bool)
    for _ in range(6):
        fitted = np.linalg.lstsq(waves[kept], grey[kept], rcond=None)[0]
        off = np.abs(grey - waves @ fitted)
        kept = off <= 4 * 1.4826 * np.median(off) + 1e-6
    spread = np.median(np.abs(sampled - waves @ fitted), axis=1).mean()
    return fitted, 1.4826 * spread


def _edge(picture, patches, tone, greys, noise):
    """Follow the halfway level through all tiles in one tone."""
    inner, outer = greys
    points, profiles = [], []
    for patch in patches:
        grey = _smoothed(straight(patch.values, picture.white, tone))
        outside = outer[patch.sector]
        share = (grey - outside) / (inner[patch.sector] - outside)
        for line in contourpy.contour_generator(z=share, name="serial").lines(0.5):
            kept = patch.near[np.rint(line[:, 1]).astype(int), np.rint(line[:, 0]).astype(int)]
            points.append((line[:, 0] + 1j * line[:, 1])[kept] + patch.corner)
        near = patch.near
        profiles.append(np.stack([patch.off[near], share[near], patch.sector[near]]))
    if not sum(map(len, points)):
        raise InputError("picture", "the edge of the disc cannot be found")
    points = np.concatenate(points)
    step = np.median(np.abs(inner - outer))
    slope, lean = _profile(points, np.concatenate(profiles, axis=1), patches[0].rough)
    return Edge(points + patches[0].centre, tone, slope, lean, float(np.hypot(*noise) / step))


def _tiles(shape, outline, reach):
    """Yield the rows and columns of the tiles that the edge may run through, each pixel once."""
    wide = int(np.ceil(reach)) + 1
    seen = set()
    for shift in np.array([0, 1, -1, 1j, -1j, 1 + 1j, 1 - 1j, -1 + 1j, -1 - 1j]) * wide:
        at = outline + shift
        seen.update(zip((at.imag // TILE).tolist(), (at.real // TILE).tolist(), strict=True))
    for row, column in sorted(seen):
        top, left = int(row) * TILE, int(column) * TILE
        bottom, right = min(top + TILE + 1, shape[0]), min(left + TILE + 1, shape[1])
        if top >= 0 and left >= 0 and bottom - top > 2 and right - left > 2:
            yield (top, bottom), (left, right)


def _padded(values, rows, columns):
    """Return a tile with one more pixel all round, the picture's border repeated."""
    down = np.clip(np.arange(rows[0] - 1, rows[1] + 1), 0, values.shape[0] - 1)
    across = np.clip(np.arange(columns[0] - 1, columns[1] + 1), 0, values.shape[1] - 1)
    return values[down[:, None], across]


def _smoothed(grey):
    """Weigh each pixel 2 with its neighbours 1 each way, which moves no straight edge."""
    down = grey[:-2] + 2 * grey[1:-1] + grey[2:]
    return (down[:, :-2] + 2 * down[:, 1:-1] + down[:, 2:]) / 16


def _profile(out, samples, rough):
    """Return slope and lean of the edge's mean profile against the distance from the edge found.

    out: edge points from the centre. samples: rows of distance from the rough outline, share of
    the step, and sector. The edge found is followed in small sectors.
    """
    few = LOOK // 1440
    sector = _sector(np.angle(out) % TURN)
    own = np.abs(out) - rough[sector]
    count = np.bincount(sector // few, minlength=1440)
    mean = np.bincount(sector // few, own, minlength=1440) / np.maximum(count, 1)
    off, share, where = samples
    where = where.astype(int) // few
    sure = count[where] > 0
    off, share = (off - mean[where])[sure], share[sure]
    edges = np.linspace(-NEAR, NEAR, int(2 * NEAR * BINS) + 1)
    index = np.digitize(off, edges) - 1
    kept = (index >= 0) & (index < len(edges) - 1)
    total = np.bincount(index[kept], minlength=len(edges) - 1)
    mean = np.bincount(index[kept], share[kept], minlength=len(edges) - 1) / np.maximum(total, 1)
    middles = (edges[:-1] + edges[1:])[total > 0] / 2
    return _slope_and_lean(middles, mean[total > 0])


def _slope_and_lean(off, profile):
    """Return the slope of a falling profile at its middle, and how far its feet lean to one side.

    A curve that bends grey values shifts the middle and, less, the feet: for a blur after Gauss
    the middle moves about FEET times as far as the middle of the feet lies from it.
    """
    falling = np.minimum.accumulate(profile)
    rising = np.maximum.accumulate(profile[::-1])[::-1]
    even = -(falling + rising) / 2

    def where(level):
        return np.interp(-level, even, off)

    middle = where(0.5)
    feet = np.mean([(where(low) + where(1 - low)) / 2 for low in (0.04, 0.07, 0.1)])
    width = max(where(0.25) - where(0.75), 0.2)
    return float(0.5 / width), float(FEET * (feet - middle))
