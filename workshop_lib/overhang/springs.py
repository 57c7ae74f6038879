"""How does a thin disc bend that lies on a pad's facing as on springs? Bare scaled numbers.

Radii are scaled by the disc's, rho = r/a. The springs reach over the pad's face, `ratio_in` to
`ratio_out`. Each harmonic n of the bent shape, R_n(rho) cos n theta, is found by finite elements
along the radius (cubics that agree in value and slope at their ends); deflections are scaled by
F a²/D as in `plate`, springs by kappa = k a⁴/D.
"""

import itertools
from functools import lru_cache

import numpy as np

from workshop_lib.overhang.plate import _full_disc, _full_disc_sum

ELEMENTS = {"relief": 8, "pad": 24, "overhang": 12}
EVEN = 0.04  # longest of the even elements
GAUSS = 5  # points in an element
FEW, MANY = 32, 192  # harmonics
SETTLED = 24.0  # harmonics are summed until the pad's part has died away to exp(−SETTLED)


def nodes_of(ratio_in, ratio_out):
    """Radii of the elements' ends, crowded where a span begins and ends."""
    spans = [(ratio_in, ratio_out, "pad"), (ratio_out, 1.0, "overhang")]
    if ratio_in > 0:
        spans.insert(0, (0.0, ratio_in, "relief"))
    nodes = [np.array([0.0])]
    for low, high, name in spans:
        share = (1 - np.cos(np.pi * np.arange(1, ELEMENTS[name] + 1) / ELEMENTS[name])) / 2
        nodes.append(low + (high - low) * share)
    return np.concatenate(nodes)


def evenly(ratio_in, ratio_out):
    """Radii of even elements, for the lowest modes: small ones would cost figures."""
    edges = [0.0, *([ratio_in] if ratio_in > 0 else []), ratio_out, 1.0]
    nodes = [np.array([0.0])]
    for low, high in itertools.pairwise(edges):
        nodes.append(np.linspace(low, high, int(np.ceil((high - low) / EVEN)) + 1)[1:])
    return np.concatenate(nodes)


def harmonics_for(ratio):
    """How many harmonics a pad of that share of the disc needs."""
    return int(np.clip(np.ceil(SETTLED / (-2 * np.log(ratio))), FEW, MANY))


def _cubics(share, length):
    """Four cubics of an element with two derivatives each; share and length broadcast."""
    s, one = share, 1 + 0 * length
    value = (1 - 3 * s**2 + 2 * s**3, length * s * (1 - s) ** 2, s**2 * (3 - 2 * s))
    value += (length * s**2 * (s - 1),)
    slope = (6 * s * (s - 1) / length, 1 - 4 * s + 3 * s**2, 6 * s * (1 - s) / length)
    slope += (s * (3 * s - 2),)
    bend = ((12 * s - 6) / length**2, (6 * s - 4) / length, (6 - 12 * s) / length**2)
    bend += ((6 * s - 2) / length,)
    return (np.stack([one * each for each in kind], axis=-1) for kind in (value, slope, bend))


def matrices(nodes, ratio_in, ratio_out, nu, orders):
    """Bending (orders, m, m), springs and mass (m, m) of the disc; m = 2 × nodes, value and slope.

    Half the quadratic form of each is the energy over pi D/a² (2 pi for order 0).
    """
    points, weights = np.polynomial.legendre.leggauss(GAUSS)
    length = np.diff(nodes)[:, None]
    share = np.broadcast_to((points + 1) / 2, (len(length), GAUSS))
    rho = (nodes[:-1, None] + length * share)[..., None]
    step = (length * weights / 2)[..., None] * rho
    value, slope, bend = _cubics(share, length)
    n = np.asarray(orders, float)[:, None, None, None]
    across = slope / rho - n**2 * value / rho**2
    twist = n * (slope / rho - value / rho**2)
    both = _products(bend + across, bend + across, step)
    mixed = _products(bend, across, step)
    mixed = (mixed + np.swapaxes(mixed, -1, -2)) / 2 - _products(twist, twist, step)
    bending = both - 2 * (1 - nu) * mixed
    mass = _products(value, value, step)
    middle = (nodes[:-1] + nodes[1:]) / 2
    springs = mass * ((middle > ratio_in) & (middle < ratio_out))[:, None, None]
    return (_assembled(each, len(nodes)) for each in (bending, springs, mass))


def _products(first, second, step):
    return np.swapaxes(first, -1, -2) @ (step * second)


def _assembled(elements, nodes):
    whole = np.zeros((*elements.shape[:-3], 2 * nodes, 2 * nodes))
    for place in range(nodes - 1):
        some = slice(2 * place, 2 * place + 4)
        whole[..., some, some] += elements[..., place, :, :]
    return whole


def held_at_centre(matrix, orders, like):
    """Keep the middle smooth: no slope of order 0, no value of order 1, neither of any higher."""
    for row, order in enumerate(orders):
        for place in {0: (1,), 1: (0,)}.get(int(order), (0, 1)):
            matrix[row, place, :] = matrix[row, :, place] = 0.0
            matrix[row, place, place] = like
    return matrix


@lru_cache(maxsize=256)
def solved(ratio_in, ratio_out, nu, kappa):
    """Nodes, and each harmonic's values there over F a²/D, shape (harmonics, nodes)."""
    nodes, orders = nodes_of(ratio_in, ratio_out), np.arange(harmonics_for(ratio_out))
    bending, springs, _ = matrices(nodes, ratio_in, ratio_out, nu, orders)
    stiff = held_at_centre(bending + kappa * springs, orders, 1.0)
    load = np.zeros(stiff.shape[-1])
    load[-2] = 1.0
    bent = np.linalg.solve(stiff, load[None, :, None])[..., 0]
    return nodes, bent[:, ::2] / np.where(orders == 0, 2 * np.pi, np.pi)[:, None]


def point_on_springs(ratio_in, ratio_out, nu, kappa):
    """Deflection under a force at one point of the rim over F a²/D; single values."""
    bent = solved(ratio_in, ratio_out, nu, kappa)[1][:, -1]
    n = np.arange(2.0, len(bent))
    return bent[:2].sum() + (bent[2:] - _full_disc(n, nu)).sum() + _full_disc_sum(nu)


def lowest_on_springs(ratio_in, ratio_out, nu, kappa):
    """The lowest place over the pad, over F a²/D: negative where the sheet lifts."""
    nodes, bent = solved(ratio_in, ratio_out, nu, kappa)
    on_pad = (nodes >= ratio_in) & (nodes <= ratio_out)
    angles = np.linspace(0, np.pi, 2 * FEW + 1)
    shape = np.cos(np.outer(angles, np.arange(len(bent)))) @ bent[:, on_pad]
    return min(float(shape.min()), 0.0)


@lru_cache(maxsize=32)
def _for_unit_mass(ratio_in, ratio_out, nu, orders):
    """Bending and springs of each order in coordinates in which every mass is 1; kept."""
    nodes = evenly(ratio_in, ratio_out)
    bending, springs, mass = matrices(nodes, ratio_in, ratio_out, nu, orders)
    springs = np.broadcast_to(springs, bending.shape).copy()
    moving = np.broadcast_to(mass, bending.shape).copy()
    root = np.linalg.inv(np.linalg.cholesky(held_at_centre(moving, orders, 1.0)))
    # what is held is stiffer than anything that swings, whatever the springs
    held = (held_at_centre(each, orders, each.max()) for each in (bending, springs))
    return tuple(root @ each @ np.swapaxes(root, -1, -2) for each in held)


def parameters_on_springs(ratio_in, ratio_out, nu, kappa, orders):
    """lambda² of the lowest mode with n nodal diameters on springs; single values."""
    bending, springs = _for_unit_mass(ratio_in, ratio_out, nu, tuple(map(int, orders)))
    least = np.linalg.eigvalsh(bending + kappa * springs)[..., 0]
    return np.sqrt(np.maximum(least, 0))  # a free swing, which rounding may leave just below nought
