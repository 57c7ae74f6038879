"""What does a scan or a tap look like as a line of a job file? Written to be copied, and read back.

What the line holds is enough to draw the rim round the turn and the sound pitch by pitch, so that
a job needs neither picture nor recording beside it.
"""

import numpy as np

from workshop_lib import instruments
from workshop_lib.quantities import either

POINTS = 72  # of a rim, one every five degrees
TIMES, STEP = 4.0, 500.0  # a spectrum ends at so many times the note, Hz, rounded up
PLACES = 150  # stretches of a spectrum
CLICK = 0.01  # s after a tap that are left out
DEEPEST = 60  # dB below the loudest: fainter is noise


def scan_line(found):
    """Return the line that a scan is in a job, below [measured]. found: `instruments.DiscScan`."""
    turn = np.linspace(0, 360, POINTS, endpoint=False)
    angle, height = found.angles.m_as("deg"), found.heights.m_as("um")
    order = np.argsort(angle)
    heights = np.interp(turn, angle[order], height[order], period=360)
    sizes = {
        "diameter": typed(found.diameter, 3),
        "uncertainty": typed(found.uncertainty, 3),
        "roundness": _fine(found.roundness.m_as("um")),
        "roundness_uncertainty": _fine(found.roundness_uncertainty.m_as("um")),
        "date": "…",
    }
    listed = ", ".join(f'"{_fine(each)}"' for each in heights)
    return f"scan = {{ {_entries(sizes)}, heights = [{listed}] }}"


def typed(length, decimals=2):
    """Return a length as a job takes it, in the system that is spoken: so many decimals of a mm."""
    unit, more = either(("mm", 0), ("in", 2))
    return f"{length.m_as(unit):.{decimals + more}f} {unit}"


def _fine(micrometres):
    """Return a height, a roundness or its doubt as a job takes it."""
    thou = micrometres / 25.4
    return either(f"{_whole(micrometres)} um", f"{round(float(thou), 2) + 0:.2f} thou")


def note_line(key, recording, heard, note, across=None, mode=None):
    """Return the line that a note is in a job, below [measured].

    key: rim_note or sheet_note. recording: `instruments.Recording`. heard: what
    `instruments.hear_taps` made of it. note: the one of its modes that is meant. across: text, of
    the disc that was tapped, see `typed`. mode: which note of the free disc it is.
    """
    doubt = max(note.uncertainty.m_as("Hz"), 0.1)
    sizes = {"frequency": f"{note.core:.1f} Hz", "uncertainty": f"{doubt:.1f} Hz"}
    sizes |= {} if across is None else {"across": across}
    which = "" if mode is None else f", mode = {mode}"
    low, high, levels = spectrum_after(recording, heard, note.core)
    listed = ", ".join(_whole(min(-each, DEEPEST)) for each in levels)
    ends = _entries({"low": f"{low:.0f} Hz", "high": f"{high:.0f} Hz"})
    sizes = _entries(sizes | {"date": "…"})
    return f"{key} = {{ {sizes}{which}, spectrum = {{ {ends}, below = [{listed}] }} }}"


def spectrum_after(recording, heard, note):
    """Return lowest and highest pitch (Hz), and dB of each stretch between, after the first tap.

    note: Hz, so that the spectrum reaches well beyond it.
    """
    start = float(heard.times[0]) + CLICK
    top = STEP * np.ceil(TIMES * note / STEP)
    pitch, level = instruments.spectrum(recording, start, top=top, places=PLACES)
    half = (pitch[1] - pitch[0]) / 2
    return pitch[0] - half, pitch[-1] + half, level


def _whole(number):
    return str(round(float(number)) + 0)


def _entries(sizes):
    return ", ".join(f'{name} = "{text}"' for name, text in sizes.items())


def rim_seen(job):
    """Return the rim round the turn as complex places, m, clockwise from the mark, or None.

    From the scan's heights about its mean circle, or what micrometer and V tell.
    """
    scan = job["measured.scan"]
    if scan is not None and "heights" in scan:
        heights = np.array([each.m_as("m") for each in scan["heights"]])
        turn = np.arange(len(heights)) * 2j * np.pi / len(heights)
        return (scan["diameter"].m_as("m") / 2 + heights) * np.exp(turn)
    return None if job.rim_measured is None else job.rim_measured.profile


def sound_heard(note):
    """Return pitches (Hz) and dB below the loudest of a note's entry, or None without them."""
    given = note and note.get("spectrum")
    if not given:
        return None
    levels = -np.array(given["below"], dtype=float)
    edges = np.linspace(given["low"].m_as("Hz"), given["high"].m_as("Hz"), len(levels) + 1)
    return (edges[1:] + edges[:-1]) / 2, levels
