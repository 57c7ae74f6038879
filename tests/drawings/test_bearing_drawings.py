"""The drawings of lesson 04 show what was computed: paths in the right parts, no clashing words.

Shapely is the independent judge of what lies inside what.
"""

import re
from dataclasses import replace

import numpy as np
import pytest
from shapely import LineString, Point, Polygon, unary_union

from workshop_lib.bearings import choose, typical_inside
from workshop_lib.drawings.ball_drawings import ball_loads, ball_section, margin_bars
from workshop_lib.drawings.bearing_drawings import side_view, thrust_view
from workshop_lib.drawings.bearing_layouts import cut
from workshop_lib.drawings.bearing_section import spread
from workshop_lib.load_path import designs, find_design, trace
from workshop_lib.quantities import Q_, InputError

DESIGNS = [design.key for design in designs()]
each_design = pytest.mark.parametrize("key", DESIGNS)
SIZES = (
    {},
    {"overhang": "18 mm"},
    {"overhang": "80 mm"},
    {"span": "25 mm"},
    {"span": "140 mm"},
    {"overhang": "60 mm", "span": "120 mm"},
)
LOADS = (("600 N", "50 N"), ("0 N", "0 N"), ("2500 N", "0 N"), ("10 N", "400 N"))
SENTENCE = re.compile(r"\d.*\.$")


def drawable(key, sizes):
    """The design with other sizes; a roller centre's three bearings need more span than two."""
    if key == "roller_centre" and sizes.get("span") == "25 mm":
        sizes = {"span": "40 mm"}
    return find_design(key).changed(**sizes)


def rest_of(design, load):
    return trace(design, *load)


def area(shown, name):
    """All that carries a step: the parts and, in a bearing, its balls or rollers too."""
    parts = [Polygon(part.outline) for part in shown.parts if name in part.carries]
    place = name.removesuffix(" bearing")
    if place in shown.rolling and name.endswith(" bearing"):
        shape = shown.rolling[place]
        whole = Point(shape[1]).buffer(shape[2]) if shape[0] == "ball" else Polygon(shape[1])
        parts.append(whole)
    return unary_union(parts)


@each_design
@pytest.mark.parametrize("load", LOADS, ids="-".join)
def test_no_words_clash_under_any_load(key, load):
    found = rest_of(find_design(key), load)
    for draw in (thrust_view, side_view):
        for listed in (True, False):
            assert draw(found, listed=listed).faults() == []


@each_design
@pytest.mark.parametrize("sizes", SIZES, ids=str)
def test_no_words_clash_in_any_size(key, sizes):
    found = rest_of(drawable(key, sizes), LOADS[0])
    for draw in (thrust_view, side_view):
        assert draw(found).faults() == draw(found, listed=False).faults() == []


@each_design
def test_the_alt_sentence_names_every_part_of_the_path_in_order_and_the_thrust(key):
    found = rest_of(find_design(key), LOADS[0])
    said = thrust_view(found).alt
    assert SENTENCE.search(said)
    assert "600 N" in said
    said = said.split("passes through")[1]
    places = [said.index(part.name) for part in found.path]
    assert places == sorted(places)


@each_design
def test_the_alt_sentence_of_the_side_view_names_force_and_every_bearing(key):
    found = rest_of(find_design(key), LOADS[0])
    said = side_view(found).alt
    assert SENTENCE.search(said)
    assert "50.0 N" in said
    assert all(each.bearing.designation in said for each in found.reactions)


@each_design
@pytest.mark.parametrize("sizes", SIZES, ids=str)
def test_the_way_of_the_thrust_lies_in_the_parts_that_carry_it_in_the_order_of_the_trace(
    key, sizes
):
    design = drawable(key, sizes)
    shown, path = cut(design), rest_of(design, LOADS[0]).path
    assert [name for name in shown.legs if name in {part.name for part in path}] == [
        part.name for part in path
    ]
    for part in path:
        leg, inside = shown.legs[part.name], area(shown, part.name).buffer(0.05)
        line = LineString(leg) if len(leg) > 1 else Point(leg[0])
        assert inside.covers(line), part.name
    ends = [shown.legs[part.name] for part in path]
    for before, after in zip(ends, ends[1:], strict=False):
        assert np.allclose(before[-1], after[0])


def test_the_preload_runs_through_cap_balls_and_shoulder_without_a_break():
    shown = cut(find_design("preloaded_centre"))
    names = [step.name for step in find_design("preloaded_centre").steps if step.path == "preload"]
    legs = [shown.legs[name] for name in names]
    for name, leg in zip(names, legs, strict=True):
        assert area(shown, name).buffer(0.05).covers(LineString(leg)), name
    assert all(np.allclose(a[-1], b[0]) for a, b in zip(legs, legs[1:], strict=False))
    assert np.allclose(shown.back[-1], legs[0][0])


@each_design
@pytest.mark.parametrize("sizes", SIZES, ids=str)
def test_no_two_parts_share_their_material(key, sizes):
    shown = cut(drawable(key, sizes))
    shapes = [(part.name, Polygon(part.outline)) for part in shown.parts]
    assert all(shape.is_valid for _, shape in shapes)
    for index, (name, shape) in enumerate(shapes):
        for other, against in shapes[index + 1 :]:
            assert shape.intersection(against).area < 0.02, (name, other)


@each_design
def test_bearings_stand_to_scale_where_the_design_has_them(key):
    design = find_design(key).changed(overhang="33 mm")
    shown = cut(design)
    for support in design.supports:
        outline = [part.outline for part in shown.parts if part.name.startswith(support.place)]
        points = np.concatenate([np.array(each) for each in outline])
        bare = support.bearing.core
        assert points[:, 1].max() == pytest.approx(1e3 * bare.outside_diameter / 2)
        assert np.ptp(points[:, 0]) == pytest.approx(1e3 * bare.width)
        assert points[:, 0].mean() == pytest.approx(1e3 * support.behind_tip, abs=bare.width * 250)


def test_an_unloaded_nose_shows_its_parts_and_no_way_of_any_load():
    drawing = thrust_view(rest_of(find_design("pressure_nose"), ("0 N", "0 N")))
    assert SENTENCE.search(drawing.alt)
    assert "#0a5ea8" not in drawing.svg()
    assert not any("600" in words or "none" in words for words, _ in drawing.texts)
    assert "sleeve" in [words for words, _ in drawing.texts]


def test_nothing_is_drawn_on_parts_that_carry_nothing():
    loaded = thrust_view(rest_of(find_design("preloaded_centre"), ("600 N", "0 N"))).svg()
    loose = thrust_view(rest_of(find_design("preloaded_centre"), ("2500 N", "0 N"))).svg()
    purple = "#7a3396"
    assert purple in loaded
    assert purple not in loose


def test_without_a_side_force_no_way_of_it_is_drawn():
    still = side_view(rest_of(find_design("pressure_nose"), ("600 N", "0 N"))).svg()
    pushed = side_view(rest_of(find_design("pressure_nose"), ("600 N", "50 N"))).svg()
    assert pushed.count("#a84300") > still.count("#a84300")


@pytest.mark.parametrize(
    ("designation", "axial", "radial"),
    [
        ("6202", 600, 0),
        ("6202", 100, 800),
        ("6000", 0, 300),
        ("7204 B", 600, 200),
        ("51104", 900, 0),
    ],
)
def test_ball_drawings_name_the_heaviest_load_and_nothing_clashes(designation, axial, radial):
    inside = typical_inside(designation)
    loads = Q_(axial, "N"), Q_(radial, "N")
    rest = inside.equilibrium(*loads)
    for drawing in (ball_section(inside, rest), ball_loads(rest, *loads)):
        assert drawing.faults() == []
        assert SENTENCE.search(drawing.alt)
    heaviest = f"{rest.core.loads.max():.3g}"
    assert heaviest in ball_loads(rest, *loads).alt


@pytest.mark.parametrize("kind", ["deep_groove", "angular_contact", "thrust_ball"])
@pytest.mark.parametrize("thrust", ["10 N", "600 N", "20 kN"])
def test_margin_bars_name_the_first_bearing_and_nothing_clashes(kind, thrust):
    found = choose(thrust, "500 rev/min", "1000 h", kind=kind)
    drawing = margin_bars(found)
    assert drawing.faults() == []
    assert found[0].bearing.designation in drawing.alt
    assert f"{sum(each.serves for each in found)} will do" in drawing.alt


def test_rings_in_a_row_keep_their_distance_and_their_places_where_they_can():
    assert spread([0, 20, 40], 7) == pytest.approx([0, 20, 40])
    # by hand: two that wish for the same place stand half the distance to either side of it
    assert spread([10, 10], 7) == pytest.approx([6.5, 13.5])
    crowded = spread([3, 3.5, 4, 4.5, 30], 7)
    assert np.diff(crowded).min() >= 7 - 1e-9
    assert crowded[-1] == pytest.approx(30)


def test_a_design_of_ones_own_that_nobody_has_drawn_is_refused_in_words():
    with pytest.raises(InputError, match="^design: nobody has drawn"):
        cut(replace(find_design("pressure_nose"), key="my_own_nose"))
