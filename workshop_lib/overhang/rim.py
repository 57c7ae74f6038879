"""How far does the rim beyond the pad bend, how does it ring, how large a pad does it need?

Model: a flat disc of even thickness, clamped where its pad ends and free at its rim. A pad with a
soft facing, or a nose smaller than the pad, holds less firmly: real rims bend more and ring lower.
"""

import warnings

import numpy as np

from workshop_lib.materials import find_material
from workshop_lib.overhang.plate import (
    WIDEST,
    bent_shape,
    point_compliance,
    rigidity,
    ring_compliance,
)
from workshop_lib.overhang.vibration import frequency_parameters
from workshop_lib.quantities import (
    InputError,
    OutOfRangeWarning,
    boundary,
    common_shape,
    one_value,
    whole_number,
)

LEAST_PAD = 0.01  # of the disc's diameter; a smaller one is no clamp
STUBBY = 3  # thicknesses; a shorter overhang shears and gives at the clamp besides bending
MOST_MODES = 12
CANDIDATES, ROUNDS = 16, 6  # pads tried at a time: six rounds find one in 2e7
_DISC = {
    "disc_diameter": "length > 0",
    "pad_diameter": "length > 0",
    "thickness": "length > 0",
    "material": find_material,
}


def _pad_share(disc_diameter, pad_diameter):
    """The pad's diameter over the disc's; refuses one that the tool would cut, or a mere point."""
    share = np.divide(pad_diameter, disc_diameter)
    if np.any(share >= 1):
        mend = "The tool would cut the pad: choose a smaller one"
        raise InputError("pad_diameter", "must be smaller than the disc", mend)
    if np.any(share < LEAST_PAD):
        raise InputError(
            "pad_diameter", "is less than a hundredth of the disc, too small to clamp it"
        )
    return share


def _stiffness(material, thickness):
    return rigidity(material.core.youngs_modulus, material.core.poisson_ratio, thickness)


def _warn_of_stubby(disc_diameter, pad_diameter, thickness):
    if np.any((disc_diameter - pad_diameter) / 2 < STUBBY * thickness):
        _warn(
            f"The overhang is less than {STUBBY} thicknesses: the rim also shears and gives at the "
            "clamp, so it bends a little more than calculated."
        )


def _warn_of_large(deflection, thickness):
    if np.any(np.abs(deflection) > thickness / 2):
        _warn(
            "The rim bends by more than half its thickness; so far out it stiffens, and bends less "
            "than computed. It is much too far for turning."
        )


def _warn(words):
    warnings.warn(words, OutOfRangeWarning, stacklevel=6)


@boundary(returns="length", force="force >= 0", **_DISC)
def rim_deflection(force, disc_diameter, pad_diameter, thickness, material):
    """How far does the rim bend under a force at one point of it, such as a tool's?

    w = alpha F a²/D, D = E t³ / (12 (1 − nu²)), a the disc's radius; alpha is the sum of all
    harmonics n = 0, 1, 2 … of the plate equation, clamped at the pad's edge and free at the rim.

    force: across the sheet (axial), at the rim. disc_diameter, pad_diameter, thickness: lengths.
    material: key or `Material`. All broadcast together. Returns a length in mm, at the loaded
    point. Raises InputError, also for a pad that is not smaller than the disc. Warns for
    a bend of more than half the thickness, and for an overhang of less than three thicknesses.
    Notes: relative error of the sum below 1e-6; the sheet clamped firmly (see the module).
    Source: timoshenko-plates; the material's row for its elasticity.

    Half the thickness bends eight times as far:
    >>> bends = rim_deflection("0.1 N", "100 mm", "90 mm", ["0.5 mm", "1 mm"], "acrylic")
    >>> print((bends[0] / bends[1]).round(6))
    8.0
    """
    return _deflection(point_compliance, force, disc_diameter, pad_diameter, thickness, material)


@boundary(returns="length", force="force >= 0", **_DISC)
def ring_deflection(force, disc_diameter, pad_diameter, thickness, material):
    """How far would the rim bend if the same force were spread evenly round it?

    Harmonic 0 alone, a handbook's line load w = F / (2 pi a) on the free edge. It understates what
    a tool does at one point; see `understatement`.

    force, disc_diameter, pad_diameter, thickness, material: as for `rim_deflection`. Broadcast
    together. Returns a length in mm. Raises InputError. Warns as `rim_deflection` does.
    Source: roark-1l.

    By hand, a 100 mm disc on a 30 mm pad has 0.13895 in the handbook's table: 0.13895 × (1 N /
    (2 pi 50 mm)) × (50 mm)³ / 2.94 N·m.
    >>> print(ring_deflection("1 N", "100 mm", "30 mm", "0.55 mm", "stainless_steel").round(4))
    0.0188 mm
    """
    return _deflection(ring_compliance, force, disc_diameter, pad_diameter, thickness, material)


def _deflection(compliance, force, disc_diameter, pad_diameter, thickness, material):
    share = _pad_share(disc_diameter, pad_diameter)
    alpha = compliance(share, material.core.poisson_ratio)
    bend = alpha * force * (disc_diameter / 2) ** 2 / _stiffness(material, thickness)
    _warn_of_stubby(disc_diameter, pad_diameter, thickness)
    _warn_of_large(bend, thickness)
    return bend


@boundary(
    returns="ratio", disc_diameter="length > 0", pad_diameter="length > 0", material=find_material
)
def understatement(disc_diameter, pad_diameter, material):
    """How many times farther does one point bend than a force spread evenly round the rim?

    disc_diameter, pad_diameter: lengths. material: key or `Material`. Broadcast together. Returns a
    ratio above 1. Raises InputError. Notes: it grows without limit as the pad nears the disc, since
    less and less of the rim carries a point load. Source: timoshenko-plates, roark-1l.

    >>> round(understatement("100 mm", "30 mm", "stainless_steel"), 1)
    5.7
    """
    share, nu = _pad_share(disc_diameter, pad_diameter), material.core.poisson_ratio
    return point_compliance(share, nu) / ring_compliance(share, nu)


@boundary(returns="stiffness", **_DISC)
def rim_stiffness(disc_diameter, pad_diameter, thickness, material):
    """How stiff is the rim at one point: how many newtons for each millimetre?

    k = D / (alpha a²), see `rim_deflection`.

    disc_diameter, pad_diameter, thickness: lengths. material: key or `Material`. Broadcast
    together. Returns a stiffness in N/mm. Raises InputError. Warns for an overhang of less than
    three thicknesses. Source: timoshenko-plates.

    >>> print(rim_stiffness("100 mm", "30 mm", "0.55 mm", "stainless_steel").round(0))
    9.0 N/mm
    """
    share = _pad_share(disc_diameter, pad_diameter)
    _warn_of_stubby(disc_diameter, pad_diameter, thickness)
    alpha = point_compliance(share, material.core.poisson_ratio)
    return _stiffness(material, thickness) / (alpha * (disc_diameter / 2) ** 2)


@boundary(returns="length", force="force >= 0", angle="angle", radius="length >= 0", **_DISC)
def rim_shape(force, disc_diameter, pad_diameter, thickness, material, angle, radius=None):
    """Into what shape does one point load bend the disc?

    The same harmonics as in `rim_deflection`, at any radius and angle.

    force: at the rim. disc_diameter, pad_diameter, thickness: lengths. material: key or `Material`;
    these are single values. angle: from the loaded point; radius: from the centre, at most the
    disc's (None: at the rim); these broadcast. Returns a length in mm, 0 on the pad. Raises
    InputError, also for a pad of more than 0.99 of the disc. Notes: 400 harmonics; their rest is
    less than 1e-6 F a²/D. Source: timoshenko-plates.

    >>> disc = ("100 mm", "30 mm", "0.55 mm", "stainless_steel")
    >>> print(rim_shape("1 N", *disc, "0 deg", ["50 mm", "15 mm"]).round(2))
    [0.11 0.0] mm
    """
    one_value(force=force, disc_diameter=disc_diameter, pad_diameter=pad_diameter)
    one_value(thickness=thickness)
    share, size = _pad_share(disc_diameter, pad_diameter), disc_diameter / 2
    if share > WIDEST:
        raise InputError(
            "pad_diameter", f"no bent shape can be drawn for a pad larger than {WIDEST} of the disc"
        )
    out = 1.0 if radius is None else np.divide(radius, size)
    if np.any(out > 1 + 1e-9):
        raise InputError("radius", "is beyond the rim")
    shape = bent_shape(share, material.core.poisson_ratio, out, angle)
    return shape * force * size**2 / _stiffness(material, thickness)


@boundary(returns="frequency", modes=whole_number(1, MOST_MODES), **_DISC)
def natural_frequencies(disc_diameter, pad_diameter, thickness, material, modes=4):
    """At which frequencies does the disc ring on its pad?

    f = lambda² / (2 pi a²) × sqrt(D / (density × t)), for modes with n = 0, 1, 2 … nodal diameters
    and no nodal circle but the clamp: the umbrella, the tilting rim, the saddle, and so on.

    disc_diameter, pad_diameter, thickness: lengths. material: key or `Material`. modes: how many,
    a whole number from 1 to 12; entry n of the last axis has n nodal diameters. The sizes broadcast
    together. Returns frequencies in Hz, sizes' shape and modes. Raises InputError. Notes: clamped
    firmly, in air, at rest; by Rayleigh and Ritz to 1e-6. For pads below a third of the disc
    the lowest is n = 1; above two fifths, n = 0. Source: vogel-skinner-1965, leissa-1969.

    By hand: lambda² = 6.660 for n = 0 and 6.552 for n = 1 at 0.3; sqrt(2.94 / (8000 × 0.00055)) is
    0.8173 m²/s, and 6.660 × 0.8173 / (2 pi × 0.05²) = 346.5 Hz.
    >>> print(natural_frequencies("100 mm", "30 mm", "0.55 mm", "stainless_steel", 2).round(0))
    [347.0 341.0] Hz
    """
    share = _pad_share(disc_diameter, pad_diameter)
    wave = _stiffness(material, thickness) / (material.core.density * thickness)
    scale = np.sqrt(wave) / (2 * np.pi * (disc_diameter / 2) ** 2)
    parameters = frequency_parameters(share, material.core.poisson_ratio, range(modes))
    return parameters * np.asarray(scale)[..., None]


@boundary(
    returns="length",
    force="force > 0",
    disc_diameter="length > 0",
    thickness="length > 0",
    material=find_material,
    limit="length > 0",
)
def pad_for(force, disc_diameter, thickness, material, limit):
    """How large must the pad be, at least, to keep the rim's bend under a limit?

    force: at one point of the rim. disc_diameter, thickness, limit: lengths. material: key or
    `Material`. Broadcast together. Returns the least pad diameter in mm; a hundredth of the disc
    where any pad would do. Raises InputError. Notes: for bending alone; a larger pad is still
    wanted for torque, and a pad at the limit of the tool's reach is cut by it.
    Source: timoshenko-plates.

    >>> pad = pad_for("1 N", "100 mm", "0.55 mm", "stainless_steel", "0.1075091 mm")
    >>> print(pad.round(3))
    30.0 mm
    """
    common_shape(force=force, disc_diameter=disc_diameter, thickness=thickness, limit=limit)
    allowed = limit * _stiffness(material, thickness) / (force * (disc_diameter / 2) ** 2)
    allowed = np.asarray(allowed, float)[..., None]
    low, high = np.full_like(allowed, LEAST_PAD), np.ones_like(allowed)
    steps = np.linspace(0, 1, CANDIDATES + 2)
    for _ in range(ROUNDS):
        shares = low + (high - low) * steps
        bends = point_compliance(shares[..., 1:-1], material.core.poisson_ratio)
        place = (bends > allowed).sum(axis=-1, keepdims=True)
        low = np.take_along_axis(shares, place, axis=-1)
        high = np.take_along_axis(shares, place + 1, axis=-1)
    any_pad = point_compliance(LEAST_PAD, material.core.poisson_ratio) <= allowed
    return np.where(any_pad, LEAST_PAD, high)[..., 0] * disc_diameter
