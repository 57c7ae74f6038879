"""Makes the demonstration scans and recordings of lesson 07, from the top folder of the clone:

    python -m tests.instruments.make_demonstrations

The invented scenario's 78 mm stainless cover, "scanned" and "tapped": drawn and summed by the same
independent path as the test scenes. TRUTH says what was put in.
"""

import wave

import numpy as np
from PIL import Image

from tests.instruments.scenes import Scanner, Shape, draw
from tests.instruments.signals import TWO_PI, tapped
from workshop_lib.instruments.made_files import FOLDER

RATE = 22_050
TRUTH = {"diameter": 78.02, "ring": 62.0, "oval": 0.02, "note": 524.0, "speed": 280.0, "corners": 8,
         "rim": 2096.0, "whistle": 2110.0}  # fmt: skip


def scan(turn, seed):
    """The cover beside a bearing ring of 62 mm, lying turned by an angle, clockwise."""
    lobes = {2: (TRUTH["oval"], 0.6 + turn), 3: (0.012, 1.9 + turn), 7: (0.004, 0.3 + turn)}
    cover = Shape(46 + 46j, TRUTH["diameter"] / 2, lobes)
    ring = Shape(122 + 40j, TRUTH["ring"] / 2)
    scanner = Scanner(25.4 / 300 * 1.0012, 25.4 / 300 * 0.9991, np.radians(0.15), 0.7, 0.002)
    specks = [
        (cover.centre + 39 * np.exp(1j * (turn + 2.2)), 0.25, 0.6),
        (cover.centre + 33 * np.exp(1j * turn), 1.0, 0.05),
    ]
    return draw([cover, ring], scanner, (160, 92), (0.6, 0.06), (0.05, -0.04), specks, seed)


def cutting():
    """Four seconds of an eight-cornered blank at 280 rev/min, corners unlike, a motor beneath."""
    rng = np.random.default_rng(8)
    time = np.arange(4 * RATE) / RATE
    strikes = time * TRUTH["speed"] / 60 * TRUTH["corners"]
    loud = 1 + 0.2 * rng.normal(size=TRUTH["corners"])
    which = np.floor(strikes).astype(int) % TRUTH["corners"]
    hiss = loud[which] * np.exp(-(strikes % 1) / 0.15) * rng.normal(0, 0.15, len(time))
    return hiss + 0.2 * np.sin(TWO_PI * 100 * time) + rng.normal(0, 0.01, len(time))


def whistling():
    """Two seconds of the same cut, with a whistle near the note of the squeezed rim."""
    short = cutting()[: 2 * RATE]
    time = np.arange(len(short)) / RATE
    return short + 0.08 * np.sin(TWO_PI * TRUTH["whistle"] * time)


def save_sound(name, samples):
    """Write samples as 16 bit WAV."""
    whole = np.rint(np.clip(samples, -1, 1) * 32_000).astype("<i2")
    with wave.open(str(FOLDER / name), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(RATE)
        file.writeframes(whole.tobytes())


def main():
    """Write all files."""
    FOLDER.mkdir(exist_ok=True)
    for name, turn, seed in (("cover.jpg", 0.4, 1), ("cover_turned.jpg", 0.4 + np.pi / 2, 2)):
        Image.fromarray(scan(turn, seed)).save(FOLDER / name, quality=93, dpi=(300, 300))
    note = TRUTH["note"]
    modes = [(note, 5.0, 0.4), (note * 9.003 / 5.358, 8.0, 0.15), (note * 12.439 / 5.358, 9.0, 0.1)]
    save_sound("hung.wav", tapped(modes, RATE, (0.5, 1.7, 2.9), 4.0, 0.002, 0.02, seed=5))
    save_sound("cutting.wav", cutting())
    rim = [(TRUTH["rim"], 100.0, 0.6), (1.31 * TRUTH["rim"], 150.0, 0.1)]
    save_sound("squeezed.wav", tapped(rim, RATE, (0.3, 1.1), 2.0, 0.01, 0.02, seed=6))
    save_sound("whistling.wav", whistling())


if __name__ == "__main__":
    main()
