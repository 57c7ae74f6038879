"""How does the blank look as it turns under the tool, and what does the tool meet?"""

import numpy as np

from workshop_lib.drawings.charts import Chart
from workshop_lib.drawings.drawing import Canvas
from workshop_lib.drawings.geometry import polar
from workshop_lib.drawings.kept_axes import nice
from workshop_lib.quantities import Q_, show, spoken

WIDEST = 40  # mm on paper for the blank's farthest corner
ROUND = Q_(np.linspace(0, 360, 361), "deg")


def under_tool(blank, centre, turned, tool_radius, depth, disc_diameter, name="finished disc"):
    """The blank seen from the headstock, turned by an angle, the tool at its right: a `Canvas`.

    centre: (x, y) in the blank. turned, tool_radius, depth, disc_diameter: quantities. name: what
    the disc is called.
    """
    reach = blank.corner_radius(centre).m_as("mm")
    radius = tool_radius.m_as("mm")
    scale = WIDEST / max(reach, radius)
    met = blank.depth_at(centre, turned, tool_radius, depth).m_as("mm")
    alt = (
        f"The blank, seen from the headstock and turned by {show(turned)}, under a tool at a "
        f"radius of {show(tool_radius)}: the tool meets {spoken(f'{met:.2f} mm')} of sheet."
    )
    c = Canvas(118, 96, alt, origin=(50, 48))
    corners = 1e3 * (blank.points - np.array([side.m_as("m") for side in centre]))
    angles = np.degrees(np.arctan2(*corners.T[::-1])) - turned.m_as("deg")
    far = scale * np.hypot(*corners.T)
    outline = [polar((0, 0), r, a) for r, a in zip(far, angles, strict=True)]
    c.polyline(outline, closed=True, fill="sheet")
    c.circle((0, 0), scale * disc_diameter.m_as("mm") / 2, style="hidden")
    c.circle((0, 0), scale * radius, style="phantom")
    for begin, width in zip(*_arcs(blank, centre, tool_radius, depth), strict=True):
        start = begin - turned.m_as("deg")
        c.arc((0, 0), scale * radius, start, start + min(width, 359.9), "heavy", "orange")
    c.centre_mark((0, 0), 3)
    c.seen_from((-48, 45.5), "the headstock")
    _tool(c, scale * radius)
    c.rotation((0, 0), 9, 120, 60, colour="purple")
    _names(c, scale * radius, scale * disc_diameter.m_as("mm") / 2, name)
    return c


def _arcs(blank, centre, tool_radius, depth):
    return (angles.m_as("deg") for angles in blank.arcs(centre, tool_radius, depth))


def _tool(c, at):
    c.polyline([(at, 0), (at + 16, 5), (at + 16, -5)], closed=True, fill="steel")


def _names(c, cut, disc, name):
    c.leader(polar((0, 0), disc, -68), (34, -43), name)
    c.text((cut + 9, 8), "tool", level="bottom")


def met_chart(blank, centre, turned, tool_radius, depth, force, margin_torque=None):
    """Torque on the pad once round the turn, with the angle under the tool. Returns a `Chart`.

    force: function of a depth in m that gives the cutting force in N.
    """
    met = blank.depth_at(centre, ROUND, tool_radius, depth).m_as("m")
    outer = (tool_radius + depth).m_as("m")
    torque = np.where(met > 0, force(met), 0.0) * outer
    now = turned.m_as("deg") % 360
    here = float(np.interp(now, ROUND.m_as("deg"), torque))
    top = max(float(torque.max()), margin_torque or 0.0, 1e-3)
    chart = Chart(
        x=("Angle round the blank in degrees", 0, 360), y=("Torque", 0, nice(1.15 * top), "N·m")
    )
    chart.line(ROUND.m_as("deg"), torque, colour="orange", weight="heavy")
    if margin_torque is not None:
        chart.horizontal(margin_torque, "the pad's limit")
    chart.point(now, here, "tool", colour="blue")
    return chart


def passes_chart(found):
    """Slip margin and peak torque from pass to pass. Returns a `Chart`."""
    number = np.arange(1, len(found) + 1)
    margin = np.minimum(found.margin, 20)
    last, most = nice(max(len(found) + 1, 10)), nice(max(1.15 * margin.max(), 1.2))
    chart = Chart(x=("Pass", 0, last), y=("Slip margin", 0, most))
    chart.line(number, margin, "margin", weight="heavy", colour="green")
    chart.points(number, margin, "ring", "green")
    worst = found.worst
    chart.point(worst.number, min(worst.margin, 20), "worst pass", mark="square", colour="orange")
    chart.horizontal(1, "slips below 1")
    return chart
