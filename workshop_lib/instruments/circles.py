"""Which four circles of ISO 12181 fit a profile? Least squares, minimum zone, largest, smallest.

A profile is given as complex places about any point well inside it. Each of the last three circles
is a small linear programme in the shift of the centre and the radius, solved exactly by exchange
and set up anew about the centre found until that stays where it is.
"""

from dataclasses import dataclass
from itertools import combinations

import numpy as np

from workshop_lib.quantities import InputError

ROUNDS, EXCHANGES = 20, 500
STILL = 1e-13  # of the radius: a smaller step of the centre is none
FEWEST = 8


@dataclass(frozen=True)
class Circle:
    """A circle and the band about its centre that holds the whole profile.

    centre: complex. radius: of the circle; of a minimum zone, midway. zone: width of the band, the
    departure from roundness by this circle.
    """

    centre: complex
    radius: float
    zone: float


def least_squares(places):
    """Which circle has the least sum of squared distances? Gauss-Newton from the algebraic start.

    >>> square = np.array([1, 1j, -1, -1j, *(np.exp(1j * np.pi * np.arange(1, 8, 2) / 4))])
    >>> found = least_squares(square + 3)
    >>> print(round(found.centre.real, 9), round(found.radius, 9))
    3.0 1.0
    """
    places = _checked(places)
    design = np.column_stack([2 * places.real, 2 * places.imag, np.ones(len(places))])
    x, y, _ = np.linalg.lstsq(design, np.abs(places) ** 2, rcond=None)[0]
    centre = complex(x, y)
    for _ in range(ROUNDS):
        away = places - centre
        radius = np.abs(away)
        design = np.column_stack([away.real / radius, away.imag / radius, np.ones(len(places))])
        right, down, mean = np.linalg.lstsq(design, radius, rcond=None)[0]
        centre += complex(right, down)
        if np.hypot(right, down) <= STILL * mean:
            break
    return _circle(places, centre)


def minimum_zone(places):
    """Which two concentric circles hold the profile between them and lie closest together?"""
    places = _checked(places)
    centre = _settled(places, _narrowest)
    distance = np.abs(places - centre)
    low, high = float(distance.min()), float(distance.max())
    return Circle(centre, (low + high) / 2, high - low)


def smallest_round(places):
    """Which is the smallest circle with the whole profile in it (the smallest ring to pass it)?"""
    places = _checked(places)
    centre = _settled(places, _smallest)
    distance = np.abs(places - centre)
    return Circle(centre, float(distance.max()), float(np.ptp(distance)))


def largest_in(places):
    """Which is the largest circle that fits inside the profile?"""
    places = _checked(places)
    centre = _settled(places, lambda unit, radius: _smallest(-unit, -radius))
    distance = np.abs(places - centre)
    return Circle(centre, float(distance.min()), float(np.ptp(distance)))


def _checked(places):
    places = np.asarray(places, complex)
    if places.ndim != 1 or len(places) < FEWEST or not np.isfinite(places).all():
        raise InputError("places", f"give at least {FEWEST} points in one list")
    spread = np.linalg.svd(np.stack([places.real, places.imag]) - _middle(places), compute_uv=False)
    if spread[1] <= 1e-6 * spread[0] or not spread[0] > 0:
        raise InputError("places", "the points are on one line, so they do not give a circle")
    return places


def _middle(places):
    return np.array([[places.real.mean()], [places.imag.mean()]])


def _circle(places, centre):
    distance = np.abs(places - centre)
    return Circle(complex(centre), float(distance.mean()), float(np.ptp(distance)))


def _settled(places, programme):
    """Shift the centre by the programme's answer until it stays."""
    centre = least_squares(places).centre
    for _ in range(ROUNDS):
        away = places - centre
        radius = np.abs(away)
        shift = programme(away / radius, radius)
        centre += shift
        if abs(shift) <= STILL * radius.mean():
            break
    return centre


def _smallest(unit, radius):
    """Shift of the centre that makes the largest distance least, distances taken as straight lines.

    By exchange: take in the point that lies farthest outside; of the four points then keep the
    three whose own smallest circle is largest.
    """
    design = np.column_stack([unit.real, unit.imag, np.ones(len(unit))])
    return _exchange(design, radius, 3, _three)


def _narrowest(unit, radius):
    """Shift that makes the band narrowest: the best fit in the largest deviation, by exchange."""
    design = np.column_stack([unit.real, unit.imag, np.ones(len(unit))])
    return _exchange(design, radius, 4, _four)


def _exchange(design, radius, size, solve):
    """Climb from one small set of points to the next until no other point lies farther out.

    size: 3 for the circle round them, 4 for a band, whose deviations count either way.
    """
    kept = _surrounding(design[:, 0] + 1j * design[:, 1], size)
    solution, level = solve(design[kept], radius[kept])
    near, seen = 1e-13 * np.abs(radius).max(), {frozenset(kept)}
    for _ in range(EXCHANGES):
        off = radius - design @ solution
        off, bound = (off, 0.0) if size == 3 else (np.abs(off), level)
        worst = int(np.argmax(off))
        if off[worst] <= bound + near:
            break
        sets = [[*some, worst] for some in combinations(kept, size - 1)]
        trials = [(solve(design[some], radius[some]), some) for some in sets]
        trials = [each for each in trials if each[0] is not None]
        if not trials:
            break
        (better, higher), some = max(trials, key=lambda each: each[0][1])
        # two points opposite each other hold the level for a step: only a set met before ends it
        if frozenset(some) in seen or higher < level - near:
            break
        seen.add(frozenset(some))
        solution, level, kept = better, higher, some
    return complex(solution[0], solution[1])


def _surrounding(unit, size):
    """Return the indices of three or four points that surround the centre."""
    turned = np.angle(unit / unit[0]) % (2 * np.pi)
    before, after = turned < np.pi, turned >= np.pi
    if not after.any():
        raise InputError("places", "the points cover no more than half a turn")
    last = int(np.argmax(np.where(before, turned, -1)))
    first = int(np.argmin(np.where(after, turned, np.inf)))
    if turned[first] - turned[last] > np.pi:
        raise InputError("places", "the points cover no more than half a turn")
    found = [0, last, first] if last else [0, first]
    for spare in range(1, len(unit)):
        if len(found) >= size:
            break
        if spare not in found:
            found.append(spare)
    return found[:size]


def _three(design, radius):
    """Smallest circle of three points that surround the centre: its shift, radius and level."""
    try:
        solution = np.linalg.solve(design, radius)
        weights = np.linalg.solve(design.T, [0.0, 0.0, 1.0])
    except np.linalg.LinAlgError:
        return None
    return (solution, float(solution[2])) if weights.min() >= -1e-9 else None


def _four(design, radius):
    """Band of four points: the fit whose four deviations are equally large, and how large."""
    null = np.linalg.svd(design.T)[2][-1]
    total = np.abs(null).sum()
    level = float(null @ radius / total)
    signs = np.where(null >= 0, 1.0, -1.0)
    solution = np.linalg.lstsq(design, radius - level * signs, rcond=None)[0]
    return solution, abs(level)
