"""What the tool meets round the turn, against Shapely, very many rays and closed forms."""

import numpy as np
import pytest
import shapely
from scipy.optimize import minimize_scalar

from tests.blank.outline_cases import HOOK, L_SHAPE, drawn, star, tangled
from tests.house.thorough import among
from workshop_lib.blank import engagement, outline
from workshop_lib.blank.engagement import (
    cut_arcs,
    depth_at,
    once_round,
    radius_at,
    remaining,
    seen_from,
    solid_reach,
)

TURN = 2 * np.pi


def seen(points):
    """Return an outline as seen from the centre of its largest circle, and that circle's radius."""
    points = outline.checked(points)
    centre, radius, _ = outline.largest_circle(points)
    return seen_from(points, centre), radius


OUTLINES = [*drawn(star, among(4, 8)), *drawn(tangled, among(6, 16), seed=6), L_SHAPE, HOOK]
EACH = pytest.mark.parametrize("points", OUTLINES, ids=range(len(OUTLINES)))


def passes_through(sight, radius, count=7):
    """Return radii where passes end and begin, from the corners nearly down to a radius."""
    edges = np.linspace(sight.reach, 1.001 * radius, count + 1)
    return edges[1:], edges[:-1]


@EACH
def test_material_on_a_ray_is_what_shapely_cuts_out_of_it(points):
    sight, radius = seen(points)
    shape = shapely.Polygon(sight.corners)
    inner, outer = 1.01 * radius, 0.5 * (radius + sight.reach)
    angles = np.random.default_rng(4).uniform(-7, 7, 150)
    ways = np.stack([np.cos(angles), np.sin(angles)], axis=1)
    rays = shapely.linestrings(np.stack([inner * ways, outer * ways], axis=1))
    length = shapely.length(shapely.intersection(rays, shape))
    assert depth_at(sight, angles, inner, outer) == pytest.approx(length, abs=1e-12)


@EACH
def test_outline_reaches_as_far_as_the_farthest_end_of_a_ray_in_it(points):
    sight, _ = seen(points)
    shape = shapely.Polygon(sight.corners)
    angles = np.random.default_rng(4).uniform(0, TURN, 60)
    ways = np.stack([np.cos(angles), np.sin(angles)], axis=1) * 1.1 * sight.reach
    rays = shapely.linestrings(np.stack([0 * ways, ways], axis=1))
    farthest = [
        np.hypot(*shapely.get_coordinates(piece).T).max()
        for piece in shapely.intersection(rays, shape)
    ]
    assert radius_at(sight, angles) == pytest.approx(np.array(farthest), abs=1e-12)


RAYS = 16_000
DEEPEST = among(5, 20)  # rays beside which it is looked at closer


def sampled(sight, inner, outer):
    """Return share, strikes and depth by looking at the material in very many directions."""
    even = (np.arange(RAYS) + 0.5) * TURN / RAYS
    beside = np.concatenate([sight.bearing - 1e-9, sight.bearing + 1e-9])
    depth = depth_at(sight, even, inner, outer)
    cut = depth > 1e-12
    corners = depth_at(sight, beside, inner, outer).max()
    deep = even[np.argsort(depth)[-DEEPEST:]]  # look closer where it is deepest
    closer = deep[:, None] + np.linspace(-2, 2, 4001) * TURN / RAYS
    deepest = depth_at(sight, closer, inner, outer).max()
    return cut.mean(), (cut & ~np.roll(cut, 1)).sum(), max(deepest, corners)


@EACH
def test_share_strikes_and_depth_are_those_of_very_many_rays(points):
    sight, radius = seen(points)
    inner, outer = passes_through(sight, radius)
    found = once_round(sight, inner, outer)
    for row, ends in enumerate(zip(inner, outer, strict=True)):
        share, strikes, depth = sampled(sight, *ends)
        assert found.share[row] == pytest.approx(share, abs=2 / RAYS * (1 + strikes))
        assert found.strikes[row] == strikes
        assert found.depth[row] == pytest.approx(depth, abs=1.2e-7)  # what so many rays can tell


@EACH
def test_arcs_add_up_to_the_share_and_lie_in_the_material(points):
    sight, radius = seen(points)
    for inner, outer in zip(*passes_through(sight, radius, 4), strict=True):
        begin, width = cut_arcs(sight, inner, outer)
        found = once_round(sight, np.array([inner]), np.array([outer]))
        assert width.sum() == pytest.approx(TURN * found.share[0], abs=1e-9)
        assert len(begin) == max(found.strikes[0], 1)
        inside = depth_at(sight, begin + width / 2, inner, outer)
        before = depth_at(sight, begin - 1e-6, inner, outer)
        if found.strikes[0]:
            assert (inside[width > 1e-5] > 0).all()
            assert before == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("corners", [3, 4, 8, 40])
def test_a_regular_blank_is_cut_as_its_closed_form_says(corners):
    angle = TURN * np.arange(corners) / corners
    sight = seen_from(np.stack([np.cos(angle), np.sin(angle)], axis=1), (0.0, 0.0))
    flat = np.cos(np.pi / corners)
    inner = flat + (1 - flat) * np.array([0.9, 0.5, 0.1, 0.01])
    found = once_round(sight, inner, inner + 0.01 * (1 - flat))
    gap = 2 * np.arccos(flat / inner)  # angle over which a side lies inside the tool's circle
    assert found.share == pytest.approx(1 - corners * gap / TURN, abs=1e-12)
    assert (found.strikes == corners).all()
    assert found.depth == pytest.approx(np.full(4, 0.01 * (1 - flat)), rel=1e-9)


def test_inside_the_flats_the_cut_never_stops():
    sight, radius = seen(np.array([[0, 0], [60, 0], [60, 60], [0, 60]]) * 1e-3)
    found = once_round(sight, np.array([radius, 0.9 * radius]), np.array([1.1, 0.95]) * radius)
    assert found.share == pytest.approx([1, 1], abs=1e-6)
    assert found.strikes[1] == 0


def test_outside_the_corners_there_is_nothing():
    sight, _ = seen(L_SHAPE)
    found = once_round(sight, np.array([1.01]) * sight.reach, np.array([1.2]) * sight.reach)
    assert (found.share, found.strikes, found.depth) == (0, 0, 0)
    assert [len(part) for part in cut_arcs(sight, 1.01 * sight.reach, 1.2 * sight.reach)] == [0, 0]


def test_off_the_centre_a_square_is_struck_by_fewer_corners_first():
    square = np.array([[-30, -30], [30, -30], [30, 30], [-30, 30]]) * 1e-3
    sight = seen_from(square, (2e-3, 0.0))
    inner = sight.reach - np.array([0.5e-3, 5e-3])
    assert list(once_round(sight, inner, inner + 0.5e-3).strikes) == [2, 4]


def test_a_deeper_tool_never_cuts_a_smaller_share_of_a_star():
    for points in drawn(star, 6, seed=2):
        sight, radius = seen(points)
        if sight.star_shaped:
            inner = np.linspace(sight.reach, radius, 60)[1:]
            assert (np.diff(once_round(sight, inner, inner + 1e-4).share) >= -1e-12).all()


def test_a_bar_across_the_way_is_deepest_where_it_lies_square_by_hand():
    # A bar 37 mm above the centre hangs from outside on a thin strip. A tool at 36 mm, coming from
    # 40 mm, meets 40 − 37/cos of it: 3 mm straight above the centre, between the bar's ends.
    body, strip = [[-20, -20], [20, -20]], [[20, 0], [30.2, 30], [30.2, 50]]
    bar, back = [[-15, 50], [-15, 37], [10, 37], [10, 49.8]], [[30, 49.8], [30, 30], [20, 0.6]]
    points = np.array([*body, *strip, *bar, *back, [20, 20], [-20, 20]]) * 1e-3
    sight = seen_from(outline.checked(points), (0.0, 0.0))
    found = once_round(sight, np.array([36e-3]), np.array([40e-3]))
    assert found.depth[0] == pytest.approx(3e-3, rel=1e-9)
    begin, width = cut_arcs(sight, 36e-3, 40e-3)
    over = (begin < np.pi / 2) & (begin + width > np.pi / 2)
    assert width[over] == pytest.approx([np.arctan(10 / 37) + np.arctan(15 / 37)], rel=1e-9)


def test_between_two_edges_that_lean_the_deepest_ray_is_neither_square_nor_at_a_corner():
    # From 30 to 48 mm a ray meets the body up to y = 37.5 + 0.02 x, and the bar above y = 42 mm.
    body, strip = [[-20, -20], [20, -20]], [[20, 0], [30.2, 30], [30.2, 50]]
    bar, back = [[-15, 50], [-15, 42], [10, 42], [10, 49.8]], [[30, 49.8], [30, 30], [20, 0.6]]
    points = np.array([*body, *strip, *bar, *back, [20, 37.9], [-20, 37.1]]) * 1e-3

    def less(angle):
        return 42 / np.sin(angle) - 37.5 / (np.sin(angle) - 0.02 * np.cos(angle))

    ends = np.arctan2(42, [10, -15])
    best = minimize_scalar(less, bounds=ends, method="bounded", options={"xatol": 1e-9})
    assert less(best.x) + 0.005 < min(*less(ends), less(np.pi / 2))
    sight = seen_from(outline.checked(points), (0.0, 0.0))
    found = once_round(sight, np.array([30e-3]), np.array([48e-3]))
    assert found.depth[0] == pytest.approx((18 - best.fun) * 1e-3, rel=1e-9)


@EACH
def test_up_to_the_solid_reach_a_pass_meets_its_whole_depth(points):
    sight, radius = seen(points)
    solid = solid_reach(sight)
    assert radius < solid <= sight.reach
    assert sight.star_shaped == (solid == sight.reach)
    inner = np.linspace(radius, solid, 20)[:-1]
    depth = once_round(sight, inner, np.full(19, solid)).depth
    assert depth == pytest.approx(solid - inner, abs=1e-9 * solid)


def test_a_solid_reach_ends_where_the_last_ray_leaves_the_hook_by_hand():
    # From (25, 25) mm the ray to the far corner (60, 70) leaves at 50 mm of height. The ray that
    # just passes the inner corner (52, 50) runs on to x = 60 mm: hypot(27, 25) × 35/27 = 47.7 mm.
    solid = solid_reach(seen_from(HOOK, (25e-3, 25e-3)))
    assert solid == pytest.approx(np.hypot(27e-3, 25e-3) * 35 / 27, rel=1e-6)


def test_the_material_of_a_ring_adds_up_from_ring_to_ring():
    sight, radius = seen(HOOK)
    assert not sight.star_shaped
    edges = np.linspace(radius, sight.reach, 6)
    angles = np.linspace(0, TURN, 500)
    rings = depth_at(sight, angles[:, None], edges[:-1], edges[1:])
    assert rings.sum(axis=1) == pytest.approx(depth_at(sight, angles, edges[0], edges[-1]))


def test_long_lists_of_passes_go_in_blocks_to_the_same_result(monkeypatch):
    sight, radius = seen(HOOK)
    inner, outer = passes_through(sight, radius, 50)
    whole, left = once_round(sight, inner, outer), remaining(sight, inner)
    monkeypatch.setattr(engagement, "BLOCK", 200)
    parts, left_in_parts = once_round(sight, inner, outer), remaining(sight, inner)
    for name in ("share", "strikes", "depth"):
        assert (getattr(whole, name) == getattr(parts, name)).all()
    assert (left[1] == left_in_parts[1]).all()


# What a radius leaves


@EACH
def test_what_is_left_is_shapelys_outline_within_a_circle(points):
    sight, radius = seen(points)
    radii = np.linspace(0.3 * radius, 1.05 * sight.reach, 8)
    area, moment = remaining(sight, radii)
    for row, size in enumerate(radii):
        circle = shapely.Point(0, 0).buffer(size, quad_segs=4000)
        left = shapely.Polygon(sight.corners).intersection(circle)
        assert area[row] == pytest.approx(left.area, rel=1e-6)
        by_shapely = left.area * np.array(left.centroid.coords[0])
        assert moment[row] == pytest.approx(by_shapely, abs=1e-6 * left.area * size)


def test_inside_the_largest_circle_a_whole_disc_is_left_and_in_balance():
    sight, radius = seen(L_SHAPE)
    area, moment = remaining(sight, np.array([0.5, 0.999]) * radius)
    assert area == pytest.approx(np.pi * (np.array([0.5, 0.999]) * radius) ** 2, rel=1e-12)
    assert (moment == 0).all()
