"""Which panels does lesson 04 have? The load's path, the nose's drift, which bearing to take."""

import numpy as np

from workshop_lib.bearings import (
    STATIC_PRESSURE,
    bearings,
    catalogue,
    choose,
    clearance_classes,
    typical_inside,
)
from workshop_lib.drawings import page
from workshop_lib.drawings.ball_drawings import ball_loads, ball_section, few, margin_bars
from workshop_lib.drawings.bearing_drawings import side_view, thrust_view
from workshop_lib.drawings.charts import Chart
from workshop_lib.drawings.kept_axes import nice
from workshop_lib.lessons.shared_fields import noses_of_shop
from workshop_lib.load_path import designs, find_design, live_centre, nose_shift, side_held, trace
from workshop_lib.quantities import Q_, rounded_down, show
from workshop_lib.teaching.fields import Choice, Field
from workshop_lib.teaching.panels import Scene, View

SHORT = {
    "pressure_nose": "pressure nose",
    "roller_centre": "roller centre",
    "preloaded_centre": "preloaded centre",
}
LOOKS = {"thrust": "thrust path", "side": "side-force path"}
DEMANDS = {"normal": "normal", "shock": "shocks (interrupted cut)", "quiet": "quiet"}
THRUST_KINDS = {
    "deep_groove": "deep groove",
    "angular_contact": "angular contact, 40°",
    "thrust_ball": "thrust ball",
}
WORDS = {"yes": "Will do", "no": "Will not do"}
STOPS = {
    "tip shift": "the tip moves too far sideways",
    "static safety": "a groove is marked",
    "axial limit": "the axial limit is reached",
    "seated": "it lifts on one side",
}


_own = {}  # the noses of my_shop.toml, as they stood when a panel was last made


def design_choice(start="pressure_nose"):
    """The field that asks which of the three designs, or which nose of the user's own shop."""
    _own.clear()
    _own.update(noses_of_shop())
    options = {each.key: SHORT[each.key] for each in designs()}
    options |= {key: design.name for key, design in _own.items()}
    return Choice("design", "Design", options, start)


def _chosen(key):
    """The design that was chosen, one of the user's own or of the three."""
    return _own.get(key) or find_design(key)


def thrust_field(start="600 N", sign=">="):
    """The field that asks for the thrust."""
    least = 0 if sign == ">=" else 10
    return Field("thrust", "Thrust", f"force {sign} 0", start, slider=(least, 2500, 10))


def side_field(start="50 N", label="Side force at the tip"):
    """The field that asks for the side force."""
    return Field("side", label, "force >= 0", start, slider=(0, 400, 5))


def path_scene():
    """Where does the load go? One design, part by part."""
    fields = [
        design_choice(),
        thrust_field(),
        side_field("0 N"),
        Choice("look", "Draw", LOOKS, "thrust"),
    ]
    return Scene("Where does the load go?", fields, _judge_path, words=WORDS)


def _judge_path(design, thrust, side, look):
    found = trace(_chosen(design), thrust, side)
    weakest = found.weakest
    rows = [
        [str(number), each.name, each.axial, _margin(each)]
        for number, each in enumerate(found.elements, 1)
    ]
    heads = ["No.", "Part", "Axial load", "Can take"]
    words, holds = "Nothing loads it", "yes"
    if np.isfinite(weakest.margin):
        serves = weakest.margin >= 1
        holds = "yes" if serves else "no"
        factor = _times(weakest)
        words = f"{WORDS[holds]}: the {weakest.name} would fail first, at {factor} "
        words += "times the load"
    draw = thrust_view if look == "thrust" else side_view
    table = page.table(rows, heads)
    return View(words, holds, draw(found, listed=False), [table, f"{weakest.reason}."])


def _times(element):
    return show(rounded_down(Q_(float(element.margin))), figures=2)


def _margin(element):
    if not np.isfinite(element.margin):
        return "no load"
    return f"{_times(element)} times as much ({element.governs})"


def shift_scene():
    """How far does the nose drift under a side force? Clearance, fit, thrust, overhang."""
    classes = {each: each for each in clearance_classes("deep_groove")}
    fields = [
        thrust_field(),
        side_field(),
        Field("fit", "Play of the rings in the bore", "length >= 0", "18 µm", slider=(0, 60, 1)),
        Choice("clearance", "Clearance class of the bearings", classes, "normal"),
        Field("overhang", "Overhang to the front bearing", "length > 0", "25 mm", (10, 80, 1)),
        Field("allowed", "Allowed shift", "length > 0", "10 µm", slider=(1, 100, 1)),
    ]
    words = {"yes": "Located", "no": "Floats"}
    return Scene("How far does the nose drift?", fields, _judge_shift, words=words)


def _judge_shift(thrust, side, fit, clearance, overhang, allowed):
    design = find_design("pressure_nose").changed(fit=fit, clearance=clearance, overhang=overhang)
    shift, drift = nose_shift(design, thrust, Q_([side.m_as("N"), 0.0], "N"))
    shift, drift = shift.to("um").round(1), drift.to("um").round(1)
    chart = shift_chart({"this nose": design}, thrust, side, shift, allowed, drift)
    held = shift <= allowed
    moved = show(shift, figures=2)
    words = f"{show(side)} moves the tip by {moved}"
    words = f"Located: {words}" if held else f"Floats: {words}; {show(allowed, 'um')} is allowed"
    rows = [
        ["Shift of the tip", moved],
        ["… of which play, before any force resists", show(drift, figures=2)],
        ["Play of the rings in the bore, to one side", show(fit / 2, "um")],
        ["Clearance inside each bearing, on the diameter", _middle(clearance, design)],
    ]
    alt = f"Tip shift against side force: {show(drift, figures=2)} without any, {moved} "
    alt += f"at {show(side)}."
    return View(
        words, "yes" if held else "no", chart.picture(alt), [page.table(rows, ["Nose", "Value"])]
    )


def _middle(clearance, design):
    play = design.supports[0].clearance
    return f"{show(Q_(play, 'm').to('um'))} (middle of class {clearance})"


def shift_chart(named, thrust, side=None, shift=None, allowed=None, gap=None):
    """Tip shift against side force for some designs, with the gap in which nothing answers.

    named: {label: design}. side, shift: the load to mark. allowed: a line at that shift. gap: the
    play in which no force answers, as a band.
    """
    strokes = zip(
        named.items(), ("solid", "dashed", "dotted"), ("blue", "green", "purple"), strict=False
    )
    across = 100.0 if side is None else nice(max(1.25 * side.m_as("N"), 20.0))
    reach = 30.0 if shift is None else nice(max(1.3 * shift.m_as("um"), 5.0))
    if allowed is not None:
        reach = nice(max(reach, 1.1 * allowed.m_as("um")))
    chart = Chart(x=("Side force", 0, across, "N"), y=("Shift of the tip", 0, reach, "µm"))
    for (label, design), dash, colour in strokes:
        way = Q_(np.linspace(0, 1.15 * reach, 56), "um")
        force = side_held(design, thrust, way).m_as("N")
        chart.line(force, way.m_as("um"), label, dash, colour, "heavy")
    if gap is not None and gap.m_as("um") > 0.06 * reach:
        chart.band(
            [0, 2 * across], 0, gap.m_as("um"), "floats: no force answers", "orange", hatch=45
        )
    if allowed is not None:
        chart.horizontal(allowed.m_as("um"), "allowed")
    if shift is not None:
        chart.point(side.m_as("N"), shift.m_as("um"), "here", colour="orange")
    return chart


def ball_scene():
    """One ball bearing: what every ball carries, and at which angle."""
    names = {each.designation: each.name for each in bearings("deep_groove")}
    classes = {each: each for each in ("C2", "normal", "C3")}
    fields = [
        Choice("bearing", "Bearing", names, "6202"),
        Field("axial", "Axial load", "force >= 0", "600 N", slider=(0, 1500, 10)),
        Field("radial", "Radial load", "force >= 0", "200 N", slider=(0, 1500, 10)),
        Choice("clearance", "Clearance class", classes, "normal"),
    ]
    words = {"yes": "Within its limit", "no": "Marks its grooves"}
    return Scene("What does each ball carry?", fields, _judge_ball, words=words)


def _judge_ball(bearing, axial, radial, clearance):
    if axial.m == radial.m == 0:
        return View("Nothing loads it", "yes")
    inside = typical_inside(bearing, clearance)
    rest = inside.equilibrium(axial, radial)
    peak = np.maximum(rest.inner_pressure, rest.outer_pressure)
    marks = peak.m_as("Pa") >= STATIC_PRESSURE
    angle = rest.contact_angles[int(np.argmax(rest.core.loads))]
    rows = [
        ["Balls under load", f"{rest.loaded_balls} of {rest.core.loads.size}"],
        [
            "Contact angle without load, and now",
            f"{show(inside.free_contact_angle)}, {show(angle)}",
        ],
        ["Peak pressure under the heaviest ball", peak],
        ["The inner ring moves axially by", show(rest.axial_shift, "um", figures=2)],
        ["The inner ring moves sideways by", show(rest.radial_shift, "um", figures=2)],
        ["End play of this bearing", show(inside.end_play, "um", figures=2)],
    ]
    words = f"{'Marks its grooves' if marks else 'Within its limit'}: the heaviest ball carries "
    words += f"{show(rest.heaviest)} at {show(peak)}; {show(MARKING)} would mark the groove"
    details = [ball_section(inside, rest), page.table(rows, [catalogue(bearing).name, "Value"])]
    return View(words, "no" if marks else "yes", ball_loads(rest, axial, radial), details)


MARKING = Q_(4200, "MPa")  # iso-76


def choose_scene():
    """Which bearing will do for this thrust, speed and life, and what governs?"""
    fields = [
        thrust_field(sign=">"),
        side_field("0 N", "Side force on this bearing"),
        Field("speed", "Speed", "speed > 0", "500 rev/min", slider=(20, 3000, 10)),
        Field("hours", "Life wanted", "time > 0", "1000 h", slider=(10, 20000, 10)),
        Choice("demand", "Running", DEMANDS, "normal"),
        Choice("kind", "Type of bearing", THRUST_KINDS, "deep_groove"),
    ]
    return Scene("Which bearing will do?", fields, _judge_choice, words=WORDS)


def _judge_choice(thrust, side, speed, hours, demand, kind):
    found = choose(thrust, speed, hours, side, demand, kind)
    best, serving = found[0], sum(each.serves for each in found)
    words = f"Will not do: none of the {len(found)} will. The nearest is {_named(best)}"
    if serving:
        words = f"Will do: {_named(best)} is the smallest of {serving} that will"
    rows = [[each.bearing.designation, each.reason] for each in few(found)]
    table = page.table(rows, ["Bearing", "What governs"])
    return View(words, "yes" if serving else "no", margin_bars(found), [table])


def _named(choice):
    bare = choice.bearing.core
    return (
        f"{choice.bearing.designation} ({1e3 * bare.bore:g} × {1e3 * bare.outside_diameter:g} mm)"
    )


def live_scene():
    """Can this double as a live centre?"""
    fields = [
        design_choice(),
        thrust_field(),
        side_field(),
        Field("allowed", "Allowed shift", "length > 0", "20 µm", slider=(1, 100, 1)),
        Choice("demand", "Running", DEMANDS, "shock"),
    ]
    return Scene("Can this double as a live centre?", fields, _judge_live, words=WORDS)


def _judge_live(design, thrust, side, allowed, demand):
    design = _chosen(design)
    found = live_centre(design, thrust, side, allowed, demand)
    shift, drift = found.tip_shift.to("um").round(1), found.play.to("um").round(1)
    chart = shift_chart({"its tip": design}, thrust, side, shift, allowed, drift)
    rows = [[_what_stops(each), _up_to(each)] for each in found.limits]
    floats = [f"{show(drift, figures=2)} of it is play, before any force resists."] * bool(
        drift.m > 0
    )
    holds = "yes" if found.serves else "no"
    moved = show(shift, figures=2)
    words = f"{WORDS[holds]}: {show(side)} moves the tip by {moved}, "
    words += f"{show(allowed, 'um')} is allowed"
    alt = (
        f"Tip shift against side force: {show(drift, figures=2)} of play, {moved} at {show(side)}."
    )
    table = page.table(rows, ["Limit", "Good up to"])
    return View(words, holds, chart.picture(alt), [*floats, table])


def _what_stops(limit):
    place = "" if limit.place == "tip" else f", {limit.place} bearing"
    return STOPS[limit.criterion] + place


def _up_to(limit):
    force = limit.side_force
    return show(rounded_down(force), figures=2) if np.isfinite(force.m_as("N")) else "never"
