"""Independent solutions of the plate on its pad: finite elements, Bessel functions, many digits.

None of them shares a formula with the library: the elements are bicubic in radius and angle and
know no harmonics; the determinant uses SciPy's Bessel functions; mpmath solves the four conditions
of each harmonic in 60 digits as they stand.
"""

import mpmath
import numpy as np
import scipy.sparse
import scipy.sparse.linalg
from scipy.optimize import brentq
from scipy.special import iv, ivp, jv, jvp, kv, kvp, yv, yvp


def hermite(x):
    """Values, slopes and second derivatives of the four cubics on 0..1: shape (3, 4, len(x))."""
    one = np.ones_like(x)
    value = [1 - 3 * x**2 + 2 * x**3, x - 2 * x**2 + x**3, 3 * x**2 - 2 * x**3, x**3 - x**2]
    slope = [6 * x**2 - 6 * x, 1 - 4 * x + 3 * x**2, 6 * x - 6 * x**2, 3 * x**2 - 2 * x]
    bend = [12 * x - 6 * one, 6 * x - 4 * one, 6 * one - 12 * x, 6 * x - 2 * one]
    return np.array([value, slope, bend])


class Elements:
    """Rings of conforming elements in (r, theta) on a plate of outer radius 1 and D = 1."""

    def __init__(self, ratio, nu, rings, around):
        self.around = around
        nodes, weights = np.polynomial.legendre.leggauss(5)
        x, weights = (nodes + 1) / 2, weights / 2
        radii = 1 - (1 - ratio) * (1 - np.linspace(0, 1, rings + 1))
        length, turn = radii[1] - radii[0], 2 * np.pi / around
        in_radius, in_angle = self._scaled(x, length), self._scaled(x, turn)
        stiff, mass = [], []
        for ring in range(rings):
            r = (radii[ring] + length * x)[:, None]
            area = r * np.outer(weights, weights) * length * turn
            w, w_r, w_t, w_rr, w_tt, w_rt = (
                np.einsum("aq,bp->abqp", in_radius[i], in_angle[j]).reshape(16, 5, 5)
                for i, j in ((0, 0), (1, 0), (0, 1), (2, 0), (0, 2), (1, 1))
            )
            across, twist = w_r / r + w_tt / r**2, w_rt / r - w_t / r**2
            energy = [
                (w_rr, w_rr, 1),
                (across, across, 1),
                (w_rr, across, nu),
                (across, w_rr, nu),
                (twist, twist, 2 * (1 - nu)),
            ]
            stiff.append(sum(f * np.einsum("aqp,bqp,qp->ab", p, q, area) for p, q, f in energy))
            mass.append(np.einsum("aqp,bqp,qp->ab", w, w, area))
        places = self._places(rings)
        self.stiffness, self.mass = self._joined(stiff, places), self._joined(mass, places)
        # Clamped at the pad's edge: w and its slope are nought all round, and so are their changes.
        self.free = np.arange(4 * around, 4 * around * (rings + 1))
        self.loaded = 4 * around * rings

    @staticmethod
    def _scaled(x, length):
        """Cubics of value, slope, value, slope on an element of that length, with derivatives."""
        shape = hermite(x) * np.array([1, length, 1, length])[:, None]
        return shape / np.array([1, length, length**2])[:, None, None]

    def _places(self, rings):
        """Numbers of the sixteen unknowns of each element, in the order of the products."""
        found = []
        for ring in range(rings):
            for sector in range(self.around):
                corner = {
                    (i, j): 4 * ((ring + i) * self.around + (sector + j) % self.around)
                    for i in (0, 1)
                    for j in (0, 1)
                }
                found.append(
                    [
                        corner[a // 2, b // 2] + 2 * (a % 2) + b % 2
                        for a in range(4)
                        for b in range(4)
                    ]
                )
        return np.array(found).reshape(rings, self.around, 16)

    def _joined(self, blocks, places):
        rows = np.repeat(places, 16, axis=-1).ravel()
        columns = np.tile(places, (1, 1, 16)).ravel()
        values = np.concatenate([np.tile(block.ravel(), self.around) for block in blocks])
        return scipy.sparse.csc_matrix((values, (rows, columns)))

    def bent(self):
        """Deflections at the nodes of the rim under a unit force at the first of them."""
        load = np.zeros(self.stiffness.shape[0])
        load[self.loaded] = 1.0
        inner = self.stiffness[self.free][:, self.free]
        solved = np.zeros_like(load)
        solved[self.free] = scipy.sparse.linalg.spsolve(inner, load[self.free])
        return solved[self.loaded :: 4]

    def frequency_parameters(self, count):
        """The lowest lambda² of all modes, each as often as it occurs."""
        inner, mass = (each[self.free][:, self.free] for each in (self.stiffness, self.mass))
        squares = scipy.sparse.linalg.eigsh(inner, count, mass, sigma=0, return_eigenvectors=False)
        return np.sqrt(np.sort(squares))


def determinant(wave, ratio, n, nu):
    """Southwell's frequency determinant, columns scaled; nought at the roots wave = lambda."""

    def at(radius):
        x = wave * radius
        value = np.array([jv(n, x), yv(n, x), iv(n, x), kv(n, x)])
        return value, wave * np.array([jvp(n, x), yvp(n, x), ivp(n, x), kvp(n, x)])

    (clamped, flat), (rim, slope) = at(ratio), at(1.0)
    signs = np.multiply.outer([-1, -1, 1, 1], wave**2)  # what the Laplacian makes of each
    moment = signs * rim - (1 - nu) * (slope - n**2 * rim)
    shear = signs * slope - (1 - nu) * n**2 * (slope - rim)
    table = np.array([clamped, flat, moment, shear])
    table = np.moveaxis(table / np.abs(table).max(axis=0), (0, 1), (-2, -1))
    return np.linalg.det(table)


def bessel_parameter(ratio, n, nu):
    """lambda² of the lowest mode with n nodal diameters: the first root of the determinant."""
    waves = np.linspace(0.5, 3.0 / (1 - ratio) + n / 0.7, 4000)
    signs = np.sign(determinant(waves, ratio, n, nu))
    first = int(np.argmax(signs[1:] != signs[:-1]))
    ends = waves[first], waves[first + 1]
    return brentq(determinant, *ends, args=(ratio, n, nu), xtol=1e-14) ** 2


def exact_harmonic(n, ratio, nu):
    """Rim deflection of one harmonic of a unit point load over a²/D, in many digits."""
    with mpmath.workdps(60):
        ratio, nu = mpmath.mpf(ratio), mpmath.mpf(nu)
        powers = {0: [(0, 0), (0, 1), (2, 0), (2, 1)], 1: [(1, 0), (-1, 0), (3, 0), (1, 1)]}
        parts = powers.get(n, [(n, 0), (-n, 0), (n + 2, 0), (2 - n, 0)])

        def function(power, logs):
            return lambda r: r**power * mpmath.log(r) ** logs

        rows = [[], [], [], []]
        for part in parts:
            w = function(*part)
            d = [mpmath.diff(w, 1, k) for k in range(4)]
            laplace_slope = d[3] + d[2] - d[1] - n**2 * (d[1] - 2 * d[0])
            rows[0].append(w(ratio))
            rows[1].append(mpmath.diff(w, ratio))
            rows[2].append(d[2] + nu * (d[1] - n**2 * d[0]))
            rows[3].append(laplace_slope - (1 - nu) * n**2 * (d[1] - d[0]))
        load = -1 / mpmath.pi / (2 if n == 0 else 1)
        factors = mpmath.lu_solve(mpmath.matrix(rows), mpmath.matrix([0, 0, 0, load]))
        at_rim = [function(*part)(mpmath.mpf(1)) for part in parts]
        return float(mpmath.fdot(factors, at_rim))
