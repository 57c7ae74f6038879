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

__all__ = [
    "Match",
    "compare",
    "identify",
    "likely",
    "table",
    "tables",
    "thickness",
]
