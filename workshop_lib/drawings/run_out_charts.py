"""How are readings round the turn plotted? Round, as vectors, and their harmonics as bars.

Marks of the spindle run anticlockwise from the right. Lengths along a radius are drawn to the scale
of the rings; what each arrow means stands beside the plot, with its number and its kind of line.
"""

import numpy as np

from workshop_lib.drawings.charts import Chart
from workshop_lib.drawings.drawing import Canvas
from workshop_lib.drawings.geometry import polar
from workshop_lib.quantities import Q_, show

RIM = 30.0  # mm on paper for the outermost ring
SHORTEST = 0.6  # mm on paper below which an arrow would be all head
SWEEP = np.linspace(0, 2 * np.pi, 181)
RING_STEPS = (1, 2, 5)


def polar_plot(taken, found, unit="mm"):
    """Readings round the turn with the fitted circle, the eccentricity and the high spot.

    taken: `Readings`. found: its `Fit`. unit: of the words. Returns a `Canvas`.
    """
    out = taken.core.towards * (taken.core.readings - found.core.offset)
    vector = complex(found.core.vector)
    scale = 12.0 / max(np.abs(out).max(), abs(vector), 1e-9)
    worst = Q_(float(np.abs(found.core.residual).max().round(12)), "m")  # below that it is dust
    size = show(found.eccentricity, unit)
    told = bool(found.tells_high_spot)
    where = f"at the mark {show(found.high_spot)}" if told else "nowhere that can be told"
    alt = (
        f"{out.size} readings round the turn: eccentricity {size}, high spot {where}, no reading "
        f"farther than {show(worst, unit)} from the fitted circle."
    )
    c = Canvas(96, 128, alt, origin=(48, 85))
    base = 21.0
    _rose(c, (base,), 36.5)
    about = SWEEP[:-1]
    ring = base + scale * (vector.real * np.cos(about) + vector.imag * np.sin(about))
    points = [polar((0, 0), r, a) for r, a in zip(ring, np.degrees(about), strict=True)]
    c.polyline(points, closed=True, style="hidden", colour="blue")
    for r, a in zip(base + scale * out, np.degrees(taken.core.angles), strict=True):
        c.circle(polar((0, 0), r, a), 1.0, "paper", colour="orange")
    if told:
        at = np.degrees(np.angle(vector))
        c.line((0, 0), polar((0, 0), 35, at), "centre")
        _arrow(c, 0, scale * vector, "heavy", "green")
    rows = [
        ("ring", "orange", "readings"),
        ("hidden", "blue", "fitted circle"),
        ("heavy", "green", f"eccentricity {size}"),
        (
            "centre",
            "ink",
            f"high spot: {show(found.high_spot)}" if told else "no high spot is told",
        ),
    ]
    _legend(c, rows, (-34, -47))
    c.text((-34, -75), f"residual at most {show(worst, unit)};", "start")
    times = f"departures drawn {show(1e-3 * scale, figures=2)} times larger"
    c.text((-34, -80.5), times, "start", colour="grey")
    return c


def vectors(arrows, alt, unit="mm"):
    """Arrows in one plane across the axis, to one scale: a `Canvas`.

    arrows: rows of (tail, tip, style, colour, words), tail and tip complex, m. The rows stand in
    the list beside the plot in their order.
    """
    ends = [abs(end) for tail, tip, *_ in arrows for end in (tail, tip)]
    step, count = _rings(max([*ends, 1e-9]), unit)
    per_metre = RIM / (step * count)
    c = Canvas(96, 95 + 7 * len(arrows), alt, origin=(48, 51 + 7 * len(arrows)))
    _rose(c, [RIM * k / count for k in range(1, count + 1)], 36.5)
    for tail, tip, style, colour, _ in arrows:
        _arrow(c, per_metre * tail, per_metre * tip, style, colour)
    _legend(c, [(style, colour, words) for _, _, style, colour, words in arrows], (-34, -47))
    rings = f"one ring: {show(Q_(step, 'm'), unit)}"
    c.text((-46, 41), rings, "start", colour="grey")
    return c


def added(size, shift, angles, unit="thou"):
    """An eccentricity and a shift laid tip to tail, once for each angle between them: a `Canvas`.

    size, shift: lengths. angles: of the shift to the old high spot, one row of them. What lies on
    one line is drawn side by side.
    """
    before, moved = size.m_as("m"), shift.m_as("m")
    scale = 36.0 / max(before + moved, 1e-9)
    sums = [before + moved * np.exp(1j * angle) for angle in angles.m_as("rad")]
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

    before, after: `Vector`. Returns a `Canvas`.
    """
    old, new = complex(before.core), complex(after.core)
    shift = after - before
    sizes = [show(each.size, unit) for each in (before, after, shift)]
    alt = f"An eccentricity of {sizes[0]} before and {sizes[1]} after: a shift of {sizes[2]}."
    arrows = [
        (0, old, "hidden", "blue", f"before: {_named(before, unit)}"),
        (0, new, "outline", "orange", f"after: {_named(after, unit)}"),
        (old, new, "heavy", "green", f"shift: {_named(shift, unit)}"),
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
    arrows = [
        (0, spindle, "heavy", "blue", f"spindle {show(Q_(abs(spindle), 'm'), unit)}"),
        (spindle, spindle + part, "outline", "orange", f"part {show(Q_(abs(part), 'm'), unit)}"),
        (spindle, spindle + moved, "hidden", "purple", f"part, turned by {show(turned)}"),
        (0, spindle + part, "thin", "ink", f"clocked first: {show(first, unit)}"),
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
        x=("Direction of the shift against the old high spot in degrees", 0, 180),
        y=("Shift", 0, 1.25 * max(top, 1e-6), unit),
    )
    across = explained.directions.m_as("deg")
    chart.band(across, least, most, "", "green", hatch=45)
    chart.line(across, least, "least", "dashed", "blue")
    chart.line(across, most, "most", "solid", "orange", "heavy")
    return chart


def bars(found, unit="mm"):
    """Amplitudes of harmonics as bars, each with its number: a `Canvas`.

    found: `Harmonics`, at most six. What cannot be told has an empty bar and says so.
    """
    sizes = [float(each.amplitude.m_as(unit)) if each.told else np.nan for each in found]
    top = max([size for size in sizes if np.isfinite(size)] + [1e-9])
    said = [
        f"{each.name} {show(each.amplitude, unit, figures=2) if each.told else 'not told'}"
        for each in found
    ]
    c = Canvas(24 * len(sizes) + 8, 58, f"Amplitudes: {', '.join(said)}.", origin=(4, 12))
    c.line((0, 0), (24 * len(sizes), 0))
    for place, (each, size) in enumerate(zip(found, sizes, strict=True)):
        middle = 24 * place + 12
        words = show(each.amplitude, unit, figures=2) if each.told else "not told"
        tall = 34 * size / top if each.told else 8.0
        if tall > 0.2:
            _bar(c, middle, tall, each.told)
        c.text((middle, tall + 1.5), words, level="bottom", size="small")
        c.text((middle, -1.5), str(each.order), level="top", bold=True)
        c.text((middle, -6.5), each.name, level="top", size="small")
    return c


def _bar(c, middle, tall, told):
    if told:
        corners = [(middle - 5, 0), (middle + 5, 0), (middle + 5, tall), (middle - 5, tall)]
        c.section(corners, 45, "pale blue", 2.4)
    else:
        c.rect((middle - 5, 0), 10, tall, style="hidden", colour="grey")


def _rings(largest, unit):
    """Return a round step in m and how many rings hold the largest size."""
    one = float(Q_(1, unit).m_as("m"))
    power = 10.0 ** np.floor(np.log10(largest / one / 5))
    for step in (*RING_STEPS, 10):
        if step * power * one * 5 >= largest * 0.999:
            break
    size = step * power * one
    return size, max(int(np.ceil(largest / size * 0.999)), 1)


def _rose(c, rings, outside):
    """Rings and the marks of the spindle."""
    for radius in rings:
        c.circle((0, 0), radius, style="thin", colour="grey")
    for degrees in range(0, 360, 30):
        near = 0 if degrees % 90 == 0 else 31.0
        c.line(polar((0, 0), near, degrees), polar((0, 0), 33, degrees), "thin", "grey")
        c.text(polar((0, 0), outside, degrees), f"{degrees}°", size="small", colour="grey")


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
