"""What can friction under the driving pad hold: torque alone, side force alone, both at once?

The pad presses on the disc with an axisymmetric pressure p(r) that sums to the thrust N. At the
moment of slip the disc turns about some centre at a distance c from the pad's own centre; each
choice of c gives one point (F, M) of the limit curve.
"""

import warnings
from dataclasses import dataclass, field

import numpy as np

from workshop_lib.friction.limit_shape import limit_points
from workshop_lib.quantities import (
    InputError,
    OutOfRangeWarning,
    as_shown,
    boundary,
    common_shape,
    quote,
    say,
    to_core,
)

PRESSURES = ("uniform", "uniform_wear", "rigid_punch", "hertz")
SOLID_ONLY = ("rigid_punch", "hertz")
_CALLED = {"rigid_punch": "hard flat pad (rigid_punch)", "hertz": "domed pad (hertz)"}
LEAST_PAD, LARGEST_PAD = 2e-3, 1.0  # m; no pad of this trade is smaller or larger
HIGHEST_FRICTION = 2.0  # no static coefficient in the table of facings comes near it


def _warn(words, stacklevel):
    warnings.warn(words, OutOfRangeWarning, stacklevel=stacklevel + 1)


def coefficient(value, name):
    """Convert a friction coefficient: a plain number, 0 or more; above 2 it warns in words."""
    number = to_core(value, "ratio", name, ">= 0")
    if np.any(np.asarray(number) > HIGHEST_FRICTION):
        _warn(say("A friction coefficient above 2 is far beyond every pair in the table."), 3)
    return number


@dataclass(frozen=True, init=False, eq=False)
class Pad:
    """A driving pad: a flat ring, or a full circle, that presses on one face of the disc.

    outer_diameter, inner_diameter: lengths, any shapes that broadcast together (a relieved pad has
    an inner diameter; 0 mm is a full pad). pressure: how the thrust spreads over the face:
    "uniform" (a compliant facing), "uniform_wear" (a facing that has bedded in; p falls as 1/r),
    "rigid_punch" (a hard flat pad, pressed hardest at its rim) or "hertz" (a domed pad); the last
    two are for full pads only. Raises InputError naming the argument.

    >>> print(Pad("30 mm").torque_radius)
    10.0 mm
    """

    outer_radius: float | np.ndarray = field(repr=False)  # m
    inner_radius: float | np.ndarray = field(repr=False)  # m
    pressure: str

    def __init__(self, outer_diameter, inner_diameter="0 mm", pressure="uniform"):
        outer = to_core(outer_diameter, "length", "outer_diameter", "> 0") / 2
        inner = to_core(inner_diameter, "length", "inner_diameter", ">= 0") / 2
        if not isinstance(pressure, str) or pressure not in PRESSURES:
            problem = f"{quote(pressure)} is not a pressure law"
            raise InputError("pressure", problem, f"Choose {', '.join(PRESSURES)}")
        common_shape(outer_diameter=outer, inner_diameter=inner)
        if not np.all(np.less(inner, outer)):
            raise InputError("inner_diameter", say("must be smaller than the outer diameter"))
        if pressure in SOLID_ONLY and np.any(inner):
            problem = "a {pad} is for a full pad, without relief"
            problem = say(problem, pad=say(_CALLED[pressure]))
            mend = say("Leave the relief out, or choose even pressure (uniform)")
            raise InputError("inner_diameter", problem, mend)
        if np.any((2 * outer < LEAST_PAD) | (2 * outer > LARGEST_PAD)):
            words = "No pad for this work is under 2 mm or over 1 m across: check the unit."
            _warn(say(words), 2)
        for name, value in zip(
            ("outer_radius", "inner_radius", "pressure"), (outer, inner, pressure), strict=True
        ):
            object.__setattr__(self, name, value)

    def __repr__(self):
        sizes = [np.round(2e3 * np.asarray(r), 6) for r in (self.outer_radius, self.inner_radius)]
        return (
            f"Pad('{sizes[0]:g} mm', '{sizes[1]:g} mm', '{self.pressure}')"
            if (sizes[0].ndim == sizes[1].ndim == 0)
            else f"Pad(<{np.broadcast(*sizes).size} sizes>, '{self.pressure}')"
        )

    @property
    def shape(self):
        """Shape that its sizes broadcast to; () for one pad."""
        return np.broadcast_shapes(np.shape(self.outer_radius), np.shape(self.inner_radius))

    @property
    def relief(self):
        """Inner radius as a share of the outer one, a plain number from 0 to 1."""
        return self.inner_radius / self.outer_radius

    @property
    def area(self):
        """Area of the pad's face, mm²."""
        return as_shown(np.pi * (self.outer_radius**2 - self.inner_radius**2), "area")

    @property
    def torque_radius(self):
        """Radius at which the whole friction force would act to give the same torque, mm."""
        return as_shown(torque_radius(self), "length")


def torque_radius(pad):
    """Torque radius in metres of a pad, see `torque_capacity`."""
    outer, inner = pad.outer_radius, pad.inner_radius
    if pad.pressure == "uniform":
        return 2 / 3 * (outer**2 + outer * inner + inner**2) / (outer + inner)
    return {
        "uniform_wear": (outer + inner) / 2,
        "rigid_punch": np.pi / 4 * outer,
        "hertz": 3 * np.pi / 16 * outer,
    }[pad.pressure]


@boundary(returns="torque", pad=Pad, thrust="force >= 0", friction_coefficient=coefficient)
def torque_capacity(pad, thrust, friction_coefficient):
    """How much torque can friction on the one driven face hold, with no side force?

    M = mu N r_t, with r_t the torque radius: uniform 2/3 (r_o³ − r_i³)/(r_o² − r_i²), uniform wear
    (r_o + r_i)/2, rigid punch pi/4 r_o, hertz 3pi/16 r_o.

    pad: `Pad`. thrust: force. friction_coefficient: plain number. All broadcast together.
    Returns a torque in N·m. Raises InputError for negative or non-finite values.
    Notes: static friction taken as Coulomb's; one face only, since the nose turns on bearings.
    Source: shigley-clutch (uniform pressure and uniform wear); contact-mechanics (punch, hertz).

    By hand: 0.2 × 600 N × 2/3 × 15 mm = 1.2 N·m.
    >>> print(torque_capacity(Pad("30 mm"), "600 N", 0.2).round(6))
    1.2 N·m
    """
    return friction_coefficient * thrust * torque_radius(pad)


@boundary(returns="force", thrust="force >= 0", friction_coefficient=coefficient)
def side_capacity(thrust, friction_coefficient):
    """How much side force can friction on the one driven face hold, with no torque?

    F = mu N, whatever the pad's size or pressure law.

    thrust: force. friction_coefficient: plain number. Broadcast together.
    Returns a force in N. Raises InputError for negative or non-finite values.
    Source: elementary-mechanics.

    >>> print(side_capacity("600 N", 0.2))
    120.0 N
    """
    return friction_coefficient * thrust


@boundary(returns="pressure", pad=Pad, thrust="force >= 0", radius="length >= 0")
def contact_pressure(pad, thrust, radius):
    """How hard does the pad press on the sheet at a radius?

    uniform p = N/A; uniform wear N/(2pi (r_o − r_i) r); with s = sqrt(1 − (r/r_o)²), rigid punch
    N/(2pi r_o² s) and hertz 3N s/(2pi r_o²); zero off the pad.

    pad: `Pad`. thrust: force. radius: length. Broadcast together. Returns a pressure in MPa;
    infinite at the rim of a rigid punch and the middle of a worn full pad, where a real edge gives.
    Raises InputError.
    Source: shigley-clutch, contact-mechanics.

    >>> print(contact_pressure(Pad("30 mm"), "600 N", "5 mm").round(4))
    0.8488 MPa
    """
    outer, inner = pad.outer_radius, pad.inner_radius
    on_pad = (radius >= inner) & (radius <= outer)
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        inside = np.sqrt(np.maximum(1 - (radius / outer) ** 2, 0))
        pressure = {
            "uniform": lambda: thrust / (np.pi * (outer**2 - inner**2)) + 0 * radius,
            "uniform_wear": lambda: np.divide(thrust, 2 * np.pi * (outer - inner) * radius),
            "rigid_punch": lambda: np.divide(thrust, 2 * np.pi * outer**2 * inside),
            "hertz": lambda: 1.5 * thrust / (np.pi * outer**2) * inside,
        }[pad.pressure]()
    return np.where(on_pad, np.where(thrust == 0, 0.0, pressure), 0.0)[()]


@boundary(returns="pressure", pad=Pad, thrust="force >= 0")
def peak_pressure(pad, thrust):
    """How hard does the pad press where it presses hardest?

    uniform N/A; uniform wear N/(2pi (r_o − r_i) r_i), at the inner edge; hertz 3N/(2pi r_o²), in
    the middle; a rigid punch without bound, at its rim.

    pad: `Pad`. thrust: force. Broadcast together. Returns a pressure in MPa; infinite at the rim of
    a rigid punch and in the middle of a worn full pad, where a real edge gives. Raises InputError.
    Notes: see `facing_load` for what a facing can take. Source: shigley-clutch, contact-mechanics.

    By hand: 1.5 × 600 N/(pi × (15 mm)²).
    >>> print(peak_pressure(Pad("30 mm", pressure="hertz"), "600 N").round(3))
    1.273 MPa
    """
    radius = {"uniform_wear": pad.inner_radius, "rigid_punch": pad.outer_radius}
    at = radius.get(pad.pressure, pad.inner_radius)
    return contact_pressure.core(pad, np.asarray(thrust), np.asarray(at))


def limit_curve(pad, points=181):
    """Which pairs of side force and torque bring the disc to the point of slip?

    For a turning centre at distance c from the pad's centre, with m = 4rc/(r + c)²,
    F = mu ∫ p r (2/c)[(c − r)K(m) + (c + r)E(m)] dr and M = mu ∫ p r 2[(r − c)K + (r + c)E] dr,
    swept from c = 0 (pure torque) to c = infinity (pure side force).

    pad: one `Pad` (scalar sizes). points: whole number from 2 to 100 000.
    Returns two arrays of that length: side fraction F/(mu N), torque fraction M/(mu N r_o).
    Raises InputError. Notes: exact for the pressure law; convex (argatov-2005). For a full pad
    under uniform pressure the ellipse through its ends lies outside it and would promise up to 7 %
    too much hold; for a relieved pad it promises more still.
    Source: argatov-2005, farkas-2003.

    >>> side, torque = limit_curve(Pad("30 mm"), points=3)
    >>> print(side[1].round(4), torque[1].round(4))  # c = r_o: 8/(3 pi), 8/(9 pi)
    0.8488 0.2829
    """
    if not isinstance(pad, Pad):
        raise InputError("pad", f"{quote(pad)} is not a Pad")
    whole = isinstance(points, int | np.integer) and not isinstance(points, bool)
    if not whole or not 2 <= points <= 100_000:
        raise InputError("points", f"{quote(points)} is not a whole number from 2 to 100000")
    if np.ndim(pad.relief):
        raise InputError("pad", "give one pad at a time")
    angle = np.linspace(0, np.pi / 2, points)[:-1]
    side, torque = limit_points(pad.pressure, float(pad.relief), np.tan(angle))
    return np.append(side, 1.0), np.append(torque, 0.0)


@boundary(returns="length", pad=Pad, side_force="force >= 0", torque="torque >= 0")
def turning_centre(pad, side_force, torque):
    """About which point does the disc begin to turn when that load, scaled up, makes it slip?

    The distance c from the pad's centre at which the limit curve's point has the load's own ratio
    of torque to side force. Pure torque: 0. Pure side force: infinity (it slides off straight).

    pad: one `Pad` (scalar sizes). side_force, torque: scalars. Returns a length in mm.
    Raises InputError. Notes: found to 11 figures. Source: argatov-2005.

    By hand: F = 8/(3 pi), M = 8/(9 pi) r_o, so M/F = r_o/3, turns about the rim of a 30 mm pad.
    >>> print(turning_centre(Pad("30 mm"), "30 N", "0.15 N m").round(6))
    15.0 mm
    """
    if np.ndim(pad.relief) or np.ndim(side_force) or np.ndim(torque):
        raise InputError("pad", "give one set-up at a time")
    if side_force == 0 or torque == 0:
        return np.inf if side_force else 0.0
    low, high = 0.0, np.pi / 2
    for _ in range(10):  # each round leaves a sixteenth
        angles = np.linspace(low, high, 17)
        side, turn = limit_points(pad.pressure, float(pad.relief), np.tan(angles[1:-1]))
        near = turn * pad.outer_radius * side_force > side * torque
        first = int(near.sum())
        low, high = angles[first], angles[first + 1]
    return np.tan((low + high) / 2) * pad.outer_radius
