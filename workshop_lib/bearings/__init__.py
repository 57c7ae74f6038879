"""What does each bearing feel, how much may it carry, and for how long?"""

from workshop_lib.bearings.ball_bearing import BallBearing, Equilibrium, equilibrium, typical_inside
from workshop_lib.bearings.ball_contacts import BallContacts, settle
from workshop_lib.bearings.bearing_checks import checks, limit_margin, one_case, static_margin
from workshop_lib.bearings.bearing_choice import Choice, choose
from workshop_lib.bearings.bearing_loads import (
    DEMANDS,
    Life,
    axial_limit,
    deep_groove_factors,
    equivalent_load,
    minimum_load,
    rating_life,
    recommended_safety,
    static_equivalent_load,
    static_safety,
)
from workshop_lib.bearings.bearing_tables import (
    KINDS_OF_BEARING,
    RADIAL_ONLY,
    Bearing,
    bearings,
    catalogue,
    known_bearings,
)
from workshop_lib.bearings.clearances import clearance, clearance_classes, known_clearances
from workshop_lib.bearings.contact_sums import AllBalls, AllRollers
from workshop_lib.bearings.fits import (
    fit_sources,
    known_fits,
    limits,
    needle_play,
    ring_play,
    ring_run_out,
    seat,
    sliding_fit,
    sources_at,
    tabulated,
    tolerance,
)
from workshop_lib.bearings.hertz import STEEL_MODULUS, Contact, ball_on_ring
from workshop_lib.bearings.newton import NoRest, rest
from workshop_lib.bearings.ratings import (
    STATIC_PRESSURE,
    dynamic_rating,
    look_at_pressure,
    static_rating,
)
from workshop_lib.bearings.roller_contacts import RollerContacts
from workshop_lib.bearings.typed_bearings import TYPED, bearing_of, own_bearing

__all__ = [
    "bearing_of",
    "own_bearing",
    "AllBalls",
    "AllRollers",
    "BallBearing",
    "BallContacts",
    "Bearing",
    "Choice",
    "Contact",
    "DEMANDS",
    "Equilibrium",
    "KINDS_OF_BEARING",
    "Life",
    "NoRest",
    "RADIAL_ONLY",
    "RollerContacts",
    "STATIC_PRESSURE",
    "STEEL_MODULUS",
    "TYPED",
    "axial_limit",
    "ball_on_ring",
    "bearings",
    "catalogue",
    "checks",
    "choose",
    "clearance",
    "clearance_classes",
    "deep_groove_factors",
    "dynamic_rating",
    "equilibrium",
    "equivalent_load",
    "fit_sources",
    "known_bearings",
    "known_clearances",
    "known_fits",
    "limit_margin",
    "limits",
    "look_at_pressure",
    "minimum_load",
    "needle_play",
    "one_case",
    "rating_life",
    "recommended_safety",
    "rest",
    "ring_play",
    "ring_run_out",
    "seat",
    "settle",
    "sliding_fit",
    "static_equivalent_load",
    "sources_at",
    "static_margin",
    "static_rating",
    "static_safety",
    "tabulated",
    "tolerance",
    "typical_inside",
]
