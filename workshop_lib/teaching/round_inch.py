"""What is a round number in the system that is spoken? Sliders, examples, numbers to draw."""

import numpy as np

from workshop_lib.quantities import SMALL, Quantity, either, in_system

# The words in which people of inches type a kind; a length that is always small is in thou.
TYPED_IN_INCH = {
    "length": "in",
    "small": "thou",
    "feed": "thou/rev",
    "force": "lbf",
    "torque": "lbf in",
    "cutting_speed": "ft/min",
    "pressure": "psi",
    "mass": "oz",
    "stiffness": "lbf/in",
}
# How each of these is written where somebody is shown how to type it.
EXAMPLES = {
    "length": "1.25 in",
    "feed": "2 thou/rev",
    "force": "150 lbf",
    "torque": "12 lbf in",
    "cutting_speed": "65 ft/min",
    "pressure": "80 psi",
    "mass": "2 oz",
    "stiffness": "3000 lbf/in",
    "area": "1.5 in²",
}


def example_of(kind):
    """Return how a quantity of a `Kind` is typed, in the system that is spoken."""
    return either(kind.example, EXAMPLES.get(kind.name, kind.example))


def in_inch(start, kind, slider, unit):
    """Start text and slider of a metric field in round numbers of inch units.

    start: quantity. kind: `Kind`. slider: (low, high, step) in the unit word. What is not metric,
    or is measured alike in both systems, stays.
    """
    small = kind.name == "length" and Quantity(slider[1], kind.units[unit]).m_as("inch") < SMALL
    word = TYPED_IN_INCH.get("small" if small else kind.name)
    if word is None or in_system(start).units == start.units:
        return f"{start.magnitude:.10g} {unit}".strip(), slider
    low, high, step = (Quantity(each, kind.units[unit]).m_as(kind.units[word]) for each in slider)
    step = _round_step(step)
    low = step * round(low / step)
    high = max(float(f"{step * round(high / step):.2g}"), low + step)
    low = step if slider[0] > 0 and low == 0 else low
    number = step * round(start.m_as(kind.units[word]) / step)
    number = min(max(number, low), high) if start.magnitude else 0.0
    return f"{round(number, 6):.10g} {word}", tuple(round(each, 9) for each in (low, high, step))


def _round_step(step):
    """The round number 1, 2 or 5 times a power of ten that is nearest to a step."""
    power = 10.0 ** np.floor(np.log10(step))
    return float(power * min((1, 2, 5, 10), key=lambda each: abs(np.log(each * power / step))))


# How far apart round numbers lie, up to which size, in the unit that is told. Lengths from a tenth
# of an inch on are those of a rule; `fine` is what a dial or a micrometer shows.
STEPS = {
    "inch": ((0.5, 1 / 16), (4, 1 / 8), (np.inf, 1 / 4)),
    "thou": ((5, 0.5), (30, 1), (np.inf, 5)),
    "fine thou": ((3, 0.1), (30, 0.5), (np.inf, 1)),
    "lbf": ((1, 0.1), (5, 0.5), (20, 1), (100, 5), (np.inf, 10)),
    "lbf*inch": ((30, 1), (np.inf, 5)),
    "lbf/inch": ((10_000, 500), (np.inf, 1000)),
    "ft/min": ((100, 5), (np.inf, 10)),
    "psi": ((10, 0.5), (100, 5), (np.inf, 10)),
    "mm": ((1, 0.05), (10, 0.5), (np.inf, 1)),
    "fine mm": ((0.1, 0.005), (1, 0.05), (np.inf, 0.1)),
}


def round_in(value, unit):
    """Return the nearest round number of the system that is spoken, in the unit that it came in.

    value: number. unit: its unit; "um" and "fine mm" are read off a dial or a micrometer. What
    belongs to the system, and every number until one is chosen, stays.

    >>> from workshop_lib.quantities import speaking
    >>> with speaking("inch"):
    ...     round_in(50, "mm"), round_in(0.5, "mm")  # 2 in and 20 thou
    (50.8, 0.508)
    """
    fine, unit = unit.startswith("fine ") or unit == "um", unit.removeprefix("fine ")
    given = Quantity(value, unit)
    told = in_system(given)
    if told.units == given.units or not value:
        return value
    known = {str(Quantity(1, name).units): name for name in ("inch", "thou", "lbf", "lbf*inch",
             "lbf/inch", "ft/min", "psi", "mm")}[str(told.units)]  # fmt: skip
    steps = STEPS.get(f"fine {known}" if fine else known) or STEPS[known]
    size = abs(told.magnitude)
    step = next(step for below, step in steps if size < below)
    told = np.copysign(step * max(round(size / step), 1), value)
    return float(f"{Quantity(float(told), known).m_as(unit):.12g}")
