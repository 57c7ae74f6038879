"""When was it tapped? The onsets of taps in a recording."""

import numpy as np

FRAME = 1e-3  # s
BANDS = (150.0, 2000.0)  # Hz; below the first mains hum and rumble are left out
FAINT = 1e-4  # of the loudest, in power
RISE = 8.0  # times the level just before, in power: a tap
OVER = 12.0  # times the quiet of the recording, in power
BEFORE, GAP, AFTER = 30, 3, 4  # frames whose levels are compared
SHARPER = 0.03  # s within which both bands heard one tap
REFRACTORY = 0.12  # s; after a tap nothing is another one for so long
START = 0.15  # of the tap's first peak: where it begins


def find_taps(recording):
    """Return the times (s) at which taps begin; empty where there is none.

    A tap is a sudden rise, in what lies above mains hum or in what is higher than most machines'.
    """
    step = max(1, int(FRAME * recording.rate))
    if len(recording.samples) // step < BEFORE + GAP + AFTER + 2:
        return np.array([])
    low, high = (
        _rises(high_passed(recording.samples, recording.rate, lowest), step) for lowest in BANDS
    )
    # the high band tells the moment better; a hum can drown a tap in the low one
    near = SHARPER * recording.rate
    found = high + [each for each in low if all(abs(each - other) > near for other in high)]
    taps, free = [], -np.inf
    for onset in sorted(found):
        if onset / recording.rate > free:
            taps.append(onset / recording.rate)
            free = taps[-1] + REFRACTORY
    return np.array(taps)


def _rises(sound, step):
    """Return the samples at which one band rises suddenly."""
    count = len(sound) // step
    power = (sound[: count * step].reshape(count, step) ** 2).mean(axis=1)
    total = np.concatenate([[0], np.cumsum(power)])
    at = np.arange(BEFORE + GAP, count - AFTER)
    after = (total[at + AFTER] - total[at]) / AFTER
    before = (total[at - GAP] - total[at - GAP - BEFORE]) / BEFORE
    tiny = 1e-12 * max(power.max(), 1e-300)
    ratio = after / (before + tiny)
    told = (ratio > RISE) & (after > OVER * (np.quantile(power, 0.2) + tiny))
    told &= after > FAINT * after.max()
    found, free = [], 0
    for index in np.flatnonzero(told):
        if at[index] < free:
            continue
        ahead = slice(index, index + 2 * AFTER)
        best = index + int(np.argmax(ratio[ahead]))
        found.append(_onset(sound, at[best] * step, step))
        free = at[best] + int(REFRACTORY / FRAME)
    return found


def _onset(sound, near, step):
    """Return the sample at which a tap rises out of what was before it."""
    low, high = max(0, near - 4 * step), min(len(sound), near + (AFTER + 1) * step)
    loud = np.abs(sound[low:high])
    before = np.abs(sound[max(0, low - 20 * step) : low])
    noise = 4 * before.std() if len(before) else 0.0
    level = max(START * loud.max(), min(noise, 0.6 * loud.max()))
    return low + int(np.argmax(loud >= level))


def high_passed(samples, rate, lowest):
    """Return samples without what lies below a frequency (smooth step an octave wide)."""
    edge = min(len(samples) - 1, int(0.1 * rate))
    padded = np.pad(samples, edge, "reflect", reflect_type="odd")
    size = _fast(len(padded))
    octave = np.log2(np.maximum(np.fft.rfftfreq(size, 1 / rate), 1e-9) / lowest)
    waves = np.fft.rfft(padded, size) * (0.5 - 0.5 * np.cos(np.pi * np.clip(octave + 1, 0, 1)))
    return np.fft.irfft(waves, size)[edge : edge + len(samples)]


def _fast(length):
    """Return an even length of few small factors, at least as long, that transforms quickly."""
    power = 1 << max(4, int(np.ceil(np.log2(max(length, 1)))))
    choices = [power * top // 16 for top in (9, 10, 12, 15, 16)]
    return min(choice + choice % 2 for choice in choices if choice >= length)
