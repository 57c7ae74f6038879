"""What does the cut do to the disc? Two pushes at the rim, and what resists a push to the side."""

import numpy as np

from workshop_lib.drawings.drawing import Canvas
from workshop_lib.drawings.geometry import box, move
from workshop_lib.friction import side_capacity
from workshop_lib.quantities import Q_, show

RIM = 32  # mm on paper for the disc's radius
LONGEST = 28  # mm on paper for the larger push
SHEET = 4  # mm on paper for the sheet's thickness: room for an arrow on either face


def rim_pushes(disc_diameter, cutting_force, radial_force, figures=3):
    """The disc seen from the headstock, with the tool at its right and what that pushes.

    disc_diameter: length. cutting_force, radial_force: forces. figures: of the forces. Returns a
    `Canvas`.
    """
    both = cutting_force.m_as("N"), radial_force.m_as("N")
    forces = *both, float(np.hypot(*both))
    along, inward, together = (show(Q_(force, "N"), figures=figures) for force in forces)
    alt = (
        f"Disc of {show(disc_diameter)} seen from the headstock: the tool pushes {along} against "
        f"the rim's motion and {inward} towards the axis, together {together} of side force."
    )
    c = Canvas(122, 76, alt, origin=(40, 38))
    c.circle((0, 0), RIM, "sheet")
    c.seen_from((80, -35), "the headstock", "end")
    c.centre_mark((0, 0), 3)
    c.polyline([(RIM, 0), (RIM + 16, -1), (RIM + 16, -8), (RIM + 4, -8)], True, "steel")
    c.text((RIM + 18, -5), "tool", "start")
    c.rotation((0, 0), RIM - 6, 215, 165, colour="grey")
    c.text((-21, -4), "turns", "start", colour="grey")
    c.dimension((0, 0), (RIM, 0), f"radius {show(disc_diameter / 2)}", -18)
    scale = LONGEST / max(*both, 1e-9)
    up, left = scale * both[0], scale * both[1]
    corner = RIM - left, up
    c.line((RIM, up), corner, "hidden", "grey").line((RIM - left, 0), corner, "hidden", "grey")
    for tip, colour in ((corner, "orange"), ((RIM, up), "purple"), ((RIM - left, 0), "purple")):
        if tip != (RIM, 0):
            c.arrow((RIM, 0), tip, colour=colour)
    c.text((RIM + 3, 0.75 * up), f"F_{{c}} = {along}", "start", colour="purple")
    c.text((RIM - 2, -1.5), f"F_{{r}} = {inward}", "end", "top", colour="purple")
    words = f"side force {together}"
    c.text((RIM - left - 2, 0.5 * up + 2), words, "end", colour="orange")
    return c


def two_noses(thrust, friction, nose_friction):
    """What answers a side force: a nose that floats, beside one that is held sideways.

    thrust: force. friction, nose_friction: plain numbers at pad and nose. Returns a `Canvas`.
    """
    pad, nose = (show(side_capacity(thrust, mu)) for mu in (friction, nose_friction))
    alt = (
        f"A side force on the disc, cut along the axis: with {show(thrust)} the pad's face holds "
        f"up to {pad}. A nose that floats gives way and adds nothing; one that is held sideways "
        f"adds up to {nose}. Neither adds torque."
    )
    c = Canvas(178, 84, alt)
    for middle, held in (((44, 46), False), ((128, 46), True)):
        _squeezed(c, middle, pad)
        _housing(c, middle)
        (_held if held else _floating)(c, middle, nose)
    return c


def _squeezed(c, middle, pad):
    """Pad, disc and nose, the side force on the disc, and what the pad's face holds against it."""

    def at(x, y):
        return move(middle, (x, y), 1)

    c.section(box(at(-24, -5), 12, 10), 45, "steel")
    c.section(box(at(-12, -13), 10, 26), -45, "pad")
    c.section(box(at(-2, -13), 2, 26), 45, "facing", 1.0)
    c.section(box(at(0, -18), SHEET, 36), -45, "sheet", 1.2)
    c.section(box(at(SHEET, -13), 3, 26), 45, "steel")
    c.section(box(at(SHEET + 3, -4), 18, 8), -45, "nose")
    c.centre_line(at(-28, 0), at(30, 0))
    c.arrow(at(SHEET / 2, 32), at(SHEET / 2, 18.6), colour="orange")
    c.text(at(-1.5, 27), "side force", "end", colour="orange")
    c.arrow(at(0.4, -33), at(0.4, -18.6), colour="blue")
    c.text(at(-2.5, -27), f"the pad holds {pad}", "end", colour="blue")


def _housing(c, middle):
    """A bearing above and below the nose, in a housing."""
    for side in (1, -1):
        c.rect(move(middle, (14, min(4 * side, 9 * side)), 1), 11, 5, "steel", "thin")
        for x in (17.2, 21.8):
            c.circle(move(middle, (x, 6.5 * side), 1), 1.8, "paper", "thin")
    c.text(move(middle, (19.5, 12), 1), "nose")


def _floating(c, middle, _nose):
    """The housing gives way with the disc."""
    c.arrow(move(middle, (29, 8), 1), move(middle, (29, -8), 1), colour="grey", style="outline")
    c.text(move(middle, (10, -22), 1), "It floats:", "start")
    c.text(move(middle, (10, -27), 1), "gives way and", "start")
    c.text(move(middle, (10, -32), 1), "holds nothing", "start")


def _held(c, middle, nose):
    """The housing cannot move aside, so the nose's face holds as well."""
    c.ground(move(middle, (11, -9), 1), move(middle, (28, -9), 1))
    c.arrow(move(middle, (3.6, -33), 1), move(middle, (3.6, -18.6), 1), colour="green")
    c.text(move(middle, (10, -22), 1), "It is held:", "start")
    c.text(move(middle, (10, -27), 1), f"its face adds {nose}", "start", colour="green")
