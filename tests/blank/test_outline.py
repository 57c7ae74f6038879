"""Outlines: simple or refused, clearance and largest circle, against Shapely and SciPy."""

import numpy as np
import pytest
import shapely
from scipy.optimize import linprog

from tests.blank.outline_cases import HOOK, L_SHAPE, SIZE, convex, drawn, star, tangled
from workshop_lib.blank import outline
from workshop_lib.quantities import InputError

OUTLINES = [*drawn(convex, 8), *drawn(star, 12), *drawn(tangled, 20), L_SHAPE, HOOK]
EACH = pytest.mark.parametrize("points", OUTLINES, ids=range(len(OUTLINES)))


@EACH
def test_area_and_centroid_are_those_of_shapely(points):
    points = outline.checked(points)
    shape = shapely.Polygon(points)
    assert outline.signed_area(points) == pytest.approx(shape.area, rel=1e-12)
    assert outline.centroid(points) == pytest.approx(np.array(shape.centroid.coords[0]), abs=1e-14)


@EACH
def test_clearance_is_shapelys_distance_from_the_edge(points):
    points = outline.checked(points)
    places = np.random.default_rng(1).uniform(-1.2 * SIZE, 1.2 * SIZE, (200, 2))
    shape = shapely.Polygon(points)
    away = shapely.distance(shape.exterior, shapely.points(places))
    signed = np.where(shapely.contains_xy(shape, *places.T), away, -away)
    assert outline.clearance(points, places) == pytest.approx(signed, abs=1e-15)


def test_a_place_level_with_a_corner_is_not_counted_twice():
    points = outline.checked(np.array([[0, 0], [2, 0], [3, 1], [2, 2], [0, 2], [1, 1]]) * 1e-2)
    inside = outline.clearance(
        points, np.array([[1.5, 1.0], [0.5, 1.0], [3.5, 1.0], [-1, 0]]) * 1e-2
    )
    assert list(inside > 0) == [True, False, False, False]


# Simple or refused


def test_refuses_just_what_shapely_calls_invalid():
    draw = np.random.default_rng(9)
    verdicts = set()
    for _ in range(400):
        points = draw.uniform(-SIZE, SIZE, (int(draw.integers(4, 8)), 2))
        valid = shapely.Polygon(points).is_valid
        verdicts.add(valid)
        if valid:
            outline.checked(points)
            continue
        with pytest.raises(InputError, match="touch or cross"):
            outline.checked(points)
    assert verdicts == {True, False}


def test_names_the_edges_that_cross():
    bow_tie = np.array([[0, 0], [10, 10], [10, 0], [0, 10]]) * 1e-3
    with pytest.raises(InputError, match="^outline: .*1 to 2 .*3 to 4 .*cross"):
        outline.checked(bow_tie)


@pytest.mark.parametrize(
    "points",
    [
        [[0, 0], [4, 0], [4, 4], [2, 0], [0, 4]],  # a corner on another edge
        [[0, 0], [2, 2], [4, 0], [4, 4], [2, 2], [0, 4]],  # two corners in one place
        [[0, 0], [4, 0], [4, 4], [4, 1]],  # an edge that runs back along the one before
        [[0, 0], [6, 0], [6, 4], [3, 4], [3, 6], [3, 4], [0, 4]],  # a spike of no width
        [[0, 0], [4, 0], [4, 2], [2, 2], [2, 1e-12], [1, 1e-12], [1, 2], [0, 2]],  # a bare touch
    ],
)
@pytest.mark.parametrize("turn", range(3))
def test_touching_is_refused_wherever_the_outline_starts(points, turn):
    with pytest.raises(InputError, match="touch or cross"):
        outline.checked(np.roll(points, turn, axis=0) * 1e-2)


@pytest.mark.parametrize(
    ("points", "words"),
    [
        ([[0, 0], [1, 0]], "has 2 points"),
        ([[0, 0], [1, 0], [0, 0]], "has 2 points"),
        ([[0, 0], [1, 0], [1, 0], [0, 1]], "points 2 and 3 are in the same place"),
        ([[0, 0], [1, 1], [2, 2], [3, 3]], "no area"),
        ([[0, 0], [1e-7, 0], [0, 1e-7]], "less than a thousandth of a millimetre"),
        ([[0, 0, 0], [1, 0, 0], [1, 1, 0]], "each with an x and a y"),
        ([1, 2, 3], "each with an x and a y"),
        (np.random.default_rng(0).uniform(0, 1, (4001, 2)), "has 4001 points"),
    ],
)
def test_refuses_what_is_no_outline(points, words):
    with pytest.raises(InputError, match=words) as refusal:
        outline.checked(points)
    assert refusal.value.name == "outline"


def test_a_closed_outline_and_a_clockwise_one_are_the_same_blank():
    assert outline.checked([*L_SHAPE, L_SHAPE[0]]) == pytest.approx(L_SHAPE)
    assert outline.signed_area(outline.checked(L_SHAPE[::-1])) == pytest.approx(1600e-6)


# The largest circle


@EACH
def test_largest_circle_is_shapelys(points):
    points = outline.checked(points)
    centre, radius, doubt = outline.largest_circle(points)
    rival = shapely.maximum_inscribed_circle(shapely.Polygon(points), tolerance=1e-10).length
    assert radius == pytest.approx(rival, abs=doubt + 1e-10)
    assert doubt == pytest.approx(1e-9 * np.ptp(points, axis=0).max())
    assert outline.clearance(points, centre[None])[0] == pytest.approx(radius, rel=1e-12)


@pytest.mark.parametrize("points", drawn(convex, 10, seed=8), ids=range(10))
def test_of_a_convex_outline_it_is_the_chebyshev_circle(points):
    along = outline.edge_vectors(points)
    inward = np.stack([-along[:, 1], along[:, 0]], axis=1) / np.hypot(*along.T)[:, None]
    offsets = (inward * points).sum(axis=1)
    constraints = np.hstack([-inward, np.ones((len(points), 1))])
    free = [(None, None)] * 3
    solved = linprog([0, 0, -1], A_ub=constraints, b_ub=-offsets, bounds=free)
    _, radius, doubt = outline.largest_circle(points)
    assert radius == pytest.approx(-solved.fun, abs=doubt + 1e-12)


def test_circles_worked_by_hand():
    # 3-4-5 triangle: area over half the girth, 6 / 6 = 1, about (1, 1).
    centre, radius, _ = outline.largest_circle(np.array([[0, 0], [4, 0], [0, 3]]) * 1e-2)
    assert radius == pytest.approx(1e-2, abs=4e-11)
    assert centre == pytest.approx([1e-2, 1e-2], abs=1e-9)
    # An L: (r, r) is r from both outer sides and r from the inner corner: r = sqrt(2) (20 mm − r).
    centre, radius, _ = outline.largest_circle(L_SHAPE)
    root = np.sqrt(2)
    assert radius == pytest.approx(20e-3 * root / (1 + root), abs=5e-11)
    assert centre == pytest.approx([radius, radius], abs=1e-9)


@pytest.mark.parametrize("turn", [0.0, 0.3, 1.2])
@pytest.mark.parametrize("length", [60.0, 400.0, 5000.0])
def test_between_parallel_sides_the_middle_is_taken(length, turn):
    rectangle = np.array([[0, 0], [length, 0], [length, 40], [0, 40]]) * 1e-3
    spin = np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
    centre, radius, _ = outline.largest_circle(rectangle @ spin)
    assert radius == pytest.approx(20e-3, rel=1e-12)
    assert centre == pytest.approx(rectangle.mean(axis=0) @ spin, abs=1e-12)


def test_moving_turning_and_scaling_an_outline_take_its_circle_along():
    spin = np.array([[0.6, 0.8], [-0.8, 0.6]])
    for points in drawn(tangled, 6, seed=3):
        points = outline.checked(points)
        centre, radius, _ = outline.largest_circle(points)
        moved, scaled, _ = outline.largest_circle(3 * points @ spin + [0.2, -0.7])
        assert scaled == pytest.approx(3 * radius, abs=1e-9)
        assert outline.clearance(points, ((moved - [0.2, -0.7]) @ spin.T / 3)[None])[0] == (
            pytest.approx(radius, abs=1e-9)
        )


def test_a_search_that_is_cut_short_says_how_far_it_came(monkeypatch):
    points = outline.checked(drawn(star, 1)[0])
    _, exact, _ = outline.largest_circle(points)
    monkeypatch.setattr(outline, "EFFORT", 3e3)
    centre, radius, doubt = outline.largest_circle(points)
    assert doubt > 1e-6
    assert radius <= exact <= radius + doubt
    assert outline.clearance(points, centre[None])[0] == pytest.approx(radius)
