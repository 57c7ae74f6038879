"""Charts that cost about a millisecond to redraw, so that a still and a live one are the same.

The frame (axes, ticks, grid) is drawn once for each set of arguments and kept; a slider step only
writes the curves anew. Each curve is named beside itself, so no legend sends the eye away, and
dashes, hatches and marks carry what colour carries.

    chart = Chart(x=("Thrust", 0, 1000, "N"), y=("Torque", 0, 3, "N·m"))
    chart.line([0, 1000], [0, 2], "friction 0.2")
    chart.picture("At 1000 N the pad carries 2 N·m.")
"""

import math

import numpy as np
import pint

from workshop_lib.drawings import labels
from workshop_lib.drawings.drawing import tspans
from workshop_lib.drawings.figures import Figure
from workshop_lib.drawings.frame import Axis, frame
from workshop_lib.drawings.geometry import CAP, DESCENT, along, hatch_lines, move
from workshop_lib.drawings.markup import attributes, number
from workshop_lib.drawings.pen import COLOURS, SIZES, STYLES, colour_of, svg_frame
from workshop_lib.quantities import InputError, parse_unit, quote

DASHES = {"solid": None, "dashed": "2.4 1.2", "dotted": "0.5 1", "dashdot": "4 1 0.8 1"}
MARKS = {
    "dot": '<circle r="1.2"/>',
    "ring": '<circle r="1.1" fill="#fff"/>',
    "square": '<path d="M-1.1 -1.1h2.2v2.2h-2.2z"/>',
    "diamond": '<path d="M0 -1.6L1.6 0L0 1.6L-1.6 0z"/>',
    "cross": '<path d="M-1.2 -1.2L1.2 1.2M-1.2 1.2L1.2 -1.2" stroke-width="0.6"/>',
}
OFF_CHART = " (off the chart)"
_TURN = np.linspace(0, 2 * np.pi, 12, endpoint=False)
RING = 1.4 * np.column_stack([np.cos(_TURN), np.sin(_TURN)])  # round a mark, kept free of labels


class Chart:
    """One chart. Marks are laid on in the order of the calls; labels go on last.

    x, y: (label, low, high) or (label, low, high, unit); with a unit, marks may be quantities.
    size: (width, height) of the sheet in mm. log: "", "x", "y" or "xy". equal: same scale on both.
    """

    def __init__(self, x, y, size=(130, 85), log="", equal=False):
        self.frame = frame(Axis(*x, log="x" in log), Axis(*y, log="y" in log), tuple(size), equal)
        self._clipped, self._over = [], []
        self._labels, self._obstacles = [], []

    # --- marks ---------------------------------------------------------------------------------

    def line(self, xs, ys, label="", dash="solid", colour="blue", weight="outline", size="normal"):
        """Draw a curve through points, broken where a value is NaN, with its label beside it."""
        across, down = self._place(xs, ys)
        self._stroke(_path(across, down), colour, DASHES[dash], STYLES[weight][0])
        self._obstacles.append(labels.dense(across, down))
        if label:
            inside = self._inside(across, down)
            seen = np.where(inside, across, np.nan), np.where(inside, down, np.nan)
            self._label(label, labels.beside_curve(*seen), colour, size)
        return self

    def region(self, xs, ys, label="", colour="green", hatch=None, size="normal"):
        """Fill the inside of a closed outline; `hatch` (degrees) marks it without colour too."""
        across, down = self._place(xs, ys)
        outline = self._cut(np.column_stack([across, down]))
        if len(outline) < 3:
            return self
        shape = _path(*outline.T) + "Z"
        tint = attributes(fill=colour_of(colour), fill_opacity="0.13")
        self._clipped.append(f'<path d="{shape}"{tint} stroke="none"/>')
        if hatch is not None:
            strokes = hatch_lines([outline], -hatch, 2.2)
            ends = strokes.reshape(-1, 4).tolist()
            lines = "".join(f"M{a:.2f} {b:.2f}L{c:.2f} {d:.2f}" for a, b, c, d in ends)
            self._stroke(lines, colour, None, STYLES["hatch"][0], "0.7")
        if label:
            middle = outline.mean(axis=0)
            self._label(label, [(*map(float, middle), "middle", "middle")], colour, size)
        return self

    def band(self, xs, lows, highs, label="", colour="blue", hatch=None, size="normal"):
        """Fill the band between a low and a high curve: how far a value may lie either way."""
        xs, lows, highs = np.broadcast_arrays(*map(np.atleast_1d, self._numbers(xs, lows, highs)))
        there_and_back = np.concatenate([xs, xs[::-1]]), np.concatenate([lows, highs[::-1]])
        return self.region(*there_and_back, label, colour, hatch, size)

    def point(self, x, y, label="", mark="dot", colour="orange", size="normal"):
        """Mark one point; outside the axes it stands at the edge as an arrowhead and says so."""
        across, down = (float(part) for part in self._place(x, y))
        if not (math.isfinite(across) and math.isfinite(down)):
            return self
        edge = min(max(across, 0.0), self.frame.width), min(max(down, 0.0), self.frame.height)
        off = math.hypot(edge[0] - across, edge[1] - down) > 0.05
        shape = MARKS[mark]
        if off:
            turn = math.degrees(math.atan2(down - edge[1], across - edge[0]))
            shape = f'<path d="M1.8 0L-1.4 1.5V-1.5z" transform="rotate({number(turn)})"/>'
        pen = attributes(fill=colour_of(colour), stroke=colour_of(colour), stroke_width="0.35")
        x, y = self._on_sheet(*edge)
        place = f' transform="translate({number(x)} {number(y)})"'
        self._over.append(f"<g{place}{pen}>{shape}</g>")
        self._obstacles.append(_ring(*edge))
        if label:
            words = label + OFF_CHART * off
            self._label(words, labels.around(*edge, 2.0), colour, size)
        return self

    def vertical(self, x, label="", dash="dashed", colour="grey", size="normal"):
        """Draw a vertical line at a value of x, named at its upper end."""
        across = float(self._place(x, self.frame.y.low)[0])
        height = self.frame.height
        self._straight((across, 0), (across, height), dash, colour)
        downs = (2.5, 7.5, 12.5, height / 2, height - 7.5, height - 2.5)
        places = [(across + 1.0, down, "start", "middle") for down in downs]
        places += [(across - 1.0, down, "end", "middle") for down in downs]
        self._label(label, places if 0 <= across <= self.frame.width else [], colour, size)
        return self

    def horizontal(self, y, label="", dash="dashed", colour="grey", size="normal"):
        """Draw a horizontal line at a value of y, named at its right end."""
        down = float(self._place(self.frame.x.low, y)[1])
        width = self.frame.width
        self._straight((0, down), (width, down), dash, colour)
        ends = ((width - 1.0, "end"), (width / 2, "middle"), (1.0, "start"))
        places = [(across, down - 0.8, anchor, "bottom") for across, anchor in ends]
        places += [(across, down + 0.8, anchor, "top") for across, anchor in ends]
        self._label(label, places if 0 <= down <= self.frame.height else [], colour, size)
        return self

    def arrow(self, tail, tip, label="", colour="ink", size="normal"):
        """Draw an arrow from one point of the data to another."""
        ends = [tuple(map(float, self._place(*point))) for point in (tail, tip)]
        length, ahead, left = along(*ends)
        head = min(3.0, 0.7 * length)
        foot = move(ends[1], ahead, -head)
        self._straight(ends[0], move(ends[1], ahead, -0.8 * head), "solid", colour)
        corners = [ends[1], move(foot, left, 0.42 * head), move(foot, left, -0.42 * head)]
        fill = attributes(fill=colour_of(colour), stroke="none")
        self._clipped.append(f'<path d="{_path(*np.transpose(corners))}Z"{fill}/>')
        middle = np.mean(ends, axis=0)
        self._label(label, labels.around(*map(float, middle), 1.4), colour, size)
        return self

    def note(self, x, y, words, anchor="middle", level="middle", colour="ink", size="normal"):
        """Write words at a point of the data."""
        across, down = (float(part) for part in self._place(x, y))
        self._label(words, [(across, down, anchor, level)], colour, size)
        return self

    # --- finishing -----------------------------------------------------------------------------

    def picture(self, alt, caption=""):
        """Return the chart as a figure. alt: one sentence with its number."""
        f = self.frame
        clip = attributes(
            x=number(f.left),
            y=number(f.top),
            width=number(f.width),
            height=number(f.height),
            overflow="hidden",
        )
        written = "".join(self._written(label) for label in self._settled())
        body = f"{f.svg}<svg{clip}>{''.join(self._clipped)}</svg>{''.join(self._over)}{written}"
        return Figure(svg_frame(*f.sheet, alt, body), alt, caption)

    def faults(self):
        """List the labels that found no free place; a finished chart has none."""
        return [f"{label.words!r} collides" for label in self._settled() if label.clash >= 5]

    # --- parts ---------------------------------------------------------------------------------

    def _numbers(self, xs, *ys):
        axes = [self.frame.x] + [self.frame.y] * len(ys)
        return [_in_axis(values, axis) for values, axis in zip((xs, *ys), axes, strict=True)]

    def _place(self, xs, ys):
        xs, ys = self._numbers(xs, ys)
        try:
            xs, ys = np.broadcast_arrays(xs, ys)
        except ValueError as error:
            raise InputError("", f"{np.shape(xs)} and {np.shape(ys)} points do not pair") from error
        return self.frame.place(xs, ys)

    def _inside(self, across, down):
        with np.errstate(invalid="ignore"):
            wide = (across >= 0) & (across <= self.frame.width)
            return wide & (down >= 0) & (down <= self.frame.height)

    def _cut(self, points):
        """Cut an outline at the plot's edges, so that no hatch is drawn where none can be seen."""
        points = points[np.isfinite(points).all(axis=1)]
        for axis, limit in ((0, self.frame.width), (1, self.frame.height)):
            for sign, edge in ((1, 0.0), (-1, -limit)):
                points = _keep(points, axis, sign, edge)
        return points

    def _stroke(self, shape, colour, dash, width, opacity=None):
        pen = attributes(
            fill="none",
            stroke=colour_of(colour),
            stroke_width=number(width),
            stroke_dasharray=dash,
            stroke_opacity=opacity,
        )
        self._clipped.append(f'<path d="{shape}"{pen}/>')

    def _straight(self, start, end, dash, colour):
        across, down = np.transpose([start, end])
        self._stroke(_path(across, down), colour, DASHES[dash], 0.35)
        self._obstacles.append(labels.dense(across, down))

    def _label(self, words, places, colour, size):
        if words and places:
            self._labels.append(labels.Label(words, places, colour, size))

    def _settled(self):
        plot = self.frame.width, self.frame.height
        return labels.settle(self._labels, self._obstacles, plot)

    def _on_sheet(self, across, down):
        return self.frame.left + across, self.frame.top + down

    def _written(self, label):
        x, y, anchor, level = label.place
        height = SIZES[label.size]
        x, y = self._on_sheet(
            x, y + {"bottom": -DESCENT, "middle": CAP / 2, "top": CAP, "base": 0}[level] * height
        )
        place = attributes(
            x=number(x),
            y=number(y),
            text_anchor=None if anchor == "start" else anchor,
            font_size=None if label.size == "normal" else number(height),
            fill=colour_of(label.colour),
        )
        halo = f' paint-order="stroke" stroke="{COLOURS["white"]}" stroke-width="0.9"'
        return f"<text{place}{halo}>{tspans(label.words, height)}</text>"


def _in_axis(values, axis):
    """Return values as numbers of an axis; a quantity is converted to the axis's unit."""
    if isinstance(values, pint.Quantity):
        if not axis.unit:
            raise InputError(axis.label, f"{quote(values)} has a unit, but this axis names none")
        return np.asarray(values.m_as(parse_unit(axis.unit)), dtype=float)
    return np.asarray(values, dtype=float)


def _path(across, down):
    """Return points as an SVG path, broken at NaN."""
    written, broken = [], True
    for x, y in zip(np.ravel(across).tolist(), np.ravel(down).tolist(), strict=True):
        if x != x or y != y:
            broken = True
        else:
            written.append(f"{'M' if broken else 'L'}{x:.2f} {y:.2f}")
            broken = False
    return "".join(written)


def _keep(points, axis, sign, edge):
    """Keep the part of an outline where sign * coordinate >= edge (Sutherland and Hodgman)."""
    height = sign * points[:, axis] - edge
    if (height >= 0).all():
        return points
    following, next_height = np.roll(points, -1, axis=0), np.roll(height, -1)
    crossing = (height >= 0) != (next_height >= 0)
    share = height / np.where(crossing, height - next_height, 1.0)
    cut = points + (following - points) * share[:, None]
    both = np.stack([points, cut], axis=1)
    return both[np.column_stack([height >= 0, crossing])]


def _ring(x, y):
    return RING + (x, y)
