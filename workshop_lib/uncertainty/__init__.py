"""How sure is a computed number, and how likely is slip?"""

from workshop_lib.uncertainty import measured, spreads
from workshop_lib.uncertainty.few_readings import FEWEST, far_from_the_rest
from workshop_lib.uncertainty.measured import pull_test
from workshop_lib.uncertainty.propagation import Outcome, computed, propagate
from workshop_lib.uncertainty.slip_chance import (
    INPUTS,
    SlipCase,
    SlipChance,
    chance_of_slip,
    share_interval,
)
from workshop_lib.uncertainty.spreads import exactly, normal, of_range

__all__ = [
    "FEWEST",
    "INPUTS",
    "Outcome",
    "SlipCase",
    "SlipChance",
    "chance_of_slip",
    "computed",
    "exactly",
    "far_from_the_rest",
    "measured",
    "normal",
    "of_range",
    "propagate",
    "pull_test",
    "share_interval",
    "spreads",
]
