"""Another machine than the one in the library: readings made up from plain waves, for tests only.

Nothing is shared with the model or with `mystery`: sizes are even between their ends and not in
their logarithm, small errors are of one size with a direction by luck, the scatter is Student's t
with four degrees of freedom (heavier tails than a normal distribution), and a dial of 0.005 mm is
read. Everything is in µm and degrees.
"""

import numpy as np

from workshop_lib.quantities import Q_
from workshop_lib.run_out.readings import Push, Readings

MARKS = np.arange(0, 361, 30.0)
FORCES = np.array([0, 10, 20, 0, -10, -20, 0.0])
DIVISION = 5.0
PLACES = [  # place, surface, distance in mm
    ("spindle", "radial", 0),
    ("pad", "radial", 10),
    ("pad", "face", 15),
    ("disc", "radial", 0),
    ("disc", "face", 35),
    ("nose", "radial", 8),
    ("nose", "radial", 30),
]
# Where a fault of each kind shows, by how many waves in a turn, and how large it is made.
WAVES = {
    "eccentric_seat": ({"pad": 1.0}, 1, (25, 120)),
    "displaced_disc": ({"disc": 1.0, "nose": 0.7}, 1, (30, 200)),
    "oval": ({"disc": 1.0}, 2, (12, 50)),
    "three_jaw_lobes": ({"pad": 1.0}, 3, (12, 35)),
}
FAULTS = (*WAVES, "bearing_clearance", "indicator_setup")
SIZES = {"bearing_clearance": (15, 35), "indicator_setup": (20, 70)}


def made(seed, faults=1, misread=0):
    """Readings of a machine with so many faults, and so many tests with one misread reading.

    Returns (tests, set of the faults, set of (test, reading) that were misread).
    """
    luck = np.random.default_rng([seed, 17])
    causes = [str(one) for one in luck.permutation(FAULTS)[:faults]]
    waves = [_fault(one, luck) for one in causes if one in WAVES]
    play = luck.uniform(*SIZES["bearing_clearance"]) if "bearing_clearance" in causes else 0.3
    creep = luck.uniform(*SIZES["indicator_setup"]) if "indicator_setup" in causes else 0.4
    creep *= luck.choice([-1, 1])
    tests = []
    for where, what, far in PLACES:
        values = _wave(2.5, luck.uniform(0, 360), 1)
        if what == "radial":
            values = values + sum(_seen(waves, where))
        values = values + creep * MARKS / 360
        if where == "nose":
            values = values + play * luck.uniform(-1, 1, MARKS.size)
        read = _read(values, luck)
        about = {"position": Q_(far, "mm")} if far else {}
        tests.append([Readings, MARKS, "deg", read, {"where": where, "what": what, **about}])
    pushed = play * np.array([0.2, 1, 1, 1, -1, -1, -1]) + 0.1 * FORCES
    tests.append([Push, FORCES, "N", _read(pushed, luck), {"where": "nose"}])
    wrong = set()
    for number in luck.permutation(len(tests))[:misread].tolist():
        place = int(luck.integers(tests[number][3].size))
        tests[number][3][place] += luck.choice([-1, 1]) * luck.choice([8, 10, 20]) * DIVISION
        wrong.add((number, place))
    return [_test(*one) for one in tests], set(causes) or {"nothing_found"}, wrong


def _fault(cause, luck):
    places, order, sizes = WAVES[cause]
    return places, _wave(luck.uniform(*sizes), luck.uniform(0, 360), order)


def _seen(waves, where):
    return [places[where] * wave for places, wave in waves if where in places]


def _wave(size, mark, order):
    return size * np.cos(order * np.radians(MARKS - mark))


def _read(values, luck):
    shown = values + luck.standard_t(4, values.size)
    return DIVISION * np.round(shown / DIVISION)


def _test(kind, along, unit, read, about):
    return kind(Q_(along, unit), Q_(read, "um"), graduation=Q_(DIVISION, "um"), **about)
