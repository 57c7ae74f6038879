"""What does a load do to a bearing? Equivalent load, life, static safety and limits.

All of it is catalogue practice (ISO 281 and ISO 76) on printed ratings; nothing here looks inside.
"""

from dataclasses import dataclass

import numpy as np

from workshop_lib import sources
from workshop_lib.bearings.bearing_tables import RADIAL_ONLY, catalogue
from workshop_lib.quantities import InputError, as_shown, boundary
from workshop_lib.sources import csv_tables

CLASSES = ("normal", "C3", "C4")
DEMANDS = ("normal", "shock", "quiet")
MILLION = 1e6
ANGULAR = {"e": 1.14, "X": 0.35, "Y": 0.57, "X0": 0.5, "Y0": 0.26}  # 40°: skf-2018
SMALL_BORE = 12e-3  # m; up to this bore a deep-groove bearing may carry less axial load
LIGHT_SERIES = (8, 9, 0, 1)
# Smallest advisable C0/P0 (ntn-2203, table 3.6; needles: skf-2018).
_SAFETY = {"ball": (1.0, 1.5, 2.0), "roller": (1.5, 3.0, 3.0), "needle": (3.0, 3.0, 3.0)}
_LOAD = {"bearing": catalogue, "axial": "force >= 0", "radial": "force >= 0"}
_NUMBER = csv_tables.number(0, 10)
_COLUMNS = {
    "class": csv_tables.one_of(*CLASSES),
    **dict.fromkeys(("load_ratio", "e", "X", "Y"), _NUMBER),
    "source": sources.keys_in_cell,
}


def _factors(rows):
    """For each clearance class the columns of its table, as arrays that rise with the load."""
    found = {}
    for row in rows:
        columns = found.setdefault(row["class"], {"load_ratio": [], "e": [], "X": [], "Y": []})
        if columns["load_ratio"] and columns["load_ratio"][-1] >= row["load_ratio"]:
            raise row.error("load_ratio does not rise from row to row")
        for name, column in columns.items():
            column.append(row[name])
    return found


def deep_groove_factors(bearing, axial, clearance="normal"):
    """e, X and Y of a deep-groove bearing under an axial load in N, interpolated in f0 Fa/C0."""
    table = csv_tables.load("bearing_factors.csv", _COLUMNS, _factors)[clearance]
    ratio = bearing.core.f0 * np.asarray(axial) / bearing.core.static_rating
    return tuple(np.interp(ratio, table["load_ratio"], table[name]) for name in ("e", "X", "Y"))


def _refuse_what_it_cannot_carry(bearing, axial, radial):
    if bearing.kind in RADIAL_ONLY and np.any(axial):
        problem = f"{bearing.name} carries no axial load at all"
        raise InputError("axial", problem, "Give 0 N, or choose a ball bearing")
    if bearing.kind == "thrust_ball" and np.any(radial):
        problem = f"{bearing.name} carries no radial load"
        raise InputError("radial", problem, "Give 0 N; another bearing must take it")


@boundary(returns="force", clearance=CLASSES, **_LOAD)
def equivalent_load(bearing, axial, radial, clearance="normal"):
    """Which steady radial (thrust bearing: axial) load would wear this bearing out as fast?

    P = Fr while Fa/Fr <= e, else X Fr + Y Fa. Deep groove: e, X, Y from the table, straight lines
    in f0 Fa/C0 between its rows. Angular contact 40°: e 1.14, X 0.35, Y 0.57. Thrust ball: P = Fa.
    Cylindrical and needle rollers: P = Fr.

    bearing: designation or `Bearing`. axial Fa, radial Fr (one or both): forces. clearance: class
    of a deep-groove bearing, "normal", "C3" or "C4". Arrays broadcast together. Returns a force in
    N. Raises InputError, also for a load that the kind of bearing cannot carry. Notes: beyond the
    table's ends (f0 Fa/C0 below 0.172 or above 6.89) its end values hold.
    Source: skf-2018, nsk-catalogue, ntn-2203.

    Pure thrust on a 6202: f0 Fa/C0 = 13.2 × 600/3750 = 2.11, Y about 1.31, P = 1.31 × 600 N.
    >>> print(equivalent_load("6202", "600 N", "0 N").round(-1))
    780.0 N
    """
    _refuse_what_it_cannot_carry(bearing, axial, radial)
    if bearing.kind == "deep_groove":
        e, x, y = deep_groove_factors(bearing, axial, clearance)
    elif bearing.kind == "angular_contact":
        e, x, y = (ANGULAR[name] for name in ("e", "X", "Y"))
    else:
        return axial + radial  # one of them is zero
    return np.where(axial > e * np.asarray(radial), x * radial + y * axial, radial)[()]


@boundary(returns="force", **_LOAD)
def static_equivalent_load(bearing, axial, radial):
    """Which plain load would press the balls of this bearing, at rest, as hard?

    P0 = 0.6 Fr + 0.5 Fa (deep groove) or 0.5 Fr + 0.26 Fa (angular contact 40°), never less than
    Fr. Thrust ball: P0 = Fa. Rollers: P0 = Fr.

    bearing: designation or `Bearing`. axial, radial: forces, broadcast together. Returns a force
    in N. Raises InputError, also for a load that the kind of bearing cannot carry.
    Source: skf-2018; the 0.5 of angular contact is from-memory.

    >>> print(static_equivalent_load("6202", "600 N", "0 N"))
    300.0 N
    """
    _refuse_what_it_cannot_carry(bearing, axial, radial)
    x, y = {
        "deep_groove": (0.6, 0.5),
        "angular_contact": (ANGULAR["X0"], ANGULAR["Y0"]),
    }.get(bearing.kind, (1.0, 1.0))
    return np.maximum(x * np.asarray(radial) + y * np.asarray(axial), radial)[()]


@dataclass(frozen=True, eq=False)
class Life:
    """Rating life: what nine bearings out of ten reach."""

    revolutions: object  # plain number
    hours: object  # quantity, h
    equivalent_load: object  # quantity, N


def life_revolutions(bearing, load):
    """Rating life in revolutions under an equivalent load in N; infinite without load."""
    with np.errstate(divide="ignore"):
        return MILLION * np.divide(bearing.core.dynamic_rating, load) ** bearing.exponent


@boundary(clearance=CLASSES, speed="speed > 0", **_LOAD)
def rating_life(bearing, axial, radial, speed, clearance="normal"):
    """How long does this bearing last under that load, nine times out of ten?

    L10 = (C/P)^p million revolutions, p = 3 for balls and 10/3 for rollers; hours = L10/(60 n).

    bearing: designation or `Bearing`. axial, radial: forces. speed: quantity. clearance: "normal",
    "C3" or "C4". Arrays broadcast together. Returns a `Life` with `.revolutions` (plain number),
    `.hours` and `.equivalent_load`; infinite without load. Raises InputError. Notes: clean
    lubricant, constant load, reliability 90 %. Source: skf-2018, ntn-2203.

    A radial load of a tenth of C lasts 10³ million turns: 16 667 h at 1000 rev/min.
    >>> life = rating_life("6202", "0 N", "765 N", "1000 rev/min")
    >>> print(f"{life.revolutions:.0f}", life.hours.round())
    1000000000 16667.0 h
    """
    load = equivalent_load.core(bearing, axial, radial, clearance)
    revolutions = life_revolutions(bearing, load)
    seconds = as_shown(2 * np.pi * revolutions / speed, "time")
    return Life(revolutions[()], seconds.to("hour"), as_shown(load, "force"))


@boundary(returns="ratio", **_LOAD)
def static_safety(bearing, axial, radial):
    """How many times that load can this bearing carry at rest before the balls mark the groove?

    s0 = C0/P0.

    bearing: designation or `Bearing`. axial, radial: forces, broadcast together. Returns a ratio;
    infinite without load. Raises InputError. Notes: judge it by `recommended_safety`; a
    deep-groove bearing also has its `axial_limit`. Source: skf-2018, iso-76.

    By hand: 3750/(0.5 × 600).
    >>> static_safety("6202", "600 N", "0 N")
    12.5
    """
    load = static_equivalent_load.core(bearing, axial, radial)
    with np.errstate(divide="ignore"):
        return np.divide(bearing.core.static_rating, load)


@boundary(returns="ratio", bearing=catalogue, demand=DEMANDS)
def recommended_safety(bearing, demand="normal"):
    """What static safety should a bearing of this kind keep?

    Balls: normal 1, shock 1.5, quiet 2. Cylindrical rollers: 1.5, 3, 3. Drawn-cup needles: 3.

    bearing: designation or `Bearing`. demand: "normal", "shock" (an interrupted cut) or "quiet".
    Returns a ratio. Raises InputError. Source: ntn-2203, skf-2018.

    >>> recommended_safety("6202", "shock"), recommended_safety("HK 1010")
    (1.5, 3.0)
    """
    shape = {"cylindrical_roller": "roller", "drawn_cup_needle": "needle"}.get(bearing.kind, "ball")
    return _SAFETY[shape][DEMANDS.index(demand)]


@boundary(returns="force", bearing=catalogue)
def axial_limit(bearing):
    """How much axial load may this bearing carry, whatever its life and its static safety say?

    Deep groove: 0.5 C0, or 0.25 C0 for a bore up to 12 mm and for diameter series 8, 9, 0 and 1.
    Beyond it the spot of contact climbs over the shoulder of the groove. Angular-contact and thrust
    bearings: no limit of this kind. Rollers: none at all, 0 N.

    bearing: designation or `Bearing`. Returns a force in N; infinite where no such limit is set.
    Raises InputError. Source: skf-2018, skf-axial-limits, ntn-2203 (the reason).

    >>> print(axial_limit("6202"), axial_limit("6201"))
    1875.0 N 762.5 N
    """
    if bearing.kind in RADIAL_ONLY:
        return 0.0
    if bearing.kind != "deep_groove":
        return np.inf
    light = bearing.core.bore <= SMALL_BORE or bearing.core.diameter_series in LIGHT_SERIES
    return (0.25 if light else 0.5) * bearing.core.static_rating


@boundary(returns="force", bearing=catalogue, speed="speed >= 0")
def minimum_load(bearing, speed):
    """How much load does this bearing need, so that its balls roll and do not skid?

    Thrust ball: A (n/1000)², axial, n in rev/min. Other balls: 0.01 C; rollers: 0.02 C.

    bearing: designation or `Bearing`. speed: quantity; only a thrust bearing asks for it. Returns
    a force in N. Raises InputError. Source: skf-2018.

    >>> print(minimum_load("51102", "2000 rev/min").round(3), minimum_load("6202", "0 rev/min"))
    6.8 N 76.5 N
    """
    if bearing.core.minimum_load is not None:
        return bearing.core.minimum_load * (speed * 60 / (2 * np.pi) / 1000) ** 2
    share = 0.02 if bearing.kind in RADIAL_ONLY else 0.01
    return share * bearing.core.dynamic_rating + 0.0 * speed
