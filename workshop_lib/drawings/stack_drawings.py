"""How does a stack of discs look between pad and nose, and which of its faces slips first?"""

import numpy as np

from workshop_lib.drawings.drawing import Canvas
from workshop_lib.quantities import say, show, times_over

TALLEST = 30  # mm on paper for the disc's radius
ROOM, WIDEST = 44.0, 9.0  # mm on paper for all discs, and for one with what lies on it
FACING, PLATE = 3.0, 5.0


def stack_section(pad, disc_diameter, margins, between, cut_disc):
    """Pad, discs and plate cut along the axis, the weakest face in heavy orange: a `Canvas`.

    pad: `Pad`. disc_diameter: length. margins: of every face, the pad's first. between: whether
    something lies between the discs. cut_disc: number of the disc under the tool from the pad
    outwards, 0 for all at once. Diameters to scale, thicknesses drawn larger.
    """
    margins = np.asarray(margins)
    count, weakest = margins.size, first_of_least(margins)
    alt = _said(count, weakest, show(disc_diameter), times_over(margins[weakest]))
    c = Canvas(150, 96, alt, origin=(42, 50))
    rim = disc_diameter.m_as("m") / 2
    scale = TALLEST / max(rim, pad.outer_radius)
    outer, inner, rim = (scale * each for each in (pad.outer_radius, pad.inner_radius, rim))
    pitch = min(ROOM / count, WIDEST)
    sheet = 0.6 * pitch if between else pitch
    _pad(c, outer, inner)
    faces = [pitch * number for number in range(count)]
    for number, left in enumerate(faces):
        c.rect((left, -rim), sheet, 2 * rim, "sheet", "outline" if count < 25 else "thin")
        if between and number:
            layer = pitch - sheet
            c.rect((left - layer, -outer), layer, 2 * outer, "facing", "thin")
    end = faces[-1] + sheet
    c.section([(end, -outer), (end + PLATE, -outer), (end + PLATE, outer), (end, outer)], -45)
    c.section([(end + PLATE, -6), (end + PLATE + 16, -6), (end + PLATE + 16, 6), (end + PLATE, 6)])
    c.centre_line((-38, 0), (end + PLATE + 20, 0))
    first = say("slips first: margin {margin}", margin=times_over(margins[weakest]))
    _weakest(c, faces[weakest], outer, inner, first)
    _tool(c, faces, sheet, rim, cut_disc)
    c.text((-20, outer + 3), "driving pad", "end", "bottom")
    c.text((end + PLATE + 2, outer + 3), "plate and nose", "start", "bottom")
    return c


def _said(count, weakest, size, margin):
    """The section in one sentence."""
    where = say("at the pad")
    if weakest:
        where = say("between discs {one} and {next}", one=weakest, next=weakest + 1)
    return say(
        "Section along the axis: {discs} of {size} between the pad and the plate under the nose. "
        "The face that slips first is {where}; its margin is {margin}.",
        discs=say("1 disc") if count == 1 else say("{count} discs", count=count),
        size=size,
        where=where,
        margin=margin,
    )


def first_of_least(margins):
    """Place of the least margin, the first of those that only rounding parts."""
    return int(np.argmax(margins <= margins.min() * (1 + 1e-10)))


def _pad(c, outer, inner):
    body = [(-26, -outer), (-FACING, -outer), (-FACING, outer), (-26, outer)]
    c.section(body, -45, "pad")
    c.section([(-38, -10), (-26, -10), (-26, 10), (-38, 10)], 45)
    for side in (1, -1):
        ring = [(-FACING, inner), (0, inner), (0, outer), (-FACING, outer)]
        c.section([(x, side * y) for x, y in ring], 45, "facing", 1.0)


def _weakest(c, at, outer, inner, words):
    for side in (1, -1):
        c.line((at, side * inner), (at, side * outer), "heavy", "orange")
    c.leader((at, -0.7 * outer), (at + 12, -42), words, "orange")


def _tool(c, faces, sheet, rim, cut_disc):
    left = faces[cut_disc - 1] if cut_disc else faces[0]
    right = left + sheet if cut_disc else faces[-1] + sheet
    middle, half = (left + right) / 2, max((right - left) / 2, 1.5)
    c.rect((middle - half, rim + 0.6), 2 * half, 9, "steel")
    c.text((middle, rim + 10.6), "tool", level="bottom")
