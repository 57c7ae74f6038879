"""The panel “Your shop”: what it says of a nose, and the file that its button writes."""

import os
import re

import pytest

from workshop_lib import shop
from workshop_lib.lessons.bearings import panels
from workshop_lib.lessons.start.panels_shop import shop_panel, shop_scene
from workshop_lib.quantities import language, say, speaking, speaking_in, system
from workshop_lib.sources import csv_tables
from workshop_lib.teaching import start

READINGS = "10 lbf: 85 lbf\n15 lbf: 128 lbf\n20 lbf: 166 lbf"


def test_it_says_how_hard_the_nose_may_press():
    """0.25 × 2370 N of a 6001, rounded down; 592.5 N is 133.2 lbf."""
    assert "up to 590 N" in shop_scene().still().text()
    assert "up to 130 lbf" in shop_scene().still(units="inch").text()
    assert system() is None


@pytest.mark.parametrize(
    ("field", "typed", "told"),
    [
        ("speeds", "fast", "Speeds of your lathe, rev/min: ‘fast’ does not start"),
        ("speeds", "#", "Speeds of your lathe, rev/min: no speeds were typed"),
        ("readings", "10 lbf", "Thrust at known pulls: each line needs"),
        ("readings", "10 lbf: 85 lbf", "Thrust at known pulls: it has 1 item,"),
        ("readings", READINGS.replace("166", "1"), "does not grow"),
        ("span", "3 mm", "Front to rear bearing: .*run into one another"),
        ("rear", "6305", "Rear bearing: no straight sleeve"),
        ("swing", "5 N", "Swing over the bed: ‘5 N’ is a force"),
    ],
)
def test_what_cannot_be_is_said_at_its_field(field, typed, told):
    said = shop_scene().still(**{field: typed}).text()
    assert all(part in said for part in told.split(".*"))


def test_its_button_writes_the_file_and_nothing_else_does(here):
    panel = shop_panel()
    panel.answer("", {"units": "inch"})
    assert os.listdir(here) == []
    face = panel.answer("save", {"units": "inch", "readings": READINGS, "front": "6202",
                                 "rear": "6202"})  # fmt: skip
    assert "Written: my_shop.toml" in face["note"]
    made = shop.load(here / shop.NAME)
    assert made.units == "inch" and made.lathe.calibration.by == "pull"
    assert made.nose("mine").design.support("front").bearing.designation == "6202"
    assert len(made.lathe.speeds) == 6
    assert made.text.count("#") < shop.TEMPLATE.count("#"), "filled in where it was commented"


def test_it_keeps_what_somebody_wrote_by_hand(here):
    text = '# mine\n[pads.felt]\nouter_diameter = "3 in"\nfacing = "felt"  # old\n'
    (here / shop.NAME).write_text(text, encoding="utf-8")
    shop_panel().answer("save", {"units": "inch"})
    kept = (here / shop.NAME).read_text(encoding="utf-8")
    assert "# mine" in kept and "# old" in kept
    assert set(shop.parse(kept).pads) == {"felt", "main"}


def test_nothing_is_written_while_something_is_wrong(here):
    face = shop_panel().answer("save", {"span": "3 mm"})
    assert "Nothing was written" in face["note"] or face["fault"] or os.listdir(here) == []
    assert os.listdir(here) == []
    (here / shop.NAME).write_text("[lathe\n", encoding="utf-8")
    face = shop_panel().answer("save", {"units": "inch"})
    assert "Nothing was written" in face["note"]
    assert (here / shop.NAME).read_text(encoding="utf-8") == "[lathe\n"


def test_it_writes_the_language_and_lessons_speak_it(here, capsys):
    shop_panel().answer("save", {"language": "de"})
    assert shop.load(here / shop.NAME).language == "de"
    with speaking(None), speaking_in("en", {}):
        start.ready()
        assert (language(), say("Thrust")) == ("de", "Anpresskraft")
        shop_panel().answer("save", {"language": "en"})
        start.ready()
        assert (language(), say("Thrust")) == ("en", "Thrust")
        (here / "de.po").write_text('msgid "Thrust"\n', encoding="utf-8")
        (here / shop.NAME).write_text('[units]\nlanguage = "de"\n', encoding="utf-8")
        with pytest.MonkeyPatch.context() as patch:
            patch.setenv(csv_tables.VARIABLE, str(here))
            start.ready()
    assert re.search(r"stay English: .*/de.po, line 1: .*no msgstr", capsys.readouterr().out)


def test_lessons_speak_what_the_shop_says(here, capsys):
    with speaking(None):
        start.ready()
        assert capsys.readouterr().out == "Ready.\n"
        (here / shop.NAME).write_text('[units]\nsystem = "inch"\n', encoding="utf-8")
        start.ready()
        assert "Units: inch, as my_shop.toml says." in capsys.readouterr().out
        assert system() == "inch"
        (here / shop.NAME).write_text("[units]\nsystem = 1\n", encoding="utf-8")
        start.ready()
        assert "line 2, units.system" in capsys.readouterr().out
    assert system() is None


def test_lesson_04_offers_the_nose_of_the_shop(here):
    """592.5 N of a 6001 (0.25 × 2370 N) over 667 N."""
    (here / shop.NAME).write_text(
        '[nose.mine]\ndesign = "pressure_nose"\nbearings = { front = "6001", rear = "6001" }\n',
        encoding="utf-8",
    )
    said = panels.path_scene().still(design="own mine", thrust="667 N").text()
    assert "0.88 times the load" in said and "your nose “mine”" in said
    assert "Will not do" in panels.live_scene().still(design="own mine").text()
    (here / shop.NAME).unlink()
    assert "own mine" not in panels.path_scene().fields[0].options


def test_it_starts_from_the_units_that_were_chosen_before():
    with speaking("inch"):
        assert shop_scene().given()["units"] == "inch"
        assert "up to 130 lbf" in shop_scene().still().text()
