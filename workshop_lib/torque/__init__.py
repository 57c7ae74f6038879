"""How hard does the cut push, and what torque and side force does that make?"""

from workshop_lib.torque.cutting import (
    AXIAL_SHARE,
    ESTIMATES,
    RADIAL_SOURCES,
    THICKEST_CHIP,
    THINNEST_CHIP,
    chip_load,
    cutting_force,
    cutting_torque,
    radial_shares,
    side_force,
    spindle_speed,
    warn_of_chip,
)

__all__ = [
    "AXIAL_SHARE",
    "ESTIMATES",
    "RADIAL_SOURCES",
    "THICKEST_CHIP",
    "THINNEST_CHIP",
    "chip_load",
    "cutting_force",
    "cutting_torque",
    "radial_shares",
    "side_force",
    "spindle_speed",
    "warn_of_chip",
]
