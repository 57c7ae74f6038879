"""The frame of a chart: axes, ticks, grid and labels, drawn once for each set of arguments."""

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from workshop_lib.drawings.drawing import tspans
from workshop_lib.drawings.markup import Html, attributes, number, text_width
from workshop_lib.drawings.pen import SIZES
from workshop_lib.quantities import InputError, quote

TICK = SIZES["small"]
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
    def title(self):
        """The label with its unit."""
        return f"{self.label} in {self.unit}" if self.unit else self.label

    def share(self, values):
        """Return how far along the axis each value lies, 0 to 1; NaN where it has no place."""
        values = np.asarray(values, dtype=float)
        if self.log:
            with np.errstate(divide="ignore", invalid="ignore"):
                values = np.where(values > 0, np.log10(values), np.nan)
            low, high = np.log10([self.low, self.high])
        else:
            low, high = self.low, self.high
        share = (values - low) / (high - low)
        return np.where(np.isfinite(share), share, np.nan)

    def ticks(self, most):
        """Return (value, text) at round numbers, at most about so many."""
        if not self.label:
            return []
        if self.log:
            return self._log_ticks(most)
        step = round_step((self.high - self.low) / most)
        first, last = np.ceil(self.low / step - 1e-9), np.floor(self.high / step + 1e-9)
        decimals = max(0, int(-np.floor(np.log10(step) + 1e-9)))
        if round(step * 10**decimals, 6) % 1:  # a step of 2.5 needs one more
            decimals += 1
        return [(n * step, tick_text(n * step, decimals)) for n in np.arange(first, last + 1)]

    def _log_ticks(self, most):
        low, high = np.log10([self.low, self.high])
        decades = range(int(np.floor(low)), int(np.ceil(high)) + 1)
        for factors in ((1, 2, 5), (1, 3), (1,)):
            values = [(f, d) for d in decades for f in factors]
            inside = [
                (f * 10.0**d, f, d)
                for f, d in values
                if low - 1e-9 <= np.log10(f) + d <= high + 1e-9
            ]
            if len(inside) <= most:
                break
        every = max(1, int(np.ceil(len(inside) / most)))
        return [
            (value, tick_text(value, max(0, -d)) if -4 <= d <= 4 else f"{f} × 10^{{{d}}}")
            for value, f, d in inside[::every]
        ]

    def fine_ticks(self):
        """Return the values of the faint lines between the ticks of a logarithmic axis."""
        low, high = int(np.floor(np.log10(self.low))), int(np.ceil(np.log10(self.high)))
        every = [f * 10.0**d for d in range(low, high) for f in range(2, 10)]
        return [value for value in every if self.low < value < self.high]


def round_step(rough):
    """Return the next round step (1, 2, 2.5 or 5 times a power of ten) from a rough one.

    >>> round_step(13.0), round_step(0.021), round_step(0.9)
    (20.0, 0.025, 1.0)
    """
    power = 10.0 ** np.floor(np.log10(rough))
    factor = next(f for f in (1, 2, 2.5, 5, 10) if f >= rough / power - 1e-9)
    return float(round(factor * power, 12)) if power > 1e-9 else float(factor * power)


def tick_text(value, decimals):
    """Write a tick's number with a true minus sign."""
    return f"{value + 0.0:.{decimals}f}".replace("-", "−") if abs(value) > 1e-12 else "0"


@dataclass(frozen=True)
class Frame:
    """Where a chart's plot lies on its sheet (mm), and its axes."""

    x: Axis
    y: Axis
    left: float
    top: float
    width: float
    height: float
    sheet: tuple

    def place(self, xs, ys):
        """Return points of data as plot coordinates in mm, y downward from the plot's top."""
        across = np.clip(self.x.share(xs) * self.width, -_FAR, _FAR)
        down = np.clip((1 - self.y.share(ys)) * self.height, -_FAR, _FAR)
        return across, down

    @cached_property
    def svg(self):
        """The frame as an SVG group."""
        grid, marks, words = [], [], []
        for value, text in self.x.ticks(self.width / 12):
            x = self.left + float(self.x.share(value)) * self.width
            grid.append(f"M{number(x)} {number(self.top)}v{number(self.height)}")
            marks.append(f"M{number(x)} {number(self.bottom)}v1.2")
            words.append(_word(x, self.bottom + 1.8 + 0.72 * TICK, text, "middle"))
        for value, text in self.y.ticks(self.height / 10):
            y = self.top + float(1 - self.y.share(value)) * self.height
            grid.append(f"M{number(self.left)} {number(y)}h{number(self.width)}")
            marks.append(f"M{number(self.left)} {number(y)}h-1.2")
            words.append(_word(self.left - 1.9, y + 0.36 * TICK, text, "end"))
        words += self._titles()
        axes = f"M{number(self.left)} {number(self.top)}v{number(self.height)}"
        axes += f"h{number(self.width)}"
        return Html(
            f'<g class="frame"><path d="{self._fine()}" stroke="#eef1f4" stroke-width="0.18"/>'
            f'<path d="{"".join(grid)}" stroke="#dde2e7" stroke-width="0.18"/>'
            f'<path d="{axes}{"".join(marks)}" fill="none" stroke="#1c2128" stroke-width="0.3"/>'
            f"{self._zero_lines()}{''.join(words)}</g>"
        )

    @property
    def bottom(self):
        """Where the plot ends, in mm from the sheet's top."""
        return self.top + self.height

    def _titles(self):
        right = self.left + self.width
        low = self.bottom + 2.6 + 0.72 * TICK + 1.0 * SIZES["normal"]
        across = _word(right, low, self.x.title, "end", "normal")
        return [across, _word(1.2, 0.9 * SIZES["normal"] + 0.6, self.y.title, "start", "normal")]

    def _fine(self):
        lines = ""
        for axis, span in ((self.x, self.width), (self.y, self.height)):
            for value in axis.fine_ticks() if axis.log else []:
                at = float(axis.share(value)) * span
                if axis is self.x:
                    lines += f"M{number(self.left + at)} {number(self.top)}v{number(self.height)}"
                else:
                    lines += f"M{number(self.left)} {number(self.bottom - at)}h{number(self.width)}"
        return lines

    def _zero_lines(self):
        lines = ""
        if not self.x.log and self.x.low < 0 < self.x.high:
            x = self.left + float(self.x.share(0)) * self.width
            lines += f"M{number(x)} {number(self.top)}v{number(self.height)}"
        if not self.y.log and self.y.low < 0 < self.y.high:
            y = self.bottom - float(self.y.share(0)) * self.height
            lines += f"M{number(self.left)} {number(y)}h{number(self.width)}"
        return f'<path d="{lines}" stroke="#8b949e" stroke-width="0.25"/>' if lines else ""


def _word(x, y, words, anchor, size="small"):
    place = attributes(
        x=number(x),
        y=number(y),
        text_anchor=None if anchor == "start" else anchor,
        font_size=None if size == "normal" else number(SIZES[size]),
    )
    return f"<text{place}>{tspans(words, SIZES[size])}</text>"


@lru_cache(maxsize=256)
def frame(x, y, size, equal=False):
    """Lay out the frame of a chart for two axes on a sheet of (width, height) mm.

    equal: one unit is equally long on both axes; the sheet then shrinks to fit.
    """
    width, height = map(float, size)
    top = SIZES["normal"] + 2.6
    below = 2.8 + TICK + SIZES["normal"] + 0.9
    plot_height = height - top - below
    texts = [text for _, text in y.ticks(max(plot_height, 1) / 10)]
    left = max((text_width(text, TICK) for text in texts), default=0) + 3.2
    last = [text for _, text in x.ticks(max(width - left, 1) / 12)][-1:]
    right = max([text_width(text, TICK) / 2 for text in last] + [2.5]) + 0.8
    plot_width = width - left - right
    if plot_width < 15 or plot_height < 10:
        raise InputError("size", f"{quote(size)} mm leaves no room for a chart")
    if equal:
        scale = min(plot_width / (x.high - x.low), plot_height / (y.high - y.low))
        plot_width, plot_height = scale * (x.high - x.low), scale * (y.high - y.low)
    sheet = (left + plot_width + right, top + plot_height + below)
    return Frame(x, y, left, top, plot_width, plot_height, sheet)


def nice(value):
    """The next round number above, so that an axis does not change at every step of a slider."""
    power = 10.0 ** np.floor(np.log10(value))
    return float(
        next(step * power for step in (1, 1.5, 2, 3, 4, 5, 6, 8, 10) if step * power >= value)
    )
