"""Which checks must a loaded bearing pass, with what margin, and why?"""

from dataclasses import dataclass

import numpy as np

from workshop_lib.bearings.bearing_loads import (
    axial_limit,
    equivalent_load,
    life_revolutions,
    recommended_safety,
    static_equivalent_load,
)
from workshop_lib.bearings.bearing_tables import BALL_KINDS
from workshop_lib.bearings.ratings import ROLLER_PRESSURE, STATIC_PRESSURE
from workshop_lib.quantities import InputError, as_shown, rounded_down, show


@dataclass(frozen=True, eq=False)
class Check:
    """One check: what is compared, how many times the load could grow, and why."""

    name: str
    margin: object
    reason: str


def one_case(**loads):
    """Refuse arrays by name where an answer is for one load case at a time."""
    for name, value in loads.items():
        if np.ndim(value):
            raise InputError(name, "works on one case at a time", "Give a single value")


def static_margin(bearing, axial, radial, heaviest, demand="normal"):
    """C0/(s0 P0) for bare loads in N that broadcast; infinite without load.

    A thrust bearing that is pressed harder on one side is judged by its most loaded ball, as if
    all of them were loaded so: P0 = Z × that load.
    """
    load = static_equivalent_load.core(
        bearing, axial, np.where(bearing.kind == "thrust_ball", 0, radial)
    )
    if bearing.kind == "thrust_ball" and bearing.inside is not None:
        load = np.maximum(load, bearing.inside.elements * np.asarray(heaviest))
    with np.errstate(divide="ignore"):
        return np.divide(
            bearing.core.static_rating, recommended_safety.core(bearing, demand) * load
        )


def limit_margin(bearing, axial):
    """Axial limit over axial load; infinite without load or limit."""
    with np.errstate(divide="ignore", invalid="ignore"):
        share = np.divide(axial_limit.core(bearing), axial)
    return np.where(np.asarray(axial) > 0, share, np.inf)


def pressure_margin(bearing, pressure, demand="normal"):
    """How many times the load could grow until the most loaded ball or roller marks its groove."""
    allowed, power = (STATIC_PRESSURE, 3) if bearing.kind in BALL_KINDS else (ROLLER_PRESSURE, 2)
    with np.errstate(divide="ignore"):
        growth = np.divide(allowed, pressure) ** power
    return growth / recommended_safety.core(bearing, demand)


def checks(bearing, axial, radial, heaviest, pressure, speed=None, demand="normal"):
    """The checks of one bearing under single bare loads in N, Pa and rad/s; () without load."""
    if axial == 0 and radial == 0 and heaviest == 0:
        return ()
    safety = recommended_safety.core(bearing, demand)
    found = [
        _static(bearing, axial, radial, heaviest, safety, demand),
        _pressed(bearing, heaviest, pressure, demand),
    ]
    limit = axial_limit.core(bearing)
    if axial > 0 and np.isfinite(limit):
        most = show(rounded_down(as_shown(limit, "force"), 4), figures=4)
        words = f"axial load {_force(axial)} against a limit of {most} for {bearing.name}"
        found.append(Check("axial limit", float(limit_margin(bearing, axial)), words))
    if speed is not None:
        found.append(_life(bearing, axial, radial, speed))
    return tuple(found)


def _force(value):
    return show(as_shown(value, "force"))


def _static(bearing, axial, radial, heaviest, safety, demand):
    margin = float(static_margin(bearing, axial, radial, heaviest, demand))
    ratio = show(margin * safety)
    words = f"static safety of {bearing.name} is {ratio}, where {show(safety)} is advised"
    return Check("static safety", margin, words)


def _pressed(bearing, heaviest, pressure, demand):
    margin = float(pressure_margin(bearing, pressure, demand))
    body = "ball" if bearing.kind in BALL_KINDS else "roller"
    peak = show(as_shown(pressure, "pressure"))
    words = f"the most loaded {body} of {bearing.name} carries {_force(heaviest)} at {peak}"
    return Check("contact pressure", margin, words)


def _life(bearing, axial, radial, speed):
    """Rating life as a check without a demand: its margin is infinite, its words say the hours."""
    radial = 0.0 if bearing.kind == "thrust_ball" else radial
    load = equivalent_load.core(bearing, axial, radial)
    hours = 2 * np.pi * life_revolutions(bearing, load) / speed / 3600
    told = f"{show(float(hours), figures=2)} h" if hours < 1e5 else "more than 100 000 h"
    words = f"rating life of {bearing.name}: {told}"
    return Check("rating life", np.inf, words)
