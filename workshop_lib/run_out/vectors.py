"""How large is it, which way does it point, how sure are both? Eccentricities are vectors."""

from dataclasses import dataclass, field

import numpy as np

from workshop_lib.quantities import as_shown, resolution

FULL_TURN = 2 * np.pi


@dataclass(frozen=True, eq=False)
class Vector:
    """One or many vectors across the axis: `.size` and `.angle` are quantities, `.core` is bare.

    core: complex, size × exp(i angle) in m. spread: covariance (…, 2, 2) of its two parts, m²; NaN
    where no uncertainty is known. reach: how many standard uncertainties long it must be to be told
    from scatter, see `resolution.reach`; dust: how long it may be by rounding alone, m.
    """

    core: np.ndarray
    spread: np.ndarray = field(repr=False)
    reach: np.ndarray = field(default=resolution.reach(), repr=False)
    dust: np.ndarray = field(default=0.0, repr=False)

    @property
    def size(self):
        """How long it is, mm."""
        return as_shown(np.abs(self.core), "length")

    @property
    def angle(self):
        """The mark that it points to, from 0° up to 360°; not known (NaN) when it is nothing."""
        turned = np.angle(self.core) % FULL_TURN
        return as_shown(np.where(self.core == 0, np.nan, turned), "angle")

    @property
    def size_uncertainty(self):
        """Standard uncertainty of its length, mm."""
        return as_shown(self.along(self.unit), "length")

    @property
    def angle_uncertainty(self):
        """Standard uncertainty of its angle; not known where no direction is told."""
        with np.errstate(divide="ignore", invalid="ignore"):
            angle = self.along(1j * self.unit) / np.abs(self.core)
        return as_shown(np.where(self.told, angle, np.nan), "angle")

    @property
    def told(self):
        """Whether it is longer than scatter alone makes it in one of twenty set-ups.

        True also where no uncertainty is known, unless it is nothing but rounding.
        """
        size = np.abs(self.core)
        return (size > self.dust) & ~(size < self.reach * self.along(self.unit))

    @property
    def unit(self):
        """Its direction as a complex number of length 1; 1 where it is nothing."""
        size = np.abs(self.core)
        return np.where(size > 0, self.core / np.where(size > 0, size, 1), 1)

    @property
    def width(self):
        """Standard uncertainty in both directions together, m."""
        return np.sqrt(np.trace(self.spread, axis1=-2, axis2=-1))

    def along(self, direction):
        """Standard uncertainty in a direction (complex, of length 1), m."""
        part = np.stack([np.real(direction), np.imag(direction)], axis=-1)
        return np.sqrt(np.einsum("...i,...ij,...j->...", part, self.spread, part))

    def __sub__(self, other):
        """The vector from another one to this one; their uncertainties add in squares."""
        return summed([self, other], np.array([1.0, -1.0]))


def summed(vectors, weights):
    """Add vectors, each times its weight: (n,) or (…, n); uncertainties and reaches in squares."""
    pairs = list(zip(vectors, np.moveaxis(np.asarray(weights), -1, 0), strict=True))
    core = sum(weight * each.core for each, weight in pairs)
    spread = sum((weight**2)[..., None, None] * each.spread for each, weight in pairs)
    far = sum((weight * each.reach) ** 2 * each.width**2 for each, weight in pairs)
    wide = np.trace(spread, axis1=-2, axis2=-1)
    with np.errstate(divide="ignore", invalid="ignore"):
        far = np.where(wide > 0, np.sqrt(far / wide), resolution.reach())
    dust = sum(np.abs(weight) * each.dust for each, weight in pairs)
    core = resolution.without_dust(core.real, dust) + 1j * resolution.without_dust(core.imag, dust)
    return Vector(core, spread, far, dust)
