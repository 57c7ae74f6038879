"""What sizes has this nose? A design in section with letters at its seats, and its lengths."""

from workshop_lib.drawings.bearing_section import Section
from workshop_lib.quantities import show

BELOW = 7.0  # mm on paper from the body to the line of lengths
LINE = 5.0  # mm on paper from the line of lengths to that of lengths too short for their words
ROOM = 16.0  # mm on paper that a length's words take
BLANK = ("", "")  # a row of the list that is left to the lengths


def making_view(found, marks):
    """A design in section with its overhang and span, and a letter at each place that is made.

    found: `load_path.Trace` of the design. marks: rows of letter, words, and (place, "seat" or
    "bore"). Returns a `Canvas`.
    """
    design = found.design
    alt = f"Section of {design.name} with its sizes: overhang {show(design.overhang, figures=4)}, "
    alt += f"span {show(design.span, figures=4)}."
    rows = [(letter, words) for letter, words, _ in marks]
    half = (len(rows) + 1) // 2
    rows = [BLANK, BLANK, BLANK, *rows[:half], BLANK, BLANK, BLANK, *rows[half:]]
    sheet = Section(found, alt, rows)
    targets = [(letter, _point(sheet, *at)) for letter, _, at in marks]
    sheet.rings(targets)
    spots = [0.0, *(each.x for each in sheet.cut.sizes.values())]
    names = [design.overhang, *_steps(design)]
    for (start, end), length in zip(zip(spots, spots[1:], strict=False), names, strict=True):
        ends = [(sheet.at((each, 0))[0], -sheet.half) for each in (start, end)]
        below = BELOW if ends[1][0] - ends[0][0] > ROOM else BELOW + LINE
        sheet.canvas.dimension(*ends, show(length, figures=4), offset=-below, size="small")
    sheet.list()
    return sheet.canvas


def _steps(design):
    """Lengths from bearing to bearing, as quantities."""
    spots = [each.behind_tip for each in design.supports]
    whole = spots[-1] - spots[0]
    return [design.span * ((b - a) / whole) for a, b in zip(spots, spots[1:], strict=False)]


def _point(sheet, place, what):
    """A point of the design: on the spindle under a bearing, or in the bore round it."""
    size = sheet.cut.sizes[place]
    return (size.x, (size.bore if what == "seat" else size.outer) / 2)
