"""How do the ways of holding a disc without a hole look side by side, as sections?"""

from workshop_lib.drawings.drawing import Canvas
from workshop_lib.drawings.geometry import box, move
from workshop_lib.slip import holding

WIDE, HIGH, IN_A_ROW = 59, 47, 3  # mm on paper for one way, and how many stand side by side
FACE, DISC, SHEET = 11, 15, 1.8  # radii of gripped face and disc, thickness of the sheet
BACKED = 13.5  # radius of a sandwich's backing discs
LAYERS = {"tape": 1.8, "adhesive": 0.6}  # how thick a bond is drawn


def ways_sheet():
    """Every way of holding that the table knows, cut along the axis. Returns a `Canvas`.

    A way is drawn by how it holds; what grips the sheet is orange.
    """
    ways = holding.ways()
    rows = -(-len(ways) // IN_A_ROW)
    alt = (
        f"{len(ways)} ways to hold a disc without a hole, each cut along the axis: "
        f"{'; '.join(way.name for way in ways)}."
    )
    c = Canvas(IN_A_ROW * WIDE, rows * HIGH, alt)
    for place, way in enumerate(ways):
        row, column = divmod(place, IN_A_ROW)
        middle = (column + 0.46) * WIDE, (rows - row - 0.44) * HIGH
        _Section(c, middle).draw(way)
    return c


class _Section:
    """One way, with its face at x = 0 and the axis at y = 0."""

    def __init__(self, canvas, middle):
        self.canvas, self.middle = canvas, middle

    def draw(self, way):
        kinds = {"bond": self.bonded, "suction": self.sucked, "clamp": self.clamped}
        self.part(-24, -12, 4, "steel", 45)
        if way.key == "sandwich":
            self.sandwiched()
        else:
            kinds.get(way.kind, self.pressed)(way)
        self.canvas.centre_line(self.at(-26, 0), self.at(26, 0))
        self.canvas.text(self.at(0, -22.5), way.name, size="small")

    def pressed(self, _way):
        self.part(-12, -2, FACE, "pad", -45)
        self.part(-2, 0, FACE, "facing", 45, 1.0)
        self.sheet()
        self.nose(SHEET)
        self.gripped(0, -FACE, FACE)

    def sandwiched(self):
        self.part(-12, -3.6, FACE, "pad", -45)
        self.part(-3.6, 0, BACKED, "facing", 45, 1.0)
        self.sheet()
        self.part(SHEET, SHEET + 3.6, BACKED, "facing", 45, 1.0)
        self.nose(SHEET + 3.6)
        self.gripped(0, -BACKED, BACKED)

    def bonded(self, way):
        layer = LAYERS.get(way.key, 1.2)
        self.part(-12, -6, FACE + 2, "steel", 45)
        self.part(-6, -layer, FACE, "pad", -45)
        self.part(-layer, 0, FACE, "pale orange", 45, 0.8)
        self.sheet()
        self.gripped(0, -FACE, FACE)

    def sucked(self, _way):
        self.part(-12, 0, FACE, "pad", -45)
        self.hollow(-24, -3, -1.2, 1.2)
        self.hollow(-3, -1.4, -8.5, 8.5)
        for low, high in ((-8.5, -5.5), (-2, 2), (5.5, 8.5)):
            self.hollow(-1.6, 0, low, high)
        self.sheet()
        self.gripped(0, -FACE, FACE)
        self.canvas.arrow(self.at(-15, 7), self.at(-22, 7), colour="blue", style="outline")
        self.canvas.text(self.at(-18.5, 10.5), "air out", size="small", colour="blue")

    def clamped(self, _way):
        self.part(-12, 0, 19, "pad", -45)
        self.sheet()
        for side in (1, -1):
            self.block(0, SHEET, side * 16, side * 18.5, "steel")
            self.block(SHEET, SHEET + 3, side * 10.5, side * 18.5, "steel")
            self.block(-14, SHEET + 5, side * 15.6, side * 17, "nose")
            for face in (0, SHEET):
                self.gripped(face, side * 10.5, side * DISC)

    # --- parts ---------------------------------------------------------------------------------

    def at(self, x, y):
        return self.middle[0] + x, self.middle[1] + y

    def part(self, left, right, radius, fill, hatch, gap=1.8):
        outline = box(self.at(left, -radius), right - left, 2 * radius)
        self.canvas.section(outline, hatch, fill, gap)

    def block(self, left, right, low, high, fill):
        corner = self.at(left, min(low, high))
        self.canvas.rect(corner, right - left, abs(high - low), fill, "thin")

    def hollow(self, left, right, low, high):
        self.canvas.rect(self.at(left, low), right - left, high - low, "paper", "none")

    def sheet(self):
        self.part(0, SHEET, DISC, "sheet", -45, 1.2)

    def gripped(self, x, low, high):
        self.canvas.line(self.at(x, low), self.at(x, high), "heavy", "orange")

    def nose(self, face):
        """Plate, nose and thrust from the tailstock, right of a face."""
        self.part(face, face + 2.6, FACE, "steel", -45)
        start = self.at(face + 2.6, 0)
        upper = [(0, 4), (2, 4), (6, 2.4), (14, 2.4)]
        outline = [*upper, *((x, -y) for x, y in reversed(upper))]
        self.canvas.section([move(start, each, 1) for each in outline], 45, "nose")
        tip = move(start, (14, 0), 1)
        self.canvas.arrow(move(tip, (8, 0), 1), tip, colour="blue", style="outline")
        self.canvas.text(move(tip, (4, 4.5), 1), "thrust", size="small", colour="blue")
