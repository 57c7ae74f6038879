"""How far did it move? A reading before and one after a knock, as vectors or as bare totals.

Eccentricities add as vectors. Two totals alone leave the direction open, and so only a range.
"""

from dataclasses import dataclass, field

import numpy as np

from workshop_lib.quantities import (
    InputError,
    as_shown,
    boundary,
    common_shape,
    resolution,
    to_core,
    whole_number,
)
from workshop_lib.run_out.readings import Readings, Total
from workshop_lib.run_out.round_fit import Fit
from workshop_lib.run_out.vectors import Vector

MOST_DIRECTIONS = 100_000


@dataclass(frozen=True, eq=False)
class Shift:
    """How the centre moved: a vector where angles are known, else the least and the most."""

    vector: Vector | None = field(repr=False)
    core_least: np.ndarray = field(repr=False)  # m
    core_most: np.ndarray = field(repr=False)  # m

    @property
    def exact(self):
        """Whether both readings had angles, so that the shift is one vector."""
        return self.vector is not None

    @property
    def least(self):
        """The least shift that explains both readings, mm."""
        return as_shown(self.core_least, "length")

    @property
    def most(self):
        """The greatest shift that explains both readings, mm."""
        return as_shown(self.core_most, "length")

    @property
    def size(self):
        """The shift, mm; not known (NaN) when only a range is."""
        return self._known("size", "length")

    @property
    def direction(self):
        """The mark towards which the centre moved; not known when only a range is."""
        return self._known("angle", "angle")

    @property
    def size_uncertainty(self):
        """Standard uncertainty of the shift, mm."""
        return self._known("size_uncertainty", "length")

    @property
    def direction_uncertainty(self):
        """Standard uncertainty of its direction."""
        return self._known("angle_uncertainty", "angle")

    def _known(self, name, kind):
        if self.vector is None:
            return as_shown(np.full(np.shape(self.core_least), np.nan), kind)
        return getattr(self.vector, name)

    @property
    def remarks(self):
        """What is not known of it, in sentences."""
        if self.vector is None:
            return (
                "A total has no direction: the same two totals come from a small shift along the "
                "old high spot and from a large one across it. Note the angles to know which.",
            )
        if not np.all(self.vector.told):
            return ("The shift is no more than scatter could show: it may be none at all.",)
        return ()


def shift_between(before, after):
    """How far, and which way, did the centre move between two readings?

    With angles: shift = e_after − e_before, as vectors. With totals T alone the eccentricities are
    e = T/2 and the shift lies between |e_after − e_before| and e_before + e_after.

    before, after: each a `Fit`, `Readings`, `Total`, or an indicator total (length; half of it is
    the eccentricity). Totals broadcast together. Both must be counted from the same marks.
    Returns a `Shift` with size and direction and their uncertainties, or least and most.
    Raises InputError naming the argument. Source: elementary-mechanics.

    By hand: totals of 3 and 8 thou are eccentricities of 1.5 and 4 thou.
    >>> found = shift_between("3 thou", "8 thou")
    >>> print(found.least.to("thou").round(6).m, found.most.to("thou").round(6).m)
    2.5 5.5
    """
    before, after = _seen(before, "before"), _seen(after, "after")
    if isinstance(before, Vector) and isinstance(after, Vector):
        common_shape(before=before.core, after=after.core)
        moved = after - before
        return Shift(moved, np.abs(moved.core), np.abs(moved.core))
    first, second = (np.abs(getattr(one, "core", one)) for one in (before, after))
    common_shape(before=first, after=second)
    least = resolution.without_dust(np.abs(second - first), resolution.SAME * (first + second))
    return Shift(None, least, first + second)


def _seen(reading, name):
    """Return a reading as a vector, or its bare eccentricity (m) where no direction is known."""
    if isinstance(reading, Readings):
        return reading.fit().vector
    if isinstance(reading, Fit):
        return reading.vector
    if isinstance(reading, Total):
        return reading.core.total / 2
    return to_core(reading, "length", name, ">= 0") / 2


@dataclass(frozen=True, eq=False)
class Explained:
    """Which shifts turn one total into another, for every direction against the old high spot.

    directions: 0° is along the old high spot, 180° against it; the other half turn mirrors it.
    """

    core_directions: np.ndarray = field(repr=False)  # rad
    core_smallest: np.ndarray = field(repr=False)  # m; NaN where no shift does it
    core_largest: np.ndarray = field(repr=False)  # m
    core_ends: tuple = field(repr=False)  # least and most shift m, first direction rad

    @property
    def least(self):
        """The least shift of all that explains both totals, mm."""
        return as_shown(self.core_ends[0], "length")

    @property
    def most(self):
        """The greatest shift of all, mm."""
        return as_shown(self.core_ends[1], "length")

    @property
    def first_direction(self):
        """The direction nearest to the old high spot in which a shift explains both totals.

        0° when every direction does. From there on to 180° all directions do.
        """
        return as_shown(self.core_ends[2], "angle")

    @property
    def directions(self):
        """Angles between the shift and the old high spot, from 0° to 180°."""
        return as_shown(self.core_directions, "angle")

    @property
    def smallest(self):
        """The smallest shift in each direction, mm; NaN where none explains the totals."""
        return as_shown(self.core_smallest, "length")

    @property
    def largest(self):
        """The largest shift in each direction, mm; NaN where none explains the totals."""
        return as_shown(self.core_largest, "length")


@boundary(
    total_before="length >= 0",
    total_after="length >= 0",
    points=whole_number(2, MOST_DIRECTIONS),
)
def shifts_that_explain(total_before, total_after, points=181):
    """Which shifts can have turned one indicator total into another?

    |e_before + shift| = e_after with e = total / 2: in a direction at the angle alpha to the old
    high spot, shift = −e_before cos(alpha) ± sqrt(e_after² − e_before² sin²(alpha)).

    total_before: length. total_after: length, or two of them for "between 5 and 6 thou".
    points: how many directions from 0° to 180°, 2 to 100 000. Returns `Explained`.
    Raises InputError naming the argument. Notes: a round part; the part that carries the indicator
    moves as far as the shift (a nose may follow a disc only in part, see `load_path`). Where the
    total has shrunk, a direction can have two stretches of shifts; smallest and largest bound both.
    Source: elementary-mechanics.

    By hand: 2 thou, then 5 to 6 thou: 2.5 − 1 = 1.5 thou along the high spot, 3 + 1 = 4 against it.
    >>> found = shifts_that_explain("2 thou", ["5 thou", "6 thou"])
    >>> print(found.least.to("thou").round(6).m, found.most.to("thou").round(6).m)
    1.5 4.0
    """
    if np.ndim(total_before):
        raise InputError("total_before", "give one total")
    if np.size(total_after) > 2 or np.ndim(total_after) > 1:
        raise InputError("total_after", "give one total, or the smallest and largest")
    old = total_before / 2
    ends = np.min(total_after) / 2, np.max(total_after) / 2
    low, high = (old if resolution.same(end, old) else end for end in ends)
    alpha = np.linspace(0, np.pi, points)
    smallest, largest = _stretch(old, low, high, alpha)
    first = 0.0 if high >= old else np.pi - np.arcsin(high / old)
    least = max(low - old, old - high, 0.0)
    return Explained(alpha, smallest, largest, (least, old + high, first))


def _stretch(old, low, high, alpha):
    """First and last shift in each direction that ends between two circles about the axis."""
    along, across = old * np.cos(alpha), old * np.sin(alpha)

    def crossing(radius, sign):
        with np.errstate(invalid="ignore"):
            return -along + sign * np.sqrt(radius**2 - across**2)

    largest = crossing(high, 1)
    if old <= high:  # a start inside the outer circle leaves it in every direction
        smallest = crossing(low, 1) if old < low else np.zeros_like(alpha)
        return np.maximum(smallest, 0.0), np.maximum(largest, 0.0)
    reached = largest >= 0
    return np.where(reached, crossing(high, -1), np.nan), np.where(reached, largest, np.nan)
