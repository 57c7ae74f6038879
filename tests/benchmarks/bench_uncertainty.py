"""How fast is a chance of slip, and what memory does it take? From the top folder of the clone:

    python -m tests.benchmarks.run_all uncertainty

A million draws of the whole slip assessment (draws, side force, torque, margin, exact counts,
contributions), against plain NumPy that draws the same random numbers into whole arrays and asks
one np.hypot and one np.arctan2 of them, which any margin costs at least. And the peak of memory at
four million draws, whose answers are kept for NumPy's quantiles, against that plain NumPy's.
"""

import tracemalloc

import numpy as np

from tests.benchmarks.timing import Result, median_ms
from workshop_lib.friction import Pad
from workshop_lib.uncertainty import SlipCase, chance_of_slip
from workshop_lib.uncertainty.spreads import even, exactly, normal, of_range

DRAWS, MANY = 1_000_000, 4_000_000
SPREADS = {
    "thrust": normal("600 N", "40 N"),
    "friction_coefficient": of_range((0.2, 0.3, 0.45)),
    "cutting_force": of_range(("30 N", "40 N", "60 N")),
    "radial_share": of_range((0.25, 0.5, 0.7)),
    "unbalance": even("0 N", "5 N"),
    "disc_diameter": exactly("78 mm"),
}
PAD = Pad("30 mm", "10 mm")


def assess(nose="floating", draws=DRAWS):
    """Ask for the chance of slip."""
    return chance_of_slip(SlipCase(PAD, SPREADS, nose), draws, seed=1)


def floor(draws=DRAWS):
    """Draw the same numbers and do the least that a margin needs."""
    draw = np.random.default_rng(1)
    thrust = draw.normal(600, 40, draws)
    friction = draw.triangular(0.2, 0.3, 0.45, draws)
    force = draw.triangular(30, 40, 60, draws)
    side = np.hypot(force, force * draw.triangular(0.25, 0.5, 0.7, draws))
    side += draw.uniform(0, 5, draws)
    return np.arctan2(force * 0.039, side), friction * thrust


def peak(ask):
    """Most memory in use while four million draws are asked for, in MB."""
    tracemalloc.start()
    ask(draws=MANY)
    most = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return most / 1e6


def results():
    """Return the lines of the table."""
    floating, located, least = median_ms(assess, lambda: assess("located"), floor, runs=7)
    name = "a million draws of the slip assessment"
    return [
        Result(f"{name}, against drawing + hypot + arctan2", floating, least, 3),
        Result(f"{name}, located nose, against the same", located, least, 5),
        Result(
            "peak memory of 4 million draws, against the same", peak(assess), peak(floor), 0.5, "MB"
        ),
    ]
