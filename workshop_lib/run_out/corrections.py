"""What do you do about run-out? Which side to tap and how far, or which part to shim or remake."""

from dataclasses import dataclass, field

import numpy as np

from workshop_lib.quantities import KINDS, InputError, as_shown, quote, resolution, show, to_core
from workshop_lib.run_out import causes
from workshop_lib.run_out.causes import Cause
from workshop_lib.run_out.readings import Readings
from workshop_lib.run_out.round_fit import Fit
from workshop_lib.run_out.vectors import Vector
from workshop_lib.sources import choose

CAUTION = (
    "Stop and isolate the spindle first, and keep the disc held by the tailstock all the time. "
    "The machine's own instructions, your local rules and a trained instructor come before this "
    "page."
)
OUT_OF_CENTRE = ("tap",)  # actions that move a part by its eccentricity
STEP_OF_HAMMER = {"mm": 1e-5, "thou": 1.27e-5}  # m: 0.01 mm, half a thou


@dataclass(frozen=True, eq=False)
class Correction:
    """What to do: a sentence with its numbers, and where it is a tap, the mark and the distance."""

    action: str
    sentence: str
    caution: str
    vector: Vector = field(repr=False)
    marked: bool = field(repr=False)  # whether its mark is known

    @property
    def tap_at(self):
        """The mark to tap, the high spot; NaN where it is not known, or nothing is to be tapped."""
        known = self.action in OUT_OF_CENTRE and self.marked
        return self.vector.angle if known else as_shown(np.nan, "angle")

    @property
    def tap_by(self):
        """How far to move it, mm: the eccentricity, half the total; NaN if nothing is tapped."""
        known = self.action in OUT_OF_CENTRE
        return self.vector.size if known else as_shown(np.nan, "length")


def length_unit(unit):
    """Return a unit in which sentences may state lengths; refuse what is none."""
    return choose(unit, KINDS["length"].units, "unit", "unit of length")


def correction(cause, found, part=None, unit="mm"):
    """Which side is to be tapped, and by how much; or which part is to be put right?

    A part that runs out by the total T lies e = T/2 off the axis, towards its high spot. Tapped at
    the high spot, towards the axis, by e (not by T), it runs true.

    cause: key such as "displaced_disc" or "eccentric_seat". found: `Fit`, `Readings` or `Vector` of
    the part, or its eccentricity alone (length), which leaves the mark open. part: "pad", "disc" or
    "nose" where several can have the cause. unit: for the sentence, such as "thou".
    Returns a `Correction`. Raises InputError naming the argument. Source: round-eccentricity for
    half the total; the cause's row of causes.csv for what to do.

    By hand: readings of 5 and −1 thou are a total of 6 thou, so it is tapped by 3 thou.
    >>> turn = ["0 deg", "90 deg", "180 deg", "270 deg"]
    >>> found = correction("displaced_disc", Readings(turn, ["2 thou", "5 thou", "2 thou",
    ...                                                      "-1 thou"]), unit="thou")
    >>> print(show(found.tap_at), show(found.tap_by, "thou"))
    90.0° 3.00 thou
    """
    cause = cause if isinstance(cause, Cause) else causes.find_cause(cause, part)
    length_unit(unit)
    if isinstance(found, Readings):
        found = found.fit()
    if isinstance(found, Fit):
        found = found.vector
    if not isinstance(found, Vector):
        size = to_core(found, "length", "found", ">= 0")
        found = Vector(np.asarray(size + 0j), np.full((2, 2), np.nan))
        return _written(cause, found, unit, marked=False)
    if np.ndim(found.core):
        raise InputError("found", f"{quote(found)} holds several parts", "Give one")
    return _written(cause, found, unit, marked=bool(found.told))


def _written(cause, vector, unit, marked):
    """Fill the numbers into the sentence of the cause's row."""
    angle = np.degrees(np.angle(vector.core)) % 360
    tapped = cause.action in OUT_OF_CENTRE
    numbers = {
        "size": _by_hand(vector.size, unit) if tapped else show(vector.size, unit, figures=2),
        "angle": f"{_mark(angle)}°" if marked else "its high spot",
        "opposite": f"{_mark(angle + 180)}°" if marked else "the side across from it",
    }
    sentence = cause.mend
    for name, text in numbers.items():
        sentence = sentence.replace("{" + name + "}", text)
    return Correction(cause.action, sentence, CAUTION, vector, marked)


def _by_hand(size, unit):
    """Write how far to tap no more finely than a hammer goes: to 0.01 mm, or to half a thou."""
    step = STEP_OF_HAMMER["thou" if unit in ("thou", "inch") else "mm"]
    steps = int(resolution.steps_near(size.m_as("m"), step))
    if steps < 2:
        return f"about {show(size, unit, figures=1)}"
    number, gap, name = show(as_shown(steps * step, "length"), unit).partition(" ")
    return f"about {number.rstrip('0').rstrip('.') if '.' in number else number}{gap}{name}"


def _mark(degrees):
    """Return whole degrees from 0 to 359; a mark is not set more closely than that."""
    return int(resolution.steps_near(degrees, 1)) % 360
