"""Which panel of lesson 02 is about a stack? Several discs in one squeeze, and its weakest face."""

import numpy as np

from workshop_lib.drawings import page
from workshop_lib.drawings.stack_drawings import first_of_least, stack_section
from workshop_lib.lessons.shared_fields import WORDS, check_cover, make_pad, set_up_fields, verdict
from workshop_lib.materials import BARE, facings, friction, friction_between
from workshop_lib.quantities import resolution, say, show, times_over
from workshop_lib.slip import LEAST_MARGIN, MOST_DISCS, most_discs, stack_margins, tipping_share
from workshop_lib.teaching.fields import Choice, Count, Field
from workshop_lib.teaching.panels import Scene, View
from workshop_lib.torque import (
    AXIAL_SHARE,
    cutting_force,
    cutting_torque,
    radial_shares,
    side_force,
)

LAYERS = ("card", "leather", "cork", "rubber", "abrasive_paper")
CUTS = {
    "traverse": "along the edge: one disc at a time",
    "plunge": "straight in: all discs at once",
}
STATES = {"dry": "dry and clean", "oily": "oily, as sheet is often sold"}
SHOWN = 24  # discs that can be told apart in the drawing


def stack_scene():
    """How many discs at once, and which face slips first?"""
    names = {each.key: each.name for each in facings() if each.key in LAYERS}
    fields = [
        *set_up_fields("70 mm"),
        Count("count", "Discs at once", 4, slider=(1, SHOWN)),
        Choice("between", "Between the discs", {BARE: "nothing: sheet on sheet"} | names, BARE),
        Choice("condition", "Faces between the discs", STATES, "dry"),
        Field("thickness", "Thickness of a disc", "length > 0", "0.6 mm", slider=(0.3, 6, 0.1)),
        Field("layer", "Thickness of a layer", "length >= 0", "0.3 mm", slider=(0, 3, 0.1)),
        Field("thrust", "Thrust", "force >= 0", "800 N", slider=(0, 2500, 10)),
        Choice("cut", "Cut", CUTS, "traverse"),
        Field("depth", "Depth of cut", "length >= 0", "0.1 mm", slider=(0, 1, 0.01)),
        Field("feed", "Feed", "feed > 0", "0.05 mm/rev", slider=(0.02, 0.3, 0.01)),
        Field("unbalance", "Unbalance of one blank", "force >= 0", "0 N", slider=(0, 20, 0.5)),
    ]
    return Scene("How many discs at once?", fields, _judge_stack, words=WORDS | {"no": ""})


def _judge_stack(
    material, disc_diameter, facing, pad_diameter, relief_diameter, count, between, condition,
    thickness, layer, thrust, cut, depth, feed, unbalance,
):  # fmt: skip
    check_cover(pad_diameter, disc_diameter)
    pad = make_pad(pad_diameter, relief_diameter)
    at_pad, inside = friction(facing, material), friction_between(material, between, condition)
    wide = thickness if cut == "plunge" else depth
    force = cutting_force(material, wide, feed, estimate="high")
    side, torque = side_force(force, radial_shares().high), cutting_torque(force, disc_diameter)
    hold, load = (pad, thrust, at_pad.low, inside.low), (side, torque)
    margins = stack_margins(*hold, count, *load, unbalance, cut)
    weakest = first_of_least(margins)
    apart = thickness + layer if between != BARE else thickness
    axial = AXIAL_SHARE * force if cut == "traverse" else 0 * force
    sizes = {"thickness": apart, "disc_diameter": disc_diameter, "axial_force": axial}
    most = most_discs(*hold, *load, LEAST_MARGIN, **sizes, unbalance=unbalance, cut=cut)
    words, holds = verdict(margins[weakest], LEAST_MARGIN, thrust)
    if count > 1 and np.isfinite(margins[weakest]):
        words = say("{verdict}; {face} slips first", verdict=words, face=_where(weakest))
    pushed = (count if cut == "plunge" else 1) * side + count * unbalance
    tips = tipping_share(pad, thrust, pushed, (count - 1) * apart, axial, disc_diameter)
    if resolution.more_than(tips, 1.0) and holds != "no":
        out = show((count - 1) * apart)
        words, holds = say("Tips: the outermost disc is {out} from the pad", out=out), "no"
    inner = times_over(margins[1:].min()) if count > 1 else "–"
    rows = [
        ["Cut on one disc: side force and torque", f"{show(side)}, {show(torque)}"],
        ["Margin at the pad", times_over(margins[0])],
        ["Smallest margin between the discs", inner],
        ["Tipping moment, as a share of what lifts one side", _percent(tips)],
        ["Most discs for a margin of 2, by this calculation", _most(most)],
    ]
    number = 0 if cut == "plunge" else count
    picture = stack_section(pad, disc_diameter, margins, between != BARE, number).figure()
    more = page.table(rows, ["For this stack", "Value"]), str(at_pad), str(inside)
    return View(words, holds, picture, [*_warned(count), *more])


def _percent(share):
    return say("more than 999 %") if share > 9.99 else f"{100 * share:.0f} %"


def _where(face):
    if not face:
        return say("the face on the pad")
    return say("the face between discs {one} and {next}", one=face, next=face + 1)


def _most(most):
    if most == 0:
        return say("none: not even one")
    return say("at least {count}", count=most) if most == MOST_DISCS else str(most)


def _warned(count):
    if count == 1:
        return []
    return [
        page.caution(
            "If a stack slips inside, the outer discs are thrown, and the nose does not hold them. "
            "Close the guard and stand out of line with the discs. Deburr and degrease every blank."
        )
    ]
