"""How sure is a diameter from a scan? Its uncertainty in parts, after the GUM."""

import numpy as np

from workshop_lib.instruments.expected_shape import expansion
from workshop_lib.quantities import InputError

LEVEL = 0.03  # half-width of the doubt about the level, share of the step in light
ROOM = 10.0  # K, half-width of a room's temperature about 20 °C when nobody looked
READ = 2.0  # K, half-width when somebody did
GEOMETRY = "carriage and sensors of the scanner"
OF_SCANNER = 50e-6  # m, half-width: what a published trial reached on gauge blocks (divis-scanner)
UNKNOWN = (17e-6, 6e-6)  # growth of a metal with each kelvin: middle and half-width
ALIKE = 4.0  # contour points that share their pixels' noise


def budget(diameter, edge, scale, points, material, celsius):
    """Return the factor that takes a diameter to 20 °C, and the parts of its uncertainty.

    diameter: m. edge: an `Edge`. points: (scatter of one in m, how many). Returns (factor,
    ((name, standard uncertainty in m), …)), largest first. A level that is off moves the edges of
    disc and reference alike or not; not is taken.
    """
    pixel = np.sqrt(scale.matrix[0, 0] * scale.matrix[1, 1])
    share = 1.0 if scale.reference is None else np.hypot(1, diameter / scale.reference)
    level = 2 * LEVEL / np.sqrt(3) / max(edge.slope, 0.02) * pixel * share
    lean = 2 * abs(edge.lean) / np.sqrt(3) * pixel * share
    scatter, count = points
    noise = 2 * scatter / np.sqrt(max(count / ALIKE, 1))
    factor, warmth = _warmth(diameter, scale, material, celsius)
    parts = [
        ("size of a pixel", diameter * scale.relative),
        ("level at which the edge is taken", level),
        ("shape of the edge in light", lean),
        ("noise of the pixels", noise),
        ("temperature", warmth),
        (GEOMETRY, OF_SCANNER / np.sqrt(3)),
    ]
    return factor, tuple(sorted(parts, key=lambda part: -part[1]))


def _warmth(diameter, scale, material, celsius):
    """Return the factor to 20 °C and the standard uncertainty that it leaves, m.

    The scale of a reference is that of the room: what counts is how much more the disc grows.
    """
    alpha, doubt = _growth(material)
    if scale.reference is not None:
        alpha -= expansion("mild_steel").typical
    above = 0.0 if celsius is None else celsius - 20.0
    half = ROOM if celsius is None else READ
    spread = np.hypot(alpha * half, doubt * max(abs(above), half)) / np.sqrt(3)
    return 1 - alpha * above, float(diameter * spread)


def _growth(material):
    """Return the middle and the half-width of what a material grows by with each kelvin."""
    try:
        known = expansion(material) if material is not None else None
    except InputError:  # a teacher's own sheet, with no row of its own yet
        known = None
    if known is None:
        return UNKNOWN
    return known.typical, max(known.high - known.typical, known.typical - known.low)


def total(parts):
    """Return the parts' root sum of squares."""
    return float(np.sqrt(sum(size**2 for _, size in parts)))


def roundness_doubt(diameter, ripple, scale):
    """Return the standard uncertainty of a departure from roundness, m.

    ripple: noise left in the smoothed profile; it reaches both ends of the band. A scale that
    differs across and along makes a circle oval by that share of the radius; and what the
    carriage does to a diameter it does to the shape.
    """
    parts = (2 * ripple, diameter / 2 * scale.aspect, OF_SCANNER / np.sqrt(3))
    return float(np.sqrt(np.sum(np.square(parts))))
