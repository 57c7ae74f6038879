"""What a rounded, worn tool and the corners' blows make of the passes: by hand, and laws."""

import numpy as np
import pytest

from workshop_lib.blank import Blank, Turning, passes
from workshop_lib.blank.engagement import rise, seen_from
from workshop_lib.friction import Pad
from workshop_lib.overhang import strike_factor_up_to
from workshop_lib.quantities import Q_, InputError
from workshop_lib.torque import nose_radius_factor

HOLD = {"pad": Pad("60 mm"), "thrust": "600 N", "friction_coefficient": 0.3}
CUT = {"feed": "0.05 mm", "speed": "80 rev/min", "radial_share": 0.5}
SQUARE = np.array([[1.0, 1.0], [-1.0, 1.0], [-1.0, -1.0], [1.0, -1.0]]) / 2


def turned(depth="0.4 mm", **more):
    turning = Turning("aluminium", "1 mm", **CUT, **HOLD, **more)
    return passes(Blank.square("80 mm"), "78 mm", depth, turning)


def test_a_corner_rises_over_the_angle_from_one_circle_to_the_other():
    # By hand: the edge of a square of side 1 lies at 0.5; at 0.6 it is crossed at arccos(0.5/0.6)
    # = 33.557°, at 0.7 at 44.415°.
    angle, part = rise(seen_from(SQUARE, (0.0, 0.0)), np.array([0.6]), np.array([0.7]))
    assert np.degrees(angle) == pytest.approx(44.4153 - 33.5573, abs=1e-3)
    assert part == 1.0


def test_inside_the_flats_nothing_rises_and_across_them_a_part_does():
    angle, part = rise(seen_from(SQUARE, (0, 0)), np.array([0.4, 0.45]), np.array([0.5, 0.55]))
    assert np.isinf(angle[0])
    assert part == pytest.approx([0.0, 0.5])
    assert angle[1] == pytest.approx(np.arccos(0.5 / 0.55))


def test_a_wall_along_a_ray_strikes_at_once():
    notch = np.array([[2.0, -1.0], [2.0, 1.0], [-1.0, 1.0], [-1.0, 0.0], [-0.5, 0.0], [-0.5, -1.0]])
    angle, part = rise(seen_from(notch, (0.0, 0.0)), np.array([0.6]), np.array([0.8]))
    assert angle == pytest.approx(0.0, abs=1e-12)
    assert part == 1.0


def test_each_pass_is_raised_by_its_own_blow():
    steady, struck = turned(), turned(own_period="0.005 s")
    first = steady[0]
    outer, inner = first.from_radius.m_as("mm"), first.tool_radius.m_as("mm")
    swing = np.arccos(40 / outer) - np.arccos(40 / inner)
    lasting = Q_(swing / (80 * 2 * np.pi / 60), "s")
    wanted = strike_factor_up_to(lasting, "0.005 s")
    assert (struck[0].cutting_force / first.cutting_force).m == pytest.approx(wanted)
    assert (struck.core.margin <= steady.core.margin).all()
    assert struck.core.cutting_force[-1] <= 2 * steady.core.cutting_force[-1]


def test_a_slower_spindle_and_a_stiffer_set_up_are_struck_less():
    softer = [turned(own_period=period).worst.margin for period in ("0.001 s", "0.004 s", "0.02 s")]
    assert softer == sorted(softer, reverse=True)
    assert softer[0] > softer[-1]


def test_nose_radius_and_raised_force_multiply_what_the_table_gives():
    plain, rounded = turned(), turned(raised=1.5, nose_radius="0.8 mm")
    depth = plain[0].peak_depth
    wanted = 1.5 * nose_radius_factor("aluminium", depth, "0.8 mm")
    assert (rounded[0].cutting_force / plain[0].cutting_force).m == pytest.approx(wanted)


def test_a_plunge_cut_has_no_use_for_a_nose_radius():
    one, other = turned(cut="plunge"), turned(cut="plunge", nose_radius="0.8 mm")
    assert one.core.cutting_force == pytest.approx(other.core.cutting_force)


@pytest.mark.parametrize(
    "wrong", [{"own_period": "0 s"}, {"raised": 0}, {"nose_radius": "-1 mm"}, {"own_period": "3 N"}]
)
def test_what_cannot_be_is_refused_by_its_name(wrong):
    with pytest.raises(InputError, match=next(iter(wrong))):
        turned(**wrong)
