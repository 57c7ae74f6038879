"""How thick is the sheet that a gauge number names, and which gauge is this sheet?"""

from workshop_lib.gauges.gauge_lookup import (
    Match,
    compare,
    identify,
    likely,
    table,
    tables,
    thickness,
)
from workshop_lib.gauges.gauge_tables import SOLD_BY

__all__ = [
    "SOLD_BY",
    "Match",
    "compare",
    "identify",
    "likely",
    "table",
    "tables",
    "thickness",
]
