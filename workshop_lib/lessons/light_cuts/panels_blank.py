"""Which panels of lesson 03 are about the blank? What fits in it, what the tool meets."""

import numpy as np

from workshop_lib import plan
from workshop_lib.blank import Blank, Turning, largest_first_depth, passes, schedule
from workshop_lib.drawings import page
from workshop_lib.drawings.blank_drawings import met_chart, passes_chart, under_tool
from workshop_lib.friction import facing_load
from workshop_lib.lessons.shared_fields import (
    WORDS,
    check_cover,
    facing_choice,
    make_pad,
    pad_fields,
    sheet_choice,
    verdict,
    with_facing,
)
from workshop_lib.materials import friction
from workshop_lib.quantities import Q_, InputError, rounded_down, show, times_over
from workshop_lib.teaching.fields import Choice, Count, Field
from workshop_lib.teaching.panels import Scene, View
from workshop_lib.torque import radial_shares

ESTIMATES = {"low": "low", "typical": "typical", "high": "high"}
CUTS = {"traverse": "traverse: along the edge", "plunge": "plunge: straight in"}


def blank_fields(corners=8, across="82 mm"):
    """The fields that ask for a snipped blank: a regular polygon."""
    return (
        Count("corners", "Corners of the blank", corners, slider=(3, 40)),
        Field("across", "Across flats", "length > 0", across, slider=(30, 220, 1)),
    )


def mark_scene():
    """What disc is in the blank, and what does a badly marked centre cost?"""
    fields = [
        *blank_fields(),
        Field("thickness", "Thickness", "length > 0", "0.635 mm", slider=(0.3, 3, 0.05)),
        sheet_choice(),
        Field("wrong_by", "Marked centre off by", "length >= 0", "2 mm", slider=(0, 15, 0.1)),
        Field("speed", "Speed", "speed >= 0", "250 rev/min", slider=(0, 2000, 10)),
        Field("wanted", "Disc wanted", "length > 0", "78 mm", slider=(20, 200, 1)),
    ]
    words = {"yes": "Fits", "no": "Does not fit"}
    return Scene("How large a disc is in this blank?", fields, _judge_mark, words=words)


def _judge_mark(corners, across, thickness, material, wrong_by, speed, wanted):
    blank = Blank.regular(corners, across_flats=across)
    off = (wrong_by, 0 * wrong_by)
    try:
        mark = blank.mark(off)
    except InputError as error:
        raise InputError("wrong_by", error.problem, error.mend) from error
    best, most = blank.largest_disc(), show(rounded_down(mark.diameter, 3))
    rows = [
        ["Largest disc at the best centre", rounded_down(best.diameter, 3)],
        ["Largest disc at the mark", most],
        ["Diameter lost", mark.lost],
        ["Farthest corner from the mark", blank.corner_radius(off)],
        ["Centre of mass off the mark", blank.offset_of_mass(off)],
        [
            f"Unbalance at {show(speed)}",
            show(blank.unbalance(off, thickness, material, speed), figures=2),
        ],
    ]
    fits = mark.diameter >= wanted
    words = f"{'Fits' if fits else 'Does not fit'}: at most {most} at this mark"
    drawing = under_tool(blank, off, Q_(0, "deg"), mark.diameter / 2, Q_(1, "mm"), wanted)
    return View(words, "yes" if fits else "no", drawing, [page.table(rows, ["Blank", "Value"])])


def turn_scene():
    """Turn the blank under the tool: engagement and torque round the turn."""
    fields = [
        Field("turned", "Turn the blank to", "angle", "22 deg", slider=(0, 360, 1)),
        *blank_fields(),
        Field("tool_radius", "Tool at radius", "length > 0", "42.5 mm", slider=(15, 110, 0.1)),
        Field("depth", "Depth of cut", "length > 0", "0.3 mm", slider=(0.05, 2, 0.05)),
        Field("feed", "Feed", "feed > 0", "0.05 mm/rev", slider=(0.05, 0.3, 0.01)),
        sheet_choice(),
    ]
    return Scene("What does the tool meet?", fields, _judge_turn)


def _judge_turn(turned, corners, across, tool_radius, depth, feed, material):
    blank, centre = Blank.regular(corners, across_flats=across), (Q_(0, "mm"), Q_(0, "mm"))
    pad = make_pad(Q_(60, "mm"), Q_(0, "mm"))
    sheet = Turning(material, "1 mm", feed, "100 rev/min", pad, "800 N", 0.3, 0.7, estimate="high")
    found = blank.engagement(centre, tool_radius, depth)
    met = blank.depth_at(centre, turned, tool_radius, depth)
    drawing = under_tool(blank, centre, turned, tool_radius, depth, across, "largest disc")
    chart = met_chart(blank, centre, turned, tool_radius, depth, sheet.force)
    rows = [
        ["Strikes in one turn", found.strikes],
        ["Share of the turn in the cut", f"{100 * found.share:.0f} %"],
        ["Deepest cut in the turn", found.peak_depth],
        ["Depth under the tool now", met],
    ]
    cutting = met.m > 0
    words = f"Cutting: {show(met)} deep" if cutting else "Not cutting: the tool is in the air"
    alt = f"Torque round the turn: {found.strikes} strikes, {100 * found.share:.0f} % of it cut."
    details = [chart.picture(alt), page.table(rows, ["In one turn", "Value"])]
    return View(words, None, drawing, details)


def passes_scene():
    """Plan the passes from the corners to the disc."""
    fields = [
        sheet_choice(),
        Field("thickness", "Thickness", "length > 0", "0.635 mm", slider=(0.3, 3, 0.05)),
        *blank_fields(),
        Field("disc_diameter", "Finished disc", "length > 0", "78 mm", slider=(20, 200, 1)),
        facing_choice(),
        *pad_fields("75 mm"),
        Field("thrust", "Thrust", "force >= 0", "1000 N", slider=(0, 2500, 10)),
        Choice("cut", "Cut", CUTS, "traverse"),
        Field("depth", "Depth of each pass", "length > 0", "0.2 mm", slider=(0.05, 2, 0.05)),
        Field("feed", "Feed", "feed > 0", "0.05 mm/rev", slider=(0.05, 0.3, 0.01)),
        Field("speed", "Speed", "speed > 0", "45 rev/min", slider=(20, 2000, 5)),
        Field("wanted", "Margin wanted", "ratio > 0", "2", slider=(2, 5, 0.1)),
    ]
    return Scene("Which passes hold?", fields, _judge_passes, words=WORDS)


def _judge_passes(
    material,
    thickness,
    corners,
    across,
    disc_diameter,
    facing,
    pad_diameter,
    relief_diameter,
    thrust,
    cut,
    depth,
    feed,
    speed,
    wanted,
):
    blank, wanted = Blank.regular(corners, across_flats=across), wanted.m_as("")
    check_cover(pad_diameter, disc_diameter)
    pad = make_pad(pad_diameter, relief_diameter)
    grip, share = friction(facing, material).low, radial_shares().high
    setting = (material, thickness, feed, speed, pad, thrust, grip, share, cut)
    turning = Turning(*setting, estimate="high")
    found = passes(blank, disc_diameter, depth, turning)
    worst = found.worst
    words, holds = verdict(worst.margin, wanted, thrust)
    pressed = facing_load(pad, thrust, facing)
    words, holds, crushed = with_facing(words, holds, pressed)
    deepest = largest_first_depth(blank, disc_diameter, turning, wanted)
    rows = _rows_of_passes(found, deepest, pressed)
    rows.append(
        ["Fewest passes that keep the margin", _fewest(blank, disc_diameter, turning, wanted)]
    )
    alt = f"Slip margin of {len(found)} passes: least {times_over(worst.margin)}, "
    alt += f"at pass {worst.number}."
    picture = passes_chart(found).picture(alt)
    details = [*crushed, page.table(rows, ["Passes", "Value"])]
    saved = _nipped(len(found), disc_diameter, depth, turning)
    words = f"{words}. {saved}".rstrip(". ") if saved else words
    return View(words, holds, picture, details)


def _nipped(count, disc_diameter, depth, turning):
    """How many passes a closer blank saves, in words; nothing where they are few."""

    def passes_with(corners, across):
        other = Blank.regular(corners, across_flats=across)
        return len(passes(other, disc_diameter, depth, turning))

    best = plan.closer_blank(count, disc_diameter, passes_with)
    return "" if best is None else plan.told_closer(count, *best)


def _rows_of_passes(found, deepest, pressed):
    worst = found.worst
    return [
        ["Passes", len(found)],
        ["Worst pass", f"{worst.number} of {len(found)}"],
        ["… peak torque", worst.peak_torque],
        ["… side force", worst.side_force],
        ["… strikes in a turn, share cut", f"{worst.strikes}, {100 * worst.engaged_share:.0f} %"],
        ["Highest pressure on the pad facing", pressed.peak],
        ["Time in the cut", show(found.total_time.to("min"), figures=2)],
        [
            "Deepest first pass that keeps the margin",
            show(rounded_down(deepest.to("mm")), figures=2),
        ],
    ]


def _fewest(blank, disc_diameter, turning, wanted):
    """The length of the best schedule, or why there is none."""
    try:
        found = schedule(blank, disc_diameter, turning, wanted)
    except InputError as error:
        return f"none: {error.problem}"
    least = np.min(found.core.margin)
    return f"{len(found)} (least margin {times_over(float(least))})"
