"""How do the balls of one bearing push back when its rings shift? Energy, forces, stiffness, bare.

Each ball lies between two groove centres that are A apart when ball and grooves just touch. A
shift of the inner ring moves its groove centre; what the distance then exceeds A by is squeezed
out of the two contacts, Q = c d^(3/2), along the line between the centres. That line is the contact
angle, so it moves with the load. All in m, N and rad; source iso-16281.
"""

from dataclasses import dataclass

import numpy as np

from workshop_lib.bearings.contact_sums import Spread, ball_pushes, squeezed
from workshop_lib.bearings.hertz import RINGS, curvatures, peak_pressure, stiffness, unit_contact
from workshop_lib.bearings.newton import rest

PHASES = ("ball", "gap")  # what lies in the direction of the radial load


@dataclass(frozen=True, eq=False)
class Geometry:
    """Sizes of a ball bearing in metres and radians; `clearance` may be an array.

    clearance: radial play on the diameter, for a bearing that carries axial load both ways.
    contact_angle: of the unloaded bearing that carries axial load one way, or None.
    """

    balls: int
    ball_diameter: float
    pitch_diameter: float
    inner_groove: float
    outer_groove: float
    clearance: object
    contact_angle: float | None

    @property
    def reach(self):
        """Distance A between the groove centres when ball and grooves just touch."""
        return (self.inner_groove + self.outer_groove - 1) * self.ball_diameter

    @property
    def free_angle(self):
        """Contact angle of the unloaded bearing with its rings pushed apart to the stop."""
        if self.contact_angle is not None:
            return self.contact_angle
        slack = np.maximum(self.clearance, 0.0) / (2 * self.reach)
        return np.arccos(1 - slack)

    @property
    def arm(self):
        """Radius of the circle of the inner groove's centres, through which a tilt acts."""
        groove = (self.inner_groove - 0.5) * self.ball_diameter
        return self.pitch_diameter / 2 + groove * np.cos(self.free_angle)

    def spots(self):
        """Half-length, half-width and approach under 1 N at the inner and at the outer ring."""
        grooves = self.inner_groove, self.outer_groove
        sizes = self.ball_diameter, self.pitch_diameter, self.free_angle
        return [
            unit_contact(*curvatures(*sizes, groove, ring))
            for groove, ring in zip(grooves, RINGS, strict=True)
        ]


class BallContacts:
    """The contacts of a `Geometry` as a function of the shift (axial, radial, tilt × arm) in m.

    The axial shift counts from the middle of the play, or for a bearing with a contact angle from
    where the balls touch. phase: "ball" or "gap" under the radial load; the balls lie mirrored
    about the plane of the load, so that one half of them represents both.
    """

    def __init__(self, geometry, phase="ball"):
        self.geometry = geometry
        self.spots = geometry.spots()
        self.constant = _column(stiffness(*(spot[2] for spot in self.spots)))
        reach, angle = geometry.reach, geometry.contact_angle
        if angle is None:
            slack = _column(geometry.clearance) / 2
            self.across, self.along = reach - slack, 0.0
            self.excess = -slack * (2 * reach - slack)
        else:
            self.across, self.along, self.excess = reach * np.cos(angle), reach * np.sin(angle), 0.0
        self.angles, self.weights, self.whole = _half_circle(geometry.balls, phase)
        turn = np.cos(self.angles)
        none, one = np.zeros_like(turn), np.ones_like(turn)
        self.spread = Spread(np.stack([none, turn, none]), np.stack([one, none, turn]))

    def _pick(self, value, rows):
        return value[rows] if np.ndim(value) and len(value) > 1 else value

    def squeeze(self, shift, rows):
        """Squeeze, distance of groove centres, and sine and cosine of each ball's contact angle."""
        sizes = (self._pick(each, rows) for each in (self.across, self.along, self.excess))
        return squeezed(*self.spread.shifts(shift), *sizes, self.geometry.reach)

    def energy(self, shift, rows):
        """Energy, force, stiffness and sum of ball loads for shifts (n, 3); see `newton.rest`."""
        constant = self._pick(self.constant, rows) * self.weights
        energy, total, pushes, slopes = ball_pushes(*self.squeeze(shift, rows), constant)
        return energy, *self.spread.gather(pushes, slopes), total

    def carried(self, shift, rows):
        """Force on the ring (n, 3), and the loads of the balls of one half circle (n, z)."""
        found = self.squeeze(shift, rows)
        constant = self._pick(self.constant, rows)
        _, _, pushes, slopes = ball_pushes(*found, constant * self.weights)
        return self.spread.gather(pushes, slopes)[0], constant * found[0] ** 1.5

    def ball_loads(self, shift, rows):
        """Load in N and contact angle in rad of every ball, round the whole circle, (n, Z) each."""
        squeeze, _, sine, cosine = self.squeeze(shift, rows)
        load = self._pick(self.constant, rows) * squeeze**1.5
        return load[:, self.whole], np.arctan2(sine, cosine)[:, self.whole]

    def pressures(self, loads):
        """Peak pressure in Pa at the inner and at the outer ring under ball loads (n, Z)."""
        return [peak_pressure(loads, _column(a), _column(b)) for a, b, _ in self.spots]

    def edges(self, loads, angles):
        """Angle from the groove's bottom to the far edge of the spot, inner and outer, (n, Z)."""
        grooves = self.geometry.inner_groove, self.geometry.outer_groove
        radii = (groove * self.geometry.ball_diameter for groove in grooves)
        halves = (_column(spot[0]) * np.cbrt(loads) for spot in self.spots)
        return [
            np.abs(angles) + np.arcsin(np.minimum(half / radius, 1.0))
            for half, radius in zip(halves, radii, strict=True)
        ]


def _column(value):
    """One number, or an array set upright beside the balls."""
    return np.reshape(value, (-1, 1)) if np.size(value) > 1 else np.ravel(value)[:1].reshape(1, 1)


def _half_circle(balls, phase):
    """Angles of the balls on one side, how often each counts, and which one each ball is."""
    number = np.arange(balls)
    if phase == "ball":
        whole = np.minimum(number, balls - number)
        angles = 2 * np.pi * np.arange(balls // 2 + 1) / balls
    else:
        whole = np.minimum(number, balls - 1 - number)
        angles = np.pi * (2 * np.arange((balls + 1) // 2) + 1) / balls
    return angles, np.bincount(whole).astype(float), whole


def settle(contacts, axial, radial, tilt, moment):
    """Where the inner ring rests, for loads (n,) in N and either tilts in rad or moments in N·m.

    moment: None where the tilt is imposed. Returns a `newton.Rest` whose positions are the shifts
    (axial, radial, tilt × arm), with the imposed tilt filled in.
    """
    arm = np.broadcast_to(np.ravel(contacts.geometry.arm), axial.shape)
    if moment is not None:
        load = np.stack([axial, radial, moment / arm], axis=1)
        return rest(contacts.energy, load, _start(contacts, load), contacts.geometry.reach)
    imposed = tilt * arm
    load = np.stack([axial, radial], axis=1)

    def energy(shift, rows):
        height, force, stiff, size = contacts.energy(np.c_[shift, imposed[rows]], rows)
        return height, force[:, :2], stiff[:, :2, :2], size

    found = rest(energy, load, _start(contacts, load), contacts.geometry.reach)
    position = np.c_[found.position, np.where(found.converged, imposed, np.nan)]
    return type(found)(position, found.converged, found.residual, found.steps)


def _start(contacts, load):
    """A first guess: each load alone, on balls that are already in touch."""
    geometry = contacts.geometry
    near = (np.abs(load) / (geometry.balls * np.ravel(contacts.constant)[0])) ** (2 / 3)
    start = np.sign(load) * 2 * near
    slack = np.broadcast_to(np.ravel(geometry.clearance) / 2, load.shape[:1])
    start[:, 1] += np.sign(load[:, 1]) * np.maximum(slack, 0.0)
    if geometry.contact_angle is None:
        play = geometry.reach * np.sin(geometry.free_angle)
        # Axial load first takes up the end play; it is then no use to stand at the radial stop.
        start[:, 0] += np.sign(load[:, 0]) * np.broadcast_to(np.ravel(play), load.shape[:1])
        start[:, 1] = np.where(load[:, 0] != 0, np.sign(load[:, 1]) * near[:, 1], start[:, 1])
    return start
