"""Will the disc slip, and by what margin? How does squeezing compare with other ways of holding?"""

from workshop_lib.slip import holding
from workshop_lib.slip.criterion import (
    LEAST_MARGIN,
    NOSES,
    deepest_cut,
    margin,
    thrust_needed,
)
from workshop_lib.slip.holding import KEEP_THE_THRUST, RULES_FIRST, find_way, hold
from workshop_lib.slip.stack import MOST_DISCS, most_discs, stack_margins, tipping_share

__all__ = [
    "KEEP_THE_THRUST",
    "LEAST_MARGIN",
    "MOST_DISCS",
    "NOSES",
    "RULES_FIRST",
    "deepest_cut",
    "find_way",
    "hold",
    "holding",
    "margin",
    "most_discs",
    "stack_margins",
    "thrust_needed",
    "tipping_share",
]
