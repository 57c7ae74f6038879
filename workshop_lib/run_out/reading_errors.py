"""Where does the needle itself mislead? The leaning stylus, and the oval that run-out fakes."""

import warnings

import numpy as np

from workshop_lib.quantities import InputError, OutOfRangeWarning, boundary

STEEPEST = np.radians(60)  # where the printed tables end (mitutoyo-2019)


@boundary(returns="length", indicated="length", angle="angle >= 0")
def true_travel(indicated, angle):
    """How far did the surface really move under a lever indicator whose stylus is at an angle?

    true = indicated × cos(theta), theta between the stylus and the surface's tangent. The needle
    always shows too much.

    indicated: length as read. angle: 0° up to below 90°. They broadcast together. Returns a length
    in mm. Raises InputError for 90° and more. Warns once above 60°, where the printed tables end
    and a degree more or less changes the answer by a twentieth and more.
    Notes: for a ball point; a pear-shaped point needs no correction up to 20° or 30°.
    Source: mitutoyo-2019, which rounds cos(theta) to two places.

    By hand: cos 60° = 1/2.
    >>> print(true_travel("0.2 mm", "60 deg").round(6))
    0.1 mm
    """
    if np.any(angle >= np.pi / 2 - 1e-9):
        raise InputError("angle", "must be below 90 degrees", "Lay the stylus flatter")
    if np.any(angle > STEEPEST * (1 + 1e-9)):
        warnings.warn(
            "The stylus stands steeper than 60°, beyond the printed tables: an error of one degree "
            "changes the answer by 3 % and more. Lay it flatter.",
            OutOfRangeWarning,
            stacklevel=3,
        )
    return indicated * np.cos(angle)


@boundary(returns="length", eccentricity="length >= 0", radius="length > 0")
def limacon_error(eccentricity, radius):
    """How much oval does a truly round part fake, merely because it runs out?

    The exact reading of a circle of radius R is e cos(theta) + sqrt(R² − e² sin²(theta)), which
    differs from R + e cos(theta) by at most e²/(2 R).

    eccentricity: length e. radius (not diameter): length, where the part is clocked. They
    broadcast together. Returns a length in mm. Raises InputError. Notes: for e much smaller than
    R; the fit takes half of it into its offset, and an oval of amplitude e²/(4 R) is left.
    Source: from-memory; checked against the exact circle.

    By hand: (0.5 mm)² / (2 × 25 mm) = 0.005 mm.
    >>> print(limacon_error("0.5 mm", "25 mm").round(9))
    0.005 mm
    """
    return eccentricity**2 / (2 * radius)
