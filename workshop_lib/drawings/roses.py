"""How do arrows and readings look round a spindle? Marks anticlockwise, lengths along the radius.

Arrows on one line would hide each other's names, so what each stroke means stands in a list under
the plot. `chart.axes` is the learner's, as with every chart: angles in rad or with their unit.
"""

import numpy as np
from matplotlib.lines import Line2D

from workshop_lib.drawings.charts import DASHES, MARKS, WEIGHTS, Chart
from workshop_lib.drawings.kept_axes import Axis, RoseBoard
from workshop_lib.drawings.pen import colour_of
from workshop_lib.quantities import Q_, show

WIDE, RADIUS = 96.0, 33.0  # mm on paper: the sheet, and the outermost ring
ROUND, ROW = 8.0, 7.0  # mm: the room for the marks round the plot, and from row to row of the list
RING_STEPS = (1, 2, 5)


class Rose(Chart):
    """A polar chart with round rings; angles in rad.

    largest: m, which the outermost ring holds. unit: of the rings. alt: one sentence with its
    number. rows: how many rows the list under the plot will have. inner: rings below nought as
    well, so that a circle in the middle of the rings counts as nought. clockwise: from a mark at
    the top, and not as a spindle is marked.
    """

    def __init__(self, largest, unit, alt, rows, inner=False, clockwise=False):
        self.step, count = rings_for(largest, unit)
        self.ring = float(Q_(self.step, "m").m_as(unit))
        top = self.ring * count
        self.middle = -1.75 * top if inner else 0.0
        self.x, self.y = Axis("Mark", 0, 360, "rad"), Axis("Length", self.middle, top, unit)
        self._times = {}
        rings = np.arange(-count if inner else 1, count + 1) * self.ring
        below = ROUND + 3 + ROW * rows
        size = WIDE, below + 2 * (RADIUS + ROUND)
        room = WIDE / 2 - RADIUS, below + ROUND, 2 * RADIUS, 2 * RADIUS
        made = RoseBoard, self.x, self.y, size, room, tuple(rings), self.middle, clockwise
        self._lay_on(made, alt)
        self._low = below - ROUND / 2  # mm; of the next row of the list
        said = f"one ring: {show(Q_(self.step, 'm'), unit)}"
        self._write(said, 2 - WIDE / 2 + RADIUS, 2.5 - ROUND, "start", "middle", "grey")
        right = WIDE / 2 + RADIUS - 2
        seen = "clockwise from the mark" if clockwise else "seen from the headstock"
        self._write(seen, right, 2.5 - ROUND, "end", "middle", "grey", "small")

    def at(self, end):
        """Return a point of the plane across the axis, complex in m, as angle and radius."""
        radius = float(Q_(abs(end), "m").m_as(self.y.unit))
        return float(np.angle(end)), radius + self.middle

    def vector(self, tail, tip, dash, colour, words, weight="outline"):
        """Draw an arrow between two points of the plane, complex in m, and name it in the list."""
        self.arrow(self.at(tail), self.at(tip), dash, colour, weight)
        return self.row(words, dash, colour, weight)

    def row(self, words, dash="", colour="ink", weight="outline", mark=None):
        """Add a row to the list under the plot: a stroke or a mark, and what it means."""
        if dash:
            pen = {
                "linestyle": DASHES[dash],
                "linewidth": WEIGHTS[weight],
                "color": colour_of(colour),
            }
            self._add(Line2D([14, 24], [self._low] * 2, gid="sheet", clip_on=False, **pen))
        elif mark:
            marker, size, filled = MARKS[mark]
            pen = {"markeredgecolor": colour_of(colour), "markersize": size, "linestyle": ""}
            pen["markerfacecolor"] = colour_of(colour) if filled else "white"
            self._add(Line2D([19], [self._low], marker=marker, gid="sheet", clip_on=False, **pen))
        across = (27 if dash or mark else 14) - WIDE / 2 + RADIUS
        down = self.board.size[1] - ROUND - self._low
        self._write(words, across, down, "start", "middle", "ink" if dash or mark else "grey")
        self._low -= ROW
        return self


def rings_for(largest, unit):
    """Return a round step in m and how many rings hold the largest size."""
    one = float(Q_(1, unit).m_as("m"))
    power = 10.0 ** np.floor(np.log10(largest / one / 5))
    for step in (*RING_STEPS, 10):
        if step * power * one * 5 >= largest * 0.999:
            break
    size = step * power * one
    return size, max(int(np.ceil(largest / size * 0.999)), 1)
