"""How likely is it that the disc slips? The margin with all that is not known for certain."""

from dataclasses import dataclass, field
from statistics import NormalDist

import numpy as np

from workshop_lib import slip
from workshop_lib.friction import Pad, coefficient
from workshop_lib.quantities import InputError, quote, show
from workshop_lib.sources import choose
from workshop_lib.torque import cutting_torque, side_force
from workshop_lib.uncertainty.propagation import Outcome, propagate
from workshop_lib.uncertainty.spreads import Spread

INPUTS = {
    "thrust": "force",
    "friction_coefficient": "ratio",
    "cutting_force": "force",
    "radial_share": "ratio",
    "unbalance": "force",
    "disc_diameter": "length",
}
SLIPS, WANTED = 1.0, 2.0  # margins: below the first it slips; below the second it is no margin
NORMAL_95 = NormalDist().inv_cdf(0.975)


@dataclass(frozen=True, eq=False)
class SlipCase:
    """One cut on one hold, each of its numbers with its spread.

    pad: one `Pad`. spreads: name -> `Spread` for exactly thrust, cutting_force (tangential),
    unbalance (side force of an off-centre blank, at its worst direction): forces; disc_diameter
    (where the tool cuts): length; friction_coefficient, radial_share (radial force as a share of
    the cutting force): plain numbers. What is known for certain is `spreads.exactly(value)`.
    nose: "floating" or "located". nose_friction: plain number for a located nose; None: as at the
    pad. Raises InputError naming the argument or the spread.
    """

    pad: Pad
    spreads: dict = field(repr=False)
    nose: str = "floating"
    nose_friction: float | None = None
    bare: dict = field(init=False, repr=False)  # the spreads in SI, none of them below zero

    def __post_init__(self):
        if not isinstance(self.pad, Pad) or self.pad.shape:
            raise InputError("pad", f"{quote(self.pad)} is not a single Pad")
        choose(self.nose, slip.NOSES, "nose", "nose")
        if self.nose_friction is not None:
            friction = coefficient(self.nose_friction, "nose_friction")
            if np.ndim(friction):
                raise InputError("nose_friction", "give one value, not several")
            object.__setattr__(self, "nose_friction", friction)
        object.__setattr__(self, "bare", _bare(self.spreads))

    def slip_case(self):
        """Itself, so that it can be handed in where a job is wanted."""
        return self

    def margin(self, **numbers):
        """Slip margin for bare numbers or arrays of the six inputs in SI; see `slip.margin`."""
        force = numbers["cutting_force"]
        return slip.margin.core(
            self.pad,
            numbers["thrust"],
            numbers["friction_coefficient"],
            side_force.core(force, numbers["radial_share"], numbers["unbalance"]),
            cutting_torque.core(force, numbers["disc_diameter"]),
            self.nose,
            self.nose_friction,
        )


def _bare(spreads):
    if not isinstance(spreads, dict):
        raise InputError("spreads", f"{quote(spreads)} is not a dictionary of spreads by name")
    for name in spreads:
        choose(name, INPUTS, "spreads", "name")
    found = {}
    for name, kind in INPUTS.items():
        spread = spreads.get(name)
        if not isinstance(spread, Spread):
            problem = "is missing" if spread is None else f"{quote(spread)} is not a spread"
            raise InputError(name, problem, "Make one, such as spreads.exactly(value)")
        bare = spread.bare(kind, name)
        if bare.best < 0 or (bare.best == 0 and kind == "length"):
            raise InputError(name, "its expectation must not be below zero", f"It is {spread}")
        found[name] = bare.not_below_zero()
    return found


@dataclass(frozen=True, eq=False)
class SlipChance:
    """How the slip margin spreads, and how likely it is to be too small.

    margin: `Outcome` of the margin, a plain number. slips, below_two: in how many of the draws the
    margin lay below 1 and below 2.
    """

    margin: Outcome
    slips: int
    below_two: int

    @property
    def draws(self):
        """How many draws there were."""
        return self.margin.draws

    @property
    def chance(self):
        """Share of the draws that slipped: a plain number from 0 to 1."""
        return self.slips / self.draws

    @property
    def chance_interval(self):
        """95 % interval of that chance, from the number of draws alone; see `share_interval`."""
        return share_interval(self.slips, self.draws)

    @property
    def chance_below_two(self):
        """Share of the draws in which the margin lay below 2."""
        return self.below_two / self.draws

    @property
    def median(self):
        """The margin that half of the draws did not exceed."""
        return self.margin.median

    @property
    def interval(self):
        """The 95 % interval of the margin, as an array of two."""
        return self.margin.interval()

    @property
    def contributions(self):
        """Input -> share of the margin's variance in which it has a hand, largest first."""
        return self.margin.contributions

    def __str__(self):
        low, high = self.chance_interval
        if self.slips == 0:
            said = f"No slip in {self.draws:,} draws: the chance is below 1 in {_one_in(high):,}"
        elif self.slips == self.draws:
            kept = f"1 in {_one_in(1 - low):,}"
            said = f"Slip in each of {self.draws:,} draws: the chance to hold is below {kept}"
        else:
            said = f"Slips in about {_percent(self.chance)} of {self.draws:,} draws"
        said = f"{said.replace(',', ' ')}, if the inputs are as stated. This counts random draws: "
        return said + "it is no promise about your machine."


def _percent(share):
    """A share in per cent, no finer than the spreads deserve; never rounded to none or to all."""
    figures = 1 if share < 0.1 else 2 if share < 0.99 else 6
    return f"{show(100 * share, figures=figures)} %"


def _one_in(share):
    """The whole number below 1 over a share, to two figures."""
    step = 10 ** max(int(np.log10(1 / share)) - 1, 0)
    return int(1 / share / step) * step


def share_interval(count, of):
    """Between which shares does the true chance lie, 95 times in 100, when count of so many hit?

    (p + z²/2n ± z sqrt(p(1 − p)/n + z²/4n²)) / (1 + z²/n), p = count/n, z = 1.96: Wilson's score
    interval. None of n still leaves a chance of up to 3.84/(n + 3.84).

    count, of: whole numbers. Returns (low, high). Source: wilson-1927.

    By hand: 3.8415 / 103.8415.
    >>> low, high = share_interval(0, 100)
    >>> low, round(high, 5)
    (0.0, 0.03699)
    """
    square = NORMAL_95**2
    share = count / of
    middle = share + square / (2 * of)
    half = NORMAL_95 * np.sqrt(share * (1 - share) / of + square / (4 * of**2))
    low, high = (middle - half) / (1 + square / of), (middle + half) / (1 + square / of)
    return (0.0 if count == 0 else float(low)), (1.0 if count == of else float(high))


def chance_of_slip(job, draws, seed, progress=None):
    """How likely is it that the disc slips, with all that is not known for certain?

    The margin of `slip.margin` is asked for every draw of the inputs, with the torque Fc D/2 and
    the side force Fc sqrt(1 + s²) + U of that draw (Fc cutting force, s radial share, U unbalance).

    job: a `SlipCase`, or anything with a method `slip_case()` that gives one. draws, seed,
    progress: as for `propagate`. Returns a `SlipChance`. Raises InputError.
    Notes: inputs are independent; a draw below zero counts as zero. Steady forces, as in
    `slip.margin`: the blow of a corner is not in it. The chance is for one set-up drawn from these
    spreads, not for one turn, and is as true as the spreads are.
    Source: jcgm-101; argatov-2005 for the margin; wilson-1927 for how sure the chance is.

    By hand, where the nose takes all side force: the margin is mu × 300 N × 20 mm / (40 N × 50 mm)
    = 3 mu, and a third of the coefficients from 0.3 to 0.4 lies below 1/3.
    >>> from workshop_lib.uncertainty.spreads import even, exactly
    >>> known = {"thrust": "300 N", "cutting_force": "40 N", "radial_share": 0, "unbalance": "0 N"}
    >>> known = {name: exactly(value) for name, value in known.items()}
    >>> known |= {"disc_diameter": exactly("100 mm"), "friction_coefficient": even(0.3, 0.4)}
    >>> case = SlipCase(Pad("60 mm"), known, nose="located", nose_friction=1)
    >>> print(round(chance_of_slip(case, draws=100_000, seed=1).chance, 2))
    0.33
    """
    gives = callable(getattr(job, "slip_case", None)) and not isinstance(job, type)
    case = job.slip_case() if gives else None
    if not isinstance(case, SlipCase):
        raise InputError("job", f"{quote(job)} gives no SlipCase")
    found = propagate(case.margin, case.bare, draws, seed, progress)
    counts = (round(found.chance_below(limit) * found.draws) for limit in (SLIPS, WANTED))
    return SlipChance(found, *counts)
