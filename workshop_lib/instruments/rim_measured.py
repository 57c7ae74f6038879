"""Is the turned disc round and to size, by a micrometer and a V, as far as those can tell?

A micrometer shows every even number of lobes twice over and no odd one; a V shows each by a factor
of its own. What neither shows is said: a disc of three lobes has the same diameter all round.
"""

from dataclasses import dataclass, field

import numpy as np

from workshop_lib.instruments.circles import minimum_zone
from workshop_lib.instruments.vee_block import BLIND, MOST_LOBES, as_vee, vee_factor
from workshop_lib.quantities import (
    InputError,
    as_shown,
    boundary,
    resolution,
    to_core,
    whole_number,
)
from workshop_lib.run_out import harmonics

PLACES = 720  # of a rebuilt profile
HIGHEST = 12  # lobes that are looked for; more than that are finish, not shape
FEWEST, FEWEST_IN_VEE, MOST = 3, 8, 2000  # readings
TURN = 2 * np.pi


@dataclass(frozen=True)
class Lobes:
    """Lobes of one number: how high, and by what they were told.

    order: how many in a turn. factor: how many times their height the instrument shows.
    """

    order: int
    factor: float
    wave: complex = field(repr=False)  # amplitude × exp(i order × crest), m
    unsure: float = field(repr=False)  # standard uncertainty of the amplitude, m; NaN: not known
    told: bool  # whether it is more than scatter

    @property
    def height(self):
        """From hollow to crest: what these lobes alone take from roundness."""
        return as_shown(2 * abs(self.wave), "length")

    @property
    def name(self):
        """What people call it."""
        return {2: "oval", 3: "three lobes"}.get(self.order, f"{self.order} lobes")


@dataclass(frozen=True, eq=False)
class RimMeasured:
    """What the readings say of a disc's rim; quantities.

    lobes: a tuple of `Lobes`, by number. hidden: numbers of lobes, 2 to 12, that no reading tells.
    profile: the shape rebuilt from the lobes, 720 complex places round the turn, m.
    """

    diameters: np.ndarray = field(repr=False)
    lobes: tuple
    hidden: tuple
    profile: np.ndarray = field(repr=False)
    has_vee: bool

    @property
    def diameter(self):
        """Mean diameter."""
        return as_shown(self.diameters.mean(), "length")

    @property
    def smallest(self):
        """The smallest diameter read."""
        return as_shown(self.diameters.min(), "length")

    @property
    def largest(self):
        """The largest diameter read."""
        return as_shown(self.diameters.max(), "length")

    @property
    def at_least(self):
        """Departure from roundness that the diameters prove: half of what they differ by."""
        return as_shown(resolution.span(self.diameters) / 2, "length")

    @property
    def departure(self):
        """Departure from roundness of the rebuilt shape: width of its narrowest ring (ISO 12181).

        Without readings in a V it is that of the even lobes alone.
        """
        zone = minimum_zone(self.profile).zone
        return as_shown(
            float(resolution.without_dust(zone, resolution.dust(self.diameters))), "length"
        )

    @property
    def unsure(self):
        """Standard uncertainty of the departure, sqrt(2 × sum of squares of the lobes' own)."""
        return as_shown(float(np.sqrt(2 * sum(each.unsure**2 for each in self.lobes))), "length")

    @property
    def main(self):
        """The highest lobes that are more than scatter, or None."""
        told = [each for each in self.lobes if each.told]
        heights = [abs(each.wave) for each in told]
        near = resolution.dust(self.diameters)
        return told[int(resolution.leading(heights, near))] if told else None


def _row(sign, fewest):
    """Return a converter (value, name) to one row of lengths, a tuple in m."""

    def convert(value, name):
        row = np.atleast_1d(to_core(value, "length", name, sign))
        if row.ndim > 1 or not fewest <= row.size <= MOST:
            problem = f"give {fewest} to {MOST} readings in one list"
            raise InputError(name, problem, "Take them at even steps")
        return tuple(row.tolist())

    return convert


@boundary(
    diameters=_row("> 0", FEWEST),
    vee_readings=_row(None, FEWEST_IN_VEE),
    vee_angle=as_vee,
    division="length > 0",
    dial_division="length > 0",
)
def measure_rim(
    diameters, division=None, vee_readings=None, vee_angle="90 deg", dial_division=None
):
    """How large and how round is a disc, by its diameters and by turning it in a V?

    Diameters at even steps over half a turn hold the even lobes, 2 a_n cos n(theta − theta_n);
    readings at even steps over a whole turn in a V hold F_n a_n cos n(theta − theta_n), F_n of
    `vee_factor`. Each number of lobes is taken from where it shows more; the shape is their sum.

    diameters: three or more, the first across the mark, at 180°/count from one to the next.
    division: of the micrometer. vee_readings: eight or more, the first with the mark under the
    indicator, at 360°/count; they grow as the plunger is pushed in. vee_angle: of the V; see
    `vee_of_pins` for two pins. dial_division: of that indicator.
    Returns a `RimMeasured`. Raises InputError naming the argument. Notes: n diameters tell up to
    n − 1 lobes (n odd), n readings in a V up to (n − 1)/2; higher ones look like lower ones. Wipe
    the rim: a burr is read as a lobe.
    Source: three-point-lapping; iso-4292; roundness-devices; iso-12181.

    By hand: an oval whose diameters differ by 0.02 mm departs from round by half of that.
    >>> found = measure_rim(["78.01 mm", "78.00 mm", "77.99 mm", "78.00 mm"], "0.01 mm")
    >>> print(found.diameter.round(6), found.departure.round(6), found.hidden)
    78.0 mm 0.01 mm (3, 4, 5, 6, 7, 8, 9, 10, 11, 12)
    """
    size = np.asarray(diameters, float)
    found = _even(size, division)
    if vee_readings is not None:
        readings = np.asarray(vee_readings, float)
        if np.ndim(vee_angle):
            raise InputError("vee_angle", "give one angle")
        for each in _in_vee(readings, float(vee_angle), dial_division):
            known = found.get(each.order)
            if known is None or resolution.more_than(abs(each.factor), abs(known.factor)):
                found[each.order] = each
    angles = np.arange(PLACES) * TURN / PLACES
    out = sum(
        (np.conj(each.wave) * np.exp(1j * each.order * angles)).real for each in found.values()
    )
    profile = (size.mean() / 2 + out) * np.exp(1j * angles)
    lobes = tuple(found[order] for order in sorted(found))
    hidden = tuple(order for order in range(2, HIGHEST + 1) if order not in found)
    return RimMeasured(size, lobes, hidden, profile, vee_readings is not None)


def _even(size, division):
    """Even lobes from diameters: those of 2m lobes are the m-th harmonic over half a turn."""
    angles = np.arange(size.size) * TURN / size.size
    highest = min((size.size - 1) // 2, HIGHEST // 2)
    found = harmonics.core(angles, size, highest, division)
    return {2 * each.order: _lobes(2 * each.order, 2.0, each) for each in found}


def _in_vee(readings, angle, division):
    """Lobes of every number that this V does not hide."""
    angles = np.arange(readings.size) * TURN / readings.size
    highest = min((readings.size - 1) // 2, HIGHEST)
    for each in harmonics.core(angles, readings, highest, division):
        factor = float(vee_factor.core(each.order, angle))
        if each.order > 1 and abs(factor) >= BLIND:
            yield _lobes(each.order, factor, each)


def _lobes(order, factor, found):
    vector = found.vector
    unsure = float(found.uncertainty.m_as("m")) / abs(factor)
    return Lobes(order, factor, complex(vector.core) / factor, unsure, bool(vector.told))


@boundary(
    returns="length", total="length >= 0", lobes=whole_number(2, MOST_LOBES), vee_angle=as_vee
)
def departure_from_total(total, lobes, vee_angle):
    """How far from round is a disc of so many lobes whose needle swings this far in a V?

    total / |F|, F of `vee_factor`. Count the needle's swings in a turn: they are the lobes.

    total: largest reading less smallest. lobes: whole number. vee_angle: of the V; they broadcast.
    Returns a length in mm; infinite where that V hides those lobes altogether. Raises InputError.
    Notes: for lobes of one number. Source: iso-4292; three-point-lapping.

    By hand: 0.03 mm / 2 for three lobes in a V of 90°.
    >>> print(departure_from_total("0.03 mm", 3, "90 deg").round(9))
    0.015 mm
    """
    factor = np.abs(vee_factor.core(lobes, vee_angle))
    factor = np.where(factor <= 1e-9, 0.0, factor)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(total > 0, np.divide(total, factor), 0.0)[()]
