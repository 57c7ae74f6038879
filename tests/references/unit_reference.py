"""The size of every unit word that may be typed, from exact definitions and not from a library."""

import re
from fractions import Fraction

import numpy as np

from workshop_lib.quantities.kinds import KINDS

# Exact since 1959 (international yard and pound), 1901 (standard gravity) and by the SI.
INCH, FOOT = Fraction("0.0254"), Fraction("0.3048")
POUND, GRAVITY = Fraction("0.45359237"), Fraction("9.80665")
LBF, KGF = POUND * GRAVITY, GRAVITY
PSI = LBF / INCH**2
PI = Fraction(np.pi)
LENGTHS = {"mm": Fraction(1, 1000), "cm": Fraction(1, 100), "m": 1, "in": INCH, "ft": FOOT}
FORCES = {"N": 1, "kN": 1000, "mN": Fraction(1, 1000), "lbf": LBF, "kgf": KGF}


def words(text, factor):
    return dict.fromkeys(text.split(), factor)


# Every word that may be typed, with its size in the core unit (m, N, rad/s, m/s, Pa, kg, s …).
FACTORS = {
    "length": {
        **words("mm millimetre millimetres millimeter millimeters", Fraction(1, 1000)),
        **words("cm", Fraction(1, 100)),
        **words("m metre metres meter meters", 1),
        **words("um µm μm micron microns", Fraction(1, 10**6)),
        **words('in inch inches " ″ ”', INCH),
        **words("thou", INCH / 1000),
        **words("ft foot feet ' ′ ’", FOOT),
    },
    "force": {
        **words("N newton newtons", 1),
        **words("kN", 1000),
        **words("mN", Fraction(1, 1000)),
        **words("lbf", LBF),
        **words("kgf kp", KGF),
        **words("ozf", LBF / 16),
    },
    "speed": {
        **words("rpm RPM r/min rev/min revs/min min-1 min⁻¹", 2 * PI / 60),
        **words("rev/s", 2 * PI),
        **words("rad/s", 1),
    },
    "cutting_speed": {
        **words("m/min", Fraction(1, 60)),
        **words("m/s", 1),
        **words("mm/s", Fraction(1, 1000)),
        **words("ft/min sfm fpm", FOOT / 60),
    },
    "feed": {
        **words("mm/rev mm/r mm", Fraction(1, 1000)),
        **words("in/rev ipr in", INCH),
        **words("thou/rev thou", INCH / 1000),
        **words("um/rev µm/rev um µm", Fraction(1, 10**6)),
    },
    "angle": {
        **words("deg ° degree degrees", PI / 180),
        **words("rad", 1),
        **words("arcmin ' ′", PI / 180 / 60),
        **words("turn turns rev", 2 * PI),
    },
    "pressure": {
        **words("Pa", 1),
        **words("kPa", 10**3),
        **words("MPa N/mm² N/mm2 N/mm^2", 10**6),
        **words("GPa", 10**9),
        **words("bar", 10**5),
        **words("mbar", 100),
        **words("psi", PSI),
        # Conventional columns of mercury, NIST SP 811 appendix B.8, seven figures.
        **words("inHg", Fraction("3386.389")),
        **words("mmHg", Fraction("133.3224")),
    },
    "mass": {
        **words("kg", 1),
        **words("g gram grams", Fraction(1, 1000)),
        **words("lb lbs", POUND),
        **words("oz", POUND / 16),
    },
    "density": {
        **words("kg/m³ kg/m3 kg/m^3", 1),
        **words("g/cm³ g/cm3 g/cm^3", 1000),
    },
    "time": {
        **words("s sec second seconds", 1),
        **words("min minute minutes", 60),
        **words("h hour hours", 3600),
    },
    "frequency": {"Hz": 1, "kHz": 1000},
    "stiffness": {
        **words("N/mm", 1000),
        **words("N/m", 1),
        **words("kN/mm N/um N/µm", 10**6),
        **words("lbf/in", LBF / INCH),
    },
    "area": {
        **words("mm² mm2 mm^2", Fraction(1, 10**6)),
        **words("cm² cm2 cm^2", Fraction(1, 10**4)),
        **words("in² in2 in^2", INCH**2),
        "sq in": INCH**2,
    },
    "ratio": {"": 1, "%": Fraction(1, 100)},
}


def torque_factor(word):
    """Return the size of a torque unit from its two halves, whichever stands first."""
    halves = re.fullmatch(r"(k?m?N)(m|mm|cm)", word) or re.fullmatch(r"(\w+)[ ·*.-](\w+)", word)
    first, second = halves.groups()
    force, length = (first, second) if first in FORCES else (second, first)
    return FORCES[force] * LENGTHS[length]


def factor(kind, word):
    """Return the size of a unit word in the core unit of its kind, from this file's own table."""
    return torque_factor(word) if kind == "torque" else FACTORS[kind][word]


EVERY_WORD = [(name, word) for name, kind in KINDS.items() for word in kind.units]
