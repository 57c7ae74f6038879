"""How sure is a computed number, and how likely is slip? The front door.

`propagate` draws the inputs of any function from their `spreads` and gives the spread of its
result; `chance_of_slip` does so for the slip margin of a job.
"""

from workshop_lib.certainty.propagation import Outcome, computed, propagate
from workshop_lib.certainty.slip_chance import (
    INPUTS,
    SlipCase,
    SlipChance,
    chance_of_slip,
    share_interval,
)

__all__ = [
    "INPUTS",
    "Outcome",
    "SlipCase",
    "SlipChance",
    "chance_of_slip",
    "computed",
    "propagate",
    "share_interval",
]
