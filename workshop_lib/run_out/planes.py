"""Off centre or tilted? Run-out in two planes, and on a face, as one straight axis.

One plane shows where the axis passes through it, and nothing else. Two planes show how it leans.
"""

from dataclasses import dataclass, field

import numpy as np

from workshop_lib.quantities import InputError, as_shown, boundary, quote, resolution, show, to_core
from workshop_lib.run_out.readings import Readings
from workshop_lib.run_out.round_fit import Fit
from workshop_lib.run_out.vectors import Vector, summed

DUST = 1e-9  # share of a vector that rounding in the last places can leave


@dataclass(frozen=True, eq=False)
class Lean:
    """How far something leans from square or parallel, towards which mark, and how surely.

    slope: `Vector` whose size in m stands for metres in each metre.
    """

    slope: Vector = field(repr=False)

    @property
    def inclination(self):
        """The angle by which it leans, degrees."""
        return as_shown(np.arctan(np.abs(self.slope.core)), "angle")

    @property
    def direction(self):
        """The mark towards which it leans."""
        return self.slope.angle

    @property
    def inclination_uncertainty(self):
        """Standard uncertainty of the inclination, degrees."""
        small = self.slope.along(self.slope.unit) / (1 + np.abs(self.slope.core) ** 2)
        return as_shown(small, "angle")

    @property
    def direction_uncertainty(self):
        """Standard uncertainty of the direction; not known where no direction is told."""
        return self.slope.angle_uncertainty

    def over(self, length):
        """What it amounts to over a length (or a diameter, for a face): a length in mm."""
        return as_shown(np.abs(self.slope.core) * to_core(length, "length", "length"), "length")


@dataclass(frozen=True, eq=False)
class Axis(Lean):
    """A straight axis against the spindle's: how it leans, and where it passes each plane."""

    core_vectors: tuple = field(repr=False)  # of the planes
    core_weights: np.ndarray = field(repr=False)  # 2 × planes: value at 0 and slope
    remarks: tuple = ()

    def at(self, position):
        """The `Vector` from the spindle's axis to this one at a position along it."""
        place = to_core(position, "length", "position")
        weights = self.core_weights[0] + np.multiply.outer(place, self.core_weights[1])
        return summed(self.core_vectors, weights)


def axis_through(tests, positions=None):
    """How does the part's axis lie against the spindle's: how far off, and how far out of parallel?

    A straight line through the vectors e(z) = e(0) + slope × z by least squares, z the position.

    tests: list of at least two `Readings` or `Fit`s on radial surfaces. positions: where along the
    axis each was taken, a list of lengths; None takes the positions that the `Readings` hold.
    Returns an `Axis` with inclination, direction, `.at(position)` and `.over(length)`.
    Raises InputError naming the argument. Notes: with two planes the line always fits; a bent part
    shows only at a third. Source: elementary-mechanics.

    By hand: 2 mm at 10 mm and 6 mm at 30 mm lean by 0.2 mm in each mm, and meet the axis at z = 0.
    >>> turn = ["0 deg", "120 deg", "240 deg"]
    >>> axis = axis_through([Readings(turn, ["2 mm", "-1 mm", "-1 mm"], position="10 mm"),
    ...                      Readings(turn, ["6 mm", "-3 mm", "-3 mm"], position="30 mm")])
    >>> print(axis.over("100 mm").round(9), axis.at("0 mm").size.round(9))
    20.0 mm 0.0 mm
    """
    vectors, places = _planes(tests, positions)
    design = np.stack([np.ones_like(places), places], axis=-1)
    weights = np.linalg.pinv(design)
    slope = summed(vectors, weights[1])
    return Axis(slope, vectors, weights, _bend(places, vectors, weights))


def _planes(tests, positions):
    if not isinstance(tests, list | tuple) or len(tests) < 2:
        problem = "one plane shows no tilt" if tests else "no test is given"
        raise InputError("tests", problem, "Clock a second plane, as far away as there is room")
    if positions is None:
        for each in tests:
            if not isinstance(each, Readings) or each.core.position is None:
                raise InputError("positions", "a test does not say where it was taken")
        places = np.array([each.core.position for each in tests])
    else:
        places = np.atleast_1d(to_core(positions, "length", "positions"))
    if places.shape != (len(tests),):
        raise InputError("positions", f"there are {places.size} positions but {len(tests)} tests")
    if np.ptp(places) <= 0:
        raise InputError("positions", "all tests were taken in one plane")
    return tuple(_single_vector(each) for each in tests), places


def _single_vector(test):
    found = test.fit() if isinstance(test, Readings) else test
    if not isinstance(found, Fit) or np.ndim(found.core.vector):
        raise InputError("tests", f"{quote(test)} is neither Readings nor the fit of one test")
    return found.vector


def _bend(places, vectors, weights):
    """Say what a straight line through these planes leaves open."""
    if places.size == 2:
        return (
            "Two planes always lie on a line. Only a third would show whether the part is bent.",
        )
    values = np.array([each.core for each in vectors])
    left_over = np.abs(values - (weights[0] + places[:, None] * weights[1]) @ values)
    if left_over.max() <= sum(each.dust for each in vectors):
        return ()
    off = f"off by {show(as_shown(left_over.max(), 'length'), figures=2)}"
    wide = np.array([each.width * each.reach for each in vectors])
    variance = (wide / resolution.reach()) ** 2 / 2
    if np.isnan(variance).any():
        return (
            f"The planes do not lie on one line ({off}): without the dial's graduation there is no "
            "telling whether the part is bent.",
        )
    chance = resolution.chance_of(_from_a_line(places, values, variance), places.size - 2, 1.0)
    if chance >= resolution.ALARM:
        return ()
    return (f"The planes do not lie on one line ({off}): the part is bent.",)


def _from_a_line(places, values, variance):
    """Return how far the planes lie from the line that suits their uncertainties best: χ²."""
    root = 1 / np.sqrt(variance)
    design = np.stack([root, root * places], axis=-1)
    best = np.linalg.lstsq(design, root * values, rcond=None)[0]
    return np.sum(np.abs(root * values - design @ best) ** 2)


def _face(value, name):
    found = value.fit() if isinstance(value, Readings) else value
    if not isinstance(found, Fit):
        raise InputError(name, f"{quote(value)} is neither Readings nor a Fit")
    return found.vector


@boundary(face=_face, radius="length > 0")
def face_tilt(face, radius):
    """How far does a face lean from square to the spindle's axis?

    tan(lean) = e/r with e half the indicator total at the radius r: the face rises by e above its
    mean at the high spot and falls by as much on the other side.

    face: `Readings` or `Fit` of a face. radius (not diameter): length, where it was clocked.
    Returns a `Lean`: inclination, direction (the mark that stands out most) and `.over(diameter)`,
    which is the total across the face. Raises InputError. Notes: one radius cannot tell a leaning
    face from a spindle that slips along its axis once in each turn; that reads alike at all radii,
    and `axis_through` with radii as positions separates the two. Source: elementary-mechanics.

    By hand: a total of 0.04 mm at a radius of 20 mm is 0.001 in each mm.
    >>> turn = ["0 deg", "90 deg", "180 deg", "270 deg"]
    >>> lean = face_tilt(Readings(turn, ["0.02 mm", "0 mm", "-0.02 mm", "0 mm"]), "20 mm")
    >>> print(lean.over("100 mm").round(9))
    0.1 mm
    """
    return Lean(summed([face], np.array([1 / radius])))


@boundary(axis=Axis, face=Lean)
def out_of_square(axis, face):
    """Is a face out of square with its own part, or does the whole part lean?

    If a whole part leans by the slope s towards a mark, its face (clocked from the tailstock's
    side) falls there by s in each metre: face = −s. What is left, face + s, is its own error.

    axis: `Axis` of the part, from two planes. face: `Lean` of its face.
    Returns the `Lean` of the face against the part's own axis. Raises InputError.
    Source: elementary-mechanics.

    >>> turn = ["0 deg", "120 deg", "240 deg"]
    >>> axis = axis_through([Readings(turn, ["0 um", "0 um", "0 um"], position="10 mm"),
    ...                      Readings(turn, ["6 um", "-3 um", "-3 um"], position="30 mm")])
    >>> face = face_tilt(Readings(turn, ["-6 um", "3 um", "3 um"]), "20 mm")
    >>> print(out_of_square(axis, face).inclination.round(9))
    0.0 deg
    """
    return Lean(summed([axis.slope, face.slope], np.ones(2)))
