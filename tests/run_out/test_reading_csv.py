"""Several tests in one file: the good rows are kept, each bad one is named by its line."""

import re

import numpy as np
import pytest

from tests.run_out.run_out_cases import TESTS
from workshop_lib.quantities import InputError
from workshop_lib.run_out.reading_cells import MOST_LETTERS
from workshop_lib.run_out.reading_text import from_csv
from workshop_lib.run_out.readings import Push, Readings, Total

VALUES = [1, -2.5, 3]


def written(tmp_path, text, name="dial.csv", encoding="utf-8"):
    path = tmp_path / name
    path.write_bytes(text.encode(encoding))
    return path


@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_a_file_holds_several_tests(tmp_path, separator):
    taken = from_csv(written(tmp_path, TESTS.replace(",", separator)), graduation="0.5 thou")
    assert taken.complaints == ()
    assert list(taken.kept) == ["near", "push", "sum"]
    near, push, total = taken.kept.values()
    assert [type(each) for each in (near, push, total)] == [Readings, Push, Total]
    assert near.readings.m_as("thou").tolist() == pytest.approx(VALUES)
    assert (near.where, near.what, near.state, near.name) == ("nose", "radial", "before", "near")
    assert near.core.position == pytest.approx(0.008)
    assert near.core.index == pytest.approx(np.pi / 2)
    assert push.forces.m_as("N").tolist() == pytest.approx([20, -20])
    assert (total.where, total.state) == ("disc", "after")
    assert all(each.core.graduation == pytest.approx(12.7e-6) for each in (near, push, total))


def test_a_graduation_in_the_file_goes_before_the_one_of_the_call(tmp_path):
    path = written(tmp_path, "test,angle,reading,graduation\na,0,1,0.002\nb,0,1,\n")
    taken = from_csv(path, unit="mm", graduation="0.01 mm", direction="out")
    assert taken.kept["a"].core.graduation == pytest.approx(2e-6)
    assert taken.kept["b"].core.graduation == pytest.approx(1e-5)
    assert taken.kept["a"].direction == "out"


@pytest.mark.parametrize(
    ("row", "said"),
    [
        (",0,1", "test: is missing"),
        ('a,0,"3,5"', "reading: ‘3,5’ has a comma"),
        ("a,0,3,5,7,8,9,9,9,9", "10 values where 9"),
        ("a,0,1,disc", "where: differs"),
        ("a,0,1,nose,face", "what: differs"),
        ("a,0,1,moon", "where: ‘moon’ is not a place"),
        ("a,0,1,nose,sideways", "what: ‘sideways’ is not a kind of test"),
        ("a,0,1,nose,radial,5 N", "position: "),
        ("a,,1", "angle: is missing"),
        ("p,0,1,nose,push", "force: is missing"),
        ("p,0,1,nose,push,,,20", "force: ‘20’ has no unit"),
        ('a,0,"1', "a quotation mark is out of place"),
    ],
)
def test_a_bad_line_of_a_file_is_named(tmp_path, row, said):
    head = "test,angle (deg),reading (thou),where,what,position,index,force,state\n"
    good = "a,0,1,nose,radial\na,90,-2.5\n"
    taken = from_csv(written(tmp_path, f"{head}{good}{row}\na,180,3\n"))
    assert taken.kept["a"].readings.m_as("thou").tolist() == pytest.approx(VALUES)
    assert list(taken.kept) == ["a"]
    (complaint,) = taken.complaints
    assert complaint.startswith("line 4: ")
    assert said in complaint


def test_a_second_row_of_a_total_is_refused(tmp_path):
    path = written(tmp_path, "test,reading,what\nt,4 thou,total\nt,5 thou,total\n")
    taken = from_csv(path)
    assert taken.kept["t"].total.m_as("thou") == pytest.approx(4)
    (complaint,) = taken.complaints
    assert re.match("line 3: reading: .*total .*one row", complaint)


def test_letters_that_are_not_utf8_are_named_by_their_line(tmp_path):
    text = "test,angle,reading\na,0,1\na,90°,2\na,180,3\n"
    taken = from_csv(written(tmp_path, text, encoding="latin-1"), unit="um")
    assert taken.kept["a"].core.readings.size == 2
    assert re.match("line 3: .*UTF-8", taken.complaints[0])
    assert from_csv(written(tmp_path, text), unit="um").complaints == ()


def test_a_test_that_cannot_be_made_is_named(tmp_path):
    path = written(tmp_path, f"test,angle,reading\n{'n' * 70},0,1\nb,0,1\n")
    taken = from_csv(path, unit="um")
    assert list(taken.kept) == ["b"]
    assert taken.complaints[0].startswith("test ‘nnn")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "is empty"),
        ("\n\n", "is empty"),
        ("angle,reading\n0,1\n", "line 1: it does not name the columns test and reading"),
        ("test,angle\na,0\n", "line 1: it does not name"),
        ("test,angle,angle,reading\na,0,0,1\n", "line 1: the column angle is there twice"),
        ("test,angle,reading (furlong)\na,0,1\n", "line 1: reading: ‘furlong’ is not a unit"),
        ("test,angle,reading\n", "none of it could be used"),
        ("test,angle,reading\na,0,x\n", "first problem: line 2: reading: ‘x’"),
        ('"test,angle\na,0,1\n', "the first line cannot be read"),
        ("test,reading (um),where\na,1,disc\n", "angle: there is no such column"),
    ],
)
def test_a_file_with_nothing_usable_is_refused(tmp_path, text, said):
    with pytest.raises(InputError, match=f"^path: .*{said}"):
        from_csv(written(tmp_path, text), unit=None if "(" in text else "um")


def test_a_file_that_is_too_long_missing_or_no_file_is_refused(tmp_path):
    big = written(tmp_path, "x" * (MOST_LETTERS + 1), "big.csv")
    for path in (big, tmp_path / "none.csv", tmp_path, "a\0b", None, 7, "x" * 5000):
        with pytest.raises(InputError, match="^path: ") as refusal:
            from_csv(path)
        assert str(tmp_path) not in str(refusal.value)


def test_a_file_is_left_as_it_was(tmp_path):
    path = written(tmp_path, TESTS)
    before = path.read_bytes()
    from_csv(path)
    assert path.read_bytes() == before
