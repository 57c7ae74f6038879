"""Where does the load go in a nose or centre, part by part, and what is each good for?"""

from workshop_lib.load_path.centre import Limit, Verdict, live_centre, side_limits
from workshop_lib.load_path.design_tables import Design, designs, find_design
from workshop_lib.load_path.nose import nose_shift, play, side_held, unloading_thrust
from workshop_lib.load_path.nose_checks import (
    Expected,
    Finding,
    expected,
    in_words,
    look_at,
    tip_run_out,
)
from workshop_lib.load_path.own_noses import PUSHED, SEATS, own_design
from workshop_lib.load_path.pressing import highest_thrust, stronger_bearing
from workshop_lib.load_path.traces import Element, Reaction, Trace, trace

__all__ = [
    "tip_run_out",
    "look_at",
    "in_words",
    "expected",
    "Finding",
    "Expected",
    "PUSHED",
    "SEATS",
    "Design",
    "Element",
    "Limit",
    "Reaction",
    "Trace",
    "Verdict",
    "designs",
    "find_design",
    "highest_thrust",
    "live_centre",
    "nose_shift",
    "own_design",
    "play",
    "side_held",
    "side_limits",
    "stronger_bearing",
    "trace",
    "unloading_thrust",
]
