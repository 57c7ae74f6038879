"""How do the set-up in section and the pad face-on look?"""

import numpy as np

from workshop_lib.drawings.drawing import Canvas
from workshop_lib.drawings.geometry import move, polar
from workshop_lib.friction import turning_centre
from workshop_lib.quantities import Q_, say, show

TALLEST = 36  # mm on paper for the larger of disc radius and pad radius
SHEET = 2.4  # mm on paper for the sheet's thickness, whatever it is
FACING = 3
PLATE = 4  # mm on paper for the pressure plate
BACK = SHEET + PLATE


def section(pad, disc_diameter, thickness, thrust, cutting_force=None, radial_force=None):
    """The set-up cut along the spindle's axis; diameters to scale, the sheet drawn thicker.

    pad: `Pad`. disc_diameter, thickness: lengths, the thickness None where nobody gave it; the
    others: forces. Returns a `Canvas`.
    """
    alt = (
        f"Section along the axis: a driving pad of {show(Q_(2e3 * pad.outer_radius, 'mm'))} on the "
        f"spindle and a free-running nose with a plate in the tailstock squeeze a disc of "
        f"{show(disc_diameter)} with {show(thrust)}. Only the face against the pad drives it."
    )
    c = Canvas(178, 112, alt, origin=(80, 58))
    disc_radius = disc_diameter.m_as("m") / 2
    scale = TALLEST / max(disc_radius, pad.outer_radius)
    outer, inner, rim = (scale * r for r in (pad.outer_radius, pad.inner_radius, disc_radius))
    _driving_side(c, outer, inner)
    c.section([(0, -rim), (SHEET, -rim), (SHEET, rim), (0, rim)], -45, "sheet", 1.2)
    _pressing_side(c, outer, min(0.6 * outer, 10))
    c.centre_line((-66, 0), (66, 0))
    _squeeze(c, thrust)
    _cut(c, rim, cutting_force, radial_force)
    thick = "" if thickness is None else f", {show(thickness)} thick"
    c.leader((SHEET / 2, -0.85 * rim), (14, -46), f"disc{thick} (drawn thicker)")
    for side in (1, -1):
        c.line((0, side * inner), (0, side * outer), "heavy", "orange")
    c.leader((0, -0.45 * (outer + inner)), (-16, -48), "the one driven face", "orange")
    return c


def _turned(c, upper, hatch, fill, gap=1.8):
    """Section of a turned part from its upper outline, which starts and ends on the axis."""
    c.section([*upper, *((x, -y) for x, y in reversed(upper) if y)], hatch, fill, gap)


def _driving_side(c, outer, inner):
    """Spindle nose, pad and facing, left of the disc."""
    waist = min(outer, 10)
    _turned(c, [(-62, 0), (-62, 16), (-42, 16), (-42, 0)], 45, "steel")
    body = [(-42, 0), (-42, waist), (-22, waist), (-13, outer), (-FACING, outer)]
    body += [(-FACING, inner), (-7, inner), (-7, 0)] if inner else [(-FACING, 0)]
    _turned(c, body, -45, "pad")
    for side in (1, -1):
        ring = [(-FACING, inner), (0, inner), (0, outer), (-FACING, outer)]
        c.section([(x, side * y) for x, y in ring], 45, "facing", 1.0)
    c.text((-52, 18), "spindle", level="bottom")
    c.leader((-28, 0.6 * waist), (-36, 28), "driving pad")
    c.leader((-FACING / 2, -(0.7 * outer + 0.3 * inner)), (-26, -38), "facing")


def _pressing_side(c, outer, tip):
    """Pressure plate and nose on its two bearings in the tailstock, right of the disc."""
    spindle = [(BACK, 0), (BACK, tip), (BACK + 2, tip), (14, 5), (42, 5), (42, 0)]
    _turned(c, spindle, 45, "nose")
    _turned(c, [(SHEET, 0), (SHEET, outer), (BACK, outer), (BACK, 0)], -45, "steel")
    c.leader((SHEET + PLATE / 2, 0.8 * outer), (20, 37), "pressure plate, as large as the pad")
    _turned(c, [(46, 0), (46, 11), (17, 11), (17, 15), (62, 15), (62, 0)], -45, "steel")
    for side in (1, -1):
        for left in (19, 35):
            c.rect((left, min(5 * side, 11 * side)), 6, 6, "paper", "thin")
            c.circle((left + 3, 8 * side), 1.9, "steel", "thin")
    c.leader((12, 5.6), (19, 30), "pressure nose: turns freely, drives nothing")
    c.leader((38, 9.5), (46, 22), "bearings")
    c.text((52, -17), "tailstock quill", level="top")


def _squeeze(c, thrust):
    c.arrow((84, 0), (64, 0), "", colour="blue")
    c.text((81, 3.2), f"thrust {show(thrust)}", "middle", "bottom", colour="blue")
    c.arrow((-78, 0), (-64, 0), "", colour="blue")
    c.text((-71, -3.2), show(thrust), level="top", colour="blue")


def _cut(c, rim, cutting_force, radial_force):
    """The tool's push at the rim: along the cut (into the page) and inward."""
    top = (SHEET / 2, rim)
    if radial_force is not None:
        c.arrow((top[0], rim + 15), (top[0], rim + 0.8), "", colour="purple")
        words = f"F_{{r}} = {show(radial_force)}"
        c.text((top[0] + 2, rim + 11), words, "start", colour="purple")
    if cutting_force is not None:
        at = (top[0] - 6, rim + 4)
        c.circle(at, 2.2, "paper", "outline", "purple")
        for turn in (45, 135):
            ends = polar(at, 2.2, turn), polar(at, 2.2, turn + 180)
            c.line(*ends, "outline", "purple")
        words = f"F_{{c}} = {show(cutting_force)}, into the page"
        c.text((at[0] - 4, at[1]), words, "end", colour="purple")


def face_view(pad, side_force, torque, narrow=False):
    """The pad seen from the headstock at the moment of slip: turning centre and friction.

    pad: `Pad`. side_force, torque: quantities, not both zero. narrow: for one column of a page.
    Each arrow is the friction on the disc at that spot, square to the line from the turning centre.
    Returns a `Canvas`.
    """
    centre = turning_centre(pad, side_force, torque)
    outer = Q_(pad.outer_radius * 1e3, "mm")
    alt = _face_said(show(2 * outer), side_force, torque, centre)
    c = Canvas(100, 72, alt, origin=(44, 32)) if narrow else Canvas(176, 100, alt, origin=(58, 44))
    radius = 24.0 if narrow else 34.0
    scale = radius / outer.m_as("mm")
    inner = pad.inner_radius / pad.outer_radius * radius
    c.circle((0, 0), radius, "facing")
    if inner:
        c.circle((0, 0), inner, "paper")
    c.centre_mark((0, 0), radius)
    turning = (0.0, scale * centre.m_as("mm")) if np.isfinite(centre.m) else None
    _friction_arrows(c, radius, inner, turning)
    _loads(c, radius, side_force, torque, narrow)
    at = (-42, -30.5) if narrow else (-56, -41)
    c.seen_from(at, "the headstock, through the pad")
    _mark_turning_centre(c, radius, turning, centre, narrow)
    return c


def _face_said(size, side_force, torque, centre):
    """The face view in one sentence."""
    where = say("infinitely far")
    if np.isfinite(centre.m):
        where = say("{distance} from the pad's centre", distance=show(centre))
    return say(
        "Pad of {size} seen from the headstock: side force {side} and torque {torque} turn the "
        "disc about a point {where}; friction opposes it at every spot.",
        size=size,
        side=show(side_force),
        torque=show(torque),
        where=where,
    )


def _friction_arrows(c, radius, inner, turning):
    """Arrows of equal length on rings of the face: Coulomb friction does not grow with speed."""
    for ring in np.linspace(max(inner, radius / 4), radius, 4)[:-1] + radius * 0.06:
        for angle in np.linspace(0, 360, max(6, int(ring / 1.7)), endpoint=False):
            at = polar((0, 0), min(ring, radius * 0.94), angle + 8)
            if turning is None:
                way = (-1.0, 0.0)
            else:
                arm = at[0] - turning[0], at[1] - turning[1]
                length = np.hypot(*arm)
                if length < 1.5:
                    continue
                way = arm[1] / length, -arm[0] / length
            c.arrow(move(at, way, -2.2), move(at, way, 2.2), colour="blue", style="outline")


def _loads(c, radius, side_force, torque, narrow):
    if torque.m > 0:
        c.rotation((0, 0), radius + 5, 95 if narrow else 115, 140 if narrow else 160,
                   f"M = {show(torque)}", "purple", "small" if narrow else "normal")  # fmt: skip
    if side_force.m > 0:
        words = f"F = {show(side_force)}"
        tip, size = (radius + 7, "small") if narrow else (radius + 14, "normal")
        c.arrow((0, 0), (tip, 0), words, colour="orange", label_at="tip", size=size)


def _mark_turning_centre(c, radius, turning, centre, narrow):
    if turning is None:
        words, size = "no turning centre: it slides straight", "small" if narrow else "normal"
        at = (-18, radius + 6) if narrow else (radius + 6, -30)
        c.text(at, words, "start", size=size)
    elif narrow:
        _turning_centre_narrow(c, radius, turning, centre)
    elif turning[1] > radius + 4:
        c.arrow((0, radius + 1), (0, radius + 10), colour="green")
        words = say("turning centre, {distance} up", distance=show(centre))
        c.text((4, radius + 9), words, "start", colour="green")
    else:
        for turn in (45, 135):
            c.line(polar(turning, 2.4, turn), polar(turning, 2.4, turn + 180), "heavy", "green")
        at = (radius + 8, max(turning[1], 14))
        words = say("turning centre, {distance} off", distance=show(centre))
        c.leader(turning, at, words, colour="green")


def _turning_centre_narrow(c, radius, turning, centre):
    """The turning centre named in two short lines, beside the pad."""
    beyond = turning[1] > radius - 2
    if beyond:
        c.arrow((0, radius - 6), (0, radius + 2), colour="green")
    else:
        for turn in (45, 135):
            c.line(polar(turning, 2.4, turn), polar(turning, 2.4, turn + 180), "heavy", "green")
    at = (radius + 3, radius - 2)
    c.leader((0, radius) if beyond else turning, at, "turning centre", "green", "small")
    words = say("{distance} up" if beyond else "{distance} off", distance=show(centre))
    c.text((at[0] + 0.8, at[1] - 4), words, "start", size="small", colour="green")
