"""In what steps can a thing be set at the machine? Thrust, depth, feed, pad, in inch or metric."""

from fractions import Fraction
from typing import NamedTuple

from workshop_lib.quantities import Quantity, parse_unit, resolution, system

STEP_OF_THRUST = 10  # N


class Step(NamedTuple):
    """The least step of a setting: the unit it is set in, the step, and the unit as it is typed."""

    unit: str
    size: float
    typed: str


STEPS = {
    "metric": {
        "thrust": Step("N", STEP_OF_THRUST, "N"),
        "torque": Step("N*m", 0.1, "N m"),
        "depth": Step("mm", 0.01, "mm"),
        "pad": Step("mm", 1, "mm"),
        "feed": Step("mm", 0.005, "mm/rev"),
        "snip": Step("mm", 1, "mm"),
        "pressure": Step("MPa", 0.01, "MPa"),
    },
    "inch": {
        "thrust": Step("lbf", 2, "lbf"),
        "torque": Step("lbf*inch", 1, "lbf in"),
        "depth": Step("thou", 0.5, "thou"),
        "pad": Step("inch", 1 / 16, "in"),
        "feed": Step("thou", 0.2, "thou/rev"),
        "snip": Step("inch", 1 / 32, "in"),
        "pressure": Step("psi", 1, "psi"),
    },
}
LABELS = {"N*m": "N·m", "lbf*inch": "lbf·in", "inch": "in"}


class Setting(NamedTuple):
    """An amount in whole steps: as people read it, as a job file takes it, and as a quantity."""

    told: str
    typed: str
    quantity: Quantity


def step_of(what):
    """The `Step` of "thrust", "torque", "depth", "pad" or "feed" in the system that is spoken."""
    return STEPS[system() or "metric"][what]


def up(number, step):
    """Round up to a whole number of steps; return it as it is typed."""
    return _typed(resolution.steps_up(number, step) * step)


def down(number, step):
    """Round down to a whole number of steps; return it as it is typed."""
    return _typed(resolution.steps_down(number, step) * step)


def set_up(what, amount):
    """The least `Setting` that is not below an amount, a quantity."""
    return _setting(what, amount, up)


def set_down(what, amount):
    """The greatest `Setting` that is not above an amount, a quantity."""
    return _setting(what, amount, down)


def _setting(what, amount, rounded):
    step = step_of(what)
    number = rounded(float(amount.m_as(step.unit)), step.size)
    amount = Quantity(float(number), parse_unit(step.unit))
    if step.unit == "inch":
        told = f"{_fraction(float(number))} in"
        return Setting(told, told, amount)
    told = f"{number} {LABELS.get(step.unit, step.unit)}"
    return Setting(told, f"{number} {step.typed}", amount)


def _fraction(inches):
    """Inches as a rule shows them: 4.8125 is 4 13/16.

    >>> _fraction(4.8125), _fraction(5.0), _fraction(0.75)
    ('4 13/16', '5', '3/4')
    """
    exact = Fraction(inches).limit_denominator(32)
    whole, rest = divmod(exact, 1)
    return " ".join([str(whole)] * bool(whole or not rest) + [str(rest)] * bool(rest))


def _typed(number):
    return f"{round(float(number), 6):.10g}"
