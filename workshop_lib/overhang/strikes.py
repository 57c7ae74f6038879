"""How hard do the corners strike, and do their strikes ring the rim?"""

from dataclasses import dataclass

import numpy as np

from workshop_lib.quantities import Q_, InputError, as_shown, boundary, one_value, whole_number
from workshop_lib.sources import Range, standing

MOST_MULTIPLES = 1000
ADDING_UP = 30  # multiples: a blow's ring has died to a seventh by the next one, at 1 % of damping


@boundary(returns="frequency", strikes="ratio >= 0", speed="speed > 0")
def strike_frequency(strikes, speed):
    """How often do the corners strike the tool?

    f = strikes × omega / (2 pi).

    strikes: plain number per turn. speed: of the spindle. Broadcast together. Returns a frequency
    in Hz. Raises InputError. Source: elementary-mechanics.

    By hand: eight corners at four turns in a second.
    >>> print(strike_frequency(8, "240 rev/min").round(6))
    32.0 Hz
    """
    return strikes * speed / (2 * np.pi)


@boundary(engaged_share="ratio >= 0")
def multiples_that_ring(engaged_share):
    """How many multiples of the strikes carry force and can build up a ring?

    A blow that lasts t carries force up to about 1/t. Its rise is half of the arc that is cut: with
    the share s of the turn cut in z strikes, t = s/(2 z n) and 1/t = (2/s) × z n. So k = 2/s,
    rounded up, and 30 at most.

    engaged_share: of the turn that is cut, one plain number. Returns a whole number. Raises
    InputError. Notes: beyond thirty the rim swings thirty times from blow to blow, and what is left
    of one does not add to the next (from memory: 1 % of critical damping, and a soft facing has
    more). Source: elementary-mechanics, from-memory.

    By hand: a quarter of the turn is cut.
    >>> multiples_that_ring(0.25), multiples_that_ring(0.03), multiples_that_ring(0)
    (8, 30, 30)
    """
    one_value(engaged_share=engaged_share)
    return int(np.ceil(2 / max(engaged_share, 2 / ADDING_UP) - 1e-9))


@dataclass(frozen=True, eq=False)
class Resonance:
    """The natural mode that the strikes come nearest to.

    nodal_diameters: n of the mode. multiple: k of the strike frequency. excitation: the frequency
    that the mode feels. natural: its own. apart: how far off the excitation is, as a share of the
    natural frequency, negative below it.
    """

    nodal_diameters: int
    multiple: int
    excitation: object
    natural: object
    apart: float


@boundary(
    strikes="ratio > 0",
    speed="speed > 0",
    frequencies="frequency > 0",
    multiples=whole_number(1, MOST_MULTIPLES),
)
def nearest_resonance(strikes, speed, frequencies, multiples=1):
    """Which natural mode do the strikes come nearest to, and how near?

    The blows repeat at k × strikes × speed, k = 1, 2, 3 …; and the disc carries its waves past the
    tool, so that a mode with n nodal diameters feels (k × strikes ± n) × speed.

    strikes: per turn, one number. speed: of the spindle, one value. frequencies: natural ones for
    n = 0, 1, 2 …, as `overhang.natural_frequencies` gives them for one disc. multiples: how many of
    the strike frequency to look at, a whole number from 1 to 1000 (a short blow holds many).
    Returns a `Resonance`. Raises InputError. Notes: near is no proof of chatter, nor far of peace;
    a mode that is hit within a few hundredths rings. Source: elementary-mechanics.

    By hand: 8 strikes at 600 rev/min are 80 Hz; twice that less one turn is 150 Hz.
    >>> found = nearest_resonance(8, "600 rev/min", ["200 Hz", "151 Hz"], multiples=2)
    >>> print(found.nodal_diameters, found.multiple, found.excitation.round(6))
    1 2 150.0 Hz
    >>> round(found.apart, 3)
    -0.007
    """
    one_value(strikes=strikes, speed=speed)
    frequencies = np.atleast_1d(frequencies)
    if frequencies.ndim != 1:
        raise InputError("frequencies", "give the frequencies of one disc, in one list")
    modes, turns = np.arange(len(frequencies)), speed / (2 * np.pi)
    wanted = np.arange(1, multiples + 1)[:, None] * strikes
    felt = np.stack([np.abs(wanted - modes), wanted + modes]) * turns
    apart = felt / frequencies - 1
    side, row, mode = np.unravel_index(np.argmin(np.abs(apart)), apart.shape)
    return Resonance(
        int(mode),
        int(row) + 1,
        as_shown(felt[side, row, mode], "frequency"),
        as_shown(frequencies[mode], "frequency"),
        float(apart[side, row, mode]),
    )


LOBES = 40  # maxima of the answer that are told apart; beyond them it is 1 within 1 %


@boundary(returns="ratio", rise_time="time >= 0", own_period="time > 0")
def strike_factor(rise_time, own_period):
    """How far beyond its steady value does a load swing that rises evenly and then stays?

    A mass on a spring, at rest, without damping: K = 1 + |sin(pi t/T)| / (pi t/T), t the rise time
    and T the own period. A blow (t = 0) doubles the load; a rise slow against T adds nothing.

    rise_time: in which the load grows. own_period: of the set-up. Broadcast together. Returns a
    ratio from 1 to 2. Raises InputError. Notes: without damping, the safe side. Rise times that
    are whole periods come out at 1 by luck; see `strike_factor_up_to`. Source: ramp-response.

    By hand, t = T/2: 1 + 1/(pi/2) = 1.637.
    >>> round(strike_factor("0.005 s", "0.01 s"), 3)
    1.637
    """
    return 1 + np.abs(np.sinc(np.divide(rise_time, own_period)))


def _peaks():
    """Rise times over T at which the factor has its maxima: tan(pi x) = pi x."""
    guess = (np.arange(1, LOBES + 1) + 0.5) * np.pi
    place = guess - 1 / guess
    for _ in range(8):
        sine, cosine = np.sin(place), np.cos(place)
        place = place - (sine - place * cosine) / (place * sine)
    return place / np.pi


PEAKS = _peaks()


@boundary(returns="ratio", rise_time="time >= 0", longest_period="time > 0")
def strike_factor_up_to(rise_time, longest_period):
    """What is the worst strike factor of any set-up whose own period is that long or shorter?

    The largest K of `strike_factor` for all T up to the longest: it never falls as the set-up grows
    softer or the corner arrives faster.

    rise_time: in which the load grows. longest_period: of the set-up. Broadcast together. Returns a
    ratio from 1 to 2. Raises InputError. Source: ramp-response.

    A rise of exactly one period counts as the worst one near it, not as the lucky 1:
    >>> round(strike_factor_up_to("0.01 s", "0.01 s"), 3)
    1.217
    """
    ratio = np.asarray(np.divide(rise_time, longest_period), dtype=float)
    place = np.minimum(np.searchsorted(PEAKS, ratio), LOBES - 1)
    later = 1 + np.abs(np.sinc(PEAKS[place]))
    return np.maximum(1 + np.abs(np.sinc(ratio)), later)[()]


def own_frequencies():
    """At what frequency does a set-up of this trade swing, when nobody has measured it?

    A `Range` of frequencies of tool, slide, spindle and disc together, from a worn light lathe to a
    stiff one. Tap the toolpost and listen, or count the chatter marks. Source: from-memory.

    >>> print(own_frequencies().low)
    150.0 Hz
    """
    three = (Q_(value, "Hz") for value in (150.0, 300.0, 800.0))
    return Range(*three, sources="from-memory", standing=standing("from-memory"))
