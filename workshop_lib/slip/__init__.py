"""Will the disc slip, and by what margin? How does squeezing compare with other ways of holding?"""

from workshop_lib.slip import holding
from workshop_lib.slip.criterion import (
    BLOCK,
    LEAST_MARGIN,
    MOST_STEPS,
    NOSES,
    SETTLED,
    TINY,
    deepest_cut,
    in_blocks,
    margin,
    ray_length,
    thrust_needed,
)
from workshop_lib.slip.holding import KEEP_THE_THRUST, find_way, hold
from workshop_lib.slip.stack import MOST_DISCS, most_discs, stack_margins, tipping_share

__all__ = [
    "BLOCK",
    "KEEP_THE_THRUST",
    "LEAST_MARGIN",
    "MOST_DISCS",
    "MOST_STEPS",
    "NOSES",
    "SETTLED",
    "TINY",
    "deepest_cut",
    "find_way",
    "hold",
    "holding",
    "in_blocks",
    "margin",
    "most_discs",
    "ray_length",
    "stack_margins",
    "thrust_needed",
    "tipping_share",
]
