"""What does a bent rim cost, and how true is it? From the top folder of the clone:

    python -m tests.benchmarks.run_all overhang

Ten thousand pads in one call, against a loop in which SciPy solves the four conditions of each
harmonic, one pad after another (timed on a sample); and natural frequencies, against a loop that
seeks the first root of the determinant of SciPy's Bessel functions.
"""

import sys
import time
from pathlib import Path

import numpy as np
import scipy.linalg

from tests.benchmarks.timing import Result, median_ms
from workshop_lib.overhang import natural_frequencies, rim_deflection
from workshop_lib.overhang.plate import point_compliance
from workshop_lib.overhang.vibration import frequency_parameters
from workshop_lib.quantities import Q_

sys.path.append(str(Path(__file__).parents[1]))
from tests.references import plate_reference

PADS, SAMPLE, HARMONICS, NU = 10_000, 40, 60, 0.3
RATIOS = np.random.default_rng(2).uniform(0.2, 0.7, PADS)


def conditions(n, ratio):
    """Clamp (value, slope) and rim (moment, shear) of the four functions, and their rim values."""
    log = np.log(ratio)
    if n == 0:
        clamp = [1, log, ratio**2, ratio**2 * log], [0, 1 / ratio, 2 * ratio, ratio * (2 * log + 1)]
        return [*clamp, [0, NU - 1, 2 + 2 * NU, 3 + NU], [0, 0, 0, 4]], [1, 0, 1, 0]
    if n == 1:
        clamp = [ratio, 1 / ratio, ratio**3, ratio * log], [1, -(ratio**-2), 3 * ratio**2, log + 1]
        rim = [0, 2 - 2 * NU, 6 + 2 * NU, 1 + NU], [0, 2 - 2 * NU, 6 + 2 * NU, NU - 3]
        return [*clamp, *rim], [1, 1, 1, 0]
    powers = np.array([n, -n, n + 2, 2 - n], float)
    moment = powers * (powers - 1) + NU * (powers - n**2)
    shear = (powers - 2) * (powers**2 - n**2) - (1 - NU) * n**2 * (powers - 1)
    return [ratio**powers, powers * ratio ** (powers - 1), moment, shear], [1, 1, 1, 1]


def by_scipy(ratio):
    """Return the scaled deflection of one pad: harmonics by SciPy, and the rest as a power law."""
    total = 0.0
    for n in range(HARMONICS + 1):
        table, rim = conditions(n, ratio)
        scale = np.abs(table).max(axis=0)
        load = np.array([0, 0, 0, -1 / np.pi / (1 if n else 2)])
        total += (scipy.linalg.solve(table / scale, load) / scale) @ rim
    return total + 1 / (np.pi * (3 + NU) * (1 - NU) * (HARMONICS + 0.5) ** 2)


def looped(call):
    """Return what a call gives for each pad of the sample, and the time of all pads so, in ms."""
    started = time.perf_counter()
    found = np.array([call(ratio) for ratio in RATIOS[:SAMPLE]])
    return found, 1e3 * (time.perf_counter() - started) * PADS / SAMPLE


def results():
    """Return the lines of the table."""
    bends, bend_loop = looped(by_scipy)
    waves, wave_loop = looped(lambda ratio: plate_reference.bessel_parameter(ratio, 2, NU))
    sizes = "100 mm", Q_(100 * RATIOS, "mm"), "0.5 mm", "stainless_steel"
    bare, units, ringing = median_ms(
        lambda: point_compliance(RATIOS, NU),
        lambda: rim_deflection("1 mN", *sizes),
        lambda: natural_frequencies(*sizes, 3),
        runs=5,
    )
    off = np.abs(point_compliance(RATIOS[:SAMPLE], NU) / bends - 1).max()
    away = np.abs(frequency_parameters(RATIOS[:SAMPLE], NU, [2])[:, 0] / waves - 1).max()
    return [
        Result(f"{PADS} rims, bare, against a SciPy loop", bare, bend_loop, 0.01),
        Result(f"{PADS} rims with units, against the same", units, bend_loop, 0.01),
        Result("largest relative difference from it, against 1e-4", off, 1e-4, 1, unit=""),
        Result(f"{PADS} × 3 frequencies, against Bessel roots of one", ringing, wave_loop, 0.2),
        Result("largest relative difference from it, against 1e-6", away, 1e-6, 1, unit=""),
    ]
