"""What does the needle show where a cause is 1 m large? The pattern of each cause.

A pattern is a set of columns with one number for each reading, in the sense in which it was read. A
wave has two columns, since its direction is not known beforehand.
"""

from typing import NamedTuple

import numpy as np

from workshop_lib.run_out.vectors import FULL_TURN

GIVE_FORCE = 20.0  # N, at which the size of a give counts
BASE, SLIP = "", "slip"


class Label(NamedTuple):
    """What a column stands for; columns with the same label are the same thing in several tests."""

    surface: str  # "push"; for a lean "radial" or "face", which may differ in sign; else ""
    free: object  # the state or the number of the test within which it stays the same; else ""
    name: str


def columns(cause, tests):
    """Return the patterns of one cause in these tests.

    Returns an array with one row for each reading; a `Label` for each column; and for each column
    the share of the cause's variance that falls to it (half for each of a wave's two).
    """
    groups = {}
    for number, test in enumerate(tests):
        for label, rows in _blocks(cause, test, number):
            groups.setdefault(label, []).append((number, rows))
    ends = np.cumsum([0, *(test.core.readings.size for test in tests)])
    found, labels, portions = [np.zeros((ends[-1], 0))], [], []
    for label, members in groups.items():
        width = members[0][1].shape[1]
        block = np.zeros((ends[-1], width))
        for number, rows in members:
            block[ends[number] : ends[number + 1]] = rows
        found.append(block)
        labels += [label] * width
        portions += [1 / width] * width
    return np.concatenate(found, axis=1), labels, portions


def scatter(cause, test):
    """Return the share of a cause's size that shows as scatter in each reading of a test.

    What is free to move shows under a push as a movement, not as scatter.
    """
    free = test.what == "push" and cause.candidate
    return 0.0 if cause.pattern != "scatter" or free else cause.share(test)[0]


def _blocks(cause, test, number):
    """Return pairs of label and columns that one cause leaves in one test."""
    share, spread = cause.share(test)
    if share == 0:
        return []
    towards = test.core.towards
    if test.what == "push":
        return _pushed(cause, test.core, towards * share, number)
    if cause.pattern == "drift":
        order = np.linspace(-0.5, 0.5, test.core.readings.size)
        return [(Label("", number, BASE), (towards * share * order)[:, None])]
    if cause.pattern != "wave":
        return []
    surface = test.what if cause.arm else ""
    wave = towards * _wave(cause, test)
    if cause.each == "turn":
        return _loose(cause, test, np.hypot(share, spread) * wave, number)
    free = test.state if cause.each == "state" else ""
    own = [(Label(surface, free, test.where), spread * wave)] if spread else []
    return [(Label(surface, free, BASE), share * wave), *own]


def _wave(cause, test):
    """A wave of so many crests in a turn, as two columns; larger where the arm is longer."""
    core = test.core
    turned = core.index if cause.follows == "part" and cause.part == test.where else 0.0
    phase = cause.harmonic * (core.angles - turned)
    place = cause.arm if core.position is None else core.position
    arm = place / cause.arm if cause.arm else 1.0
    return arm * np.stack([np.cos(phase), np.sin(phase)], axis=-1)


def _loose(cause, test, wave, number):
    """A wave that is another one in each turn, and may change by a share of itself within it."""
    lap, closing = _laps(test.core.angles)
    found = []
    order = np.linspace(-0.5, 0.5, lap.size)[:, None]
    for one in np.unique(lap):
        here = np.where(((lap == one) & ~closing)[:, None], wave, 0.0)
        found.append((Label("", number, f"{BASE}{one:g}"), here))
        if cause.slip:
            found.append((Label("", number, f"{SLIP}{one:g}"), cause.slip * order * here))
    if closing.any():  # it may slip just as the turn closes
        found.append((Label("", number, f"{SLIP} end"), np.where(closing[:, None], wave, 0.0)))
    return found


def _laps(angles):
    """Return the number of the turn that each reading belongs to, and whether it closes the last.

    The last mark closes its turn when it is the first one again.
    """
    turns = (angles - angles.min()) / FULL_TURN
    lap = np.floor(turns + 1e-9)
    closing = (np.abs(turns - lap) < 1e-9) & (turns >= turns.max()) & (lap > 0)
    return np.where(closing, lap - 1, lap), closing


def _pushed(cause, core, share, number):
    """What a push shows: a free movement stays where it was pushed to, a give springs back."""
    if cause.pattern == "give":
        return [(Label("push", number, "give"), (share * core.forces / GIVE_FORCE)[:, None])]
    if cause.pattern not in ("wave", "scatter") or not cause.candidate:
        return []
    sign = np.sign(core.forces)
    last = np.maximum.accumulate(np.where(sign != 0, np.arange(sign.size), -1))
    resting = np.where((sign == 0) & (last >= 0), sign[np.maximum(last, 0)], 0.0)
    before = np.where(last < 0, 1.0, 0.0)  # it lies anywhere in its play until it is pushed
    return [
        (Label("push", "", "pushed"), (share * sign)[:, None]),
        (Label("push", "", "resting"), (share * resting)[:, None]),
        (Label("push", number, "before"), (share * before)[:, None]),
    ]
