"""How is a chart drawn in a few calls? By matplotlib; `chart.axes` is yours to go on drawing on.

Figure, axes, ticks and grid are made and drawn once for each set of arguments and kept; a slider
step draws only the curves anew, as a second layer. Each curve is named beside itself, so no legend
sends the eye away, and dashes, hatches and marks carry what colour carries.

    chart = Chart(x=("Thrust", 0, 1000, "N"), y=("Torque", 0, 3, "N·m"))
    chart.line([0, 1000], [0, 2], "friction 0.2")
    chart.axes.plot([0, 1000], [0, 1], label="my own pad")
    chart.picture("At 1000 N the pad carries 2 N·m.")
    chart.save("my_chart.pdf")
"""

import math
from pathlib import Path

import numpy as np
import pint
from matplotlib.lines import Line2D
from matplotlib.patches import FancyArrowPatch, Polygon
from matplotlib.text import Text

from workshop_lib.drawings import chart_style, labels
from workshop_lib.drawings.figures import Layered
from workshop_lib.drawings.kept_axes import Axis, Board, kept
from workshop_lib.drawings.pen import SIZES, colour_of
from workshop_lib.quantities import InputError, parse_unit, quote, say

WEIGHTS = {"thin": 0.7, "outline": 1.4, "heavy": 2.3}  # points
DASHES = {"solid": "-", "dashed": (0, (4.8, 2.4)), "dotted": (0, (1, 2)), "dashdot": "-."}
MARKS = {  # matplotlib's marker, its size in points, whether it is filled
    "dot": ("o", 6.8, True),
    "ring": ("o", 6.2, False),
    "square": ("s", 6.2, True),
    "diamond": ("D", 6.4, True),
    "cross": ("x", 6.8, True),
}
HEAD = "-|>,head_length=0.8,head_width=0.32"
NECK = 2.0  # mm on paper before the tip
SHORTEST = 0.6  # mm on paper below which an arrow would be all head
OFF_CHART = "{name} (off the chart)"
_TURN = np.tile(np.linspace(0, 2 * np.pi, 12, endpoint=False), 3)  # a mark counts thrice a curve
RING = 1.4 * np.column_stack([np.cos(_TURN), np.sin(_TURN)])  # round a mark, kept free of labels
_SIDE = {"start": "left", "middle": "center", "end": "right"}


class Chart:
    """One chart. Marks are laid on in the order of the calls; labels go on last.

    x, y: (label, low, high) or (label, low, high, unit); with a unit, marks may be quantities, and
    the axis speaks inch or metric as the workbook does; plain numbers stay in the unit named here.
    size: (width, height) of the sheet in mm. log: "", "x", "y" or "xy". room: (left, bottom, width,
    height) of the plot in mm, for words of one's own beside it. alt: one sentence with its number.
    speaks: False keeps the units named here, such as a dial's, whatever the workbook speaks.
    """

    def __init__(self, x, y, size=(118, 80), log="", room=None, alt="", speaks=True):
        axes = Axis(*x, log="x" in log), Axis(*y, log="y" in log)
        told = [axis.spoken() if speaks else (axis, 1.0) for axis in axes]
        (self.x, across), (self.y, up) = told
        self._times = {self.x.label: across, self.y.label: up}
        self._lay_on((Board, self.x, self.y, tuple(size), room), alt)

    def _lay_on(self, made, alt):
        """Begin on a board that is made from its class and arguments."""
        self._made, self.alt, self._own = made, alt, False
        self.board = kept(*made)
        self._artists, self._labels, self._fixed = [], [], []
        self._obstacles = list(self.board.rules)

    @property
    def axes(self):
        """matplotlib's axes of this chart alone: whatever is drawn on them is in the picture.

        They know the units of the chart. A line drawn with a label is named beside itself.
        """
        if not self._own:
            kind, *given = self._made
            self.board, self._own = kind(*given), True
            self.board.lay(self._artists)
        return self.board.axes

    # --- marks ---------------------------------------------------------------------------------

    def line(self, xs, ys, label="", dash="solid", colour="blue", weight="outline", size="normal"):
        """Draw a curve through points, broken where a value is NaN, with its label beside it."""
        xs, ys, across, down = self._placed(xs, ys)
        self._stroke(xs, ys, dash, colour, WEIGHTS[weight])
        self._obstacles.append(labels.dense(across, down))
        self._name_curve(label, across, down, colour, size)
        return self

    def region(self, xs, ys, label="", colour="green", hatch=None, size="normal"):
        """Fill the inside of a closed outline; `hatch` (True) marks it without colour too."""
        return self._fill(self._placed(xs, ys), label, colour, hatch, size)

    def _fill(self, placed, label="", colour="green", hatch=None, size="normal"):
        xs, ys, across, down = placed
        good = np.isfinite(across) & np.isfinite(down)
        if good.sum() < 3:
            return self
        outline, value = np.column_stack([xs, ys])[good], colour_of(colour)
        self._add(Polygon(outline, facecolor=value, alpha=0.13, linewidth=0, zorder=1))
        if hatch is not None:
            pen = {"fill": False, "edgecolor": value, "alpha": 0.7, "linewidth": 0}
            self._add(Polygon(outline, hatch="//", hatch_linewidth=0.5, zorder=1, **pen))
        if label:
            wide, high = self.board.plot
            across, down = np.clip(across[good], 0, wide), np.clip(down[good], 0, high)
            middle = float(across.mean()), float(down.mean())
            self._label(label, [[(*middle, "middle", "middle")]], colour, size)
        return self

    def band(self, xs, lows, highs, label="", colour="blue", hatch=None, size="normal"):
        """Fill the band between a low and a high curve: how far a value may lie either way."""
        given = (self._in_axis(xs, self.x), *(self._in_axis(ys, self.y) for ys in (lows, highs)))
        xs, lows, highs = np.broadcast_arrays(*map(np.atleast_1d, given))
        there_and_back = np.concatenate([xs, xs[::-1]]), np.concatenate([lows, highs[::-1]])
        return self._fill(self._paired(*there_and_back), label, colour, hatch, size)

    def point(self, x, y, label="", mark="dot", colour="orange", size="normal"):
        """Mark one point; outside the axes it stands at the edge as an arrowhead and says so."""
        xs, ys, across, down = self._placed(x, y)
        if xs.size != 1 or not (math.isfinite(across[0]) and math.isfinite(down[0])):
            return self
        wide, high = self.board.plot
        at = float(np.clip(across[0], 0, wide)), float(np.clip(down[0], 0, high))
        beyond = across[0] - at[0], at[1] - down[0]
        off = math.hypot(*beyond) > 0.05
        marker, points, filled = MARKS[mark]
        if off:
            marker, points = (3, 0, math.degrees(math.atan2(*beyond[::-1])) - 90), 9
            xs, ys = self._data(*at)
        value = colour_of(colour)
        face = value if filled else "white"
        pen = {"markerfacecolor": face, "markeredgecolor": value, "clip_on": False, "zorder": 3}
        width = 1.7 if mark == "cross" and not off else 1.0
        self._add(Line2D(xs, ys, linestyle="", marker=marker, markersize=points,
                         markeredgewidth=width, **pen))  # fmt: skip
        self._obstacles.append(RING + at)
        if label:
            self._label(
                say(OFF_CHART, name=say(label)) if off else label,
                labels.around(*at),
                colour,
                size,
            )
        return self

    def points(self, xs, ys, mark="dot", colour="orange"):
        """Mark many points that lie in the plot, without a name."""
        xs, ys, across, down = self._placed(xs, ys)
        marker, size, filled = MARKS[mark]
        value = colour_of(colour)
        pen = {"markerfacecolor": value if filled else "white", "markeredgecolor": value}
        self._add(Line2D(xs, ys, linestyle="", marker=marker, markersize=size, clip_on=False,
                         markeredgewidth=1.2, zorder=3, **pen))  # fmt: skip
        places = np.column_stack([across, down])
        self._obstacles.append((places[:, None] + RING[:12]).reshape(-1, 2))
        return self

    def arrow(self, tail, tip, dash="solid", colour="blue", weight="heavy"):
        """Draw a straight arrow from one point (x, y) to another; what is all head is left out."""
        xs, ys, across, down = self._placed(*zip(tail, tip, strict=True))
        length = float(np.hypot(*np.diff([across, down])[:, 0]))
        if length > SHORTEST:
            neck = max(
                0.0, 1 - NECK / length
            )  # there the shaft ends, or its dashes show in the head
            (x,), (y,) = self._data(across[0] + neck * (across[1] - across[0]),
                                    down[0] + neck * (down[1] - down[0]))  # fmt: skip
            self._stroke([xs[0], x], [ys[0], y], dash, colour, WEIGHTS[weight])
            pen = {"linewidth": WEIGHTS[weight], "color": colour_of(colour), "joinstyle": "miter"}
            self._add(FancyArrowPatch((x, y), (xs[1], ys[1]), arrowstyle=HEAD, mutation_scale=10,
                                      shrinkA=0, shrinkB=0, **pen))  # fmt: skip
            self._obstacles.append(labels.dense(across, down))
        return self

    def bar(self, left, right, low, high, colour="blue", hatch=None, dash="solid"):
        """Draw a bar between two values of x and two of y."""
        corners = [left, right, right, left, left], [low, low, high, high, low]
        placed = self._placed(*corners)
        if dash == "solid":
            self._fill(placed, "", colour, hatch)
        return self._stroke(*placed[:2], dash, colour, 1.0)

    def write(self, words, x, y, shift=(0, 0), anchor="middle", level="middle", **more):
        """Write words at a point of the axes, moved by mm across and up, whatever lies there.

        more: size "normal" or "small", bold, colour.
        """
        _, _, across, down = self._placed(x, y)
        return self._write(words, across[0] + shift[0], down[0] - shift[1], anchor, level, **more)

    def _write(self, words, across, down, anchor, level, colour="ink", size="normal", bold=False):
        place = across, down, anchor, level
        label = labels.Label(words, [place], colour_of(colour), size, bold)
        label.place = place
        self._fixed.append(label)
        return self

    def vertical(self, x, label="", dash="dashed", colour="grey", size="normal"):
        """Draw a vertical line at a value of x, named at its upper end."""
        xs = self._in_axis(x, self.x) * np.ones(2)
        xs, ys, across, down = self._paired(xs, self._ends(self.y))
        self._straight(xs, ys, across, down, dash, colour)
        across, (wide, high) = float(across[0]), self.board.plot
        downs = (2.5, 7.5, 12.5, high / 2, high - 7.5, high - 2.5)
        places = [(across + 1.0, down, "start", "middle") for down in downs]
        places += [(across - 1.0, down, "end", "middle") for down in downs]
        self._label(label, [places] if 0 <= across <= wide else [], colour, size)
        return self

    def horizontal(self, y, label="", dash="dashed", colour="grey", size="normal"):
        """Draw a horizontal line at a value of y, named at its right end."""
        ys = self._in_axis(y, self.y) * np.ones(2)
        xs, ys, across, down = self._paired(self._ends(self.x), ys)
        self._straight(xs, ys, across, down, dash, colour)
        down, (wide, high) = float(down[0]), self.board.plot
        ends = ((wide - 1.0, "end"), (wide / 2, "middle"), (1.0, "start"))
        places = [(across, down - 0.8, anchor, "bottom") for across, anchor in ends]
        places += [(across, down + 0.8, anchor, "top") for across, anchor in ends]
        self._label(label, [places] if 0 <= down <= high else [], colour, size)
        return self

    # --- finishing -----------------------------------------------------------------------------

    def picture(self, alt, caption=""):
        """Return the chart as a figure. alt: one sentence with its number."""
        if not self._own:
            moving = self.board.moving(self._artists, self._settled())
            return Layered(self.board.size, self.board.still, moving, alt, caption)
        words = self._words()
        self.board.lay(words)
        pen = self.board.pen(alt, clips=True)
        self.axes.figure.draw(pen)
        for artist in words:
            artist.remove()
        return Layered(self.board.size, pen.body(), "", alt, caption)

    def save(self, path, alt=""):
        """Save the chart as PNG, SVG or PDF, by the ending of the path; return the path."""
        path = Path(path)
        if path.suffix.lower() not in chart_style.KINDS:
            raise InputError(
                "path",
                f"{quote(path.name)} cannot be saved as a chart",
                "End the name with .png, .svg or .pdf",
            )
        if path.suffix.lower() == ".svg":
            path.write_text(self.picture(alt or self._said()).svg, encoding="utf-8")
            return path
        axes, words = self.axes, self._words()
        self.board.lay(words)
        chart_style.save(axes.figure, path, words)
        for artist in words:
            artist.remove()
        return path

    def figure(self, caption=""):
        """Return the chart as a figure with its own sentence, or what its axes are."""
        return self.picture(self._said(), caption)

    def _repr_html_(self):
        return str(self.figure().portable())

    def __repr__(self):
        return self._said()

    def faults(self):
        """List the labels that found no free place; a finished chart has none."""
        return [f"{label.words!r} collides" for label in self._settled() if label.clash >= 5]

    # --- parts ---------------------------------------------------------------------------------

    def _said(self):
        return self.alt or f"A chart of {self.y.title} over {self.x.title}."

    def _placed(self, xs, ys):
        """Return xs, ys as numbers of the axes, and where they lie in the plot in mm."""
        return self._paired(self._in_axis(xs, self.x), self._in_axis(ys, self.y))

    def _in_axis(self, values, axis):
        """Return values as numbers of an axis; plain ones are in the unit that the chart names."""
        if isinstance(values, pint.Quantity):
            if not axis.unit:
                raise InputError(
                    axis.label, f"{quote(values)} has a unit, but this axis names none"
                )
            return np.asarray(values.m_as(parse_unit(axis.unit)), dtype=float)
        return self._times.get(axis.label, 1.0) * np.asarray(values, dtype=float)

    def _paired(self, xs, ys):
        try:
            xs, ys = map(np.ravel, np.broadcast_arrays(xs, ys))
        except ValueError as error:
            raise InputError("", f"{np.shape(xs)} and {np.shape(ys)} points do not pair") from error
        across, down = self.board.place(xs, ys)
        return np.where(np.isnan(across), np.nan, xs), ys, across, down

    def _data(self, across, down):
        at = self.board.left + chart_style.POINT * across, self.board.top - chart_style.POINT * down
        x, y = self.board.axes.transData.inverted().transform(at)
        return [x], [y]

    @staticmethod
    def _ends(axis):
        return [axis.low, axis.high]

    def _add(self, artist):
        self._artists.append(artist)
        if self._own:
            self.board.lay([artist])

    def _stroke(self, xs, ys, dash, colour, width):
        pen = {"linestyle": DASHES[dash], "linewidth": width, "color": colour_of(colour)}
        self._add(Line2D(xs, ys, marker="", dash_capstyle="butt", **pen))
        return self

    def _straight(self, xs, ys, across, down, dash, colour):
        self._stroke(xs, ys, dash, colour, 1.0)
        self._obstacles.append(labels.dense(across, down))

    def _name_curve(self, label, across, down, colour, size):
        if not label:
            return
        wide, high = self.board.plot
        if across.size == 2 and np.ptp(across) + np.ptp(down) > 1:  # its ends may lie far outside
            across, down = labels.dense(across, down).T
        with np.errstate(invalid="ignore"):
            inside = (across >= 0) & (across <= wide) & (down >= 0) & (down <= high)
        seen = np.where(inside, across, np.nan), np.where(inside, down, np.nan)
        self._label(label, labels.beside_curve(*seen), colour, size)

    def _label(self, words, places, colour, size):
        if words and places:
            self._labels.append(labels.Label(words, places, colour_of(colour), size))

    def _settled(self):
        named, obstacles = list(self._labels), list(self._obstacles)
        for line in self._learners_lines():
            across, down = self.board.place(*line.get_data(orig=False))
            obstacles.append(labels.dense(across, down))
            if not line.get_label().startswith("_"):
                places = labels.beside_curve(across, down)
                named += [labels.Label(line.get_label(), places, line.get_color())] * bool(places)
        return labels.settle(named, obstacles, self.board.plot, self._fixed) + self._fixed

    def _learners_lines(self):
        known = {id(each) for each in self._artists}
        lines = self.board.axes.lines if self._own else []
        plain = [each for each in lines if each.get_transform() is self.board.axes.transData]
        return [each for each in plain if id(each) not in known]

    def _words(self):
        return [self._written(label) for label in self._settled()]

    def _written(self, label):
        """Return a settled label as a text of the axes."""
        at = self.board.axes.transAxes.inverted().transform(self.board.on_sheet(label))
        return Text(
            *at,
            label.words,
            color=label.colour,
            fontsize=chart_style.POINT * SIZES[label.size],
            fontweight="bold" if label.bold else "normal",
            horizontalalignment=_SIDE[label.place[2]],
            gid="axes",
            transform=self.board.axes.transAxes,
            parse_math=False,
            clip_on=False,
            zorder=4,
        )
