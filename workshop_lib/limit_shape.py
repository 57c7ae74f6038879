"""The shape of the friction limit curve, in bare numbers, and a table of it that answers fast.

Everything is scaled: radii by the pad's outer radius, force by mu N, torque by mu N r_o. At slip
the disc turns about a centre at distance c; at the point that belongs to c the curve's tangent is
c·f + m = constant, because friction opposes the motion (the dissipation there is a maximum).
"""

from functools import lru_cache

import numpy as np

from workshop_lib.elliptic import complete_integrals

CLUSTER = 4  # nodes crowd as the fourth power towards the ring that the turning centre lies on
NODES, WEIGHTS = np.polynomial.legendre.leggauss(24)
NODES, WEIGHTS = (NODES + 1) / 2, WEIGHTS / 2
DIRECTIONS = 2048  # linear interpolation between them errs by less than 3e-7
RELIEFS = 65  # cubic interpolation between them errs by less than 5e-7
TINY = 1e-30


def limit_points(pressure, relief, centres):
    """Force and torque at slip for each turning centre.

    pressure: a pressure law's name. relief: inner over outer radius, 0 to 1 (1: a thin ring).
    centres: 1-D array of c >= 0. Returns (force, torque), scaled, 1-D each.
    """
    centres = np.asarray(centres, dtype=float)[:, None]
    force = np.zeros(centres.shape[0])
    torque = np.zeros(centres.shape[0])
    split = _place(pressure, relief, np.clip(centres, relief, 1))
    for end in (0.0, 1.0):
        places = split + (end - split) * NODES**CLUSTER
        steps = np.abs(end - split) * CLUSTER * NODES ** (CLUSTER - 1) * WEIGHTS
        radii, density = _ring(pressure, relief, places)
        ring_force, ring_torque = _ring_resistance(radii, centres)
        force += (density * steps * ring_force).sum(axis=1)
        torque += (density * steps * ring_torque).sum(axis=1)
    return force, torque


def _ring_resistance(radius, centre):
    """Mean friction force and torque of a ring of unit load, for a turning centre."""
    total = np.maximum(radius + centre, TINY)
    first, second = complete_integrals(np.maximum(((radius - centre) / total) ** 2, TINY))
    force = ((centre - radius) * first + total * second) / (np.pi * np.maximum(centre, TINY))
    torque = ((radius - centre) * first + total * second) / np.pi
    return np.where(centre == 0, 0.0, force), torque


def _ring(pressure, relief, place):
    """Radius at a place x in 0..1 across the face, and the share of the thrust per unit of x."""
    if pressure in ("rigid_punch", "hertz"):
        radius = np.sin(place * np.pi / 2)
        depth = np.cos(place * np.pi / 2)
        share = radius if pressure == "rigid_punch" else 3 * radius * depth**2
        return radius, share * np.pi / 2
    radius = relief + (1 - relief) * place
    return radius, 2 * radius / (1 + relief) if pressure == "uniform" else np.ones_like(radius)


def _place(pressure, relief, radius):
    """The place x across the face at which a radius lies; the inverse of `_ring`."""
    if pressure in ("rigid_punch", "hertz"):
        return np.arcsin(radius) * 2 / np.pi
    return (radius - relief) / (1 - relief) if relief < 1 else np.zeros_like(radius)


@lru_cache(maxsize=64)
def reach_table(pressure, relief):
    """f + m on the limit curve at DIRECTIONS + 1 even steps of t = m/(f + m) from 0 to 1."""
    return _build_table(pressure, relief)


def _build_table(pressure, relief):
    angle = np.linspace(0, np.pi / 2, 513)[:-1]
    force, torque = limit_points(pressure, relief, np.tan(angle))
    wanted = np.linspace(0, 1, DIRECTIONS + 1)
    share = np.append(torque / (force + torque), 0.0)
    angle = np.append(angle, np.pi / 2)
    centres = np.tan(np.interp(wanted[1:], share[::-1], angle[::-1]))
    force, torque = limit_points(pressure, relief, centres)
    tangent = (centres * force + torque) / (centres * (1 - wanted[1:]) + wanted[1:])
    return np.concatenate([[1.0], tangent])


@lru_cache(maxsize=4)
def _reach_by_relief(pressure):
    """`reach_table` for reliefs from a full pad to a thin ring, one row each.

    The rows crowd at both ends, at even steps of u in relief = sin²(pi u/2): the curve changes as
    relief × log(relief) near a full pad, and in the same way near a thin ring.
    """
    reliefs = np.sin(np.linspace(0, np.pi / 2, RELIEFS)) ** 2
    return np.stack([_build_table(pressure, relief) for relief in reliefs])


def reach(pressure, relief, share):
    """f + m on the limit curve in the direction t = m/(f + m); arrays broadcast together.

    Error against the exact curve at most 1e-6 (a test holds it).
    """
    scaled = np.asarray(share) * DIRECTIONS
    place = np.minimum(scaled.astype(np.intp), DIRECTIONS - 1)
    along = scaled - place
    if np.ndim(relief) == 0 or not np.any(relief):
        table = reach_table(pressure, float(np.max(relief)))
        low = table[place]
        return low + along * (table[place + 1] - low)
    return _reach_across(_reach_by_relief(pressure), np.asarray(relief), place, along)


def _reach_across(rows, relief, place, along):
    """Interpolate between the rows of four neighbouring reliefs by a cubic."""
    scaled = np.arcsin(np.sqrt(relief)) * 2 / np.pi * (RELIEFS - 1)
    start = np.clip(scaled.astype(np.intp) - 1, 0, RELIEFS - 4)
    x = scaled - start
    cubic = (
        -(x - 1) * (x - 2) * (x - 3) / 6,
        x * (x - 2) * (x - 3) / 2,
        -x * (x - 1) * (x - 3) / 2,
        x * (x - 1) * (x - 2) / 6,
    )
    total = 0.0
    for step, weight in enumerate(cubic):
        low = rows[start + step, place]
        total = total + weight * (low + along * (rows[start + step, place + 1] - low))
    return total
