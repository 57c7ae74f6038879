"""How do a dial, the part under its plunger and a lever indicator look?

A dial counts both ways from its zero: the needle goes to the plus side, clockwise, as the plunger
is pushed in. The value also stands below the dial in words, so that no one has to count strokes.
"""

from dataclasses import dataclass

import numpy as np

from workshop_lib.drawings.drawing import Canvas
from workshop_lib.drawings.geometry import move, polar
from workshop_lib.quantities import Q_, rounded, show

DIVISIONS = 100  # strokes round a dial
TALLEST = 5.0  # mm on paper for the largest departure of the drawn part from round
MOST_TIMES = 5000  # a part that is true to a micrometre shall look true
PART, DIAL = 22.0, 22.0  # radii on paper, mm
APART = 63.0  # mm on paper from the part's axis to the dial's
AROUND = np.arange(0, 360, 2)


@dataclass(frozen=True)
class Dial:
    """One face of a dial indicator.

    division, figure: of its scale, and what a printed number counts, both in its own unit.
    """

    name: str
    unit: str
    division: float
    figure: float
    decimals: int

    @property
    def graduation(self):
        """Length of one division."""
        return Q_(self.division, self.unit)

    @property
    def turn(self):
        """Length that takes the needle once round."""
        return DIVISIONS * self.graduation

    def needle_angle(self, reading):
        """Return where the needle points: degrees clockwise from the zero at the top, not wrapped.

        360° × reading / (100 divisions).
        """
        return 360.0 * reading.m_as(self.unit) / (DIVISIONS * self.division)

    def words(self, reading):
        """Return a reading with its sign, as finely as a tenth of a division can be guessed."""
        value = round(reading.m_as(self.unit), self.decimals)
        sign = "+" if value > 0 else "−" if value < 0 else ""
        return f"{sign}{abs(value):.{self.decimals}f} {self.unit}"


DIALS = {
    "mm": Dial("0.01 mm", "mm", 0.01, 0.01, 3),
    "fine": Dial("0.002 mm", "mm", 0.002, 0.001, 4),
    "thou": Dial("0.0005 in", "thou", 0.5, 1.0, 2),
}
DIAL_NAMES = {
    "mm": "0.01 mm a division",
    "fine": "0.002 mm a division",
    "thou": "half a thou a division",
}


def dial_for(graduation):
    """Return the key of the dial whose division is nearest to a length."""
    return min(DIALS, key=lambda key: abs(np.log((DIALS[key].graduation / graduation).m_as(""))))


def dial(reading, face="mm"):
    """A dial indicator on its own, its needle at a reading (length): a `Canvas`."""
    kind = DIALS[face]
    c = Canvas(62, 66, f"A dial of {kind.name}: {sense(kind, reading)}.", origin=(31, 38))
    draw_dial(c, (0, 0), kind, reading)
    return c


def sense(kind, reading):
    """Say in words what a needle shows: the value, and which way the plunger went."""
    value = round(reading.m_as(kind.unit), kind.decimals)
    way = "pushed in" if value > 0 else "out" if value < 0 else "where the dial was set"
    return f"the needle reads {kind.words(reading)}, the plunger {way}"


def clocked(departures, angle, reading, face="mm", part="disc"):
    """The part end-on with the plunger of a dial on its rim: a `Canvas`.

    departures: lengths by which the rim stands out at marks 0°, 2°, … 358°. angle: the mark under
    the plunger. reading: length. The departures are drawn larger than they are, and it says so.
    """
    kind, bare = DIALS[face], departures.m_as("mm")
    times = magnified(np.abs(bare).max())
    mark = angle.m_as("deg") % 360
    alt = f"The {part}, seen from the headstock, with its mark {mark:.0f}° under the plunger: "
    alt += f"{sense(kind, reading)}."
    c = Canvas(119, 72, alt, origin=(29, 40))
    under = times * float(np.interp(mark, np.append(AROUND, 360), np.append(bare, bare[0])))
    turned_part(c, times * bare, mark)
    c.seen_from((-27, 29.5), "the headstock")
    plunger(c, PART + under)
    draw_dial(c, (APART, 0), kind, reading)
    words = f"departures drawn {times:g} times larger" if times else "truly round"
    c.text((-27, -33), words, "start", colour="grey")
    return c


def magnified(largest):
    """Return how many times a departure (mm) is drawn: a round number, 0 when there is none."""
    if largest < 1e-6:
        return 0.0
    power = 10.0 ** np.floor(np.log10(TALLEST / largest))
    fitting = (step * power for step in (0.5, 1, 2, 5) if step * power * largest <= 1.001 * TALLEST)
    return float(min(max(fitting), MOST_TIMES))


def turned_part(c, out, mark):
    """The part with its marks, turned until `mark` stands at the right, under the plunger."""
    rim = [polar((0, 0), PART + d, a - mark) for a, d in zip(AROUND, out, strict=True)]
    c.polyline(rim, closed=True, fill="sheet")
    c.circle((0, 0), PART, style="hidden", colour="grey")
    for degrees in range(0, 360, 30):
        at = degrees - mark
        rise = float(out[degrees // 2])
        c.line(polar((0, 0), PART + rise - 2.2, at), polar((0, 0), PART + rise, at), "outline")
        if degrees % 90 == 0:
            c.text(polar((0, 0), PART + rise - 7.5, at), f"{degrees}°")
    c.centre_mark((0, 0), 4)
    c.rotation((0, 0), 9, 120, 60)


def plunger(c, tip):
    """The plunger from the rim into the dial's case."""
    case = APART - DIAL - 2
    c.circle((tip + 1.3, 0), 1.3, "steel")
    c.rect((tip + 2.6, -0.8), case - tip - 2.6, 1.6, "paper")
    c.rect((case - 6, -2), 6, 4, "steel")


def draw_dial(c, centre, kind, reading):
    """Draw the dial with its needle, its small counter of whole turns, and the value below."""
    x, y = centre
    c.circle(centre, DIAL + 2, "steel")
    c.circle(centre, DIAL, "paper")
    _scale(c, centre, kind)
    c.text((x + 6.5, y - 3.4), "+", size="normal")
    c.text((x - 6.5, y - 3.4), "−", size="normal")
    c.text((x, y - 8.6), kind.name, colour="grey")
    turns = kind.needle_angle(reading)
    c.circle((x, y + 7.6), 3.4, "paper", "thin")
    _hand(c, (x, y + 7.6), 2.9, 0, turns / 10, "ink", "outline")
    _hand(c, centre, DIAL - 2.2, 5, turns, "orange", "heavy")
    c.circle(centre, 1.3, "ink")
    c.text((x, y - DIAL - 5.4), kind.words(reading), size="large", bold=True)
    if abs(turns) > 180:
        whole = f"{abs(turns) / 360:.2f} turns of the needle"
        c.text((x, y - DIAL - 10.6), whole, size="small", colour="grey")


def _scale(c, centre, kind):
    for stroke in range(DIVISIONS):
        length = 3.2 if stroke % 10 == 0 else 2.4 if stroke % 5 == 0 else 1.5
        at = 90 - 3.6 * stroke
        style = "outline" if stroke % 10 == 0 else "thin"
        c.line(polar(centre, DIAL - length, at), polar(centre, DIAL, at), style)
        if stroke % 10 == 0:
            count = min(stroke, DIVISIONS - stroke) * kind.division / kind.figure
            c.text(polar(centre, DIAL - 5.8, at), f"{count:g}", size="small")


def _hand(c, centre, length, tail, turned, colour, style):
    at = 90 - turned % 360
    c.line(polar(centre, -tail, at), polar(centre, length, at), style, colour)


def lever(indicated, angle):
    """A lever indicator's stylus on a surface, and why its needle shows too much: a `Canvas`.

    indicated: length as read. angle: of the stylus to the surface, below 90°.
    """
    lean = angle.m_as("deg")
    true = indicated * np.cos(np.radians(lean))
    alt = (
        f"A stylus at {lean:.0f}° to the surface: the ball swings {show(indicated)}, square to the "
        f"stylus, while the surface comes up {show(true)}."
    )
    c = Canvas(86, 74, alt, origin=(16, 32))
    ball, swing = (16.0, 2.2), 16.0
    pivot = polar(ball, 30, lean)
    c.ground((-10, 0), (40, 0))
    c.line(
        (-10, swing * np.cos(np.radians(lean))), (40, swing * np.cos(np.radians(lean))), "hidden"
    )
    c.line(ball, pivot, "heavy")
    c.circle(ball, 2.2, "steel")
    c.circle(pivot, 2.6, "paper")
    up = polar((0, 0), 1, lean + 90)
    c.arrow(ball, move(ball, up, swing), colour="orange")
    c.arrow((-6, 0), (-6, max(swing * np.cos(np.radians(lean)), 0.3)), colour="blue")
    if lean >= 8:
        c.arc((16, 0), 11, 0, lean, "thin")
    _lever_words(c, lean, indicated, true)
    return c


def _lever_words(c, lean, indicated, true):
    rows = (
        ("orange", f"the ball swings {rounded(indicated.m_as('mm'), 3)} mm: this is read"),
        ("blue", f"the surface comes up {rounded(true.m_as('mm'), 3)} mm"),
        ("ink", f"stylus at {lean:.0f}° to the surface"),
    )
    for row, (colour, words) in enumerate(rows):
        c.text((-12, -8 - 7 * row), words, "start", colour=colour)
