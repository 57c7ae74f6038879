"""What is the style of every chart, and how does a matplotlib figure become SVG?

One place for letters, weights, colours and grid. A figure is made without pyplot, so that nothing
is shared behind a learner's back, and it is written as SVG with its text as text, without a date,
and without matplotlib's `<style>` element: put into a page that would reach the whole of it, and
each step of a slider would make the browser work out the style of the page again.
"""

import hashlib
import re
from io import StringIO

import matplotlib as mpl
from cycler import cycler
from matplotlib import _path
from matplotlib.backend_bases import RendererBase
from matplotlib.backends.backend_svg import RendererSVG
from matplotlib.colors import to_hex
from matplotlib.figure import Figure
from matplotlib.patheffects import withStroke
from matplotlib.ticker import FuncFormatter, LogLocator, MaxNLocator, ScalarFormatter

from workshop_lib.drawings.drawing import tspans
from workshop_lib.drawings.markup import attributes, number, text_width
from workshop_lib.drawings.pen import COLOURS, SIZES
from workshop_lib.quantities import DECIMAL_POINT, in_figures, parse_unit, say, ureg

POINT = 72 / 25.4  # points in a millimetre; a figure has 72 dots in an inch, so a dot is a point
INCH = 25.4  # mm
EDGE, BESIDE, BELOW, ABOVE = 1.2, 3.6, 12.2, 8.2  # mm round a plot, for the words of its axes
KINDS = (".png", ".svg", ".pdf")
ANCHORS = {"left": "start", "center": "middle", "right": "end"}
TURNS = [1, 1.5, 3, 4.5, 6, 9, 10]  # steps of ticks that divide a turn
NOUGHT = "#858f9a"  # of the line where an axis passes nought
NORMAL, SMALL = POINT * SIZES["normal"], POINT * SIZES["small"]
STYLE = {
    "figure.dpi": 72,
    "font.family": "DejaVu Sans",  # comes with matplotlib: the same layout on every machine
    "text.parse_math": False,
    "text.color": COLOURS["ink"],
    "axes.labelcolor": COLOURS["ink"],
    "axes.labelsize": NORMAL,
    "axes.edgecolor": COLOURS["ink"],
    "axes.linewidth": 0.85,
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.axisbelow": True,
    "axes.formatter.useoffset": False,
    "axes.formatter.limits": (-5, 7),
    # What a learner adds differs from curve to curve in its stroke as well as in its colour.
    "axes.prop_cycle": cycler(
        color=[COLOURS[name] for name in ("purple", "orange", "blue", "green")],
        linestyle=["-.", "--", ":", "-"],
    ),
    "axes.grid": True,
    "grid.color": "#dde2e7",
    "grid.linewidth": 0.5,
    "lines.linewidth": 1.4,
    "xtick.labelsize": SMALL,
    "ytick.labelsize": SMALL,
    "xtick.color": COLOURS["ink"],
    "ytick.color": COLOURS["ink"],
}
_STYLED = re.compile(r' style="((?:(?:fill|stroke|opacity)[a-z-]*: [^;"]*(?:; )?)+)"')
ureg.setup_matplotlib()  # pint's own support: axes know their units


def new_axes(x, y, size, room=None):
    """Return matplotlib axes in the house style, alone in a figure of their own.

    x, y: `Axis`, with label, low, high, unit and log. size: (width, height) in mm. room: (left,
    bottom, width, height) of the plot in mm; without it the words of the axes decide.
    """
    with mpl.rc_context(STYLE):
        figure = Figure([part / INCH for part in size])
        axes = figure.add_axes((0, 0, 1, 1))
        _prepare(axes.xaxis, x, axes.set_xscale, size[0] / 13)
        _prepare(axes.yaxis, y, axes.set_yscale, size[1] / 11)
        axes.set(xlim=(x.low, x.high), ylim=(y.low, y.high))
        axes.set_xlabel(x.title, loc="left" if room else "right")
        axes.set_ylabel(y.title, rotation=0, ha="left", va="bottom")
        axes.yaxis.set_label_coords(0, 1.02)
        for given, rule in ((x, axes.axvline), (y, axes.axhline)):
            if given.passes_nought:
                rule(0, color=NOUGHT, linewidth=0.7, zorder=0.9)
        axes.set_position(_shares(room or _room(axes, x, y, size), size))
    return axes


def _room(axes, x, y, size):
    """Return the room of a plot on its sheet, in mm: about it stand the words of ticks and axes.

    matplotlib's own layouts measure by drawing everything once more, which takes a step of a slider
    whose limits change twice as long.
    """
    across, up = _ticks(axes.xaxis, x), _ticks(axes.yaxis, y)
    left = BESIDE + max([text_width(words, SIZES["small"]) for _, words in up], default=0)
    last = [text_width(words, SIZES["small"]) / 2 - (x.high - at) / (x.high - x.low) * size[0] / 1.2
            for at, words in across if not x.log]  # fmt: skip
    right = EDGE + max([*last, text_width("1000", SIZES["small"]) / 2 * x.log, 0])
    below = BELOW if x.label else EDGE
    return left, below, size[0] - left - right, size[1] - below - ABOVE


def _ticks(axis, given):
    """Return where ticks stand and what is written at them."""
    places = axis.get_major_locator().tick_values(given.low, given.high)
    inside = [at for at in places if given.low <= at <= given.high]
    return list(zip(inside, axis.get_major_formatter().format_ticks(inside), strict=True))


def new_rose(rings, unit, size, room, origin=0.0, clockwise=False):
    """Return polar axes in the house style: marks of a spindle, anticlockwise from the right.

    clockwise: from the top, as a rim is read from its mark.

    rings: radii of the rings in `unit`, rising. size, room: as in `new_axes`. origin: what the
    middle counts as.
    """
    with mpl.rc_context(STYLE | {"axes.linewidth": 0.5, "axes.edgecolor": COLOURS["grey"]}):
        figure = Figure([part / INCH for part in size])
        axes = figure.add_axes(_shares(room, size), projection="polar")
        axes.set(rlim=(origin, rings[-1]), rorigin=origin)
        if clockwise:
            axes.set(theta_zero_location="N", theta_direction=-1)
        axes.set_rgrids(rings, [""] * len(rings), color=COLOURS["grey"])
        axes.set_thetagrids(range(0, 360, 30), color=COLOURS["grey"])
        axes.yaxis.grid(True, color="#b8c0c8")
        axes.tick_params("x", pad=4)
        axes.set(xlabel="", ylabel="")  # said, or pint would write its own names of the units
        axes.xaxis.set_units(parse_unit("rad"))
        axes.yaxis.set_units(parse_unit(unit))
    return axes


def _shares(room, size):
    return [part / size[index % 2] for index, part in enumerate(room)]


def save(figure, path, words):
    """Save a figure as PNG or PDF, with a white edge round the words on its curves."""
    for each in words:
        each.set_path_effects([withStroke(linewidth=2.5, foreground="white")])
    known = {".png": {"Software": None}, ".pdf": {"CreationDate": None}}
    figure.savefig(path, dpi=200, metadata=known[path.suffix.lower()])


def _prepare(axis, given, set_scale, ticks):
    if given.log:
        set_scale("log")
        axis.set_major_locator(LogLocator(numticks=int(ticks)))
        axis.set_major_formatter(FuncFormatter(lambda value, _place: in_figures(f"{value:g}")))
        axis.set_minor_formatter(FuncFormatter(lambda _value, _place: ""))
        axis.grid(True, "minor", color="#eef1f4", linewidth=0.5)
    else:  # as many wherever the axes come to lie
        steps = TURNS if given.label.endswith("degrees") else [1, 2, 5, 10]
        axis.set_major_locator(MaxNLocator(int(ticks), steps=steps))
        if say(DECIMAL_POINT) != DECIMAL_POINT:
            axis.set_major_formatter(_Figures())
    if given.unit:
        axis.set_units(parse_unit(given.unit))
    if not given.label:
        axis.set_ticks([])


class _Figures(ScalarFormatter):
    """Numbers of ticks with the mark before decimals that the language writes."""

    def format_ticks(self, values):
        """Return what is written at each tick."""
        return [in_figures(each) for each in super().format_ticks(values)]


def _as_attributes(styled):
    """Write a style as attributes: a page that takes no styles from strangers still shows them."""
    pairs = (each.split(": ", 1) for each in styled[1].split("; "))
    return "".join(f' {name}="{value}"' for name, value in pairs)


class Pen(RendererSVG):
    """matplotlib's SVG renderer as a page needs it: no style sheet, no date, few marks of its own.

    width, height: points. salt: what keeps this picture's inner names from those of another.
    clips: whether curves are cut at the plot's edges here, by such a name, or by who calls.
    """

    def __init__(self, width, height, salt, clips=False):
        self._out, self._salt, self._clips = StringIO(), salt, clips
        super().__init__(width, height, self._out)
        self.writer.comment("")  # ends the opening tag
        self._begun = self._out.tell()

    def body(self):
        """Return what was drawn, without the element round it."""
        self._write_clips()
        self._write_hatches()
        drawn = self._out.getvalue()[self._begun :].replace("xlink:href", "href")
        return _STYLED.sub(_as_attributes, drawn)

    def _write_metadata(self, metadata):
        """Write no date and no maker: the same bytes on every run."""

    def _write_default_style(self):
        """Leave the style sheet out; `svg_frame` rounds the corners of strokes on its own group."""

    def open_group(self, s, gid=None):
        """Leave groups out: their names would meet those of the next picture in a page."""

    def close_group(self, s):
        """Leave groups out."""

    def draw_markers(self, *given, **named):
        """Draw each mark where it stands instead of by reference."""
        RendererBase.draw_markers(self, *given, **named)

    def draw_text(self, gc, x, y, s, prop, angle, ismath=False, mtext=None):
        """Write words as words, in the page's letters, with a white edge where a curve is near."""
        if ismath:
            super().draw_text(gc, x, y, s, prop, angle, ismath, mtext)
            return
        size, anchor = prop.get_size_in_points(), "start"
        if mtext is not None and not angle:
            x = mtext.get_transform().transform(mtext.get_unitless_position())[0]
            anchor = ANCHORS[mtext.get_horizontalalignment()]
        turn = f"rotate({number(-angle)} {number(x)} {number(y)})" if angle else None
        bold = "bold" if prop.get_weight() == "bold" else None
        self.write(x, y, s, size, to_hex(gc.get_rgb()), anchor, font_weight=bold, transform=turn)

    def write(self, x, y, words, size, colour, anchor="start", **more):
        """Write words from, about or up to a point; y: of their base line, downward."""
        place = attributes(
            x=number(x),
            y=number(y),
            text_anchor=None if anchor == "start" else anchor,
            font_size=number(size),
            fill=colour,
            **more,
        )
        halo = f' paint-order="stroke" stroke="#fff" stroke-width="{number(0.25 * size)}"'
        self._out.write(f"<text{place}{halo}>{tspans(words, size)}</text>\n")

    def _get_clip_attrs(self, gc):
        return super()._get_clip_attrs(gc) if self._clips else {}

    def _make_id(self, type, content):
        told = hashlib.sha256(f"{self._salt}{content}".encode()).hexdigest()
        return f"{type}{told[:12]}"

    def _convert_path(self, path, transform=None, clip=None, simplify=None, sketch=None):
        within = (0.0, 0.0, self.width, self.height) if clip else None
        letters = [b"M", b"L", b"Q", b"C", b"z"]
        written = _path.convert_to_string(
            path, transform, within, simplify, sketch, 2, letters, False
        )
        return written.decode("ascii")
