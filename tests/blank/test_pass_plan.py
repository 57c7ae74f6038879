"""Passes, row by row, against the public calls that they join."""

import numpy as np
import pytest

from tests.blank.turning_cases import (
    CONDITIONS,
    EACH_BLANK,
    EACH_CUT,
    PAD,
    PLUNGE,
    SQUARE,
    TURNING,
    disc_of,
)
from workshop_lib import slip, torque
from workshop_lib.blank.pass_plan import passes
from workshop_lib.blank.turning import Turning
from workshop_lib.quantities import Q_, InputError

# Rows


@EACH_BLANK
@EACH_CUT
def test_every_row_says_what_the_separate_calls_say(blank, turning):
    found = passes(blank, disc_of(blank), "2 mm", turning)
    for row in found:
        width, chip = (row.peak_depth, "0.1 mm") if turning is TURNING else ("0.4 mm", "0.1 mm")
        force = torque.cutting_force("mild_steel", width, chip)
        assert row.cutting_force.m_as("N") == pytest.approx(force.m_as("N"))
        needed = torque.cutting_torque(force, 2 * row.from_radius)
        assert row.peak_torque.m_as("N*m") == pytest.approx(needed.m_as("N*m"))
        side = torque.side_force(force, 0.5, row.unbalance)
        assert row.side_force.m_as("N") == pytest.approx(side.m_as("N"))
        assert row.margin == pytest.approx(slip.margin(PAD, "6 kN", 0.25, side, needed))


@EACH_BLANK
def test_geometry_of_every_row_is_the_blanks_own(blank):
    disc, centre = disc_of(blank), blank.largest_disc().centre
    found = passes(blank, disc, "2 mm", TURNING)
    assert found[0].from_radius == blank.corner_radius(centre)
    assert (found.from_radius[1:] == found.tool_radius[:-1]).all()
    assert found.tool_radius[-1].m_as("mm") == pytest.approx(disc.m_as("mm") / 2)
    met = blank.engagement(centre, found.tool_radius, found.from_radius - found.tool_radius)
    assert found.engaged_share == pytest.approx(met.share)
    assert (found.strikes == met.strikes).all()
    assert found.peak_depth.m_as("mm") == pytest.approx(met.peak_depth.m_as("mm"))


@EACH_BLANK
def test_unbalance_of_a_pass_is_the_largest_on_its_way(blank):
    centre = blank.largest_disc().centre
    fast = Turning(**CONDITIONS | {"speed": "1500 rev/min"})
    found = passes(blank, disc_of(blank), "3 mm", fast)
    for row in found:
        way = np.linspace(row.tool_radius.m_as("mm"), row.from_radius.m_as("mm"), 400)
        force = blank.unbalance(centre, "1 mm", "mild_steel", "1500 rev/min", Q_(way, "mm"))
        whole = found.unbalance.m_as("N").max()
        assert row.unbalance.m_as("N") == pytest.approx(force.m_as("N").max(), abs=2e-3 * whole)


def test_a_constant_depth_is_worst_at_the_first_pass():
    found = passes(SQUARE, "78 mm", "0.5 mm", TURNING)
    assert found.worst.number == 1
    assert found.worst.margin == found.margin.min()
    assert (np.diff(found.margin) > 0).all()


def test_the_corners_meet_the_whole_depth_of_cut():
    found = passes(SQUARE, "78 mm", "0.5 mm", TURNING)
    steps = (found.from_radius - found.tool_radius).m_as("mm")
    assert found.peak_depth.m_as("mm") == pytest.approx(steps)


def test_strikes_of_a_clipped_square_by_hand():
    # Eight corners at 48.83 mm; the slanting cuts lie at 68/sqrt(2) = 48.08 mm, the sides at 40 mm.
    found = passes(SQUARE, "78 mm", "0.5 mm", TURNING)
    radius = found.tool_radius.m_as("mm")
    expected = np.where(radius > 68 / np.sqrt(2), 8, np.where(radius > 40, 4, 0))
    assert (found.strikes == expected).all()
    assert set(expected) == {8, 4, 0}


def test_twice_the_depth_is_half_the_margin_of_a_balanced_blank():
    light, heavy = (passes(SQUARE, "78 mm", depth, TURNING) for depth in ("0.25 mm", "0.5 mm"))
    assert light.margin[0] == pytest.approx(2 * heavy.margin[0])


def test_passes_are_counted_by_hand():
    # Corners at hypot(40, 28) = 48.826 mm; down to 39 mm are 9.826 mm: 20 passes of 0.5 mm.
    found = passes(SQUARE, "78 mm", "0.5 mm", TURNING)
    assert len(found) == 20
    assert found[-1].peak_depth.m_as("mm") == pytest.approx(np.hypot(40, 28) - 39 - 19 * 0.5)
    whole = passes(SQUARE, "78 mm", Q_(np.hypot(40, 28) - 39, "mm") / 20, TURNING)
    assert len(whole) == 20


def test_time_is_travel_over_feed_over_speed():
    # 1 mm of thickness at 0.1 mm in a turn and 200 turns in a minute: 3 s; with 1 mm more, 6 s.
    assert passes(SQUARE, "78 mm", "5 mm", TURNING).time.m_as("s") == pytest.approx([3.0, 3.0])
    further = Turning(**CONDITIONS | {"overrun": "1 mm"})
    assert passes(SQUARE, "78 mm", "5 mm", further).total_time.m_as("s") == pytest.approx(12)
    # A plunge travels along the radius: 9.826 mm at 20 mm in a minute.
    whole = passes(SQUARE, "78 mm", "5 mm", PLUNGE).total_time.m_as("s")
    assert whole == pytest.approx((np.hypot(40, 28) - 39) / 20 * 60)


def test_a_plunge_is_as_hard_at_any_depth_and_meets_one_feed():
    found = passes(SQUARE, "78 mm", ["1 mm", "3 mm", "7 mm"], PLUNGE)
    assert found.peak_depth.m_as("mm") == pytest.approx([0.1, 0.1, 0.1])
    assert found.cutting_force.m_as("N") == pytest.approx([found.cutting_force[0].m_as("N")] * 3)


def test_a_list_of_depths_is_kept_and_its_last_cut_short():
    found = passes(SQUARE, "78 mm", ["1 mm", "6 mm", "4 mm"], TURNING)
    assert found.peak_depth.m_as("mm") == pytest.approx([1, 6, np.hypot(40, 28) - 46])


def test_a_finishing_pass_comes_last():
    found = passes(SQUARE, "78 mm", "3 mm", TURNING, finishing_depth="0.2 mm")
    assert found[-1].peak_depth.m_as("mm") == pytest.approx(0.2)
    assert found[-1].tool_radius.m_as("mm") == pytest.approx(39)


def test_the_disc_may_be_as_large_as_the_blank_gives():
    found = passes(SQUARE, SQUARE.largest_disc().diameter, "3 mm", TURNING)
    assert found.tool_radius[-1].m_as("mm") == pytest.approx(40)


def test_a_marked_centre_counts():
    found = passes(SQUARE, "70 mm", "2 mm", TURNING, centre=("4 mm", "0 mm"))
    assert found[0].from_radius.m_as("mm") == pytest.approx(np.hypot(44, 28))
    assert found.unbalance[0].m_as("N") > found.unbalance[-1].m_as("N")
    with pytest.raises(InputError, match=r"^disc_diameter: 78\.0 mm .*fit.* 72"):
        passes(SQUARE, "78 mm", "2 mm", TURNING, centre=("4 mm", "0 mm"))


def test_the_table_holds_every_pass_as_a_row():
    found = passes(SQUARE, "78 mm", "3 mm", TURNING)
    assert [len(row) for row in found.rows] == [len(found.headings)] * len(found)
    assert [row[0] for row in found.rows] == [1, 2, 3, 4]
    assert found.core.margin == pytest.approx([each.margin for each in found])
    assert repr(found).startswith("<4 passes, least margin ")
    assert found[-1].number == 4
    with pytest.raises(IndexError):
        found[4]
    with pytest.raises(AttributeError):
        found.nothing  # noqa: B018


# Bad input


@pytest.mark.parametrize(
    ("change", "name"),
    [
        ({"disc_diameter": "81 mm"}, "disc_diameter"),
        ({"disc_diameter": "0 mm"}, "disc_diameter"),
        ({"disc_diameter": ["70 mm", "60 mm"]}, "disc_diameter"),
        ({"depth_of_cut": "0 mm"}, "depth_of_cut"),
        ({"depth_of_cut": "1 um"}, "depth_of_cut"),
        ({"depth_of_cut": ["1 mm", "2 mm"]}, "depth_of_cut"),
        ({"depth_of_cut": ["9 mm", "9 mm", "9 mm"]}, "depth_of_cut"),
        ({"depth_of_cut": [["9 mm", "9 mm"]]}, "depth_of_cut"),
        ({"finishing_depth": "20 mm"}, "finishing_depth"),
        ({"finishing_depth": ["1 mm"]}, "finishing_depth"),
        ({"centre": ("90 mm", "0 mm")}, "centre"),
        ({"turning": None}, "turning"),
        ({"blank": "square"}, "blank"),
    ],
)
def test_bad_input_is_refused_by_name(change, name):
    right = {
        "blank": SQUARE,
        "disc_diameter": "78 mm",
        "depth_of_cut": "1 mm",
        "turning": TURNING,
    }
    with pytest.raises(InputError) as refusal:
        passes(**right | change)
    assert refusal.value.name == name
