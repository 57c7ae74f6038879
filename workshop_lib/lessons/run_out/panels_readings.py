"""Which panels of lesson 05 are about readings? Turn the spindle, fit a turn, the lever."""

import numpy as np

from workshop_lib.drawings import page
from workshop_lib.drawings.charts import Chart
from workshop_lib.drawings.kept_axes import nice
from workshop_lib.drawings.run_out_charts import bars, polar_plot
from workshop_lib.drawings.run_out_drawings import AROUND, DIAL_NAMES, DIALS, clocked, lever
from workshop_lib.quantities import Q_, InputError, either, show
from workshop_lib.run_out import from_text, true_travel
from workshop_lib.teaching.fields import Choice, Count, Field, Text, by_line
from workshop_lib.teaching.panels import Scene, View

UNITS = {"thou": "thou", "mm": "mm", "um": "µm"}
DIRECTIONS = {"in": "grows as the plunger is pushed in (usual)", "out": "grows as it comes out"}
TURNS = np.arange(0, 721, 2)  # degrees of two turns
WANDER = 15  # degrees over which a part goes from one place in its clearance to another

# What a class wrote down at the nose of the demonstration job (invented): marks, half a thou a
# division, and the first mark once more at the end.
WRITTEN = """angle, reading
0, 1.5
30, 3
60, 4
90, 4.5
120, 4.5
150, 4
180, 2.5
210, 1
240, 0
270, -0.5
300, -0.5
330, 0
360, 1.5"""


def turn_scene():
    """Turn the spindle by hand and watch the needle."""
    small, lean = (0, 0.2, 0.005), f"Lean per {either('25 mm', 'inch')}"
    fields = [
        Field("turned", "Spindle turned by", "angle", "30 deg", slider=(0, 720, 5)),
        Field("off", "Eccentricity", "length >= 0", "0.05 mm", slider=small),
        Field("high", "High spot at mark", "angle", "60 deg", slider=(0, 360, 5)),
        Field("oval", "Oval (amplitude)", "length >= 0", "0 mm", slider=(0, 0.05, 0.001)),
        Field("lobes", "Three lobes (amplitude)", "length >= 0", "0 mm", slider=(0, 0.05, 0.001)),
        Field("lean", lean, "length >= 0", "0 mm", slider=(0, 0.1, 0.005)),
        Field("place", "Distance of plunger from seat", "length >= 0", "10 mm", slider=(0, 50, 1)),
        Field("loose", "Clearance, side to side", "length >= 0", "0 mm", slider=(0, 0.1, 0.005)),
        Choice("face", "Dial", DIAL_NAMES, either("mm", "thou")),
    ]
    return Scene("Turn the spindle", fields, _judge_turn)


def _judge_turn(turned, off, high, oval, lobes, lean, place, loose, face):
    centre = off.m_as("mm") * np.exp(1j * high.m_as("rad"))
    centre += lean.m_as("mm") * place.m_as("mm") / either(25, 25.4)
    waves = centre, oval.m_as("mm"), lobes.m_as("mm")
    along = np.radians(TURNS)
    shown = _shape(along, *waves) + _wander(TURNS, loose.m_as("mm"))
    now = turned.m_as("deg") % 720
    here = float(np.interp(now, TURNS, shown))
    rim = Q_(_shape(np.radians(AROUND), *waves), "mm")
    drawing = clocked(rim, turned, Q_(here, "mm"), face, "part")
    kind = DIALS[face]
    first, second = (Q_(float(np.ptp(half)), "mm") for half in (shown[:181], shown[180:]))
    rows = [
        ["Needle reads now", kind.words(Q_(here, "mm"))],
        ["Indicator total, first turn", show(first, kind.unit)],
        ["Indicator total, second turn", show(second, kind.unit)],
        ["Eccentricity here", show(Q_(abs(centre), "mm"), kind.unit)],
    ]
    words = f"The needle reads {kind.words(Q_(here, 'mm'))}"
    alt = f"Readings over two turns: the first turn's total is {show(first, kind.unit)}."
    chart = _trace_chart(shown, now, here, kind.unit).picture(alt)
    return View(words, None, drawing, [chart, page.table(rows, ["At this place", "Value"])])


def _shape(theta, centre, oval, lobes):
    """What a needle shows of a round part that is off centre, oval and lobed; crests at mark 0°."""
    out = (centre * np.exp(-1j * theta)).real
    return out + oval * np.cos(2 * theta) + lobes * np.cos(3 * theta)


def _wander(degrees, clearance):
    """Where a part lies in its clearance, the same walk every time it is asked for."""
    nodes = np.arange(0, 720 + WANDER, WANDER)
    walk = np.random.default_rng(5).uniform(-0.5, 0.5, nodes.size)
    return clearance * np.interp(degrees, nodes, walk)


def _trace_chart(shown, now, here, unit):
    """Reading against the angle turned, two turns long."""
    factor = Q_(1, "mm").m_as(unit)
    top = nice(1.15 * max(np.abs(shown).max() * factor, 1e-3 * factor))
    across, up = ("Turned in degrees", 0, 720), ("Reading", -top, top, unit)
    chart = Chart(across, up, size=(118, 60), speaks=False)
    chart.line(TURNS, shown * factor, "", weight="heavy")
    chart.vertical(360, "second turn")
    chart.point(now, here * factor, "now", colour="orange")
    return chart


def fit_scene():
    """Type or paste the readings of a turn and see what they hold."""
    hint = "One reading per line: angle, reading. A reading may have its own unit."
    fields = [
        Text("text", "Readings", WRITTEN, help=hint, rows=14),
        Choice("unit", "Unit of the readings", UNITS, "thou"),
        Field("graduation", "One division", "length > 0", "0.5 thou", slider=(0.05, 2, 0.05)),
        Choice("direction", "Reading", DIRECTIONS, "in"),
        Count("highest", "Highest harmonic", 4, slider=(1, 6)),
    ]
    return Scene("What do these readings show?", fields, _judge_fit)


def _judge_fit(text, unit, graduation, direction, highest):
    try:
        taken = from_text(text, unit=unit, graduation=graduation, direction=direction)
        found, lobes = taken.kept.fit(), taken.kept.harmonics(highest)
    except InputError as error:
        raise InputError("text", error.problem, error.mend) from error
    beside = {"text": by_line(taken.complaints)} if taken.complaints else {}
    size = show(found.eccentricity, unit)
    unsure = show(found.eccentricity_uncertainty, unit, figures=2)
    where = show(found.high_spot) if found.tells_high_spot else "unknown"
    rows = [
        ["Indicator total", show(found.total, unit)],
        ["Eccentricity", f"{size} ± {unsure}"],
        ["High spot at mark", where],
        ["Offset (where the dial was set)", show(found.offset, unit)],
        ["Scatter about the circle", show(found.scatter.round(9), unit)],
        *([f"Amplitude: {each.name}", _amplitude(each, unit)] for each in lobes),
    ]
    said = [*found.remarks, *lobes.remarks]
    words = f"Eccentricity {size}, high spot {where}; indicator total {show(found.total, unit)}"
    details = [bars(lobes, unit), page.table(rows, ["Fit", "Value"])]
    if said:
        details.append(page.note(*dict.fromkeys(said)))
    return View(words, None, polar_plot(taken.kept, found, unit), details, beside)


def _amplitude(each, unit):
    if not each.told:
        return f"unknown: {each.why}"
    return f"{show(each.amplitude, unit, figures=2)} ± {show(each.uncertainty, unit, figures=1)}"


def lever_scene():
    """A lever indicator whose stylus does not lie flat shows too much."""
    fields = [
        Field("angle", "Angle of stylus to surface", "angle >= 0", "30 deg", slider=(0, 75, 1)),
        Field("indicated", "Needle shows", "length > 0", "0.2 mm", slider=(0.01, 0.8, 0.01)),
    ]
    return Scene("How far did the surface really move?", fields, _judge_lever)


def _judge_lever(angle, indicated):
    true = true_travel(indicated, angle)
    rows = [
        ["Needle shows", indicated],
        ["Surface moved", true],
        ["Error of the needle", indicated - true],
        ["Surface moved / needle shows", (true / indicated).to("dimensionless")],
    ]
    words = f"The surface moved {show(true)}; the needle shows {show(indicated)}"
    table = page.table(rows, ["Lever indicator", "Value"])
    return View(words, None, lever(indicated, angle), [table])
