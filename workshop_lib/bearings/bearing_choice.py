"""Which small bearing will do for a thrust, a speed and a life, and what limits it?"""

from dataclasses import dataclass, field

import numpy as np

from workshop_lib.bearings.bearing_checks import Check, limit_margin, one_case, static_margin
from workshop_lib.bearings.bearing_loads import (
    DEMANDS,
    MILLION,
    axial_limit,
    equivalent_load,
    minimum_load,
    recommended_safety,
)
from workshop_lib.bearings.bearing_tables import KINDS_OF_BEARING, RADIAL_ONLY, Bearing, bearings
from workshop_lib.quantities import InputError, as_shown, boundary, rounded_down, show


@dataclass(frozen=True, eq=False)
class Choice:
    """One bearing judged for a task: whether it will do, its margins, what governs and why."""

    bearing: Bearing
    checks: tuple = field(repr=False)

    @property
    def governing(self):
        """The check with the least margin."""
        return min(self.checks, key=lambda check: check.margin)

    @property
    def margin(self):
        """How many times the load could grow (for the least load: shrink) before a check fails."""
        return self.governing.margin

    @property
    def serves(self):
        """Whether every check is met."""
        return self.margin >= 1

    @property
    def governs(self):
        """Name of the check that governs: life, static safety, axial limit, least load or kind."""
        return self.governing.name

    @property
    def reason(self):
        """What governs, in words."""
        return self.governing.reason


def _one_kind(value, name):
    """None, or the key of a kind of bearing."""
    if isinstance(value, str) and value in KINDS_OF_BEARING:
        return value
    raise InputError(name, "is not a kind of bearing", f"Known: {', '.join(KINDS_OF_BEARING)}")


@boundary(
    thrust="force >= 0",
    speed="speed > 0",
    hours="time > 0",
    side_force="force >= 0",
    demand=DEMANDS,
    kind=_one_kind,
)
def choose(thrust, speed, hours, side_force="0 N", demand="normal", kind=None):
    """Which of the small bearings carries this thrust at this speed for so long, and what governs?

    Life: C/(P (60 n h/10⁶)^(1/p)). Static safety: C0/(s0 P0). Axial limit: limit/thrust. Least
    load: load/minimum load. A bearing will do if all of them are 1 or more.

    thrust, side_force: one force each, on this bearing. speed: quantity. hours: time that nine
    bearings out of ten shall reach. demand: "normal", "shock" or "quiet". kind: None, or one kind
    of bearing such as "deep_groove". Returns a list of `Choice`: those that will do first, from the
    smallest outside diameter up. Raises InputError. Notes: the highest speed
    that a bearing allows is not checked; its catalogue prints one. Source: skf-2018,
    nsk-catalogue, ntn-2203.

    By hand, 51100 for 1 kN over 10⁶ turns: C/P = 9.95, C0/P0 = 15.3; so its life governs.
    >>> best = choose("1 kN", "1000 rev/min", "16.6667 h", kind="thrust_ball")[0]
    >>> print(best.bearing.designation, best.governs, round(best.margin, 2))
    51100 life 9.95
    """
    one_case(thrust=thrust, side_force=side_force, speed=speed, hours=hours)
    if thrust == 0 and side_force == 0:
        raise InputError("thrust", "there is no load to choose a bearing for")
    task = {"speed": speed, "seconds": hours, "demand": demand}
    found = [Choice(each, _checks(each, thrust, side_force, **task)) for each in bearings(kind)]
    return sorted(found, key=_rank)


def _rank(choice):
    return not choice.serves, choice.bearing.core.outside_diameter, -choice.margin


def _checks(bearing, axial, radial, speed, seconds, demand):
    """The checks of one bearing under bare loads."""
    if (axial and bearing.kind in RADIAL_ONLY) or (radial and bearing.kind == "thrust_ball"):
        lacking = "axial" if axial and bearing.kind in RADIAL_ONLY else "radial"
        return (Check("kind", 0.0, f"{bearing.name} carries no {lacking} load"),)
    load = equivalent_load.core(bearing, axial, radial)
    turns = speed * seconds / (2 * np.pi)
    life = bearing.core.dynamic_rating / (load * (turns / MILLION) ** (1 / bearing.exponent))
    static = static_margin(bearing, axial, radial, 0.0, demand)
    least = minimum_load.core(bearing, speed)
    safety = recommended_safety.core(bearing, demand)
    force = {
        name: show(as_shown(value, "force")) for name, value in (("load", load), ("least", least))
    }
    found = [
        Check("life", float(life), f"C is {show(float(life))} times what that life needs"),
        Check(
            "static safety",
            float(static),
            f"static safety {show(float(static * safety))}, where {show(safety)} is advised",
        ),
        Check(
            "least load", float(load / least), f"{force['load']}, where {force['least']} is needed"
        ),
    ]
    limit = axial_limit.core(bearing)
    if axial and np.isfinite(limit):
        share = float(limit_margin(bearing, axial))
        most = show(rounded_down(as_shown(limit, "force"), 4), figures=4)
        words = f"axial limit {most}: {show(share)} times the thrust"
        found.append(Check("axial limit", share, words))
    return tuple(found)
