"""How close must an answer be, and what does a wrong number tell about how it came about?"""

import re

import pint

from workshop_lib.quantities import InputError, Quantity, quote, read, resolution, unit_text
from workshop_lib.teaching.known import near

TOLD_APART = 2  # times the tolerance: nearer than that, one typed value could be either of two


class Tolerance:
    """Compares answers in the unit of the right one.

    answer: quantity or number. within: "2 %" of what is compared with (of the answer where that is
    zero), or a length, force … of the answer's kind as text or a quantity, or a plain number in
    the answer's unit. kind: the name of the answer's kind. Raises InputError for a tolerance that
    allows nothing or everything.
    """

    def __init__(self, answer, within, kind):
        near(answer, answer, within)  # refuses in its own words what cannot be a tolerance
        self.unit = getattr(answer, "units", None)
        self.right = self.number(answer)
        self.share, self.fixed = 0.0, 0.0
        if isinstance(within, str) and within.strip().endswith("%"):
            self.share = read(within, "ratio", "within").m_as("dimensionless")
        else:
            text = isinstance(within, str)
            self.fixed = self.number(read(within, kind, "within") if text else within)

    def number(self, value):
        """Return an answer as a plain number in the right one's unit."""
        if self.unit is None:
            return float(value)
        try:
            return float(value.m_as(self.unit) if isinstance(value, pint.Quantity) else value)
        except pint.DimensionalityError:
            raise InputError("answer", f"{quote(value)} is not measured in {self.unit}") from None

    def allowed(self, wanted):
        """Return how far off a number may be."""
        return self.fixed or self.share * abs(wanted or self.right)

    def meets(self, value, wanted, times=1):
        """Tell whether a value agrees with another to `times` the tolerance."""
        value, wanted = self.number(value), self.number(wanted)
        return abs(value - wanted) <= times * self.allowed(wanted)

    def alike(self, one, other):
        """Tell whether two values lie so near together that one typed value could be either."""
        return self.meets(one, other, TOLD_APART) or self.meets(other, one, TOLD_APART)


_DECIMAL = re.compile(r"[+−-]?[0-9]*(?:\.[0-9]+)?(?![0-9.]* ?[0-9]*/)")


def only_rounded(typed, value, answer):
    """Tell whether what was typed is the answer, rounded to two figures or more.

    typed: as it was given. value: as it was read, in the unit that was typed. answer: the right.
    """
    found = _DECIMAL.match(typed.strip()) if isinstance(typed, str) else None
    if found is None or len(re.sub("[^0-9]", "", found[0]).lstrip("0")) < 2:
        return False
    number, right = (getattr(each, "m", each) for each in (value, answer))
    if hasattr(answer, "units"):
        right = answer.m_as(value.units)
    decimals = len(found[0].partition(".")[2])
    return bool(resolution.at_least(0.5 * 10.0**-decimals, abs(number - right), right))


POINTS_THE_OTHER_WAY = "the size is right but the sign is wrong. Which way does it point?"
ANOTHER_UNIT = (
    "the number would be right in a unit other than {unit}. Check the units in each step, and "
    "convert at the end."
)
POWER = "the figures are right, but out by a factor of {power:g}. Check the units."
# How many times too large or too small, and what that usually is.
RATIOS = {
    2: "Check for a diameter used as a radius, a total used as an eccentricity, or two faces "
    "counted where one drives.",
    4: "Check for a diameter used as a radius and then squared, or for a 2 used twice.",
    3.14159265: "Check for a missing π, or one too many.",
    6.28318531: "Check for a 2π: turns are not radians.",
    57.2957795: "Check the angles: degrees are not radians.",
}
POWERS = (10, 100, 1000, 1e6)


def told(value, kind, tolerance):
    """Return a sentence about a wrong value, or '' when its ratio to the answer says nothing.

    value: quantity or number. kind: the `Kind` of the answer. tolerance: a `Tolerance`. Where
    several explanations fit, the nearest is told.
    """
    found, right = tolerance.number(value), tolerance.right
    if not found * right:
        return ""
    fitting = [
        (abs(found / right / ratio - 1), words)
        for ratio, words in _explanations(value, kind)
        if abs(found / ratio - right) <= tolerance.allowed(right)
    ]
    return min(fitting, key=lambda each: round(each[0], 6), default=(0, ""))[1]


def _explanations(value, kind):
    """Yield (times the right answer, sentence); of two that fit alike the first is told."""
    yield -1, POINTS_THE_OTHER_WAY
    typed = getattr(value, "units", None)
    if typed is not None:
        for unit in sorted(set(kind.units.values())):
            ratio = Quantity(1, typed).m_as(unit)
            if abs(ratio - 1) > 1e-9:
                name = unit_text(typed).strip() or "a plain number"
                yield ratio, ANOTHER_UNIT.format(unit=name)
    for power in POWERS:
        for ratio in (power, 1 / power):
            yield ratio, POWER.format(power=power)
    for ratio, words in RATIOS.items():
        yield ratio, f"that is {ratio:.3g} times too large. {words}"
        yield 1 / ratio, f"that is {ratio:.3g} times too small. {words}"
