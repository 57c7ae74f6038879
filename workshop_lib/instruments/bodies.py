"""What lies on the glass? The outlines of whole things in a scan, found in its small copy.

Places in a picture are complex numbers in pixels of the full picture, column + i row: i points
down, so that an angle that grows turns clockwise as one looks at the picture.
"""

from dataclasses import dataclass, field

import contourpy
import numpy as np

from workshop_lib.instruments.picture import Picture
from workshop_lib.quantities import InputError

LEAST_SHARE = 0.002  # of the picture's area; anything smaller is dust
STRIP = (
    0.02  # of the picture's side: a band along its edge no wider than this is the lid's, not work
)
LEAST_CONTRAST = 4.0  # between the two greys, over their own scatter
LEAST_STEP = 0.03  # of full white
LEVELS = 256


@dataclass(frozen=True, eq=False)
class Body:
    """One thing on the glass: its outline (complex, pixels, closed) and whether it is lighter."""

    outline: np.ndarray = field(repr=False)
    light: bool
    area: float  # pixels²


def bodies(picture):
    """Return the things that lie whole on the glass, largest first.

    Raises InputError where there is nothing, where something is cut off by the picture's edge, or
    where work and background are too alike.
    """
    small = picture.small
    level = _halfway(small)
    edged = small > level
    light = _work_is_light(edged)
    closed, cut = _outlines(small, level, picture.shrunk)
    least = LEAST_SHARE * picture.values.size
    if any(abs(_area(line)) > least and not _is_strip(line, picture.values.shape) for line in cut):
        mend = "Lay it so that glass shows all round it, and scan again"
        raise InputError("picture", "something is cut off by the edge of the picture", mend)
    found = [(abs(_area(line)), line) for line in closed]
    found = sorted((each for each in found if each[0] > least), key=lambda each: -each[0])
    whole = []
    for area, line in found:
        if not any(_inside(line[0], other.outline) for other in whole):
            whole.append(Body(line, light, area))
    if not whole:
        mend = "Lay the work on the glass with paper of the other shade behind it"
        raise InputError("picture", "nothing on the glass has a closed outline", mend)
    return whole


def _halfway(small):
    """Return the grey halfway between the two that the picture is made of (after Otsu)."""
    counts, edges = np.histogram(small, bins=LEVELS, range=(0, 1))
    middles = (edges[:-1] + edges[1:]) / 2
    below = np.cumsum(counts)[:-1]
    above = small.size - below
    both = (below > 0) & (above > 0)
    if not both.any():
        raise _too_alike()
    sums = np.cumsum(counts * middles)
    first = sums[:-1] / np.maximum(below, 1)
    second = (sums[-1] - sums[:-1]) / np.maximum(above, 1)
    between = np.where(both, below * above * (second - first) ** 2.0, 0)
    # empty bins between the greys are all equally good: the middle of them is taken
    best = np.flatnonzero(between >= between.max() * (1 - 1e-9))
    at = int(best[len(best) // 2])
    level = (first[at] + second[at]) / 2
    dark, bright = small[small <= level], small[small > level]
    if not dark.size or not bright.size:
        raise _too_alike()
    dark_middle, bright_middle = float(np.median(dark)), float(np.median(bright))
    own = np.median(np.abs(dark - dark_middle)) + np.median(np.abs(bright - bright_middle))
    step = bright_middle - dark_middle
    if step < LEAST_STEP or step < LEAST_CONTRAST * own:
        raise _too_alike()
    return (dark_middle + bright_middle) / 2


def _too_alike():
    mend = "Put white paper, or black card, behind it: whichever the metal is not"
    return InputError("picture", "work and background are too alike in it", mend)


def _work_is_light(edged):
    """The background is what most of the picture's border shows."""
    border = np.concatenate([edged[0], edged[-1], edged[1:-1, 0], edged[1:-1, -1]])
    return bool(border.mean() < 0.5)


def _outlines(small, level, shrunk):
    """Return closed and cut-off outlines in full pixels."""
    lines = contourpy.contour_generator(z=small, name="serial").lines(level)
    closed, cut = [], []
    for line in lines:
        if len(line) < 8:
            continue
        place = (line[:, 0] + 0.5) * shrunk - 0.5 + 1j * ((line[:, 1] + 0.5) * shrunk - 0.5)
        (closed if abs(place[0] - place[-1]) < 1e-6 else cut).append(place)
    return closed, cut


def _area(line):
    """Area inside a closed line (pixels²); of a cut one, closed by the straight way back."""
    return float(np.sum(np.imag(np.conj(line) * np.roll(line, -1))) / 2)


def _is_strip(line, shape):
    """Whether a cut-off line only runs along the picture's edge, as a lid's shadow does."""
    rows, columns = shape
    return bool(np.ptp(line.real) < STRIP * columns or np.ptp(line.imag) < STRIP * rows)


def _inside(place, outline):
    """Whether a place lies inside a closed outline: a ray to the right crosses it an odd time."""
    first, second = outline[:-1], outline[1:]
    spans = (first.imag > place.imag) != (second.imag > place.imag)
    rise = np.where(spans, second.imag - first.imag, 1.0)
    crossing = first.real + (place.imag - first.imag) / rise * (second.real - first.real)
    return bool(np.sum(spans & (crossing > place.real)) % 2)


def only(picture, count=1):
    """Return exactly so many bodies; InputError says what else lies there."""
    if not isinstance(picture, Picture):
        raise InputError("picture", "is not a scan", "Read one with instruments.read_picture")
    found = bodies(picture)
    if len(found) == count:
        return found
    words = {1: "one thing", 2: "the disc and the known piece"}[count]
    mend = f"Leave only {words} on the glass"
    raise InputError("picture", f"there are {len(found)} things on the glass, not {count}", mend)
