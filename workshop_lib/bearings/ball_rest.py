"""Where does a ball bearing come to rest under arrays of loads? The sweep of `ball_bearing`."""

from dataclasses import dataclass, replace

import numpy as np

from workshop_lib.bearings.ball_contacts import BallContacts, settle

FLAT = 1e-6  # rad; a contact angle below it carries no axial load


@dataclass(frozen=True, eq=False)
class Solved:
    """Rest positions without units (m, N, rad, Pa); arrays over the load cases, then the balls."""

    shift: np.ndarray  # (…, 3): axial, radial, tilt
    moment: np.ndarray  # (…) that the bearing gives back against the tilt
    loads: np.ndarray  # (…, Z)
    angles: np.ndarray  # (…, Z)
    pressures: np.ndarray  # (…, 2): peak, inner and outer ring
    edge: np.ndarray  # (…): from the groove's bottom to the far edge of the widest spot
    converged: np.ndarray  # (…)
    one_way: bool

    @property
    def off_groove(self):
        """Cases in which a bearing that holds one way only is pushed the other way."""
        most = np.take_along_axis(self.angles, self.loads.argmax(axis=-1)[..., None], axis=-1)
        return self.one_way & (most[..., 0] < FLAT) & (self.loads.max(axis=-1) > 0)


def solve(geometry, axial, radial=0.0, tilt=0.0, moment=None, under_load="ball"):
    """Rest positions of a `Geometry` under bare loads (N, rad, N·m) that broadcast: a `Solved`.

    A case that does not settle holds NaN and is marked in `.converged`; nothing is raised.
    """
    given = [axial, radial, tilt if moment is None else moment, geometry.clearance]
    shape = np.broadcast_shapes(*map(np.shape, given))
    axial, radial, turn, play = (
        np.broadcast_to(value, shape).ravel().astype(float) for value in given
    )
    if np.ndim(geometry.clearance):
        geometry = replace(geometry, clearance=play)
    contacts = BallContacts(geometry, under_load)
    rows = np.arange(axial.size)
    loads = (turn, None) if moment is None else (None, turn)
    found = settle(contacts, axial, radial, *loads)
    force = contacts.energy(found.position, rows)[1]
    ball, angle = contacts.ball_loads(found.position, rows)
    arm = np.broadcast_to(np.ravel(geometry.arm), axial.shape)
    pressures = [each.max(axis=1) for each in contacts.pressures(ball)]
    carrying = ball > 0
    edge = np.where(carrying, np.maximum(*contacts.edges(ball, angle)), 0.0).max(axis=1)
    shift = found.position / np.stack([np.ones_like(arm)] * 2 + [arm], axis=1)
    return Solved(
        shift=shift.reshape(*shape, 3),
        moment=(force[:, 2] * arm).reshape(shape),
        loads=ball.reshape(*shape, -1),
        angles=angle.reshape(*shape, -1),
        pressures=np.stack(pressures, axis=-1).reshape(*shape, 2),
        edge=edge.reshape(shape),
        converged=found.converged.reshape(shape),
        one_way=geometry.contact_angle is not None,
    )
