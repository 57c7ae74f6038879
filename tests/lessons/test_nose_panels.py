"""The panels of lesson 08: limits, thrust and readings by hand, and the page that one writes."""

import pytest

from workshop_lib import shop
from workshop_lib.lessons.nose import panels
from workshop_lib.lessons.start.panels_shop import shop_panel
from workshop_lib.quantities import speaking


def first(scene, **given):
    return scene.still(**given).text().splitlines()[0]


def test_sizes_are_those_of_the_printed_tables():
    """k5 on 12 mm is +1 to +9 µm, H7 on 28 mm 0 to +21 (SKF, ISO 286); over 25.4 in inches."""
    said = first(panels.sizes_scene())
    assert "12.001 to 12.009 mm" in said and "28.000 to 28.021 mm" in said
    with speaking("inch"):
        said = first(panels.sizes_scene())
    assert "0.47248 to 0.47280 in" in said and "1.10236 to 1.10319 in" in said


def test_thrust_is_a_quarter_of_c0_over_the_blows():
    """592.5 N of a 6001 over 1.5: 395 N; of a 6301, 0.25 × 4200 / 1.5 = 700 N."""
    assert first(panels.press_scene(), wanted="394 N").startswith("Strong enough")
    assert first(panels.press_scene(), wanted="396 N").startswith("Not strong")
    assert "two 6301 700 N" in panels.press_scene().still().text()
    assert first(panels.press_scene(), shock="1", wanted="592 N").startswith("Strong enough")
    assert first(panels.press_scene(), shock="1.3", wanted="455 N").startswith("Strong enough")
    assert first(panels.press_scene(), shock="1.3", wanted="456 N").startswith("Not strong")
    assert "Write 1 or more" in first(panels.press_scene(), shock="0.5")


@pytest.mark.parametrize(
    ("readings", "told"),
    [
        ({}, "As it should be"),
        ({"drift": "45 µm", "give": "52 µm"}, "Not yet: the play in the bore is 45.0 µm"),
        ({"run_out": "1.5 thou"}, "Not yet: the run-out of the tip"),
        ({"drift": "0 µm", "give": "5 µm"}, "Check again: the play in the bore"),
    ],
)
def test_readings_are_judged(readings, told):
    assert first(panels.checks_scene(), **readings).startswith(told)


@pytest.mark.parametrize(
    ("field", "value", "told"),
    [
        ("front", "6305", "Rear bearing: no straight sleeve"),
        ("overhang", "1 mm", "Tip to front bearing: the first bearing would stick out"),
        ("span", "3 mm", "Front to rear bearing: "),
        ("box", "bore 12 mm", "these lines are missing: outside"),
        ("box", panels.BOX.replace("12 mm", "12 N"), "box: bore: ‘12 N’ is a force"),
        ("box", panels.BOX.replace("C0", "Co"), "must start with one of"),
    ],
)
def test_what_cannot_be_is_said_at_its_field(field, value, told):
    assert told in first(panels.sizes_scene(), **{field: value})


def test_a_bearing_from_its_box_does_what_the_tabled_one_does():
    for scene in (panels.sizes_scene(), panels.press_scene()):
        assert first(scene, front="typed") == first(scene)


def test_the_button_writes_the_sheet_and_hands_it_to_the_page(here):
    panel = panels.sizes_panel()
    face = panel.answer("sheet", {"front": "6202", "rear": "6202"})
    text = (here / "making_nose.html").read_text(encoding="utf-8")
    assert face["opens"]["page"] == text and "35.000 to 35.025 mm" in text
    assert "Written: making_nose.html" in face["note"] and face["done"]
    assert not panel.answer("", {"span": "40 mm"}).get("opens"), "the link went stale"
    face = panel.answer("sheet", {"span": "3 mm"})
    assert "Nothing was written" in face["note"] and not face.get("opens")


def test_lesson_00_writes_the_sheet_of_what_is_set_in_its_units(here):
    face = shop_panel().answer("sheet", {"units": "inch", "front": "6001", "rear": "6001"})
    assert "0.47248 to 0.47280 in" in face["opens"]["page"]
    assert [each.name for each in here.iterdir()] == ["making_mine.html"]


def test_the_noses_of_the_shop_come_first(here):
    (here / shop.NAME).write_text(
        '[nose.mine]\ndesign = "pressure_nose"\nbearings = { front = "6202", rear = "6202" }\n',
        encoding="utf-8",
    )
    scene = panels.sizes_scene()
    assert scene.given()["nose"] == "own mine" and "15.001 to 15.009 mm" in first(scene)
    panels.sizes_panel().answer("sheet", {})
    assert (here / "making_mine.html").is_file()
    (here / shop.NAME).unlink()
    assert panels.sizes_scene().given()["nose"] == "set"
