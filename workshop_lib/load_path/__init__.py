"""Where does the load go? The public calls on pressure noses and centres, in one place.

`designs` and `find` give the three designs; `trace` follows thrust and side force part by part;
`nose_shift`, `play` and `side_held` say how the tip gives way and what it gives back;
`unloading_thrust` when a preload is lost; `side_limits` and `live_centre` what a design is good
for.
"""

from workshop_lib.centres.centre import Limit, Verdict, live_centre, side_limits
from workshop_lib.centres.designs import Design, designs, find
from workshop_lib.centres.nose import nose_shift, play, side_held, unloading_thrust
from workshop_lib.centres.traces import Element, Reaction, Trace, trace

__all__ = [
    "Design",
    "Element",
    "Limit",
    "Reaction",
    "Trace",
    "Verdict",
    "designs",
    "find",
    "live_centre",
    "nose_shift",
    "play",
    "side_held",
    "side_limits",
    "trace",
    "unloading_thrust",
]
