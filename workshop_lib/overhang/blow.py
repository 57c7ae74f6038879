"""How much harder than its steady push does a corner load the set-up as it strikes the tool?"""

import numpy as np

from workshop_lib.quantities import Q_, boundary
from workshop_lib.sources import Range, standing

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
