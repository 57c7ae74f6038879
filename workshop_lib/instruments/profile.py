"""How do edge points become a profile round the turn? Dust named and left out, ripple smoothed."""

from dataclasses import dataclass

import numpy as np

from workshop_lib.instruments.circles import least_squares
from workshop_lib.quantities import as_shown

TURN = 2 * np.pi
PLACES = 720  # of a profile
SHAPE = 15  # highest harmonic that counts as shape when dust is looked for
CUTOFF = 50  # waves in a turn that the filter halves (ISO 12181, from memory)
DUST = 6.0  # times the scatter; points farther from the shape than that are not of it
SLACK = 0.3  # of a pixel: nearer than this is never dust
FLANK = 2.5  # times the scatter: beside dust, points this far off belong to it
WIDEST = 2e-3, np.radians(15)  # m and rad; wider than either, what stands out is shape: a flat
CLEAN = 8


@dataclass(frozen=True)
class Speck:
    """Dust, a burr or a nick: where it is and how far it stands out (in: negative)."""

    angle_core: float
    height_core: float
    width_core: float

    @property
    def angle(self):
        """Its angle, clockwise from the mark or, without one, from three o'clock."""
        return as_shown(self.angle_core % TURN, "angle")

    @property
    def height(self):
        """How far it stands out; negative where it reaches in."""
        return as_shown(self.height_core, "length")

    @property
    def width(self):
        """Its width along the rim."""
        return as_shown(self.width_core, "length")


def clean(points, pixel):
    """Return which edge points belong to the shape, what was left out, and one point's scatter.

    points: complex, m. pixel: m. A run of points far from the shape is dust while it is narrow.
    """
    centre = least_squares(points).centre
    for _ in range(2):
        away = points - centre
        angle, radius = np.angle(away) % TURN, np.abs(away)
        off, scatter, vector = _off_shape(angle, radius)
        centre += vector
    limit = max(DUST * scatter, SLACK * pixel)
    flagged, specks = np.zeros(len(points), bool), []
    order = np.argsort(angle, kind="stable")
    mean = radius.mean()
    reach = 2 * pixel / mean
    for run in _runs(angle[order], np.abs(off[order]) > limit, reach):
        some = order[run]
        low, width = angle[some[0]], float((angle[some[-1]] - angle[some[0]]) % TURN)
        if width * mean > WIDEST[0] or width > WIDEST[1]:
            continue
        near = (angle - low + 2 * reach) % TURN <= width + 4 * reach
        flagged |= near & (np.abs(off) > min(FLANK * scatter, limit))
        tip = some[int(np.argmax(np.abs(off[some])))]
        specks.append(Speck(float(angle[tip]), float(off[tip]), width * mean))
    return ~flagged, tuple(specks), scatter


def _off_shape(angle, radius):
    """Return each point's distance from the shape, its scatter and the centre's shift."""
    orders = np.arange(1, SHAPE + 1) * angle[:, None]
    waves = np.concatenate([np.ones((len(angle), 1)), np.cos(orders), np.sin(orders)], axis=1)
    kept = np.ones(len(angle), bool)
    for _ in range(CLEAN):
        inner = waves[kept]
        found = np.linalg.solve(inner.T @ inner, inner.T @ radius[kept])
        off = radius - waves @ found
        scatter = 1.4826 * np.median(np.abs(off))
        before, kept = kept, np.abs(off) <= 4 * scatter + 1e-9
        if (before == kept).all():
            break
    return off, float(scatter), complex(found[1], found[1 + SHAPE])


def _runs(angle, far, reach):
    """Return runs of far points, sorted by angle, that follow one another within a short reach."""
    index = np.flatnonzero(far)
    if not len(index):
        return []
    gaps = np.diff(angle[index]) > 3 * reach
    runs = np.split(index, np.flatnonzero(gaps) + 1)
    if len(runs) > 1 and angle[runs[0][0]] + TURN - angle[runs[-1][-1]] <= 3 * reach:
        runs[0] = np.concatenate([runs.pop(), runs[0]])
    return runs


def smooth(points):
    """Return places (complex, m) of a profile at even angles about its centre, and their scatter.

    Means of the points in small sectors; gaps are bridged straight; then the Gaussian filter by
    which a wave of 50 in a turn keeps half of its height.
    """
    centre = least_squares(points).centre
    away = points - centre
    # twice: a hair below nothing is a whole turn, which is the turn's beginning
    angle, radius = np.angle(away) % TURN % TURN, np.abs(away)
    sector = np.minimum((angle / TURN * PLACES).astype(int), PLACES - 1)
    count = np.bincount(sector, minlength=PLACES)
    full = count > 0
    middles = (np.arange(PLACES) + 0.5) * TURN / PLACES
    mean = np.bincount(sector, radius, PLACES)[full] / count[full]
    at = np.bincount(sector, angle, PLACES)[full] / count[full]
    even = np.interp(middles, at, mean, period=TURN)
    waves = np.fft.rfft(even)
    kept = np.exp(-np.log(2) * (np.arange(len(waves)) / CUTOFF) ** 2)
    profile = np.fft.irfft(waves * kept, PLACES)
    rough = np.abs(waves[2 * CUTOFF :]) ** 2
    # the ripple beyond the filter tells how much of it lies below
    density = rough.mean() / PLACES**2
    scatter = float(np.sqrt(2 * density * np.sum(kept[1:] ** 2)))
    return centre + profile * np.exp(1j * middles), scatter
