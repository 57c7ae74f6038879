"""Which kinds of quantity are there, and which unit words may people type?

Each kind states the unit in which the library computes (`core`), the unit in which it answers
(`shown`), the words that a person may write after a number, and the largest magnitude that can be
meant. Anything outside that list is refused, so that no slip of the keyboard becomes a number.
"""

from dataclasses import dataclass, field

from workshop_lib.quantities.catalogue import say


@dataclass(frozen=True)
class Kind:
    """One kind of quantity: its core unit, the unit it is shown in, the words it is typed in."""

    name: str
    core: str
    shown: str
    example: str
    largest: float
    units: dict = field(repr=False)
    refused: dict = field(default_factory=dict, repr=False)

    @property
    def label(self):
        """The kind's name as a sentence says it."""
        return say(self.name.replace("_", " "))

    @property
    def article(self):
        """The label with its article."""
        plain = self.name.replace("_", " ")
        return say(f"an {plain}" if plain[0] in "aeiou" else f"a {plain}")


def _words(**spellings):
    """Turn unit=“word word” into a mapping of each word to its unit name."""
    return {word: unit for unit, words in spellings.items() for word in words.split("|")}


_MASS_NOT_FORCE = "{unit} is a mass; for a force write {better}"
_NO_GAUGE = "a gauge number is not a thickness; look it up in its own table first"
_NO_HERTZ = "turns per second and radians per second are easily confused; write rev/min or rad/s"

LENGTH = Kind(
    "length",
    core="m",
    shown="mm",
    example="30 mm",
    largest=1e3,
    units=_words(
        mm="mm|millimetre|millimetres|millimeter|millimeters",
        cm="cm",
        m="m|metre|metres|meter|meters",
        um="um|µm|μm|micron|microns",
        inch='in|inch|inches|"|″|”',
        thou="thou",
        foot="ft|foot|feet|'|′|’",
    ),
    refused={
        "mil": "mil means an angle to some and a plastic film to others; write thou",
        "mils": "mil means an angle to some and a plastic film to others; write thou",
        "tenths": "write tenths of a thou as a decimal, for example 0.3 thou",
        **dict.fromkeys(("ga", "gauge", "swg", "SWG", "awg", "AWG", "bg", "BG"), _NO_GAUGE),
    },
)

FORCE = Kind(
    "force",
    core="N",
    shown="N",
    example="600 N",
    largest=1e8,
    units=_words(N="N|newton|newtons", kN="kN", mN="mN", lbf="lbf", kgf="kgf|kp", ozf="ozf"),
    refused={
        "kg": _MASS_NOT_FORCE.format(unit="kg", better="kgf or N"),
        "g": _MASS_NOT_FORCE.format(unit="g", better="N"),
    },
)

_TORQUE_SPELLINGS = {
    "N*m": ("N", "m"),
    "N*mm": ("N", "mm"),
    "N*cm": ("N", "cm"),
    "kN*m": ("kN", "m"),
    "mN*m": ("mN", "m"),
    "lbf*ft": ("lbf", "ft"),
    "lbf*inch": ("lbf", "in"),
    "kgf*m": ("kgf", "m"),
    "kgf*cm": ("kgf", "cm"),
}


def _torque_words():
    """Every customary way to join a force unit and a length unit, either of them first."""
    words = {}
    for unit, (force, length) in _TORQUE_SPELLINGS.items():
        for joint in (" ", "·", "*", ".", "-"):
            words[force + joint + length] = unit
            if force not in ("N", "kN", "mN"):
                words[length + joint + force] = unit
    return words | {"Nm": "N*m", "Nmm": "N*mm", "Ncm": "N*cm"}


TORQUE = Kind(
    "torque",
    core="N*m",
    shown="N*m",
    example="1.5 N m",
    largest=1e7,
    units=_torque_words(),
    refused={
        "J": "a joule is an energy; write N m",
        "mm": "that is a length; a torque is a force times a length, such as 5 N m",
        **dict.fromkeys(("ft lb", "ft-lb", "lb ft", "lb-ft"), "write lbf ft"),
        **dict.fromkeys(("in lb", "in-lb", "lb in", "lb-in"), "write lbf in"),
    },
)

SPEED = Kind(
    "speed",
    core="rad/s",
    shown="rev/min",
    example="250 rev/min",
    largest=2e4,
    units={
        **_words(rpm="rpm|RPM|r/min|rev/min|revs/min|min-1|min⁻¹"),
        "rev/s": "revolution/second",
        "rad/s": "rad/s",
    },
    refused=dict.fromkeys(("Hz", "hz", "1/s", "s-1"), _NO_HERTZ),
)

CUTTING_SPEED = Kind(
    "cutting_speed",
    core="m/s",
    shown="m/min",
    example="20 m/min",
    largest=1e3,
    units={
        "m/min": "m/min",
        "m/s": "m/s",
        "mm/s": "mm/s",
        **dict.fromkeys(("ft/min", "sfm", "fpm"), "ft/min"),
    },
)

FEED = Kind(
    "feed",
    core="m",
    shown="mm",
    example="0.05 mm/rev",
    largest=1.0,
    units={
        **dict.fromkeys(("mm/rev", "mm/r", "mm"), "mm"),
        **dict.fromkeys(("in/rev", "ipr", "in"), "inch"),
        **dict.fromkeys(("thou/rev", "thou"), "thou"),
        **dict.fromkeys(("um/rev", "µm/rev", "um", "µm"), "um"),
    },
)

ANGLE = Kind(
    "angle",
    core="rad",
    shown="deg",
    example="90 deg",
    largest=1e4,
    units=_words(deg="deg|°|degree|degrees", rad="rad", arcmin="arcmin|'|′", turn="turn|turns|rev"),
)

PRESSURE = Kind(
    "pressure",
    core="Pa",
    shown="MPa",
    example="0.5 MPa",
    largest=1e13,
    units={
        **_words(Pa="Pa", kPa="kPa", MPa="MPa", GPa="GPa", bar="bar", mbar="mbar", psi="psi"),
        **dict.fromkeys(("N/mm²", "N/mm2", "N/mm^2"), "MPa"),
        "inHg": "inHg",
        "mmHg": "mmHg",
    },
)

MASS = Kind(
    "mass",
    core="kg",
    shown="g",
    example="45 g",
    largest=1e6,
    units=_words(kg="kg", g="g|gram|grams", lb="lb|lbs", oz="oz"),
)

DENSITY = Kind(
    "density",
    core="kg/m**3",
    shown="kg/m**3",
    example="7850 kg/m³",
    largest=1e5,
    units={
        **dict.fromkeys(("kg/m³", "kg/m3", "kg/m^3"), "kg/m**3"),
        **dict.fromkeys(("g/cm³", "g/cm3", "g/cm^3"), "g/cm**3"),
    },
)

TIME = Kind(
    "time",
    core="s",
    shown="s",
    example="30 s",
    largest=1e12,
    units=_words(s="s|sec|second|seconds", minute="min|minute|minutes", hour="h|hour|hours"),
)

FREQUENCY = Kind(
    "frequency",
    core="Hz",
    shown="Hz",
    example="120 Hz",
    largest=1e9,
    units={"Hz": "Hz", "kHz": "kHz"},
    refused={"rpm": "a frequency is counted per second; write Hz"},
)

STIFFNESS = Kind(
    "stiffness",
    core="N/m",
    shown="N/mm",
    example="500 N/mm",
    largest=1e15,
    units={
        "N/mm": "N/mm",
        "N/m": "N/m",
        "kN/mm": "kN/mm",
        "N/um": "N/um",
        "N/µm": "N/um",
        "lbf/in": "lbf/inch",
    },
)

AREA = Kind(
    "area",
    core="m**2",
    shown="mm**2",
    example="700 mm²",
    largest=1e4,
    units={
        **dict.fromkeys(("mm²", "mm2", "mm^2"), "mm**2"),
        **dict.fromkeys(("cm²", "cm2", "cm^2"), "cm**2"),
        **dict.fromkeys(("in²", "in2", "in^2", "sq in"), "inch**2"),
    },
)

RATIO = Kind(
    "ratio",
    core="dimensionless",
    shown="dimensionless",
    example="0.2",
    largest=1e9,
    units={"": "dimensionless", "%": "percent"},
)

KINDS = {
    kind.name: kind
    for kind in (
        LENGTH,
        FORCE,
        TORQUE,
        SPEED,
        CUTTING_SPEED,
        FEED,
        ANGLE,
        PRESSURE,
        MASS,
        DENSITY,
        TIME,
        FREQUENCY,
        STIFFNESS,
        AREA,
        RATIO,
    )
}

# How a screen reader should say a unit. A unit that is not listed is spelt as it is written.
UNIT_WORDS = {
    "mm": "millimetres",
    "cm": "centimetres",
    "m": "metres",
    "um": "micrometres",
    "thou": "thou",
    "in": "inches",
    "N": "newtons",
    "kN": "kilonewtons",
    "lbf": "pounds force",
    "kgf": "kilograms force",
    "N m": "newton metres",
    "N·m": "newton metres",
    "N mm": "newton millimetres",
    "lbf in": "pound force inches",
    "ft/min": "feet a minute",
    "psi": "pounds to the square inch",
    "thou/rev": "thou a turn",
    "oz": "ounces",
    "rev/min": "revolutions a minute",
    "rpm": "revolutions a minute",
    "rad/s": "radians a second",
    "deg": "degrees",
    "°": "degrees",
    "MPa": "megapascals",
    "kPa": "kilopascals",
    "bar": "bar",
    "m/min": "metres a minute",
    "mm/rev": "millimetres a turn",
    "%": "per cent",
    "g": "grams",
    "kg": "kilograms",
    "s": "seconds",
    "Hz": "hertz",
    "": "",
}
