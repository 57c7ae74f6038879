"""How does the spindle of a nose or centre lie on its bearings? Solved as one elastic system.

Coordinates: the spindle's shift backwards, and at the tip and at each bearing its shift sideways
and its slope; besides, where a ring can move by itself, the ring's own shift. Bearings give the
energy of their contacts, the spindle that of a slender beam, a bore that of a very stiff wall
behind the play, and a ring's face, where friction is counted on, what it takes to slide. Forces on
the spindle's tip: thrust backwards, side force sideways. All in SI.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from workshop_lib.bearings import (
    STEEL_MODULUS,
    AllBalls,
    AllRollers,
    BallContacts,
    RollerContacts,
    rest,
    settle,
    typical_inside,
)
from workshop_lib.quantities import Q_

SHAFTS = ("elastic", "rigid")
ARM = 0.01  # m; a slope counts as the shift at this arm, so that all coordinates are lengths
SLIDE = 1e-6  # m; within about this shift friction on a ring's face builds up
WALL = 1e10  # N/m behind the play of a ring in its bore: a hundred newtons, 10 nm
GRIP = 1e12  # N/m of the hold on a tip whose shift is given
REACH = 1e-4  # m; longest step of the search
NEARBY = 0.05  # m; a tip further than that before its first bearing may take longer steps
LEAST = 1e-2  # N; a side force that only closes the play, and squeezes a ball by 10 nm


@dataclass(frozen=True, eq=False)
class Loaded:
    """How a batch of load cases rests; arrays (n,) or (n, bearings), SI. NaN where not converged.

    axial: force of the spindle on each bearing, backwards. radial: the same sideways, in the
    direction of the side force. moment: of the spindle on each bearing. heaviest, pressure: load
    and peak pressure of the most loaded ball or roller; lightest: load of the least loaded one.
    """

    tip_shift: np.ndarray
    push: np.ndarray  # side force on the tip
    position: np.ndarray  # (n, k) every coordinate; the first is the spindle's shift backwards
    axial: np.ndarray
    radial: np.ndarray
    moment: np.ndarray
    heaviest: np.ndarray
    lightest: np.ndarray
    pressure: np.ndarray
    converged: np.ndarray


@lru_cache(maxsize=256)
def contacts_of(bearing, clearance):
    """The bare contacts inside a bearing with this play inside it, m on the diameter."""
    if bearing.inside.length is not None:
        return RollerContacts(bearing.inside, clearance)
    if bearing.kind != "deep_groove":
        return BallContacts(typical_inside(bearing).core)
    return BallContacts(typical_inside(bearing, Q_(clearance, "m")).core)


def arm_of(contacts):
    """Radius through which a tilt acts in the contacts' coordinates."""
    return contacts.arm if isinstance(contacts, RollerContacts) else float(contacts.geometry.arm)


def pressed_together(contacts, force):
    """Axial shift in m of a ball bearing under axial forces (n,) in N alone."""
    none = np.zeros(len(force))
    return settle(contacts, np.asarray(force, dtype=float), none, none, None).position[:, 0]


def beam(places, diameters):
    """Stiffness matrix of a slender beam over shifts and slopes × `ARM` at places behind the tip.

    places: (k,) m, rising. diameters: (k − 1,) m of the pieces between. Source: euler-bernoulli.
    """
    matrix = np.zeros((2 * len(places), 2 * len(places)))
    for piece, (length, diameter) in enumerate(zip(np.diff(places), diameters, strict=True)):
        stiff = STEEL_MODULUS * np.pi * diameter**4 / 64 / length**3
        turn = -length  # slopes are taken towards the tip, places away from it
        across = [12, 6 * turn, -12, 6 * turn]
        rows = [
            across,
            [6 * turn, 4 * turn**2, -6 * turn, 2 * turn**2],
            [-12, -6 * turn, 12, -6 * turn],
            [6 * turn, 2 * turn**2, -6 * turn, 4 * turn**2],
        ]
        scale = np.array([1, 1 / ARM, 1, 1 / ARM])
        part = slice(2 * piece, 2 * piece + 4)
        matrix[part, part] += stiff * np.array(rows) * np.outer(scale, scale)
    return matrix


@dataclass(frozen=True, eq=False)
class _Piece:
    """One bearing of a spindle: how the coordinates move it, and what acts on its ring.

    rows (3, k) and offset (3,) turn coordinates into the shifts of the contacts. way: 1, or −1 for
    a bearing that faces the other way. ring: number of the ring's own sideways coordinate, or None.
    """

    support: object
    contacts: object
    rows: np.ndarray
    offset: np.ndarray
    way: float
    ring: int | None


class Spindle:
    """A design made ready for solving: how every coordinate moves every bearing."""

    def __init__(self, design, shaft="elastic"):
        supports = design.supports
        places = np.array([0.0, *(support.behind_tip for support in supports)])
        carry, stiffness = _coordinates(places, [each.shaft_ahead for each in supports], shaft)
        own = len(stiffness)
        rings = sum((each.axial == "free") + (each.radial != "fixed") for each in supports)
        self.tip = np.pad(carry[0], (0, rings))
        self.reach = np.full(len(self.tip), REACH)
        self.reach[1:own] *= max(1.0, places[1] / NEARBY) ** 3  # so a longer tip bends more
        self.stiffness = np.pad(stiffness, (0, rings))
        self.pieces, following = [], own
        for number, support in enumerate(supports):
            place = carry[2 * number + 2 : 2 * number + 4]
            piece, following = _piece(support, place, own + rings, following, design.preload)
            self.pieces.append(piece)
        self.sideways = ~np.any([piece.rows[0] != 0 for piece in self.pieces], axis=0)
        self.hold = GRIP * np.outer(self.tip, self.tip)
        self.contacts = _together(self.pieces)
        sliding = [piece for piece in self.pieces if piece.support.radial == "sliding"]
        self.rings = np.array([piece.ring for piece in sliding], dtype=int)
        self.play = np.array([piece.support.fit / 2 for piece in sliding])
        self.grip = design.ring_friction * np.array([piece.support.faces for piece in sliding])

    def energy(self, thrust, held):
        """The energy function for `newton.rest`.

        thrust: (n,) N, which presses the rings on their seats. held: shift of the tip for each row
        of the batch, or None where a side force acts.
        """

        def energy(position, rows):
            force = position @ self.stiffness
            height = 0.5 * np.einsum("nk,nk->n", force, position)
            stiff, size = self.stiffness, np.abs(force).max(axis=1)
            for contacts in self.contacts:
                here = contacts.energy(position)
                height, size = height + here[0], size + here[3]
                force, stiff = force + here[1], here[2] + stiff
            if self.rings.size:
                grip = self.grip * thrust[rows, None] if self.grip.any() else None
                seat = _seat(position[:, self.rings], self.play, grip)
                height = height + seat[0].sum(axis=1)
                force[:, self.rings] += seat[1]
                stiff[:, self.rings, self.rings] += seat[2]
            if held is not None:
                away = position @ self.tip - held[rows]
                height = height + GRIP / 2 * away**2
                force = force + GRIP * away[:, None] * self.tip
                stiff = stiff + self.hold
            return height, force, stiff, size

        return energy

    def solve(self, thrust, side_force=None, shift=None, start=None):
        """Rest under thrusts (n,) and side forces (n,) in N, or shifts (n,) of the tip in m.

        start: (n, k) positions of an earlier `Loaded` to begin from, or None.
        """
        load = np.outer(thrust, np.eye(1, len(self.tip)))
        if side_force is not None:
            load = load + np.outer(side_force, self.tip)
        if start is None or not np.all(np.isfinite(start)):
            guess = self._first_guess(thrust, load)
            start = guess if start is None else np.where(np.isfinite(start), start, guess)
        found = rest(self.energy(thrust, shift), load, start, self.reach)
        return self._reactions(found, side_force, shift)

    def _first_guess(self, thrust, load):
        """The spindle pushed back as far as its thrust alone would push it onto one bearing."""
        start = np.zeros_like(load)
        stops = [piece for piece in self.pieces if piece.support.axial == "rearward"]
        if not stops or any(piece.way < 0 for piece in self.pieces):
            return start
        each, back = np.unique(thrust, return_inverse=True)
        ways = [pressed_together(piece.contacts, each) - piece.offset[0] for piece in stops]
        start[:, 0] = np.min(ways, axis=0)[back]
        return start

    def _reactions(self, found, side_force, shift):
        position = found.position
        parts = [_reaction(piece, position) for piece in self.pieces]
        columns = {name: np.stack([part[name] for part in parts], axis=1) for name in parts[0]}
        tip = position @ self.tip
        push = side_force if shift is None else GRIP * (shift - tip)
        return Loaded(tip, push, position, **columns, converged=found.converged)


def _piece(support, place, count, following, preload):
    """One bearing's `_Piece`, and the number of the next free coordinate.

    place: (2, own) how the spindle's coordinates carry its shift and its slope × `ARM`.
    """
    contacts = contacts_of(support.bearing, support.clearance)
    rows, offset, ring = np.zeros((3, count)), np.zeros(3), None
    own, way = place.shape[1], -1.0 if support.axial == "forward" else 1.0
    if support.axial in ("rearward", "forward"):
        rows[0, 0], offset[0] = way, -support.spacing
        if preload:
            offset[0] += pressed_together(contacts, [preload])[0]
    elif support.axial == "free":
        rows[0, following] = 1.0
        following += 1
    if support.radial != "free":
        rows[1, :own] = place[0]
    if support.radial != "fixed":
        rows[1, following], ring = -1.0, following
        following += 1
    rows[2, :own] = way * place[1] * arm_of(contacts) / ARM
    return _Piece(support, contacts, rows, offset, way, ring), following


def _together(pieces):
    """All balls of a spindle as one set, and all of its rollers as another."""
    parts = [(piece.contacts, piece.rows, piece.offset) for piece in pieces]
    sets = {BallContacts: AllBalls, RollerContacts: AllRollers}
    sorted_parts = {kind: [part for part in parts if isinstance(part[0], kind)] for kind in sets}
    return [sets[kind](chosen) for kind, chosen in sorted_parts.items() if chosen]


def _seat(shift, play, grip):
    """Energy, force and stiffness of rings' seats: the bore's wall, and friction on a face, if any.

    The stiffness of sliding friction is next to nothing; a small share of its chord is kept, so
    that the search does not overshoot on its way from afar.
    """
    over = shift - np.clip(shift, -play, play)
    height, force, stiff = WALL / 2 * over**2, WALL * over, WALL * (over != 0)
    if grip is None:
        return height, force, stiff
    slide = np.hypot(shift, SLIDE)
    slope = np.maximum(SLIDE**2 / slide**2, 0.03) / slide
    return height + grip * (slide - SLIDE), force + grip * shift / slide, stiff + grip * slope


def _reaction(piece, position):
    """What one bearing carries at positions (n, k); see `Loaded`."""
    rows = np.arange(len(position))
    local = position @ piece.rows.T + piece.offset
    force, balls = piece.contacts.carried(local, rows)
    heaviest = balls.max(axis=1)
    return {
        "axial": piece.way * force[:, 0],
        "radial": force[:, 1],
        "moment": piece.way * force[:, 2] * arm_of(piece.contacts),
        "heaviest": heaviest,
        "lightest": balls.min(axis=1),
        "pressure": np.max(piece.contacts.pressures(heaviest[:, None]), axis=0)[:, 0],
    }


def _coordinates(places, diameters, shaft):
    """How the spindle's coordinates carry shift and slope × `ARM` at each place, and its stiffness.

    First the shift backwards, then shift and slope of the tip, with which a straight spindle goes.
    Elastic: then how far each bearing's place leaves that line, in shift and slope. Only this
    costs energy, and so the large shifts of a loose spindle put no rounding into it.
    """
    count = 2 * len(places)
    straight = np.zeros((count, 3))
    straight[::2, 1] = 1.0
    straight[::2, 2] = -places / ARM
    straight[1::2, 2] = 1.0
    if shaft == "rigid":
        return straight, np.zeros((3, 3))
    carry = np.hstack([straight, np.eye(count)[:, 2:]])
    return carry, np.pad(beam(places, diameters)[2:, 2:], ((3, 0), (3, 0)))
