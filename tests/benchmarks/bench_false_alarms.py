"""How often does a remark raise a false alarm, how often does it miss a fault? From the top folder:

    python -m tests.benchmarks.run_all false_alarms

For every call that says "this is more than scatter": its share of alarms in honest set-ups (nothing
wrong; noise of half a division, then read to the whole division), against the one in twenty that
its sentence states; and the share of faults of a stated size that it overlooks, against one in
five. No time is measured here.
"""

import numpy as np

from tests.benchmarks.timing import Result
from workshop_lib.quantities import Q_, resolution
from workshop_lib.run_out import Readings, axis_through, push_test, separate, shift_between
from workshop_lib.uncertainty.measured import pull_test, tilt_test

SETUPS = 400
DIVISION = 2.0  # µm on a dial, N on a scale
OVERLOOKED = 0.2  # share of faults of the stated size
FORCES = np.array([-20, -10, -5, 5, 10, 20.0])


def seen(luck, true, noise=0.5, division=DIVISION):
    """Readings with scatter (in divisions), read to the nearest division."""
    return division * np.round((true + luck.normal(0, noise * division, np.shape(true))) / division)


def turn(luck, marks, vector, known, offset=7.0, **about):
    """One turn at so many marks, µm, of a part whose centre is at `vector`."""
    degrees = np.arange(marks) * 360 / marks
    true = offset + np.real(vector * np.exp(-1j * np.radians(degrees)))
    graduation = Q_(DIVISION, "um") if known else None
    return Readings(Q_(degrees, "deg"), Q_(seen(luck, true), "um"), graduation=graduation, **about)


def at_all_positions(luck, marks, known, fault):
    """Three positions of a part on a spindle; at the third it did not go back true by a fault."""
    spindle, part = 31 + 12j, 9 - 22j
    tests = []
    for index, off in ((0, 0), (120, 0), (240, fault)):
        vector = spindle + part * np.exp(1j * np.radians(index)) + off
        tests.append(turn(luck, marks, vector, known, index=Q_(index, "deg")))
    return any(
        "omething moved between" in said
        for said in separate(tests).remarks
        if "no telling" not in said
    )


def in_three_planes(luck, marks, known, fault):
    """Three planes of a straight axis; in the middle one it is bent by a fault."""
    tests = [
        turn(luck, marks, 20 + 0.4j * place + off, known, position=Q_(place, "mm"))
        for place, off in ((0, 0), (30, fault), (60, 0))
    ]
    return any(
        "is bent" in said for said in axis_through(tests).remarks if "no telling" not in said
    )


def off_centre(luck, marks, known, fault):
    """Whether a high spot is told of a part that runs true, or is off by a fault."""
    found = turn(luck, marks, fault, known).fit()
    return bool(found.tells_high_spot) and not np.isnan(found.core.reading_uncertainty)


def oval(luck, marks, known, fault):
    """Whether a crest is told of a part that is round, or oval by a fault."""
    degrees = np.arange(marks) * 360 / marks
    true = 7.0 + fault * np.cos(2 * np.radians(degrees))
    taken = Readings(
        Q_(degrees, "deg"),
        Q_(seen(luck, true), "um"),
        graduation=Q_(DIVISION, "um") if known else None,
    )
    vector = taken.harmonics(2)[2].vector
    return bool(vector.told) and not np.isnan(vector.width)


def knocked(luck, marks, known, fault):
    """Whether a shift is told between two turns of a part that stayed, or moved by a fault."""
    before, after = (turn(luck, marks, 15 + off, known) for off in (0, fault))
    found = shift_between(before, after)
    return not found.remarks and not np.isnan(found.vector.width)


def play(luck, marks, known, fault):
    """Whether clearance is told where there is none, or that of a fault."""
    forces = FORCES if marks == 6 else np.array([-20, 10, 20.0])
    true = 0.3 * forces + fault / 2 * np.sign(forces)
    found = push_test(
        Q_(forces, "N"), Q_(seen(luck, true), "um"), Q_(DIVISION, "um") if known else None
    )
    return not any("none at all" in said or "no telling" in said for said in found.remarks)


def stray(test, typical, unit):
    """Return whether a reading is called stray in the test, where one is off by a fault or none."""

    def judged(luck, marks, known, fault):
        values = seen(luck, np.full(marks, typical))
        values[marks // 2] += fault
        about = {"graduation": Q_(DIVISION, unit)} if known else {}
        if test is pull_test:
            about["normal_force"] = "100 N"
        return any("stands far" in said for said in test(Q_(values, unit), **about).remarks)

    return judged


# What is asked, how many marks or readings, and the fault's size in divisions.
CASES = [
    ("separate: a part that went back elsewhere", at_all_positions, [(3, 8), (4, 8), (12, 4)]),
    ("axis_through: a bent part", in_three_planes, [(3, 8), (4, 8), (12, 4)]),
    ("fit: a high spot", off_centre, [(3, 3), (4, 3), (12, 2)]),
    ("harmonics: an oval", oval, [(6, 4), (12, 2)]),
    ("shift_between: a knock", knocked, [(3, 4), (4, 4), (12, 2)]),
    ("push_test: clearance", play, [(3, 12), (6, 4)]),
    ("pull_test: a stray reading", stray(pull_test, 40, "N"), [(5, 8), (10, 5)]),
    ("tilt_test: a stray reading", stray(tilt_test, 20, "deg"), [(5, 8), (10, 5)]),
]


def share(ask, marks, known, fault, setups=SETUPS):
    """In which share of set-ups it is said."""
    luck = np.random.default_rng([marks, known, int(10 * abs(fault))])
    return float(np.mean([ask(luck, marks, known, fault) for _ in range(setups)]))


def results(setups=SETUPS):
    """Return the lines of the table."""
    lines = []
    for name, ask, sizes in CASES:
        for marks, divisions in sizes:
            for known in (True, False):
                dial = "" if known else ", dial not known"
                about = f"{name}, {marks} readings{dial}"
                wrong = share(ask, marks, known, 0.0, setups)
                lines.append(
                    Result(f"{about}: false alarms", wrong, resolution.STATED, 1.0, "of set-ups")
                )
                missed = 1 - share(ask, marks, known, divisions * DIVISION, setups)
                if known:
                    told = f"{about}: faults of {divisions} divisions overlooked"
                    lines.append(Result(told, missed, OVERLOOKED, 1.0, "of set-ups"))
    return lines
