"""A length with a direction round the turn, and how sure both are: eccentricities are vectors."""

from dataclasses import dataclass, field

import numpy as np

from workshop_lib.quantities import as_shown

FULL_TURN = 2 * np.pi
TOLD = 2.0  # a direction is told when the length is twice its own standard uncertainty


@dataclass(frozen=True, eq=False)
class Vector:
    """One or many vectors across the axis: `.size` and `.angle` are quantities, `.core` is bare.

    core: complex, size × exp(i angle) in m. spread: covariance (…, 2, 2) of its two parts, m²; NaN
    where no uncertainty is known.
    """

    core: np.ndarray
    spread: np.ndarray = field(repr=False)

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
        """Whether it is at least twice as long as its own standard uncertainty.

        True also where no uncertainty is known, unless it is nothing.
        """
        size = np.abs(self.core)
        return (size > 0) & ~(size < TOLD * self.along(self.unit))

    @property
    def unit(self):
        """Its direction as a complex number of length 1; 1 where it is nothing."""
        size = np.abs(self.core)
        return np.where(size > 0, self.core / np.where(size > 0, size, 1), 1)

    def along(self, direction):
        """Standard uncertainty in a direction (complex, of length 1), m."""
        part = np.stack([np.real(direction), np.imag(direction)], axis=-1)
        return np.sqrt(np.einsum("...i,...ij,...j->...", part, self.spread, part))

    def __sub__(self, other):
        """The vector from another one to this one; their uncertainties add in squares."""
        return Vector(self.core - other.core, self.spread + other.spread)


def without_dust(part, dust):
    """Take what rounding in the last place leaves for nothing, so that 0° does not read 360°."""
    return np.where(np.abs(part) <= dust, 0.0, part)
