"""What are your own friction and thrust? From readings: a value, how sure, what to plan on.

Two questions are kept apart. How sure is the mean? More readings make it surer (JCGM 100, type A).
Where will the next set-up lie? It scatters as the readings did, however many were taken; that is
what the disc will meet, so that low and high and the spread for a chance of slip answer this one.
"""

from dataclasses import dataclass, field

import numpy as np

from workshop_lib.friction import HIGHEST_FRICTION
from workshop_lib.quantities import (
    InputError,
    as_shown,
    boundary,
    in_system,
    one_value,
    resolution,
    show,
    unit_text,
)
from workshop_lib.sources import Range, choose
from workshop_lib.uncertainty.few_readings import (
    deviation,
    division_spread,
    far_from_the_rest,
    mean_spread,
    next_spread,
    readings,
)
from workshop_lib.uncertainty.procedures import Procedure, how_to
from workshop_lib.uncertainty.propagation import computed, linear_parts, propagate
from workshop_lib.uncertainty.spreads import normal

__all__ = ["Measured", "Procedure", "how_to", "pull_test", "thrust_at_pull", "tilt_test"]

ENOUGH = 5  # readings; 5 % of t lie below 2.1 times the scale with five, below 2.9 with three
ONE_SIDE = 0.05  # share of set-ups that lie below `low`, and of those above `high`
DRAWS, SEED = 200_000, 1
STEEPEST = np.radians(85)
UNSUREST = 0.1  # standard uncertainty of the normal force as a share of it
SOURCES = "jcgm-101 gum prediction-interval"


@dataclass(frozen=True, eq=False)
class Measured:
    """What was measured, and how sure it is: quantities, or plain numbers for friction.

    value: from the mean reading. type_a: standard uncertainty of that mean from the scatter,
    s/sqrt(n). type_b: from the scale's division and the like. scatter: standard deviation s of one
    reading, in its own unit. low, high: 5 % of set-ups to come lie below, and 5 % above. count:
    readings taken. remarks: what they cannot tell, each in a sentence. how: the `Procedure`.
    """

    what: str
    value: object
    type_a: object
    type_b: object
    scatter: object
    low: object
    high: object
    count: int
    remarks: tuple
    how: Procedure = field(repr=False)
    _spreads: dict = field(repr=False)

    @property
    def standard_uncertainty(self):
        """Standard uncertainty of the value, types A and B combined: sqrt(a² + b²)."""
        return (self.type_a**2 + self.type_b**2) ** 0.5

    @property
    def range(self):
        """Low, typical and high, to replace an assumed triple; a margin is quoted on low."""
        note = f"Measured: {self.count} readings."
        return Range(
            self.low, self.value, self.high, sources=SOURCES, standing="measured", note=note
        )

    def spread(self, of="next"):
        """The `Spread` to draw from: where the "next" set-up will lie, or the "mean" of many.

        A chance of slip wants the next one: the disc meets one set-up and not their mean.
        """
        return self._spreads[choose(of, self._spreads, "of", "spread")]

    @property
    def told(self):
        """The value with its standard uncertainty, which is rounded up to one figure, in words."""
        return _to_its_doubt(self.value, self.standard_uncertainty)

    def __str__(self):
        said = f"{self.what}: {self.told} from {self.count} readings"
        return f"{said}; plan on {show(self.low)}"


def _to_its_doubt(value, doubt):
    """Write a value no farther than it is sure."""
    if hasattr(value, "units"):
        value = in_system(value)
        doubt = doubt.to(value.units)
    unit = unit_text(getattr(value, "units", "")).rstrip()
    number, unsure = (float(getattr(each, "magnitude", each)) for each in (value, doubt))
    if not unsure > 0:
        return show(value)
    step = 10.0 ** resolution.steps_down(np.log10(unsure), 1)
    unsure = step * resolution.steps_up(unsure, step)
    places = int(max(-np.log10(step).round(), 0))
    number = step * resolution.steps_near(number, step)
    return f"{number:.{places}f}{unit} ± {unsure:.{places}f}{unit}"


def _judged(test, what, kind, function, values, reading_kind, graduation, **known):
    """Work out a `Measured`. function: of bare reading, division and what else is known."""
    one_value(graduation=graduation)

    def shown(**numbers):
        return as_shown(function(**numbers), kind)

    mean = {"reading": mean_spread(values), "division": division_spread(graduation), **known}
    later = mean | {"reading": next_spread(values)}
    parts = linear_parts(function, mean)
    type_a = abs(parts.pop("reading"))
    words = f"{what} from {values.size} readings"
    outcome = propagate(shown, later, DRAWS, SEED)
    low, high = (outcome.quantile(share) for share in (ONE_SIDE, 1 - ONE_SIDE))
    value = shown(**{name: np.float64(each.best) for name, each in mean.items()})
    return Measured(
        what,
        value,
        as_shown(type_a, kind),
        as_shown(np.sqrt(sum(part**2 for part in parts.values())), kind),
        as_shown(deviation(values), reading_kind),
        max(abs(0 * low), low),
        high,
        values.size,
        (*_remarks(values, reading_kind, graduation, low), *_beyond_belief(value, kind)),
        how_to(test),
        {"next": computed(shown, later, words), "mean": computed(shown, mean, f"mean {words}")},
    )


def _remarks(values, kind, graduation, low):
    if values.size < ENOUGH:
        yield (
            f"Only {values.size} readings: from so few the scatter is hardly known, which puts the "
            f"low value far down. Take {ENOUGH} or more."
        )
    place = far_from_the_rest(values, graduation)
    if place is not None:
        odd = as_shown(values[place], kind)  # as it was read: rounding could hide the wrong digit
        yield (
            f"Reading {place + 1} ({odd.m:.8g}{unit_text(odd.units)}) stands far from the "
            "rest. Look for the cause and repeat it; leave it out only if you know what went wrong."
        )
    if graduation is None and deviation(values) > 0:
        yield "Without the scale's graduation only the scatter counts."
    elif graduation is None:
        yield (
            "All readings are the same, which proves no precision: without the scale's graduation "
            "there is no telling how sure they are."
        )
    if not low > 0:
        yield "These readings promise no hold at all: the low value comes out at nothing."


def _beyond_belief(value, kind):
    if kind == "ratio" and resolution.more_than(value, HIGHEST_FRICTION):
        yield "A friction coefficient above 2 is far beyond every pair known here: check the units."


@boundary(
    pulls=readings("force"),
    normal_force="force > 0",
    graduation="force > 0",
    normal_force_uncertainty="force >= 0",
)
def pull_test(pulls, normal_force, graduation=None, normal_force_uncertainty="0 N"):
    """What friction coefficient do these pulls show?

    mu = F/N, F the pull at which the sheet starts to slide, N the normal force. Standard
    uncertainty of the mean: u² = (s/(N sqrt(n)))² + (d/(N sqrt(12)))² + (mu u_N/N)², s the scatter
    of n readings, d the graduation.

    pulls: three or more forces on one driven face, shape (n,); two faces (a strip pulled out from
    between two pads): halve them. normal_force: weight and sheet together. graduation: one division
    of the scale, or None. normal_force_uncertainty: standard uncertainty of the normal force.
    Returns a `Measured` with plain numbers. Raises InputError naming the reading by its number.
    Notes: static friction, so long as the highest pull before sliding is read. Low and high are of
    the next set-up, by Monte Carlo, t with the scale s sqrt(1 + 1/n). `how_to("pull_test")` has the
    steps and the cautions. Source: jcgm-101; gum; prediction-interval.

    By hand: mean 42 N, s = 1.58 N; u = sqrt(0.707² + 0.289²) N / 100 N.
    >>> found = pull_test(["41 N", "43 N", "40 N", "42 N", "44 N"], "100 N", graduation="1 N")
    >>> print(round(found.value, 6), round(found.standard_uncertainty, 5), found.count)
    0.42 0.00764 5
    """
    one_value(normal_force=normal_force, normal_force_uncertainty=normal_force_uncertainty)
    if resolution.more_than(normal_force_uncertainty, UNSUREST * normal_force):
        problem = f"is more than {UNSUREST:.0%} of the normal force"
        raise InputError("normal_force_uncertainty", problem, "Weigh it more closely")

    def friction(reading, division, normal_force):
        return (reading + division) / normal_force

    weight = normal(normal_force, normal_force_uncertainty)
    about = "pull_test", "friction coefficient", "ratio"
    return _judged(*about, friction, pulls, "force", graduation, normal_force=weight)


@boundary(angles=readings("angle"), graduation="angle > 0")
def tilt_test(angles, graduation=None):
    """What friction coefficient do these angles show?

    mu = tan(a), a the angle to the level at which the sheet starts to slide. Standard uncertainty
    of the mean: u² = (s/sqrt(n))² + d²/12 with s and d in radians, times the slope 1/cos²(a).

    angles: three or more, shape (n,), up to 85°. graduation: one division of the angle gauge, or
    None. Returns a `Measured` with plain numbers. Raises InputError naming the reading by its
    number. Notes: as for `pull_test`; the weight of the sheet falls out. `how_to("tilt_test")` has
    the steps and the cautions. Source: jcgm-101; gum; elementary-mechanics.

    By hand: tan(20°).
    >>> found = tilt_test(["20 deg", "21 deg", "19 deg", "20.5 deg", "19.5 deg"], "0.5 deg")
    >>> print(round(found.value, 4))
    0.364
    """
    for number, angle in enumerate(angles, start=1):
        if resolution.more_than(angle, STEEPEST):
            problem = "is steeper than 85 degrees, where nothing presses the sheet down"
            raise InputError(f"angles, reading {number}", problem)

    def friction(reading, division):
        return np.tan(np.clip(reading + division, 0, STEEPEST))

    about = "tilt_test", "friction coefficient", "ratio"
    return _judged(*about, friction, angles, "angle", graduation)


@boundary(forces=readings("force"), graduation="force > 0")
def thrust_at_pull(forces, graduation=None):
    """What thrust does this pull on the handwheel give?

    N = mean of the readings. Standard uncertainty of the mean: u² = s²/n + d²/12, s the scatter of
    n readings, d the graduation.

    forces: three or more readings of a scale between nose and pad, each time wound up again with
    the same pull, shape (n,). graduation: one division of the scale, or None. Returns a `Measured`
    with forces in N. Raises InputError naming the reading by its number. Notes: as for `pull_test`.
    The pull carries over from the scale to the disc, the angle of the handwheel does not: see
    `thrust.calibrate`. `how_to("thrust_at_pull")` has the steps and the cautions. Source: jcgm-101;
    gum; prediction-interval.

    By hand: mean 600 N, s = 15.81 N; u = sqrt(7.071² + 2.887²) N.
    >>> taken = ["590 N", "610 N", "580 N", "600 N", "620 N"]
    >>> found = thrust_at_pull(taken, graduation="10 N")
    >>> print(found.value.round(6), found.standard_uncertainty.round(2))
    600.0 N 7.64 N
    """

    def thrust(reading, division):
        return reading + division

    return _judged("thrust_at_pull", "thrust", "force", thrust, forces, "force", graduation)
