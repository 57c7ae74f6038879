"""Modified Bessel functions of orders 0 and 1 off the real axis, each scaled to stay finite.

The bending of a plate that lies on springs is made of them. Both are integrals of smooth functions
that fall off at both ends, where the trapezoid rule gains figures with every few points.
"""

import numpy as np

SCALES = 9.0  # the integrand of a K has fallen below 1e-17 of its size so many widths away


def scaled_i(order, argument):
    """I_n(z) e^(−z) for complex z, Re z >= 0, shape (m,), as (1/pi) ∫ e^(z (cos t − 1)) cos nt dt.

    >>> scaled_i(0, np.array([0.0])).real
    array([1.])
    """
    argument = np.asarray(argument, dtype=complex)
    points = 40 + int(20 * np.sqrt(np.abs(argument).max()))
    angle = np.linspace(0, np.pi, points + 1)
    weight = np.full(points + 1, 1 / points)
    weight[[0, -1]] /= 2
    inside = np.exp(argument[:, None] * (np.cos(angle) - 1))
    return (inside * np.cos(order * angle)) @ weight


def scaled_k(order, argument):
    """K_n(z) e^z for complex z, Re z > 0, shape (m,), as ∫ e^(−z (cosh t − 1)) cosh nt dt.

    >>> z = np.array([0.5 + 0.5j])  # I0 K1 + I1 K0 = 1/z
    >>> product = scaled_i(0, z) * scaled_k(1, z) + scaled_i(1, z) * scaled_k(0, z)
    >>> bool(np.isclose(product[0] * z[0], 1))
    True
    """
    argument = np.asarray(argument, dtype=complex)[:, None]
    furthest = np.arccosh(1 + SCALES**2 / 2 / argument.real)
    step = furthest / 400
    place = step * np.arange(401)
    inside = np.exp(-argument * (np.cosh(place) - 1)) * np.cosh(order * place)
    return step[:, 0] * (inside.sum(axis=1) - inside[:, 0] / 2)
