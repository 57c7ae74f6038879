"""A ball bearing worked out a second way, with SciPy alone, for tests and benchmarks.

Nothing here comes from the library. The contact is Hertz's with SciPy's elliptic integrals (E = 207
GPa, nu = 0.3, steel on steel); the rings are placed by a general root finder on the sums of forces
over every ball of the whole circle, each ball by the lengths between its two groove centres.
"""

import numpy as np
from scipy.optimize import brentq, root
from scipy.special import ellipe, ellipk

MODULUS, POISSON = 207e9, 0.3


def ellipse_ratio(difference):
    """a/b of the contact ellipse by root finding on F(rho), as Harris writes it."""

    def miss(logarithm):
        square = np.exp(2 * logarithm)
        first, second = ellipk(1 - 1 / square), ellipe(1 - 1 / square)
        return ((square + 1) * second - 2 * first) / ((square - 1) * second) - difference

    return np.exp(brentq(miss, 1e-3, 12, xtol=1e-14))


def contact(radii, load):
    """Half-axes, peak pressure and approach for curvature radii (1x, 1y, 2x, 2y) in m, load in N.

    A concave radius is negative. Brewe and Hamrock's notation is not used: these are the integrals.
    """
    curvature = [1 / radius for radius in radii]
    total = sum(curvature)
    difference = abs(curvature[0] - curvature[1] + curvature[2] - curvature[3]) / total
    ratio = ellipse_ratio(difference)
    first, second = ellipk(1 - ratio**-2), ellipe(1 - ratio**-2)
    size = (3 * load * (1 - POISSON**2) / (MODULUS * total)) ** (1 / 3)
    length = size * (2 * ratio**2 * second / np.pi) ** (1 / 3)
    width = length / ratio
    flat = 2 * first / np.pi * (np.pi / (2 * ratio**2 * second)) ** (1 / 3)
    return length, width, 1.5 * load / (np.pi * length * width), flat * size**2 * total / 2


def ring_radii(ball, pitch, angle, groove, inner):
    """Radii of ball and ring at their contact: rolling direction, then across it, for both."""
    lean = ball * np.cos(angle)
    race = (pitch - lean) / (2 * np.cos(angle)) if inner else -(pitch + lean) / (2 * np.cos(angle))
    return ball / 2, ball / 2, race, -groove * ball


class Bearing:
    """One ball bearing: sizes in m, contact angle in rad or clearance on the diameter in m."""

    def __init__(self, balls, ball, pitch, inner, outer, clearance=0.0, angle=None):
        self.reach = (inner + outer - 1) * ball
        free = np.arccos(1 - clearance / (2 * self.reach)) if angle is None else angle
        approaches = [
            contact(ring_radii(ball, pitch, free, groove, side), 1.0)[3]
            for groove, side in ((inner, True), (outer, False))
        ]
        self.constant = sum(approaches) ** -1.5
        self.at = 2 * np.pi * np.arange(balls) / balls
        self.across = self.reach * np.cos(free)
        # Both ways: the axial shift counts from the middle of the play.
        self.along = 0.0 if angle is None else self.reach * np.sin(free)
        self.arm = pitch / 2 + (inner - 0.5) * ball * np.cos(free)

    def balls(self, axial, radial, tilt=0.0):
        """Ball loads and contact angles for a shift of the inner ring."""
        across = self.across + radial * np.cos(self.at)
        along = self.along + axial + self.arm * tilt * np.cos(self.at)
        squeeze = np.maximum(np.hypot(across, along) - self.reach, 0)
        return self.constant * squeeze**1.5, np.arctan2(along, across)

    def forces(self, axial, radial, tilt=0.0):
        """Axial force, radial force and moment of the balls on the outer ring."""
        load, angle = self.balls(axial, radial, tilt)
        along = load * np.sin(angle)
        return np.array(
            [
                along.sum(),
                (load * np.cos(angle) * np.cos(self.at)).sum(),
                (self.arm * along * np.cos(self.at)).sum(),
            ]
        )

    def rest(self, axial, radial, tilt, guess):
        """Axial and radial shift in m under loads in N at an imposed tilt, by a root finder."""
        scale, micron = max(axial, radial, 1.0), 1e-6

        def miss(shift):
            return (self.forces(*(micron * shift), tilt)[:2] - (axial, radial)) / scale

        found = root(miss, np.asarray(guess) / micron, method="hybr", tol=1e-12)
        return micron * found.x, np.abs(found.fun).max() < 1e-8
