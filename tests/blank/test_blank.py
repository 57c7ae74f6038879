"""Blanks: typed, built and read; the disc that fits, marked centres, offset of mass, unbalance."""

import numpy as np
import pytest
import shapely

from tests.blank.outline_cases import HOOK, L_SHAPE, SIZE, drawn, star, tangled
from workshop_lib.blank import Blank
from workshop_lib.quantities import Q_, InputError

MIDDLE = ("0 mm", "0 mm")


def of(points):
    """Return the blank of bare points in m."""
    return Blank(Q_(points, "m"))


# How a blank comes in


def test_points_may_be_text_pairs_quantities_or_one_array():
    typed = Blank([("0 mm", "0 in"), ("80 mm", "0 mm"), (Q_(80, "mm"), "60 mm"), ("0 mm", "6 cm")])
    array = Blank(Q_([[0, 0], [80, 0], [80, 60], [0, 60]], "mm"))
    assert typed.points == pytest.approx(array.points)
    assert typed.area.m_as("mm**2") == pytest.approx(4800)


def test_inches_and_millimetres_make_the_same_blank():
    inch = Blank.square("2 in", "1/4 in")
    assert inch.points == pytest.approx(Blank.square("50.8 mm", "6.35 mm").points)


@pytest.mark.parametrize(
    ("outline", "words"),
    [
        ([("0 mm", "0 mm"), ("10 mm", "0 mm")], "needs at least three"),
        ([("0 mm", "0 mm"), ("10 mm",), ("0 mm", "9 mm")], "different lengths"),
        ([(0, 0), (10, 0), (0, 10)], "no unit"),
        ([("0 mm", "0 mm"), ("10 mm", "0 mm"), ("0 mm", "10 N")], "‘10 N’ is a force"),
        ("square", "does not start with a number"),
        ("40 mm", "each with an x and a y"),
        (None, "is not a length"),
        ([], "no values"),
        ([[("0 mm", "0 mm"), ("10 mm", "0 mm")]], "each with an x and a y"),
        ([("0 mm", "1 mm")] * 4002, "more than 4000 points"),
        ([("0 mm", "0 mm"), ("9 mm", "9 mm"), ("9 mm", "0 mm"), ("0 mm", "9 mm")], "cross"),
    ],
)
def test_what_is_no_outline_is_refused_by_name(outline, words):
    with pytest.raises(InputError, match=words) as refusal:
        Blank(outline)
    assert refusal.value.name == "outline"


def test_missing_numbers_are_refused():
    points = np.array([[0, 0], [10, 0], [np.nan, 10]])
    with pytest.raises(InputError, match="NaN"):
        Blank(Q_(1, "mm") * points)


def test_a_blank_cannot_be_changed_by_the_way():
    with pytest.raises(ValueError, match="read-only"):
        Blank.square("80 mm").points[0] = 0


@pytest.mark.parametrize("corners", [3, 4, 5, 8, 41])
def test_regular_blanks_measure_what_was_asked(corners):
    flats = Blank.regular(corners, across_flats="80 mm")
    assert flats.largest_disc().diameter.m_as("mm") == pytest.approx(80, abs=1e-6)
    assert flats.largest_disc().centre.m_as("mm") == pytest.approx([0, 0], abs=1e-9)
    points = Blank.regular(corners, across_corners="80 mm")
    assert 2 * points.corner_radius(MIDDLE).m_as("mm") == pytest.approx(80)
    assert flats.area.m_as("mm**2") == pytest.approx(1600 * corners * np.tan(np.pi / corners))
    assert flats.points[:, 1].min() == pytest.approx(-0.04)


def test_a_clipped_square_loses_four_triangles_and_its_far_corners():
    clipped = Blank.square("80 mm", "10 mm")
    assert clipped.area.m_as("mm**2") == pytest.approx(6400 - 4 * 50)
    assert clipped.corner_radius(MIDDLE).m_as("mm") == pytest.approx(np.hypot(40, 30))
    assert len(clipped.points) == 8
    assert Blank.square("80 mm").corner_radius(MIDDLE).m_as("mm") == pytest.approx(40 * np.sqrt(2))


@pytest.mark.parametrize(
    ("make", "name"),
    [
        (lambda: Blank.regular(2, across_flats="8 mm"), "corners"),
        (lambda: Blank.regular(8.0, across_flats="8 mm"), "corners"),
        (lambda: Blank.regular(True, across_flats="8 mm"), "corners"),
        (lambda: Blank.regular(5000, across_flats="8 mm"), "corners"),
        (lambda: Blank.regular(8), "across_flats"),
        (lambda: Blank.regular(8, "8 mm", "9 mm"), "across_flats"),
        (lambda: Blank.regular(8, across_corners="0 mm"), "across_corners"),
        (lambda: Blank.square("-8 mm"), "side"),
        (lambda: Blank.square("8 mm", "4 mm"), "clipped_corner"),
        (lambda: Blank.square("8 mm", "-1 mm"), "clipped_corner"),
    ],
)
def test_sizes_that_make_no_blank_are_refused_by_name(make, name):
    with pytest.raises(InputError) as refusal:
        make()
    assert refusal.value.name == name


# The disc that fits


def test_the_largest_disc_of_an_l_touches_its_inner_corner():
    disc = of(L_SHAPE).largest_disc()
    root = np.sqrt(2)
    assert disc.diameter.m_as("mm") == pytest.approx(2 * 20 * root / (1 + root), abs=1e-6)
    assert disc.within.m_as("mm") == pytest.approx(1e-7)


@pytest.mark.parametrize("points", [*drawn(star, 4), *drawn(tangled, 4), HOOK], ids=range(9))
def test_no_marked_centre_gives_a_larger_disc(points):
    blank = of(points)
    disc = blank.largest_disc()
    largest = disc.diameter.m_as("mm")
    shape = shapely.Polygon(points)
    places = np.random.default_rng(2).uniform(-SIZE, SIZE, (300, 2))
    for place in places[shapely.contains_xy(shape, *places.T)]:
        mark = blank.mark(Q_(place, "m"))
        assert mark.diameter.m_as("mm") <= largest + 1e-6
        assert mark.lost.m_as("mm") == pytest.approx(largest - mark.diameter.m_as("mm"), abs=1e-9)
        off = np.hypot(*(1e3 * place - disc.centre.m_as("mm")))
        assert mark.offset.m_as("mm") == pytest.approx(off)


def test_a_mark_off_the_centre_of_a_square_costs_twice_its_nearer_offset():
    mark = Blank.square("80 mm").mark(("3 mm", "-1 mm"))
    assert mark.lost.m_as("mm") == pytest.approx(6, abs=1e-6)
    assert mark.diameter.m_as("mm") == pytest.approx(74)
    assert Blank.square("80 mm").disc_at(("3 mm", "-1 mm")).m_as("mm") == pytest.approx(74)


@pytest.mark.parametrize(
    "centre", [("50 mm", "0 mm"), ("40 mm", "0 mm"), ("0 mm", "-40.0000000001 mm")]
)
@pytest.mark.parametrize("call", ["disc_at", "mark", "corner_radius", "offset_of_mass", "sees_all"])
def test_a_centre_off_the_blank_is_refused(call, centre):
    with pytest.raises(InputError, match="outside the blank") as refusal:
        getattr(Blank.square("80 mm"), call)(centre)
    assert refusal.value.name == "centre"


@pytest.mark.parametrize(
    "centre",
    [None, "0 mm", ("0 mm",), ("0 mm", "0 mm", "0 mm"), (0, 0), Q_(3, "mm"), ("0 mm", "1 s")],
)
def test_what_is_no_place_is_refused(centre):
    with pytest.raises(InputError) as refusal:
        Blank.square("80 mm").disc_at(centre)
    assert refusal.value.name == "centre"


# Mass


@pytest.mark.parametrize("points", [*drawn(star, 4), *drawn(tangled, 4)], ids=range(8))
def test_offset_of_mass_is_shapelys_centroid(points):
    blank = of(points)
    centre = blank.largest_disc().centre
    away = np.array(shapely.Polygon(points).centroid.coords[0]) - centre.m_as("m")
    assert blank.offset_of_mass(centre).m_as("m") == pytest.approx(np.hypot(*away))
    assert blank.centre_of_mass.m_as("m") == pytest.approx(away + centre.m_as("m"))


def test_unbalance_of_a_square_by_hand():
    # 0.1 m × 0.1 m × 1 mm of brass at 8500 kg/m³ is 85 g.
    # Centre 3 mm and 4 mm off: e = 5 mm; 50 rad/s: 0.085 × 0.005 × 2500 = 1.0625 N.
    square = Blank.square("100 mm")
    force = square.unbalance(("3 mm", "4 mm"), "1 mm", "brass", "50 rad/s")
    assert force.m_as("N") == pytest.approx(1.0625, rel=1e-12)


def test_unbalance_grows_as_the_square_of_the_speed_and_in_step_with_thickness():
    square = Blank.square("100 mm")
    speeds = Q_(np.array([[50.0], [100.0]]), "rad/s")
    force = square.unbalance(("3 mm", "0 mm"), Q_([1.0, 2.0, 3.0], "mm"), "brass", speeds)
    assert force.shape == (2, 3)
    assert (force[0] / force[0, 0]).m == pytest.approx([1, 2, 3])
    assert (force[1] / force[0]).m == pytest.approx([4, 4, 4])


def test_turning_a_blank_true_takes_its_unbalance_away():
    blank = of(HOOK)
    centre = blank.largest_disc().centre
    radii = Q_(np.linspace(60, 25, 30), "mm")
    force = blank.unbalance(centre, "1 mm", "brass", "300 rev/min", radii).m_as("N")
    whole = blank.unbalance(centre, "1 mm", "brass", "300 rev/min").m_as("N")
    assert force[0] == pytest.approx(whole)
    assert force[-1] == pytest.approx(0, abs=1e-12 * whole)
    assert blank.offset_of_mass(centre, radii[-1]).m_as("mm") == pytest.approx(0, abs=1e-9)


# Round the turn


def test_engagement_takes_the_shape_of_its_radii():
    square = Blank.square("60 mm")
    radii = Q_(np.linspace(31, 42, 6).reshape(2, 3), "mm")
    found = square.engagement(MIDDLE, radii, "0.2 mm")
    assert found.share.shape == found.strikes.shape == found.peak_depth.shape == (2, 3)
    one = square.engagement(MIDDLE, radii[1, 1], "0.2 mm")
    assert (one.share, one.strikes) == (found.share[1, 1], found.strikes[1, 1])
    assert type(one.share) is float
    assert type(one.strikes) is int
    assert one.peak_depth == found.peak_depth[1, 1]


def test_a_corner_comes_round_at_its_own_angle():
    square = Blank.square("60 mm")
    begin, width = square.arcs(MIDDLE, "41 mm", "2 mm")
    middle = np.sort((begin + width / 2).m_as("deg") % 360)
    assert middle == pytest.approx([45, 135, 225, 315])
    half = 45 - np.degrees(np.arccos(30 / 41))
    assert width.m_as("deg") == pytest.approx(np.full(4, 2 * half))
    with pytest.raises(InputError, match="one value"):
        square.arcs(MIDDLE, ["41 mm", "42 mm"], "2 mm")


def test_depth_round_the_turn_broadcasts_over_angles_and_radii():
    square = Blank.square("60 mm")
    angle = Q_(np.linspace(0, 360, 721), "deg")[:, None]
    depth = square.depth_at(MIDDLE, angle, Q_([32.0, 40.0], "mm"), "1 mm").m_as("mm")
    assert depth.shape == (721, 2)
    outline = square.radius_at(MIDDLE, angle[:, 0]).m_as("mm")
    assert depth[:, 0] == pytest.approx(np.clip(outline - 32, 0, 1))
    assert depth[:, 1] == pytest.approx(np.clip(outline - 40, 0, 1))


def test_hooks_are_told_from_what_the_centre_sees_whole():
    assert Blank.square("60 mm").sees_all(("20 mm", "-9 mm"))
    assert not of(HOOK).sees_all(of(HOOK).largest_disc().centre)
    assert of(L_SHAPE).sees_all(("10 mm", "10 mm"))
    assert not of(L_SHAPE).sees_all(("40 mm", "10 mm"))


def test_bare_bodies_stay_in_reach():
    square = Blank.square("60 mm")
    assert Blank.radius_at.core(square, (0.0, 0.0), np.pi / 4) == pytest.approx(0.03 * np.sqrt(2))
    assert Blank.offset_of_mass.core(square, (0.003, 0.004)) == pytest.approx(0.005)
