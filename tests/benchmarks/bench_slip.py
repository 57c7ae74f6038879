"""How fast is the slip margin, and how true? From the top folder of the clone:

    python -m tests.benchmarks.run_all slip

A million random set-ups against one np.hypot and one np.arctan2 on the same arrays (what a margin
by a bare formula would cost at least); and a sample of 200 against a loop that integrates the
friction with SciPy for each, which also gives the largest relative difference.
"""

import time

import numpy as np

from tests.benchmarks.timing import Result, median_ms
from tests.references import limit_reference
from workshop_lib.friction import Pad
from workshop_lib.quantities import Q_
from workshop_lib.slip import margin

COUNT, SAMPLE = 1_000_000, 200
PAD = Pad("30 mm", "10 mm")


def set_ups(count=COUNT):
    """Return random thrusts (N), friction coefficients, side forces (N) and torques (N·m)."""
    draw = np.random.default_rng(2)
    spans = ((100, 1500), (0.1, 0.6), (1, 300), (0.02, 5))
    return [draw.uniform(*span, count) for span in spans]


def random_pads(count=COUNT):
    """Return pads of random size and relief, in one array."""
    draw = np.random.default_rng(3)
    outer = draw.uniform(10, 60, count)
    return Pad(Q_(outer, "mm"), Q_(outer * draw.uniform(0, 0.9, count), "mm"))


def speed():
    """A million set-ups, bare and with units, for one pad and for a million pads."""
    thrust, friction, side, torque = set_ups()
    with_units = Q_(thrust, "N"), friction, Q_(side, "N"), Q_(torque, "N*m")
    pads = random_pads()
    calls = {
        "a million margins, bare": (lambda: margin.core(PAD, *bare), 3),
        "the same with units": (lambda: margin(PAD, *with_units), 6),
        "a million pads, bare": (lambda: margin.core(pads, *bare), 12),
        "a located nose, bare": (lambda: margin.core(PAD, *bare, "located", 0.15), 30),
    }
    bare = thrust, friction, side, torque

    def formula():
        return np.hypot(side, torque), np.arctan2(torque, side)

    return [
        Result(f"{name}, against hypot + arctan2", *median_ms(call, formula), aim)
        for name, (call, aim) in calls.items()
    ]


def by_quadrature(thrust, friction, side, torque):
    """Return one margin by SciPy alone."""
    hold = friction * thrust
    turn = torque / (hold * PAD.outer_radius)
    return limit_reference.margin(PAD.pressure, PAD.relief, side / hold, turn)


def truth():
    """The same margins by integrating the friction: how long that takes, and how far off we are."""
    chosen = [values[:SAMPLE] for values in set_ups()]
    started = time.perf_counter()
    exact = np.array([by_quadrature(*each) for each in zip(*chosen, strict=True)])
    loop = 1e3 * (time.perf_counter() - started)
    worst = np.max(np.abs(margin.core(PAD, *chosen) / exact - 1))
    (fast,) = median_ms(lambda: margin.core(PAD, *chosen))
    return [
        Result(f"{SAMPLE} margins, against SciPy quadrature", fast, loop, 1e-3),
        Result("largest relative difference from it, against 1e-6", worst, 1e-6, 1, unit=""),
    ]


def results():
    """Return the lines of the table."""
    return [*speed(), *truth()]
