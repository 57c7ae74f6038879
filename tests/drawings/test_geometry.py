"""Plane geometry of the drafting board, against areas and hand-worked points."""

import numpy as np
import pytest

from workshop_lib.drawings.geometry import (
    along,
    baseline,
    box,
    hatch_lines,
    move,
    polar,
    text_box,
)


def hatched_area(rings, angle, gap):
    """Strokes at a small gap cover the area: length times gap, which tends to the area itself."""
    strokes = hatch_lines(rings, angle, gap)
    return float(np.hypot(*(strokes[:, 1] - strokes[:, 0]).T).sum()) * gap


@pytest.mark.parametrize("angle", [0, 30, 45, 90, 135, -45])
def test_hatching_covers_the_area_of_a_ring_and_leaves_its_hole(angle):
    turn = np.linspace(0, 2 * np.pi, 96, endpoint=False)
    rings = [np.column_stack([3 + r * np.cos(turn), 4 + r * np.sin(turn)]) for r in (20, 10)]
    # A polygon of n points inside a circle of radius r has the area n r²/2 sin(2 pi/n).
    area = 96 / 2 * np.sin(2 * np.pi / 96) * (20**2 - 10**2)
    assert hatched_area(rings, angle, 0.1) == pytest.approx(area, rel=0.005)


def test_hatching_a_hollow_shape_stays_inside_it():
    channel = [(0, 0), (10, 0), (10, 10), (7, 10), (7, 3), (3, 3), (3, 10), (0, 10)]
    assert hatched_area([channel], 45, 0.05) == pytest.approx(100 - 4 * 7, rel=0.01)


def test_hatch_strokes_run_at_their_angle():
    strokes = hatch_lines([box((0, 0), 10, 10)], 30, 1)
    steps = strokes[:, 1] - strokes[:, 0]
    assert np.allclose(steps[:, 1] / steps[:, 0], np.tan(np.deg2rad(30)))


def test_two_sections_of_one_part_share_one_grid():
    left, right = (hatch_lines([box((x, 0), 5, 20)], 45, 2) for x in (0, 5))
    levels = [{round(float(y - x), 6) for (x, y), _ in strokes} for strokes in (left, right)]
    assert len(levels[0] & levels[1]) >= 5  # neighbours continue each other's strokes


def test_a_sliver_between_two_strokes_has_no_hatch():
    assert len(hatch_lines([box((0, 0.1), 5, 0.2)], 0, 2)) == 0


def test_points_by_angle_and_distance():
    assert polar((1, 2), 2, 90) == pytest.approx((1, 4))
    assert move((1, 2), (0, 1), 3) == (1, 5)
    length, ahead, left = along((0, 0), (3, 4))
    assert (length, ahead, left) == (5, (0.6, 0.8), (-0.8, 0.6))


def test_two_points_in_one_place_give_no_direction():
    with pytest.raises(ValueError, match="coincide"):
        along((1, 1), (1, 1))


def test_text_stands_where_its_anchor_and_level_say():
    low_left = text_box((10, 10), 20, 4, "start", "base").corners[0]
    assert low_left == pytest.approx((10, 10 - 0.21 * 4))
    assert text_box((10, 10), 20, 4, "end", "base").corners[1][0] == pytest.approx(10)
    # Capitals 0.72 of the size high: their middle stands at the point.
    assert baseline((10, 10), 4, "middle") == pytest.approx((10, 10 - 0.36 * 4))


def test_rooms_overlap_only_when_they_share_more_than_a_touch():
    room = text_box((0, 0), 10, 4, "start", "base")
    assert room.overlaps(text_box((5, 1), 10, 4, "start", "base"))
    assert not room.overlaps(text_box((10, 0), 10, 4, "start", "base"))
    assert not room.overlaps(text_box((0, 4), 10, 4, "start", "base"))


def test_turned_rooms_are_told_apart():
    slanting = text_box((0, 0), 20, 2, "start", "base", turn=45)
    assert not slanting.overlaps(text_box((12, 0), 8, 2, "start", "base"))
    assert slanting.overlaps(text_box((8, 9), 8, 2, "start", "base"))


def test_a_room_that_leaves_the_sheet_is_seen():
    assert text_box((1, 2), 5, 2, "start", "base").within((0, 0, 10, 10))
    assert not text_box((6, 2), 5, 2, "start", "base").within((0, 0, 10, 10))
