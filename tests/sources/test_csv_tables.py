"""The strict table reader: a table is read whole, or refused by file, line and mend."""

import copy
import pickle

import hypothesis
import hypothesis.strategies as st
import numpy as np
import pytest

from workshop_lib.quantities import Q_, InputError
from workshop_lib.quantities.unit_boundary import to_core
from workshop_lib.sources import csv_tables
from workshop_lib.sources.csv_tables import Range

COLUMNS = {
    "key": csv_tables.key,
    "low": csv_tables.number(0, 10),
    "high": csv_tables.number(0, 10),
    "state": csv_tables.or_empty(csv_tables.one_of("dry", "oily")),
    "note": csv_tables.anything,
}
GOOD = "key,low,high,state,note\nleather,0.3,0.6,dry,\ncork,1,2,,spare piece\n"


def written(tmp_path, content, name="grip.csv"):
    path = tmp_path / name
    path.write_bytes(content if isinstance(content, bytes) else content.encode("utf-8"))
    return path


def read(tmp_path, content):
    return csv_tables.read_rows(written(tmp_path, content), COLUMNS)


# What is read


def test_every_row_is_read_in_order_with_its_line(tmp_path):
    rows = read(tmp_path, GOOD)
    assert [(row["key"], row["low"], row["state"], row.line) for row in rows] == [
        ("leather", 0.3, "dry", 2),
        ("cork", 1.0, None, 3),
    ]
    assert rows[1]["note"] == "spare piece"


@pytest.mark.parametrize(
    "content",
    [
        GOOD.replace("\n", "\r\n"),
        "\ufeff" + GOOD,  # what spreadsheets put in front of CSV UTF-8
        GOOD.replace("0.3,0.6", " 0.3 , 0.6\u00a0"),
        GOOD.replace("\ncork", "\n\n,,,,\ncork"),
        GOOD.rstrip("\n"),
        'key,low,high,state,note\n"leather","0.3","0.6",dry,\ncork,1,2,,spare piece\n',
        "note,state,high,low,key\n,dry,.6,3e-1,leather\nspare piece,,2.,+1,cork\n",
    ],
    ids=["windows", "byte-order", "spaces", "blank-rows", "no-last-newline", "quoted", "order"],
)
def test_what_a_spreadsheet_may_do_harmlessly_changes_nothing(tmp_path, content):
    assert [dict(row) for row in read(tmp_path, content)] == [
        dict(row) for row in read(tmp_path, GOOD)
    ]


def test_a_comma_and_a_quotation_mark_inside_a_quoted_cell_are_kept(tmp_path):
    content = GOOD.replace("spare piece", '"thin, ""green"" piece"')
    assert read(tmp_path, content)[1]["note"] == 'thin, "green" piece'


def test_the_line_counts_blank_lines(tmp_path):
    with pytest.raises(InputError, match=r"^grip\.csv, line 5: .*‘x’"):
        read(tmp_path, GOOD.replace("\ncork,1", "\n\n\ncork,x"))


# What is refused


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (GOOD.replace("cork,1,2", "cork,one,2"), "line 3: low ‘one’ is not a number"),
        (GOOD.replace("0.3,", "0.3 mm,"), "line 2: low ‘0.3 mm’ is not a number"),
        (GOOD.replace("0.3,", '"0,3",'), "line 2: low ‘0,3’ is not a number. Write a point"),
        (GOOD.replace("0.3,", "nan,"), "line 2: low ‘nan’ is not a number"),
        (GOOD.replace("0.3,", "inf,"), "line 2: low ‘inf’ is not a number"),
        (GOOD.replace("0.3,", "-0.3,"), "line 2: low ‘-0.3’ is not between 0 and 10"),
        (GOOD.replace("0.3,", "1e99,"), "line 2: low ‘1e99’ is not between 0 and 10"),
        (GOOD.replace("0.3,", "٣,"), "line 2: low ‘٣’ is not a number"),
        (GOOD.replace("0.3,", ","), "line 2: low is empty"),
        (GOOD.replace("leather", "Fine Leather"), "line 2: key ‘Fine Leather’ cannot be a key"),
        (GOOD.replace("leather", ""), "line 2: key is empty"),
        (GOOD.replace("dry", "dryy"), "line 2: state ‘dryy’ is not .* Did you mean dry"),
        (
            GOOD.replace("cork,1,2,,", "cork,1,2,,thin, green "),
            "line 3: this row has 6 cells, but there are 5",
        ),
        (
            GOOD.replace("cork,1,2,,spare piece", "cork,1,2"),
            "line 3: this row has 3 cells, but there are 5",
        ),
        (GOOD.replace("note\n", "remark\n"), "line 1: there is no column called ‘remark’"),
        (GOOD.replace("note\n", "note,extra\n"), "line 1: there is no column called ‘extra’"),
        (GOOD.replace("note\n", "low\n"), "line 1: the column ‘low’ is there twice"),
        ("key,low,high,state\na,1,2,dry\n", "line 1: the column note is missing"),
        (GOOD.replace(",", ";"), "line 1: there are semicolons between the columns"),
        (GOOD.replace(",", "\t"), "line 1: a cell has a line break or a tab in it"),
        (GOOD.replace("spare", '"spare'), "line 3: "),
        (GOOD.replace("spare piece", 'spare "piece"') + "x\n", "line 4: this row has 1 cell,"),
        (GOOD.replace("leather", '"leather" hide'), "line 2: a quotation mark is out of place"),
        (GOOD.replace("spare piece", '"spare\npiece"'), "line 3: a cell has a line break"),
        (GOOD.replace("spare", "spa\x00re"), "line 3: "),
        ("", "line 1: the column key is missing"),
        ("\n\n", "line 1: the column key is missing"),
        ("key,low,high,state,note\n", "line 1: there are no rows below"),
        (GOOD.encode("utf-16"), "line 1: this line has a letter that is not in UTF-8"),
        (
            GOOD.replace("spare piece", "Stück").encode("cp1252"),
            "line 3: this line has a letter that is not",
        ),
    ],
)
def test_a_bad_row_is_named_by_file_and_line(tmp_path, content, said):
    with pytest.raises(InputError, match=rf"(?s)^grip\.csv, {said}"):
        read(tmp_path, content)


def test_a_table_that_is_not_there_is_named(tmp_path):
    with pytest.raises(InputError, match=r"^grip\.csv: .*cannot be read"):
        csv_tables.read_rows(tmp_path / "grip.csv", COLUMNS)


@hypothesis.given(st.binary(max_size=200))
def test_any_bytes_are_read_or_refused_in_words(tmp_path_factory, content):
    path = tmp_path_factory.mktemp("fuzz") / "grip.csv"
    path.write_bytes(b"key,low,high,state,note\nleather,1,2,dry,\n" + content)
    try:
        rows = csv_tables.read_rows(path, COLUMNS)
    except InputError as error:
        assert str(error).startswith("grip.csv, line ")
    else:
        assert rows[0]["key"] == "leather"


def test_the_same_key_twice_is_refused_with_both_lines(tmp_path):
    rows = read(tmp_path, GOOD + "leather,1,2,oily,\n")
    with pytest.raises(InputError, match="line 4: ‘leather’ .*line 2 "):
        csv_tables.by_key(rows, "key")
    assert set(csv_tables.by_key(rows, "key", "state")) == {
        ("leather", "dry"),
        ("cork", None),
        ("leather", "oily"),
    }


def test_values_that_do_not_rise_are_refused(tmp_path):
    rows = read(tmp_path, GOOD.replace("0.3,0.6", "0.6,0.3"))
    assert rows[1].ordered("low", "high") == [1.0, 2.0]
    with pytest.raises(InputError, match=r"line 2: low \(0\.6\) .*greater.* high \(0\.3\)"):
        rows[0].ordered("low", "high")


@pytest.mark.parametrize(("cell", "right"), [("24", 24), ("24.0", 24), ("24.5", None)])
def test_a_whole_number_has_no_fraction(cell, right):
    if right is None:
        with pytest.raises(InputError, match="not a whole number"):
            csv_tables.whole(0, 99)(cell)
    else:
        assert csv_tables.whole(0, 99)(cell) == right


# Where tables are looked for


def built(rows):
    return [row["key"] for row in rows]


def test_a_table_is_read_anew_when_its_file_has_changed(tmp_path, monkeypatch):
    monkeypatch.setattr(csv_tables, "BUILT_IN", tmp_path)
    path = written(tmp_path, GOOD)
    first = csv_tables.load("grip.csv", COLUMNS, built)
    assert csv_tables.load("grip.csv", COLUMNS, built) is first
    path.write_text(GOOD + "felt,1,2,,\n", encoding="utf-8")
    assert csv_tables.load("grip.csv", COLUMNS, built) == ["leather", "cork", "felt"]


def test_a_table_that_has_gone_bad_is_not_answered_from_memory(tmp_path, monkeypatch):
    monkeypatch.setattr(csv_tables, "BUILT_IN", tmp_path)
    path = written(tmp_path, GOOD)
    csv_tables.load("grip.csv", COLUMNS, built)
    path.write_text(GOOD + "felt,1,2\n", encoding="utf-8")
    for _ in range(2):
        with pytest.raises(InputError, match="line 4"):
            csv_tables.load("grip.csv", COLUMNS, built)


def test_a_teachers_folder_adds_rows_and_takes_none_away(tmp_path, monkeypatch):
    mine = tmp_path / "mine"
    (tmp_path / "built_in").mkdir()
    mine.mkdir()
    monkeypatch.setattr(csv_tables, "BUILT_IN", tmp_path / "built_in")
    monkeypatch.setattr(csv_tables, "OWN", mine)
    monkeypatch.delenv(csv_tables.VARIABLE)
    head, before = GOOD.splitlines()[0], written(csv_tables.BUILT_IN, GOOD)
    assert csv_tables.load("grip.csv", COLUMNS, built) == ["leather", "cork"]
    own = written(mine, f"{head}\nfelt,1,2,,\n")
    assert csv_tables.load("grip.csv", COLUMNS, built) == ["leather", "cork", "felt"]
    assert before.read_text(encoding="utf-8") == GOOD
    monkeypatch.setenv(csv_tables.VARIABLE, "")  # an empty text: none
    assert csv_tables.load("grip.csv", COLUMNS, built) == ["leather", "cork"]
    monkeypatch.setenv(csv_tables.VARIABLE, str(mine))
    own.write_text(f"{head}\ncork,1,2,,\n", encoding="utf-8")
    with pytest.raises(InputError, match=r"^mine/grip\.csv, line 2: .*grip\.csv already"):
        csv_tables.load("grip.csv", COLUMNS, keyed)
    own.write_text(f"{head}\nfelt,1\n", encoding="utf-8")
    with pytest.raises(InputError, match=r"^mine/grip\.csv, line 2"):
        csv_tables.load("grip.csv", COLUMNS, built)


def keyed(rows):
    return csv_tables.by_key(rows, "key")


def test_a_misspelt_table_in_the_named_folder_is_refused(tmp_path, monkeypatch):
    monkeypatch.setenv(csv_tables.VARIABLE, str(tmp_path))
    written(tmp_path, GOOD, "material.csv")
    with pytest.raises(InputError, match=r"material.csv.*Did you mean materials.csv"):
        csv_tables.paths_of("gauges.csv")


def test_a_named_folder_that_is_not_there_is_refused(tmp_path, monkeypatch):
    monkeypatch.setenv(csv_tables.VARIABLE, str(tmp_path / "gone"))
    with pytest.raises(InputError, match="is not a folder"):
        csv_tables.paths_of("gauges.csv")


# One of many texts


@pytest.mark.parametrize("typed", ["Mild Steel", "mild-steel", "mildsteel", " mild_steel "])
def test_a_near_miss_is_answered_with_what_was_meant(typed):
    with pytest.raises(InputError, match="Did you mean mild_steel"):
        csv_tables.choose(typed, ("mild_steel", "brass"), "material", "material")


@pytest.mark.parametrize("typed", [None, 3, b"brass", ["brass"], "", "x" * 100_000])
def test_what_is_no_text_or_near_nothing_lists_the_choices(typed):
    with pytest.raises(InputError, match="^material: .*Known: mild_steel, brass"):
        csv_tables.choose(typed, ("mild_steel", "brass"), "material", "material")


# Low, typical and high


def test_a_range_is_three_numbers_to_numpy():
    triple = Range(0.2, 0.3, 0.45)
    assert np.array_equal(np.asarray(triple), [0.2, 0.3, 0.45])
    assert np.array_equal(np.array([[1.0], [2.0]]) * triple, [[0.2, 0.3, 0.45], [0.4, 0.6, 0.9]])
    low, typical, high = triple
    assert (low, typical, high) == (triple.low, triple.typical, triple.high)


def test_a_range_crosses_the_boundary_as_three_values():
    assert np.array_equal(to_core(Range(0.2, 0.3, 0.45), "ratio", "friction"), [0.2, 0.3, 0.45])
    thrusts = Range(Q_(0.5, "kN"), Q_(600, "N"), Q_(700, "N"))
    assert np.allclose(to_core(thrusts, "force", "thrust"), [500, 600, 700])


def test_a_range_does_not_repeat_itself_as_a_tuple_would():
    for wrong in (lambda x: 2 * x, lambda x: x * 2, lambda x: x + x):
        with pytest.raises(TypeError, match="np.asarray"):
            wrong(Range(1, 2, 3))


def test_a_copy_of_a_range_keeps_its_source():
    triple = Range(1, 2, 3, sources="from-memory", standing="from memory", note="n")
    for twin in (copy.copy(triple), copy.deepcopy(triple), pickle.loads(pickle.dumps(triple))):
        assert twin == triple
        assert (twin.sources, twin.standing, twin.note) == ("from-memory", "from memory", "n")
