"""How hard does the cut push, and what torque and side force does that make?"""

from workshop_lib.torque.cutting import (
    AXIAL_SHARE,
    CUTS,
    ESTIMATES,
    chip_load,
    cutting_force,
    cutting_torque,
    radial_shares,
    side_force,
    spindle_speed,
    warn_of_chip,
)
from workshop_lib.torque.factors import (
    EDGES,
    TOOLS,
    least_chip,
    nose_radius_factor,
    rake_factor,
    slow_factor,
    speed_factor,
    thickest_chip,
    thin_factor,
    wear_factor,
)

__all__ = [
    "AXIAL_SHARE",
    "CUTS",
    "EDGES",
    "ESTIMATES",
    "TOOLS",
    "chip_load",
    "cutting_force",
    "cutting_torque",
    "least_chip",
    "nose_radius_factor",
    "radial_shares",
    "rake_factor",
    "side_force",
    "slow_factor",
    "speed_factor",
    "spindle_speed",
    "thickest_chip",
    "thin_factor",
    "warn_of_chip",
    "wear_factor",
]
