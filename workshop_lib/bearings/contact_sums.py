"""What force and stiffness do many contacts add up to, in whatever coordinates move them?

A ball is moved by the groove centre that lies on it, aside (square to the axis) and onward (along
it). How far, is linear in the coordinates of a ring or of a whole spindle, so that the sums over
all balls of all bearings are a few matrix products. All in m and N.
"""

import numpy as np

from workshop_lib.bearings.roller_contacts import POWER

MOST_AT_ONCE = 200_000  # multiplications; larger products are handed to threads that wait for cores


def product(left, right):
    """The matrix product, in blocks of rows that one core does by itself.

    Threads would gain nothing on products of this size, and on a machine that is shared by a class
    each of them waits for the others.
    """
    rows = max(MOST_AT_ONCE // right.size, 1)
    if len(left) <= rows:
        return left @ right
    return np.concatenate([left[at : at + rows] @ right for at in range(0, len(left), rows)])


class Spread:
    """How k coordinates move z balls aside and onward.

    aside, onward: (k, z), how far a ball goes for each metre of a coordinate.
    """

    def __init__(self, aside, onward):
        self.coordinates, self.balls = aside.shape
        self.moves = np.concatenate([aside, onward], axis=1)
        mixed = _pairs(aside, onward) + _pairs(onward, aside)
        self.pairs = np.concatenate([_pairs(aside, aside), mixed, _pairs(onward, onward)])

    def shifts(self, position):
        """How far each ball is moved, aside and onward, (n, z) each, at positions (n, k)."""
        moved = product(position, self.moves)
        return moved[:, : self.balls], moved[:, self.balls :]

    def gather(self, pushes, slopes):
        """Forces (n, k) and stiffness (n, k, k) that the balls' pushes and slopes add up to.

        pushes: (n, 2z), aside, then onward. slopes: (n, 3z), of the push aside against a move
        aside, of either against the other, and of the push onward against a move onward.
        """
        stiffness = product(slopes, self.pairs)
        return product(pushes, self.moves.T), stiffness.reshape(-1, *[self.coordinates] * 2)


def _pairs(one, other):
    return (one[:, None] * other).reshape(-1, one.shape[1]).T


def squeezed(aside, onward, across, along, excess, reach):
    """Squeeze, distance of groove centres, sine and cosine of the contact angle of moved balls.

    across, along: the way from one groove centre to the other before the move; excess: its square
    less that of the distance `reach` at which the ball just touches.
    """
    beside, ahead = across + aside, along + onward
    # Written as a difference of squares, since a squeeze is a thousandth of the distance.
    more = excess + aside * (across + beside) + onward * (along + ahead)
    distance = np.sqrt(np.maximum(reach**2 + more, 1e-6 * reach**2))
    squeeze = np.maximum(more / (distance + reach), 0.0)
    return squeeze, distance, ahead / distance, beside / distance


def ball_pushes(squeeze, distance, sine, cosine, constant):
    """Energy and sum of the loads (n,) of balls, and the pushes and slopes for `Spread.gather`."""
    steepness = constant * np.sqrt(squeeze)
    load = steepness * squeeze
    soft = load / distance
    more = 1.5 * steepness - soft  # by which the way along the line of contact is stiffer
    slant = more * cosine
    pushes = np.concatenate([load * cosine, load * sine], axis=1)
    slopes = [soft + slant * cosine, slant * sine, soft + more * sine**2]
    energy, total = 0.4 * np.einsum("nz,nz->n", load, squeeze), load.sum(axis=1)
    return energy, total, pushes, np.concatenate(slopes, axis=1)


class AllBalls:
    """The balls of several bearings as one set, in coordinates that move all of those bearings.

    parts: a list of (`BallContacts`, rows (3, k), offset (3,)); rows and offset turn coordinates
    into the shifts (axial, radial, tilt × arm) of that bearing. Single clearances only.
    """

    def __init__(self, parts):
        columns = [_columns(*part) for part in parts]
        aside, onward = (
            np.concatenate(each, axis=1) for each in list(zip(*columns, strict=True))[:2]
        )
        self.spread = Spread(aside, onward)
        self.sizes = [np.concatenate(each) for each in list(zip(*columns, strict=True))[2:]]

    def energy(self, position):
        """Energy, force, stiffness and sum of ball loads at positions (n, k); see `newton.rest`."""
        *sizes, constant, start = self.sizes
        aside, onward = self.spread.shifts(position)
        found = squeezed(aside, onward + start, *sizes)
        energy, total, pushes, slopes = ball_pushes(*found, constant)
        return energy, *self.spread.gather(pushes, slopes), total


def _columns(contacts, rows, offset):
    """One bearing's share of `AllBalls`: moves aside and onward, sizes, constants, starts."""
    turn = np.cos(contacts.angles)
    sizes = contacts.across, contacts.along, contacts.excess, contacts.geometry.reach
    sizes = [np.full(turn.shape, np.ravel(each)[0]) for each in sizes]
    constant = np.ravel(contacts.constant)[0] * contacts.weights
    onward = rows[0][:, None] + np.outer(rows[2], turn)
    return np.outer(rows[1], turn), onward, *sizes, constant, offset[0] + offset[2] * turn


class AllRollers:
    """The rollers of several bearings as one set; parts: as for `AllBalls`, of `RollerContacts`."""

    def __init__(self, parts):
        self.moves = np.concatenate([np.outer(r[1], c.cosines) for c, r, _ in parts], axis=1)
        self.pairs = _pairs(self.moves, self.moves)
        self.play = np.concatenate([np.full(c.cosines.shape, c.play) for c, _, _ in parts])
        self.constant = np.concatenate([np.full(c.cosines.shape, c.constant) for c, _, _ in parts])

    def energy(self, position):
        """Energy, force, stiffness and sum of the loads at positions (n, k); see `newton.rest`."""
        squeeze = np.maximum(product(position, self.moves) - self.play, 0.0)
        slope = self.constant * squeeze ** (POWER - 1)
        load = slope * squeeze
        stiffness = product(POWER * slope, self.pairs)
        energy = (load * squeeze).sum(axis=1) / (POWER + 1)
        return energy, product(load, self.moves.T), _square(stiffness), load.sum(axis=1)


def _square(flat):
    side = round(flat.shape[1] ** 0.5)
    return flat.reshape(-1, side, side)
