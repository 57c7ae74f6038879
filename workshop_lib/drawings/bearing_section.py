"""How is a pressure nose or a centre drawn in section, so that load paths can be laid on it?"""

import numpy as np

from workshop_lib.drawings.bearing_layouts import cut
from workshop_lib.drawings.bearing_parts import SLOPE
from workshop_lib.drawings.drawing import Canvas
from workshop_lib.drawings.geometry import along, move
from workshop_lib.drawings.markup import text_width
from workshop_lib.drawings.pen import SIZES

WIDTH, LEFT = 178.0, 30.0  # mm on paper: the sheet, and what stands left of the tip
NARROW = 128.0  # of a sheet without a list, for a panel that has a table beside it
LARGEST = 1.5  # mm on paper for one mm
LINE = 5.2  # from line to line of the list below the section
ROOM = 14.0  # above the section, for the rings with numbers
GAP = 6.0  # between section and list
COLUMN = 82.0  # mm for the words of one of two columns
APART = 7.0  # distance of the rings' centres
PLATE, DISC = 3.0, 4.6  # mm in front of the tip: far faces of the plate and of the disc before it
DASH, DOTS = (2.6, 1.3), (0.9, 1.0)  # stroke and gap


class Section:
    """A design cut along its axis, on a sheet of its own: what both views draw over."""

    def __init__(self, found, alt, lines):
        self.cut = cut(found.design)
        self.lines = lines
        widest = max([text_width(words, SIZES["small"]) for _, words in lines], default=0)
        self.rows = int(np.ceil(len(lines) / (2 if widest < COLUMN else 1)))
        width = WIDTH if lines else NARROW
        self.scale = min(LARGEST, (width - LEFT - 5) / self.cut.length)
        self.half = self.scale * self.cut.wall
        below = self.half + GAP + LINE * self.rows + 1
        below = max(below, 10 * self.scale + 20)  # the side force stands below the work
        self.canvas = Canvas(width, self.half + ROOM + below, alt, origin=(LEFT, below))
        self._draw(found.design.key == "pressure_nose")

    def at(self, point, side=1):
        """A point of the design on paper; side −1 is below the axis."""
        return float(self.scale * point[0]), float(side * self.scale * point[1])

    def _draw(self, disc):
        c = self.canvas
        self._work(disc)
        for part in self.cut.parts:
            self._part(part)
        for side in (1, -1):
            for rolling in self.cut.rolling.values():
                self._rolling(rolling, side)
        c.centre_line((-18, 0), self.at((self.cut.length + 2, 0)))

    def _part(self, part):
        upper = [self.at(point) for point in part.outline]
        if part.outline[0][1] == part.outline[-1][1] == 0:  # it reaches the axis: one whole piece
            outlines = [[*upper, *((x, -y) for x, y in reversed(upper) if y)]]
        else:
            outlines = [upper, [self.at(point, -1) for point in part.outline]]
        for outline in outlines:
            if part.hatch is None:
                self.canvas.polyline(outline, True, part.fill)
            else:
                self.canvas.section(outline, part.hatch, part.fill, part.gap)

    def _rolling(self, rolling, side):
        if rolling[0] == "ball":
            self.canvas.circle(self.at(rolling[1], side), self.scale * rolling[2], "paper")
        else:
            outline = [self.at(point, side) for point in rolling[1]]
            self.canvas.polyline(outline, True, "paper")

    def _work(self, disc):
        """Plate and disc that a nose presses, or the end of a shaft with its centre hole."""
        if disc:
            wall = self.cut.wall
            plate = [(-PLATE, 0), (-PLATE, wall), (-0.05, wall), (-0.05, 0)]
            self._turned(plate, 45, "steel", 1.8)
            outline = [(-DISC, 0), (-DISC, wall + 2), (-PLATE, wall + 2), (-PLATE, 0)]
        else:
            face = min(8.0, 0.5 * self.cut.sizes["front"].front)
            outline = [(-9, 0), (-9, 10), (face, 10), (face, face * SLOPE), (0, 0)]
        self._turned(outline, -45, "sheet", 1.2)

    def _turned(self, outline, hatch, fill, gap):
        upper = [self.at(point) for point in outline]
        self.canvas.section([*upper, *((x, -y) for x, y in reversed(upper) if y)], hatch, fill, gap)

    def way(self, points, side, dashes, colour, heads=True):
        """Draw a load's way through the parts, with an arrowhead in every longer piece."""
        line = [self.at(point, side) for point in points]
        pieces = [
            ends for ends in zip(line, line[1:], strict=False) if np.hypot(*_gap(*ends)) > 1e-6
        ]
        for start, end in pieces:
            self.canvas.line(start, end, "heavy", "white")
        strokes = [step for dash in _dashed(pieces, *dashes) for step in dash]
        if strokes:
            self.canvas.path(strokes, None, "heavy", colour)
        for start, end in pieces:
            length, ahead, _ = along(start, end)
            if heads and length > 6:
                self.head(move(start, ahead, length / 2 + 1.3), ahead, colour)

    def head(self, tip, ahead, colour):
        """Draw one arrowhead."""
        left = (-ahead[1], ahead[0])
        foot = move(tip, ahead, -2.8)
        corners = [tip, move(foot, left, 1.2), move(foot, left, -1.2)]
        self.canvas.polyline(corners, True, colour, "none", colour)

    def rings(self, targets):
        """Set numbered rings in a row above the section: [(mark, point of the design)]."""
        order = sorted(targets, key=lambda each: each[1][0])
        wished = np.array([self.scale * point[0] for _, point in order])
        for (mark, point), x in zip(order, spread(wished, APART), strict=True):
            self._ring(mark, (float(x), self.half + 9), self.at(point))

    def _ring(self, mark, centre, target):
        c = self.canvas
        _, ahead, _ = along(centre, target)
        c.line(move(centre, ahead, 2.6), target, "thin")
        c.circle(target, 0.6, "ink", "none")
        c.circle(centre, 2.6, "paper", "outline")
        c.text(centre, mark, size="small", bold=True, halo=False)

    def list(self):
        """Write the lines under the section, in two columns where they are short enough."""
        for number, (mark, words) in enumerate(self.lines):
            column, row = divmod(number, self.rows)
            x = -LEFT + 5 + column * (WIDTH - 6) / 2
            y = -self.half - GAP - LINE * (row + 0.5)
            if mark:
                self.canvas.text((x, y), mark, "middle", size="small", bold=True)
            self.canvas.text((x + 4, y), words, "start", size="small")


def _gap(start, end):
    return end[0] - start[0], end[1] - start[1]


def _dashed(pieces, stroke, gap):
    """Yield the strokes of a dashed line, which run on round its corners."""
    left, drawing = stroke, True
    for start, end in pieces:
        length, ahead, _ = along(start, end)
        done = 0.0
        while done < length - 1e-9:
            step = min(left, length - done)
            if drawing:
                ends = move(start, ahead, done), move(start, ahead, done + step)
                yield [("M", *ends[0]), ("L", *ends[1])]
            done, left = done + step, left - step
            if left < 1e-9:
                drawing = not drawing
                left = stroke if drawing else gap


def spread(wished, least):
    """Places in a row as near to the wished ones as a least distance allows; wished: rising.

    Of all rows that keep the distance it is the one with the least sum of squares: neighbours that
    crowd are pooled about their mean.
    """
    pools = []
    for want in np.asarray(wished, dtype=float) - least * np.arange(len(wished)):
        pools.append([want, 1])
        while len(pools) > 1 and pools[-2][0] > pools[-1][0]:
            (a, m), (b, n) = pools[-2:]
            pools[-2:] = [[(a * m + b * n) / (m + n), m + n]]
    level = np.repeat([mean for mean, _ in pools], [count for _, count in pools])
    return level + least * np.arange(len(wished))
