"""Which panels does lesson 01 have? What sheet it is, what could hold it, how hard to press."""

import numpy as np

from workshop_lib import gauges
from workshop_lib.drawings import page
from workshop_lib.drawings.charts import Chart
from workshop_lib.drawings.kept_axes import nice
from workshop_lib.friction import Pad, Screw, efficiency, from_torque, torque_to_release
from workshop_lib.lessons.shared_fields import (
    PLENTY,
    WORDS,
    check_cover,
    facing_choice,
    hard_pressed,
    make_pad,
    pad_fields,
    set_up_fields,
    sheet_choice,
    verdict,
)
from workshop_lib.materials import facing as find_facing
from workshop_lib.materials import find_material, friction
from workshop_lib.quantities import Q_, InputError, show, system, times_over
from workshop_lib.slip import LEAST_MARGIN, holding
from workshop_lib.teaching.fields import Choice, Field
from workshop_lib.teaching.panels import Scene, View

TABLES = {"us_standard": "US Standard", "bg": "Birmingham gauge (BG)", **gauges.SOLD_BY}
FREE_THREADS = {
    "square": ("square", "0 deg"),
    "trapezoidal": ("metric trapezoidal (15° flanks)", "15 deg"),
    "acme": ("Acme (14½° flanks)", "14.5 deg"),
}


def gauge_scene():
    """What sheet is in the hand? A micrometer reading, and a gauge that somebody claims."""
    choices = {key: TABLES.get(key, key.replace("_", " ")) for key in gauges.tables()}
    fields = [
        Field("reading", "Micrometer reading", "length > 0", "0.62 mm", slider=(0.2, 3.5, 0.01)),
        Field("claimed", "Gauge on the label", "ratio > 0", "24", slider=(7, 30, 1)),
        Choice("table", "Gauge table", choices, "stainless_steel"),
    ]
    words = {"yes": "Fits", "no": "Does not fit"}
    return Scene("What sheet is in your hand?", fields, _judge_gauge, words=words)


def _apart(difference):
    """A difference of two thicknesses with its sign, in the system that is spoken."""
    if system() == "inch":
        return f"{_signed(difference.m_as('thou'), 1)} thou"
    return f"{_signed(difference.m_as('um'), 0)} µm"


def _signed(value, decimals):
    """A difference with its sign; a mere rounding is no minus."""
    return f"{round(value, decimals) + 0.0:+.{decimals}f}"


def _judge_gauge(reading, claimed, table):
    number = float(claimed.m_as(""))
    if number != int(number):
        raise InputError("claimed", "a gauge is a whole number", "Type one such as 24")
    claim = gauges.compare(reading, int(number), table)
    found = gauges.identify(reading)[:6]
    rows = [
        [
            each.label,
            each.thickness,
            _apart(each.difference),
            f"{_signed(each.percent, 1)} %",
        ]
        for each in found
    ]
    heads = ["Nearest gauges", "Thickness", "Difference", "In per cent"]
    fits = claim.within_tolerance if claim.tolerance is not None else abs(claim.percent) < 5
    words = f"{claim}"
    return View(
        words, "yes" if fits else "no", None, [page.table(rows, heads), gauges.likely(reading)]
    )


def ways_scene():
    """Which way of holding gives most against this cut?"""
    fields = [
        *set_up_fields(),
        Field("thrust", "Tailstock thrust", "force >= 0", "800 N", slider=(0, 2500, 10)),
        Field("side", "Side force of the cut", "force >= 0", "45 N", slider=(0, 500, 5)),
        Field("torque", "Torque of the cut", "torque >= 0", "1.5 N m", slider=(0, 15, 0.1)),
        Choice(
            "estimate", "Strengths used", {"low": "low", "typical": "typical", "high": "high"},
            "low",
        ),
    ]  # fmt: skip
    return Scene("What could hold it?", fields, _judge_ways, words=WORDS)


def _judge_ways(
    material, disc_diameter, facing, pad_diameter, relief_diameter, thrust, side, torque, estimate
):
    check_cover(pad_diameter, disc_diameter)
    grip = friction(facing, material)
    setup = (
        make_pad(pad_diameter, relief_diameter),
        disc_diameter,
        thrust,
        getattr(grip, estimate),
    )
    found = holding.compare(*setup, side, torque, estimate=estimate)
    rows = [
        [
            f"{each.way.name}, {IN_SHEAR}" if each.way.kind == "bond" else each.way.name,
            _times(each.margin),
            show(each.side, figures=2),
            show(each.torque, figures=2),
        ]
        for each in found
    ]
    heads = ["Way", "Margin", "Side force alone", "Torque alone"]
    own = next(each for each in found if each.way.key == "pressure_pad")
    words, holds = verdict(own.margin, LEAST_MARGIN, thrust)
    bonds = [f"{each.way.name[:1].upper()}{each.way.name[1:]}: {each.way.caution}" for each in found
             if each.way.kind == "bond"]  # fmt: skip
    details = [*hard_pressed(thrust), page.table(rows, heads), page.caution(*bonds)]
    return View(f"{words}, with the pressure pad", holds, _ways_chart(found), details)


def _times(margin):
    """A margin in two figures; far above what is needed the strengths prove no figure at all."""
    return f"above {PLENTY}" if PLENTY < margin < np.inf else times_over(margin)


def ways_table():
    """What each way does to the work, and its caution, as a table for the page."""
    return page.table(
        [
            [way.name, "yes" if way.reaches_rim else "in two", way.leaves, way.caution]
            for way in holding.ways()
        ],
        ["Way", "Rim in one setting", "What it does to the work", "Caution"],
    )


IN_SHEAR = "shear alone"  # peel and heat end a bond far below that


def _ways_chart(found):
    """Margins of the ways as bars on a logarithmic scale, with the margin that is wanted."""
    low, high, tall = 0.01, 1000, 8 * len(found)
    axis = "Margin, in steps of ten times", low, high
    chart = Chart(axis, ("", 0, len(found)), (118, tall + 22), "x", (58, 13, 55, tall))
    chart.vertical(1).vertical(LEAST_MARGIN, dash="dotted")
    chart.write("slips below 1", 1, len(found), (0.5, 2), "end", size="small", colour="grey")
    wanted = f"{LEAST_MARGIN:g} is needed"
    chart.write(wanted, LEAST_MARGIN, len(found), (-0.5, 5.5), "start", size="small", colour="grey")
    for place, each in enumerate(found):
        level, end = len(found) - place - 0.5, float(np.clip(each.margin, 1.05 * low, high))
        colour, hatch = ("green", None) if each.margin >= LEAST_MARGIN else ("orange", True)
        chart.bar(low, end, level - 0.28, level + 0.28, colour, hatch)
        chart.write(each.way.name, low, level, (-2, 0), "end", size="small")
        said = _times(each.margin) if each.holds else f"{_times(each.margin)}, slips"
        inside = end > 30
        chart.write(said, end, level, (-1.5 if inside else 1.5, 0), "end" if inside else "start",
                    size="small")  # fmt: skip
    best, short = found[0], sum(each.margin < LEAST_MARGIN for each in found)
    return chart.picture(
        f"{len(found)} ways compared by margin: {best.way.name} first with {_times(best.margin)}; "
        f"{sum(not each.holds for each in found)} of {len(found)} slip, "
        f"{short} stay below the {LEAST_MARGIN:g} wanted."
    )


def press_scene():
    """How hard does the pad press on the sheet, and does it mark it?"""
    fields = [
        sheet_choice(),
        facing_choice(),
        *pad_fields(),
        Field("nose_diameter", "Nose contact diameter", "length > 0", "20 mm", slider=(2, 60, 1)),
        Field("thrust", "Thrust", "force >= 0", "800 N", slider=(0, 2500, 10)),
    ]
    words = dict.fromkeys(("yes", "no", "open"), "")  # the sentences say it
    return Scene("Will it mark the sheet?", fields, _judge_press, words=words)


def _judge_press(material, facing, pad_diameter, relief_diameter, nose_diameter, thrust):
    sheet, lining = find_material(material), find_facing(facing)
    pad, nose = make_pad(pad_diameter, relief_diameter), Pad(nose_diameter)
    on_pad, on_nose = (thrust / pad.area).to("MPa"), (thrust / nose.area).to("MPa")
    limit = lining.highest_pressure
    rows = [
        ["On the pad", on_pad],
        ["Under the nose", on_nose],
        ["Most the pad facing can take", "not known" if limit is None else limit],
        ["Sheet, yield strength", sheet.yield_strength],
    ]
    worst, where = (on_nose, "the nose") if on_nose > on_pad else (on_pad, "the pad")
    share = (worst / sheet.yield_strength).m_as("")
    if share >= 1:
        view = f"Marks the sheet: it yields under {where}. Press less, or make {where} larger", "no"
    elif limit is not None and on_pad > limit:
        words = f"Crushes the pad facing: {show(on_pad)}, and it can take {show(limit)}"
        view = f"{words}. Press less, or use a larger pad", "no"
    elif share > 0.3:
        view = (
            f"Take care: {show(100 * share, figures=2)} % of the yield strength under {where}",
            "open",
        )
    elif nose_diameter < pad_diameter:
        view = (
            "Take care: the pressure is low, but a bare nose bends thin sheet. Press through a "
            "plate as large as the pad",
            "open",
        )
    else:
        view = (
            f"Pressure is low: at most {show(100 * share, figures=2)} % of the yield strength",
            "yes",
        )
    return View(*view, None, [page.table(rows, ["Pressure", "Value"])])


def screw_scene():
    """What thrust does a pull on the handwheel give?"""
    fields = [
        Field("mean_diameter", "Screw pitch diameter", "length > 0", "16 mm", slider=(8, 40, 0.5)),
        Field("lead", "Advance per turn", "length > 0", "4 mm", slider=(1, 10, 0.25)),
        Choice("thread", "Thread", {k: w for k, (w, _) in FREE_THREADS.items()}, "trapezoidal"),
        Field(
            "friction", "Friction in thread and collar", "ratio >= 0", "0.15", slider=(0, 0.4, 0.01)
        ),
        Field("collar", "Thrust collar mean diameter", "length >= 0", "22 mm", slider=(0, 50, 1)),
        Field("pull", "Pull on the handle", "force >= 0", "40 N", slider=(0, 200, 1)),
        Field("handle", "Handle radius", "length > 0", "60 mm", slider=(20, 150, 5)),
    ]
    return Scene("What thrust does the handwheel give?", fields, _judge_screw)


def _judge_screw(mean_diameter, lead, thread, friction, collar, pull, handle):
    screw = Screw(mean_diameter, lead, FREE_THREADS[thread][1], friction, collar, friction)
    torque = pull * handle
    given = from_torque(screw, torque)
    back = torque_to_release(screw, given)
    stays = back.m >= 0
    rows = [
        ["Torque on the handwheel", torque.to("N*m")],
        ["Efficiency", f"{show(100 * efficiency(screw, given), figures=2)} %"],
        ["Torque to release", back if stays else f"{show(back)}: it unwinds by itself"],
    ]
    alt = f"Thrust rises in step with torque: {show(torque.to('N*m'))} gives {show(given)}."
    chart = screw_chart(screw, torque, given)
    words = f"{show(given)} of thrust"
    return View(words, None, chart.picture(alt), [page.table(rows, ["Screw", "Value"])])


def screw_chart(screw, torque, given):
    """Thrust against torque on the handwheel, with one pull marked: a `Chart`."""
    top = nice(max(1.2 * given.m_as("N"), 10))
    chart = Chart(
        x=("Torque on the handwheel", 0, nice(max(1.2 * torque.m_as("N*m"), 0.1)), "N·m"),
        y=("Thrust", 0, top, "N"),
    )
    ends = Q_(np.array([0.0, 2 * torque.m_as("N*m") + 0.1]), "N*m")
    chart.line(ends.m_as("N*m"), from_torque(screw, ends).m_as("N"), "this screw", weight="heavy")
    chart.point(torque.m_as("N*m"), given.m_as("N"), "your pull", colour="orange")
    return chart
