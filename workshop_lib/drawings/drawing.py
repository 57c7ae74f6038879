"""How is a technical drawing made as SVG text, with the same bytes on every run?

Units are millimetres on paper, x to the right and y upward, angles in degrees anticlockwise from
the x axis. Line weights keep the 2:1 relation of ISO 128 (outline to thin). Colour helps the eye,
but a label, a dash or a hatch carries each point as well, so a grey print still teaches.

    c = Canvas(80, 50, "A disc 30 mm across.")
    c.circle((40, 25), 15)
    c.dimension((25, 25), (55, 25), "30 mm", offset=20)
    c.figure("The disc")
"""

from workshop_lib.drawings import geometry
from workshop_lib.drawings.drafting import Drafting
from workshop_lib.drawings.figures import Figure
from workshop_lib.drawings.geometry import box
from workshop_lib.drawings.markup import Html, attributes, escape, number, pieces, text_width
from workshop_lib.drawings.pen import FILLS, SIZES, STYLES, colour_of, svg_frame
from workshop_lib.quantities import say

__all__ = ["Canvas", "Figure", "box", "figure"]


def figure(svg, caption=""):
    """Return a figure with its caption from a Canvas or anything else that draws itself."""
    return svg.figure(caption)


class Canvas(Drafting):
    """One sheet of a drawing: plain strokes here, the drafting marks in `Drafting`.

    width, height: mm on paper. alt: one sentence that says what the drawing shows, with its
    number. origin: where the point (0, 0) lies, in mm from the sheet's lower left corner.
    """

    def __init__(self, width, height, alt, origin=(0, 0)):
        self.width, self.height, self.alt = float(width), float(height), str(alt)
        self.origin = origin
        self.texts = []
        self._parts = []

    # --- finishing -----------------------------------------------------------------------------

    def svg(self):
        """Return the drawing as one SVG element with its alt sentence."""
        return svg_frame(self.width, self.height, self.alt, "".join(self._parts))

    def figure(self, caption=""):
        """Return the drawing as a figure for the end of a cell."""
        return Figure(self.svg(), self.alt, caption)

    def _repr_html_(self):
        return str(self.figure().portable())

    def __repr__(self):
        return self.alt

    def faults(self):
        """List the texts that overlap or leave the sheet; a finished drawing has none."""
        sheet = (0, 0, self.width, self.height)
        found = [f"{words!r} leaves the sheet" for words, c in self.texts if not c.within(sheet)]
        for index, (words, corners) in enumerate(self.texts):
            found += [
                f"{words!r} lies on {other!r}"
                for other, others in self.texts[index + 1 :]
                if corners.overlaps(others)
            ]
        return found

    # --- strokes -------------------------------------------------------------------------------

    def line(self, start, end, style="outline", colour="ink"):
        """Draw a straight line."""
        return self._path(f"M{self._at(start)}L{self._at(end)}", style, colour)

    def polyline(self, points, closed=False, fill=None, style="outline", colour="ink"):
        """Draw straight lines through the points, filled when `fill` names a fill."""
        shape = "M" + "L".join(self._at(point) for point in points) + ("Z" if closed else "")
        return self._path(shape, style, colour, fill)

    def path(self, steps, fill=None, style="outline", colour="ink"):
        """Draw a path of steps: ("M", x, y), ("L", x, y), ("C", 6 numbers), ("Z",) and
        ("A", radius, large, anticlockwise, x, y), all in sheet coordinates."""
        return self._path("".join(self._step(*step) for step in steps), style, colour, fill)

    def circle(self, centre, radius, fill=None, style="outline", colour="ink"):
        """Draw a circle of that radius."""
        x, y = self._sheet(centre)
        place = attributes(cx=number(x), cy=number(y), r=number(radius))
        return self._add(f"<circle{place}{self._pen(style, colour, fill)}/>")

    def arc(self, centre, radius, start, end, style="outline", colour="ink"):
        """Draw part of a circle from one angle to another, anticlockwise when end > start."""
        first, last = geometry.polar(centre, radius, start), geometry.polar(centre, radius, end)
        large = abs(end - start) > 180
        steps = [("M", *first), ("A", radius, large, end > start, *last)]
        return self.path(steps, None, style, colour)

    def rect(self, corner, width, height, fill=None, style="outline", colour="ink"):
        """Draw a rectangle from its lower left corner."""
        return self.polyline(box(corner, width, height), True, fill, style, colour)

    def section(self, outline, hatch=45, fill="steel", gap=1.8, style="outline"):
        """Draw cut material: filled, hatched at that angle, outlined.

        outline: points, or a list of rings of points of which the inner ones are holes.
        """
        rings = outline if hasattr(outline[0][0], "__len__") else [outline]
        shape = "".join("M" + "L".join(self._at(point) for point in ring) + "Z" for ring in rings)
        self._add(f'<path d="{shape}" fill="{FILLS[fill]}" fill-rule="evenodd" stroke="none"/>')
        self.hatch(rings, hatch, gap)
        return self._path(shape, style, "ink")

    def hatch(self, rings, angle=45, gap=1.8, colour="ink"):
        """Draw hatching alone, inside rings of points."""
        strokes = geometry.hatch_lines(rings, angle, gap)
        xs, ys = self._sheet((strokes[..., 0], strokes[..., 1]))
        shape = "".join(
            f"M{number(x)} {number(y)}L{number(far)} {number(up)}"
            for (x, far), (y, up) in zip(xs.tolist(), ys.tolist(), strict=True)
        )
        return self._path(shape, "hatch", colour) if shape else self

    def text(
        self,
        at,
        words,
        anchor="middle",
        level="middle",
        size="normal",
        turn=0,
        bold=False,
        colour="ink",
        halo=True,
    ):
        """Write words at a point.

        anchor: start, middle or end of the words at the point. level: which part of the letters
        stands at the point's height: top, middle, bottom or base. turn: degrees anticlockwise.
        """
        words, height = say(words), SIZES[size]
        width = text_width(words, height, bold)
        room = geometry.text_box(at, width, height, anchor, level, turn)
        self.texts.append((words, room.moved(self.origin)))
        x, y = self._sheet(geometry.baseline(at, height, level, turn))
        place = attributes(
            x=number(x),
            y=number(y),
            text_anchor=None if anchor == "start" else anchor,
            font_size=None if size == "normal" else number(height),
            font_weight="bold" if bold else None,
            fill=None if colour == "ink" else colour_of(colour),
            transform=f"rotate({number(-turn)} {number(x)} {number(y)})" if turn else None,
        )
        back = ' paint-order="stroke" stroke="#fff" stroke-width="0.9"' if halo else ""
        return self._add(f"<text{place}{back}>{tspans(words, height)}</text>")

    # --- the pen -------------------------------------------------------------------------------

    def _add(self, markup):
        self._parts.append(markup)
        return self

    def _sheet(self, point):
        """Turn a point of the drawing into SVG's coordinates, where y runs downward."""
        return self.origin[0] + point[0], self.height - self.origin[1] - point[1]

    def _at(self, point):
        x, y = self._sheet(point)
        return f"{number(x)} {number(y)}"

    def _step(self, letter, *numbers):
        if letter == "A":
            radius, large, anticlockwise, x, y = numbers
            flags = f"{int(bool(large))} {int(not anticlockwise)}"
            return f"A{number(radius)} {number(radius)} 0 {flags} {self._at((x, y))}"
        pairs = zip(numbers[::2], numbers[1::2], strict=True)
        return letter + " ".join(self._at(pair) for pair in pairs)

    def _path(self, shape, style, colour, fill=None):
        return self._add(f'<path d="{shape}"{self._pen(style, colour, fill)}/>')

    @staticmethod
    def _pen(style, colour, fill=None):
        width, dash = STYLES[style]
        return attributes(
            fill="none" if fill is None else FILLS.get(fill) or colour_of(fill),
            stroke="none" if style == "none" else colour_of(colour),
            stroke_width=number(width),
            stroke_dasharray=dash or None,
        )


def tspans(words, height):
    """Return words as SVG text content, raised and lowered parts as shifted spans."""
    written, level = "", 0.0
    for mark, text in pieces(words):
        target = {"": 0.0, "_": 0.22, "^": -0.36}[mark] * height
        small = attributes(font_size=number(0.72 * height)) if mark else ""
        shift = f' dy="{number(target - level)}"' if target != level else ""
        level = target
        written += f"<tspan{shift}{small}>{escape(text)}</tspan>" if shift or mark else escape(text)
    return Html(written)
