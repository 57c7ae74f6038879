"""Blanks and conditions that the tests of passes and of schedules share."""

import pytest

from tests.blank.outline_cases import HOOK, drawn, star, tangled
from workshop_lib.blank import Blank
from workshop_lib.blank.turning import Turning
from workshop_lib.friction import Pad
from workshop_lib.quantities import Q_

PAD = Pad("60 mm")
CONDITIONS = {
    "material": "mild_steel",
    "thickness": "1 mm",
    "feed": "0.1 mm",
    "speed": "200 rev/min",
    "pad": PAD,
    "thrust": "6 kN",
    "friction_coefficient": 0.25,
    "radial_share": 0.5,
}
TURNING = Turning(**CONDITIONS)
PLUNGE = Turning(**CONDITIONS | {"cut": "plunge", "thickness": "0.4 mm"})
SQUARE = Blank.square("80 mm", "12 mm")


def of(points):
    return Blank(Q_(points, "m"))


def disc_of(blank, share=0.98):
    """Return a diameter that fits on the blank's best centre."""
    return share * blank.largest_disc().diameter


BLANKS = [SQUARE, of(HOOK), *(of(each) for each in drawn(star, 2) + drawn(tangled, 2, seed=12))]
EACH_BLANK = pytest.mark.parametrize("blank", BLANKS, ids=range(len(BLANKS)))
EACH_CUT = pytest.mark.parametrize("turning", [TURNING, PLUNGE], ids=["traverse", "plunge"])
