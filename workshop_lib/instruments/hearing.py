"""What does a recording of taps say? The notes that every tap rang, and how surely."""

from dataclasses import dataclass, field, replace
from itertools import pairwise

import numpy as np

from workshop_lib.instruments.quick_notes import FEWEST, quick_notes
from workshop_lib.instruments.recording import Recording
from workshop_lib.instruments.ringing import notes
from workshop_lib.instruments.taps import find_taps
from workshop_lib.quantities import Q_, InputError, as_shown, boundary, show

COVER = 2.0
LEAD = 0.004  # s before the next tap at which ringing ends
QUIET = 0.5  # s before a tap that are listened to for noise and hum
AT_ONCE, SOONER = 50.0, 1.6  # 1/s, and times as fast: what rings on is but an echo
ENOUGH = 0.04  # s of quiet that tell noise and hum
ALIKE = 0.006  # of the frequency: notes of several taps that are one


@dataclass(frozen=True, eq=False)
class Mode:
    """One note of the thing tapped. standard, decay: Hz and 1/s. heard: in how many of the taps."""

    core: float
    standard: float
    bound: float
    decay: float
    power: float
    heard: int

    @property
    def frequency(self):
        """Its frequency."""
        return as_shown(self.core, "frequency")

    @property
    def uncertainty(self):
        """Expanded uncertainty of the frequency (k = 2)."""
        return as_shown(COVER * self.standard, "frequency")

    @property
    def loss(self):
        """Damping ratio: rate of decay over 2 pi f. A free metal disc has less than 0.005."""
        return self.decay / (2 * np.pi * self.core)

    def __str__(self):
        size, good = show(self.frequency, figures=5), show(self.uncertainty, figures=2)
        return f"{size}, good to {good}; damping ratio {self.loss:.2g}"


@dataclass(frozen=True, eq=False)
class Heard:
    """Taps and notes of a recording. times: of the taps, s. modes: lowest first."""

    times: np.ndarray = field(repr=False)
    modes: tuple
    clipped: bool
    quick: bool = False  # whether it fell silent within some hundredths of a second

    @property
    def taps(self):
        """When it was tapped."""
        return as_shown(self.times, "time")

    @property
    def strongest(self):
        """The loudest note, or None."""
        return max(self.modes, key=lambda mode: mode.power, default=None)

    @property
    def remarks(self):
        """What to know before going by these numbers."""
        said = []
        if not self.modes:
            said.append("No tap with a note after it was heard: no frequency is given.")
            if self.quick:
                said.append(
                    "Something dies away too quickly to be sure of: tap it five times, a second "
                    "apart, in a quiet room."
                )
        elif self.quick:
            gone = show(Q_(1e3 / self.modes[0].decay, "ms"), figures=1)
            said.append(
                f"It dies away within {gone}. Tap bed and tailstock too: a note that they give as "
                "well is not the rim's."
            )
        if self.clipped:
            said.append(
                "The recording was too loud and is clipped: the clipped parts were left out."
            )
        if len(self.times) == 1 and self.modes:
            said.append("Only one tap: tap five times to see how well they agree.")
        return tuple(said)


@boundary(recording=Recording)
def hear_taps(recording):
    """What notes does a disc give when it is tapped?

    Each tap is a sudden rise; what rings after it and dies away is followed note by note, see
    `instruments.ringing`; hum that was there before is left out. Several taps are averaged.

    recording: a `Recording`, from `instruments.read_recording` or made of samples and rate.
    Returns a `Heard` with `.taps`, `.modes`, `.strongest` and `.remarks`; no modes where nothing
    was tapped. Raises InputError. Notes: the uncertainty holds noise, echoes, disagreement between
    taps and a telephone's clock; never less than the Cramér-Rao bound.
    Source: cramer-rao; sensors-23-5639 on telephones as instruments.

    A made tap of 440 Hz:
    >>> time = np.arange(44_100) / 44_100 - 0.3
    >>> ring = np.where(time > 0, np.exp(-8 * time.clip(0)) * np.sin(2 * np.pi * 440 * time), 0)
    >>> ring += np.random.default_rng(1).normal(0, 0.001, len(ring))
    >>> heard = hear_taps(Recording(ring, 44_100))
    >>> print(len(heard.modes), round(heard.modes[0].frequency.m), heard.taps.round(2))
    1 440 [0.3] s
    """
    times = find_taps(recording)
    ends = np.append(times[1:] - LEAD, recording.length)[: len(times)]
    heard = _heard(recording, times, ends, notes, before=ends)
    quick = _heard(recording, times, ends, quick_notes, before=times)
    return _first_to_die(heard, quick)


def _first_to_die(heard, quick):
    """Of what rang on and what died at once, what the taps gave: the other is the room's echo."""
    most = max((mode.heard for mode in heard.modes), default=0)
    sure = tuple(mode for mode in quick.modes if mode.heard >= max(FEWEST, most))
    if not sure:
        return replace(heard, quick=bool(quick.modes) and not heard.modes)
    loudest = max(sure, key=lambda mode: mode.power)
    if most >= FEWEST and loudest.decay < max(AT_ONCE, SOONER * heard.strongest.decay):
        return heard
    return replace(quick, modes=sure, quick=True)


def _heard(recording, times, ends, notes, before):
    """Return what all taps together say. notes: the call that tells the notes of one tap.

    before: for each tap, from when on it is quiet again, s: its end, or at once for a quick one.
    """
    groups, rang = [], []
    for tap, end, last in zip(times, ends, np.append(0.0, before)[: len(times)], strict=True):
        start = max(last + 0.2 * (tap - last), tap - LEAD - QUIET)
        quiet = _between(recording, start, tap - LEAD)
        if len(quiet) < ENOUGH * recording.rate:  # then hum is known from before the first tap
            quiet = _between(recording, times[0] - LEAD - QUIET, times[0] - LEAD)
        found = notes(recording, float(tap), float(end), quiet)
        if found:
            rang.append(tap)
        for note in found:
            near = [group for group in groups if _alike(group[0], note)]
            (near[0] if near else groups.append([]) or groups[-1]).append(note)
    modes = [_together(group) for group in groups if 2 * len(group) >= len(rang)]
    modes.sort(key=lambda mode: mode.core)
    return Heard(np.array(rang), tuple(modes), bool(recording.clipped.any()))


def _between(recording, start, end):
    return recording.samples[max(0, int(start * recording.rate)) : int(end * recording.rate)]


def _alike(one, other):
    """Whether two taps gave the same note, as far as either is known."""
    apart = abs(one.frequency - other.frequency)
    return apart < max(ALIKE * other.frequency, 2 * min(one.standard, other.standard))


def _together(group):
    """One note out of several taps: the mean by weight, and what taps and fits say of its doubt."""
    frequency = np.array([note.frequency for note in group])
    doubt = np.array([note.standard for note in group])
    weight = 1 / doubt**2
    mean = float(np.sum(weight * frequency) / weight.sum())
    standard = 1 / np.sqrt(weight.sum())
    if len(group) > 1:
        off = np.sum(weight * (frequency - mean) ** 2) / (len(group) - 1)
        few = 1 + 2 / (len(group) - 1)  # few taps tell their own scatter poorly
        standard *= max(1.0, np.sqrt(off * few))
    standard = max(standard, min(note.bound for note in group) / np.sqrt(len(group)))
    decay = float(np.median([note.decay for note in group]))
    bound = min(note.bound for note in group)
    return Mode(mean, float(standard), bound, decay, max(note.power for note in group), len(group))


def loudest(recording, lowest, highest):
    """Return the loudest steady tone of a recording between two frequencies: (Hz, standard).

    Raises InputError where no tone stands out of the noise.
    """
    sound = recording.samples
    size = 1 << int(np.ceil(np.log2(2 * len(sound))))
    step = recording.rate / size
    power = np.abs(np.fft.rfft(sound * np.hanning(len(sound)), size)) ** 2
    low, high = int(lowest / step), min(int(highest / step), len(power) - 2)
    if high - low < 16:
        raise InputError("highest", "is too close to the lowest pitch, or below it")
    at = low + int(np.argmax(power[low:high]))
    if not power[at] > 50 * np.median(power[low:high]):
        raise InputError("recording", "no whistle can be heard above the noise")
    three = np.log(power[at - 1 : at + 2] + 1e-300)
    below = three[0] - 2 * three[1] + three[2]
    top = at + (0.5 * (three[0] - three[2]) / below if below < 0 else 0.0)
    # a whistle wanders with the cut: its own width, or half a line of the spectrum, is its doubt
    half = power[max(0, at - 400) : at + 401] > power[at] / 4
    return float(top * step), float(max(half.sum() / 4, 0.25) * step)


def spectrum(recording, start, length=0.5, top=5000.0, places=400):
    """How loud is each pitch of a stretch of sound? Return Hz and decibels below the loudest.

    start, length: s. Of the many lines in each of so many places up to `top` the loudest stands.
    """
    first = int(start * recording.rate)
    sound = recording.samples[first : first + int(length * recording.rate)]
    if len(sound) < 64:
        raise InputError("start", "leaves no sound to look at")
    size = 1 << int(np.ceil(np.log2(2 * len(sound))))
    power = np.abs(np.fft.rfft(sound * np.hanning(len(sound)), size)) ** 2
    pitch = np.fft.rfftfreq(size, 1 / recording.rate)
    edges = np.linspace(40.0, min(top, recording.rate / 2), places + 1)
    index = np.searchsorted(pitch, edges)
    loudest_of = np.array([power[a : max(b, a + 1)].max() for a, b in pairwise(index)])
    level = 10 * np.log10(loudest_of / loudest_of.max() + 1e-9)
    return (edges[:-1] + edges[1:]) / 2, level
