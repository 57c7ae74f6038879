"""How far out does it run, and where is its high spot? Least squares on readings round a turn.

Angles are marks on the spindle: the mark that is under the indicator. A round part whose centre
lies a small eccentricity e off the axis shows offset + e cos(theta − theta_h), so the vector
(e cos theta_h, e sin theta_h) falls out of a linear fit on any set of angles.
"""

from dataclasses import dataclass, field

import numpy as np

from workshop_lib.quantities import InputError, as_shown, boundary, resolution, show
from workshop_lib.run_out.vectors import FULL_TURN, Vector

DIRECTIONS = ("in", "out")  # does the reading grow as the plunger is pushed in, or as it comes out?
SAME_ANGLE = 1e-6  # rad; marks closer than this are one mark
FITS_EXACTLY = (
    "The readings fit exactly, which proves no precision: without the dial's graduation there is "
    "no telling how sure they are."
)
FLATTEST = 1e-5  # least ratio of singular values at which three numbers can still be told apart


@dataclass(frozen=True, eq=False)
class Bare:
    """The numbers of a fit in SI, for panels, separation and diagnosis."""

    offset: np.ndarray
    vector: np.ndarray  # complex: eccentricity × exp(i high spot), m
    residual: np.ndarray  # of each reading, m
    total: np.ndarray
    scatter: np.ndarray  # standard deviation of one reading about the fit, m; NaN if not known
    reading_uncertainty: np.ndarray  # standard uncertainty of one reading, m; NaN if not known
    spread: np.ndarray  # covariance of the vector's two parts, m²
    gap: float  # widest gap between neighbouring angles, rad
    reach: np.ndarray  # see `Vector`
    dust: np.ndarray  # see `Vector`, m


@dataclass(frozen=True, eq=False)
class Fit:
    """What the readings of one turn say; quantities, with the bare numbers in `.core`."""

    core: Bare = field(repr=False)

    @property
    def vector(self):
        """Eccentricity and high spot as one `Vector`."""
        core = self.core
        return Vector(core.vector, core.spread, core.reach, core.dust)

    @property
    def offset(self):
        """Mean reading of the fitted circle, mm: where the dial happened to be set."""
        return as_shown(self.core.offset, "length")

    @property
    def eccentricity(self):
        """How far the centre lies off the axis, mm: half the indicator total of a round part."""
        return self.vector.size

    @property
    def high_spot(self):
        """The mark under the indicator where the part stands out most, from 0° up to 360°.

        Not known (NaN) when the eccentricity is nothing; see also `tells_high_spot`.
        """
        return self.vector.angle

    @property
    def residual(self):
        """What each reading has above the fitted circle, mm; one value for each reading."""
        return as_shown(self.core.residual, "length")

    @property
    def total(self):
        """Indicator total, mm: the largest reading less the smallest, as read."""
        return as_shown(self.core.total, "length")

    @property
    def scatter(self):
        """Standard deviation of one reading about the fitted circle, mm; lobes count in it."""
        return as_shown(self.core.scatter, "length")

    @property
    def eccentricity_uncertainty(self):
        """Standard uncertainty of the eccentricity, mm."""
        return self.vector.size_uncertainty

    @property
    def high_spot_uncertainty(self):
        """Standard uncertainty of the high spot's angle; not known where no high spot is told."""
        return self.vector.angle_uncertainty

    @property
    def gap(self):
        """Widest gap between neighbouring angles, degrees: where no reading was taken."""
        return as_shown(self.core.gap, "angle")

    @property
    def tells_high_spot(self):
        """Whether the eccentricity is more than scatter alone shows in one of twenty set-ups.

        True also where no uncertainty is known (a perfect fit and no graduation).
        """
        return self.vector.told

    @property
    def remarks(self):
        """What these readings cannot tell, each in a sentence; empty when there is nothing."""
        said = []
        if np.shape(self.core.residual)[-1] == 3:
            said.append(
                "Three readings fit any circle exactly, so that neither scatter nor lobes show."
            )
        if np.isnan(self.core.reading_uncertainty).any():
            said.append(FITS_EXACTLY)
        if self.core.gap > np.pi + SAME_ANGLE:
            said.append(
                f"No reading stands in a gap of {show(self.gap)}: offset and eccentricity are hard "
                "to tell apart, and what happens in the gap is not known."
            )
        if not np.all(self.tells_high_spot):
            said.append(
                "The eccentricity is no more than scatter could show: no high spot can be told."
            )
        return tuple(said)


@boundary(angles="angle", readings="length", graduation="length > 0", direction=DIRECTIONS)
def fit(angles, readings, graduation=None, direction="in"):
    """How far out of centre does the part run, and where is its high spot?

    Least squares of reading = offset + e cos(theta − theta_h), e the eccentricity, theta_h the high
    spot. Standard uncertainty of one reading: the larger of graduation / sqrt(12) (rectangular) and
    the scatter about the fit, in which rounding is already contained; a fit without any scatter
    shows none.

    angles: marks under the indicator, shape (n,) or (…, n); equal or unequal, repeated, in any
    order, with readings missing. readings: lengths, shape (…, n); they broadcast with the angles.
    graduation: length of one division, or None. direction: "in" if the reading grows as the plunger
    is pushed in (usual), "out" if it grows as the plunger comes out.
    Returns a `Fit` with offset, eccentricity, high_spot, residual, total, their uncertainties and
    remarks; leading dimensions are kept. Raises InputError naming the argument, also when fewer
    than three different angles are given. Notes: true for e much smaller than the part's radius R
    (error below e²/(2 R), see `run_out.limacon_error`); lobes count as scatter, see `harmonics`.
    Source: iso-4291 for equal angles; ieee-1057 for any angles; gum-resolution.

    By hand, four marks: 0.5 × (3 − 1) thou at 0° and 0.5 × (2 − 2) thou at 90°.
    >>> found = fit(["0 deg", "90 deg", "180 deg", "270 deg"],
    ...             ["3 thou", "2 thou", "1 thou", "2 thou"])
    >>> print(show(found.eccentricity, "thou"), show(found.high_spot), show(found.total, "thou"))
    1.00 thou 0° 2.00 thou
    """
    angles, readings = line_up(angles, readings)
    single(graduation)
    inverse, spread = _solver(angles)
    offset, cosine, sine = np.moveaxis(np.einsum("...ij,...j->...i", inverse, readings), -1, 0)
    fitted = cosine[..., None] * np.cos(angles) + sine[..., None] * np.sin(angles)
    residual = readings - offset[..., None] - fitted
    residual = resolution.without_dust(residual, resolution.dust(readings)[..., None])
    scatter, uncertainty, far = reading_uncertainty(residual, 3, graduation, readings)
    sign = 1 if direction == "in" else -1
    total = resolution.span(readings)
    gap = np.max(widest_gap(angles))
    spread = spread[..., 1:, 1:]
    gain = np.sqrt(angles.shape[-1] * np.trace(spread, 0, -2, -1))  # the most that rounding adds up
    small = gain * resolution.dust(readings)
    cosine, sine = (sign * resolution.without_dust(part, small) for part in (cosine, sine))
    vector = cosine + 1j * sine
    spread = uncertainty[..., None, None] ** 2 * spread
    return Fit(Bare(offset, vector, residual, total, scatter, uncertainty, spread, gap, far, small))


def line_up(angles, readings):
    """Return angles and readings as arrays with a last axis of the same length, at least one."""
    angles, readings = np.atleast_1d(angles), np.atleast_1d(readings)
    if angles.shape[-1] != readings.shape[-1]:
        counts = f"there are {readings.shape[-1]} readings but {angles.shape[-1]} angles"
        raise InputError("readings", counts, "Each reading needs its own angle")
    return angles, readings


def single(graduation):
    """Refuse several graduations at once: the readings of one fit come from one dial."""
    if np.ndim(graduation):
        raise InputError("graduation", "must be a single length")


def _solver(angles):
    """Return the 3 × n matrix that fits, and the covariance for readings of unit uncertainty."""
    design = np.stack([np.ones_like(angles), np.cos(angles), np.sin(angles)], axis=-1)
    left, values, right = np.linalg.svd(design, full_matrices=False)
    if values.shape[-1] < 3 or np.any(values[..., -1] < FLATTEST * values[..., 0]):
        _refuse(angles)
    back = np.swapaxes(right, -1, -2) / values[..., None, :]
    return back @ np.swapaxes(left, -1, -2), back @ np.swapaxes(back, -1, -2)


def _refuse(angles):
    different = min(distinct(row).size for row in np.reshape(angles, (-1, angles.shape[-1])))
    if different >= 3:
        problem = "the angles stand too close together to tell an eccentricity from the offset"
    else:
        marks = "angle tells" if different == 1 else "different angles tell"
        problem = f"{different} {marks} neither an eccentricity nor a high spot"
    raise InputError("angles", problem, "Take at least three, spread round the turn")


def distinct(angles):
    """Return the different angles of one set within one turn, in order, rad."""
    turned = np.sort(np.asarray(angles, dtype=float) % FULL_TURN)
    kept = turned[np.append(True, np.diff(turned) > SAME_ANGLE)]
    wraps = kept.size > 1 and kept[0] + FULL_TURN - kept[-1] <= SAME_ANGLE
    return kept[:-1] if wraps else kept


def widest_gap(angles):
    """Return the widest gap between neighbouring angles on the last axis, rad."""
    turned = np.sort(angles % FULL_TURN, axis=-1)
    ring = np.concatenate([turned, turned[..., :1] + FULL_TURN], axis=-1)
    return np.diff(ring, axis=-1).max(axis=-1)


def reading_uncertainty(residual, used, graduation, readings):
    """Return scatter and standard uncertainty of one reading (m; NaN: not known), and the reach.

    residual: (…, n), exactly 0 where only rounding is left. used: how many numbers were fitted.
    graduation: m or None. readings: as taken. A perfect fit shows no uncertainty; the graduation
    does. The reach, see `Vector`, is in these standard uncertainties.
    """
    free = residual.shape[-1] - used
    squares = np.sum(residual**2, axis=-1)
    scatter = np.sqrt(squares / free) if free > 0 else np.full_like(squares, np.nan)
    rounding = np.nan if graduation is None else graduation / np.sqrt(12)
    unsure = np.fmax(np.where(scatter > 0, scatter, np.nan), rounding)
    variance, freedom = resolution.own_scatter(squares, free, graduation, readings)
    return scatter, unsure, resolution.reach(freedom) * np.sqrt(variance) / unsure
