"""What was clocked, and where? The readings of one turn, of a push, or a bare total.

How readings are typed, pasted or read from a file is in `reading_text`.
"""

from dataclasses import dataclass

import numpy as np

from workshop_lib.quantities import InputError, as_shown, quote, resolution, show, to_core
from workshop_lib.run_out.lobes import harmonics
from workshop_lib.run_out.push import push_test
from workshop_lib.run_out.round_fit import DIRECTIONS, fit, single
from workshop_lib.run_out.vectors import FULL_TURN
from workshop_lib.sources import choose

PLACES = ("spindle", "pad", "disc", "nose")
SURFACES = ("radial", "face")
MOST_READINGS = 20_000
LARGEST_READING = 0.1  # m; the longest dial indicators in common use travel 100 mm
LONGEST_NAME = 60
THOU = 25.4e-6  # m
USUAL_STEPS = sorted(
    (50e-6, 20e-6, 10e-6, 5e-6, 2e-6, 1e-6, THOU, THOU / 2, THOU / 5, THOU / 10), reverse=True
)


@dataclass(frozen=True, eq=False)
class BareReadings:
    """The numbers of one test in SI."""

    angles: np.ndarray  # rad; empty for a push
    forces: np.ndarray  # N; empty for a turn
    readings: np.ndarray  # m, as read
    towards: int  # +1 if the reading grows as the surface comes towards the indicator, else −1
    position: float | None  # m
    index: float  # rad
    graduation: float | None  # m


class _Test:
    """What every test has: where it was taken, and how it is called."""

    def __init__(self, where, name, state):
        self.where = choose(where, PLACES, "where", "place")
        self.name, self.state = _words(name, "name"), _words(state, "state")

    def __repr__(self):
        return f"<{self.label}: {self.size}>"

    @property
    def label(self):
        """What to call it in a sentence: its name, or where it was taken."""
        return self.name or self._place()

    @property
    def readings(self):
        """The readings, mm, as read."""
        return as_shown(self.core.readings, "length")

    @property
    def total(self):
        """Indicator total, mm: the largest reading less the smallest."""
        return as_shown(resolution.span(self.core.readings), "length")

    @property
    def division(self):
        """Graduation in m: as given, or the coarsest usual step that all readings are made of.

        None when it was not given and the readings do not show it.
        """
        return self.core.graduation or _apparent(self.core.readings)

    @property
    def size(self):
        """How much was taken, in words."""
        count = self.core.readings.size
        return f"{count} reading{'s' * (count != 1)}"


def _words(text, name):
    if not isinstance(text, str) or len(text) > LONGEST_NAME or not text.isprintable():
        raise InputError(name, f"{quote(text)} is not a short text")
    return text


class Readings(_Test):
    """The readings of one turn (or several) at one place.

    angles: marks under the indicator, counted on the spindle; a second turn goes on from 360°.
    readings: lengths, one for each angle. where: "spindle", "pad", "disc" or "nose". what: "radial"
    (on the rim) or "face" (parallel to the axis, from the tailstock's side). position: for radial
    readings how far from the part's seat along the axis, for a face the radius at which it was
    clocked; or None. index: angle by which the part had been turned against the spindle.
    state: a word that is the same for tests between which nothing was touched, such as "before".
    graduation: length of one division, or None. direction: "in" if the reading grows as the plunger
    is pushed in, "out" if it grows as it comes out. name: what to call the test.
    Raises InputError naming the argument. The bare numbers are in `.core`.

    >>> taken = Readings(["0 deg", "120 deg", "240 deg"], ["4 thou", "1 thou", "1 thou"])
    >>> print(show(taken.fit().eccentricity, "thou"), taken)
    2.00 thou <disc, radial: 3 readings>
    """

    def __init__(
        self,
        angles,
        readings,
        where="disc",
        what="radial",
        position=None,
        index="0 deg",
        state="",
        graduation=None,
        direction="in",
        name="",
    ):
        super().__init__(where, name, state)
        self.what = choose(what, SURFACES, "what", "surface")
        self.direction = choose(direction, DIRECTIONS, "direction", "direction")
        angles, values = _in_a_row(angles, readings, "angles", "angle")
        towards = 1 if direction == "in" else -1
        place = None if position is None else _single(position, "length", "position", ">= 0")
        turned = _single(index, "angle", "index") % FULL_TURN
        self.core = BareReadings(
            angles, np.empty(0), values, towards, place, turned, _division(graduation)
        )

    @property
    def angles(self):
        """Marks under the indicator, degrees."""
        return as_shown(self.core.angles, "angle")

    def _place(self):
        at = "" if self.core.position is None else f" at {1e3 * self.core.position:g} mm"
        turned = f", turned by {np.degrees(self.core.index):g}°" if self.core.index else ""
        state = f", {self.state}" if self.state else ""
        return f"{self.where}, {self.what}{at}{turned}{state}"

    def fit(self):
        """The round part that fits these readings best; see `round_fit.fit`."""
        core = self.core
        return fit.core(core.angles, core.readings, core.graduation, self.direction)

    def harmonics(self, highest=4):
        """Its harmonics up to that order; see `lobes.harmonics`."""
        core = self.core
        return harmonics.core(core.angles, core.readings, highest, core.graduation, self.direction)


class Push(_Test):
    """Readings while the part was pushed and pulled sideways with stated forces, spindle still.

    forces: positive towards the indicator, in the order in which they were applied. readings:
    lengths. where, state, graduation, direction, name: as for `Readings`.
    Raises InputError naming the argument. The bare numbers are in `.core`.

    >>> Push(["20 N", "0 N", "-20 N"], ["3 um", "0 um", "-3 um"], where="nose")
    <nose, pushed: 3 readings>
    """

    what = "push"

    def __init__(
        self, forces, readings, where="nose", state="", graduation=None, direction="in", name=""
    ):
        super().__init__(where, name, state)
        self.direction = choose(direction, DIRECTIONS, "direction", "direction")
        forces, values = _in_a_row(forces, readings, "forces", "force")
        towards = 1 if direction == "in" else -1
        division = _division(graduation)
        self.core = BareReadings(np.empty(0), forces, values, towards, None, 0.0, division)

    @property
    def forces(self):
        """The forces, N, positive towards the indicator."""
        return as_shown(self.core.forces, "force")

    def _place(self):
        return f"{self.where}, pushed{f', {self.state}' if self.state else ''}"

    def fit(self):
        """Clearance and stiffness from these readings; see `push.push_test`."""
        core = self.core
        return push_test.core(core.forces, core.readings, core.graduation, self.direction)


@dataclass(frozen=True, eq=False)
class BareTotal:
    """The numbers of a bare total in SI."""

    total: float  # m
    position: float | None = None
    index: float = 0.0
    graduation: float | None = None


class Total(_Test):
    """A bare indicator total: no angle was noted, so that it has a size and no direction.

    total: length. where, what, state, graduation, name: as for `Readings`. Raises InputError.

    >>> Total("2 thou", "nose")
    <nose, radial, total only: 0.0508 mm>
    """

    def __init__(self, total, where="disc", what="radial", state="", graduation=None, name=""):
        super().__init__(where, name, state)
        self.what = choose(what, SURFACES, "what", "surface")
        value = _single(total, "length", "total", ">= 0")
        if value > LARGEST_READING:
            raise InputError("total", f"{quote(total)} is more than any indicator shows")
        self.core = BareTotal(value, graduation=_division(graduation))

    @property
    def total(self):
        """The total, mm."""
        return as_shown(self.core.total, "length")

    @property
    def size(self):
        """The total in words."""
        return show(self.total)

    def _place(self):
        state = f", {self.state}" if self.state else ""
        return f"{self.where}, {self.what}, total only{state}"


def _single(value, kind, name, sign=None):
    number = to_core(value, kind, name, sign)
    if np.ndim(number):
        raise InputError(name, f"give one {kind}, not several")
    return number


def _division(graduation):
    if graduation is None:
        return None
    value = to_core(graduation, "length", "graduation", "> 0")
    single(value)
    return value


def _apparent(values):
    """Return the coarsest usual step of which all readings are multiples; None if there is none."""
    for step in USUAL_STEPS:
        counts = np.round(values / step)
        if np.all(np.abs(values / step - counts) < 1e-3) and np.unique(counts).size >= 3:
            return step
    return None


def _in_a_row(places, readings, name, kind):
    """Return places (angles or forces) and readings as two rows of the same length."""
    along = np.atleast_1d(to_core(places, kind, name))
    values = np.atleast_1d(to_core(readings, "length", "readings"))
    if along.ndim > 1 or values.ndim > 1:
        raise InputError("readings", "each test needs one row of readings")
    if along.size != values.size:
        problem = f"there are {values.size} readings but {along.size} {name}"
        raise InputError("readings", problem, f"Each reading needs its own {kind}")
    if values.size > MOST_READINGS:
        raise InputError("readings", f"more than {MOST_READINGS} in one test")
    if np.abs(values).max() > LARGEST_READING:
        raise InputError("readings", "larger than any indicator shows", "Check the unit")
    return along, values
