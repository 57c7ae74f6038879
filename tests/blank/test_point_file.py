"""Outlines from a CSV file: titles with units, rows with units, and what is wrong by its line."""

import pytest

from workshop_lib.blank import Blank
from workshop_lib.quantities import InputError

TRIANGLE = "0,0\n80,0\n0,60\n"


def written(folder, text, encoding="utf-8"):
    path = folder / "blank one.csv"
    path.write_bytes(text.encode(encoding))
    return path


@pytest.mark.parametrize("title", ["x (mm),y (mm)", "x_mm,y_mm", "x/mm,y/mm", '"x [mm]","y [mm]"'])
@pytest.mark.parametrize("mark", ["utf-8", "utf-8-sig"])
@pytest.mark.parametrize("line", ["\n", "\r\n"])
def test_units_may_stand_in_the_titles(tmp_path, title, mark, line):
    path = written(tmp_path, f"{title}\n{TRIANGLE}".replace("\n", line), mark)
    for given in (path, str(path)):
        assert Blank.from_csv(given).area.m_as("mm**2") == pytest.approx(2400)


def test_columns_may_stand_in_either_order_and_differ_in_unit(tmp_path):
    path = written(tmp_path, "y_in,x_mm\n0,0\n0,25.4\n1,0\n")
    assert Blank.from_csv(path).area.m_as("mm**2") == pytest.approx(25.4**2 / 2)


def test_each_row_may_name_its_unit(tmp_path):
    path = written(tmp_path, "x,y,unit\n0,0,mm\n2,0,in\n0,5.08,cm\n")
    assert Blank.from_csv(path).area.m_as("mm**2") == pytest.approx(50.8**2 / 2)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("x_mm,y_mm\n0,0\n80,oh\n0,60\n", "blank one.csv, line 3: y_mm ‘oh’ is not a number"),
        ("x_mm,y_mm\n0,0\n80,0,0\n0,60\n", "line 3: this row has 3 cells, but there are 2"),
        ("x_mm,y_mm\n0,0\n80,\n0,60\n", "line 3: y_mm is empty"),
        ("x_mm,y_mm\n0,0\n\n80,nan\n", "line 4: y_mm ‘nan’ is not a number"),
        ("x_mm;y_mm\n0;0\n80;0\n0;60\n", "line 1: there are semicolons"),
        ("x,y,unit\n0,0,mm\n80,0,furlong\n", "line 3: unit ‘furlong’ is not a unit of length"),
        ("x,y\n0,0\n80,0\n", "line 1: the column unit is missing"),
        ("x_mm,y\n0,0\n80,0\n", "must name one x and one y"),
        ("x_mm,x_in\n0,0\n80,0\n", "must name one x and one y"),
        ("x_furlong,y_mm\n0,0\n80,0\n", "‘furlong’ is not a unit of length"),
        ("x_mm,y_mm,note\n0,0,a\n", "line 1: there is no column called ‘note’"),
        ("x_mm,y_mm\n", "line 1: there are no rows"),
        ("", "the column x is missing"),
        ("x_mm,y_mm\n0,0\n80,0\n", "blank one.csv: has 2 points"),
        ("x_mm,y_mm\n0,0\n9,9\n9,0\n0,9\n", "blank one.csv: its edges"),
        ('x_mm,y_mm\n0,"0\n9,9\n', "quotation mark"),
    ],
)
def test_a_bad_file_is_refused_with_its_name_and_line(tmp_path, text, words):
    with pytest.raises(InputError) as refusal:
        Blank.from_csv(written(tmp_path, text))
    assert words in str(refusal.value)


def test_letters_that_are_not_utf8_are_named_by_their_line(tmp_path):
    with pytest.raises(InputError, match="line 2: .*UTF-8"):
        Blank.from_csv(written(tmp_path, "x_mm,y_mm\n0,½\n", "latin-1"))


def test_a_huge_file_is_not_read(tmp_path):
    with pytest.raises(InputError, match="larger than 1 MB"):
        Blank.from_csv(written(tmp_path, "x_mm,y_mm\n" + "0,0\n" * 300_000))


@pytest.mark.parametrize("path", [None, 3, b"x.csv", "no\0file.csv", "absent.csv", "."])
def test_what_is_no_file_is_refused(path):
    with pytest.raises(InputError) as refusal:
        Blank.from_csv(path)
    assert refusal.value.name == "path"
