"""At which frequencies does a disc ring that is clamped on its pad? Bare scaled numbers.

By Rayleigh and Ritz: each mode with n nodal diameters is a sum of polynomials in the logarithm of
the radius, flat at the clamp; the best sum has the least ratio of bending to moving energy. The
logarithm suits functions that go as powers of the radius, for small pads as for large ones.
"""

from functools import lru_cache

import numpy as np

TERMS = 20  # polynomials in a mode
PLACES = 48  # at which the energies are sampled
BLOCK = 256  # plates solved at a time


def frequency_parameters(ratio, nu, orders):
    """lambda² of the lowest mode with n nodal diameters, for each n of `orders`.

    omega = lambda² / a² × sqrt(D / (density × thickness)). ratio: the pad's diameter over the
    disc's. ratio and nu broadcast; returns their shape with the orders as a last axis. Relative
    error at most 1e-6 for ratios from 0.05 and n up to 11, and 1e-4 from 0.01 (tests hold it).
    """
    ratio, nu = np.broadcast_arrays(np.asarray(ratio, float), np.asarray(nu, float))
    flat, orders = (ratio.ravel(), nu.ravel()), np.asarray(orders, float)
    result = np.empty((ratio.size, len(orders)))
    for start in range(0, ratio.size, BLOCK):
        some = slice(start, start + BLOCK)
        result[some] = _lowest(flat[0][some, None], flat[1][some, None], orders)
    return result.reshape(*ratio.shape, len(orders))


def _lowest(ratio, nu, orders):
    """Solve the small eigenproblems; ratio, nu: (k, 1), orders: (m,)."""
    span = -np.log(ratio)[..., None]
    shape, slope, bend = _functions()
    at, weights = _places()
    slope, bend = slope / span[..., None], bend / span[..., None] ** 2
    n = orders[:, None, None]
    inward = np.exp(-2 * span * (at - 1)) * weights  # rho^−2, and the step of log rho
    outward = np.exp(2 * span * (at - 1)) * weights
    curve = bend - n**2 * shape  # r² times the sum of both curvatures
    radial, across, twist = bend - slope, slope - n**2 * shape, n * (slope - shape)
    give = (1 - nu)[..., None, None]
    bending = _energy(curve, curve, inward) - give * (
        _energy(radial, across, inward) + _energy(across, radial, inward)
    )
    bending = bending + 2 * give * _energy(twist, twist, inward)
    moving = np.broadcast_to(_energy(shape, shape, outward), bending.shape)
    root = np.linalg.inv(np.linalg.cholesky(bending))
    easiest = np.linalg.eigvalsh(root @ moving @ np.swapaxes(root, -1, -2))[..., -1]
    return 1 / np.sqrt(easiest)


def _energy(first, second, weights):
    """Integrals of products of the functions: (..., places, terms) to (..., terms, terms)."""
    return np.swapaxes(first, -1, -2) @ (weights[..., None] * second)


@lru_cache(maxsize=1)
def _places():
    nodes, weights = np.polynomial.legendre.leggauss(PLACES)
    return (nodes + 1) / 2, weights / 2


@lru_cache(maxsize=1)
def _functions():
    """x² P(2x − 1) for the Legendre polynomials P, with both derivatives, at the places."""
    x = _places()[0][:, None]
    basis = [np.polynomial.Legendre.basis(term, domain=[0, 1]) for term in range(TERMS)]
    value, slope, bend = (
        np.hstack([each.deriv(times)(x) if times else each(x) for each in basis])
        for times in range(3)
    )
    return x**2 * value, 2 * x * value + x**2 * slope, 2 * value + 4 * x * slope + x**2 * bend
