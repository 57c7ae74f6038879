"""How do a measured rim and the sound of a tap look? Round the turn, and pitch by pitch."""

import numpy as np

from workshop_lib.drawings.charts import Chart
from workshop_lib.drawings.roses import Rose
from workshop_lib.instruments import minimum_zone
from workshop_lib.quantities import Q_, show

FLOOR = -60.0  # dB, of a spectrum
ROUND = np.linspace(0, 2 * np.pi, 181)


def roundness_plot(profile, unit="um"):
    """A rim round the turn, between the two circles about one centre that hold it: a `Chart`.

    profile: complex places of the rim round the turn, m, the mark at angle 0 and the rest clockwise
    from it. unit: of the rings. The rim is drawn about the centre of its minimum zone (ISO 12181).
    """
    zone = minimum_zone(profile)
    away = profile - zone.centre
    out = np.abs(away) - zone.radius
    wide, told_in = Q_(zone.zone, "m"), float(Q_(1, "m").m_as(unit))
    words = show(wide, unit, figures=2)
    alt = f"The rim round the turn, {len(profile)} points: it lies in a ring {words} wide."
    largest = max(float(np.abs(out).max()), 1e-9)
    chart = Rose(largest, unit, alt, 2, inner=True, clockwise=True)
    around = np.append(np.arange(len(away)), 0)
    chart.line(np.angle(away)[around], told_in * out[around], colour="ink")
    for edge in (out.min(), out.max()):
        chart.line(ROUND, 0 * ROUND + told_in * float(edge), "", "dashed", "blue")
    chart.row("rim", "solid", "ink")
    return chart.row(f"narrowest ring: {words} wide", "dashed", "blue")


def spectrum_chart(pitch, level, top, marks=(), computed=(), alt=""):
    """How loud each pitch of a sound is, with lines at pitches that have a name: a `Chart`.

    pitch: Hz. level: dB below the loudest, nought or less. top: Hz, where the axis ends. marks:
    pairs of pitch in Hz and name. computed: notes in Hz that it should have, the lowest first; they
    are numbered, since they lie close together. What lies beyond the axis is left out.
    """
    told = [note for note in computed if note < top]
    marks = [*marks, *((note, f"{number}") for number, note in enumerate(told[:-1], 1))]
    marks += [(note, f"{len(told)}: computed") for note in told[-1:]]
    chart = Chart(x=("Pitch in Hz", 0, top), y=("Loudness in dB", FLOOR, 5), alt=alt)
    chart.line(pitch, np.maximum(level, FLOOR), "heard", weight="heavy")
    for note, name in marks:
        if note < top:
            chart.vertical(float(note), name)
    return chart
