"""How stiff is your own facing? From the note of the rim, tapped in the set-up at a standstill."""

from dataclasses import dataclass

import numpy as np

from workshop_lib.materials import find_material
from workshop_lib.overhang import soft_frequencies, spreading_length
from workshop_lib.quantities import InputError, as_shown, boundary, one_value, resolution, show

SOFTEST, HARDEST = 1e4, 1e11  # Pa; softer than foam rubber, harder than cast iron
FELT = 0.01  # k a⁴/D from which the rim bends, and does not only rock on its facing
COARSE, STEPS = 33, 60  # moduli tried first; then straight lines
CLOSE = 1e-8  # of the frequency
WAVES = 3  # nodal diameters 0, 1 and 2 are tried
MODEL = 0.05  # share of the frequency, standard: mass of pad and nose, thickness and modulus
COVER = 2.0


@dataclass(frozen=True)
class Facing:
    """What a note says of the facing, if the rim swings with so many nodal diameters.

    core: modulus, Pa. factor: of its standard uncertainty: it lies between core / factor and core ×
    factor in two cases out of three.
    """

    nodal_diameters: int
    core: float
    factor: float

    @property
    def modulus(self):
        """Modulus of the facing, pressed."""
        return as_shown(self.core, "pressure")

    @property
    def low(self):
        """Its low end (k = 2): for the bend of the rim."""
        return as_shown(self.core / self.factor**COVER, "pressure")

    @property
    def high(self):
        """Its high end (k = 2)."""
        return as_shown(self.core * self.factor**COVER, "pressure")

    def __str__(self):
        return (
            f"{show(self.modulus, figures=2)} ({show(self.low, figures=2)} to "
            f"{show(self.high, figures=2)}) with {self.nodal_diameters} nodal "
            f"diameter{'s' * (self.nodal_diameters != 1)}"
        )


@boundary(
    frequency="frequency > 0",
    frequency_uncertainty="frequency > 0",
    disc_diameter="length > 0",
    pad_diameter="length > 0",
    thickness="length > 0",
    material=find_material,
    facing_thickness="length > 0",
    inner_diameter="length >= 0",
)
def facing_from_note(
    frequency,
    frequency_uncertainty,
    disc_diameter,
    pad_diameter,
    thickness,
    material,
    facing_thickness,
    inner_diameter="0 mm",
):
    """How stiff is the facing under a squeezed disc, from the note of its rim?

    The modulus for which the plate on a soft facing (`overhang.soft_frequencies`) rings so, for
    0, 1 and 2 nodal diameters; its spread from the note's and the model's, by the slope of the
    note against the logarithm of the modulus.

    frequency, frequency_uncertainty: of the note, the latter a standard one. disc_diameter,
    pad_diameter, inner_diameter, thickness: of disc, pad, its relieved middle and the sheet.
    material: key or `Material`. facing_thickness: of the facing. Single values. Returns a tuple of
    `Facing`s, one for each number of nodal diameters that can ring so; the first is the mode that
    is lowest of all at its modulus, which a tap at the rim rings most. Raises InputError where no
    facing would ring so. Notes: spindle stopped and isolated, thrust on. The model leaves out the
    mass of pad and nose; 5 % of the frequency is taken for that and for the sheet. Close to the
    clamped note the facing hardly counts, and the spread says so. Source: timoshenko-plates.

    A note that was computed for a facing of 50 MPa gives 50 MPa back:
    >>> set_up = ("78 mm", "50 mm", "0.635 mm", "stainless_steel")
    >>> note = soft_frequencies(*set_up, "50 MPa", "3 mm", modes=2).min()
    >>> print(round(facing_from_note(note, "1 Hz", *set_up, "3 mm")[0].modulus.m_as("MPa"), 3))
    50.0
    """
    one_value(frequency=frequency, disc_diameter=disc_diameter, pad_diameter=pad_diameter)
    one_value(thickness=thickness, facing_thickness=facing_thickness)
    one_value(inner_diameter=inner_diameter, frequency_uncertainty=frequency_uncertainty)

    def ring(logarithm):
        return soft_frequencies.core(
            disc_diameter, pad_diameter, thickness, material, np.exp(logarithm),
            facing_thickness, inner_diameter, modes=WAVES,
        )  # fmt: skip

    spread = spreading_length.core(material, thickness, SOFTEST, facing_thickness)  # (D/k)^¼
    softest = SOFTEST * max(1.0, FELT * (2 * spread / disc_diameter) ** 4)
    if not resolution.more_than(HARDEST, softest):
        raise InputError(
            "thickness", "this sheet is too stiff: its note does not depend on the pad facing"
        )
    coarse = np.linspace(np.log(softest), np.log(HARDEST), COARSE)
    notes = ring(coarse)
    found = []
    for n in range(WAVES):
        over = np.flatnonzero(notes[:, n] >= frequency)
        if len(over) and over[0] > 0:
            ends = coarse[over[0] - 1], coarse[over[0]]
            found.append(_solved(ring, frequency, frequency_uncertainty, n, *ends))
    if not found:
        said = f"{notes[0].min():.0f} to {notes[-1].max():.0f} Hz"
        problem = f"no pad facing gives this rim that note: it would be {said}"
        raise InputError("frequency", problem, "Check the sizes, and which note it is")
    return tuple(sorted(found, key=lambda each: (_rank(ring, each), each.nodal_diameters)))


def _rank(ring, each):
    """Nothing for the mode that is the lowest of all at its own modulus, 1 for another."""
    return int(np.argmin(ring(np.log(each.core))) != each.nodal_diameters)


def _solved(ring, frequency, doubt, n, low, high):
    """Close in on the logarithm of the modulus that rings so, by straight lines between ends."""
    off = [ring(each)[n] - frequency for each in (low, high)]
    for _ in range(STEPS):
        middle = low - off[0] * (high - low) / (off[1] - off[0])
        here = ring(middle)[n] - frequency
        if abs(here) <= CLOSE * frequency:
            break
        if here < 0:
            low, off = middle, [here, off[1] / 2]
        else:
            high, off = middle, [off[0] / 2, here]
    step = 0.05
    slope = (ring(middle + step)[n] - ring(middle - step)[n]) / (2 * step)
    spread = np.hypot(doubt, MODEL * frequency) / max(slope, 1e-12)
    return Facing(n, float(np.exp(middle)), float(np.exp(min(spread, 5.0))))
