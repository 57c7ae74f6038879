"""How far does the rim bend, at what note does it ring, and how far does the nose's push spread?"""

from workshop_lib.overhang.rim import (
    natural_frequencies,
    pad_for,
    rim_deflection,
    rim_shape,
    rim_stiffness,
    ring_deflection,
    understatement,
)
from workshop_lib.overhang.soft_rim import (
    LEAST_SHARE,
    MOST_SHARE,
    PAD_SHARES,
    lift_share,
    soft_frequencies,
    soft_rim_curve,
    soft_rim_deflection,
)
from workshop_lib.overhang.spreading import facing_modulus, rim_share, spreading_length
from workshop_lib.overhang.strikes import (
    multiples_that_ring,
    nearest_resonance,
    own_frequencies,
    strike_factor,
    strike_factor_up_to,
    strike_frequency,
)

__all__ = [
    "LEAST_SHARE",
    "MOST_SHARE",
    "PAD_SHARES",
    "facing_modulus",
    "lift_share",
    "multiples_that_ring",
    "natural_frequencies",
    "nearest_resonance",
    "own_frequencies",
    "pad_for",
    "rim_deflection",
    "rim_shape",
    "rim_share",
    "rim_stiffness",
    "ring_deflection",
    "soft_frequencies",
    "soft_rim_curve",
    "soft_rim_deflection",
    "spreading_length",
    "strike_factor",
    "strike_factor_up_to",
    "strike_frequency",
    "understatement",
]
