"""The making sheet: limits as printed tables give them, checks as the models of lesson 04 do."""

import re

import pytest

from tests.house.laws import held_for
from workshop_lib import sources, write_up
from workshop_lib.load_path import find_design, highest_thrust, nose_shift, own_design
from workshop_lib.quantities import InputError, show, speaking
from workshop_lib.write_up import making_command
from workshop_lib.write_up.making import PUSH, sheet_parts
from workshop_lib.write_up.page_parts import Listed, Picture, Table

TWO = own_design("pressure_nose", {"front": "6001", "rear": "6001"})


def tables(design):
    return [each for each in sheet_parts(design) if isinstance(each, Table)]


def test_limits_are_those_of_the_printed_tables():
    """ISO 286 and SKF's shaft tables: 12 k5 +1 to +9 µm, 12 g6 −6 to −17, 28 H7 0 to +21; a tenth
    of a thou is 2.54 µm."""
    rows = {row[1]: row for row in tables(TWO)[0].rows}
    front = rows["spindle at the front bearing"]
    assert front[2:4] == ("12.000 mm k5", "12.001 to 12.009 mm")
    assert front[4:6] == ("+1 to +9", "+0.4 to +3.5")
    assert rows["spindle at the rear bearing"][4:6] == ("-17 to -6", "-6.7 to -2.4")
    assert rows["bore round the front bearing"][2:4] == ("28.000 mm H7", "28.000 to 28.021 mm")
    assert rows["bore round the front bearing"][4:6] == ("0 to +21", "0 to +8.3")


def test_every_row_says_how_far_to_trust_it():
    """H7 and k5 of 12 to 28 mm were seen in print; G7's rule, and rings of balls, were not; what
    was seen of 50 to 80 mm is not all of it (the bearing's outside is remembered)."""
    for design in (TWO, find_design("roller_centre"), find_design("preloaded_centre")):
        for table in tables(design):
            assert {row[-1] for row in table.rows} <= set(sources.STANDINGS)
    assert all(row[-1] == "published" for row in tables(TWO)[0].rows)
    loose = own_design("pressure_nose", {"front": "6001", "rear": "6001"}, fit="G7")
    assert [row[-1] for row in tables(loose)[0].rows] == ["published", "from memory"] * 2
    shoulder = next(row for row in tables(TWO)[1].rows if row[0].startswith("Shoulder"))
    assert shoulder[-1] == "from memory"
    # SKF: the face of an abutment within IT5, which is 8 µm at 12 mm and 9 µm at 28 mm (ISO 286).
    true = {row[0].partition(",")[0]: row[1] for row in tables(TWO)[2].rows}
    assert (true["Shoulder of the spindle"], true["Floor of the bore"]) == ("8 µm", "9 µm")


def test_the_sleeve_fills_what_the_bearings_leave():
    """By hand: span 32 mm between middles, less two halves of 8 mm."""
    sleeve = next(row for row in tables(TWO)[1].rows if row[0] == "Length of the sleeve")
    assert sleeve[1] == "24.00 mm"


def test_checks_show_what_the_models_say():
    rows = {row[0]: row[1] for row in tables(TWO)[3].rows}
    half = highest_thrust(TWO) / 2
    told = next(words for what, words in rows.items() if "sideways" in what)
    assert show(nose_shift(TWO, half, PUSH).to("um"), figures=2) in told
    # An H7 bore on 28 mm: 0 to 21 µm, the ring 0 to 9 below: 15 µm of play on the average.
    told = next(words for what, words in rows.items() if "to and fro" in what)
    assert told == "at most 30 µm, usually about 15 µm"


@held_for(["pressure_nose", "roller_centre", "preloaded_centre"])
def test_each_design_has_a_whole_sheet(key):
    parts = sheet_parts(find_design(key))
    picture = next(each for each in parts if isinstance(each, Picture))
    assert "overhang" in picture.figure.svg and "span" in picture.figure.svg
    order = [each for each in parts if isinstance(each, Listed) and each.numbered]
    assert len(order[0].sentences) >= 4
    assert len(tables(find_design(key))) == 4


def test_seats_that_were_typed_are_the_ones_on_the_sheet():
    own = own_design("pressure_nose", {"front": "6001", "rear": "6001"},
                     seats={"front": "js5", "rear": "g5"}, fit="G7")  # fmt: skip
    classes = [row[2].split()[-1] for row in tables(own)[0].rows]
    assert classes == ["js5", "G7", "g5", "G7"]


def test_an_inch_sheet_has_no_millimetre_but_in_the_limits():
    with speaking("inch"):
        parts = sheet_parts(TWO)
    words = " ".join(
        str(cell) for part in parts if isinstance(part, Table) for row in part.rows for cell in row
    )
    assert not re.search(r"[0-9] ?(mm|N)\b", words.replace("0.3 mm (12 thou)", ""))
    assert "1.2 thou, usually about 0.59 thou" in words  # 30 and 15 µm
    assert "0.47248 to 0.47280 in" in words  # 12.001 and 12.009 mm over 25.4


SHOP = '[nose.mine]\ndesign = "pressure_nose"\nbearings = { front = "6001", rear = "6001" }\n'


def test_the_command_writes_one_page(tmp_path, capsys):
    (tmp_path / "my_shop.toml").write_text(SHOP, encoding="utf-8")
    assert making_command.main([str(tmp_path / "my_shop.toml")]) == 0
    text = (tmp_path / "making_mine.html").read_text(encoding="utf-8")
    assert text.startswith("<!doctype html>") and "k5" in text and "<script" not in text
    assert str(tmp_path / "making_mine.html") in capsys.readouterr().out


@pytest.mark.parametrize(
    ("text", "more", "told"),
    [
        ("", {}, "your shop has no nose"),
        (SHOP + SHOP.replace("mine", "old"), {}, "several.*mine, old"),
        (SHOP, {"nose": "young"}, "nose: .*Did you mean|nose: .*Known: mine"),
        (SHOP, {"folder": "nowhere"}, "folder: does not exist"),
        (SHOP.replace("6001", "6O01"), {}, "line 3, nose.mine.bearings"),
    ],
)
def test_what_it_cannot_write_is_refused_in_words(tmp_path, text, more, told):
    path = tmp_path / "my_shop.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(InputError, match=told):
        write_up.write_sheet(path, **more)
    with pytest.raises(InputError):
        write_up.write_sheet(tmp_path / "none.toml")
