"""Recordings made by another path: damped sines summed in the time domain, then spoilt."""

import numpy as np

TWO_PI = 2 * np.pi


def tapped(
    modes,
    rate=44_100,
    taps=(0.5,),
    length=2.5,
    noise=0.001,
    hum=0.0,
    echo=(),
    limiter=False,
    gain=1.0,
    seed=0,
):
    """Return samples of a thing tapped.

    modes: (Hz, 1/s of decay, loudness) each. taps: s. noise: rms. hum: loudness of 50 Hz and
    multiples. echo: (delay s, share) each. limiter: a telephone's, quick to turn down and slow to
    turn up. gain: of the recorder, which clips at 1.
    """
    rng = np.random.default_rng(seed)
    time = np.arange(int(length * rate)) / rate
    sound = np.zeros(len(time))
    for tap in taps:
        after = time - tap
        on = after >= 0
        strike = rng.uniform(0.6, 1.2)
        for frequency, decay, loud in modes:
            phase = rng.uniform(0, TWO_PI)
            swing = np.sin(TWO_PI * frequency * after[on] + phase)
            sound[on] += strike * loud * np.exp(-decay * after[on]) * swing
        click = np.exp(-after[on] / 0.0008) * rng.normal(0, 0.5, on.sum())
        sound[on] += strike * click
    for delay, share in echo:
        shift = int(delay * rate)
        sound[shift:] += share * sound[: len(sound) - shift].copy()
    for multiple in (1, 2, 3, 5):
        sound += hum / multiple * np.sin(TWO_PI * 50 * multiple * time + rng.uniform(0, TWO_PI))
    sound += rng.normal(0, noise, len(sound))
    if limiter:
        sound = limited(sound, rate)
    return np.clip(gain * sound, -1, 1)


def limited(sound, rate, target=0.25):
    """Turn down what is louder than a target: at once, and up again within a tenth of a second."""
    block = max(1, int(0.002 * rate))
    count = -(-len(sound) // block)
    gain, gains = 1.0, np.empty(count)
    for index in range(count):
        top = np.abs(sound[index * block : (index + 1) * block]).max()
        wanted = min(1.0, target / top) if top > 0 else 1.0
        gain = wanted if wanted < gain else gain + (wanted - gain) * block / (0.1 * rate)
        gains[index] = gain
    places = (np.arange(count) + 0.5) * block
    return sound * np.interp(np.arange(len(sound)), places, gains)
