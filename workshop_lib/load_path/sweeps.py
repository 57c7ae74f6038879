"""Which spindles are kept ready, and where does the search for their rest begin?

A search that begins near its end is three times as quick. Where it begins changes nothing but the
time, since there is only one position of rest; and it hangs on the load alone, not on what was
asked before, so that the same question always gives the same digits.
"""

from functools import lru_cache

import numpy as np

from workshop_lib.load_path.shaft import LEAST, Spindle

MOST = 2e4  # N; no side force beyond it is looked at
FORCES = np.geomspace(LEAST, MOST, 65)  # N, of a sweep over all side forces
STEP = 1.25  # ratio of the round thrusts at which sweeps are kept
SLIGHT = 1e-3  # N; a thrust below it is none


@lru_cache(maxsize=64)
def spindle_of(design, shaft="elastic"):
    """The `Spindle` of a design, kept while the same design is asked again and again."""
    return Spindle(design, shaft)


@lru_cache(maxsize=64)
def swept(spindle, thrust):
    """Tip shifts (65,) and positions (65, k) of rest over `FORCES` at one thrust in N, or NaN."""
    found = spindle.solve(np.full(len(FORCES), thrust), FORCES)
    return found.tip_shift, found.position


def round_thrust(thrust):
    """The thrust nearest to this one at which a sweep is kept, N."""
    return 0.0 if thrust < SLIGHT else float(STEP ** np.round(np.log(thrust) / np.log(STEP)))


def begin(design, shaft, thrust, side_forces=None, shifts=None):
    """Positions (n, k) from which to seek rest under one thrust and side forces (n,), all in N.

    shifts: (n,) m of the tip, in place of the side forces. A design that was changed from another
    begins where that one rests. Returns None where it has nothing in common with it.
    """
    spindle = spindle_of(design.root or design, shaft)
    if len(spindle.tip) != len(spindle_of(design, shaft).tip):
        return None
    tips, positions = swept(spindle, round_thrust(thrust))
    known, wanted = (FORCES, side_forces) if shifts is None else (tips, shifts)
    above = np.clip(np.searchsorted(known, wanted), 1, len(known) - 1)
    share = (wanted - known[above - 1]) / (known[above] - known[above - 1])
    share = np.clip(share, 0.0, 1.0)[:, None]
    start = (1 - share) * positions[above - 1] + share * positions[above]
    if shifts is None:
        return start
    within = np.clip(shifts / tips[0], 0.0, 1.0)[:, None]  # the play all sideways parts go along
    return np.where(spindle.sideways, within * start, start)
