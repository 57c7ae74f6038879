"""How does a cylindrical or needle roller bearing push back when its rings shift? Side load only.

Each roller between its two rings carries Q = c d^(10/9), c = 35948 L^(8/9) N/mm^(10/9) with its
length L in mm. Rollers are taken as straight and the bearing as free to tilt: what a short roller
does against tilting is left out, which makes a shaft look a little softer than it is.
All in m, N and rad; source iso-16281-roller.
"""

import numpy as np

from workshop_lib.bearings.hertz import COMPLIANCE

POWER = 10 / 9


class RollerContacts:
    """The contacts of a roller set as a function of the shift (axial, radial, tilt × arm) in m.

    inside: `bearing_tables.Inside` with a roller length. clearance: radial play on the diameter, m.
    """

    def __init__(self, inside, clearance):
        self.inside, self.play = inside, clearance / 2
        self.constant = 35948 * (1e3 * inside.length) ** (8 / 9) * 1e3**POWER
        self.cosines = np.cos(2 * np.pi * np.arange(inside.elements) / inside.elements)
        self.arm = inside.pitch_diameter / 2

    def energy(self, shift, _rows):
        """Energy, force, stiffness and sum of the roller loads; see `newton.rest`."""
        squeeze = np.maximum(shift[:, 1:2] * self.cosines - self.play, 0.0)
        load = self.constant * squeeze**POWER
        force, stiff = np.zeros((len(shift), 3)), np.zeros((len(shift), 3, 3))
        force[:, 1] = load @ self.cosines
        stiff[:, 1, 1] = (POWER * self.constant * squeeze ** (POWER - 1)) @ self.cosines**2
        return (load * squeeze).sum(axis=1) / (POWER + 1), force, stiff, load.sum(axis=1)

    def carried(self, shift, rows):
        """Force on the ring (n, 3), and the loads of the rollers (n, z)."""
        return self.energy(shift, rows)[1], self.ball_loads(shift, rows)[0]

    def ball_loads(self, shift, _rows):
        """Load in N of every roller, and the contact angle, which is zero."""
        squeeze = np.maximum(shift[:, 1:2] * self.cosines - self.play, 0.0)
        load = self.constant * squeeze**POWER
        return load, np.zeros_like(load)

    def pressures(self, loads):
        """Peak pressure in Pa at the inner and at the outer ring: sqrt(Q/(pi L R x compliance))."""
        roller, lean = self.inside.element_diameter, self.inside.element_diameter / (2 * self.arm)
        radii = roller * (1 - lean) / 2, roller * (1 + lean) / 2
        line = np.pi * self.inside.length * COMPLIANCE
        return [np.sqrt(loads / (line * radius)) for radius in radii]
