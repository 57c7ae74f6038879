"""What does each ball of a bearing carry under thrust, side load and tilt, how far does it give?

The rings are rigid, the balls and grooves elastic, and nothing turns fast (no centrifugal force).
"""

from dataclasses import dataclass, field

import numpy as np

from workshop_lib.bearings.ball_contacts import PHASES, Geometry
from workshop_lib.bearings.ball_rest import FLAT, Solved, solve
from workshop_lib.bearings.bearing_tables import catalogue
from workshop_lib.bearings.clearances import clearance
from workshop_lib.bearings.newton import NoRest
from workshop_lib.bearings.ratings import (
    RADIAL_GROOVES,
    THRUST_GROOVES,
    ball_count,
    look_at_pressure,
)
from workshop_lib.quantities import InputError, as_shown, boundary, quote, to_core


def _part(name, kind, words, index=None):
    def get(self):
        value = getattr(self.core, name)
        return as_shown(value if index is None else value[..., index], kind)

    return property(get, doc=words)


@dataclass(frozen=True, eq=False)
class Equilibrium:
    """How a ball bearing rests under its load. Quantities here, bare SI arrays in `.core`.

    Arrays have the shape of the loads; those over the balls have one axis more at the end, and
    begin with the ball in the direction of the radial load (or the first beside it).
    """

    core: Solved = field(repr=False)
    shoulder_angle: float | None = field(repr=False)

    ball_loads = _part("loads", "force", "Load of every ball, N.")
    contact_angles = _part("angles", "angle", "Contact angle of every ball, degrees.")
    axial_shift = _part("shift", "length", "Axial shift of the inner ring, mm.", 0)
    radial_shift = _part("shift", "length", "Radial shift of the inner ring, mm.", 1)
    tilt = _part("shift", "angle", "Tilt of the inner ring, degrees.", 2)
    moment = _part("moment", "torque", "Moment that holds that tilt, N·m.")
    inner_pressure = _part("pressures", "pressure", "Peak pressure at the inner ring, MPa.", 0)
    outer_pressure = _part("pressures", "pressure", "Peak pressure at the outer ring, MPa.", 1)
    edge_angle = _part("edge", "angle", "From the groove's bottom to the spot's far edge, degrees.")

    @property
    def heaviest(self):
        """Load of the most loaded ball, N."""
        return as_shown(self.core.loads.max(axis=-1), "force")

    @property
    def loaded_balls(self):
        """How many balls carry load."""
        return (self.core.loads > 0).sum(axis=-1)[()]

    @property
    def shoulder_used(self):
        """How far up the shoulder the spot reaches, 1: to its edge; None where none was given."""
        return None if self.shoulder_angle is None else self.core.edge / self.shoulder_angle

    @property
    def converged(self):
        """Whether the forces balance; a case that does not is refused before this is made."""
        return self.core.converged[()]


@dataclass(frozen=True, init=False, eq=False)
class BallBearing:
    """The inside of a ball bearing.

    balls: whole number. ball_diameter, pitch_diameter: lengths. inner_groove, outer_groove: groove
    radius over ball diameter. clearance: radial play on the diameter (below zero: a tight one), a
    length or an array of lengths. contact_angle: None for a bearing that carries axial load both
    ways, its angle then following from the clearance; for one that carries it one way an angle up
    to 90° (thrust), the clearance then being zero. shoulder_height: how far the shoulder rises
    above the bottom of the groove, if known. Raises InputError naming the argument.

    >>> bearing = BallBearing(9, "12.7 mm", "65 mm", 0.52, 0.52, "0.015 mm")
    >>> print(bearing.free_contact_angle.round(2), bearing.end_play.round(3))
    9.86 deg 0.174 mm
    """

    core: Geometry
    shoulder_angle: float | None = field(repr=False)

    def __init__(
        self,
        balls,
        ball_diameter,
        pitch_diameter,
        inner_groove=RADIAL_GROOVES["inner"],
        outer_groove=RADIAL_GROOVES["outer"],
        clearance="0 mm",
        contact_angle=None,
        shoulder_height=None,
    ):
        sizes = {"ball_diameter": ball_diameter, "pitch_diameter": pitch_diameter}
        sizes = {name: to_core(value, "length", name, "> 0") for name, value in sizes.items()}
        grooves = {"inner_groove": inner_groove, "outer_groove": outer_groove}
        grooves = {name: to_core(value, "ratio", name, "> 0") for name, value in grooves.items()}
        angle = contact_angle
        if angle is not None:
            angle = to_core(angle, "angle", "contact_angle", "> 0")
        play = to_core(clearance, "length", "clearance")
        _check_single(**sizes, **grooves, contact_angle=angle)
        geometry = Geometry(
            ball_count(balls, "balls"), **sizes, **grooves, clearance=play, contact_angle=angle
        )
        _check(geometry)
        object.__setattr__(self, "core", geometry)
        object.__setattr__(self, "shoulder_angle", _shoulder(geometry, shoulder_height))

    @property
    def shape(self):
        """Shape of its clearance; () for one bearing."""
        return np.shape(self.core.clearance)

    @property
    def free_contact_angle(self):
        """Contact angle of the unloaded bearing, its rings pushed apart to the stop, degrees."""
        return as_shown(self.core.free_angle, "angle")

    @property
    def end_play(self):
        """Axial play from stop to stop of a bearing that carries both ways, mm."""
        both = 0.0 if self.core.contact_angle is not None else 2.0
        return as_shown(both * self.core.reach * np.sin(self.core.free_angle), "length")

    def equilibrium(self, axial, radial="0 N", tilt="0 deg", moment=None, under_load="ball"):
        """How the bearing rests under a load; see `equilibrium` in this module."""
        return equilibrium(self, axial, radial, tilt, moment, under_load)


def _check_single(**sizes):
    for name, value in sizes.items():
        if np.ndim(value):
            raise InputError(name, "must be a single value; only the clearance may be an array")


def _check(geometry):
    """Refuse sizes that make no bearing."""
    room = geometry.pitch_diameter * np.sin(np.pi / geometry.balls)
    if geometry.ball_diameter > room:
        raise InputError(
            "ball_diameter", f"{geometry.balls} such balls do not fit on the pitch circle"
        )
    for name in ("inner_groove", "outer_groove"):
        if not 0.5 < getattr(geometry, name) <= 1:
            raise InputError(name, "must be above 0.5 and up to 1", "Write 0.52")
    if geometry.contact_angle is None:
        if np.any(np.abs(geometry.clearance) > 0.5 * geometry.reach):
            raise InputError("clearance", "is far more than such grooves allow")
        return
    if geometry.contact_angle > np.pi / 2 + FLAT:
        raise InputError("contact_angle", "must not be above 90 degrees")
    if np.any(geometry.clearance):
        problem = "goes with a bearing that carries axial load both ways"
        raise InputError("clearance", problem, "Leave it out when a contact angle is given")


def _shoulder(geometry, height):
    """Angle from the bottom of the groove to the edge of its shoulder, or None."""
    if height is None:
        return None
    height = to_core(height, "length", "shoulder_height", "> 0")
    radius = min(geometry.inner_groove, geometry.outer_groove) * geometry.ball_diameter
    if np.ndim(height) or height >= radius:
        raise InputError("shoulder_height", "must be one length below the groove's radius")
    return np.arccos(1 - height / radius).item()


def _inside(value, name):
    if isinstance(value, BallBearing):
        return value
    raise InputError(name, f"{quote(value)} is not a BallBearing", "Make one with BallBearing(…)")


@boundary(
    bearing=_inside,
    axial="force",
    radial="force >= 0",
    tilt="angle",
    moment="torque",
    under_load=PHASES,
)
def equilibrium(bearing, axial, radial="0 N", tilt="0 deg", moment=None, under_load="ball"):
    """What does every ball carry, and how far does the inner ring give way, under this load?

    With A the distance of the groove centres, each ball at angle p sees the distance
    s = sqrt[(A cos a0 + dr cos p)² + (A sin a0 + da + R t cos p)²], is squeezed by s − A, carries
    Q = c (s − A)^(3/2) at the angle of s, and the sums of Q balance axial load, radial load and
    (if a moment is given instead of the tilt) the moment.

    bearing: `BallBearing`. axial: force on the inner ring, above zero the way that a bearing with a
    contact angle carries it. radial: force. tilt: angle of the inner ring, or moment: torque, about
    the axis square to the radial load; above zero they press the balls under the load onward.
    under_load: "ball" or "gap" in the direction of the load. All broadcast together and with an
    array of clearances. Returns an `Equilibrium`. Raises InputError, also for a load that a bearing
    with a contact angle cannot carry, and `NoRest` (an InputError) when no balance is found.
    Warns once above 4200 MPa. Notes: rigid rings, slow turning; the contact stiffness is that at
    the free contact angle.
    Source: iso-16281, contact-mechanics; checked by harris-rba, nsk-e728g.

    Pure thrust is shared equally: each of eight balls carries 600 N/(8 sin a).
    >>> rest = equilibrium(BallBearing(8, "5.953 mm", "25.2 mm", clearance="10 um"), "600 N")
    >>> share = 600 / (8 * np.sin(rest.core.angles[0]))
    >>> print(rest.heaviest.round(1), bool(np.isclose(rest.core.loads[0], share)))
    242.1 N True
    """
    if moment is not None and np.any(tilt):
        raise InputError("moment", "you gave a tilt as well", "Give one of them")
    solved = solve(bearing.core, axial, radial, tilt, moment, under_load)
    lost = np.count_nonzero(~solved.converged)
    if lost:
        problem = f"no balance of forces was found for {lost} of {solved.converged.size} load cases"
        raise NoRest("axial", problem, "The load may be far beyond what the bearing can carry")
    look_at_pressure(solved.pressures, "axial")
    if np.any(solved.off_groove):
        problem = "pushes the inner ring out of the groove that should hold it"
        raise InputError(
            "axial", problem, "A bearing with a contact angle needs axial load one way"
        )
    return Equilibrium(solved, bearing.shoulder_angle)


def typical_inside(bearing, play=None):
    """The typical inside of a catalogued ball bearing as a `BallBearing`.

    bearing: designation or `Bearing`. play: for a deep-groove bearing a clearance class such as
    "C3" (its middle is taken), a length, or an array of lengths; None: class "normal". Raises
    InputError where no inside is known. Source: see `.inside_source` of the bearing.

    >>> print(typical_inside("6202").free_contact_angle.round(1))
    10.8 deg
    """
    bearing = catalogue(bearing)
    inside = bearing.inside
    if inside is None or inside.length is not None:
        raise InputError("bearing", f"no balls of a known size are in {bearing.name}")
    grooves = THRUST_GROOVES if bearing.kind == "thrust_ball" else RADIAL_GROOVES
    sizes = [as_shown(x, "length") for x in (inside.element_diameter, inside.pitch_diameter)]
    if bearing.kind != "deep_groove":
        if play is not None:
            raise InputError("play", f"{bearing.name} has no radial clearance of its own")
        angle = as_shown(inside.contact_angle, "angle")
        return BallBearing(inside.elements, *sizes, *grooves.values(), contact_angle=angle)
    try:
        if play is None or (isinstance(play, str) and play[:1].isalpha()):
            play = clearance(bearing, play or "normal").typical
        return BallBearing(inside.elements, *sizes, *grooves.values(), clearance=play)
    except InputError as error:
        raise InputError("play", error.problem, error.mend) from error
