"""How close an answer must come: a tolerance that is read once and asked thousands of times."""

import pint

from workshop_lib.quantities import InputError, quote, read
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
