"""Pads, loads and a set-up that the tests of slip share."""

import pytest

from workshop_lib.friction import Pad

PADS = [
    Pad("30 mm"),
    Pad("30 mm", "12 mm"),
    Pad("30 mm", pressure="uniform_wear"),
    Pad("30 mm", "1 mm", "uniform_wear"),
    Pad("30 mm", pressure="rigid_punch"),
    Pad("30 mm", pressure="hertz"),
]
EACH_PAD = pytest.mark.parametrize("pad", PADS, ids=repr)
LOAD = {"side_force": "40 N", "torque": "0.5 N m"}
SETUP = {"pad": Pad("30 mm", "12 mm"), "thrust": "600 N", "friction_coefficient": 0.2}
