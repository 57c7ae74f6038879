"""How is a limit rounded to the safe side, so that whoever goes by it stays within?"""

import numpy as np

from workshop_lib.quantities.resolution import steps_down
from workshop_lib.quantities.systems import in_system
from workshop_lib.quantities.units import Q_, rounded


def rounded_down(limit, figures=2):
    """Return a limit that is not negative, no greater than it was, to so many figures.

    It is rounded in the system that is spoken, so that it is not rounded up again when it is shown.

    >>> print(rounded_down(Q_(116.9, "N")), rounded_down(Q_(0.2, "mm"), 3))
    110.0 N 0.2 mm
    """
    limit = in_system(limit)
    size = float(limit.m)
    if not np.isfinite(size) or size <= 0:
        return limit
    step = 10.0 ** (steps_down(np.log10(size), 1) - figures + 1)
    return Q_(float(f"{steps_down(size, step) * step:.{figures}g}"), limit.units)


def figures_known(size, doubt):
    """Return to how many figures a size is known: to the second one of its doubt, as the GUM asks.

    size, doubt: single quantities of one kind. At least 1 and at most 7; 5 without a doubt.

    >>> figures_known(Q_(78.0163, "mm"), Q_(65, "um")), figures_known(Q_(59, "um"), Q_(58, "um"))
    (5, 2)
    """
    doubt = float(doubt.m_as(size.units))
    if not np.isfinite(doubt) or doubt <= 0 or not size.m:
        return 5
    places = [int(f"{abs(float(each)):.1e}".partition("e")[2]) for each in (size.m, doubt)]
    return int(np.clip(places[0] - places[1] + 2, 1, 7))


def times_over(margin):
    """Write a margin to two figures, never more than it is: 1.955 falls short of 2.

    >>> times_over(1.955), times_over(2.0), times_over(14.6), times_over(0.678)
    ('1.9', '2.0', '14', '0.67')
    """
    return rounded(rounded_down(Q_(margin)).m, 2) if np.isfinite(margin) else rounded(margin)
