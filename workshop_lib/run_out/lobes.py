"""Is it off centre, oval or three-lobed? Harmonics of the readings, and which of them can be told.

A harmonic of order k has k crests in a turn: 1 is an eccentricity, 2 an oval, 3 the three jaws of a
chuck. Readings at few angles, or with a gap, cannot tell them all apart, and that is said in words.
"""

from dataclasses import dataclass, field

import numpy as np

from workshop_lib.quantities import (
    InputError,
    as_shown,
    boundary,
    listed,
    quote,
    resolution,
    rounded,
    show,
    whole_number,
)
from workshop_lib.run_out.round_fit import (
    DIRECTIONS,
    FLATTEST,
    SAME_ANGLE,
    distinct,
    line_up,
    reading_uncertainty,
    single,
    widest_gap,
)
from workshop_lib.run_out.vectors import FULL_TURN, Vector

NAMES = {1: "eccentricity", 2: "oval", 3: "three lobes"}
HIGHEST = 60  # orders; more crests than that are finish, not shape
BLURRED = 10.0  # times less certain than equal angles would leave it: said in words


@dataclass(frozen=True, eq=False)
class Harmonic:
    """One harmonic: its order, amplitude and first crest, and whether the readings tell it."""

    order: int
    told: bool
    why: str  # why it cannot be told, or is blurred; empty when all is well
    vector: Vector = field(repr=False)  # amplitude × exp(i order × crest)

    @property
    def name(self):
        """What people call it: eccentricity, oval, three lobes, or so many lobes."""
        return NAMES.get(self.order, f"{self.order} lobes")

    @property
    def amplitude(self):
        """Half its height from crest to trough, mm; not known (NaN) when it cannot be told."""
        return self.vector.size

    @property
    def uncertainty(self):
        """Standard uncertainty of the amplitude, mm."""
        return self.vector.size_uncertainty

    @property
    def crest(self):
        """The first mark under which it stands highest, from 0° up to 360°/order."""
        return self.vector.angle / self.order


@dataclass(frozen=True, eq=False)
class Harmonics:
    """The harmonics of one set of readings; `found[2]` is the oval, and it can be looped over."""

    each: tuple
    offset: object
    residual: object
    remarks: tuple

    def __getitem__(self, order):
        if isinstance(order, bool) or not isinstance(order, int):
            raise InputError("order", f"{quote(order)} is not a whole number")
        if not 1 <= order <= len(self.each):
            raise InputError("order", f"{order} was not asked for", f"Give 1 to {len(self.each)}")
        return self.each[order - 1]

    def __iter__(self):
        return iter(self.each)

    def __len__(self):
        return len(self.each)


@boundary(
    angles="angle",
    readings="length",
    highest=whole_number(1, HIGHEST),
    graduation="length > 0",
    direction=DIRECTIONS,
)
def harmonics(angles, readings, highest=4, graduation=None, direction="in"):
    """How much of the run-out is eccentricity, how much oval, how much three lobes?

    Least squares of reading = offset + sum over k of A_k cos(k (theta − theta_k)), A_k the
    amplitude and theta_k the first crest of the harmonic of order k = 1 … highest.

    angles: marks under the indicator, shape (n,). readings: lengths, shape (…, n). highest: whole
    number, 1 to 60. graduation: length of one division, or None. direction: "in" or "out", see
    `run_out.fit`. Returns `Harmonics`. A harmonic that these angles cannot tell has `told` False,
    amplitude not known, and `why` in words. Raises InputError naming the argument.
    Notes: whatever has more lobes than asked for is taken for scatter, or for a lower harmonic
    that looks the same at these angles: the remarks name which.
    Source: ieee-1057; harmonics-taylor for what each order means.

    By hand: 2 thou × cos(2 theta) at eight marks is an oval of 2 thou with crests at 0° and 180°.
    >>> found = harmonics(["0 deg", "45 deg", "90 deg", "135 deg", "180 deg", "225 deg",
    ...     "270 deg", "315 deg"], ["2 thou", "0 thou", "-2 thou", "0 thou"] * 2, highest=3)
    >>> print([show(one.amplitude, "thou") for one in found], show(found[2].crest))
    ['0 thou', '2.00 thou', '0 thou'] 0°
    """
    angles, readings = _checked(angles, readings)
    single(graduation)
    orders = np.arange(1, highest + 1)
    design = _design(angles, orders)
    solved, spread, blind = _solve(design, readings)
    small = resolution.dust(readings)[..., None]
    residual = resolution.without_dust(readings - solved @ design.T, small)
    used = design.shape[1] - blind.shape[1]
    _, uncertainty, far = reading_uncertainty(residual, used, graduation, readings)
    small = small * np.sqrt(angles.size * np.diag(spread))  # the most that rounding can add up to
    solved = resolution.without_dust(solved, small)
    sign = 1 if direction == "in" else -1
    each = tuple(
        _one(order, sign * solved, spread, blind, (uncertainty, far, small), angles)
        for order in orders.tolist()
    )
    offset = as_shown(solved[..., 0], "length")
    return Harmonics(each, offset, as_shown(residual, "length"), _remarks(angles, highest))


def _checked(angles, readings):
    angles, readings = line_up(angles, readings)
    if angles.ndim > 1:
        raise InputError("angles", "all readings need one list of angles")
    if angles.size < 3:
        raise InputError(
            "angles",
            f"{angles.size} angles tell no harmonic",
            "Take two for each harmonic and one more",
        )
    return angles, readings


def _design(angles, orders):
    """Return the columns 1, cos(theta), sin(theta), cos(2 theta), … at these angles."""
    turned = angles[:, None] * orders
    waves = np.stack([np.cos(turned), np.sin(turned)], axis=-1).reshape(angles.size, -1)
    return np.column_stack([np.ones(angles.size), waves])


def _solve(design, readings):
    """Return least-squares numbers, their covariance for unit uncertainty, and the blind space.

    The blind space (columns) holds the mixtures of columns that these angles do not see at all.
    """
    # All of `right` is wanted; a full `left` of some thousand readings would take most of a second.
    fewer = design.shape[0] < design.shape[1]
    left, values, right = np.linalg.svd(design, full_matrices=fewer)
    seen = values > FLATTEST * values[0]
    rank = int(seen.sum())
    back = right[:rank].T / values[:rank]
    solved = np.einsum("ij,...j->...i", back @ left[:, :rank].T, readings)
    return solved, back @ back.T, right[rank:].T


def _one(order, solved, spread, blind, sureness, angles):
    """Make the harmonic of one order, or say why it cannot be told."""
    own = slice(2 * order - 1, 2 * order + 1)
    wave = solved[..., 2 * order - 1] + 1j * solved[..., 2 * order]
    told = not np.any(np.abs(blind[own]) > SAME_ANGLE)
    if not told:
        unknown = Vector(np.full(wave.shape, np.nan + 0j), np.full((2, 2), np.nan))
        return Harmonic(order, False, _mixed_with(order, blind, angles), unknown)
    blur = np.sqrt(np.trace(spread[own, own]) * angles.size) / 2
    why = ""
    if resolution.more_than(blur, BLURRED):
        gap = show(as_shown(widest_gap(angles), "angle"), figures=2)
        why = (
            f"the angles (widest gap {gap}) leave it about {rounded(blur, 2)} times less certain "
            "than equal angles would"
        )
    uncertainty, far, small = sureness
    covariance = uncertainty[..., None, None] ** 2 * spread[own, own]
    return Harmonic(order, True, why, Vector(wave, covariance, far, small[..., own].max(axis=-1)))


def _mixed_with(order, blind, angles):
    """Say in words what a harmonic cannot be told from."""
    own = slice(2 * order - 1, 2 * order + 1)
    shared = np.abs(blind[own] @ blind.T).max(axis=0) > SAME_ANGLE
    partners = [k for k in range(1, (shared.size + 1) // 2) if shared[2 * k - 1 : 2 * k + 1].any()]
    others = [f"harmonic {k}" for k in partners if k != order] + ["the offset"] * bool(shared[0])
    count = distinct(angles).size
    if others:
        return f"at these {count} angles it looks the same as {listed(others)}"
    return f"its crests can fall between these {count} angles, where there is no reading"


def _remarks(angles, highest):
    """Say what a set of angles cannot tell, whatever the readings."""
    marks, said = distinct(angles), []
    count = marks.size
    if count < 2 * highest + 1:
        most = (count - 1) // 2
        said.append(
            f"{count} different angles can tell at most {most} harmonic{'s' * (most != 1)}; "
            f"{highest} were asked for."
        )
    if np.ptp(np.diff(marks, append=marks[0] + FULL_TURN)) < 2 * SAME_ANGLE:
        oval = f", and one with {count - 2} lobes like an oval" if count > 4 else ""
        said.append(
            f"At {count} equally spaced angles a shape with {count - 1} lobes looks like an "
            f"eccentricity{oval}."
        )
    if widest_gap(angles) > np.pi + SAME_ANGLE:
        said.append("More than half of the turn has no reading: no harmonic is sure there.")
    return tuple(said)
