"""How large and how round is the disc on the glass? A scan measured, with what it is good for."""

from dataclasses import dataclass, field
from functools import cached_property, lru_cache

import numpy as np

from workshop_lib.instruments import scale as scales
from workshop_lib.instruments.bodies import only
from workshop_lib.instruments.circles import (
    largest_in,
    least_squares,
    minimum_zone,
    smallest_round,
)
from workshop_lib.instruments.edge import find_edges
from workshop_lib.instruments.picture import Picture
from workshop_lib.instruments.profile import clean, smooth
from workshop_lib.instruments.scan_doubt import budget, roundness_doubt, total
from workshop_lib.instruments.spots import marks
from workshop_lib.materials import find_material
from workshop_lib.quantities import InputError, as_shown, boundary, figures_known, one_value, show
from workshop_lib.run_out import harmonics

TURN = 2 * np.pi
LOBES = 15
SQUASHED = 0.005  # second harmonic over the radius: a tilted camera, or no disc
COVER = 2.0  # expanded uncertainty over the standard one: about 95 in 100


@dataclass(frozen=True, eq=False)
class DiscScan:
    """What a scan says about a disc; quantities, clockwise from the mark as one looks at the scan.

    profile: complex places about the least-squares centre, m, the mark at angle 0. least_squares,
    minimum_zone, inscribed, circumscribed: `Circle`s in m. parts: of the diameter's standard
    uncertainty, (name, m) largest first. specks: what was left out. scale: a `Scale`.
    """

    profile: np.ndarray = field(repr=False)
    least_squares: object
    minimum_zone: object
    inscribed: object
    circumscribed: object
    parts: tuple
    roundness_standard: float
    specks: tuple
    scale: object
    marked: complex | None  # m, from the least-squares centre; None without a centre mark
    has_mark: bool
    mark_at: float  # rad, clockwise from three o'clock of the glass
    ripple: float  # noise left in the profile, m
    edge: object = field(repr=False)

    @property
    def diameter(self):
        """Diameter of the least-squares circle at 20 °C."""
        return as_shown(2 * self.least_squares.radius, "length")

    @property
    def uncertainty(self):
        """Expanded uncertainty of the diameter (k = 2)."""
        return as_shown(COVER * total(self.parts), "length")

    @property
    def roundness(self):
        """Departure from roundness by the minimum zone."""
        return as_shown(self.minimum_zone.zone, "length")

    @property
    def roundness_uncertainty(self):
        """Expanded uncertainty of the departure from roundness (k = 2)."""
        return as_shown(COVER * self.roundness_standard, "length")

    @property
    def angles(self):
        """Angles of the profile from the mark, clockwise."""
        return as_shown(np.angle(self.profile) % TURN, "angle")

    @property
    def heights(self):
        """How far the rim stands out from the least-squares circle at those angles."""
        return as_shown(np.abs(self.profile) - self.least_squares.radius, "length")

    @cached_property
    def lobes(self):
        """Harmonics of the rim, as lesson 05 reads them from a needle: oval, three lobes …"""
        off = np.abs(self.profile) - self.least_squares.radius
        return harmonics.core(np.angle(self.profile) % TURN, off, highest=LOBES)

    @property
    def eccentricity(self):
        """How far the marked centre lies from the disc's own; None without a centre mark."""
        return None if self.marked is None else as_shown(abs(self.marked), "length")

    @property
    def eccentricity_angle(self):
        """Which way the marked centre lies; None without a centre mark."""
        if self.marked is None:
            return None
        return as_shown(np.angle(self.marked) % TURN, "angle")

    @property
    def remarks(self):
        """What the reader should know before going by these numbers."""
        said = []
        if self.scale.origin == "file":
            said.append(
                "The size of a pixel is what the file claims. Lay something round of known size "
                "beside the disc to do better."
            )
        if not self.has_mark:
            said.append("No pen mark near the rim was seen: angles count from three o'clock.")
        for speck in self.specks:
            side = "out" if speck.height_core > 0 else "in"
            said.append(
                f"At {show(speck.angle)} something stands {side} by {show(abs(speck.height))}, "
                f"{show(speck.width)} wide: dust, a burr or a nick, left out."
            )
        return tuple(said)

    def __str__(self):
        size, off = (
            f"{show(each, figures=figures_known(each, doubt))}, good to {show(doubt, figures=2)}"
            for each, doubt in (
                (self.diameter, self.uncertainty),
                (self.roundness, self.roundness_uncertainty),
            )
        )
        return f"{size}; out of round by {off}"


def _not_a_photograph(picture):
    if picture.photograph:
        mend = "Scan it on a flatbed: a camera sees the rim from one side and at an angle"
        raise InputError("picture", "is a photograph, not a scan", mend)


@boundary(
    picture=Picture,
    reference="length > 0",
    reference_uncertainty="length > 0",
    material=find_material,
    celsius="ratio",
)
def scan_disc(picture, reference=None, reference_uncertainty=None, material=None, celsius=None):
    """How large is the disc on the scanner's glass, and how far from round?

    The edge is where light is halfway between disc and glass, to a part of a pixel; dust is left
    out by name; circles after ISO 12181 go through the profile smoothed at 50 waves in a turn.

    picture: a `Picture` from `instruments.read_picture`. reference: diameter of a round piece of
    known size on the same glass (a ring, a plug, a bearing's outer ring), or None; it also tells
    pixel sizes across and along apart, and skew. reference_uncertainty: standard uncertainty of
    that diameter, needed with it. material: of the disc, key or `Material`, or None. celsius:
    temperature of the room in degrees Celsius, or None when nobody looked. Single values.
    Returns a `DiscScan`. Raises InputError in words for no disc, several, one that is cut off, a
    photograph, or one taken at an angle. Notes: a thick edge throws a shadow; a reference as thick
    as the disc, of about its size, has the same, and is the best there is. A scan without a
    reference is good to a few tenths of a millimetre, whatever its pixels are.
    Source: divis-scanner on what was reached; sensors-20-1 on the steps in scans; gum for the sum.

    An empty glass is refused.
    >>> scan_disc(Picture(np.full((200, 200), 255, np.uint8)))
    Traceback (most recent call last):
    ...
    workshop_lib.quantities.errors.InputError: picture: work and background are too alike in it...
    """
    one_value(reference=reference, reference_uncertainty=reference_uncertainty, celsius=celsius)
    _not_a_photograph(picture)
    if (reference is None) != (reference_uncertainty is None):
        mend = "Give the known diameter and its standard uncertainty together"
        raise InputError(
            "reference_uncertainty", "needs a reference, and a reference needs it", mend
        )
    if reference is None:
        body, scale, known = _bodies(picture, 1)[0], scales.claimed(picture), None
        (edge,) = _edges(picture, body)
    else:
        body, known = _disc_and_reference(_bodies(picture, 2), picture, reference)
        edge, seen = _edges(picture, body, known)
        kept = clean(seen.points, 1.0)[0]
        scale = scales.from_circle(seen.points[kept], reference, reference_uncertainty)
    return _measured(picture, body, edge, scale, material, celsius)


# What is seen in a picture does not hang on what lies there being known: another diameter of the
# ring costs no new look.
@lru_cache(maxsize=2)
def _bodies(picture, count):
    return only(picture, count)


@lru_cache(maxsize=2)
def _edges(picture, *bodies):
    return find_edges(picture, bodies)


@lru_cache(maxsize=2)
def _marks(picture, body):
    return marks(picture, body)


def _disc_and_reference(found, picture, reference):
    """Tell which of two things is the known piece: the nearer in size, or else the smaller."""
    if picture.per_metre is None:
        return found
    area = np.pi / 4 * reference**2 * picture.per_metre[0] * picture.per_metre[1]
    miss = [abs(np.log(each.area / area)) for each in found]
    return found if miss[1] <= miss[0] else found[::-1]


def _measured(picture, body, edge, scale, material, celsius):
    points = scale.metres(edge.points)
    pixel = float(np.sqrt(scale.matrix[0, 0] * scale.matrix[1, 1]))
    kept, specks, scatter = clean(points, pixel)
    places, ripple = smooth(points[kept])
    mean = least_squares(places)
    away = places - mean.centre
    oval = abs(np.mean(np.abs(away) * (away / np.abs(away)) ** -2)) * 2
    if oval > SQUASHED * mean.radius:
        mend = "Lay the disc flat on a flatbed scanner"
        raise InputError(
            "picture", "the disc looks squashed, as if it were taken at an angle", mend
        )
    centre_mark, rim_mark = _marks(picture, body)
    turn = 1.0
    if rim_mark is not None:
        to_mark = scale.metres(np.array([rim_mark]))[0] - mean.centre
        turn = np.conj(to_mark / abs(to_mark))
    factor, parts = budget(2 * mean.radius, edge, scale, (scatter, len(points)), material, celsius)
    profile = away * turn * factor
    specks = tuple(
        type(each)(each.angle_core + np.angle(turn), each.height_core, each.width_core)
        for each in specks
    )
    marked = None
    if centre_mark is not None:
        marked = complex((scale.metres(np.array([centre_mark]))[0] - mean.centre) * turn * factor)
    circles = [make(profile) for make in (least_squares, minimum_zone, largest_in, smallest_round)]
    doubt = roundness_doubt(2 * mean.radius, ripple, scale)
    seen, at = rim_mark is not None, float(-np.angle(turn))
    return DiscScan(profile, *circles, parts, doubt, specks, scale, marked, seen, at, ripple, edge)
