"""How large is a pixel across, and how large along the carriage? Scale and skew of a scan."""

from dataclasses import dataclass, field

import numpy as np

from workshop_lib.quantities import InputError, as_shown

CLAIM = 0.005  # half-width of what a file's own dots per inch may be off by
ROUNDS = 30
STILL = 1e-12
TILTED = 0.015  # across over along from a circle; no scanner is that far off, a tilted camera is


@dataclass(frozen=True, eq=False)
class Scale:
    """Metres for each pixel: x = across × column + skew × row, y = along × row.

    matrix: ((across, skew), (0, along)). relative: standard uncertainty as a share. aspect: of
    across over along, as a share. origin: "file" or "reference". reference: its diameter, m.
    """

    matrix: np.ndarray = field(repr=False)
    relative: float
    aspect: float
    origin: str
    reference: float | None = None

    @property
    def across(self):
        """Size of a pixel along the row of sensors."""
        return as_shown(self.matrix[0, 0], "length")

    @property
    def along(self):
        """Size of a pixel along the carriage's travel."""
        return as_shown(self.matrix[1, 1], "length")

    @property
    def skew(self):
        """Angle by which the two directions miss a right angle."""
        return as_shown(np.arctan2(self.matrix[0, 1], self.matrix[1, 1]), "angle")

    def metres(self, points):
        """Return places in metres (complex) of places in pixels (complex)."""
        x = self.matrix[0, 0] * points.real + self.matrix[0, 1] * points.imag
        return x + 1j * self.matrix[1, 1] * points.imag


def claimed(picture):
    """Return the scale that the file claims, with the doubt that such a claim deserves."""
    if picture.per_metre is None:
        mend = "Lay something round of known size beside it, and give that size as reference"
        raise InputError("picture", "the file does not say how many dots per inch it has", mend)
    across, along = picture.per_metre
    doubt = CLAIM / np.sqrt(3)
    return Scale(np.diag([1 / across, 1 / along]), doubt, doubt * np.sqrt(2), "file")


def from_circle(points, diameter, uncertainty):
    """Return the scale under which edge points (complex, pixels) lie on a circle of known diameter.

    Least squares on the distance from the circle: both pixel sizes, skew and centre (Gauss-Newton).
    uncertainty: standard one of the diameter, m.
    """
    centre, spread = points.mean(), np.abs(points - points.mean()).mean()
    size = diameter / 2 / spread
    found = np.array([size, 0.0, size, centre.real, centre.imag])
    for _ in range(ROUNDS):
        column, row = points.real - found[3], points.imag - found[4]
        x, y = found[0] * column + found[1] * row, found[2] * row
        distance = np.hypot(x, y)
        design = np.column_stack(
            [
                x * column,
                x * row,
                y * row,
                -x * found[0],
                -x * found[1] - y * found[2],
            ]
        )
        design /= distance[:, None]
        step = np.linalg.lstsq(design, diameter / 2 - distance, rcond=None)[0]
        found = found + step
        if np.abs(step[:3]).max() <= STILL * found[0]:
            break
    matrix = np.array([[found[0], found[1]], [0.0, found[2]]])
    aspect = found[0] / found[2]
    if abs(aspect - 1) > TILTED or abs(found[1] / found[2]) > TILTED:
        mend = "Use a flatbed scanner, or hold the camera exactly square"
        raise InputError(
            "picture", "the known piece does not look round, as if it were taken at an angle", mend
        )
    relative = uncertainty / diameter
    return Scale(matrix, relative, relative, "reference", diameter)
