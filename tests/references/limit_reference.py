"""The friction limit curve worked out a second way, with SciPy alone, for tests and benchmarks.

Nothing here comes from the library. Radii are scaled by the pad's outer radius, forces by mu N,
torques by mu N r_o. `by_arrows` adds up friction vectors over the face; `point` is quicker and
takes the sum round each ring in closed form (`ring`, which a test holds against the arrows).
"""

import numpy as np
from scipy.integrate import quad
from scipy.optimize import brentq
from scipy.special import ellipe, ellipkm1

FULL_AND_RELIEVED = [
    ("uniform", 0.0),
    ("uniform", 0.4),
    ("uniform", 0.95),
    ("uniform_wear", 0.0),
    ("uniform_wear", 0.4),
    ("uniform_wear", 0.95),
    ("rigid_punch", 0.0),
    ("hertz", 0.0),
]


def load_within(pressure, relief):
    """Return the share of the thrust per unit of radius, 2 pi r p(r)/N, as a function of radius.

    uniform p = const; uniform wear p r = const (Shigley, clutches); rigid flat punch
    p = N/(2 pi a² sqrt(1 − s²)) and Hertz p = 3N/(2 pi a²) sqrt(1 − s²), s = r/a (Johnson, Contact
    Mechanics, sections 3.7 and 4.2: from memory; each is held to add up to the thrust by a test).
    """
    return {
        "uniform": lambda r: 2 * r / (1 - relief**2),
        "uniform_wear": lambda r: 1 / (1 - relief),
        "rigid_punch": lambda r: r / np.sqrt(1 - r**2),
        "hertz": lambda r: 3 * r * np.sqrt(1 - r**2),
    }[pressure]


def across(pressure, relief, function, split):
    """Integrate load × function(radius) over the face, with a break where the integrand kinks."""
    load = load_within(pressure, relief)
    ends = [relief, *([split] if relief < split < 1 else []), 1.0]
    total = 0.0
    for start, end in zip(ends, ends[1:], strict=False):
        # r = sin(u) takes the root's infinity at the rim away, and harms no other law.
        total += quad(
            lambda u: load(np.sin(u)) * function(np.sin(u)) * np.cos(u),
            np.arcsin(start),
            np.arcsin(end) - (1e-12 if end == 1.0 else 0.0),
            limit=200,
            epsabs=1e-11,
            epsrel=1e-11,
        )[0]
    return total


def ring(radius, centre):
    """Return mean force and torque of a ring that turns about a centre, by SciPy's integrals."""
    if centre == 0:
        return 0.0, radius
    near = ((radius - centre) / (radius + centre)) ** 2
    first, second = ellipkm1(max(near, 1e-300)), ellipe(1 - near)
    force = ((centre - radius) * first + (centre + radius) * second) / (np.pi * centre)
    torque = ((radius - centre) * first + (radius + centre) * second) / np.pi
    return force, torque


def ring_by_arrows(radius, centre):
    """Return the same as `ring` by adding up unit friction vectors round the ring.

    The disc turns about (centre, 0): at (x, y) it moves along (−y, x − centre), friction opposes.
    """

    def distance(angle):
        return np.hypot(radius * np.cos(angle) - centre, radius * np.sin(angle))

    def force(angle):
        return (centre - radius * np.cos(angle)) / distance(angle)

    def torque(angle):
        return (radius**2 - centre * radius * np.cos(angle)) / distance(angle)

    return tuple(quad(f, 0, np.pi, limit=400, epsabs=1e-9)[0] / np.pi for f in (force, torque))


def by_arrows(pressure, relief, centre):
    """Return (force, torque) at slip for one turning centre, from friction vectors alone."""
    nodes, weights = np.polynomial.legendre.leggauss(40)
    load = load_within(pressure, relief)
    ends = [relief, *([centre] if relief < centre < 1 else []), 1.0]
    force = torque = 0.0
    for start, end in zip(ends, ends[1:], strict=False):
        low, high = np.arcsin(start), np.arcsin(end)
        for node, weight in zip(nodes, weights, strict=True):
            angle = (low + high) / 2 + (high - low) / 2 * node
            radius = np.sin(angle)
            share = load(radius) * np.cos(angle) * weight * (high - low) / 2
            ring_force, ring_torque = ring_by_arrows(radius, centre)
            force, torque = force + share * ring_force, torque + share * ring_torque
    return force, torque


def point(pressure, relief, centre):
    """Return (force, torque) at slip for one turning centre, by SciPy's quadrature."""
    return tuple(
        across(pressure, relief, lambda r, which=which: ring(r, centre)[which], centre)
        for which in (0, 1)
    )


def margin(pressure, relief, side, turn):
    """Return the factor by which a load (F/(mu N), M/(mu N r_o)) can grow, both above zero."""

    def miss(angle):
        force, torque = point(pressure, relief, np.tan(angle))
        return force * turn - torque * side

    # Nearer to pure torque or side force the rings cancel to rounding; no test asks there.
    angle = brentq(miss, 1e-3, np.pi / 2 - 1e-3, xtol=1e-12)
    return point(pressure, relief, np.tan(angle))[0] / side


def farkas(centre):
    """Return (force, torque) of a full pad under uniform pressure, in closed form.

    Farkas, Bartels, Unger, Wolf, Phys. Rev. Lett. 90 (2003) 248302 (from memory; agrees with the
    arrows). Parameters are m = k², as SciPy takes them.
    """
    if centre == 0:
        return 0.0, 2 / 3
    e2 = centre**2
    if centre <= 1:
        first, second = ellipkm1(1 - e2) if centre < 1 else 0.0, ellipe(e2)
        force = 4 / (3 * np.pi) * ((e2 + 1) * second + (e2 - 1) * first) / centre
        return force, 4 / (9 * np.pi) * ((4 - 2 * e2) * second + (e2 - 1) * first)
    first, second = ellipkm1(1 - 1 / e2), ellipe(1 / e2)
    force = 4 / (3 * np.pi) * ((e2 + 1) * second - (e2 - 1) * first)
    inner = (4 - 2 * e2) * second + (2 * e2 - 5 + 3 / e2) * first
    return force, 4 / (9 * np.pi) * centre * inner
