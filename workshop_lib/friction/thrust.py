"""How much thrust does the tailstock give, from the handwheel's torque or your own readings?"""

from dataclasses import dataclass

import numpy as np

from workshop_lib.quantities import InputError, as_shown, boundary, common_shape, to_core


@dataclass(frozen=True, init=False, eq=False)
class Screw:
    """A tailstock screw: thread and thrust collar, with the friction of each.

    mean_diameter: pitch diameter of the thread. lead: advance in one turn (pitch × starts).
    flank_angle: half the thread's included angle (0° square, 15° metric trapezoidal, 14.5° Acme).
    collar_diameter: mean diameter of the thrust collar ("0 mm": none). friction_coefficient,
    collar_friction: plain numbers. Scalars or arrays that broadcast together. InputError by name.
    """

    mean_diameter: float  # m
    lead: float  # m
    flank_angle: float  # rad
    friction_coefficient: float
    collar_diameter: float  # m
    collar_friction: float

    def __init__(
        self,
        mean_diameter,
        lead,
        flank_angle,
        friction_coefficient,
        collar_diameter,
        collar_friction,
    ):
        given = {
            "mean_diameter": to_core(mean_diameter, "length", "mean_diameter", "> 0"),
            "lead": to_core(lead, "length", "lead", "> 0"),
            "flank_angle": to_core(flank_angle, "angle", "flank_angle", ">= 0"),
            "friction_coefficient": to_core(
                friction_coefficient, "ratio", "friction_coefficient", ">= 0"
            ),
            "collar_diameter": to_core(collar_diameter, "length", "collar_diameter", ">= 0"),
            "collar_friction": to_core(collar_friction, "ratio", "collar_friction", ">= 0"),
        }
        for name, value in given.items():
            object.__setattr__(self, name, value)
        common_shape(**given)
        if np.any(self.flank_angle > np.pi / 3):
            mend = "Give half the included angle of the thread"
            raise InputError("flank_angle", "must not be above 60 degrees", mend)
        if np.any(np.pi * self.mean_diameter <= self._grip * self.lead):
            problem = "with that friction and lead the screw can never be turned under load"
            raise InputError("friction_coefficient", problem)

    @property
    def shape(self):
        """Shape that its sizes broadcast to; () for one screw."""
        return np.shape(self.tightening_arm)

    @property
    def _grip(self):
        """Thread friction, raised by the wedge of the flanks."""
        return self.friction_coefficient / np.cos(self.flank_angle)

    @property
    def tightening_arm(self):
        """Torque for each newton of thrust while tightening, m."""
        around = np.pi * self.mean_diameter
        climb = (self.lead + self._grip * around) / (around - self._grip * self.lead)
        return self.mean_diameter / 2 * climb + self.collar_friction * self.collar_diameter / 2

    @property
    def loosening_arm(self):
        """Torque for each newton of thrust while loosening, m; negative: it runs back alone."""
        around = np.pi * self.mean_diameter
        climb = (self._grip * around - self.lead) / (around + self._grip * self.lead)
        return self.mean_diameter / 2 * climb + self.collar_friction * self.collar_diameter / 2


@boundary(returns="force", screw=Screw, torque="torque >= 0")
def from_torque(screw, torque):
    """What thrust does a torque on the handwheel give?

    N = T / [d/2 (l + pi f' d)/(pi d − f' l) + f_c d_c/2], f' = f / cos(flank angle).

    screw: `Screw`. torque: quantity. Broadcast together. Returns a force in N. Raises InputError.
    Notes: steady tightening; the last part of a turn may stick. Source: shigley-screw.

    >>> screw = Screw("28 mm", "8 mm", "0 deg", 0, "0 mm", 0)  # no friction: N = 2 pi T / lead
    >>> print(from_torque(screw, "8 N m").to("kN").round(4))
    6.2832 kN
    """
    return torque / screw.tightening_arm


@boundary(returns="torque", screw=Screw, thrust="force >= 0")
def torque_for(screw, thrust):
    """What torque on the handwheel does a thrust need?

    T = N [d/2 (l + pi f' d)/(pi d − f' l) + f_c d_c/2], f' = f / cos(flank angle).

    screw: `Screw`. thrust: quantity. Broadcast together. Returns a torque in N·m.
    Raises InputError. Source: shigley-screw (Example 8-1 prints 26.18 N·m).

    >>> screw = Screw("30 mm", "8 mm", "0 deg", 0.08, "40 mm", 0.08)
    >>> print(torque_for(screw, "6400 N").round(2))
    26.18 N·m
    """
    return thrust * screw.tightening_arm


@boundary(returns="torque", screw=Screw, thrust="force >= 0")
def torque_to_release(screw, thrust):
    """What torque turns the handwheel back under that thrust?

    T = N [d/2 (pi f' d − l)/(pi d + f' l) + f_c d_c/2]; below zero the screw runs back alone.

    screw: `Screw`. thrust: quantity. Broadcast together. Returns a torque in N·m.
    Raises InputError. Source: shigley-screw (Example 8-1 prints 9.77 N·m).

    >>> screw = Screw("30 mm", "8 mm", "0 deg", 0.08, "40 mm", 0.08)
    >>> print(torque_to_release(screw, "6400 N").round(2))
    9.77 N·m
    """
    return thrust * screw.loosening_arm


@boundary(returns="ratio", screw=Screw, thrust="force >= 0")
def efficiency(screw, thrust):
    """What share of the work at the handwheel arrives as thrust?

    e = N l / (2 pi T): the same at every thrust, since all its friction is Coulomb's.

    screw: `Screw`. thrust: quantity. Broadcast together. Returns a ratio from 0 to 1.
    Raises InputError. Source: shigley-screw (Example 8-1 prints 0.311).

    >>> screw = Screw("30 mm", "8 mm", "0 deg", 0.08, "40 mm", 0.08)
    >>> print(round(efficiency(screw, "6400 N"), 3))
    0.311
    """
    return screw.lead / (2 * np.pi * screw.tightening_arm) * np.ones_like(thrust)


@boundary(returns="force", thrust="force >= 0", stiffness="stiffness > 0", creep="length >= 0")
def after_creep(thrust, stiffness, creep):
    """What thrust is left when the tailstock has crept back?

    N' = N − k x, never below zero: a stiff set-up loses its thrust within hundredths of a
    millimetre.

    thrust: force. stiffness: of everything in the squeeze (facing, nose, quill, bed), such as
    "2 kN/mm". creep: length by which the tailstock or the quill gave way. Broadcast together.
    Returns a force in N. Raises InputError. Source: elementary-mechanics.

    >>> print(after_creep("600 N", "2 kN/mm", "0.2 mm"))
    200.0 N
    """
    return np.maximum(thrust - stiffness * creep, 0.0)


@dataclass(frozen=True, eq=False)
class Calibration:
    """Thrust against handwheel angle, fitted to one's own readings; see `calibrate`."""

    slope: float  # N/rad
    intercept: float  # N
    scatter: float  # N, standard deviation of the readings about the line
    angles: np.ndarray  # rad
    forces: np.ndarray  # N

    def thrust_at(self, angle):
        """Thrust at a handwheel angle, within the readings' own span (a tenth more at most), N."""
        place = to_core(angle, "angle", "angle")
        low, high = self.angles.min(), self.angles.max()
        spare = 0.1 * (high - low)
        if np.any(place < low - spare) or np.any(place > high + spare):
            span = f"{np.degrees(low):.0f} to {np.degrees(high):.0f} degrees"
            raise InputError("angle", f"is outside your readings ({span})", "Take more readings")
        return as_shown(np.maximum(self.intercept + self.slope * place, 0.0), "force")

    def angle_for(self, thrust):
        """Handwheel angle that gives a thrust, in degrees; refused outside the readings."""
        wanted = to_core(thrust, "force", "thrust", "> 0")
        angle = as_shown((wanted - self.intercept) / self.slope, "angle")
        self.thrust_at(angle)
        return angle

    @property
    def uncertainty(self):
        """Standard uncertainty of a thrust read off the line, at the middle of the readings, N."""
        return as_shown(self.scatter * np.sqrt(1 + 1 / self.angles.size), "force")

    def stiffness(self, lead):
        """Stiffness of the whole squeeze from the same readings: slope × 2 pi / lead, N/mm."""
        return as_shown(
            self.slope * 2 * np.pi / to_core(lead, "length", "lead", "> 0"), "stiffness"
        )


def calibrate(angles, forces):
    """What thrust does each mark on the handwheel give, from readings of a scale?

    A straight line N = a + b·angle by least squares; the scatter is the readings' own.

    angles: at least three handwheel angles past first contact, such as ["90 deg", "1/2 turn"].
    forces: what the scale between nose and pad showed, same length, 1-D.
    Returns a `Calibration`. Raises InputError for fewer than three readings, equal angles, or a
    thrust that does not rise with the angle. Source: elementary-mechanics (least squares).

    By hand: readings on the line 100 N a quarter turn.
    >>> fit = calibrate(["1/4 turn", "1/2 turn", "3/4 turn"], ["100 N", "200 N", "300 N"])
    >>> print(fit.thrust_at("135 deg").round(6), fit.stiffness("4 mm").round(6))
    150.0 N 100.0 N/mm
    """
    x = np.atleast_1d(to_core(angles, "angle", "angles"))
    y = np.atleast_1d(to_core(forces, "force", "forces", ">= 0"))
    if x.ndim != 1 or x.shape != y.shape:
        raise InputError("forces", f"there are {y.size} forces but {x.size} angles")
    if x.size < 3:
        raise InputError("angles", f"{x.size} readings are too few", "Take at least three")
    if np.ptp(x) == 0:
        raise InputError("angles", "all readings are at one angle", "Take them at different angles")
    across = x - x.mean()
    slope = across @ y / (across @ across)
    intercept = y.mean() - slope * x.mean()
    if slope <= 0:
        raise InputError(
            "forces",
            "the thrust does not rise with the angle",
            "Check which force belongs to which angle",
        )
    scatter = np.sqrt(np.sum((y - intercept - slope * x) ** 2) / (x.size - 2))
    return Calibration(float(slope), float(intercept), float(scatter), x, y)
