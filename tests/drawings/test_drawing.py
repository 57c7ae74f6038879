"""The drafting board draws what it is told, the same each time, and says where texts clash."""

import re
from urllib.parse import unquote
from xml.etree import ElementTree

import numpy as np
import pytest

from workshop_lib.drawings import drawing
from workshop_lib.drawings.drawing import Canvas
from workshop_lib.drawings.geometry import box
from workshop_lib.drawings.pen import STYLES
from workshop_lib.quantities import InputError

SVG = "{http://www.w3.org/2000/svg}"
HOSTILE = '</text><script>alert("x")</script>'


def canvas(width=100, height=80, **more):
    return Canvas(width, height, "A disc 30 mm across.", **more)


def parsed(c):
    return ElementTree.fromstring(str(c.svg()))


def strokes(c):
    """Return the points that each path starts at or draws a straight line to, as arrays."""
    paths = [path.get("d") for path in parsed(c).iter(f"{SVG}path")]
    points = [re.findall(r"[ML](-?[0-9.]+) (-?[0-9.]+)", path) for path in paths]
    return [np.array(each, dtype=float) for each in points]


def words(c):
    return ["".join(text.itertext()) for text in parsed(c).iter(f"{SVG}text")]


def full(c):
    """Draw one of everything."""
    c.section([box((10, 10), 30, 30), box((20, 20), 10, 10)])
    c.section(box((45, 10), 5, 30), hatch=135, fill="sheet")
    c.circle((25, 25), 4).arc((25, 25), 6, 0, 270).rect((60, 10), 5, 5, fill="pad")
    c.path([("M", 60, 20), ("C", 62, 22, 64, 22, 66, 20), ("A", 3, 0, 1, 70, 20), ("Z",)])
    c.centre_line((5, 25), (55, 25)).centre_mark((25, 25), 8)
    c.dimension((10, 40), (40, 40), "30 mm", 6).dimension((45, 10), (50, 10), "0.55 mm", -4)
    c.rotation((85, 40), 5, 200, -60, "ω")
    c.leader((30, 35), (50, 60), "pad").ground((60, 40), (75, 40))
    return c.arrow((95, 25), (85, 25), "F_{c}", label_at="left")


def test_one_drawing_is_the_same_bytes_each_time():
    assert full(canvas()).svg() == full(canvas()).svg()


def test_a_drawing_is_well_formed_and_speaks_its_alt_sentence():
    root = parsed(full(canvas()))
    assert root.get("role") == "img"
    assert root.get("aria-label") == "A disc 30 mm across."
    assert root.get("viewBox") == "0 0 100 80"


def test_a_drawing_has_no_id_that_could_clash_with_another_on_the_page():
    assert not re.search(r'\sid="|url\(#', full(canvas()).svg())


def test_the_sheet_is_white_so_that_a_dark_page_leaves_it_legible():
    sheet = parsed(canvas()).find(f"{SVG}rect")
    assert (sheet.get("width"), sheet.get("height"), sheet.get("fill")) == ("100", "80", "#fff")


def test_nothing_typed_becomes_markup():
    c = Canvas(100, 80, HOSTILE).text((50, 40), HOSTILE)
    c.leader((10, 10), (30, 30), HOSTILE).dimension((10, 60), (40, 60), HOSTILE)
    tags = {element.tag.removeprefix(SVG) for element in parsed(c).iter()}
    assert tags == {"svg", "rect", "g", "text", "path", "circle"}
    assert words(c) == [HOSTILE] * 3
    figure = c.figure(HOSTILE)
    assert "<script" not in figure.html() + figure.portable()


def test_y_runs_upward_from_the_origin():
    (line,) = strokes(canvas(origin=(50, 40)).line((0, 0), (10, 20)))
    assert line.tolist() == [[50, 40], [60, 20]]


def test_an_anticlockwise_arc_bulges_upward():
    c = canvas().arc((50, 40), 10, 0, 180)
    assert parsed(c).find(f".//{SVG}path").get("d") == "M60 40A10 10 0 0 0 40 40"


def test_outlines_are_twice_as_thick_as_thin_lines():
    assert STYLES["outline"][0] == 2 * STYLES["thin"][0]


@pytest.mark.parametrize("offset", [6, -6])
def test_a_dimension_spans_what_it_measures_between_extension_lines(offset):
    c = canvas().dimension((20, 40), (60, 40), "40 mm", offset)
    first, last, line = strokes(c)[:3]
    assert line[:, 0].tolist() == [20, 60]
    assert line[:, 1].tolist() == [40 - offset] * 2  # SVG's y runs downward on a sheet 80 high
    gap = abs(first[0, 1] - 40), abs(last[0, 1] - 40)
    assert gap == pytest.approx((0.9, 0.9))  # extension lines stop short of the outline
    assert words(c) == ["40 mm"]


def test_a_narrow_dimension_is_pressed_from_outside_and_written_beside():
    c = canvas().dimension((40, 40), (41, 40), "0.55 mm", 6)
    line = strokes(c)[2]
    assert line[0, 0] < 40 and line[1, 0] > 41
    assert c.texts[0][1].corners[0][0] > 41


@pytest.mark.parametrize(("end", "turn"), [((40, 60), 90), ((40, 20), 90), ((20, 40), 0)])
def test_dimension_words_read_from_below_or_from_the_right(end, turn):
    c = canvas().dimension((40, 40), end, "20 mm", 6)
    rotated = parsed(c).find(f".//{SVG}text").get("transform")
    assert (rotated or "rotate(0").startswith(f"rotate({-turn if turn else 0}")


def test_a_force_arrow_ends_at_its_tip():
    c = canvas().arrow((20, 40), (60, 40), "600 N")
    shaft, head = strokes(c)
    assert head[0].tolist() == [60, 40]
    assert shaft[:, 0].max() < 60  # the blunt end of the line hides inside the head
    assert c.texts[0][1].corners[1][0] < 20  # the label stands beyond the tail


def test_a_turning_arrow_ends_on_its_circle():
    c = canvas().rotation((50, 40), 10, 0, 270)
    head = strokes(c)[-1]
    assert head[0].tolist() == [50, 50]


def test_raised_and_lowered_letters_shift_and_return():
    (text,) = parsed(canvas().text((50, 40), "F_{c} N")).iter(f"{SVG}text")
    shifts = [float(span.get("dy")) for span in text]
    assert sum(shifts) == pytest.approx(0) and shifts[0] > 0


def test_texts_that_clash_are_found():
    c = canvas().text((50, 40), "one here").text((52, 41), "two here")
    assert c.faults() == ["'one here' lies on 'two here'"]


def test_a_text_that_leaves_the_sheet_is_found():
    assert canvas().text((98, 40), "too far", "start").faults() == ["'too far' leaves the sheet"]


def test_texts_with_room_have_no_fault():
    assert canvas().text((50, 40), "one").text((50, 50), "two").faults() == []


@pytest.mark.parametrize("bad", [float("nan"), float("inf")])
def test_no_place_for_a_point_that_is_nowhere(bad):
    with pytest.raises(ValueError, match="NaN"):
        canvas().line((0, 0), (bad, 1))


def test_a_colour_that_is_not_in_the_palette_is_refused():
    with pytest.raises(InputError, match="^colour: .*of the colours"):
        canvas().line((0, 0), (1, 1), colour='red" onload="x')


def test_a_figure_has_its_caption_and_its_sentence():
    figure = drawing.figure(canvas().circle((50, 40), 15), "The disc, F_{n} on it")
    assert repr(figure) == "A disc 30 mm across."
    assert "<figcaption" in figure.html() and "F<sub>n</sub>" in figure.html()


def test_a_stored_figure_is_an_image_with_the_same_sentence():
    stored = full(canvas()).figure()._repr_html_()
    (image,) = re.findall(r"<img [^>]*>", stored)
    assert 'alt="A disc 30 mm across."' in image
    assert "<svg" not in stored


def test_the_image_of_a_stored_figure_is_the_drawing_itself():
    c = full(canvas())
    (source,) = re.findall(r'src="data:image/svg\+xml,([^"]*)"', c.figure().portable())
    assert unquote(source) == c.svg().replace('"', "'")
    assert ElementTree.fromstring(unquote(source)).get("role") == "img"
