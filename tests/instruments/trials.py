"""Random scenes and signals for the coverage proofs: a few in the tests, 300 in the benchmark."""

import numpy as np

from tests.instruments.scenes import Scanner, Shape, draw
from tests.instruments.signals import tapped
from workshop_lib.instruments import Picture, Recording, hear_taps, minimum_zone
from workshop_lib.quantities import Q_

CLAIM = (600 / 0.0254, 600 / 0.0254)


def scene(seed, sizes=(20, 50), true_scanner=False):
    """Return a scan of a disc and a known ring, the ring's diameter, and the truth.

    The truth: diameter and departure from roundness in mm, lobes. With `true_scanner` the sensors
    meet and the carriage does not wobble.
    """
    rng = np.random.default_rng(seed)
    diameter = rng.uniform(*sizes)
    ring = rng.uniform(0.5, 1.1) * diameter
    shown = ring * (1 + rng.normal(0, 0.003 / ring))
    lobes = {k: (abs(rng.normal(0, 0.01)), rng.uniform(0, 2 * np.pi)) for k in range(2, 8)}
    disc = Shape(diameter / 2 + 6 + 1j * (diameter / 2 + 5), diameter / 2, lobes)
    known = Shape(diameter + 12 + ring / 2 + 1j * (ring / 2 + 6), ring / 2)
    size = (diameter + ring + 18, max(diameter, ring) + 12)
    amount = 0.0 if true_scanner else rng.uniform(0, 0.015)
    joins = [
        (at, amount * (rng.normal() + 1j * rng.normal()) / 2)
        for at in rng.uniform(0, size[0] / 25.4 * 600, 2)
    ]
    scanner = Scanner(
        *(25.4 / 600 * (1 + rng.normal(0, 0.001)) for _ in range(2)),
        skew=rng.uniform(-1, 1) * np.radians(0.3),
        blur=rng.uniform(0.5, 1.6),
        noise=rng.uniform(0.002, 0.02),
        gamma=rng.random() < 0.7,
        joins=tuple(joins),
        wobble=(amount, rng.uniform(5, 40), rng.uniform(0, 2 * np.pi)),
    )
    greys = [(0.12, 0.85), (0.75, 0.04), (0.35, 0.62)][rng.integers(3)]
    at_rim = disc.centre + disc.radius * np.exp(1j * rng.uniform(0, 2 * np.pi, 3))
    specks = [(place, rng.uniform(0.05, 0.25), greys[0]) for place in at_rim]
    specks.append((disc.centre + 0.8j * disc.radius, 0.6, greys[1]))
    light = rng.uniform(-0.1, 0.1, 2)
    values = draw([disc, known], scanner, size, greys, light, specks, seed)
    angle = np.linspace(0, 2 * np.pi, 1440, endpoint=False)
    zone = minimum_zone(disc.edge(angle) * np.exp(1j * angle)).zone
    return Picture(values, CLAIM), Q_(shown, "mm"), (diameter, zone, lobes)


def taps(seed):
    """Return a recording of one tap, when it was, and its modes (Hz, 1/s, loudness)."""
    rng = np.random.default_rng(seed)
    lowest, tap = rng.uniform(200, 1500), rng.uniform(0.3, 0.8)
    modes = [
        (lowest, rng.uniform(2, 40), rng.uniform(0.2, 0.5)),
        (lowest * 1.73, rng.uniform(3, 50), rng.uniform(0.05, 0.4)),
        (lowest * 2.33, rng.uniform(3, 60), rng.uniform(0.02, 0.3)),
    ]
    echoes = [(rng.uniform(0.005, 0.05), rng.uniform(-0.4, 0.4)) for _ in range(rng.integers(0, 4))]
    rate = int(rng.choice([44_100, 48_000]))
    samples = tapped(
        modes,
        rate,
        (tap,),
        noise=10 ** rng.uniform(-4, -1.7),
        hum=rng.choice([0, 0.05, 0.2]),
        echo=echoes,
        limiter=rng.random() < 0.3,
        gain=rng.choice([0.5, 1, 2.5]),
        seed=seed,
    )
    return Recording(samples, rate), tap, modes


def judged(seed):
    """Return whether the tap was found in time, and how far each heard note was off, in U."""
    recording, tap, modes = taps(seed)
    heard = hear_taps(recording)
    found = len(heard.times) == 1 and abs(heard.times[0] - tap) < 0.005
    off, strange = [], 0
    for mode in heard.modes:
        true = min(modes, key=lambda each: abs(each[0] - mode.core))[0]
        if abs(mode.core / true - 1) > 0.03:
            strange += 1
        else:
            off.append((mode.core - true) / (2 * mode.standard))
    return found, off, strange


def quick_taps(seed, knock=False):
    """Return a recording of five taps that fall silent at once, their notes (Hz) and the decay.

    A rim on leather or rubber loses 1.5 to 6 % of its swing in a radian. A knock is a click and a
    burst of noise as short, without a note; no two are alike.
    """
    rng = np.random.default_rng(seed)
    lowest, rate = rng.uniform(500, 3500), int(rng.choice([44_100, 48_000]))
    decay = lowest * 2 * np.pi * rng.uniform(0.015, 0.06)
    modes = [(lowest, decay, 0.5), (lowest * rng.uniform(1.25, 1.9), 1.4 * decay, 0.12)]
    echoes = [(rng.uniform(0.005, 0.05), rng.uniform(-0.4, 0.4)) for _ in range(rng.integers(0, 4))]
    when = 0.4 + 0.5 * np.arange(5) + rng.uniform(0, 0.1, 5)
    samples = tapped(
        [] if knock else modes,
        rate,
        when,
        length=3.0,
        noise=10 ** rng.uniform(-4, -2),
        hum=rng.choice([0, 0.02, 0.1]),
        echo=echoes,
        limiter=rng.random() < 0.3,
        gain=rng.choice([0.5, 1]),
        seed=seed,
    )
    if knock:
        time = np.arange(len(samples)) / rate
        for each in when:
            after = (time - each).clip(0)
            burst = np.exp(-after / rng.uniform(0.002, 0.01)) * rng.normal(0, 0.4, len(time))
            samples += np.where(time > each, burst, 0)
    return Recording(samples, rate), [] if knock else [each[0] for each in modes], decay


def judged_quick(seed, knock=False):
    """Return how the lowest note of quick taps was told.

    Whether it was heard, whether inside its statement, how many were no note, and whether it dies
    away slowly enough (500 1/s) to be asked for.
    """
    recording, true, decay = quick_taps(seed, knock)
    modes = hear_taps(recording).modes
    if knock:
        return False, False, len(modes), False
    near = [mode for mode in modes if abs(mode.core / true[0] - 1) < 0.08]
    strange = sum(all(abs(mode.core / each - 1) > 0.08 for each in true) for mode in modes)
    inside = bool(near) and abs(near[0].core - true[0]) <= 2 * near[0].standard
    return bool(near), inside, strange, decay < 500
