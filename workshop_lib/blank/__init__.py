"""Which disc fits the blank, and how many passes at what speed make it round?"""

from workshop_lib.blank import speeds
from workshop_lib.blank.pass_plan import largest_first_depth, passes, schedule
from workshop_lib.blank.shape import Blank, Disc, Mark
from workshop_lib.blank.speeds import cautions, machine_speed
from workshop_lib.blank.turning import Turning

__all__ = [
    "Blank",
    "Disc",
    "Mark",
    "Turning",
    "cautions",
    "largest_first_depth",
    "machine_speed",
    "passes",
    "schedule",
    "speeds",
]
