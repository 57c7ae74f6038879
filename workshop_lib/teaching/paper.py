"""What does an exercise need on paper, where there is no computer? Tables, charts, formulas."""

from functools import lru_cache

import numpy as np

from workshop_lib import gauges
from workshop_lib.drawings import page
from workshop_lib.friction import Pad, limit_curve
from workshop_lib.quantities import either


def gauge_table(low, high):
    """The gauge tables side by side from one number to another, in mm or thou."""
    rows = [
        [str(number), *(_thickness(number, key) for key in gauges.SOLD_BY)]
        for number in range(low, high + 1)
    ]
    return page.table(
        rows, ["Gauge", *gauges.SOLD_BY.values()], f"Nominal thickness in {either('mm', 'thou')}"
    )


def _thickness(number, key):
    held = number in gauges.table(key).gauges
    unit, digits = either(("mm", 3), ("thou", 1))
    return f"{gauges.thickness(number, key).m_as(unit):.{digits}f}" if held else "–"


@lru_cache(maxsize=1)
def limit_chart():
    """The limit curve of a full pad under even pressure, on squared paper, to lay a ruler on."""
    from workshop_lib.drawings.charts import Chart  # matplotlib: not before somebody prints

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
