"""Which notes does a thing give that falls silent within some hundredths of a second?

A rim squeezed on leather or rubber does. What is left after the click of the tap is a handful of
swings: a wide band is followed from a few milliseconds after the tap on. A dull knock has its sound
spread over all pitches, and no two knocks alike, so a quick note counts only if most of the sound
lies in its band and several taps agree on it.
"""

from dataclasses import replace

import numpy as np

from workshop_lib.instruments import ringing
from workshop_lib.instruments.taps import BANDS

SKIP = 0.003  # s after the tap: its click
LONGEST, SHORTEST = 0.08, 0.012  # s that are used
STRETCH = 0.03  # s that show the notes
WIDEST, NARROWEST = 400.0, 60.0  # Hz, half-width of the band that is followed
SHARE = 0.3  # of the sound's power, noise off, that lies in the bands of all its notes
CLEAR = 30.0  # times the noise from before the tap, in power of the spectrum
FAINT = 0.02  # of the strongest, in power
DIED = 0.05  # of its power: it has died away
MOST = 3
FEWEST = 3  # taps that agree
FINE = 8  # times finer than the stretch the spectrum is looked at
DAMPED = 0.15  # damping ratio beyond which there is no swing to be followed


def quick_notes(recording, tap, end, quiet):
    """Return the `ringing.Note`s that stand out after one tap, lowest first; often none.

    tap, end: s, what is heard lies between. quiet: samples from before the tap.
    """
    rate = recording.rate
    _, sound = ringing.heard_after(recording, tap + SKIP, end, LONGEST)
    if min(len(sound), len(quiet)) < SHORTEST * rate:
        return []
    peaks, power, noise, step = _peaks(sound[: int(STRETCH * rate)], quiet, rate)
    found, within = [], np.zeros(len(power), bool)
    for place, (peak, loud) in enumerate(peaks):
        gap = min(
            (abs(other - peak) for other, _ in peaks[:place] + peaks[place + 1 :]), default=1e9
        )
        half = float(np.clip(0.45 * min(gap, peak), NARROWEST, WIDEST))
        within[max(0, int((peak - half) / step)) : int((peak + half) / step) + 1] = True
        note = _note(sound, quiet, rate, peak, half, loud)
        if note is not None and note.decay < DAMPED * 2 * np.pi * note.frequency:
            found.append(note)
    clear = np.maximum(power - noise, 0.0)
    if not found or clear[within].sum() < SHARE * clear.sum():
        return []
    return sorted(found, key=lambda note: note.frequency)


def _note(sound, quiet, rate, peak, half, loud):
    """Follow a note until it has died away once: what comes later is the room's echo of it."""
    pointer, step = ringing.pointer_of(sound, rate, peak, half)
    power = np.abs(pointer) ** 2
    top = int(np.argmax(power[: max(3, len(power) // 4)]))
    below = np.flatnonzero(power[top:] < DIED * power[top])
    if not len(below):
        return None
    lasts = (top + int(below[0])) * step
    note = ringing.followed(sound[: int(lasts * rate)], quiet, rate, peak, half, loud)
    if note is None:
        return None
    decay = _decay(power[top : top + int(below[0]) + 1], step)
    fades = max(decay, -np.log(DIED) / 2 / lasts)
    doubt = np.hypot(note.standard, ringing.ECHO / (2 * np.pi) * fades)
    return replace(note, standard=float(doubt), decay=decay)


def _decay(power, step):
    """Rate (1/s) at which the loudness falls, after the band itself has swung in."""
    later = np.log(power[len(power) // 3 :]) / 2
    slope = np.polyfit(step * np.arange(len(later)), later, 1)[0] if len(later) > 2 else 0.0
    return max(float(-slope), 1.0)


def _peaks(sound, quiet, rate):
    """Return (Hz, power) of peaks, strongest first; the spectrum, its noise, and its step in Hz."""
    size = 1 << int(np.ceil(np.log2(FINE * len(sound))))
    step = rate / size
    power = ringing.power_of(sound, size)
    pieces = len(quiet) // len(sound)
    before = quiet[: max(pieces, 1) * len(sound)].reshape(max(pieces, 1), -1)
    noise = np.mean([ringing.power_of(each, size) for each in before], axis=0)
    pitch = np.arange(len(power)) * step
    heard = (pitch > BANDS[0]) & (pitch < ringing.TOP * rate)
    power, noise = np.where(heard, power, 0.0), np.where(heard, noise, 0.0)
    high = (power[1:-1] > power[:-2]) & (power[1:-1] >= power[2:])
    places = np.flatnonzero(high & (power[1:-1] > CLEAR * noise[1:-1])) + 1
    kept = []
    for each in places[np.argsort(-power[places], kind="stable")]:
        if len(kept) == MOST or power[each] < FAINT * power.max():
            break
        if all(ringing.beyond_skirt(power, int(each), other, step) for other in kept):
            kept.append(int(each))
    return [(each * step, float(power[each])) for each in kept], power, noise, step
