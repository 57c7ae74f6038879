"""What turns with which? Re-index a part against its spindle, and solve for both of them.

What stays with the spindle's marks when the part is turned round belongs to the spindle (or the
seat in it); what goes along with the part's own marks belongs to the part.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from workshop_lib.quantities import InputError, as_shown, boundary, quote, resolution, show, to_core
from workshop_lib.run_out.readings import Readings
from workshop_lib.run_out.round_fit import FLATTEST, distinct, reading_uncertainty
from workshop_lib.run_out.vectors import Vector

BLURRED = 2.0  # times less certain than the best positions would leave it: said in words
MOST_POSITIONS = 100


@dataclass(frozen=True, eq=False)
class Separation:
    """The spindle's vector, the part's vector, and what the positions cannot tell.

    spindle: by the spindle's marks. part: by the part's own marks, whose 0° is at the spindle's
    0° when the index is 0°. Both are `Vector`s.
    """

    spindle: Vector
    part: Vector
    remarks: tuple
    core_offsets: np.ndarray = field(repr=False)
    core_residuals: tuple = field(repr=False)
    core_scatter: float = field(repr=False)

    @property
    def offsets(self):
        """Mean reading at each position, mm."""
        return as_shown(self.core_offsets, "length")

    @property
    def residuals(self):
        """What each reading has above the solution, mm: one array for each position."""
        return tuple(as_shown(each, "length") for each in self.core_residuals)

    @property
    def scatter(self):
        """Standard deviation of one reading about the solution, mm."""
        return as_shown(self.core_scatter, "length")


def separate(readings_by_index):
    """How much of the run-out turns with the spindle, and how much with the part?

    Least squares over all positions i of reading = offset_i + S cos(theta − theta_s) +
    P cos(theta − index_i − theta_p): S with the spindle, P with the part.

    readings_by_index: mapping from each index (angle by which the part was turned against the
    spindle; quantity or text such as "90 deg") to `Readings` or a pair (angles, readings); or a
    list of `Readings` that hold their own index. Angles are always counted on the spindle.
    Returns a `Separation`. Raises InputError naming the argument, also for a single position.
    Notes: two positions always fit exactly; only a third shows whether the part went back true.
    What follows neither of them (clearance, a loose seat) counts as scatter.
    Source: nist-roundness for the principle; elementary-mechanics.

    By hand: 3 thou at one position and 1 thou half a turn on: spindle 2 thou, part 1 thou.
    >>> turn = ["0 deg", "90 deg", "180 deg", "270 deg"]
    >>> found = separate({"0 deg": (turn, ["3 thou", "0 thou", "-3 thou", "0 thou"]),
    ...                   "180 deg": (turn, ["1 thou", "0 thou", "-1 thou", "0 thou"])})
    >>> print(show(found.spindle.size, "thou"), show(found.part.size, "thou"))
    2.00 thou 1.00 thou
    """
    index, tests = _positions(readings_by_index)
    if distinct(index).size < 2:
        problem = "one position cannot show what turns with the spindle and what with the part"
        raise InputError(
            "readings_by_index",
            problem,
            "Turn the part half a turn on the spindle and clock it again",
        )
    design, values, place = _system(index, tests)
    solved, spread = _solved(design, values)
    small = resolution.dust(values)
    residual = resolution.without_dust(values - design @ solved, small)
    known = [each.core.graduation for each in tests if each.core.graduation is not None]
    graduation = max(known) if known else None
    scatter, unsure, far = reading_uncertainty(residual, design.shape[1], graduation, values)
    count = len(tests)
    small = small * np.sqrt(values.size * np.diag(spread))  # the most that rounding can add up to
    solved = resolution.without_dust(solved, small)
    vectors, spread = solved[count::2] + 1j * solved[count + 1 :: 2], spread[count:, count:]
    blur = np.sqrt(np.trace(spread[:2, :2]) * values.size) / 2
    return Separation(
        Vector(vectors[0], unsure**2 * spread[:2, :2], far, small[count]),
        Vector(vectors[1], unsure**2 * spread[2:, 2:], far, small[count + 2]),
        (*_agreement(index, values, residual, graduation, tests), *_closeness(blur)),
        solved[:count],
        tuple(residual[place == i] for i in range(count)),
        scatter,
    )


def _solved(design, values):
    """Return the least-squares solution and its covariance for readings of unit uncertainty."""
    left, singular, right = np.linalg.svd(design, full_matrices=False)
    if values.size < design.shape[1] or singular[-1] < FLATTEST * singular[0]:
        raise InputError(
            "readings_by_index",
            "these angles and positions are too alike",
            "Take three angles or more at each, and positions far apart",
        )
    back = right.T / singular
    return back @ (left.T @ values), back @ back.T


def _positions(given):
    """Return the index of each position, rad, and its `Readings`."""
    if isinstance(given, Mapping):
        pairs = [(to_core(index, "angle", "index"), test) for index, test in given.items()]
    elif isinstance(given, list | tuple) and all(isinstance(each, Readings) for each in given):
        pairs = [(each.core.index, each) for each in given]
    else:
        problem = f"{quote(given)} is neither a mapping nor a list of Readings"
        raise InputError("readings_by_index", problem, "Write {'0 deg': first, '180 deg': second}")
    if not pairs or len(pairs) > MOST_POSITIONS:
        raise InputError("readings_by_index", f"give 1 to {MOST_POSITIONS} positions")
    return np.array([index for index, _ in pairs]), [_readings(test) for _, test in pairs]


def _readings(test):
    if isinstance(test, tuple | list) and len(test) == 2:
        return Readings(*test)
    if not isinstance(test, Readings):
        raise InputError("readings_by_index", f"{quote(test)} is neither Readings nor a pair")
    return test


def _system(index, tests):
    """Return design matrix, readings towards the indicator, and the position of each reading."""
    place = np.repeat(np.arange(len(tests)), [each.core.readings.size for each in tests])
    theta = np.concatenate([each.core.angles for each in tests])
    own = theta - index[place]
    values = np.concatenate([each.core.towards * each.core.readings for each in tests])
    offsets = (place[:, None] == np.arange(len(tests))).astype(float)
    waves = [np.cos(theta), np.sin(theta), np.cos(own), np.sin(own)]
    return np.column_stack([offsets, *waves]), values, place


def _agreement(index, values, residual, graduation, tests):
    """Say whether the part went back true, as far as that can be known."""
    if distinct(index).size == 2:
        yield "Two positions always fit. Only a third would show whether the part went back true."
        return
    alone = np.concatenate([each.fit().core.residual for each in tests])
    own, spare = np.sum(alone**2), alone.size - 3 * len(tests)
    more = max(np.sum(residual**2) - own, 0.0)
    variance, freedom = resolution.own_scatter(own, spare, graduation, values)
    chance = resolution.chance_of(more, len(tests) - 2, variance, freedom)
    if more == 0:
        return
    scatter = np.sqrt(np.sum(residual**2) / (residual.size - 4 - len(tests)))
    told = show(as_shown(scatter, "length"))
    if np.isnan(chance):
        yield (
            f"Alone each position fits exactly, together they scatter by {told}. Without the "
            "dial's graduation there is no telling whether something moved between them."
        )
    elif chance < resolution.ALARM:
        yield (
            f"The positions do not agree with one spindle and one part: together they scatter by "
            f"{told}, which chance alone would do in fewer than one set-up of twenty. Something "
            "moved between them."
        )


def _closeness(blur):
    if resolution.more_than(blur, BLURRED):
        yield (
            "The positions stand close together: half a turn would be "
            f"{resolution.steps_near(blur, 1):.0f} times surer."
        )


@boundary(first="length", second="length")
def reversal(first, second):
    """Which part of a whole profile belongs to the part, which to the spindle?

    Turn the part by half a turn against the spindle, bring the indicator to the other side with its
    sense reversed, and clock the same marks of the part: T1 = P + S, T2 = P − S, so that
    P = (T1 + T2)/2 and S = (T1 − T2)/2, reading by reading.

    first, second: lengths at the same marks, each with its mean taken off first; they broadcast
    together. Returns the pair (part, spindle), lengths in mm. Raises InputError.
    Notes: nothing may move between the two; unlike `separate` it needs no model of the shape.
    Source: donaldson-1972, evans-1996.

    By hand: (5 + 1)/2 and (5 − 1)/2.
    >>> part, spindle = reversal(["5 um", "-5 um"], ["1 um", "-1 um"])
    >>> print(show(part, "um"), "|", show(spindle, "um"))
    3.00, -3.00 µm | 2.00, -2.00 µm
    """
    for name, row in (("first", first), ("second", second)):
        if np.ndim(row) == 0:
            raise InputError(name, "give one row of readings, one for each mark")
    first, second = (each - np.mean(each, axis=-1, keepdims=True) for each in (first, second))
    return as_shown((first + second) / 2, "length"), as_shown((first - second) / 2, "length")
