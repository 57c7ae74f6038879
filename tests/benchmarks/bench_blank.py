"""What do passes and schedules cost? From the top folder of the clone:

    python -m tests.benchmarks.run_all blank

A slider step recomputes everything: the blank, its largest disc, and a schedule. One reference is
the text-only floor that design.md measured in a browser, 33 ms from a slider to changed text; the
other is measured here: the slip margins alone that the search for each pass asks for. The geometry
of passes is compared with what a bare formula would cost at least: for every pass and corner one
cosine, one clip and a sort of the five angles at which something changes. Doubling passes and
corners shows whether the cost is in step with them: then the ratio is 2 or less.
"""

import numpy as np

from tests.benchmarks.timing import Result, median_ms
from workshop_lib import slip
from workshop_lib.blank import Blank
from workshop_lib.blank.pass_plan import passes, schedule
from workshop_lib.blank.roughing import CROWD, EVEN
from workshop_lib.blank.turning import Turning
from workshop_lib.friction import Pad
from workshop_lib.quantities import Q_

LOOKS = 2  # at many depths at once, for a pass whose load is a straight line of its depth
SIDES, DISC, TEXT_ONLY_FLOOR = 40, "112 mm", 33.0
TURNING = Turning(
    material="galvanized_steel",
    thickness="1.3 mm",
    feed="0.1 mm",
    speed="80 rev/min",
    pad=Pad("90 mm"),
    thrust="3 kN",
    friction_coefficient=0.3,
    radial_share=0.7,
)
HOOKED = Q_(
    [[0, 0], [130, 0], [130, 120], [70, 120], [70, 112], [100, 112], [100, 105], [0, 105]], "mm"
)


def blank(sides=SIDES):
    """Return a regular blank: more sides on the same circle through the corners."""
    return Blank.regular(sides, across_corners="125 mm")


def slider_step(fresh=blank):
    """Everything that a panel recomputes when one of its values is moved."""
    made = fresh()
    made.largest_disc()
    return schedule(made, DISC if fresh is blank else "100 mm", TURNING, margin=2)


def margins(count):
    """Return a call that asks only for the margins that so many searched passes look at."""
    side, torque = (np.linspace(*ends, EVEN.size + CROWD.size) for ends in ((20, 80), (1, 4)))

    def alone():
        for _ in range(count * LOOKS):
            slip.margin.core(TURNING.pad, TURNING.thrust, 0.3, side, torque)

    return alone


def formula(count, sides):
    """Return a call that does the least for so many passes and sides."""
    angles = np.random.default_rng(1).uniform(0, 2 * np.pi, (count, 5 * sides))

    def least():
        return np.sort(angles, axis=1), np.clip(1 / np.cos(angles), 0.9, 1.1)

    return least


def through(sides, count):
    """Return a call for that many passes on a blank of that many sides."""
    made = blank(sides)
    depth = (made.corner_radius(("0 mm", "0 mm")) - Q_(56, "mm")) / (count - 0.5)
    return lambda: passes(made, DISC, depth, TURNING)


def results():
    """Return the lines of the table."""
    count, hooked_count = len(slider_step()), len(slider_step(lambda: Blank(HOOKED)))
    step, hooked, alone, least, hundred, twice, corners = median_ms(
        slider_step,
        lambda: slider_step(lambda: Blank(HOOKED)),
        margins(count),
        formula(100, SIDES),
        through(SIDES, 100),
        through(SIDES, 200),
        through(2 * SIDES, 100),
    )
    each = hooked / hooked_count, step / count
    name = f"slider step: {SIDES} sides, {count} passes"
    return [
        Result(f"{name}, against text alone in a browser", step, TEXT_ONLY_FLOOR, 0.5),
        Result(f"{name}, against its margins alone", step, alone, 15),
        Result("each pass of a hooked blank, against a plain one's", *each, 3),
        Result("100 passes, against a bare formula", hundred, least, 30),
        Result("200 passes, against 100", twice, hundred, 2.2),
        Result(f"{2 * SIDES} sides, against {SIDES}", corners, hundred, 2.2),
    ]
