"""The public calls on rolling bearings, in one place.

`catalogue` and `bearings` give printed data; `equivalent_load`, `rating_life`, `static_safety`,
`axial_limit` and `minimum_load` judge a load by it; `clearance`, `sliding_fit`, `seat` and `limits`
say how loose parts are; `BallBearing` and `typical_inside` look inside; `static_rating` and
`dynamic_rating` compute what a catalogue prints; `choose` picks a bearing for a task.
"""

from workshop_lib.rolling.ball_bearing import BallBearing, Equilibrium, equilibrium, typical_inside
from workshop_lib.rolling.bearing_choice import Choice, choose
from workshop_lib.rolling.bearing_loads import (
    Life,
    axial_limit,
    equivalent_load,
    minimum_load,
    rating_life,
    recommended_safety,
    static_equivalent_load,
    static_safety,
)
from workshop_lib.rolling.bearing_tables import KINDS_OF_BEARING, Bearing, bearings, catalogue
from workshop_lib.rolling.clearances import clearance, clearance_classes
from workshop_lib.rolling.fits import limits, needle_play, seat, sliding_fit
from workshop_lib.rolling.hertz import Contact, ball_on_ring
from workshop_lib.rolling.newton import NoRest
from workshop_lib.rolling.ratings import dynamic_rating, static_rating

__all__ = [
    "KINDS_OF_BEARING",
    "BallBearing",
    "Bearing",
    "Choice",
    "Contact",
    "Equilibrium",
    "Life",
    "NoRest",
    "axial_limit",
    "ball_on_ring",
    "bearings",
    "catalogue",
    "choose",
    "clearance",
    "clearance_classes",
    "dynamic_rating",
    "equilibrium",
    "equivalent_load",
    "limits",
    "minimum_load",
    "needle_play",
    "rating_life",
    "recommended_safety",
    "seat",
    "sliding_fit",
    "static_equivalent_load",
    "static_rating",
    "static_safety",
    "typical_inside",
]
