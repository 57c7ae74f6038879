"""Where are the pen mark near the rim and the mark of the centre on a scanned disc?"""

import contourpy
import numpy as np

from workshop_lib.instruments.edge import rough_circle

LEAST, MOST = 2e-5, 0.02  # of the disc's area: a spot, not a scratch nor a painted face
AT_RIM = (0.55, 0.97)  # of the radius: where a pen mark is looked for
AT_CENTRE = 0.35
CLEAR = 0.35  # of the step from the disc's grey to the darkest (or lightest) in it
FAINT = 0.08  # of full white: fainter spots are no marks


def marks(picture, body):
    """Return the places of the centre mark and of the pen mark near the rim; None for none.

    Complex, in pixels. Of several spots the one nearest to the centre, and the largest near the
    rim, are taken.
    """
    centre, radius = rough_circle(body.outline)
    step, small = picture.shrunk, picture.small
    row = np.arange(small.shape[0])[:, None] * step + (step - 1) / 2
    column = np.arange(small.shape[1]) * step + (step - 1) / 2
    distance = np.abs(column + 1j * row - centre) / radius
    inside = distance < AT_RIM[1]
    grey = float(np.median(small[inside]))
    off = np.where(inside, np.abs(small - grey), 0.0)
    if off.max() < FAINT:
        return None, None
    spots = []
    for line in contourpy.contour_generator(z=off, name="serial").lines(
        max(CLEAR * off.max(), FAINT / 2)
    ):
        place = (line[:, 0] + 1j * line[:, 1]) * step + (step - 1) / 2 * (1 + 1j)
        spot = _spot(place)
        if spot and LEAST <= spot[1] / (np.pi * radius**2) <= MOST:
            spots.append((abs(spot[0] - centre) / radius, *spot))
    near = [each for each in spots if each[0] < AT_CENTRE]
    rim = [each for each in spots if AT_RIM[0] < each[0]]
    middle = min(near, key=lambda each: each[0])[1] if near else None
    return middle, max(rim, key=lambda each: each[2])[1] if rim else None


def _spot(line):
    """Return centroid and area of a closed line, or None."""
    if len(line) < 6 or abs(line[0] - line[-1]) > 1e-6:
        return None
    area = abs(float(np.sum(np.imag(np.conj(line - line[0]) * np.roll(line - line[0], -1))) / 2))
    return (centroid(line[:-1]), area) if area > 0 else None


def centroid(line):
    """Return the centre of the area inside a closed line (complex)."""
    first = line - line[0]
    second = np.roll(first, -1)
    cross = np.imag(np.conj(first) * second)
    return complex(line[0] + (cross * (first + second)).sum() / (3 * cross.sum()))
