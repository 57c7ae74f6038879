"""What did a test show? The evidence beside a cause, in words and numbers."""

import numpy as np

from workshop_lib.quantities import InputError, as_shown, resolution, show
from workshop_lib.run_out.lobes import harmonics
from workshop_lib.run_out.readings import Push, Total
from workshop_lib.run_out.round_fit import distinct
from workshop_lib.run_out.vectors import FULL_TURN

SHAPE = 3  # harmonics that are taken off before what is left counts as scatter
CLOSES = np.radians(2)  # two readings this close, a turn apart, stand at the same mark


def observed(test, cause, unit):
    """Say what a test shows of the kind of pattern that a cause leaves.

    test: `Readings`, `Push` or `Total`. cause: `Cause`. unit: for lengths. Returns text.
    """
    if isinstance(test, Total):
        return f"a total of {_said(test.core.total, unit)}, no angles"
    if isinstance(test, Push):
        moved = _said(resolution.span(test.core.readings), unit)
        return f"it moves by {moved} in all when pushed and pulled"
    if cause.pattern == "drift":
        return _closing(test, unit)
    if cause.pattern == "scatter":
        return _scatter(test, unit)
    order = cause.harmonic if cause.pattern == "wave" else 1
    return _wave(test, order, unit)


def _said(length, unit):
    return show(as_shown(length, "length"), unit, figures=2)


def _wave(test, order, unit):
    """Say how large one harmonic is, or why these angles do not tell it."""
    try:
        found = test.harmonics(max(order, SHAPE if _enough(test) else 1))[order]
    except InputError:
        return f"a total of {_said(resolution.span(test.core.readings), unit)} at too few angles"
    if not found.told:
        return f"of {found.name} nothing can be told, since {found.why}"
    size, unsure = show(found.amplitude, unit, figures=2), found.uncertainty
    known = "" if np.isnan(unsure.m) else f" (± {show(unsure, unit, figures=1)})"
    words = f"{found.name} of {size}{known}"
    if found.name == "eccentricity":
        words = f"an {words}"
        if found.vector.told:
            mark = resolution.steps_near(found.vector.angle.m_as("deg"), 1) % 360
            words += f", high spot at {mark:.0f}°"
    return words


def _enough(test):
    return distinct(test.core.angles).size >= 2 * SHAPE + 1


def _scatter(test, unit):
    """Say how far the readings lie from a smooth shape."""
    core = test.core
    if core.readings.size <= 2 * SHAPE + 1 or not _enough(test):
        return "too few readings to show scatter"
    left = harmonics.core(core.angles, core.readings, SHAPE).residual.m_as("m")
    free = core.readings.size - 2 * SHAPE - 1
    return f"a scatter of {_said(np.sqrt(np.sum(left**2) / free), unit)} about a smooth shape"


def closing_error(test):
    """Return by how much a test fails to come back to the reading of its first mark, m.

    None when no reading was taken a whole turn after another.
    """
    angles, readings = test.core.angles, test.core.readings
    order = np.argsort(angles)
    sums = np.append(0.0, np.cumsum(readings[order]))
    near = CLOSES + resolution.dust(FULL_TURN)
    ends = [angles + FULL_TURN - near, angles + FULL_TURN + near]
    first, beyond = np.searchsorted(angles[order], ends)
    pairs = beyond - first
    if not pairs.any():
        return None
    error = (sums[beyond] - sums[first] - pairs * readings).sum() / pairs.sum()
    return float(resolution.without_dust(error, resolution.dust(readings)))


def _closing(test, unit):
    error = closing_error(test)
    if error is None:
        return "it was not brought back to its first mark"
    return f"after a turn it comes back {_said(abs(error), unit)} off its first reading"
