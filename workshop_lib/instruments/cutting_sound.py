"""What does the sound of a cut say? The spindle's speed from strikes; what a whistle may be."""

from dataclasses import dataclass, field

import numpy as np

from workshop_lib.instruments.hearing import loudest
from workshop_lib.instruments.recording import Recording
from workshop_lib.instruments.taps import high_passed
from workshop_lib.quantities import InputError, as_shown, boundary, one_value, show, whole_number

ENVELOPE = 500.0  # samples of loudness for each second
SOFTENED = np.array([1, 3, 4, 3, 1]) / 12  # over five of them: what beats faster is no strike
DRIFT = 0.1  # of a period that its multiples may move it
LOW_BAND = 800.0  # Hz; below it motor and gears are loud
SLOWEST, FASTEST = 1.0, 80.0  # strikes for each second that are looked for
LEAST_LENGTH = 1.5  # s
REGULAR = 0.25  # of the loudness's own scatter that must repeat
CLOSE = 0.35  # of the best repeat: a shorter one as good as that is the strike, not the turn
MULTIPLES = 40
NEAR = 2.0  # standard deviations within which a cause explains a whistle
RIM_SPREAD = 0.05  # share, standard: sheet, thickness and pad are known no better
SPEED_SPREAD = 0.01  # share, standard, of a speed read from a dial


@dataclass(frozen=True)
class Speed:
    """A spindle's speed that the strikes would mean for a number of corners."""

    corners: int
    turns: float  # for each second

    @property
    def speed(self):
        """The spindle's speed."""
        return as_shown(2 * np.pi * self.turns, "speed")


@dataclass(frozen=True, eq=False)
class Strikes:
    """How often the loudness of a cut repeats. rate, standard: for each second; regular: 0 to 1."""

    rate: float
    standard: float
    regular: float
    speeds: tuple
    envelope: np.ndarray = field(repr=False)

    @property
    def frequency(self):
        """Strikes for each second."""
        return as_shown(self.rate, "frequency")

    @property
    def speed(self):
        """The spindle's speed for the corners that were given."""
        return self.speeds[0].speed

    @property
    def speed_uncertainty(self):
        """Expanded uncertainty of that speed (k = 2), if the number of corners is right."""
        return as_shown(2 * 2 * np.pi * self.standard / self.speeds[0].corners, "speed")

    def __str__(self):
        said = [f"{show(self.speed)} with {self.speeds[0].corners} corners"]
        said += [f"{show(each.speed)} if there are {each.corners}" for each in self.speeds[1:]]
        return "; ".join(said)


@boundary(recording=Recording, corners=whole_number(1, 60))
def speed_from_strikes(recording, corners):
    """How fast does the spindle turn, from the strikes of the blank's corners?

    The loudness above the motor's noise repeats once for each strike: n = rate / corners, the rate
    from the repetition of the loudness over the whole recording.

    recording: of the cut, at least 1.5 s. corners: whole number left on the blank, 1 to 60; 1 for a
    blank that is only off centre. Returns `Strikes`; its `.speeds` also holds the speeds for one
    corner more and one less, since a corner may be cut away or struck twice. Raises InputError
    where nothing repeats. Source: kinematics.

    By hand: 24 strikes in a second on a square blank are 6 turns in a second, 360 rev/min.
    >>> rng = np.random.default_rng(2)
    >>> time = np.arange(3 * 44_100) / 44_100
    >>> cut = rng.normal(0, 0.1, len(time)) * (0.1 + np.exp(-40 * (time * 24 % 1) / 24))
    >>> found = speed_from_strikes(Recording(cut, 44_100), corners=4)
    >>> print(round(found.frequency.m), round(found.speed.m, -1))
    24 360.0
    """
    if recording.length < LEAST_LENGTH:
        raise InputError(
            "recording", "is too short", f"Record at least {LEAST_LENGTH} s of the cut"
        )
    loud = _envelope(recording)
    lags, alike = _repeats(loud)
    low, high = int(ENVELOPE / FASTEST), int(ENVELOPE / SLOWEST)
    high = min(high, len(alike) - 2)
    inside = alike[low : high + 1]
    peaks = np.flatnonzero((inside[1:-1] > inside[:-2]) & (inside[1:-1] >= inside[2:])) + 1 + low
    if not len(peaks) or alike[peaks].max() < REGULAR:
        mend = "Record nearer to the cut, while the tool still strikes the corners"
        raise InputError("recording", "no regular strikes can be heard in it", mend)
    first = _strike(alike, peaks)
    period, doubt = _refined(alike, first)
    rate = ENVELOPE / period
    counts = [corners, corners + 1, *([corners - 1] if corners > 1 else [])]
    speeds = tuple(Speed(count, rate / count) for count in counts)
    return Strikes(rate, rate * doubt / period, float(alike[first]), speeds, loud)


def _strike(alike, peaks):
    """Return the shortest repeat that divides the best one: the strike, not the whole turn.

    Corners that are unlike repeat best after a turn, yet each is struck.
    """
    best = int(peaks[np.argmax(alike[peaks])])
    for peak in peaks:
        times = round(best / peak)
        near = abs(best - times * peak) <= 1 + times / 2
        if near and alike[peak] > CLOSE * alike[best]:
            return int(peak)
    return best


def _envelope(recording):
    """Loudness of what lies above the motor's noise, ENVELOPE samples for each second."""
    sound = np.abs(high_passed(recording.samples, recording.rate, LOW_BAND))
    edges = np.arange(0, recording.length * ENVELOPE - 1) / ENVELOPE * recording.rate
    total = np.concatenate([[0.0], np.cumsum(sound)])
    sums = np.interp(edges, np.arange(len(total)), total)
    loud = np.diff(sums) * ENVELOPE / recording.rate
    loud = np.convolve(loud, SOFTENED, "same")
    return np.minimum(loud, np.quantile(loud, 0.99))


def _repeats(loud):
    """Correlation of the loudness with itself, 1 at no lag."""
    off = loud - loud.mean()
    size = 1 << int(np.ceil(np.log2(2 * len(off))))
    waves = np.abs(np.fft.rfft(off, size)) ** 2
    sums = np.fft.irfft(waves)[: len(off) // 2]
    shared = len(off) - np.arange(len(sums))
    alike = sums / shared
    return np.arange(len(sums)), alike / max(alike[0], 1e-300)


def _refined(alike, first):
    """Sharpen a period by its multiples; return it and its standard uncertainty, in samples."""
    period, found, orders = float(first), [], []
    order = 1
    while period * (order + 0.5) < len(alike) - 2 and order <= MULTIPLES:
        near, reach = period * order, max(2, int(0.25 * period))
        low = max(1, int(near) - reach)
        at = low + int(np.argmax(alike[low : int(near) + reach + 1]))
        if not 1 <= at < len(alike) - 1 or alike[at] < 0.5 * REGULAR:
            break
        below = alike[at - 1] - 2 * alike[at] + alike[at + 1]
        shift = 0.5 * (alike[at - 1] - alike[at + 1]) / below if below < 0 else 0.0
        found.append(at + shift)
        orders.append(order)
        period = float(np.dot(orders, found) / np.dot(orders, orders))
        order += 1
    if not orders or abs(period - first) > DRIFT * first + 1:
        return float(first), 0.5
    orders, found = np.array(orders), np.array(found)
    scatter = np.sqrt(np.mean((found - period * orders) ** 2)) if len(found) > 1 else 0.5
    return period, float(max(scatter, 0.1) / np.sqrt(np.sum(orders**2)) + 0.05 / orders.max())


@dataclass(frozen=True)
class Suspect:
    """One thing that may whistle: its note (Hz), how many deviations off, what to try."""

    name: str
    note: float
    apart: float
    next_test: str

    @property
    def frequency(self):
        """The note that this would give."""
        return as_shown(self.note, "frequency")

    @property
    def explains(self):
        """Whether it comes near enough."""
        return self.apart <= NEAR


@dataclass(frozen=True, eq=False)
class Whistle:
    """The loudest tone of a cut and what it may be, nearest first."""

    core: float
    standard: float
    suspects: tuple

    @property
    def frequency(self):
        """The tone's frequency."""
        return as_shown(self.core, "frequency")

    @property
    def verdict(self):
        """What it is likely to be, in words."""
        near = [each for each in self.suspects if each.explains]
        if not near:
            return "Nothing that was given explains this whistle: look for another source."
        if len(near) == 1:
            return f"Most likely {near[0].name}. {near[0].next_test}"
        names = " or ".join(each.name for each in near[:3])
        return f"It could be {names}: they lie too close to tell. {near[0].next_test}"


SPEED_TEST = "Change the spindle speed by a tenth: if the note moves with it, it is this."
RIM_TEST = "Change the spindle speed by a tenth: if the note stays, it is the rim."


@boundary(
    recording=Recording,
    speed="speed > 0",
    corners=whole_number(1, 60),
    rim_frequencies="frequency > 0",
    balls=whole_number(3, 60),
    ball_share="ratio > 0",
)
def whistle(recording, speed, corners, rim_frequencies, balls=8, ball_share=0.25):
    """What whistles: the rim, the strikes, or a bearing?

    The loudest tone above 200 Hz is held against the rim's natural frequencies, k × corners × n,
    and a ball bearing's passing rates z n (1 ± d/D) / 2, n turns for each second.

    recording: of the whistle. speed: of the spindle. corners: whole number left on the blank, 1 to
    60. rim_frequencies: from `overhang.natural_frequencies`, or measured by tapping. balls: of the
    nose's bearing, 3 to 60. ball_share: ball over pitch diameter d/D, plain number (0.2 to 0.3 is
    usual). Returns a `Whistle`: suspects nearest first, the next test with each. Raises InputError
    where no tone stands out. Notes: high multiples of the strikes lie so close together that one
    always fits: they are judged by how close their neighbours lie. Source: kinematics.

    A pure tone of 1200 Hz, and a rim of that note:
    >>> rng = np.random.default_rng(4)
    >>> tone = np.sin(2 * np.pi * 1200 * np.arange(44_100) / 44_100) + rng.normal(0, 0.1, 44_100)
    >>> found = whistle(Recording(tone, 44_100), "377 rev/min", 7, ["800 Hz", "1210 Hz"])
    >>> print(found.frequency.round(1), found.suspects[0].name)
    1200.0 Hz the rim with 1 nodal diameter
    """
    one_value(speed=speed, ball_share=ball_share)
    if ball_share >= 1:
        raise InputError("ball_share", "must be less than 1", "0.25 is usual")
    tone, standard = loudest(recording, 200.0, min(0.45 * recording.rate, 12_000.0))
    turns = speed / (2 * np.pi)
    suspects = [
        (f"the rim with {n} nodal diameter{'s' * (n != 1)}", float(note), RIM_SPREAD, RIM_TEST)
        for n, note in enumerate(np.atleast_1d(rim_frequencies))
    ]
    strike = corners * turns
    multiple = max(1, round(tone / strike))
    suspects.append((f"{multiple} times the strikes", multiple * strike, SPEED_SPREAD, SPEED_TEST))
    for side, ring in ((1, "inner"), (-1, "outer")):
        passing = balls * turns * (1 + side * ball_share) / 2
        order = max(1, round(tone / passing))
        name = f"the balls passing the {ring} ring" + (f", {order} times over" if order > 1 else "")
        suspects.append((name, order * passing, 2 * SPEED_SPREAD, SPEED_TEST))
    ranked = []
    for name, note, spread, next_test in suspects:
        off = abs(tone - note) / np.hypot(spread * note, standard)
        # a comb of multiples closer than the doubt fits anything: it is no evidence
        comb = note * spread > 0.25 * strike and next_test is SPEED_TEST
        ranked.append(Suspect(name, note, off + (NEAR + 1.0) * comb, next_test))
    return Whistle(tone, standard, tuple(sorted(ranked, key=lambda each: each.apart)))
