"""Do the corners strike near a note of the rim, at any pass, however stiff the pad facing is?"""

from functools import partial
from typing import NamedTuple

import numpy as np

from workshop_lib.overhang import multiples_that_ring, strike_frequency
from workshop_lib.plan import sheet_checks
from workshop_lib.plan.fixes import mends_of_ringing
from workshop_lib.plan.reasons import OPEN, Change, Reason, brief
from workshop_lib.quantities import as_shown, resolution

FAR = 0.2  # share of a natural frequency beyond which its number says nothing
NEAR_RESONANCE = 0.05  # share of a natural frequency; from memory, see `nearest_resonance`


class Near(NamedTuple):
    """The note that strikes come nearest to, bare: its lowest and highest, Hz; what it feels, Hz;
    how far off that is as a share, 0 where it lies between the two; and at which pass."""

    lowest: float
    highest: float
    excitation: float
    apart: float
    number: int


def ringing(job):
    """Do the corners strike near a frequency at which the rim rings, at any pass?

    The note rises as the blank grows smaller, and lies between that of the softest facing in print
    and that of the stiffest, unless the squeezed rim was heard.
    """
    near = _nearest(job)
    if near is None:
        return []
    if not sheet_checks.known(job):
        return [sheet_checks.unknown_facing("ringing", "The note at which the rim rings")]
    apart, strikes = abs(near.apart), job.passes[0].strikes
    holds = "yes" if resolution.at_least(apart, NEAR_RESONANCE) else "open"
    often = brief(strike_frequency(strikes, job["cut.speed"]).m)
    end = near.lowest if near.excitation < near.lowest else near.highest
    words = f"The corners strike the tool {often} times a second; "
    low, high, felt = (_hertz(each, 3) for each in near[:3])
    if apart == 0 and low != high:
        words += (
            f"the rim rings somewhere from {low} to {high}, as stiff as its pad facing is, and "
        )
        words += f"a multiple of the strikes, {felt}, lies there at pass {near.number}"
    elif resolution.more_than(apart, FAR):
        words += f"that is far from {_hertz(end)}, at which the rim rings"
    else:
        words += (
            f"they come within {max(np.ceil(100 * apart), 1):.0f} % of {_hertz(end)}, at which "
        )
        words += "the rim rings"
    mend = partial(_mends, job) if holds == "open" else tuple
    use = OPEN if holds == "open" else NEAR_RESONANCE / apart
    shown = as_shown(near.excitation, "frequency"), as_shown(end, "frequency")
    return [Reason("ringing", holds, use, f"{words}.", *shown, mend=mend)]


def _hertz(bare, figures=2):
    return brief(as_shown(bare, "frequency"), figures)


def _mends(job):
    found = mends_of_ringing(job, _is_quiet)
    if found[0].entries or job.heard_facing is not None or sheet_checks.modulus(job) is None:
        return found
    return *found, Change(
        "Tap the squeezed rim, spindle stopped, and write its note as measured.rim_note (lesson "
        "07): then it is known what to keep clear of."
    )


def _nearest(job):
    core = job.passes.core
    struck = np.flatnonzero(core.strikes)
    if not struck.size:
        return None
    pad, radii = as_shown(2 * job.pad.outer_radius, "length"), core.from_radius[struck]
    ends = [
        [sheet_checks.notes(job, as_shown(2 * radii[at], "length"), pad, stiff).m_as("Hz")
         for stiff in (False, True)]
        for at in (0, -1)
    ]  # fmt: skip
    first, last = np.array(ends)
    way = (radii[0] - radii) / max(radii[0] - radii[-1], 1e-12)
    turns = job["cut.speed"].m_as("rad/s") / (2 * np.pi)
    found = []
    for part, row in zip(way, struck, strict=True):
        most = multiples_that_ring(min(float(core.engaged_share[row]), 1.0))
        bands = first + part * (last - first)
        found.append(_in_bands(*np.sort(bands, axis=0), core.strikes[row], turns, most, row + 1))
    return min(found, key=lambda each: round(abs(each.apart), 6))


def _in_bands(lowest, highest, strikes, turns, multiples, number):
    """The nearest of all modes and multiples at one pass; lowest, highest: notes by mode, Hz."""
    modes = np.arange(len(lowest))
    wanted = np.arange(1, multiples + 1)[:, None] * strikes
    felt = np.stack([np.abs(wanted - modes), wanted + modes]) * turns
    apart = np.where(felt < lowest, felt / lowest - 1, np.maximum(felt / highest - 1, 0.0))
    place = np.unravel_index(np.argmin(np.abs(apart)), apart.shape)
    mode = place[-1]
    bare = lowest[mode], highest[mode], felt[place], apart[place]
    return Near(*map(float, bare), int(number))


def _is_quiet(job):
    return resolution.at_least(abs(_nearest(job).apart), NEAR_RESONANCE)
