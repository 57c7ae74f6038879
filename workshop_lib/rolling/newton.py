"""Rest positions of many elastic systems at once: damped Newton steps on their energy.

A contact that only pushes has a convex energy, so the sum of all contacts, springs and beams of a
bearing or a shaft is convex too, and every rest position is the only one. Each Newton step is
shortened until the energy (or the force out of balance) falls; whoever does not come to rest is
named, never handed out as an answer.
"""

from dataclasses import dataclass

import numpy as np

from workshop_lib.quantities import InputError

STEPS, HALVINGS = 100, 40
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
    load, start: (n, k). reach: longest single step, m. Systems that do not settle are tried again
    with the load put on in ten parts. Returns a `Rest`; a row that is not `converged` holds NaN.
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
        trial, *fresh = _shorten(energy, load[chosen], position[chosen], move, state, rows[chosen])
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
    longest = np.abs(move).max(axis=1)
    return move * np.minimum(1.0, reach / np.maximum(longest, 1e-300))[:, None]


def _shorten(energy, load, position, move, state, rows):
    """Take each step whole, or halve it until the energy falls; returns where and what.

    Close to rest, where rounding hides a fall of the energy, a fall of the unbalance is enough.
    """
    height, out, near = state
    level = height - (load * position).sum(axis=1)
    slope = (out * move).sum(axis=1)
    share = np.ones(len(position))
    trial = position + move
    fresh = list(energy(trial, rows))
    for _ in range(HALVINGS):
        lower = fresh[0] - (load * trial).sum(axis=1) <= level + 1e-4 * share * slope
        calmer = np.abs(fresh[1] - load).max(axis=1) <= (1 - 1e-4 * share) * near
        poor = np.flatnonzero(~(lower | calmer))
        if not poor.size:
            break
        share[poor] /= 2
        trial[poor] = position[poor] + share[poor, None] * move[poor]
        for whole, part in zip(fresh, energy(trial[poor], rows[poor]), strict=True):
            whole[poor] = part
    return trial, *fresh
