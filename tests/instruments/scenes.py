"""Scans drawn by an independent path: each pixel near an edge is sampled many times over.

A pixel's light is the share of its sub-pixels whose place, brought to millimetres by the scanner's
own (wrong) pixel sizes and skew, lies inside r(theta). Blur and noise by SciPy and NumPy; grey
values are then bent by the sRGB curve and rounded to 8 bits, as a scanner does.
"""

from dataclasses import dataclass, field

import numpy as np
from scipy.ndimage import gaussian_filter

FINE = 8  # sub-pixels each way


@dataclass
class Shape:
    """A disc: centre and mean radius in mm, lobes {order: (amplitude mm, crest rad)}."""

    centre: complex
    radius: float
    lobes: dict = field(default_factory=dict)

    def edge(self, angle):
        """Radius at an angle (clockwise, rad), mm."""
        return self.radius + sum(
            size * np.cos(order * (angle - crest)) for order, (size, crest) in self.lobes.items()
        )


@dataclass
class Scanner:
    """Pixels to millimetres: sizes (mm) across and along, skew in rad; blur in pixels."""

    across: float = 25.4 / 600
    along: float = 25.4 / 600
    skew: float = 0.0
    blur: float = 0.8
    noise: float = 0.006  # of full white
    gamma: bool = True
    joins: tuple = ()  # (column, shift in mm, complex) of sensors that do not quite meet
    wobble: tuple = (0.0, 10.0, 0.0)  # of the carriage: mm, period mm, phase

    def place(self, row, column):
        """Where a pixel's middle lies on the glass, mm."""
        down = row * self.along
        size, period, phase = self.wobble
        place = column * self.across + down * np.tan(self.skew) + 1j * down
        place = place + 1j * size * np.sin(2 * np.pi * down / period + phase)
        for at, shift in self.joins:
            place = place + shift * (column > at)
        return place


def draw(shapes, scanner, size, greys=(0.15, 0.85), light=(0.0, 0.0), specks=(), seed=0):
    """Return 8-bit grey values of a scan.

    size: mm across and down. greys: of shapes and background, as light. light: by how much the
    lamp grows brighter across and down. specks: (place mm, radius mm, grey) of dust on the glass.
    """
    rng = np.random.default_rng(seed)
    rows, columns = int(size[1] / scanner.along), int(size[0] / scanner.across)
    row, column = np.arange(rows, dtype=float)[:, None], np.arange(columns, dtype=float)
    share = np.zeros((rows, columns))
    for shape in shapes:
        share = np.maximum(share, covered(shape, scanner, row, column))
    seen = greys[1] + (greys[0] - greys[1]) * share
    for place, radius, grey in specks:
        dust = covered(Shape(place, radius), scanner, row, column)
        seen += (grey - seen) * dust
    seen *= 1 + light[0] * (column / columns - 0.5) + light[1] * (row / rows - 0.5)
    seen = gaussian_filter(seen, scanner.blur) + rng.normal(0, scanner.noise, seen.shape)
    seen = np.clip(seen, 0, 1)
    if scanner.gamma:
        seen = np.where(seen <= 0.0031308, 12.92 * seen, 1.055 * seen ** (1 / 2.4) - 0.055)
    return np.rint(255 * seen).astype(np.uint8)


def covered(shape, scanner, row, column):
    """Share of each pixel that lies inside a shape."""
    away = scanner.place(row, column) - shape.centre
    off = np.abs(away) - shape.edge(np.angle(away))
    share = (off < 0).astype(float)
    near = np.nonzero(np.abs(off) < 1.5 * max(scanner.across, scanner.along))
    step = (np.arange(FINE) + 0.5) / FINE - 0.5
    total = np.zeros(len(near[0]))
    for down in step:
        for right in step:
            fine = scanner.place(near[0] + down, near[1] + right) - shape.centre
            total += np.abs(fine) < shape.edge(np.angle(fine))
    share[near] = total / FINE**2
    return share
