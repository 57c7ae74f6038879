"""How close is a load to slip? The limit curve with a load on it, and the margin's spread."""

import numpy as np

from workshop_lib.drawings.charts import Chart
from workshop_lib.drawings.kept_axes import nice
from workshop_lib.friction import limit_curve

STYLES = {  # friction estimate -> label, dash, colour, weight
    "high": ("high friction", "dotted", "grey", "outline"),
    "typical": ("typical", "dashed", "blue", "outline"),
    "low": ("low: plan on this", "solid", "green", "heavy"),
}


def limit_chart(pad, thrust, grip, side, torque, estimates=("high", "typical", "low")):
    """The limit curve for each estimate of the friction, with the load's point and ray.

    One estimate alone is called the limit curve; several are called by their estimates.
    """
    fraction, turn = limit_curve(pad, points=61)
    turn = turn * pad.outer_radius
    holds = {name: getattr(grip, name) * thrust.m_as("N") for name in estimates}
    widest, load = max(holds.values()), (side.m_as("N"), torque.m_as("N*m"))
    chart = Chart(
        x=("Side force", 0, nice(max(1.12 * widest, 1.15 * load[0], 1)), "N"),
        y=("Torque", 0, nice(max(1.12 * widest * turn[0], 1.15 * load[1], 0.01)), "N·m"),
    )
    low = holds["low"]
    chart.region(np.append(low * fraction, 0), np.append(low * turn, 0), "", "green")
    for name, hold in holds.items():
        if hold > 0:
            label, *style = STYLES[name]
            alone = len(holds) == 1
            chart.line(hold * fraction, hold * turn, "limit curve" if alone else label, *style)
    chart.line([0, load[0]], [0, load[1]], "", "dashed", "orange")
    chart.point(*load, "this load", colour="orange")
    return chart


def ellipse_chart(pad, thrust, grip, side, torque):
    """The true limit curve at low friction, and the ellipse that promises too much."""
    chart = limit_chart(pad, thrust, grip, side, torque, estimates=("low",))
    quarter = np.linspace(0, np.pi / 2, 61)
    hold = grip.low * thrust.m_as("N")
    top = hold * limit_curve(pad, points=2)[1][0] * pad.outer_radius
    ends = hold * np.sin(quarter), top * np.cos(quarter)
    chart.line(*ends, "ellipse: promises too much", "dashdot", "purple")
    return chart


def margin_chart(chance, bins=60):
    """How the slip margin spreads: the share of draws in equal steps, 1 and 2 marked.

    chance: a `SlipChance`. Returns a `Chart`.
    """
    low, high = chance.margin.quantile(0.0005), chance.margin.quantile(0.9995)
    edges = np.linspace(min(low, 0.9), nice(max(high, 2.2)), bins + 1)
    below = np.array([chance.margin.chance_below(edge) for edge in edges])
    shares = 100 * np.diff(below)
    chart = Chart(
        x=("Slip margin", 0, float(edges[-1])),
        y=("Share of the draws in %", 0, nice(max(1.1 * shares.max(), 1))),
    )
    steps = np.repeat(edges, 2)[1:-1]
    chart.line(steps, np.repeat(shares, 2), "", weight="heavy")
    chart.vertical(1, "below 1 it slips")
    chart.vertical(2, "2 is needed")
    return chart


def eaten_chart(factors, starts):
    """How one factor after another uses up a margin that was calculated for a steady push.

    factors: name -> (least, most), in their order. starts: the steady margins. Returns a `Chart`:
    each start as a band, from the least of all factors to the most.
    """
    least, most = (np.cumprod([1.0, *each]) for each in zip(*factors.values(), strict=True))
    places, top = np.arange(len(least)), nice(1.1 * max(starts))
    chart = Chart(
        x=("Factors counted, from the left", 0, len(factors) + 0.6), y=("Margin left", 0, top)
    )
    chart.horizontal(1, "below 1 it slips")
    chart.horizontal(2, "2 is needed", "dotted")
    for start, colour, hatch in zip(starts, ("blue", "orange"), (45, -45), strict=True):
        chart.band(places, start / most, start / least, "", colour, hatch)
        chart.line(places, start / least, f"{start:g}, the least", "dashed", colour)
        chart.line(places, start / most, f"{start:g}, the most", "solid", colour, "heavy")
    for place, name in enumerate(factors, 1):
        chart.vertical(place, name, "dotted", size="small")
    return chart
