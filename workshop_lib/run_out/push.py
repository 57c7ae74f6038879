"""Does it move when it is pushed? Clearance and stiffness from readings under stated forces."""

from dataclasses import dataclass, field

import numpy as np

from workshop_lib.quantities import InputError, as_shown, boundary
from workshop_lib.run_out.round_fit import (
    DIRECTIONS,
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
        give, unsure = self.core_compliance
        told = give > 0 and not give < 2 * unsure
        return as_shown(1 / give if told else np.nan, "stiffness")


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
        raise InputError("readings", f"one row of at most {MOST_READINGS} readings is wanted")
    if not (np.any(forces > 0) and np.any(forces < 0)):
        problem = "a push towards the indicator and a pull away from it are wanted"
        raise InputError("forces", problem, "Give both, such as '20 N' and '-20 N'")
    values = values if direction == "in" else -values
    pushed, moved = forces[forces != 0], values[forces != 0]
    movement = float(np.ptp(moved))
    design = np.stack([np.ones_like(pushed), pushed / np.abs(pushed).max(), np.sign(pushed) / 2], 1)
    _, singular, right = np.linalg.svd(design, full_matrices=False)
    if singular.size < 3 or singular[-1] < FLATTEST * singular[0]:
        return _one_force(movement)
    back = np.linalg.pinv(design)
    solved = back @ moved
    unsure = reading_uncertainty(moved - design @ solved, 3, graduation)[1]
    width = unsure * np.sqrt(np.sum(back**2, axis=1))
    give = (solved[1] / np.abs(pushed).max(), width[1] / np.abs(pushed).max())
    return Movement(_remarks(solved, width), movement, (solved[2], width[2]), give)


def _one_force(movement):
    nothing = (np.nan, np.nan)
    said = (
        "All pushes were of one size: clearance and give cannot be told apart. The clearance is at "
        "most the whole movement; push again with half the force.",
    )
    return Movement(said, movement, nothing, nothing)


def _remarks(solved, width):
    said = []
    if np.isnan(width[2]):
        said.append("Without a graduation there is no telling how sure three readings are.")
    if solved[2] < 2 * width[2]:
        said.append("The clearance is less than twice its uncertainty: it may be none at all.")
    if solved[1] <= 0 or solved[1] < 2 * width[1]:
        said.append("It is too stiff for these forces to show how stiff it is.")
    return tuple(said)
