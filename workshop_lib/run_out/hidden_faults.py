"""How are set-ups with a hidden fault made from a seed? For drawn dial, exercises, benchmark.

The needle is worked out from the parts themselves (exact circles off their axis, lobes, a shaft
that wanders in its clearance, a stand that creeps, a needle that sticks and is read to the nearest
division), not from the patterns by which `diagnosis` judges. Sizes are drawn between low and high
of `causes.csv`; every set-up has the usual small errors besides. It may have no fault, one, or two
at once, and readings that were misread by half a numbered mark or a whole one.
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
ONE_TURN = 362  # of its degrees are worked out where no more is asked for
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
    """What was hidden: the cause's key, its part, its size (length), a sentence, what else."""

    cause: str
    part: str
    size: Quantity
    sentence: str
    besides: tuple = ()  # the `Answer` of a second fault


def mystery(seed, cause=None, roughness=1.0, faults=1, misread=0.0):
    """Which set-up hides behind this number?

    seed: whole number, 0 to 10^12; the same seed makes the same set-up everywhere. cause: key of
    the fault that it shall have, or None to draw one, all alike. roughness: plain number, by which
    all usual small errors and the scatter are multiplied, 0 to 10. faults: how many, 0, 1 or 2 (the
    second is another one, or in another part). misread: chance from 0 to 1 that a test has one
    reading that is off by 5 or 10 divisions. Returns a `Mystery`.
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
        raise InputError("roughness", "give one number from 0 to 10")
    faults = whole_number(0, 2)(faults, "faults")
    misread = to_core(misread, "ratio", "misread", ">= 0")
    if np.ndim(misread) or misread > 1:
        raise InputError("misread", "give one number from 0 to 1")
    return Mystery(seed, cause, roughness, faults, misread)


class Mystery:
    """A set-up with hidden faults. `.take` clocks it, `.needle` is the dial, `.reveal` tells."""

    def __init__(self, seed, cause, roughness, faults=1, misread=0.0):
        self.seed, self._traces, self._misread_chance = seed, {}, misread
        draw = np.random.default_rng([seed, 1])
        drawn = HIDEABLE[draw.integers(len(HIDEABLE))]
        key = drawn if cause is None else cause
        those = [one for one in causes.candidates() if one.key == key]
        if not those:
            raise InputError("cause", f"causes.csv has no {key}")
        first = those[draw.integers(len(those))]
        found = [(first, _size(draw, first))]
        self._division = float(draw.choice(DIVISIONS))
        self._small_errors(draw, roughness)
        if faults == 2:
            found.append(_another(np.random.default_rng([seed, 2]), first))
        self._faults = tuple(found[:faults])
        for fault, size in self._faults:
            self._break(draw, fault, size)

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

    def _break(self, draw, fault, size):
        key = fault.key
        if key in SHAPE_FAULTS:
            self._shape[fault.part, SHAPE_FAULTS[key]] += _vector(draw, size)
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
        wrong = self._misread(clocking, turn, values.size)
        if wrong is not None:
            values[wrong[0]] += wrong[1]
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

    def misread(self, clocking, turn=1):
        """Which reading was misread when it was clocked there, and by what length?

        clocking, turn: as for `take`, at the usual marks or forces. Returns its number and a
        length, or None if none was misread.
        """
        clocking, turn = find_clocking(clocking), whole_number(1, 10_000)(turn, "turn")
        count = FORCES.size if clocking.what == "push" else MARKS.size
        wrong = self._misread(clocking, turn, count)
        return None if wrong is None else (wrong[0], as_shown(wrong[1], "length"))

    def _misread(self, clocking, turn, count):
        luck = self._luck((clocking.key, turn, "misread"))
        if count == 0 or luck.random() >= self._misread_chance:
            return None
        number = int(luck.integers(count))
        return number, self._division * float(luck.choice([-10, -5, 5, 10]))

    def reveal(self):
        """What was hidden? Returns an `Answer`."""
        if not self._faults:
            nothing = causes.find_cause("nothing_found")
            size = as_shown(0.0, "length")
            return Answer(nothing.key, nothing.part, size, f"It was {nothing.name}.")
        first, *rest = (_answer(fault, size) for fault, size in self._faults)
        for other in rest:
            sentence = f"{first.sentence[:-1]}, and the{other.sentence[10:]}"
            first = first._replace(sentence=sentence, besides=(*first.besides, other))
        return first

    def _at(self, clocking, turn, angles):
        if not angles.size:
            return angles
        key = clocking.where, clocking.what, clocking.position, clocking.index, turn
        angles = angles % GRID[-1]
        needed = int(np.ceil(np.degrees(angles.max()))) + 1
        if self._traces.get(key, GRID[:0]).size < needed:
            if len(self._traces) > 100:
                self._traces.clear()
            length = ONE_TURN if needed <= ONE_TURN else GRID.size
            self._traces[key] = self._trace(clocking, self._luck(key), length)
        trace = self._traces[key]
        return np.interp(angles, GRID[: trace.size], trace)

    def _luck(self, key):
        return np.random.default_rng([self.seed, zlib.crc32(repr(key).encode())])

    def _trace(self, clocking, luck, length):
        """The needle over some turns, degree by degree, up to that many degrees."""
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
        shown = _sticking(shown[:length], self._sticking)
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


def _size(draw, fault):
    """Draw a size between low and high, even in its logarithm."""
    low, _, high = fault.sizes
    return float(np.exp(draw.uniform(np.log(low), np.log(high))))


def _another(draw, first):
    """Draw a second fault: another one, or the same in another part; and its size."""
    others = [one for one in causes.candidates() if one.key in HIDEABLE and one is not first]
    fault = others[draw.integers(len(others))]
    return fault, _size(draw, fault)


def _answer(fault, size):
    length = as_shown(size, "length")
    known = fault.part in fault.name or fault.part == "indicator"
    where = "" if known else f" of the {fault.part}"
    sentence = f"It was the {fault.name}{where}, {show(length, figures=2)} of it."
    return Answer(fault.key, fault.part, length, sentence)


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
