"""Tests on a made-up set-up that several test modules share: plain cases and their noise."""

import numpy as np

from workshop_lib.quantities import Q_
from workshop_lib.run_out import causes
from workshop_lib.run_out.readings import Push, Readings

TURN = np.arange(0, 361, 30.0)
PUSHES = np.array([0, 10, 20, 0, -10, -20, 0.0])
TESTS = """\
test,angle (deg),reading (thou),where,what,position,index,force,state
near,0,1,nose,radial,8 mm,90,,before
near,90,-2.5
near,180,3,nose,,,,,
push,,0.2,nose,push,,,20 N,
push,,-0.2,,,,,-20 N,
sum,,4,disc,total,,,,after
"""


def wave(size, mark, order=1, degrees=TURN):
    """So many crests in a turn, one of them at the mark."""
    return size * np.cos(order * np.radians(degrees - mark))


def exact(where, values, what="radial", degrees=TURN, **about):
    """Readings in µm as they are given."""
    return Readings(Q_(degrees, "deg"), Q_(values, "um"), where, what, **about)


def clocked(where, values=0.0, what="radial", seed=0, **about):
    """Readings in µm with 1.5 µm of scatter, read to 2 µm."""
    luck = np.random.default_rng([seed, len(where), len(what)])
    read = 2 * np.round((values + luck.normal(0, 1.5, TURN.size)) / 2)
    position = {"radial": "10 mm", "face": "25 mm"}[what]
    return exact(where, read, what, **{"position": position, "graduation": "2 um", **about})


def pushed(where, free, seed=0):
    """A push test in µm: free play to either side, some give and scatter."""
    luck = np.random.default_rng([seed, 9])
    values = 0.15 * PUSHES + free * np.sign(PUSHES) + luck.normal(0, 1, PUSHES.size)
    return Push(Q_(PUSHES, "N"), Q_(values, "um"), where, graduation="2 um")


def creep(size):
    """A needle that creeps by so much in a turn."""
    return size * np.linspace(0, 1, TURN.size)


def wander(size, seed=1):
    """A part that lies anywhere within its play."""
    return np.random.default_rng(seed).uniform(-size, size, TURN.size)


# One plain case for each cause, written down by hand.
PLAIN = {
    "eccentric_seat": [
        clocked("pad", wave(45, 70)),
        clocked("pad", what="face"),
        clocked("pad", wave(45, 70), seed=1),
        clocked("disc"),
        clocked("nose"),
    ],
    "tilted": [
        clocked("pad", wave(40, 100), "face"),
        clocked("disc", wave(40, 100), "face"),
        clocked("pad", wave(16, 280)),
        clocked("disc"),
        clocked("nose"),
    ],
    "three_jaw_lobes": [clocked("pad", wave(15, 20, 3)), clocked("disc"), clocked("nose")],
    "oval": [clocked("disc", wave(20, 35, 2)), clocked("pad"), clocked("nose")],
    "bearing_clearance": [
        clocked("nose", wander(15)),
        clocked("disc"),
        clocked("pad"),
        pushed("nose", 15),
    ],
    "displaced_disc": [
        clocked("disc", wave(70, 210)),
        clocked("nose", wave(55, 205)),
        clocked("pad"),
    ],
    "loose_mounting": [
        clocked("pad", wave(25, 10)),
        clocked("pad", wave(30, 130)),
        clocked("disc", wave(28, 250)),
        clocked("disc", wave(12, 70)),
        pushed("pad", 20),
    ],
    "indicator_setup": [
        clocked("spindle", creep(30)),
        clocked("pad", creep(25)),
        clocked("disc", creep(28)),
    ],
    "nothing_found": [
        clocked("pad"),
        clocked("pad", what="face"),
        clocked("disc"),
        clocked("disc", what="face"),
        clocked("nose"),
        clocked("nose", position="30 mm"),
        pushed("nose", 0),
    ],
}


def some_tests(seed=0):
    """One test of every kind, with noise."""
    luck = np.random.default_rng(seed)

    def noise(count=13):
        return luck.normal(0, 2, count)

    return [
        exact("pad", noise(), position="10 mm", graduation="2 um"),
        exact("pad", wave(20, 70) + noise(), "face", position="15 mm"),
        exact("disc", wave(60, 40) + noise(), graduation="10 um"),
        exact("nose", wave(40, 45) + noise(), position="8 mm", index="90 deg"),
        exact(
            "nose", wave(40, 45, degrees=TURN[:9]) + noise(9), degrees=TURN[:9], position="30 mm"
        ),
        Push(["10 N", "20 N", "0 N", "-10 N", "-20 N", "0 N"], Q_(noise(6), "um"), "nose"),
    ]


def dense(evidence, cause, size):
    """The readings' covariance written out, without any of the library's short cuts."""
    of_columns = evidence.patterns * evidence.variances[cause, size]
    counts = [test.core.readings.size for test in evidence.tests]
    return of_columns @ evidence.patterns.T + np.diag(
        np.repeat(evidence.noise[cause, size], counts)
    )


def row(key, part=None):
    """The number of a candidate among all of them."""
    return causes.candidates().index(causes.find_cause(key, part))
