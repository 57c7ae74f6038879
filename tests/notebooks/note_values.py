"""The values in the teacher's notes: computed anew from what stands behind each of them.

In a note a value is followed by a comment, which no viewer shows, that says how it is computed:
`4.80 N·m<!-- = torque_capacity(Pad("60 mm"), "800 N", 0.3) -->`.
"""

import re

import numpy as np

from workshop_lib.bearings import axial_limit, limits, recommended_safety, typical_inside
from workshop_lib.blank import Blank
from workshop_lib.friction import (
    Pad,
    Screw,
    after_creep,
    from_torque,
    limit_curve,
    side_capacity,
    torque_capacity,
)
from workshop_lib.gauges import thickness
from workshop_lib.instruments import free_frequencies, vee_factor
from workshop_lib.load_path import (
    expected,
    find_design,
    highest_thrust,
    nose_shift,
    own_design,
    play,
    tip_run_out,
    trace,
)
from workshop_lib.materials import friction, friction_between
from workshop_lib.overhang import (
    rim_deflection,
    soft_rim_deflection,
    strike_frequency,
    understatement,
)
from workshop_lib.quantities import Q_, read, show
from workshop_lib.run_out import fit, shifts_that_explain, true_travel
from workshop_lib.slip import margin, thrust_needed
from workshop_lib.torque import nose_radius_factor, spindle_speed
from workshop_lib.uncertainty import pull_test

MARK = re.compile(r"<!-- = (.*?) -->")
CALLS = {
    each.__name__: each
    for each in (
        Pad, Blank, Screw, limit_curve, side_capacity, torque_capacity, thickness,
        find_design, play, nose_shift, trace, axial_limit, typical_inside, pull_test,
        rim_deflection, soft_rim_deflection, understatement, nose_radius_factor, recommended_safety,
        read, show, strike_frequency, fit, shifts_that_explain, true_travel, margin,
        thrust_needed, free_frequencies, after_creep, from_torque, spindle_speed,
        limits, expected, highest_thrust, own_design, tip_run_out,
        friction, friction_between, vee_factor,
    )
}  # fmt: skip


def value_of(expression):
    """Return what an expression of a note gives, as people read it."""
    found = eval(expression, {"__builtins__": {}, "np": np, "Q_": Q_, **CALLS})
    return found if isinstance(found, str) else show(found)


def marked(text):
    """Yield (the text before a marked value's end, its expression) for every mark in a text."""
    for match in MARK.finditer(text):
        yield text[: match.start()], match[1]
