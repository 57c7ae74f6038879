"""What an exercise needs on paper, where there is no computer: tables, charts, formulas."""

import numpy as np

from workshop_lib import gauges
from workshop_lib.bearings import catalogue
from workshop_lib.drawings import page
from workshop_lib.drawings.charts import Chart
from workshop_lib.friction import Pad, limit_curve
from workshop_lib.quantities import show
from workshop_lib.rolling.bearing_loads import deep_groove_factors

GAUGE_TABLES = {
    "uncoated_steel": "uncoated steel",
    "galvanized_steel": "zinc-coated steel",
    "stainless_steel": "stainless steel",
    "swg": "standard wire gauge",
    "awg": "American wire gauge",
}


def gauge_table(low, high):
    """The gauge tables side by side from one number to another, in mm."""
    rows = [
        [str(number), *(_thickness(number, key) for key in GAUGE_TABLES)]
        for number in range(low, high + 1)
    ]
    return page.table(rows, ["Gauge", *GAUGE_TABLES.values()], "Nominal thickness in mm")


def _thickness(number, key):
    held = number in gauges.table(key).gauges
    return f"{gauges.thickness(number, key).m_as('mm'):.3f}" if held else "–"


def limit_chart():
    """The limit curve of a full pad under even pressure, on squared paper, to lay a ruler on."""
    side, turn = limit_curve(Pad("60 mm"))
    chart = Chart(
        x=("Side force as a share, F/(μN)", 0, 1.1),
        y=("Torque as a share, M/(μN r_{o})", 0, 0.7),
        size=(118, 80),
    )
    chart.line(np.asarray(side), np.asarray(turn), "slips outside this curve", weight="heavy")
    words = "A full pad slips where torque share and side share together reach this curve."
    return (
        "Mark the point of the load, lay a ruler through the corner (0, 0) and the point, and read "
        "where it meets the curve.",
        chart.picture(words),
    )


def bearing_row(designation):
    """What a catalogue prints of one deep-groove bearing."""
    bearing = catalogue(designation)
    ratings = [bearing.dynamic_rating, bearing.static_rating]
    written = [show(each, figures=4) for each in ratings]
    return page.table(
        [[designation, *written, f"{bearing.core.f0:g}"]],
        ["Bearing", "Dynamic rating C", "Static rating C_{0}", "f_{0}"],
    )


def thrust_factors(designation):
    """Y for an axial load on a deep-groove bearing, as the catalogues tabulate it."""
    bearing = catalogue(designation)
    ratios = (0.172, 0.345, 0.689, 1.03, 1.38, 2.07, 3.45, 5.17, 6.89)
    loads = [ratio * bearing.core.static_rating / bearing.core.f0 for ratio in ratios]
    found = [deep_groove_factors(bearing, load) for load in loads]
    rows = [
        [name, *(f"{float(each[place]):.2f}" for each in found)]
        for place, name in ((0, "e"), (1, "X"), (2, "Y"))
    ]
    headings = ["f_{0} F_{a}/C_{0}", *(f"{ratio:g}" for ratio in ratios)]
    return page.table(rows, headings, "X and Y where F_{a}/F_{r} is above e; between two columns "
                      "take Y in proportion")  # fmt: skip
