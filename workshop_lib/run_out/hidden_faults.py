"""Set-ups with a hidden fault, made from a seed: for the drawn dial, exercises and the benchmark.

The needle is worked out from the parts themselves (exact circles off their axis, lobes, a shaft
that wanders in its clearance, a stand that creeps, a needle that sticks and is read to the nearest
division), not from the patterns by which `diagnosis` judges. Sizes are drawn between low and high
of `causes.csv`; every set-up has the usual small errors besides.
"""

import zlib
from typing import NamedTuple

import numpy as np

from workshop_lib.quantities import InputError, Quantity, as_shown, show, to_core, whole_number
from workshop_lib.run_out import causes
from workshop_lib.run_out.clocking_list import FORCES, MARKS, find_clocking
from workshop_lib.run_out.readings import PLACES
from workshop_lib.sources import csv_tables

RADII = {"spindle": 25e-3, "pad": 15e-3, "disc": 39e-3, "nose": 12e-3}  # m, of the drawn set-up
DIVISIONS = (10e-6, 12.7e-6, 2e-6)  # m: 0.01 mm, half a thou, 0.002 mm
TURNS = 3  # turns of the spindle that a trace holds, before it comes round again
ARM = 25e-3  # m, at which a lean is counted
GRID = np.radians(np.arange(360 * TURNS + 1))
WANDER = 15  # degrees of turn over which a shaft in its clearance goes from one place to another
LARGEST_SEED = 10**12
SHAPES = ("offset", "lean", "oval", "lobes")
# Usual small errors, m: the most of an even spread from nothing upwards (common practice).
SMALL = {
    "spindle": {"offset": 5e-6, "lean": 1e-6, "oval": 1e-6, "lobes": 1e-6},
    "pad": {"offset": 5e-6, "lean": 3e-6, "oval": 2e-6, "lobes": 1.5e-6},
    "disc": {"offset": 7e-6, "lean": 6e-6, "oval": 2.5e-6, "lobes": 1e-6},
    "nose": {"offset": 7e-6, "lean": 3e-6, "oval": 2e-6, "lobes": 1.5e-6},
}
WAVES = {2: 25e-6, 3: 8e-6}  # m, of a sheet that is not flat
SCATTER, STICKING = (0.5e-6, 2e-6), 2e-6
SMALL_CREEP, SMALL_PLAY, SMALL_SHUFFLE = 1.5e-6, 1e-6, 1e-6
SHAPE_FAULTS = {
    "eccentric_seat": "offset",
    "tilted": "lean",
    "oval": "oval",
    "three_jaw_lobes": "lobes",
}

OTHERS = ("bearing_clearance", "displaced_disc", "loose_mounting", "indicator_setup")
HIDEABLE = (*SHAPE_FAULTS, *OTHERS)


class Answer(NamedTuple):
    """What was hidden: the cause's key, its part, its size (length), and a sentence."""

    cause: str
    part: str
    size: Quantity
    sentence: str


def mystery(seed, cause=None, roughness=1.0):
    """Which set-up hides behind this number?

    seed: whole number, 0 to 10^12; the same seed makes the same set-up everywhere. cause: key of
    the fault that it shall have, or None to draw one, all alike. roughness: plain number, by which
    all usual small errors and the scatter are multiplied, 0 to 10. Returns a `Mystery`.
    Raises InputError naming the argument. Source: common-practice for all sizes.

    >>> setup = mystery(7)
    >>> print(setup.take("nose_near"))
    <nose_near: 13 readings>
    """
    seed = whole_number(0, LARGEST_SEED)(seed, "seed")
    if cause is not None:
        csv_tables.choose(cause, HIDEABLE, "cause", "cause that can be hidden")
    roughness = to_core(roughness, "ratio", "roughness", ">= 0")
    if np.ndim(roughness) or roughness > 10:
        raise InputError("roughness", "one number from 0 to 10 is wanted")
    return Mystery(seed, cause, roughness)


class Mystery:
    """A set-up with one hidden fault. `.take` clocks it, `.needle` is the dial, `.reveal` tells."""

    def __init__(self, seed, cause, roughness):
        self.seed, self._traces = seed, {}
        draw = np.random.default_rng([seed, 1])
        drawn = HIDEABLE[draw.integers(len(HIDEABLE))]
        key = drawn if cause is None else cause
        those = [one for one in causes.candidates() if one.key == key]
        if not those:
            raise InputError("cause", f"causes.csv has no {key}")
        self._fault = those[draw.integers(len(those))]
        low, _, high = self._fault.sizes
        self._size = float(np.exp(draw.uniform(np.log(low), np.log(high))))
        self._division = float(draw.choice(DIVISIONS))
        self._small_errors(draw, roughness)
        self._break(draw)

    @property
    def graduation(self):
        """Length of one division of its dial, mm."""
        return as_shown(self._division, "length")

    def _small_errors(self, draw, roughness):
        def upto(most):
            return roughness * draw.uniform(0, most)

        self._shape = {
            (place, shape): _vector(draw, upto(SMALL[place][shape]))
            for place in PLACES
            for shape in SHAPES
        }
        self._waves = {order: _vector(draw, upto(most)) for order, most in WAVES.items()}
        self._scatter, self._sticking = roughness * draw.uniform(*SCATTER), upto(STICKING)
        self._play, self._shuffle = upto(SMALL_PLAY), upto(SMALL_SHUFFLE)
        self._creep = upto(SMALL_CREEP) * draw.choice([-1, 1])
        self._slowing = draw.uniform(0.3, 3)  # turns in which the creep dies down
        self._knock, self._follows = 0j, draw.uniform(0.3, 1)
        self._give, self._drag = draw.uniform(0.05e-6, 0.3e-6), draw.uniform(1, 8)

    def _break(self, draw):
        key, size = self._fault.key, self._size
        if key in SHAPE_FAULTS:
            self._shape[self._fault.part, SHAPE_FAULTS[key]] += _vector(draw, size)
        elif key == "displaced_disc":
            self._knock = _vector(draw, size)
        elif key == "bearing_clearance":
            self._play = size
        elif key == "loose_mounting":
            self._shuffle = size
        else:  # indicator_setup
            self._creep = size * draw.choice([-1, 1])

    def take(self, clocking, turn=1, angles=None, forces=None):
        """Clock it: `Readings` or a `Push`, read to the nearest division.

        clocking: key such as "nose_near", or a `Clocking`. turn: which time it is clocked there.
        angles, forces: quantities; None takes every 30° and back to the first mark, or pushes of
        10 N and 20 N. The same clocking and turn give the same readings.
        """
        clocking, turn = find_clocking(clocking), whole_number(1, 10_000)(turn, "turn")
        if clocking.what == "push":
            along = FORCES if forces is None else np.atleast_1d(to_core(forces, "force", "forces"))
            values = self._pushed(clocking, turn, along)
        else:
            along = MARKS if angles is None else np.atleast_1d(to_core(angles, "angle", "angles"))
            values = self._at(clocking, turn, along)
        values = self._division * np.round(values / self._division)
        name = clocking.key if turn == 1 else f"{clocking.key}, time {turn}"
        return clocking.test(values, along, self._division, name)

    def needle(self, clocking, angle, turn=1):
        """Where the needle stands as the spindle is turned: a length in mm, not rounded.

        clocking, turn: as for `take`; not a push. angle: quantity or array of them. After three
        turns the needle comes round again.
        """
        clocking, turn = find_clocking(clocking), whole_number(1, 10_000)(turn, "turn")
        if clocking.what == "push":
            raise InputError("clocking", "a push is not turned", "Use take")
        angle = to_core(angle, "angle", "angle")
        return as_shown(self._at(clocking, turn, np.asarray(angle)), "length")

    def reveal(self):
        """What was hidden? Returns an `Answer`."""
        fault, size = self._fault, as_shown(self._size, "length")
        where = "" if fault.part == "indicator" else f" of the {fault.part}"
        sentence = f"It was the {fault.name}{where}, {show(size, figures=2)} of it."
        return Answer(fault.key, fault.part, size, sentence)

    def _at(self, clocking, turn, angles):
        key = clocking.where, clocking.what, clocking.position, clocking.index, turn
        if key not in self._traces:
            if len(self._traces) > 100:
                self._traces.clear()
            self._traces[key] = self._trace(clocking, self._luck(key))
        return np.interp(angles % GRID[-1], GRID, self._traces[key]) if angles.size else angles

    def _luck(self, key):
        return np.random.default_rng([self.seed, zlib.crc32(repr(key).encode())])

    def _trace(self, clocking, luck):
        """The needle over some turns, degree by degree."""
        loose = self._loose(luck)
        if clocking.what == "face":
            surface = self._face(clocking, loose)
        else:
            surface = self._rim(clocking, loose)
        if clocking.where == "nose":
            surface = surface + self._wander(luck, 0.3 if clocking.what == "face" else 1.0)
        slowing = -np.expm1(-GRID / (2 * np.pi * self._slowing))
        creep = self._creep * slowing / -np.expm1(-1 / self._slowing)
        shown = surface + creep + luck.normal(0, self._scatter, GRID.size)
        shown = _sticking(shown, self._sticking)
        return shown - shown[0] + self._division * luck.integers(-20, 20)

    def _loose(self, luck):
        """Where the loose pad lies: another place in every turn, sometimes a slip within one."""
        place = [_vector(luck, self._shuffle * luck.uniform(0.4, 1)) for _ in range(TURNS + 1)]
        slips = luck.uniform(0, 1, TURNS + 1) + 0.5 * luck.integers(0, 2, TURNS + 1)
        lap = np.minimum((GRID / (2 * np.pi)).astype(int), TURNS - 1)
        slipped = GRID / (2 * np.pi) - lap > slips[lap]
        return np.array(place)[lap] * np.where(slipped, 0.6, 1.0)

    def _rim(self, clocking, loose):
        where, turned = clocking.where, clocking.index
        own = turned if where in ("disc", "nose") else 0.0
        shape = {name: self._shape[where, name] for name in SHAPES}
        centre = (shape["offset"] + shape["lean"] * clocking.position / ARM) * np.exp(1j * own)
        centre = centre * np.ones(GRID.size)
        if where == "pad":
            centre += self._shape["spindle", "offset"]
        carried = {"pad": loose, "disc": loose + self._knock}
        carried["nose"] = self._follows * carried["disc"]
        centre += carried.get(where, 0)
        seen, radius = centre * np.exp(-1j * GRID), RADII[where]
        circle = seen.real + np.sqrt(radius**2 - seen.imag**2) - radius
        theta = GRID - turned
        return circle + _lobes(shape["oval"], 2, theta) + _lobes(shape["lobes"], 3, theta)

    def _face(self, clocking, loose):
        where = clocking.where
        own = clocking.index if where in ("disc", "nose") else 0.0
        lean = self._shape[where, "lean"] * np.exp(1j * own)
        if where == "disc":
            lean = lean + self._shape["pad", "lean"]
        lean = lean + (0.3 * loose if where in ("pad", "disc") else 0)
        rise = -(lean * np.exp(-1j * GRID)).real * clocking.position / ARM
        if where == "disc":
            theta = GRID - own
            rise = rise + sum(_lobes(wave, order, theta) for order, wave in self._waves.items())
        return rise

    def _wander(self, luck, share):
        nodes = np.radians(np.arange(0, 360 * TURNS + WANDER, WANDER))
        return share * np.interp(GRID, nodes, self._play * luck.uniform(-1, 1, nodes.size))

    def _pushed(self, clocking, turn, forces):
        """Push and pull with the spindle still: play that stays where it is, and give."""
        luck = self._luck((clocking.key, turn))
        free = {"nose": self._play, "pad": 0.7 * self._shuffle}.get(clocking.where, 0.0)
        at, values = free * luck.uniform(-1, 1), []
        for force in forces:
            if abs(force) > self._drag:
                at = free * np.sign(force)
            values.append(at + self._give * np.sign(force) * abs(force) ** (2 / 3) * 20 ** (1 / 3))
        return np.array(values) + luck.normal(0, self._scatter, len(values))


def _vector(draw, size):
    return size * np.exp(1j * draw.uniform(0, 2 * np.pi))


def _lobes(wave, order, theta):
    return (wave * np.exp(-1j * order * theta)).real


def _sticking(path, width):
    """A needle that follows only when it is pulled by more than half its sticking width."""
    shown, at, half = [], float(path[0]), width / 2
    for value in path.tolist():
        if at < value - half:
            at = value - half
        elif at > value + half:
            at = value + half
        shown.append(at)
    return np.array(shown)
