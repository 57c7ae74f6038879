"""What does the card show? The blank with what to snip off it, and the set-up with its sizes."""

import numpy as np

from workshop_lib.drawings.drawing import Canvas
from workshop_lib.drawings.geometry import move
from workshop_lib.quantities import Q_, show

WIDE, HIGH = 92.0, 64.0  # mm on paper, of both sketches: near what half a sheet leaves them
HALF = 22.0  # mm on paper from the middle of the blank to its stock's edge
RIM = 20.0  # mm on paper for the larger of disc radius and plate radius
FACING, SHEET, PLATE = 2.6, 2.2, 3.2  # mm on paper, whatever they are


def blank_sketch(blank, centre, disc_diameter, disc, snip=None, sides=""):
    """The blank on its sheet, with the disc to scribe and the corners to snip: a `Canvas`.

    centre: (x, y) in the blank. disc: the disc's diameter in words. snip: what goes off each corner
    of the square that the blank is cut from, along its side, where it is cut from one; a length.
    sides: how many there are, in words, where nothing is to be snipped.
    """
    points, span = _upright(1e3 * blank.points, snip)
    low, high = points.min(axis=0), points.max(axis=0)
    middle = (low + high) / 2
    at = np.array([each.m_as("mm") for each in centre]) if span is None else middle
    sizes = high - low
    scale = 2 * HALF / float(sizes.max())
    wide, tall = (show(Q_(float(each), "mm")) for each in sizes)
    alt = f"The blank, {wide} by {tall}, with a disc of {disc} scribed on it"
    alt += f" and {show(snip)} to cut off each corner." if snip is not None else "."
    c = Canvas(WIDE, HIGH, alt, origin=(30, 34))
    placed = [tuple(scale * (each - middle)) for each in points]
    across, up = scale * sizes / 2
    if snip is not None:
        _snipped(c, across, scale * snip.m_as("mm"), show(snip))
    elif sides:
        c.text((HALF + 6.8, HALF - 3), sides, "start")
    c.polyline(placed, closed=True, fill="sheet")
    on = tuple(scale * (at - middle))
    radius = scale * disc_diameter.m_as("mm") / 2
    c.circle(on, radius, style="phantom")
    c.centre_mark(on, 3)
    c.dimension((-across, -up), (across, -up), wide, offset=-5, size="small")
    if abs(sizes[0] - sizes[1]) > 0.005 * sizes.max():
        c.dimension((-across, -up), (-across, up), tall, offset=4, size="small")
    c.leader(move(on, (0.8, -0.6), radius), (HALF + 6, -HALF + 3), f"scribe ⌀ {disc}")
    return c


def _upright(points, snip):
    """Corners turned so that a blank cut from a square has the square's sides; whether it was."""
    if snip is None:
        return points, None
    middle = points.mean(axis=0)
    sides = np.roll(points, -1, axis=0) - points
    side = sides[np.argmax(np.hypot(*sides.T))]
    angle = np.arctan2(side[1], side[0])
    back = np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]])
    return (points - middle) @ back.T, middle


def _snipped(c, half, leg, words):
    """The corners of the square that are snipped off, hatched, one of them with its size."""
    for x in (-half, half):
        for y in (-half, half):
            inward = (x - np.sign(x) * leg, y), (x, y - np.sign(y) * leg)
            c.hatch([[(x, y), *inward]], 45, 1.4)
            c.polyline([inward[0], (x, y), inward[1]], style="hidden")
    c.leader((half - leg / 3, half - leg / 4), (HALF + 6, half - 3), f"cut off {words}")
    c.text((HALF + 6.8, half - 7.5), "along both sides,", "start", size="small")
    c.text((HALF + 6.8, half - 11.5), "at every corner", "start", size="small")


def set_up_sketch(pad, disc_diameter, plate_diameter, words):
    """The set-up in section, small, with its sizes: a `Canvas`.

    pad: `Pad`. disc_diameter: length. plate_diameter: length, or None where nothing says it. words:
    by "pad", "relief", "facing", "disc", "plate" and "thrust", what is written at each; no relief
    where there is none.
    """
    shown = "; ".join(each for each in words.values() if each)
    c = Canvas(WIDE, HIGH, f"The set-up in section: {shown}.", origin=(45, 30))
    disc = disc_diameter.m_as("m") / 2
    plate = pad.outer_radius if plate_diameter is None else plate_diameter.m_as("m") / 2
    scale = RIM / max(disc, plate, pad.outer_radius)
    outer, inner, rim = (scale * r for r in (pad.outer_radius, pad.inner_radius, disc))
    _driving(c, outer, inner)
    c.section([(0, -rim), (SHEET, -rim), (SHEET, rim), (0, rim)], -45, "sheet", 1.0)
    _pressing(c, scale * plate)
    c.centre_line((-40, 0), (42, 0))
    c.arrow((43, 0), (33, 0), colour="blue")
    c.text((45, 8), words["thrust"], "end", "bottom", colour="blue")
    _tool(c, rim)
    for side in (1, -1):
        c.line((0, side * inner), (0, side * outer), "heavy", "orange")
    _named(c, outer, inner, rim, scale * plate, words)
    return c


def _mirrored(c, outline, hatch, fill):
    """A turned part from its upper outline."""
    c.section([*outline, *((x, -y) for x, y in reversed(outline) if y)], hatch, fill, 1.4)


def _driving(c, outer, inner):
    waist = min(outer, 7)
    _mirrored(c, [(-38, 0), (-38, 9), (-28, 9), (-28, 0)], 45, "steel")
    body = [(-28, 0), (-28, waist), (-14, waist), (-8, outer), (-FACING, outer)]
    body += [(-FACING, inner), (-5, inner), (-5, 0)] if inner else [(-FACING, 0)]
    _mirrored(c, body, -45, "pad")
    for side in (1, -1):
        ring = [(-FACING, inner), (0, inner), (0, outer), (-FACING, outer)]
        c.section([(x, side * y) for x, y in ring], 45, "facing", 0.8)


def _pressing(c, plate):
    tip = SHEET + PLATE
    _mirrored(c, [(SHEET, 0), (SHEET, plate), (tip, plate), (tip, 0)], -45, "steel")
    _mirrored(c, [(tip, 0), (tip, 4), (tip + 2, 4), (13, 2.4), (13, 0)], 45, "nose")
    _mirrored(c, [(13, 0), (13, 6), (31, 6), (31, 0)], 45, "steel")


def _tool(c, rim):
    top = rim + 1.0
    c.polyline([(SHEET + 1.5, rim - 0.6), (SHEET + 5.5, top + 4), (SHEET + 0.8, top + 4)],
               closed=True, fill="steel")  # fmt: skip
    c.arrow((SHEET + 14, top + 2.6), (SHEET + 7, top + 2.6), "tool", colour="purple", size="small")


def _named(c, outer, inner, rim, plate, words):
    c.leader((-5.5, 0.85 * outer), (-8, 25), words["pad"])
    c.leader((-FACING / 2, 0.5 * (outer + inner)), (-9, 18.5), words["facing"], size="small")
    c.leader((SHEET / 2, -0.93 * rim), (8, -26), words["disc"])
    c.leader((SHEET + PLATE / 2, -0.6 * plate), (12, -18), words["plate"])
    c.leader((9, -2.5), (12, -11), "free-running nose")
    c.leader((0, -0.8 * outer - 0.2 * inner), (-9, -26), "this face drives", "orange")
    if inner:
        c.leader((-4.4, -0.7 * inner), (-10, -17), words["relief"])
