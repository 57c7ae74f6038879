"""How do the axes under a chart stay while its curves move? Drawn once, curves laid over them."""

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from matplotlib.transforms import Affine2D

from workshop_lib.drawings import chart_style
from workshop_lib.drawings.chart_style import POINT
from workshop_lib.drawings.geometry import LEVELS
from workshop_lib.drawings.labels import dense
from workshop_lib.drawings.pen import SIZES
from workshop_lib.quantities import (
    Q_,
    InputError,
    in_system,
    language,
    parse_unit,
    quote,
    say,
    unit_text,
)

NAMES = {"in": "inches"}  # of a unit that would read like a word beside the label
SAME = 1e-9  # of a decade
_FAR = 1e4  # mm; a curve that leaves the sheet further than this is cut there


@dataclass(frozen=True)
class Axis:
    """One axis: its label, its range, the unit of its numbers, and whether it is logarithmic.

    An axis without a label only spreads things out: it has no ticks.
    """

    label: str
    low: float
    high: float
    unit: str = ""
    log: bool = False

    def __post_init__(self):
        fit = np.isfinite([self.low, self.high]).all() and self.low < self.high
        if not fit or (self.log and self.low <= 0):
            ends = f"{quote(self.low)} to {quote(self.high)}"
            raise InputError(self.label, f"an axis cannot run from {ends}")

    @property
    def passes_nought(self):
        """Whether nought lies within the axis, where a line is drawn."""
        return not self.log and self.low < 0 < self.high

    @property
    def title(self):
        """The label with its unit."""
        unit = say(NAMES.get(self.unit, self.unit))
        return (
            say("{label} in {unit}", label=say(self.label), unit=unit)
            if self.unit
            else say(self.label)
        )

    def spoken(self):
        """Return the axis in the unit that is spoken, with round ends, and one old unit in it."""
        if not self.unit:
            return self, 1.0
        largest = np.sqrt(self.low * self.high) if self.log else max(-self.low, self.high)
        told = in_system(Q_(float(largest), self.unit)).units
        if told == parse_unit(self.unit):
            return self, 1.0
        times = float(Q_(1.0, self.unit).m_as(told))
        low, high = self._round_ends(times * self.low, times * self.high)
        return Axis(self.label, low, high, unit_text(told).strip(), self.log), times

    def _round_ends(self, low, high):
        if self.log:
            return decades(low, high)
        return -nice(-low) if low < 0 else low, nice(high) if high > 0 else high


def decades(low, high):
    """Return the powers of ten that hold a range, for the ends of a logarithmic axis.

    >>> decades(0.02, 10.0)
    (0.01, 10.0)
    """
    down, up = np.log10(low) + SAME, np.log10(high) - SAME
    return float(10.0 ** np.floor(down)), float(10.0 ** np.ceil(up))


class Board:
    """Axes on a sheet, and what of them stands still as SVG.

    size: (width, height) in mm. room: (left, bottom, width, height) of the plot in mm, or None.
    """

    def __init__(self, x, y, size, room=None):
        if min(size) < 25:
            raise InputError("size", f"{quote(size)} mm leaves no room for a chart")
        self.size = size
        self.axes = self._drawn(x, y, room)
        self.sheet = Affine2D().scale(1 / chart_style.INCH) + self.axes.figure.dpi_scale_trans
        box = self.axes.bbox
        self.left, self.bottom, self.right, self.top = box.x0, box.y0, box.x1, box.y1  # points
        self.plot = box.width / POINT, box.height / POINT  # mm
        self._names = f"{x.title}{y.title}"
        self._logarithmic = x.log, y.log
        self.rules = self._rules(x, y)

    def _drawn(self, x, y, room):
        return chart_style.new_axes(x, y, self.size, room)

    def _rules(self, x, y):
        """Return points along the lines of nought, which names keep off, in mm of the plot."""
        along, up = [x.low, x.high], [y.low, y.high]
        ends = [([0, 0], up)] * x.passes_nought + [(along, [0, 0])] * y.passes_nought
        return [dense(*self.place(*each)) for each in ends]

    def pen(self, salt="", clips=False):
        """Return a fresh renderer of the sheet's size."""
        size = (POINT * part for part in self.size)
        return chart_style.Pen(*size, f"{self._names}{salt}", clips)

    @cached_property
    def still(self):
        """Axes, ticks, grid and labels as SVG, without any curve."""
        pen = self.pen()
        self.axes.figure.draw(pen)
        return pen.body()

    def place(self, xs, ys):
        """Return points of data as plot coordinates in mm, y downward from the plot's top."""
        points = np.array([np.ravel(xs), np.ravel(ys)], dtype=float)
        for values, logarithmic in zip(points, self._logarithmic, strict=True):
            if logarithmic:
                values[~(values > 0)] = np.nan
        points[~np.isfinite(points)] = np.nan
        across, up = self.axes.transData.transform(points.T).T
        across, down = (across - self.left) / POINT, (self.top - up) / POINT
        return np.clip(across, -_FAR, _FAR), np.clip(down, -_FAR, _FAR)

    def on_sheet(self, label):
        """Return where a settled label's base line begins, ends or is centred, in points."""
        x, y, _, level = label.place
        return self.left + POINT * x, self.top - POINT * (y - LEVELS[level] * SIZES[label.size])

    def lay(self, artists):
        """Put artists on these axes, whichever they were on before.

        Their points are the data's; those of the group "sheet" are mm on the sheet, y upward.
        """
        for artist in artists:
            if artist.get_gid() != "axes":
                on_sheet = artist.get_gid() == "sheet"
                artist.set_transform(self.sheet if on_sheet else self.axes.transData)
            self.axes.add_artist(artist)

    def moving(self, artists, labels):
        """Return artists and labels as SVG, without the axes, which stay as they were.

        artists: those that are clipped are cut at the plot's edges. labels: settled ones.
        """
        self.lay(artists)
        inside, over = self.pen(), self.pen()
        for artist in artists:
            artist.set_clip_path(None)
            artist.set_clip_box(None)
            artist.draw(inside if artist.get_clip_on() else over)
            artist.remove()
        for label in labels:
            x, y = self.on_sheet(label)
            place = x, POINT * self.size[1] - y, label.words, POINT * SIZES[label.size]
            bold = "bold" if label.bold else None
            over.write(*place, label.colour, label.place[2], font_weight=bold)
        edge = f"{self.left:.2f} {POINT * self.size[1] - self.top:.2f}"
        span = f"{self.right - self.left:.2f} {self.top - self.bottom:.2f}"
        (x, y), (wide, high) = edge.split(), span.split()
        clip = f'x="{x}" y="{y}" width="{wide}" height="{high}" viewBox="{edge} {span}"'
        return f'<svg {clip} overflow="hidden">{inside.body()}</svg>{over.body()}'


class RoseBoard(Board):
    """Polar axes on a sheet, with rings at the radii `rings` and the middle counting `origin`.

    clockwise: from the top, as a rim is read from its mark; otherwise anticlockwise from the right.
    """

    def __init__(self, x, y, size, room, rings, origin, clockwise=False):
        self._rings, self._origin, self._clockwise = rings, origin, clockwise
        super().__init__(x, y, size, room)

    def _drawn(self, _x, y, room):
        return chart_style.new_rose(
            self._rings, y.unit, self.size, room, self._origin, self._clockwise
        )


def kept(kind, *given):
    """Return the board of this kind for these arguments, the same one each time."""
    return _kept(language(), kind, *given)


@lru_cache(maxsize=128)
def _kept(_language, kind, *given):
    return kind(*given)


def nice(value):
    """The next round number above, so that an axis does not change at every step of a slider.

    >>> nice(13.0), nice(0.021)
    (15.0, 0.03)
    """
    power = 10.0 ** np.floor(np.log10(value))
    return float(
        next(step * power for step in (1, 1.5, 2, 3, 4, 5, 6, 8, 10) if step * power >= value)
    )
