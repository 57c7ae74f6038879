"""What is a metric slider in round numbers of inch units?"""

import numpy as np

from workshop_lib.quantities import SMALL, Quantity, in_system

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
