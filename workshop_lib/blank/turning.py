"""How is a blank turned? Its sheet, the cut, the speed and the hold."""

from dataclasses import dataclass, field

import numpy as np

from workshop_lib.blank.engagement import TURN
from workshop_lib.friction import Pad
from workshop_lib.materials import find_material
from workshop_lib.quantities import InputError, quote, to_core
from workshop_lib.sources import choose
from workshop_lib.torque import CUTS, ESTIMATES, chip_load, nose_radius_factor, warn_of_chip

LEAST_DEPTH = 1e-9  # m; no cut has no depth
_NUMBERS = {
    "thickness": "length > 0",
    "feed": "feed > 0",
    "speed": "speed > 0",
    "thrust": "force >= 0",
    "friction_coefficient": "ratio >= 0",
    "radial_share": "ratio >= 0",
    "approach_angle": "angle > 0",
    "overrun": "length >= 0",
    "raised": "ratio > 0",
    "nose_radius": "length >= 0",
}


@dataclass(frozen=True, eq=False, init=False)
class Turning:
    """The conditions of all passes: sheet, cut, speed and hold. Single values throughout.

    material: key or `Material`. thickness: of the sheet. feed: length per turn. speed: of the
    spindle. pad: `Pad`. thrust: of the tailstock. friction_coefficient: plain number; hand in the
    low one of a range. radial_share: radial force as a share of the cutting force. cut: "traverse"
    (the tool passes along the edge, across the thickness of the sheet) or "plunge" (it is fed
    radially; the chip is as wide as the sheet is thick). estimate: "low", "typical" or "high"
    cutting force. approach_angle: of a traverse cut. overrun: what the tool travels beside the cut.
    raised: factor on the force for wear, rake, speed and chip (`torque.factors`). nose_radius: of a
    tool that passes along the edge. own_period: the longest at which the set-up swings; with it
    the blow of each corner raises the force, None: a steady push.
    Raises InputError naming the argument. Its attributes are bare numbers in SI.

    >>> grip = {"pad": Pad("60 mm"), "thrust": "600 N", "friction_coefficient": 0.3}
    >>> cut = {"feed": "0.05 mm", "speed": "80 rev/min", "radial_share": 0.5}
    >>> Turning("stainless_steel", "0.6 mm", **cut, **grip)
    Turning('stainless_steel', traverse cut)
    """

    material: object
    thickness: float = field(repr=False)
    feed: float
    speed: float
    pad: Pad
    thrust: float
    friction_coefficient: float
    radial_share: float
    cut: str
    estimate: str
    approach_angle: float
    overrun: float
    raised: float
    nose_radius: float
    own_period: float | None

    def __init__(
        self,
        material,
        thickness,
        feed,
        speed,
        pad,
        thrust,
        friction_coefficient,
        radial_share,
        cut="traverse",
        estimate="typical",
        approach_angle="90 deg",
        overrun="0 mm",
        raised=1.0,
        nose_radius="0 mm",
        own_period=None,
    ):
        given = dict(locals())
        for name, spec in _NUMBERS.items():
            object.__setattr__(self, name, _single(given[name], spec, name))
        period = None if own_period is None else _single(own_period, "time > 0", "own_period")
        object.__setattr__(self, "own_period", period)
        if not isinstance(pad, Pad) or pad.shape:
            raise InputError("pad", f"{quote(pad)} is not a single Pad")
        choices = {"cut": CUTS, "estimate": ESTIMATES}
        chosen = {name: choose(given[name], known, name, name) for name, known in choices.items()}
        for name, value in (chosen | {"material": find_material(material), "pad": pad}).items():
            object.__setattr__(self, name, value)
        warn_of_chip(self.feed, self.approach_angle if self.cut == "traverse" else np.pi / 2)

    def __repr__(self):
        return f"Turning('{self.material.key}', {self.cut} cut)"

    def force(self, depth):
        """Cutting force in N where the tool meets that depth of material in one turn, m.

        A traverse cut is as wide as that and as thick as the feed; a plunge cut as wide as the
        sheet is thick and as thick as that, which is the feed.
        """
        if self.cut == "traverse":
            feed, angle = self.feed, self.approach_angle
            rounded = self.raised
            if self.nose_radius > 0:
                met = np.maximum(depth, LEAST_DEPTH)
                rounded = rounded * nose_radius_factor.core(
                    self.material, met, self.nose_radius, angle
                )
            return rounded * chip_load(self.material, depth, feed, angle, self.estimate)
        straight = self.material, self.thickness, depth, np.pi / 2, self.estimate
        return self.raised * chip_load(*straight)

    def taken(self, inner, outer):
        """How much of a pass's radius one turn takes, m: all of it, or the feed of a plunge."""
        return outer - inner if self.cut == "traverse" else np.full(np.shape(inner), self.feed)

    def time(self, inner, outer):
        """Time in the cut, s: travel over feed gives turns, and turns over speed time."""
        length = self.thickness if self.cut == "traverse" else outer - inner
        return (length + self.overrun + 0 * inner) / self.feed * TURN / self.speed


def _single(value, spec, name):
    kind, _, sign = spec.partition(" ")
    number = to_core(value, kind, name, sign)
    if np.ndim(number):
        raise InputError(
            name, "give one value, not several", "From a range give .low, .typical or .high"
        )
    return number
