"""What shape is the friction limit curve? Bare numbers, and a table of it that answers fast.

Everything is scaled: radii by the pad's outer radius, force by mu N, torque by mu N r_o. At slip
the disc turns about a centre at distance c; at the point that belongs to c the curve's tangent is
c·f + m = constant, because friction opposes the motion (the dissipation there is a maximum).
"""

from functools import lru_cache

import numpy as np

CLUSTER = 4  # nodes crowd as the fourth power towards the ring that the turning centre lies on
NODES = 32  # on either side of it
DIRECTIONS = 2048  # linear interpolation between them errs by less than 3e-7
RELIEFS = 65  # cubic interpolation between them errs by less than 5e-7
POINTS = 513  # exact ones behind each table
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
    nodes, weights = _gauss()
    for end in (0.0, 1.0):
        places = split + (end - split) * nodes**CLUSTER
        steps = np.abs(end - split) * CLUSTER * nodes ** (CLUSTER - 1) * weights
        radii, density = _ring(pressure, relief, places)
        ring_force, ring_torque = _ring_resistance(radii, centres)
        force += (density * steps * ring_force).sum(axis=1)
        torque += (density * steps * ring_torque).sum(axis=1)
    return force, torque


@lru_cache(maxsize=1)
def _gauss():
    """Gauss's nodes and weights on 0 to 1."""
    nodes, weights = np.polynomial.legendre.leggauss(NODES)
    return (nodes + 1) / 2, weights / 2


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
    """Lay a cubic through points of the curve whose tangents are known, and read it evenly."""
    centres = np.tan(np.linspace(0, np.pi / 2, POINTS)[:-1])
    force, torque = limit_points(pressure, relief, centres)
    length = force + torque
    share = torque / length
    slope = length * (centres - 1) / (share + centres * (1 - share))
    # The last point, pure side force, has f = 1 and m = 0 for a centre at infinity; t runs upwards.
    knots, values, slopes = (
        np.append(column, end)[::-1] for column, end in ((share, 0), (length, 1), (slope, 1))
    )
    wanted = np.linspace(0, 1, DIRECTIONS + 1)
    left = np.clip(np.searchsorted(knots, wanted, side="right") - 1, 0, POINTS - 2)
    width = knots[left + 1] - knots[left]
    x = (wanted - knots[left]) / width
    chord = values[left] + x * (values[left + 1] - values[left])
    rise = values[left + 1] - values[left]
    bend = (1 - x) * (slopes[left] * width - rise) - x * (slopes[left + 1] * width - rise)
    return chord + x * (1 - x) * bend


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
    low, step, along = _cell(pressure, relief, share)
    return low + along * step


def reach_and_slope(pressure, relief, share):
    """`reach`, and how it changes with the direction t."""
    low, step, along = _cell(pressure, relief, share)
    return low + along * step, step * DIRECTIONS


def _cell(pressure, relief, share):
    """The table's value before a direction, the step to its next value, and how far along it is."""
    scaled = np.asarray(share) * DIRECTIONS
    place = np.minimum(scaled.astype(np.intp), DIRECTIONS - 1)
    if np.ndim(relief) == 0 or not np.any(relief):
        table = reach_table(pressure, float(np.max(relief)))
        low = table[place]
        return low, table[place + 1] - low, scaled - place
    low, high = _across(_reach_by_relief(pressure), np.asarray(relief), place)
    return low, high - low, scaled - place


def _across(rows, relief, place):
    """Two neighbouring values of the table, each by a cubic through the four nearest reliefs."""
    scaled = np.arcsin(np.sqrt(relief)) * 2 / np.pi * (RELIEFS - 1)
    start = np.clip(scaled.astype(np.intp) - 1, 0, RELIEFS - 4)
    x = scaled - start
    cubic = (
        -(x - 1) * (x - 2) * (x - 3) / 6,
        x * (x - 2) * (x - 3) / 2,
        -x * (x - 1) * (x - 3) / 2,
        x * (x - 1) * (x - 2) / 6,
    )
    low = sum(weight * rows[start + k, place] for k, weight in enumerate(cubic))
    high = sum(weight * rows[start + k, place + 1] for k, weight in enumerate(cubic))
    return low, high


STEPS = 12  # enough for 1 − m down to 1e-30


def complete_integrals(complement):
    """Complete elliptic integrals K and E for the complementary parameter 1 − m.

    K = pi/(2 agm(1, sqrt(1 − m))), E = K (1 − sum 2^(n−1) c_n²).

    complement: array of 1 − m, each in (0, 1]; taking the complement keeps full accuracy as m
    nears 1. Returns (K, E), same shape.
    Source: dlmf-19 (NIST Digital Library of Mathematical Functions, 19.8.1 and 19.8.6).

    >>> K, E = complete_integrals(np.array([1.0]))
    >>> print((K / np.pi).round(12), (E / np.pi).round(12))
    [0.5] [0.5]
    """
    larger = np.ones_like(complement)
    smaller = np.sqrt(complement)
    total = (1 - complement) / 2
    weight = 0.5
    for _ in range(STEPS):
        difference = (larger - smaller) / 2
        larger, smaller = (larger + smaller) / 2, np.sqrt(larger * smaller)
        weight *= 2
        total = total + weight * difference**2
        if np.max(difference) < 1e-9:  # the next step squares it, below rounding
            break
    first = np.pi / (2 * larger)
    return first, first * (1 - total)
