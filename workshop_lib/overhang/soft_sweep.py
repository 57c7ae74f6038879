"""How far does the rim bend on pads of any size? A curve for a chart, read between few sums."""

from functools import lru_cache

import numpy as np

from workshop_lib.materials import find_material
from workshop_lib.overhang.plate import rigidity
from workshop_lib.overhang.springs import point_on_springs
from workshop_lib.quantities import InputError, boundary, one_value

PAD_SHARES = np.linspace(0.1, 0.97, 60)  # pads of the curve, as shares of the disc
_COARSE = PAD_SHARES[[0, 3, 7, 15, 23, 30, 36, 42, 47, 51, 54, 57, 59]]  # of them, those reckoned
LEAST, MOST = 0.01, 1e10  # springs against the sheet, k a⁴/D, that the elements serve
_OCTAVE = 2  # steps in which the springs' stiffness is doubled


@boundary(
    returns="length",
    force="force >= 0",
    disc_diameter="length > 0",
    thickness="length > 0",
    material=find_material,
    facing_modulus="pressure > 0",
    facing_thickness="length > 0",
)
def soft_rim_curve(force, disc_diameter, thickness, material, facing_modulus, facing_thickness):
    """How far does the rim bend on pads from a tenth of the disc to nearly all of it?

    `soft_rim_deflection` for pads of PAD_SHARES times the disc, read between a dozen pads and two
    stiffnesses of the facing's springs, which are kept: within 2 %, for drawing a curve.

    force: at one point of the rim. disc_diameter, thickness, facing_thickness: lengths. material:
    key or `Material`. facing_modulus: a pressure. Single values. Returns lengths in mm, one for
    each pad. Raises InputError, also for a block that is no sheet on its facing. Source:
    timoshenko-plates.

    >>> curve = soft_rim_curve("24 N", "78 mm", "0.635 mm", "stainless_steel", "50 MPa", "3 mm")
    >>> bool(abs(np.interp(70 / 78, PAD_SHARES, curve.m) - 0.106) < 0.004)
    True
    """
    one_value(disc_diameter=disc_diameter, thickness=thickness)
    one_value(facing_modulus=facing_modulus, facing_thickness=facing_thickness, force=force)
    core, radius = material.core, disc_diameter / 2
    stiff = rigidity(core.youngs_modulus, core.poisson_ratio, thickness)
    kappa = facing_modulus / facing_thickness * radius**4 / stiff
    if not LEAST <= kappa <= MOST:
        raise InputError("thickness", "is far from that of a sheet on such a facing")
    place = _OCTAVE * np.log2(kappa)
    step = int(np.floor(place))
    low, high = (_reckoned(core.poisson_ratio, each) for each in (step, step + 1))
    bent = np.interp(PAD_SHARES, _COARSE, low + (place - step) * (high - low))
    return np.exp(bent) * force * radius**2 / stiff


@lru_cache(maxsize=64)
def _reckoned(nu, step):
    """Logarithms of the bend over F a²/D on springs of 2^(step/2), at the coarse sizes of pads."""
    kappa = 2.0 ** (step / _OCTAVE)
    return np.log([point_on_springs(0.0, float(ratio), nu, kappa) for ratio in _COARSE])
