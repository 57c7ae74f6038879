"""How are readings round the turn plotted? Round, as vectors, and their harmonics as bars.

Marks of the spindle run anticlockwise from the right. Lengths along a radius are read on the rings;
what each arrow means stands under the plot, with its number and its kind of line.
"""

import numpy as np

from workshop_lib.drawings.charts import Chart
from workshop_lib.drawings.drawing import Canvas
from workshop_lib.drawings.kept_axes import nice
from workshop_lib.drawings.roses import Rose
from workshop_lib.quantities import Q_, show

WIDE, NARROWEST = 26.0, 44.0  # mm on paper for one bar, and for the plot
FINEST = 1e-5  # of an amplitude in its unit; below it an axis would be all noughts
SWEEP = np.linspace(0, 2 * np.pi, 181)

SHORTEST = 0.6  # mm on paper below which an arrow would be all head


def polar_plot(taken, found, unit="mm"):
    """Readings round the turn with the fitted circle, the eccentricity and the high spot.

    taken: `Readings`. found: its `Fit`. unit: of rings and words. Returns a `Chart`.
    """
    out = taken.core.towards * (taken.core.readings - found.core.offset)
    vector = complex(found.core.vector)
    worst = Q_(float(np.abs(found.core.residual).max().round(12)), "m")  # below that it is dust
    size = show(found.eccentricity, unit)
    told = bool(found.tells_high_spot)
    where = f"high spot at the mark {show(found.high_spot)}" if told else "no clear high spot"
    alt = (
        f"{out.size} readings round the turn: eccentricity {size}, {where}, no reading "
        f"farther than {show(worst, unit)} from the fitted circle."
    )
    largest = max(np.abs(out).max(), abs(vector), 1e-9)
    chart, told_in = Rose(largest, unit, alt, 5, inner=True), float(Q_(1, "m").m_as(unit))
    circle = (vector * np.exp(-1j * SWEEP)).real
    chart.line(SWEEP, 0 * SWEEP, "", "solid", "grey", "thin")
    chart.line(SWEEP, told_in * circle, "", "dashed", "blue")
    if told:
        at = float(np.angle(vector))
        chart.line([at, at], [chart.middle, chart.y.high], "", "dashdot", "ink", "thin")
        chart.arrow((0, chart.middle), chart.at(vector), "solid", "green")
    chart.points(taken.core.angles, told_in * out, "ring")
    chart.row("readings", mark="ring", colour="orange").row("fitted circle", "dashed", "blue")
    chart.row(f"eccentricity {size}", "solid", "green", "heavy")
    spot = f"high spot: {show(found.high_spot)}" if told else "no clear high spot"
    chart.row(spot, "dashdot", "ink", "thin")
    return chart.row(f"residual at most {show(worst, unit)}")


def vectors(arrows, alt, unit="mm"):
    """Arrows in one plane across the axis, to one scale: a polar `Chart`.

    arrows: rows of (tail, tip, dash, colour, words, weight), tail and tip complex, m. The rows
    stand in the list under the plot in their order.
    """
    ends = [abs(end) for tail, tip, *_ in arrows for end in (tail, tip)]
    chart = Rose(max([*ends, 1e-9]), unit, alt, len(arrows))
    for row in arrows:
        chart.vector(*row)
    return chart


def added(size, shift, angles, unit="thou"):
    """An eccentricity and a shift laid tip to tail, once for each angle between them: a `Canvas`.

    size, shift: lengths. angles: of the shift to the old high spot, one row of them. What lies on
    one line is drawn side by side.
    """
    before, moved = size.m_as("m"), shift.m_as("m")
    sums = [before + moved * np.exp(1j * angle) for angle in angles.m_as("rad")]
    tall = max([abs(end.imag) for end in sums], default=0.0)
    scale = min(36.0 / max(before + moved, 1e-9), 20.0 / max(tall, 1e-9))
    after = [show(Q_(abs(each), "m").round(12), unit, figures=2) for each in sums]
    total = [show(Q_(2 * abs(each), "m").round(12), unit, figures=2) for each in sums]
    named = [f"{angle:.0f}°" for angle in angles.m_as("deg")]
    one, other = (show(each, unit, figures=2) for each in (size, shift))
    said = (f"at {a} a total of {t}" for a, t in zip(named, total, strict=True))
    alt = f"An eccentricity of {one} and a shift of {other} as arrows: {', '.join(said)}."
    c = Canvas(62 * len(sums), 56, alt, origin=(12, 33))
    for place, end in enumerate(sums):
        x = 62.0 * place
        _tip_to_tail(c, x, scale * before, scale * end)
        c.text((x + 18, -14), f"moved at {named[place]} to the high spot")
        c.text((x + 18, -21), f"{after[place]} off: total {total[place]}", bold=True)
    rows = [("hidden", "blue", f"before: {one}"), ("heavy", "green", f"shift: {other}")]
    for place, row in enumerate([*rows, ("outline", "orange", "after")]):
        _legend(c, [row], (62 * place, -28))
    return c


def _tip_to_tail(c, x, before, end):
    """The arrows of one sum; those on one line stand side by side."""
    flat = abs(end.imag) < SHORTEST
    step = -4j if flat else 0
    c.centre_mark((x, 0), 4)
    _arrow(c, x, x + before, "hidden", "blue")
    _arrow(c, x + before + step / 2 * (end.real < before), x + end + step / 2 * (end.real < before),
           "heavy", "green")  # fmt: skip
    if abs(end) > SHORTEST:
        _arrow(c, x + step, x + end + step, "outline", "orange")
    else:
        c.circle((x, 0), 1.2, "paper", colour="orange")


def knock(before, after, unit="mm"):
    """Eccentricity before, after, and the shift between them, as vectors.

    before, after: `Vector`. Returns a `Chart`.
    """
    old, new = complex(before.core), complex(after.core)
    shift = after - before
    sizes = [show(each.size, unit) for each in (before, after, shift)]
    alt = f"An eccentricity of {sizes[0]} before and {sizes[1]} after: a shift of {sizes[2]}."
    arrows = [
        (0, old, "dashed", "blue", f"before: {_named(before, unit)}"),
        (0, new, "solid", "orange", f"after: {_named(after, unit)}"),
        (old, new, "solid", "green", f"shift: {_named(shift, unit)}", "heavy"),
    ]
    return vectors(arrows, alt, unit)


def indexed(spindle, part, turned, unit="mm"):
    """What turns with the spindle and what with the part, in two positions of the part.

    spindle, part: complex, m. turned: angle by which the part is turned for the second position.
    """
    moved = part * np.exp(1j * turned.m_as("rad"))
    first, second = (Q_(abs(spindle + each), "m") for each in (part, moved))
    alt = (
        f"Spindle {show(Q_(abs(spindle), 'm'), unit)} and part {show(Q_(abs(part), 'm'), unit)}: "
        f"together {show(first, unit)} at first, {show(second, unit)} after a turn of "
        f"{show(turned)}."
    )
    apart = [f"{name} {show(Q_(abs(each), 'm'), unit)}"
             for name, each in (("spindle", spindle), ("part", part))]  # fmt: skip
    arrows = [
        (0, spindle, "solid", "blue", apart[0], "heavy"),
        (spindle, spindle + part, "solid", "orange", apart[1]),
        (spindle, spindle + moved, "dashed", "purple", f"part, turned by {show(turned)}"),
        (0, spindle + part, "solid", "ink", f"clocked first: {show(first, unit)}", "thin"),
        (0, spindle + moved, "dotted", "ink", f"clocked then: {show(second, unit)}"),
    ]
    return vectors(arrows, alt, unit)


def explained_chart(explained, unit="thou"):
    """Which shifts explain two bare totals, by direction against the old high spot: a `Chart`.

    explained: what `shifts_that_explain` returns.
    """
    least, most = (each.m_as(unit) for each in (explained.smallest, explained.largest))
    top = float(np.nanmax(most)) if np.isfinite(most).any() else 1.0
    chart = Chart(
        x=("Direction from the old high spot in degrees", 0, 180),
        y=("Shift", 0, nice(1.1 * max(top, 1e-6)), unit),
        speaks=False,
    )
    across = explained.directions.m_as("deg")
    chart.band(across, least, most, "", "green", hatch=45)
    chart.line(across, least, "least", "dashed", "blue")
    chart.line(across, most, "most", "solid", "orange", "heavy")
    return chart


def bars(found, unit="mm"):
    """Amplitudes of harmonics as bars, each with its number: a `Chart`.

    found: `Harmonics`, at most six. What cannot be told has an empty bar and says so.
    """
    words = [show(each.amplitude, unit, figures=2) if each.told else "unclear" for each in found]
    named = ", ".join(f"{each.name} {said}" for each, said in zip(found, words, strict=True))
    sizes = [float(each.amplitude.m_as(unit)) for each in found if each.told]
    largest, wide = max([*sizes, 0.0]), max(WIDE * len(words), NARROWEST)
    top, room = nice(1.15 * largest) if largest > FINEST else 1.0, (16, 13, wide, 42)
    axes = ("", 0, len(words)), ("Amplitude", 0, top, unit)
    chart = Chart(*axes, (18 + wide, 62), room=room, alt=f"Amplitudes: {named}.", speaks=False)
    for middle, (each, said) in enumerate(zip(found, words, strict=True)):
        x, tall = middle + 0.5, float(each.amplitude.m_as(unit)) if each.told else 0.2 * top
        dashes = ("blue", True, "solid") if each.told else ("grey", None, "dashed")
        chart.bar(x - 0.2, x + 0.2, 0, tall, *dashes)
        chart.write(said, x, tall, (0, 1), level="bottom", size="small")
        chart.write(str(each.order), x, 0, (0, -1.5), level="top", bold=True)
        chart.write(each.name, x, 0, (0, -6.5), level="top", size="small")
    return chart


def _arrow(c, tail, tip, style, colour):
    if abs(tip - tail) > SHORTEST:
        ends = [(end.real, end.imag) for end in (complex(tail), complex(tip))]
        c.arrow(*ends, colour=colour, style=style)


def _legend(c, rows, corner):
    """Each kind of line with what it means."""
    x, y = corner
    for style, colour, words in rows:
        if style == "ring":
            c.circle((x + 5, y), 1.0, "paper", colour=colour)
        else:
            c.line((x, y), (x + 10, y), style, colour)
        c.text((x + 13, y), words, "start")
        y -= 7


def _named(vector, unit):
    size = show(vector.size, unit)
    if not complex(vector.core):
        return size
    return f"{size} to {np.degrees(np.angle(vector.core)) % 360:.0f}°"
