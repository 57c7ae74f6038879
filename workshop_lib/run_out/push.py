"""Does it move when it is pushed? Clearance and stiffness from readings under stated forces."""

from dataclasses import dataclass, field

import numpy as np

from workshop_lib.quantities import InputError, as_shown, boundary, resolution
from workshop_lib.run_out.round_fit import (
    DIRECTIONS,
    FITS_EXACTLY,
    FLATTEST,
    line_up,
    reading_uncertainty,
    single,
)

MOST_READINGS = 20_000


@dataclass(frozen=True, eq=False)
class Movement:
    """What a push test shows: free clearance, stiffness beyond it, and what stays open."""

    remarks: tuple
    core_movement: float = field(repr=False)  # m
    core_clearance: tuple = field(repr=False)  # value and standard uncertainty, m; NaN if unknown
    core_compliance: tuple = field(repr=False)  # value and standard uncertainty, m/N
    core_told: tuple = field(default=(False, False), repr=False)  # clearance and give from scatter?

    @property
    def movement(self):
        """Largest reading less the smallest, mm: clearance and give together."""
        return as_shown(self.core_movement, "length")

    @property
    def clearance(self):
        """How far it moves freely from one side to the other, mm; NaN when it cannot be told."""
        return as_shown(self.core_clearance[0], "length")

    @property
    def clearance_uncertainty(self):
        """Standard uncertainty of the clearance, mm."""
        return as_shown(self.core_clearance[1], "length")

    @property
    def stiffness(self):
        """Force for each length of give beyond the clearance, N/mm; NaN when it cannot be told."""
        give, _ = self.core_compliance
        return as_shown(1 / give if self.core_told[1] else np.nan, "stiffness")


@boundary(forces="force", readings="length", graduation="length > 0", direction=DIRECTIONS)
def push_test(forces, readings, graduation=None, direction="in"):
    """Is there clearance, and how stiff is what lies behind it?

    With the spindle still, push and pull sideways: reading = offset + F/k + (c/2) sign(F), c the
    clearance from side to side, k the stiffness. Readings at zero force tell nothing of c, since
    the part may rest anywhere in its clearance, and are left out.

    forces: positive towards the indicator, shape (n,). readings: lengths, shape (n,). graduation:
    length of one division, or None. direction: "in" or "out", see `run_out.fit`.
    Returns a `Movement`: movement, clearance and stiffness with what cannot be told in remarks.
    Raises InputError naming the argument, also when nothing was pushed both ways.
    Notes: Hertz contacts stiffen with load, so k is an average over the forces used. Push gently:
    by hand, never with the spindle running. Source: elementary-mechanics.

    By hand: 12 um between −10 N and 10 N, 14 um between −20 N and 20 N: 1 um more for 10 N more on
    either side, so k = 10 N/um; and without force 10 um are left.
    >>> found = push_test(["-20 N", "-10 N", "10 N", "20 N"], ["-7 um", "-6 um", "6 um", "7 um"])
    >>> print(found.clearance.round(9), found.stiffness.round(6))
    0.01 mm 10000.0 N/mm
    """
    forces, values = line_up(forces, readings)
    single(graduation)
    if forces.ndim > 1 or values.ndim > 1 or values.size > MOST_READINGS:
        raise InputError("readings", f"give one row of at most {MOST_READINGS} readings")
    if not (np.any(forces > 0) and np.any(forces < 0)):
        problem = "a push towards the indicator and a pull away from it are both needed"
        raise InputError("forces", problem, "Give both, such as '20 N' and '-20 N'")
    values = values if direction == "in" else -values
    pushed, moved = forces[forces != 0], values[forces != 0]
    movement = float(resolution.span(moved))
    design = np.stack([np.ones_like(pushed), pushed / np.abs(pushed).max(), np.sign(pushed) / 2], 1)
    _, singular, right = np.linalg.svd(design, full_matrices=False)
    if singular.size < 3 or singular[-1] < FLATTEST * singular[0]:
        return _one_force(movement)
    back = np.linalg.pinv(design)
    gain, small = np.sqrt(np.sum(back**2, axis=1)), resolution.dust(moved)
    solved = resolution.without_dust(back @ moved, small * np.sqrt(moved.size) * gain)
    residual = resolution.without_dust(moved - design @ solved, small)
    _, unsure, _ = reading_uncertainty(residual, 3, graduation, moved)
    width, most = unsure * gain, np.abs(pushed).max()
    left = np.sum(residual**2), moved.size - 3
    variance, freedom = resolution.own_scatter(*left, graduation, moved)
    told = tuple(_told(solved[i], np.sqrt(variance) * gain[i], freedom) for i in (2, 1))
    give = (solved[1] / most, width[1] / most)
    return Movement(_remarks(told, width), movement, (solved[2], width[2]), give, told)


def _told(value, width, freedom):
    """Whether it is more than scatter alone gives in one of twenty tests; so also if not known."""
    return bool(value > 0 and not resolution.beyond(value / width, freedom) / 2 >= resolution.ALARM)


def _one_force(movement):
    nothing = (np.nan, np.nan)
    said = (
        "All pushes were of one size: clearance and give cannot be told apart. The clearance is at "
        "most the whole movement; push again with half the force.",
    )
    return Movement(said, movement, nothing, nothing)


def _remarks(told, width):
    said = []
    if np.isnan(width[2]):
        said.append(FITS_EXACTLY)
    if not told[0]:
        said.append("The clearance is no more than scatter could show: it may be none at all.")
    if not told[1]:
        said.append("It is too stiff for these forces to show how stiff it is.")
    return tuple(said)
