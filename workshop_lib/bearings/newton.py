"""Where do many elastic systems come to rest at once? Damped Newton steps on their energy.

A contact that only pushes has a convex energy, so the sum of all contacts, springs and beams of a
bearing or a shaft is convex too, and every rest position is the only one. Each Newton step is
shortened until the energy (or the force out of balance) falls; whoever does not come to rest is
named, never handed out as an answer.
"""

from dataclasses import dataclass

import numpy as np

from workshop_lib.quantities import InputError

STEPS, LOOKS = 100, 40
# Slope at a step's end over that at its start: beyond −STEEP the step went too far, and between
# SHORT and STEEP not far enough: a contact that is to come loose then asks for half as much again.
STEEP, SHORT = 0.5, 0.05
TOLERANCE = 1e-10  # of the forces at work
FLOOR = 1e-8  # N; a force below it is lost in the rounding of a stiff spindle
NEAR = 1e-5  # of the forces at work; below it the energy is lost in rounding
SOFTNESS = 1.0  # N/m, added where nothing pushes: a thousandth of what any contact here gives
RAMP = np.linspace(0.1, 1.0, 10)


class NoRest(InputError):
    """No position was found in which the forces balance."""


@dataclass(frozen=True, eq=False)
class Rest:
    """Rest positions of a batch: where, whether found, and what force stays out of balance."""

    position: np.ndarray  # (n, k) m
    converged: np.ndarray  # (n,)
    residual: np.ndarray  # (n,) N
    steps: int


def rest(energy, load, start, reach):
    """Find where each system of a batch rests under its load.

    energy(position, rows) -> energy (m,), force (m, k), stiffness (m, k, k) and size of the forces
    inside (m,), for those rows of the batch; all coordinates in metres and all loads in N.
    load, start: (n, k). reach: longest single step, m, of all coordinates or of each (k,). Systems
    that do not settle are tried again with the load put on in ten parts. Returns a `Rest`; a row
    that is not `converged` holds NaN.
    """
    found, steps = _descend(energy, load, start.astype(float), reach, np.arange(len(start)))
    lost = np.flatnonzero(~found[1])
    if lost.size:
        position = start[lost].astype(float)
        for share in RAMP:
            part, more = _descend(energy, share * load[lost], position, reach, lost)
            position = np.where(np.isfinite(part[0]), part[0], position)
            steps += more
        for whole, again in zip(found, part, strict=True):
            whole[lost] = again
    position = np.where(found[1][:, None], found[0], np.nan)
    return Rest(position, found[1], found[2], steps)


def _descend(energy, load, position, reach, rows):
    """Newton steps from a start; returns ([position, converged, residual], steps)."""
    position = position.copy()
    height, force, stiffness, size = energy(position, rows)
    for steps in range(STEPS):  # noqa: B007
        out = force - load
        residual = np.abs(out).max(axis=1)
        scale = size + np.abs(load).max(axis=1)
        awake = residual > TOLERANCE * scale + FLOOR
        if not awake.any():
            break
        chosen = np.flatnonzero(awake)
        move = _move(stiffness[chosen], out[chosen], reach)
        near = np.where(residual < NEAR * scale, residual, 0.0)
        state = height[chosen], out[chosen], near[chosen]
        trial, *fresh = _along(energy, load[chosen], position[chosen], move, state, rows[chosen])
        position[chosen] = trial
        for whole, part in zip((height, force, stiffness, size), fresh, strict=True):
            whole[chosen] = part
    residual = np.abs(force - load).max(axis=1)
    done = residual <= TOLERANCE * (size + np.abs(load).max(axis=1)) + FLOOR
    return [position, done, residual], steps


def _move(stiffness, out, reach):
    """Newton's step of each system, softly anchored and no longer than the reach."""
    count = stiffness.shape[-1]
    anchor = SOFTNESS + 1e-10 * np.trace(stiffness, axis1=1, axis2=2)
    held = stiffness + anchor[:, None, None] * np.eye(count)
    move = -np.linalg.solve(held, out[..., None])[..., 0]
    longest = np.abs(move / reach).max(axis=1)
    return move * np.minimum(1.0, 1 / np.maximum(longest, 1e-300))[:, None]


def _along(energy, load, position, move, state, rows):
    """Follow each step to near the lowest energy on its way; returns where, and what is there.

    The slope of the energy along the step is followed by Newton's rule, within the bounds that
    have been seen, so that a step that runs into a stiff wall ends just inside it. Close to rest,
    where rounding hides a fall of the energy, a fall of the unbalance is enough.
    """
    height, out, near = state
    level, slope = height - _dot(load, position), _dot(out, move)
    share, low, high = np.ones(len(position)), np.zeros(len(position)), np.full(len(position), 2.0)
    trial = position + move
    fresh = list(energy(trial, rows))
    for look in range(LOOKS):
        away = fresh[1] - load
        rise = _dot(away, move)
        lower = fresh[0] - _dot(load, trial) <= level + 1e-4 * share * slope
        calmer = np.abs(away).max(axis=1) <= (1 - 1e-4 * share) * near
        left = rise / np.minimum(slope, -1e-300)
        short = (look == 0) & (left > SHORT) & (left < STEEP)
        poor = np.flatnonzero(short | ~(lower & (left >= -STEEP) | calmer))
        if not poor.size:
            break
        beyond = (rise[poor] > 0) | ~lower[poor]
        high[poor] = np.where(beyond, share[poor], high[poor])
        low[poor] = np.where(beyond, low[poor], share[poor])
        guess = _next(share[poor], rise[poor], fresh[2][poor], move[poor])
        still = np.minimum(np.abs(left[poor]), STEEP) ** (2 / 3)
        guess = np.where(short[poor], 1 / (1 - still), guess)
        inside = (guess > low[poor]) & (guess < high[poor])
        share[poor] = np.where(inside, guess, (low[poor] + high[poor]) / 2)
        trial[poor] = position[poor] + share[poor, None] * move[poor]
        for whole, part in zip(fresh, energy(trial[poor], rows[poor]), strict=True):
            whole[poor] = part
    return trial, *fresh


def _dot(one, other):
    return np.einsum("ni,ni->n", one, other)


def _next(share, rise, stiffness, move):
    """Newton's next share of each step on the slope along it."""
    bend = np.einsum("ni,nij,nj->n", move, stiffness, move)
    return share - rise / np.maximum(bend, 1e-300)
