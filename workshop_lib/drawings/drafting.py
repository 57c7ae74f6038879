"""How are dimensions, force arrows, leaders, centre lines and ground marked on a drawing?"""

import numpy as np

from workshop_lib.drawings.geometry import along, move, polar
from workshop_lib.drawings.markup import text_width
from workshop_lib.drawings.pen import SIZES
from workshop_lib.quantities import say

HEAD = 2.6  # length of a dimension's arrowhead; its width is a third
FORCE_HEAD = 3.4
GAP = 0.9  # between an outline and the extension line that starts at it


class Drafting:
    """Marks built from the strokes of a Canvas; every method returns the canvas."""

    def centre_line(self, start, end):
        """Draw the dash-dot line of an axis."""
        return self.line(start, end, "centre")

    def seen_from(self, at, words, anchor="start"):
        """Say at a point from which end an end view is seen."""
        return self.text(
            at, say("seen from {place}", place=say(words)), anchor, size="small", colour="grey"
        )

    def centre_mark(self, centre, radius):
        """Draw the crossed centre lines of a round thing of that radius, a little beyond it."""
        x, y = centre
        reach = radius + 2.5
        self.centre_line((x - reach, y), (x + reach, y))
        return self.centre_line((x, y - reach), (x, y + reach))

    def arrow(
        self, tail, tip, label="", colour="blue", label_at="tail", style="heavy", size="normal"
    ):
        """Draw a force or a motion as an arrow with its label.

        label_at: tail or tip (beyond that end), left or right (beside the middle, seen along it).
        """
        length, ahead, left = along(tail, tip)
        head = min(FORCE_HEAD, 0.7 * length)
        self.line(tail, move(tip, ahead, -0.8 * head), style, colour)
        self._head(tip, ahead, head, 0.42 * head, colour)
        if not label:
            return self
        if label_at in ("tail", "tip"):
            way = ahead if label_at == "tip" else (-ahead[0], -ahead[1])
            at = move(tip if label_at == "tip" else tail, way, 1.3)
        else:
            way = left if label_at == "left" else (-left[0], -left[1])
            at = move(move(tail, ahead, length / 2), way, 1.5)
        return self._beyond(at, way, label, colour, size)

    def dimension(self, start, end, words, offset=8, size="normal"):
        """Dimension the distance between two points, with extension lines.

        offset: how far the dimension line stands off, positive to the left of start -> end.
        """
        length, ahead, left = along(start, end)
        side = 1 if offset >= 0 else -1
        first, last = move(start, left, offset), move(end, left, offset)
        for point, far in ((start, first), (end, last)):
            if abs(offset) > GAP:
                self.line(move(point, left, side * GAP), move(far, left, side * 1.5), "thin")
        width = text_width(words, SIZES[size])
        roomy = length >= 2 * HEAD + 1
        self._dimension_line(first, last, ahead, roomy)
        middle = move(first, ahead, length / 2)
        if length < width + 1:
            middle = move(last, ahead, width / 2 + (1.5 if roomy else HEAD + 3.5))
            self.line(last, move(middle, ahead, width / 2), "thin")
        return self._above(middle, ahead, words, size)

    def leader(self, point, text_at, words, colour="ink", size="normal"):
        """Point at something: a dot on it, a thin line, a short shelf, and the words."""
        shelf = 2.5 if text_at[0] >= point[0] else -2.5
        knee = (text_at[0] - shelf, text_at[1])
        self.polyline([point, knee, text_at], style="thin", colour=colour)
        self.circle(point, 0.55, fill=colour, style="none")
        anchor = "start" if shelf > 0 else "end"
        gap = 0.8 if shelf > 0 else -0.8
        return self.text((text_at[0] + gap, text_at[1]), words, anchor, size=size, colour=colour)

    def rotation(self, centre, radius, start, end, label="", colour="purple", size="normal"):
        """Show a turning sense by an arc with a head at its end; anticlockwise when end > start."""
        sense = 1 if end > start else -1
        head = min(FORCE_HEAD, 0.8 * radius)
        back = np.rad2deg(0.8 * head / radius) * sense
        self.arc(centre, radius, start, end - back, "heavy", colour)
        # The head lies on the chord of its own piece of arc, or it would stand off the curve.
        direction = polar((0, 0), 1, end - back / 2 + 90 * sense)
        self._head(polar(centre, radius, end), direction, head, 0.42 * head, colour)
        if not label:
            return self
        middle = (start + end) / 2
        way = polar((0, 0), 1, middle)
        return self._beyond(polar(centre, radius + 1.5, middle), way, label, colour, size)

    def ground(self, start, end, depth=2.4):
        """Draw something that cannot move: a line with strokes on its right, seen start -> end."""
        length, ahead, left = along(start, end)
        self.line(start, end, "outline")
        strokes = max(int(length / 1.8), 1)
        for index in range(strokes):
            foot = move(start, ahead, (index + 1) * length / strokes)
            self.line(foot, move(move(foot, ahead, -depth), left, -depth), "thin")
        return self

    # --- parts of marks ------------------------------------------------------------------------

    def _head(self, tip, ahead, length, half_width, colour="ink"):
        left = (-ahead[1], ahead[0])
        foot = move(tip, ahead, -length)
        corners = [tip, move(foot, left, half_width), move(foot, left, -half_width)]
        return self.polyline(corners, closed=True, fill=colour, style="none", colour=colour)

    def _dimension_line(self, first, last, ahead, roomy):
        """Draw the line with its heads: inside where there is room, else pressing from outside."""
        back = (-ahead[0], -ahead[1])
        if roomy:
            self.line(first, last, "thin")
            self._head(first, back, HEAD, HEAD / 6)
            return self._head(last, ahead, HEAD, HEAD / 6)
        self.line(move(first, back, HEAD + 3), move(last, ahead, HEAD + 3), "thin")
        self._head(first, ahead, HEAD, HEAD / 6)
        return self._head(last, back, HEAD, HEAD / 6)

    def _above(self, middle, ahead, words, size):
        """Write words along a line, on its upper side, readable from below or from the right."""
        turn = float(np.rad2deg(np.arctan2(ahead[1], ahead[0])))
        if not -89.9 < turn <= 90.1:
            turn += 180 if turn < 0 else -180
        up = polar((0, 0), 1, turn + 90)
        return self.text(move(middle, up, 0.8), words, level="bottom", turn=turn, size=size)

    def _beyond(self, at, way, words, colour, size):
        """Write words beyond a point, on the side to which `way` points."""
        anchor = "start" if way[0] > 0.4 else "end" if way[0] < -0.4 else "middle"
        level = "bottom" if way[1] > 0.4 and anchor == "middle" else "middle"
        if way[1] < -0.4 and anchor == "middle":
            level = "top"
        return self.text(at, words, anchor, level, size=size, colour=colour)
