"""How much farther does the rim bend, and how much lower does it ring, on a soft facing?

Model: a flat disc that lies on the facing's springs and is held down by the thrust, whose plate
follows the disc. `rim_deflection` and `natural_frequencies`, clamped at the pad's edge, are what an
endlessly stiff facing and plate would give: no rim bends less than that, and none rings higher.
"""

from functools import lru_cache

import numpy as np

from workshop_lib.materials import find_material
from workshop_lib.overhang.plate import rigidity
from workshop_lib.overhang.springs import lowest_on_springs, parameters_on_springs, point_on_springs
from workshop_lib.quantities import InputError, boundary, one_value, whole_number

MOST_MODES = 12
LEAST_SHARE, MOST_SHARE = 0.05, 0.995  # of the disc's diameter: pads that the elements serve
LEAST_FACE = 0.002  # of the disc: narrower rings cost the sum its figures
LEAST_KAPPA = 1e-6  # 20 mm of steel, 20 mm across, on 10 mm of the softest felt has twice as much
NO_HOLE = 1e-5  # of the disc: so small a hole takes nothing from the face, and costs figures too
_SHEET = {
    "disc_diameter": "length > 0",
    "pad_diameter": "length > 0",
    "thickness": "length > 0",
    "material": find_material,
    "facing_modulus": "pressure > 0",
    "facing_thickness": "length > 0",
    "inner_diameter": "length >= 0",
}


def _scaled(disc, pad, thickness, material, modulus, facing_thickness, inner):
    """The pad's ratios, Poisson's, the springs' kappa, rigidity and radius; broadcast, flat."""
    core = material.core
    ratio, hole = np.divide(pad, disc), np.divide(inner, disc)
    if np.any(ratio > MOST_SHARE) or np.any(ratio < LEAST_SHARE):
        problem = f"must be from {LEAST_SHARE} to {MOST_SHARE} of the disc for this sum"
        raise InputError("pad_diameter", problem)
    if np.any(hole > ratio - LEAST_FACE):
        problem = f"must be smaller than the pad by at least {LEAST_FACE} of the disc"
        raise InputError("inner_diameter", problem)
    hole = np.where(hole < NO_HOLE, 0.0, hole)
    stiff = rigidity(core.youngs_modulus, core.poisson_ratio, thickness)
    kappa = np.divide(modulus, facing_thickness) * (disc / 2) ** 4 / stiff
    if np.any(kappa < LEAST_KAPPA):
        problem = "is so great that the disc rocks like a block instead of bending"
        raise InputError("thickness", problem, "Check its unit")
    return np.broadcast_arrays(hole, ratio, core.poisson_ratio, kappa, stiff, np.divide(disc, 2))


def _each(function, scaled):
    hole, ratio, nu, kappa = (np.ravel(each) for each in scaled[:4])
    found = [function(*map(float, one)) for one in zip(hole, ratio, nu, kappa, strict=True)]
    return np.reshape(found, (*np.shape(scaled[0]), *np.shape(found[0])))


@boundary(returns="length", force="force >= 0", **_SHEET)
def soft_rim_deflection(
    force,
    disc_diameter,
    pad_diameter,
    thickness,
    material,
    facing_modulus,
    facing_thickness,
    inner_diameter="0 mm",
):
    """How far does the rim bend under a force at one point of it, on a pad with a soft facing?

    The sheet is a plate on springs: D grad⁴ w + k w = 0 over the pad's face and D grad⁴ w = 0
    beyond it, k = E_f/t_f, the force at the free rim; all harmonics n = 0, 1, 2 … are summed.

    force: across the sheet, at the rim, towards the pad. disc_diameter, pad_diameter,
    inner_diameter (of a relieved middle), thickness: lengths. material: key or `Material`.
    facing_modulus: a pressure, see `facing_modulus`. facing_thickness: of the facing. All broadcast
    together. Returns a length in mm, at the loaded point. Raises InputError, also for a pad of less
    than 0.05 or more than 0.995 of the disc. Notes: springs that do not shear and push or pull
    alike, which is so while the thrust still presses everywhere, see `lift_share`; the plate behind
    the sheet follows it and lends no stiffness. A rigid plate that holds the sheet down where it
    would rise, and lets go where it sinks, would bend a fifth less: 0.084 mm in the example below,
    by two independent computations. It is not modelled: where the two touch would have to be found
    again for every force and thrust, no nose holds its plate so square, and the greater bend is the
    safe one. Source: timoshenko-plates.

    The cover of the tide gauge on leather, against 0.015 mm if it were clamped:
    >>> sheet = ("78 mm", "70 mm", "0.635 mm", "stainless_steel")
    >>> print(soft_rim_deflection("24 N", *sheet, "50 MPa", "3 mm").round(3))
    0.106 mm
    """
    sheet = (disc_diameter, pad_diameter, thickness, material)
    scaled = _scaled(*sheet, facing_modulus, facing_thickness, inner_diameter)
    return (_each(point_on_springs, scaled) * force * scaled[5] ** 2 / scaled[4])[()]


@boundary(returns="ratio", force="force >= 0", thrust="force > 0", **_SHEET)
def lift_share(
    force,
    thrust,
    disc_diameter,
    pad_diameter,
    thickness,
    material,
    facing_modulus,
    facing_thickness,
    inner_diameter="0 mm",
):
    """What share of the pressing does the rim's force take away where the sheet lifts most?

    The lift of `soft_rim_deflection` times k, over the even pressure of the thrust on the pad.

    force: at the rim. thrust: of the tailstock. disc_diameter, pad_diameter, thickness, material,
    facing_modulus, facing_thickness, inner_diameter: as in `soft_rim_deflection`. Broadcast
    together. Returns a ratio: above 1 the sheet comes off its facing there, and the sum for the
    bend is too small. Raises InputError. Source: timoshenko-plates.

    >>> sheet = ("78 mm", "70 mm", "0.635 mm", "stainless_steel")
    >>> lift_share("24 N", "1000 N", *sheet, "50 MPa", "3 mm") < 0.25
    True
    """
    sheet = (disc_diameter, pad_diameter, thickness, material)
    scaled = _scaled(*sheet, facing_modulus, facing_thickness, inner_diameter)
    lift = -_each(lowest_on_springs, scaled) * force * scaled[5] ** 2 / scaled[4]
    area = np.pi / 4 * (np.square(pad_diameter) - np.square(inner_diameter))
    return (lift * np.divide(facing_modulus, facing_thickness) * area / thrust)[()]


@boundary(returns="frequency", modes=whole_number(1, MOST_MODES), **_SHEET)
def soft_frequencies(
    disc_diameter,
    pad_diameter,
    thickness,
    material,
    facing_modulus,
    facing_thickness,
    inner_diameter="0 mm",
    modes=4,
):
    """At which frequencies does a disc ring on a pad with a soft facing?

    The plate on springs of `soft_rim_deflection`, the lowest mode with n = 0, 1, 2 … nodal
    diameters: f = lambda²/(2 pi a²) × sqrt(D/(density × t)).

    disc_diameter, pad_diameter, thickness, material, facing_modulus, facing_thickness,
    inner_diameter: as there. modes: how many, from 1 to 12, on a last axis. Broadcast together.
    Returns frequencies in Hz. Raises InputError. Notes: the mass of pad and nose is left out, and
    damping, of which a soft facing has much. Source: timoshenko-plates.

    On a facing without end of stiffness it is the clamped plate, 341 Hz (see
    `natural_frequencies`):
    >>> sheet = ("100 mm", "30 mm", "0.55 mm", "stainless_steel")
    >>> bool(soft_frequencies(*sheet, "50 MPa", "3 mm", modes=2)[1].m < 341)
    True
    """
    sheet = (disc_diameter, pad_diameter, thickness, material)
    scaled = _scaled(*sheet, facing_modulus, facing_thickness, inner_diameter)

    def lowest(*plate):
        return parameters_on_springs(*plate, np.arange(modes))

    wave = np.sqrt(scaled[4] / (material.core.density * np.asarray(thickness)))
    scale = wave / (2 * np.pi * scaled[5] ** 2)
    return _each(lowest, scaled) * scale[..., None]


PAD_SHARES = np.linspace(0.1, 0.97, 60)  # pads of the curve, as shares of the disc
_COARSE = PAD_SHARES[[0, 3, 7, 15, 23, 30, 36, 42, 47, 51, 54, 57, 59]]  # of them, those calculated
_DEGREE = 10  # of the polynomial between them
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
    stiffnesses of the facing's springs, which are kept: within 1 %, for drawing a curve.

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
        raise InputError("thickness", "is far too thick or too thin for a sheet on this facing")
    place = _OCTAVE * np.log2(kappa)
    step = int(np.floor(place))
    low, high = (_reckoned(core.poisson_ratio, each) for each in (step, step + 1))
    between = np.polynomial.Chebyshev.fit(_COARSE, low + (place - step) * (high - low), _DEGREE)
    return np.exp(between(PAD_SHARES)) * force * radius**2 / stiff


@lru_cache(maxsize=64)
def _reckoned(nu, step):
    """Logarithms of the bend over F a²/D on springs of 2^(step/2), at the coarse sizes of pads."""
    kappa = 2.0 ** (step / _OCTAVE)
    return np.log([point_on_springs(0.0, float(ratio), nu, kappa) for ratio in _COARSE])
