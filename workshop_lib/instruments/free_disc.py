"""At what notes does a disc ring that hangs free, and what sheet does a note tell of?

A free round plate of radius R rings at f = lambda² / (2 pi R²) sqrt(D / (rho h)), D = E h³ /
(12 (1 − nu²)). lambda² by Rayleigh and Ritz: rho^n times Legendre polynomials in rho², which hold
the true shapes to many figures; the plate's rigid motions are left out.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from workshop_lib.gauges import identify
from workshop_lib.materials import find_material, materials
from workshop_lib.quantities import InputError, as_shown, boundary, one_value, show, whole_number

TERMS = 12
PLACES = 40
HIGHEST = 6  # nodal diameters looked at
RIGID = 1e-3  # lambda² below this is no bending
YOUNGS_SPREAD = 0.05  # half-width of a sheet's modulus about the table's (common practice)
COVER = 2.0


@dataclass(frozen=True)
class Shape:
    """A mode: nodal diameters, nodal circles, and lambda²."""

    diameters: int
    circles: int
    parameter: float

    def __str__(self):
        across = f"{self.diameters} nodal diameter{'s' * (self.diameters != 1)}"
        round_it = f"{self.circles} nodal circle{'s' * (self.circles != 1)}"
        if not self.circles:
            return across
        return f"{across}, {round_it}" if self.diameters else round_it


@lru_cache(maxsize=64)
def free_shapes(poisson_ratio):
    """Return the lowest modes of a free plate as `Shape`s, lowest first."""
    found = []
    for diameters in range(HIGHEST + 1):
        values = _parameters(diameters, poisson_ratio)
        values = values[values > RIGID]
        first = 1 if diameters < 2 else 0
        found += [Shape(diameters, first + i, float(v)) for i, v in enumerate(values[:3])]
    found.sort(key=lambda shape: shape.parameter)
    return tuple(shape for shape in found if shape.parameter < 60)


def _parameters(n, nu):
    """lambda² of all modes with n nodal diameters that the polynomials hold, rising."""
    node, weight = np.polynomial.legendre.leggauss(PLACES)
    r, weight = (node + 1) / 2, weight / 2
    shape, slope, bend = [], [], []
    for term in range(TERMS):
        basis = np.polynomial.Legendre.basis(term)(np.polynomial.Polynomial([-1, 0, 2]))
        radial = basis * np.polynomial.Polynomial([0, 1]) ** n
        shape.append(radial(r))
        slope.append(radial.deriv()(r))
        bend.append(radial.deriv(2)(r))
    shape, slope, bend = (np.array(each).T for each in (shape, slope, bend))
    r = r[:, None]
    across = slope / r - n**2 * shape / r**2
    twist = n * (slope / r - shape / r**2)
    curve = bend + across
    area = weight[:, None] * r
    stiff = curve.T @ (area * curve) - (1 - nu) * (
        bend.T @ (area * across) + across.T @ (area * bend) - 2 * twist.T @ (area * twist)
    )
    moving = shape.T @ (area * shape)
    root = np.linalg.inv(np.linalg.cholesky(moving))
    return np.sqrt(np.maximum(np.linalg.eigvalsh(root @ stiff @ root.T), 0))


@boundary(
    returns="frequency",
    diameter="length > 0",
    thickness="length > 0",
    material=find_material,
    modes=whole_number(1, 8),
)
def free_frequencies(diameter, thickness, material, modes=4):
    """At what notes does a disc ring that hangs on a thread?

    f = lambda² / (2 pi R²) sqrt(E h² / (12 rho (1 − nu²))).

    diameter: of the disc. thickness: h. material: key or `Material`. modes: how many, lowest first,
    1 to 8. Single values. Returns frequencies in Hz, shape (modes,). Raises InputError.
    Notes: a thin flat plate in air; a thread takes nothing from it.
    Source: leissa-1969 for lambda².

    By hand: lambda² = 5.38 for steel; R = 50 mm, h = 1 mm, E = 207 GPa, rho = 7850 kg/m³:
    5.38 / (2 pi × 0.0025 m²) × sqrt(207e9 × 1e-6 / (12 × 7850 × 0.916)) = 530 Hz.
    >>> print(free_frequencies("100 mm", "1 mm", "mild_steel", modes=2).round(-1))
    [530.0 890.0] Hz
    """
    one_value(diameter=diameter, thickness=thickness)
    return _factor(diameter, material) * thickness * _lambdas(material, modes)


def _lambdas(material, modes):
    shapes = free_shapes(float(material.core.poisson_ratio))
    return np.array([shape.parameter for shape in shapes[:modes]])


def _factor(diameter, material):
    """f / (lambda² h): what size and sheet make of it."""
    core = material.core
    speed = np.sqrt(core.youngs_modulus / (12 * core.density * (1 - core.poisson_ratio**2)))
    return speed * 4 / (2 * np.pi * diameter**2)


@dataclass(frozen=True, eq=False)
class Sheet:
    """What a note says about one material, if the note is this mode.

    thickness_core, standard: m; what the sheet must measure. agrees: whether a measured thickness
    lies within the doubt (None without one). gauges: nearest gauges of this material's table.
    """

    material: object
    shape: Shape
    thickness_core: float
    standard: float
    agrees: bool | None
    gauges: tuple

    @property
    def thickness(self):
        """The thickness that rings so."""
        return as_shown(self.thickness_core, "length")

    @property
    def uncertainty(self):
        """Expanded uncertainty of that thickness (k = 2)."""
        return as_shown(COVER * self.standard, "length")

    def __str__(self):
        size, good = show(self.thickness), show(self.uncertainty, figures=2)
        end = {True: ": agrees", False: ": does not agree", None: ""}[self.agrees]
        return f"{self.material.name}, {self.shape}: {size} thick, good to {good}{end}"


@boundary(
    frequency="frequency > 0",
    frequency_uncertainty="frequency > 0",
    diameter="length > 0",
    diameter_uncertainty="length > 0",
    thickness="length > 0",
    thickness_uncertainty="length > 0",
    mode=whole_number(1, 8),
)
def sheet_from_note(
    frequency,
    frequency_uncertainty,
    diameter,
    diameter_uncertainty,
    thickness=None,
    thickness_uncertainty=None,
    mode=1,
):
    """Is this the material, and the gauge, that it was sold as?

    h = 2 pi R² f / lambda² × sqrt(12 rho (1 − nu²) / E) for every material of the table.

    frequency, frequency_uncertainty: of the note of the free disc, the latter a standard one, as
    diameter, diameter_uncertainty: of the disc. thickness, thickness_uncertainty: measured, or
    None. mode: which note it is, 1 the lowest (two nodal diameters), to 8. Single values.
    Returns a tuple of `Sheet`s, one for each material, those that agree first. Raises InputError.
    Notes: the modulus of the table is taken as good to 5 % either way (common practice), which is
    2.9 % of the thickness at k = 2; mild steel and aluminium of one thickness ring nearly alike,
    because E / rho is nearly alike: weigh the disc to tell them.
    Source: leissa-1969; astm-e1876 for the procedure.

    The 100 mm disc of 1 mm mild steel from above rings at about 530 Hz:
    >>> found = sheet_from_note("530 Hz", "1 Hz", "100 mm", "0.05 mm", "1 mm", "0.01 mm")
    >>> [sheet.material.key for sheet in found if sheet.agrees]
    ['mild_steel', 'galvanized_steel', 'aluminium']
    """
    one_value(frequency=frequency, diameter=diameter, thickness=thickness)
    one_value(frequency_uncertainty=frequency_uncertainty)
    one_value(diameter_uncertainty=diameter_uncertainty)
    one_value(thickness_uncertainty=thickness_uncertainty)
    if (thickness is None) != (thickness_uncertainty is None):
        mend = "Give thickness and its standard uncertainty together"
        raise InputError(
            "thickness_uncertainty", "needs a thickness, and a thickness needs it", mend
        )
    found = []
    for material in materials():
        shape = free_shapes(float(material.core.poisson_ratio))[mode - 1]
        needed = frequency / (_factor(diameter, material) * shape.parameter)
        parts = (
            frequency_uncertainty / frequency,
            2 * diameter_uncertainty / diameter,
            YOUNGS_SPREAD / np.sqrt(3) / 2,
        )
        standard = float(needed * np.sqrt(np.sum(np.square(parts))))
        agrees = None
        if thickness is not None:
            agrees = bool(
                abs(needed - thickness) <= COVER * np.hypot(standard, thickness_uncertainty)
            )
        table = (material.gauge_table,) if material.gauge_table else None
        near = tuple(identify.core(needed, table)) if table else ()
        found.append(Sheet(material, shape, float(needed), standard, agrees, near))
    return tuple(sorted(found, key=lambda sheet: sheet.agrees is False))


@boundary(
    returns="pressure",
    frequency="frequency > 0",
    diameter="length > 0",
    thickness="length > 0",
    mass="mass > 0",
    poisson_ratio="ratio > 0",
    mode=whole_number(1, 8),
)
def modulus_from_note(frequency, diameter, thickness, mass, poisson_ratio, mode=1):
    """How stiff is the sheet's material, from the note, the size and the mass of a free disc?

    E = 12 (1 − nu²) rho / h² × (2 pi R² f / lambda²)², rho = m / (pi R² h).

    frequency: of the note. diameter, thickness: of the disc. mass: its mass. poisson_ratio: plain
    number below 0.5 (0.3 for steels, 0.33 aluminium). mode: which note, 1 the lowest, to 8. Single
    values. Returns a pressure in MPa. Raises InputError. Source: leissa-1969; astm-e1876.

    By hand, the same 530 Hz: a mass of 61.8 g makes 7870 kg/m³, and E about 207 GPa.
    >>> round(modulus_from_note("530 Hz", "100 mm", "1 mm", "61.8 g", 0.29).m_as("GPa"), -1)
    210.0
    """
    one_value(frequency=frequency, diameter=diameter, thickness=thickness)
    one_value(mass=mass, poisson_ratio=poisson_ratio)
    if poisson_ratio >= 0.5:
        raise InputError("poisson_ratio", "is below 0.5 for every sheet", "Steels have 0.3")
    parameter = free_shapes(float(poisson_ratio))[mode - 1].parameter
    radius = diameter / 2
    density = mass / (np.pi * radius**2 * thickness)
    swing = 2 * np.pi * radius**2 * frequency / parameter
    return 12 * (1 - poisson_ratio**2) * density / thickness**2 * swing**2


def match_modes(frequencies, poisson_ratio):
    """Which modes are these notes? Return the `Shape`s whose ratios fit them best, and the misfit.

    frequencies: Hz, rising. The lowest note heard may be any of the first three. Two materials of
    one shape give the same ratios, so that this tells modes and no material.
    """
    frequencies = np.sort(np.asarray(frequencies, float))
    shapes = free_shapes(float(poisson_ratio))
    best = None
    for first in shapes[:3]:
        scale = frequencies / frequencies[0] * first.parameter
        each = [min(shapes, key=lambda s: abs(np.log(s.parameter / one))) for one in scale]
        miss = float(
            np.max(np.abs([np.log(s.parameter / x) for s, x in zip(each, scale, strict=True)]))
        )
        if best is None or miss < best[1] - 1e-6:
            best = tuple(each), miss
    return best
