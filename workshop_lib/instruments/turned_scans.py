"""Is it the disc or the scanner? Two scans of one disc, turned between them."""

from dataclasses import dataclass, field

import numpy as np

from workshop_lib.instruments.circles import minimum_zone
from workshop_lib.instruments.disc_scan import COVER, LOBES, DiscScan
from workshop_lib.instruments.profile import PLACES, TURN
from workshop_lib.instruments.scan_doubt import GEOMETRY, total
from workshop_lib.quantities import InputError, as_shown, boundary

BLIND = 0.5  # |e^(i k a) − e^(i k b)| below which order k cannot be told apart
LEAST_TURN = np.radians(20)
ALIKE = 0.01  # of the diameter; two scans that differ by more are of two discs


@dataclass(frozen=True, eq=False)
class Turned:
    """One disc from two scans: what turned with it is its own, what stayed is the scanner's.

    disc, scanner: heights round the turn (m), the disc's from its mark, the scanner's from three
    o'clock of its glass. blind: orders that these two places cannot tell apart, left with the disc.
    """

    disc: np.ndarray = field(repr=False)
    scanner: np.ndarray = field(repr=False)
    blind: tuple
    mean_diameter: float
    standard: float
    ripple: float

    @property
    def diameter(self):
        """Mean diameter of both scans."""
        return as_shown(self.mean_diameter, "length")

    @property
    def uncertainty(self):
        """Expanded uncertainty of that diameter (k = 2)."""
        return as_shown(COVER * self.standard, "length")

    @property
    def roundness(self):
        """Departure from roundness of the disc alone, by the minimum zone."""
        return as_shown(_zone(self.disc, self.mean_diameter), "length")

    @property
    def roundness_uncertainty(self):
        """Expanded uncertainty of that departure (k = 2)."""
        return as_shown(COVER * self.ripple, "length")

    @property
    def scanner_error(self):
        """How far the scanner alone makes this circle look out of round."""
        return as_shown(_zone(self.scanner, self.mean_diameter), "length")


def _zone(heights, diameter):
    angles = (np.arange(len(heights)) + 0.5) * TURN / len(heights)
    return minimum_zone((diameter / 2 + heights) * np.exp(1j * angles)).zone


@boundary(first=DiscScan, second=DiscScan)
def compare_turned(first, second):
    """How much of what looks out of round is the disc's, and how much the scanner's?

    In the disc's frame scan j shows P(theta) + S(theta + m_j), m_j where its mark lay; harmonic by
    harmonic, S_k = (h1_k − h2_k) / (e^(i k m1) − e^(i k m2)), P_k what remains.

    first, second: `DiscScan`s of one disc, lying turned by about 90°, each with a pen mark.
    Returns a `Turned`. Raises InputError for a scan without a mark, a turn below 20°, or diameters
    too different for one disc. Notes: orders that come back to themselves (4, 8 … after 90°) stay
    with the disc. Source: evans-1996; sensors-20-1 on why scanners need it.

    >>> compare_turned("one", "two")
    Traceback (most recent call last):
    ...
    workshop_lib.quantities.errors.InputError: first: ‘one’ is not a DiscScan.
    """
    for name, each in (("first", first), ("second", second)):
        if not each.has_mark:
            raise InputError(name, "shows no pen mark near the rim", "Mark the rim and scan again")
    sizes = np.array([2 * each.least_squares.radius for each in (first, second)])
    if np.ptp(sizes) > ALIKE * sizes.mean():
        raise InputError("second", "is not the same disc: the diameters differ by too much")
    turn = (second.mark_at - first.mark_at + np.pi) % TURN - np.pi
    if abs(turn) < LEAST_TURN:
        mend = "Turn the disc by about a quarter and scan it again"
        raise InputError("second", "has the disc the same way round as the first", mend)
    waves = [np.fft.rfft(_even(each)) / PLACES for each in (first, second)]
    orders = np.arange(len(waves[0]))
    half = np.exp(1j * orders * np.pi / PLACES)  # heights stand in the middle of their sectors
    split = np.exp(1j * orders * first.mark_at) - np.exp(1j * orders * second.mark_at)
    told = (np.abs(split) >= BLIND) & (orders > 1)
    scanner = np.where(told, (waves[0] - waves[1]) / half / np.where(told, split, 1), 0)
    disc = (waves[0] + waves[1]) / half / 2 - scanner * (
        np.exp(1j * orders * first.mark_at) + np.exp(1j * orders * second.mark_at)
    ) / 2
    disc[0] = 0
    heights, stays = (np.fft.irfft(each * half, PLACES) * PLACES for each in (disc, scanner))
    parts = [part for part in first.parts if part[0] != GEOMETRY]
    standard = float(np.hypot(total(parts), max(np.ptp(sizes) / 2, stays.std())))
    known = first.ripple / np.sqrt(2) * 2
    blind = tuple(int(k) for k in orders[2 : LOBES + 1] if not told[k])
    return Turned(heights, stays, blind, float(sizes.mean()), standard, float(known))


def _even(scan):
    """Heights of a scan at the middles of even sectors from its mark."""
    angles = np.angle(scan.profile) % TURN
    heights = np.abs(scan.profile) - scan.least_squares.radius
    order = np.argsort(angles)
    middles = (np.arange(PLACES) + 0.5) * TURN / PLACES
    return np.interp(middles, angles[order], heights[order], period=TURN)
