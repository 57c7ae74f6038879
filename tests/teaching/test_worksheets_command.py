"""The command that writes worksheets: in its folder, over nothing, refusing in a sentence."""

import re

import pytest

from workshop_lib.launcher import commands
from workshop_lib.launcher.trouble import Trouble
from workshop_lib.teaching.worksheets_command import main


def files(folder):
    return sorted(path.name for path in folder.rglob("*") if path.is_file())


def run(tmp_path, *arguments):
    return main([*arguments, "--folder", str(tmp_path)])


def test_the_command_writes_sheets_and_key_and_says_where(tmp_path, capsys):
    assert run(tmp_path, "2", "--sheets", "3", "--seed", "7") == 0
    assert files(tmp_path) == ["key.html", "marking_grid.html", "sheets.html"]
    assert "Worksheets: 3" in capsys.readouterr().out
    key = (tmp_path / "lesson_02_seed_7" / "key.html").read_text(encoding="utf-8")
    again = re.search(r"worksheets (02 --sheets 3 --tasks 4 --seed 7 --paper a4)", key)[1]
    before = (tmp_path / "lesson_02_seed_7" / "sheets.html").read_bytes()
    run(tmp_path, *again.split(), "--name", "again")
    assert (tmp_path / "again" / "sheets.html").read_bytes() == before


def test_sheets_may_be_files_of_their_own(tmp_path):
    run(tmp_path, "00", "--sheets", "2", "--apart", "--paper", "Letter")
    assert files(tmp_path) == ["key.html", "marking_grid.html", "sheet_001.html", "sheet_002.html"]
    page = (tmp_path / "lesson_00_seed_1" / "sheet_002.html").read_text(encoding="utf-8")
    assert "Sheet 2" in page and "Sheet 1<" not in page and "size: letter" in page


def test_an_earlier_set_is_written_over_only_when_asked(tmp_path):
    run(tmp_path, "00", "--sheets", "3", "--apart")
    folder = tmp_path / "lesson_00_seed_1"
    (folder / "notes.txt").write_text("mine")
    before = {path: path.read_bytes() for path in folder.iterdir()}
    with pytest.raises(Trouble, match="already: .*--replace"):
        run(tmp_path, "00", "--sheets", "2", "--apart")
    assert {path: path.read_bytes() for path in folder.iterdir()} == before
    run(tmp_path, "00", "--sheets", "2", "--apart", "--replace")
    assert files(folder) == [
        "key.html",
        "marking_grid.html",
        "notes.txt",
        "sheet_001.html",
        "sheet_002.html",
    ]


@pytest.mark.parametrize(
    "name", ["../out", "..", ".", "", "a/b", "a\\b", "/tmp/x", "C:x", "con", "NUL.txt", "a.", "-x"]
)
def test_a_name_that_leads_elsewhere_is_refused(tmp_path, name):
    with pytest.raises(Trouble, match="cannot be used"):
        run(tmp_path / "in", "00", f"--name={name}")
    assert files(tmp_path) == []


def test_a_link_that_leads_elsewhere_and_a_file_are_refused(tmp_path):
    (tmp_path / "there").mkdir()
    (tmp_path / "in").mkdir()
    (tmp_path / "in" / "link").symlink_to(tmp_path / "there")
    (tmp_path / "in" / "file").write_text("mine")
    with pytest.raises(Trouble, match="leads elsewhere"):
        run(tmp_path / "in", "00", "--name", "link", "--replace")
    with pytest.raises(Trouble, match="is a file"):
        run(tmp_path / "in", "00", "--name", "file", "--replace")
    assert files(tmp_path / "there") == [] and (tmp_path / "in" / "file").read_text() == "mine"


def test_names_units_and_questions_go_through_to_the_pages_and_the_command(tmp_path):
    names = tmp_path / "class.csv"
    names.write_text("\ufeffName\nAda Field, ada\n# not here\n\nCleo Marsh\n", encoding="utf-8")
    asked = ["02", "--questions", "torque", "faces", "--units", "inch"]
    run(tmp_path, *asked, "--names", str(names))
    folder = tmp_path / "lesson_02_seed_1"
    sheets, key = ((folder / name).read_text("utf-8") for name in ("sheets.html", "key.html"))
    assert "Ada Field" in sheets and "Cleo Marsh" in key and "not here" not in sheets
    assert " lbf" in sheets and " N;" not in sheets and "Answer in lbf·in" in sheets
    assert "--questions torque faces --units inch" in key and "--sheets 2" in key


def test_the_teachers_own_shop_says_which_units(tmp_path, monkeypatch):
    (tmp_path / "my_shop.toml").write_text('[units]\nsystem = "inch"\n', encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    run(tmp_path, "02", "--sheets", "1")
    assert " lbf" in (tmp_path / "lesson_02_seed_1" / "sheets.html").read_text("utf-8")


@pytest.mark.parametrize("text", ["", "# nobody\n", ", ada\n", "x" * 61, "Ada\x07\n"])
def test_a_class_list_without_a_name_is_refused(tmp_path, text):
    (tmp_path / "class.csv").write_text(text, encoding="utf-8")
    with pytest.raises(Trouble, match=r"class\.csv"):
        run(tmp_path, "00", "--names", str(tmp_path / "class.csv"))


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        ([], "no lesson was named"),
        (["9"], "is not a lesson. The lessons are 00, 01"),
        (["01", "--sheets", "0"], "from 1 to 200"),
        (["01", "--sheets", "many"], "‘many’ is not a whole number"),
        (["01", "--sheets", "1e2"], "not a whole number"),
        (["01", "--sheets"], "expected one argument"),
        (["01", "--paper", "a3"], "invalid choice"),
        (["01", "--colour", "red"], "unrecognized arguments"),
        (["01", "--units", "cubit"], "invalid choice"),
        (["01", "--names", "no such list"], "cannot be read"),
        (["01", "--seed", "1234567"], "from 0 to 999999"),
    ],
)
def test_what_is_wrong_with_the_arguments_is_told_in_a_sentence(tmp_path, arguments, sentence):
    with pytest.raises(Trouble, match=sentence):
        run(tmp_path, *arguments)
    assert files(tmp_path) == []


def test_the_command_is_in_the_list_of_commands():
    assert commands.COMMANDS["worksheets"].module == main.__module__
    assert "--replace" in commands.help_text("worksheets")
