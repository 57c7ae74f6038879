"""How much torque and side force can friction under the pad hold, and how hard is it pressed?"""

from workshop_lib.friction import thrust, tilt
from workshop_lib.friction.facing_pressure import facing_load
from workshop_lib.friction.limit_shape import complete_integrals, reach, reach_and_slope
from workshop_lib.friction.pad import (
    HIGHEST_FRICTION,
    PRESSURES,
    Pad,
    coefficient,
    contact_pressure,
    limit_curve,
    peak_pressure,
    side_capacity,
    torque_capacity,
    torque_radius,
    turning_centre,
)
from workshop_lib.friction.thrust import (
    Screw,
    after_creep,
    calibrate,
    efficiency,
    from_torque,
    torque_for,
    torque_to_release,
)
from workshop_lib.friction.tilt import tilt_force

__all__ = [
    "HIGHEST_FRICTION",
    "PRESSURES",
    "Pad",
    "Screw",
    "after_creep",
    "calibrate",
    "coefficient",
    "complete_integrals",
    "contact_pressure",
    "efficiency",
    "facing_load",
    "from_torque",
    "limit_curve",
    "peak_pressure",
    "reach",
    "reach_and_slope",
    "side_capacity",
    "thrust",
    "tilt",
    "tilt_force",
    "torque_capacity",
    "torque_for",
    "torque_radius",
    "torque_to_release",
    "turning_centre",
]
