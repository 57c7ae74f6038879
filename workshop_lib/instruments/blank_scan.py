"""Which disc fits in the offcut on the glass? The outline of a blank straight from a scan."""

import numpy as np

from workshop_lib.blank import Blank
from workshop_lib.instruments import scale as scales
from workshop_lib.instruments.bodies import only
from workshop_lib.instruments.edge import rough_circle
from workshop_lib.instruments.picture import Picture
from workshop_lib.instruments.profile import clean
from workshop_lib.instruments.spots import centroid
from workshop_lib.quantities import InputError, Quantity, boundary, one_value

FINE = 0.75  # of a pixel of the small copy: how far corners may be cut
MOST = 400  # points


@boundary(picture=Picture, reference="length > 0", reference_uncertainty="length > 0")
def scan_blank(picture, reference=None, reference_uncertainty=None):
    """What is the outline of the blank on the glass, ready for its largest disc and its passes?

    The outline is followed in a copy of the picture of about 1.5 million pixels, and reduced to
    corner points that leave it by less than one of those pixels.

    picture: a `Picture`. reference, reference_uncertainty: diameter of a round piece on the same
    glass and its standard uncertainty, or None; as `instruments.scan_disc`. Single values.
    Returns a `Blank`, whose `largest_disc()` says what can be turned from it. Raises InputError in
    words. Notes: good to about a tenth of a millimetre at 300 dots per inch, which is enough for a
    blank; leave that much for the first cut. Source: divis-scanner.

    By hand: 100 × 100 pixels of black at 254 dots per inch are 10 mm square.
    >>> values = np.full((200, 200), 255, np.uint8)
    >>> values[50:150, 50:150] = 0
    >>> blank = scan_blank(Picture(values, (10_000, 10_000)))
    >>> print(round(blank.largest_disc().diameter.m_as("mm"), 1))
    10.0
    """
    one_value(reference=reference, reference_uncertainty=reference_uncertainty)
    if (reference is None) != (reference_uncertainty is None):
        mend = "Give the known diameter and its standard uncertainty together"
        raise InputError(
            "reference_uncertainty", "needs a reference, and a reference needs it", mend
        )
    if reference is None:
        (body,), scale = only(picture), scales.claimed(picture)
    else:
        body, known = _blank_and_reference(only(picture, 2))
        points = known.outline[:-1]
        scale = scales.from_circle(points[clean(points, 1.0)[0]], reference, reference_uncertainty)
    fine = FINE * picture.shrunk
    corners = _corners(body.outline[:-1], fine)
    while len(corners) > MOST:
        fine *= 1.5
        corners = _corners(body.outline[:-1], fine)
    places = scale.metres(corners) * 1000
    return Blank([(Quantity(place.real, "mm"), Quantity(-place.imag, "mm")) for place in places])


def _blank_and_reference(found):
    """The rounder of two things is the known piece."""
    return found if _roughness(found[1]) <= _roughness(found[0]) else found[::-1]


def _roughness(body):
    try:
        centre, radius = rough_circle(body.outline)
    except InputError:
        return np.inf
    return float(np.std(np.abs(body.outline - centre)) / radius)


def _corners(line, fine):
    """Return the points of a closed line that straight edges between them leave by less than fine.

    The farthest point of a stretch from its chord is kept, and both halves are looked at alone.
    """
    far = int(np.argmax(np.abs(line - centroid(line))))
    line = np.roll(line, -far)
    line = np.append(line, line[0])
    opposite = int(np.argmax(np.abs(line - line[0])))
    kept, waiting = {0, opposite}, [(0, opposite), (opposite, len(line) - 1)]
    while waiting:
        start, stop = waiting.pop()
        if stop - start < 2:
            continue
        chord, away = line[stop] - line[start], line[start + 1 : stop] - line[start]
        along = chord / abs(chord) if chord else 1.0
        turned = away * np.conj(along)
        beyond = np.maximum(np.maximum(-turned.real, turned.real - abs(chord)), 0)
        distance = np.hypot(turned.imag, beyond)
        at = int(np.argmax(distance))
        if distance[at] > fine:
            middle = start + 1 + at
            kept.add(middle)
            waiting += [(start, middle), (middle, stop)]
    return line[sorted(kept)]
