"""Does the pad press its facing harder than the facing can take?"""

from dataclasses import dataclass

import numpy as np

from workshop_lib.friction.pad import Pad, peak_pressure
from workshop_lib.materials import facing as find_facing
from workshop_lib.quantities import as_shown, boundary, one_value, say, show


@dataclass(frozen=True, eq=False)
class FacingLoad:
    """How hard a facing is pressed, against what it can take.

    mean, peak: pressures in MPa; the peak is infinite where the pressure law has no bound. highest:
    what the table prints, or None. margin: highest over peak, or None where nothing is printed.
    """

    facing: object
    mean: object
    peak: object
    highest: object
    margin: float | None

    @property
    def bears(self):
        """Whether the facing can take its peak; None where nothing is printed for it."""
        return None if self.margin is None else self.margin >= 1

    @property
    def reason(self):
        """The same in words, with the pressures."""
        words = "{facing}: the pressure is {peak} at most"
        if np.isinf(self.peak.m):
            words = "{facing}: the pressure has no limit at one place, by this pressure law"
        pressed = say(words, facing=say(self.facing.name), peak=show(self.peak))
        if self.highest is None:
            return say("{pressed}; how much it can take is not known", pressed=pressed)
        words = "{pressed}; it can take {highest}: {enough}"
        enough = say("not too hard" if self.bears else "too hard")
        return say(words, pressed=pressed, highest=show(self.highest), enough=enough)


@boundary(pad=Pad, thrust="force >= 0", facing=find_facing)
def facing_load(pad, thrust, facing):
    """Is the facing pressed harder anywhere than it can take?

    Margin = highest pressure of the facing/`peak_pressure` of the pad.

    pad: one `Pad`. thrust: one force. facing: key or `Facing`. Returns a `FacingLoad` with
    `.margin`, `.bears` and `.reason` in words. Raises InputError. Notes: the printed pressures are
    those of clutch linings that slip and grow hot; at rest a facing can take more, and a soft one
    spreads its peaks. Source: the facing's row in `facings.csv`.

    By hand, cork can take 0.1 MPa: pi × (30 mm)² × 0.1 MPa = 283 N.
    >>> facing_load(Pad("60 mm"), "565.5 N", "cork").reason
    'cork: the pressure is 0.200 MPa at most; it can take 0.100 MPa: too hard'
    >>> round(facing_load(Pad("60 mm"), "565.5 N", "cork").margin, 3)
    0.5
    """
    one_value(pad=pad.relief, thrust=thrust)
    peak = float(peak_pressure.core(pad, thrust))
    mean = thrust / pad.area.m_as("m²")
    highest = facing.highest_pressure
    margin = None
    if highest is not None:
        with np.errstate(divide="ignore", over="ignore"):
            margin = float(np.divide(highest.m_as("Pa"), peak))
    mean, peak = as_shown(mean, "pressure"), as_shown(peak, "pressure")
    return FacingLoad(facing, mean, peak, highest, margin)
