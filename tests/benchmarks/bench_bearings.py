"""How fast does a ball bearing, and a spindle on its bearings, come to rest? And how truly?

    python -m tests.benchmarks.run_all bearings

A thousand random load cases on one bearing (axial, radial, tilt) in one solve, against a loop of
scipy.optimize.root on the same cases; the largest difference of any ball load from the loop's, as a
share of the heaviest ball in its case. And sweeps of a whole nose against one case.
"""

import sys
import time
from pathlib import Path

import numpy as np

from tests.benchmarks.timing import Result, median_ms
from workshop_lib.bearings.ball_bearing import typical_inside
from workshop_lib.bearings.ball_rest import solve
from workshop_lib.load_path.design_tables import find_design
from workshop_lib.load_path.nose import nose_shift
from workshop_lib.quantities import Q_

sys.path.append(str(Path(__file__).parents[1]))
from tests.references import bearing_reference

COUNT = 1000
INSIDE = typical_inside("6202")


def load_cases(count=COUNT):
    """Return random axial and radial loads (N) and tilts (rad)."""
    draw = np.random.default_rng(4)
    return draw.uniform(20, 1500, count), draw.uniform(0, 1500, count), draw.normal(0, 5e-4, count)


def by_root_finding(cases):
    """The same cases one by one with SciPy; returns shifts (n, 2), whether settled, and ms."""
    core = INSIDE.core
    sizes = core.balls, core.ball_diameter, core.pitch_diameter
    bearing = bearing_reference.Bearing(
        *sizes, core.inner_groove, core.outer_groove, core.clearance
    )
    start = (70e-6, 5e-6)  # near the end of the play, where a fitter would begin
    begun = time.perf_counter()
    found = [bearing.rest(*case, start) for case in zip(*cases, strict=True)]
    spent = 1e3 * (time.perf_counter() - begun)
    shifts, settled = zip(*found, strict=True)
    loads = [bearing.balls(*shift, tilt)[0] for shift, tilt in zip(shifts, cases[2], strict=True)]
    return np.array(loads), np.array(settled), spent


def one_bearing():
    """A thousand cases at once, bare and with units, against the loop."""
    cases = load_cases()
    loads, settled, loop = by_root_finding(cases)
    ours = solve(INSIDE.core, *cases).loads
    away = np.abs(ours - loads).max(axis=1) / ours.max(axis=1)
    units = [Q_(values, unit) for values, unit in zip(cases, ("N", "N", "rad"), strict=True)]
    bare, quantities = median_ms(
        lambda: solve(INSIDE.core, *cases), lambda: INSIDE.equilibrium(*units)
    )
    return [
        Result(f"{COUNT} load cases, bare, against a SciPy root loop", bare, loop, 0.05),
        Result("the same with units, against the loop", quantities, loop, 0.05),
        Result(
            f"largest difference of a ball load where the loop settled ({settled.mean():.1%})",
            float(away[settled].max()),
            1e-6,
            1,
            unit="",
        ),
    ]


def whole_nose():
    """The tip of a pressure nose: a curve of sixty side forces against one of them."""
    nose = find_design("pressure_nose")
    curve, point = median_ms(
        lambda: nose_shift.core(nose, 600.0, np.linspace(1, 200, 60)),
        lambda: nose_shift.core(nose, 600.0, 100.0),
    )
    return [Result("a curve of 60 side forces on a nose, against one of them", curve, point, 6)]


def results():
    """Every line of this benchmark."""
    return one_bearing() + whole_nose()
