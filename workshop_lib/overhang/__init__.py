"""How far does the rim bend, at what note does it ring, and how far does the nose's push spread?"""

from workshop_lib.overhang.rim import (
    CANDIDATES,
    LEAST_PAD,
    MOST_MODES,
    ROUNDS,
    STUBBY,
    natural_frequencies,
    pad_for,
    rim_deflection,
    rim_shape,
    rim_stiffness,
    ring_deflection,
    understatement,
)
from workshop_lib.overhang.spreading import facing_modulus, rim_share, spreading_length
from workshop_lib.overhang.strikes import nearest_resonance, strike_frequency

__all__ = [
    "CANDIDATES",
    "LEAST_PAD",
    "MOST_MODES",
    "ROUNDS",
    "STUBBY",
    "facing_modulus",
    "natural_frequencies",
    "nearest_resonance",
    "pad_for",
    "rim_deflection",
    "rim_shape",
    "rim_share",
    "rim_stiffness",
    "ring_deflection",
    "spreading_length",
    "strike_frequency",
    "understatement",
]
