"""The drawings of lessons 00 to 02: words do not clash, forces stand in their proportion."""

import re

import numpy as np
import pytest

from workshop_lib.drawings import cut_drawings, holding_drawings, setup_drawings
from workshop_lib.friction import Pad
from workshop_lib.quantities import Q_
from workshop_lib.slip import holding

FORCES = [0.0, 0.8, 26.0, 37.0, 73.4, 999.0, 12345.0]
PADS = [("60 mm", "0 mm"), ("60 mm", "30 mm"), ("24 mm", "0 mm"), ("120 mm", "100 mm")]


def alt_is_a_sentence(picture):
    return re.search(r"\d.*\.$", picture.alt) and "nan" not in picture.alt


def arrow_tips(canvas):
    """Return the tips of all arrows as points of the drawing: each head is a filled triangle."""
    heads = [part for part in canvas._parts if 'stroke="none"' in part and part.endswith('"/>')]
    triangles = [re.search(r'd="M([^"]+)Z"', part) for part in heads]
    corners = [each[1].split("L") for each in triangles if each and each[1].count("L") == 2]
    sheet = [tuple(map(float, each[0].split())) for each in corners]
    left, low = canvas.origin
    return [(x - left, canvas.height - low - y) for x, y in sheet]


def pushes(along, inward, **more):
    return cut_drawings.rim_pushes(Q_(78, "mm"), Q_(along, "N"), Q_(inward, "N"), **more)


@pytest.mark.parametrize("along", FORCES)
@pytest.mark.parametrize("inward", FORCES)
def test_the_pushes_at_the_rim_have_no_clashing_words(along, inward):
    picture = pushes(along, inward)
    assert picture.faults() == [] and alt_is_a_sentence(picture)


def test_the_side_force_is_the_diagonal_of_the_two_pushes():
    assert "together 50.0 N" in pushes(40.0, 30.0).alt  # the 3-4-5 triangle
    tips = arrow_tips(pushes(40.0, 30.0))
    up, left = cut_drawings.LONGEST, 0.75 * cut_drawings.LONGEST
    rim = cut_drawings.RIM
    for tip in ((rim, up), (rim - left, 0), (rim - left, up)):
        assert min(np.hypot(tip[0] - x, tip[1] - y) for x, y in tips) < 0.02


def test_the_tool_pushes_against_the_motion_of_the_rim():
    """Clockwise the rim at the right runs down, so the tool there pushes up."""
    picture = pushes(40.0, 0.0)
    turning = [part for part in picture._parts if re.search(r'd="M[^"]*A26 26', part)]
    (arc,) = turning
    flags = re.search(r"A26 26 0 (\d) (\d)", arc)
    assert flags[2] == "1"  # SVG's y runs down: sweep 1 is clockwise on the page
    assert (cut_drawings.RIM, cut_drawings.LONGEST) in [
        (round(x, 6), round(y, 6)) for x, y in arrow_tips(picture)
    ]


@pytest.mark.parametrize("thrust", [0.0, 5.0, 800.0, 2500.0])
@pytest.mark.parametrize("friction", [0.0, 0.05, 0.3, 1.0])
def test_two_noses_have_no_clashing_words(thrust, friction):
    picture = cut_drawings.two_noses(Q_(thrust, "N"), friction, friction / 2)
    assert picture.faults() == [] and alt_is_a_sentence(picture)


def test_a_held_nose_adds_its_own_friction_and_a_floating_one_nothing():
    picture = cut_drawings.two_noses(Q_(800, "N"), 0.3, 0.15)  # 0.3 × 800 N and 0.15 × 800 N
    written = [words for words, _ in picture.texts]
    assert written.count("the pad holds 240 N") == 2
    assert written.count("its face adds 120 N") == 1 and "holds nothing" in written


def test_every_way_of_holding_has_its_small_section():
    picture = holding_drawings.ways_sheet()
    assert picture.faults() == [] and alt_is_a_sentence(picture)
    written = [words for words, _ in picture.texts]
    assert all(written.count(way.name) == 1 for way in holding.ways())
    assert f"{len(holding.ways())} ways" in picture.alt


def test_only_what_the_tailstock_presses_shows_its_thrust():
    written = [words for words, _ in holding_drawings.ways_sheet().texts]
    pressed = [way for way in holding.ways() if way.kind == "press"]
    assert written.count("thrust") == len(pressed) > 0


def test_a_way_that_is_added_to_the_table_is_drawn_by_how_it_holds(monkeypatch):
    rows = {"magnet": "suction", "glue": "bond", "ring": "clamp", "springs": "press"}
    template = holding.find_way("pressure_pad")
    more = [
        holding.Way(**{**vars(template), "key": key, "name": f"with {key}", "kind": kind})
        for key, kind in rows.items()
    ]
    all_ways = *holding.ways(), *more
    monkeypatch.setattr(holding, "ways", lambda: all_ways)
    picture = holding_drawings.ways_sheet()
    assert picture.faults() == [] and "with springs" in picture.alt


@pytest.mark.parametrize(("outer", "inner"), PADS)
@pytest.mark.parametrize("disc", [122.0, 150.0, 250.0])
def test_the_section_of_the_set_up_has_no_clashing_words(outer, inner, disc):
    sizes = Pad(outer, inner), Q_(disc, "mm"), Q_(0.635, "mm"), Q_(800, "N")
    for forces in ((), (Q_(37, "N"), Q_(26, "N"))):
        picture = setup_drawings.section(*sizes, *forces)
        assert picture.faults() == [] and alt_is_a_sentence(picture)


@pytest.mark.parametrize(("outer", "inner"), PADS)
@pytest.mark.parametrize("side", [0.0, 1.0, 100.0, 500.0])
@pytest.mark.parametrize("torque", [0.0, 0.1, 2.0, 15.0])
def test_the_face_of_the_pad_has_no_clashing_words(outer, inner, side, torque):
    if side or torque:
        picture = setup_drawings.face_view(Pad(outer, inner), Q_(side, "N"), Q_(torque, "N*m"))
        assert picture.faults() == [] and alt_is_a_sentence(picture)
