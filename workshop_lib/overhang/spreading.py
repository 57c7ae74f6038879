"""Does the nose load the pad's face to its rim? How far a sheet spreads what presses on it.

The sheet is a plate that lies on the pad's facing as on springs. Beyond the edge of the nose it
presses on the facing only because it is stiff, and a thin sheet is stiff for a few millimetres. A
pad that reaches out further is no larger pad: its rim holds nothing, whatever its diameter.
"""

import warnings

import numpy as np

from workshop_lib import sources
from workshop_lib.materials import facing as find_facing
from workshop_lib.materials import find_material
from workshop_lib.overhang.plate import rigidity
from workshop_lib.quantities import Q_, InputError, OutOfRangeWarning, boundary, show
from workshop_lib.sources import Range, csv_tables

TURN = np.exp(1j * np.pi / 4)
STRAIGHT, LOST = 1e3, 50.0  # spreading lengths: an edge is as good as straight; nothing is left
_COLUMNS = {
    "facing": csv_tables.key,
    **dict.fromkeys(("low", "typical", "high"), csv_tables.number(0.01, 1e6)),
    "source": sources.keys_in_cell,
    "note": csv_tables.anything,
}
_SHEET = {
    "material": find_material,
    "thickness": "length > 0",
    "facing_modulus": "pressure > 0",
    "facing_thickness": "length > 0",
}


def _moduli(rows):
    return csv_tables.by_key(rows, "facing")


def facing_modulus(facing):
    """How stiff is a facing when it is pressed?

    facing: key or `Facing`. Returns a `Range` of three moduli in MPa: low, typical, high. Raises
    InputError for a facing that is not in `facing_stiffness.csv`. Notes: from memory throughout;
    squeeze yours between two plates and measure where it matters. Source: one for each row.

    >>> print(facing_modulus("leather").typical)
    50.0 MPa
    """
    row = csv_tables.load("facing_stiffness.csv", _COLUMNS, _moduli).get(find_facing(facing).key)
    if row is None:
        problem = f"nothing is known of the stiffness of {find_facing(facing).name}"
        raise InputError("facing", problem, "Give its modulus, such as '50 MPa'")
    cited = row["source"]
    three = (Q_(value, "MPa") for value in row.ordered("low", "typical", "high"))
    return Range(*three, sources=cited, standing=sources.standing(cited), note=row["note"])


@boundary(returns="length", **_SHEET)
def spreading_length(material, thickness, facing_modulus, facing_thickness):
    """How far beyond the edge of what presses on it does a sheet spread the load?

    l = (D/k)^(1/4), D = E t³/(12 (1 − nu²)) the sheet's rigidity, k = E_f/t_f the facing's
    stiffness for each unit of area. Beyond a long straight edge the pressure falls as
    exp(−x/√2 l) cos(x/√2 l)/2: to a fifth of that under the nose at one length, to none at 2.2.

    material: key or `Material` of the sheet. thickness: of the sheet. facing_modulus: a pressure;
    see `facing_modulus` in this module. facing_thickness: of the facing. All broadcast together.
    Returns a length in mm. Raises InputError.
    Notes: linear springs that do not shear; a facing gripped by a rough pad is stiffer than k.
    Source: timoshenko-plates.

    By hand, 0.6 mm stainless, D = 3.82 N·m, on 3 mm of leather of 50 MPa, k = 16.7 GN/m³:
    >>> print(spreading_length("stainless_steel", "0.6 mm", "50 MPa", "3 mm").round(2))
    3.89 mm
    """
    core = material.core
    stiff = rigidity(core.youngs_modulus, core.poisson_ratio, thickness)
    return (stiff * np.divide(facing_thickness, facing_modulus)) ** 0.25


def pressed(radius, edge, rim, hold):
    """Pressure on the facing over that of the nose, bare; all arrays (m,), in spreading lengths.

    A plate on springs as far as the pad's rim, under an even load as far as the nose's edge, which
    lies within the rim: w = Re[1 − z_a K1(z_a) I0(z)] inside the edge and Re[z_a I1(z_a) K0(z)]
    outside it, z = radius e^(i pi/4), plus Re[c I0(z)]. The constant c leaves no shear force at the
    rim, and there curvature = hold × slope, with which the overhanging sheet resists.
    """
    inner, outer = TURN * np.minimum(radius, edge), TURN * np.maximum(radius, edge)
    place, at_edge, at_rim = TURN * radius, TURN * edge, TURN * rim
    inside = 1 - at_edge * scaled_k(1, at_edge) * scaled_i(0, inner) * np.exp(inner - outer)
    push = at_edge * scaled_i(1, at_edge)
    outside = push * scaled_k(0, outer) * np.exp(inner - outer)
    factor = _from_rim(push * np.exp(at_edge - at_rim), at_rim, hold)
    turned = factor * scaled_i(0, place) * np.exp(place - at_rim)
    return np.where(radius <= edge, inside, outside).real + turned.real


def _from_rim(push, at_rim, hold):
    """The complex constant c of `pressed`, times e^(z) at the rim."""
    bent = [push * scaled_k(order, at_rim) for order in (0, 1)]
    free = [scaled_i(order, at_rim) for order in (0, 1)]

    def conditions(value, slope):
        """Shear force, and curvature less what the overhang holds; the laplacian is i × value."""
        return 1j * slope, 1j * value - hold * slope

    here = conditions(bent[0], -TURN * bent[1])
    own = conditions(free[0], TURN * free[1])
    matrix = np.stack([np.stack([each.real, -each.imag], axis=-1) for each in own], axis=-2)
    wanted = -np.stack([each.real for each in here], axis=-1)
    solved = np.linalg.solve(matrix, wanted[..., None])[..., 0]
    return solved[:, 0] + 1j * solved[:, 1]


@boundary(
    returns="ratio",
    nose_diameter="length > 0",
    pad_diameter="length > 0",
    disc_diameter="length > 0",
    **_SHEET,
)
def rim_share(
    nose_diameter,
    pad_diameter,
    disc_diameter,
    material,
    thickness,
    facing_modulus,
    facing_thickness,
):
    """How hard is the pad's rim still pressed when the nose is smaller than the pad?

    The pressure on the facing at the pad's rim over that in the middle, for a sheet that the nose
    presses evenly: p = k w, with D grad⁴ w + k w = q under the nose and q = 0 beyond it. Its scale
    is `spreading_length`.

    nose_diameter, pad_diameter: of the faces that press. disc_diameter: of the sheet. material,
    thickness, facing_modulus, facing_thickness: as in `spreading_length`. All broadcast together.
    Returns a ratio: 1 where the rim is pressed like the middle, as under a nose at least as large
    as the pad; 0 where it is not pressed at all. Raises InputError. Warns where the pad stands out
    beyond the nose by more than the spreading length: its rim then holds next to nothing, and the
    pressure laws of `Pad`, which reach to the rim, promise too much.
    Notes: full pad; the facing is taken to pull too where the sheet would lift off, which makes the
    rim's share a little wrong there and never more than nothing. Source: timoshenko-plates.

    A sheet ten times as thick as in `spreading_length` carries a 20 mm nose's load to the rim:
    >>> cut = {"nose_diameter": "20 mm", "pad_diameter": "30 mm", "disc_diameter": "78 mm"}
    >>> pad = {"facing_modulus": "50 MPa", "facing_thickness": "3 mm"}
    >>> round(rim_share(**cut, **pad, material="stainless_steel", thickness="6 mm"), 2) > 0.9
    True
    """
    if np.any(np.asarray(disc_diameter) < pad_diameter):
        raise InputError("disc_diameter", "must not be smaller than the pad")
    scale = spreading_length.core(material, thickness, facing_modulus, facing_thickness)
    _warn_of_small_nose(nose_diameter, pad_diameter, scale)
    sizes = nose_diameter / 2 / scale, pad_diameter / 2 / scale, disc_diameter / 2 / scale
    shape = np.broadcast_shapes(*map(np.shape, sizes))
    edge, rim, end = (np.broadcast_to(size, shape).ravel().astype(float) for size in sizes)
    nu = material.core.poisson_ratio
    whole, within = rim, np.minimum(edge, rim)
    away = np.minimum(rim - within, LOST)
    within = np.minimum(within, STRAIGHT)
    rim = within + away
    hold = 2 / rim / (1 + (end / whole) ** 2 * (1 + nu) / (1 - nu))
    middle = pressed(np.zeros_like(rim), within, rim, hold)
    share = np.clip(pressed(rim, within, rim, hold) / middle, 0.0, 1.0)
    return np.where(edge >= whole, 1.0, share).reshape(shape)[()]


def _warn_of_small_nose(nose_diameter, pad_diameter, scale):
    beyond = (pad_diameter - nose_diameter) / 2
    if np.any(beyond > scale):
        worst = float(np.max(np.where(beyond > scale, beyond, 0.0)))
        told = [show(Q_(1e3 * float(each), "mm")) for each in (worst, np.min(scale))]
        warnings.warn(
            f"The pad stands out beyond the nose by {told[0]}, but the sheet spreads the nose's "
            f"load only about {told[1]}: the pad's rim holds next to nothing. Take a nose as large "
            "as the pad, or lay a thick, flat disc between nose and sheet.",
            OutOfRangeWarning,
            stacklevel=4,
        )


SCALES = 9.0  # the integrand of a K has fallen below 1e-17 of its size so many widths away


def scaled_i(order, argument):
    """I_n(z) e^(−z) for complex z, Re z >= 0, shape (m,), as (1/pi) ∫ e^(z (cos t − 1)) cos nt dt.

    >>> scaled_i(0, np.array([0.0])).real
    array([1.])
    """
    argument = np.asarray(argument, dtype=complex)
    points = 40 + int(20 * np.sqrt(np.abs(argument).max()))
    angle = np.linspace(0, np.pi, points + 1)
    weight = np.full(points + 1, 1 / points)
    weight[[0, -1]] /= 2
    inside = np.exp(argument[:, None] * (np.cos(angle) - 1))
    return (inside * np.cos(order * angle)) @ weight


def scaled_k(order, argument):
    """K_n(z) e^z for complex z, Re z > 0, shape (m,), as ∫ e^(−z (cosh t − 1)) cosh nt dt.

    >>> z = np.array([0.5 + 0.5j])  # I0 K1 + I1 K0 = 1/z
    >>> product = scaled_i(0, z) * scaled_k(1, z) + scaled_i(1, z) * scaled_k(0, z)
    >>> bool(np.isclose(product[0] * z[0], 1))
    True
    """
    argument = np.asarray(argument, dtype=complex)[:, None]
    furthest = np.arccosh(1 + SCALES**2 / 2 / argument.real)
    step = furthest / 400
    place = step * np.arange(401)
    inside = np.exp(-argument * (np.cosh(place) - 1)) * np.cosh(order * place)
    return step[:, 0] * (inside.sum(axis=1) - inside[:, 0] / 2)
