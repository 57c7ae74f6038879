"""At what notes does it ring after a tap, how surely are they known, how fast do they die away?

Each note is brought down to near zero frequency and followed as a slowly turning pointer: its rate
of turning, by least squares weighted with its power, gives the frequency. That does not care how
the loudness falls, so that a telephone's limiter does not shift it. No uncertainty is claimed
below the Cramér-Rao bound for the noise heard before the tap.
"""

from dataclasses import dataclass, replace

import numpy as np

SKIP = 0.010  # s after the onset: the click of the tap itself
ROOM = 0.06  # s: until then a room's first echoes come in and turn the pointer
LONGEST = 2.0  # s of ringing that are used
SHORTEST = 0.03
LOWEST = 80.0  # Hz
TOP = 0.45  # of the rate
CLEAR = 25.0  # times the noise near by, in power of the spectrum: a note
FAINT = 1e-4  # of the strongest, in power
MOST = 8
NARROW, WIDE = 12.0, 60.0  # Hz, half-width of the band about a note
STRETCHES = (0.12, 1.0)  # s
LOCAL = 150.0  # Hz over which noise is alike
QUIET = 0.04  # s of quiet before a tap that tell noise and hum
STEADY = 0.3  # 1/s
WANDERS = 1.4  # times the noise: more than that is no noise, but echoes or two notes in one
DIES = 3.0  # times: a note that was as loud before the tap is hum
SKIRT = 8.0  # times the skirt of a stronger peak
LATE = 0.004  # of the frequency: a late note is used if it is known so well
ECHO = 0.4  # rad that echoes may turn the pointer while the note dies away
CLOCK = 50e-6 / np.sqrt(3)  # of a telephone's clock (from memory)


@dataclass(frozen=True)
class Note:
    """One note of one tap: Hz, its standard uncertainty and Cramér-Rao bound, rate of decay 1/s."""

    frequency: float
    standard: float
    bound: float
    decay: float
    decay_standard: float
    power: float


def notes(recording, tap, end, quiet):
    """Return the notes after one tap, lowest first.

    tap, end: s, the ringing lies between. quiet: samples from before the tap.
    """
    rate = recording.rate
    first, sound = heard_after(recording, tap + SKIP, end, LONGEST)
    if len(sound) < SHORTEST * rate:
        return []
    later = sound[max(0, int((tap + ROOM) * rate) - first) :]
    hums = _hums(quiet, rate)
    peaks = _peaks(sound, quiet, rate)
    found = []
    for index, (peak, power) in enumerate(peaks):
        others = [other for place, (other, _) in enumerate(peaks) if place != index]
        gap = min((abs(other - peak) for other in [*others, *hums]), default=np.inf)
        half = float(np.clip(0.45 * gap, NARROW, WIDE))
        note = _note(sound, later, quiet, rate, peak, half, power)
        if note is not None:
            found.append(note)
    return sorted(found, key=lambda note: note.frequency)


def heard_after(recording, begin, end, longest):
    """Return the sample at which it begins, and what is heard from then on without clipping.

    begin, end: s. longest: s that are used at most.
    """
    first = int(begin * recording.rate)
    last = min(
        int(end * recording.rate), first + int(longest * recording.rate), len(recording.samples)
    )
    clipped = np.flatnonzero(recording.clipped[first:last])
    if len(clipped):
        first += int(clipped[-1]) + 1
    return first, recording.samples[first:last]


def _note(sound, later, quiet, rate, peak, half, power):
    """Follow a note after the room has joined in, or from the start where it has died by then."""
    whole = followed(sound, quiet, rate, peak, half, power)
    if whole is None or len(later) < SHORTEST * rate:
        return whole
    late = followed(later, quiet, rate, whole.frequency, half, power)
    wander = ECHO / (2 * np.pi) / min(1 / max(whole.decay, 0.5), len(sound) / rate)
    if late is not None and late.standard < LATE * whole.frequency:
        apart = abs(late.frequency - whole.frequency)
        if apart < 3 * np.hypot(whole.standard + wander, late.standard):
            return replace(late, power=power)
    return replace(whole, standard=float(np.hypot(whole.standard, wander)))


def power_of(sound, size):
    """Power of the spectrum under a window that falls from the start; density for white noise."""
    fall = 0.5 + 0.5 * np.cos(np.pi * np.arange(len(sound)) / len(sound))
    power = np.abs(np.fft.rfft((sound - sound.mean()) * fall, size)) ** 2
    return power / np.sum(fall**2)


def _peaks(sound, quiet, rate):
    """Return (frequency, power) of peaks that stand clear of noise and hum, strongest first.

    A short stretch shows what dies away quickly, a long one what lies close together.
    """
    found = []
    for span in STRETCHES:
        for peak, power in _of_stretch(sound[: int(span * rate)], quiet, rate):
            near = [index for index, (other, _) in enumerate(found) if abs(other - peak) < NARROW]
            if near:
                found[near[0]] = peak, max(power, found[near[0]][1])
            else:
                found.append((peak, power))
    found.sort(key=lambda each: -each[1])
    return [each for each in found[:MOST] if each[1] > FAINT * found[0][1]]


def _of_stretch(sound, quiet, rate):
    size = 1 << int(np.ceil(np.log2(2 * len(sound))))
    step = rate / size
    power = power_of(sound, size)
    noise = _level(power, int(LOCAL / step))
    if len(quiet) > QUIET * rate:
        before = power_of(quiet[-len(sound) :], size)
        before *= len(sound) / min(len(quiet), len(sound))  # as the power of a steady line grows
        reach = int(1 + 2.5 * size / min(len(quiet), len(sound)))
        widened = np.lib.stride_tricks.sliding_window_view(np.pad(before, reach), 2 * reach + 1)
        noise = np.maximum(noise, widened.max(axis=1) / 4)
    index = np.arange(1, len(power) - 1)
    high = (power[1:-1] > power[:-2]) & (power[1:-1] >= power[2:])
    clear = high & (power[1:-1] > CLEAR * noise[1:-1])
    place = index[clear & (index * step > LOWEST) & (index * step < TOP * rate)]
    place = place[np.argsort(-power[place], kind="stable")]
    kept = []
    for each in place:
        if power[each] < FAINT * power[place[0]] or len(kept) == MOST:
            break
        if all(beyond_skirt(power, int(each), other, step) for other in kept):
            kept.append(int(each))
    return [(_top(power, each) * step, float(power[each])) for each in kept]


def _level(power, width):
    """Return the noise near each place of a spectrum: medians of wide stretches."""
    width = max(8, width)
    centres = np.arange(0, len(power), width)
    medians = np.array([np.median(power[at : at + 3 * width]) for at in centres]) / np.log(2)
    return np.interp(np.arange(len(power)), centres + 1.5 * width, medians)


def _hums(quiet, rate):
    """Return the frequencies of steady tones heard before the tap, Hz."""
    if len(quiet) < QUIET * rate:
        return []
    size = 1 << int(np.ceil(np.log2(2 * len(quiet))))
    power = power_of(quiet, size)
    noise = _level(power, int(LOCAL * size / rate))
    high = (power[1:-1] > power[:-2]) & (power[1:-1] >= power[2:])
    place = np.flatnonzero(high & (power[1:-1] > CLEAR * noise[1:-1])) + 1
    place = place[np.argsort(-power[place], kind="stable")][: 4 * MOST]
    return (place * rate / size).tolist()


def _density(sound, quiet, rate, frequency):
    """Return the noise near a frequency, power for each Hz: before the tap, or at its end."""
    heard = quiet if len(quiet) > QUIET * rate else sound[-max(256, len(sound) // 4) :]
    size = 1 << int(np.ceil(np.log2(2 * len(heard))))
    level = _level(power_of(heard, size), int(LOCAL * size / rate))
    return 2 * float(level[int(round(frequency * size / rate))]) / rate


def beyond_skirt(power, at, strong, step):
    """Whether a peak is more than a ripple on the skirt of a stronger one."""
    low, high = strong, strong
    while low > 0 and power[low] > power[strong] / 4:
        low -= 1
    while high < len(power) - 1 and power[high] > power[strong] / 4:
        high += 1
    wide, away = (high - low) / 2, abs(at - strong)
    return away * step > 2 * NARROW and power[at] > SKIRT * power[strong] * (wide / away) ** 2


def _top(power, at):
    """Place of a peak between its bins, by a parabola through three logarithms."""
    low, mid, high = np.log(power[at - 1 : at + 2] + 1e-300)
    below = low - 2 * mid + high
    return at + (0.5 * (low - high) / below if below < 0 else 0.0)


def followed(sound, quiet, rate, peak, half, power):
    """Return the note near a peak, or None for a hum that was there before the tap."""
    frequency = peak
    for _ in range(3):
        pointer, step = pointer_of(sound, rate, frequency, half)
        fitted = _turning(pointer, step)
        if fitted is None:
            return None
        frequency += fitted[0]
        if abs(frequency - peak) > half:
            return None
    pointer, step = pointer_of(sound, rate, frequency, half)
    heard = len(quiet) > QUIET * rate
    before = pointer_of(quiet, rate, frequency, half)[0] if heard else None
    density = _density(sound, quiet, rate, frequency)
    if before is not None:
        early = np.abs(pointer[: max(3, len(pointer) // 10)]) ** 2
        if np.mean(np.abs(before) ** 2) * DIES > early.max():
            return None
    return _judged(pointer, step, frequency, density, half, power)


def pointer_of(sound, rate, frequency, half):
    """Bring a band about a frequency down to zero; return the pointer and its time step."""
    size = 1 << int(np.ceil(np.log2(2 * len(sound) + 1)))
    waves = np.fft.rfft(sound, size)
    width = int(np.ceil(half * size / rate))
    centre = int(round(frequency * size / rate))
    count = 1 << int(np.ceil(np.log2(4 * width + 1)))
    offsets = np.arange(-width, width + 1)
    bins = centre + offsets
    good = (bins >= 0) & (bins < len(waves))
    taper = np.cos(np.pi * offsets / (2 * width + 2)) ** 2
    low = np.zeros(count, complex)
    low[offsets[good] % count] = (2 * waves[bins[good]] * taper[good]) / size
    step = size / rate / count
    pointer = np.fft.ifft(low) * count
    kept = max(2, int(len(sound) / rate / step))
    time = np.arange(kept) * step
    residue = frequency - centre * rate / size
    return pointer[:kept] * np.exp(-2j * np.pi * residue * time), step


def _used(pointer):
    """How much of a pointer is still above its own tail."""
    power = np.abs(pointer) ** 2
    floor = np.median(power[-max(3, len(power) // 5) :])
    top = power.max()
    level = max(6 * floor if floor < top / 60 else floor, 1e-5 * top)
    start = int(np.argmax(power))
    below = np.flatnonzero(power[start:] < level)
    return start + int(below[0]) if len(below) else len(power)


def _turning(pointer, step):
    """Return frequency offset (Hz), phases, weights and times of what is used, or None."""
    last = _used(pointer)
    if last < 5:
        return None
    used = pointer[:last]
    time, weight = np.arange(last) * step, np.abs(used) ** 2
    phase = np.unwrap(np.angle(used))
    mean = np.sum(weight * time) / weight.sum()
    spread = np.sum(weight * (time - mean) ** 2)
    slope = np.sum(weight * (time - mean) * phase) / spread
    return slope / (2 * np.pi), phase, weight, time


def _judged(pointer, step, frequency, density, half, power):
    """Return the note with its uncertainty: from the phase's own scatter, never below the bound."""
    fitted = _turning(pointer, step)
    if fitted is None:
        return None
    offset, phase, weight, time = fitted
    mean = np.sum(weight * time) / weight.sum()
    spread = np.sum(weight * (time - mean) ** 2)
    bound = np.sqrt(density / (spread * step)) / (2 * np.pi)
    level = np.sum(weight * phase) / weight.sum()
    off = phase - level - 2 * np.pi * offset * (time - mean)
    own = density * half * 0.75  # noise in the pointer: its density over the width of the band
    more = np.sqrt(np.mean(weight * off**2) / (own / 2)) if own > 0 else np.inf
    standard = bound * max(1.0, more)
    if more > WANDERS:
        standard = max(standard, _wandering(weight, time - mean, off) / spread / (2 * np.pi))
    standard = np.hypot(standard, CLOCK * frequency)
    decay, doubt = _decay(weight, time, own)
    if decay < max(STEADY, 2 * doubt):
        return None  # what does not die away is no ringing
    return Note(frequency + offset, float(standard), float(bound), decay, doubt, power)


def _wandering(weight, time, off):
    """Doubt of a weighted slope, times its spread, from phases whose neighbours err alike."""
    alike = np.sum(weight[:-1] * off[:-1] * off[1:]) / max(np.sum(weight * off**2), 1e-300)
    alike = float(np.clip(alike, 0, 0.98))
    stretch = (1 + alike) / (1 - alike)
    few = max(len(time) / stretch - 2, 1.0)
    return np.sqrt(np.sum((weight * time * off) ** 2) * stretch * (1 + 4 / few))


def _decay(weight, time, own):
    """Rate at which the loudness falls (1/s) and its standard uncertainty."""
    clear = np.maximum(weight - own, 0.1 * weight)
    trust = clear / (clear + own)
    level = np.log(clear) / 2
    mean = np.sum(trust * time) / trust.sum()
    spread = np.sum(trust * (time - mean) ** 2)
    slope = np.sum(trust * (time - mean) * level) / spread
    off = level - np.sum(trust * level) / trust.sum() - slope * (time - mean)
    doubt = np.sqrt(np.sum(trust * off**2) / max(len(time) - 2, 1) / spread)
    return float(-slope), float(doubt)
