"""The list of a class: what a teacher's file may hold, and what is refused in which words."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workshop_lib.classroom.places import Places
from workshop_lib.launcher import class_list
from workshop_lib.launcher.class_list import LOGIN, Learner, login_from, read
from workshop_lib.launcher.trouble import Trouble


@pytest.fixture
def listed(tmp_path):
    """Write a list and read it."""

    def write_and_read(text, encoding="utf-8"):
        path = tmp_path / "class.csv"
        path.write_bytes(text.encode(encoding))
        return read(path)

    return write_and_read


def test_one_name_on_a_line_is_enough(listed):
    assert listed("Anna Berg\n\n# the late ones\nBo Lind\n") == [
        Learner("Anna Berg", "anna-berg"),
        Learner("Bo Lind", "bo-lind"),
    ]


@pytest.mark.parametrize("separator", [",", ", ", ";", "\t"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig"])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_what_a_spreadsheet_writes_is_read(listed, separator, encoding, end):
    rows = [["Name", "Login"], ["Åsa Öberg", "asa"], ["Bo Lind", ""]]
    text = end.join(separator.join(row) for row in rows)
    wanted = [Learner("Åsa Öberg", "asa"), Learner("Bo Lind", "bo-lind")]
    assert listed(text, encoding) == wanted


def test_a_name_in_quotes_may_hold_the_separator(listed):
    assert listed('"Berg, Anna", anna\n') == [Learner("Berg, Anna", "anna")]


# The right-hand sides are how the names are commonly written in plain letters.
@pytest.mark.parametrize(
    ("name", "login"),
    [
        ("Åsa Öberg", "asa-oberg"),
        ("Weiß", "weiss"),
        ("Søren Ærø", "soren-aero"),
        ("Łukasz", "lukasz"),
        ("O’Neill-Smith, J.", "oneill-smith-j"),
        ("Ｗｉｄｅ", "wide"),
        ("  Anna   Berg 2 ", "anna-berg-2"),
    ],
)
def test_a_login_name_is_made_of_the_name(name, login):
    assert login_from(name) == login


@pytest.mark.parametrize("name", ["Иван", "陳大文", "ελένη", "7 dwarfs", "Anna Иван", "x" * 31])
def test_a_name_of_which_none_can_be_made_gives_one_that_stays(name):
    login = login_from(name)
    assert re.fullmatch("learner-[a-z]{4}", login)
    assert login == login_from(f" {name.upper()} ".strip())
    assert login != login_from(name + " the younger")


@pytest.mark.parametrize("name", ["…", "", "42"])
def test_what_has_no_letter_is_no_name(name):
    with pytest.raises(ValueError, match="a login name of your own"):
        login_from(name)


@pytest.mark.parametrize(
    "heading",
    [
        "Vorname",
        "Name;Login",
        "Vorname\tNachname",
        "First name,E-mail",
        "Имя",
        "姓名",
        "Nom ; Login",
    ],
)
def test_a_heading_is_no_learner(listed, heading):
    assert listed(f"{heading}\nBo Lind\n") == [Learner("Bo Lind", "bo-lind")]
    assert len(listed("Bo Lind\nName\n")) == 2  # further down it is somebody's name


@pytest.mark.parametrize("name", ["=cmd|' /C calc'!A0", "+1", "-2+3", "@SUM(A1)", "|x", "%x"])
def test_a_name_that_a_spreadsheet_would_run_is_refused(listed, name):
    with pytest.raises(Trouble, match="line 1: .*cannot begin"):
        listed(f'"{name}",anna\n')


def test_two_of_one_name_are_told_apart_by_the_teacher(listed):
    with pytest.raises(Trouble) as refused:
        listed("Anna Berg\nBo\nAnna Berg\n")
    assert re.search("line 3: 'anna-berg' .*line 1", str(refused.value))
    assert len(listed("Anna Berg\nAnna Berg, anna2\n")) == 2


@pytest.mark.parametrize(
    "login",
    ["Anna", "an na", "../root", "a/b", "-a", "a-", "a--b", "a.b", "1a", "é", "a" * 31, "a\u200bb"],
)
def test_a_login_name_that_could_be_misread_is_refused(listed, login):
    with pytest.raises(Trouble, match="line 1: .*small letters"):
        listed(f"Somebody, {login}")


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("Anna, anna, 12", "more here than a name and a login name"),
        (", anna", "the name is missing"),
        ("x" * 81 + ", x", "at most 60 letters"),
        ("Anna\x07, anna", "no control characters"),
    ],
)
def test_a_line_that_is_none_is_refused_by_its_number(listed, line, said):
    with pytest.raises(Trouble, match=f"class.csv, line 2: .*{said}"):
        listed(f"Bo\n{line}\n")


def test_all_bad_lines_are_named_at_once_but_not_a_wall_of_them(listed):
    with pytest.raises(Trouble) as refused:
        listed("\n".join(["Bo", "42", "a,b,c", *["?"] * 20]))
    lines = str(refused.value).splitlines()
    assert len(lines) == class_list.SHOWN + 1
    assert [re.search(r"line (\d+)", line)[1] for line in lines[:3]] == ["2", "3", "4"]
    assert lines[-1] == "… and 12 more"


@pytest.mark.parametrize("text", ["", "\n\n", "# nobody\n", "name\n"])
def test_an_empty_list_is_refused(listed, text):
    with pytest.raises(Trouble, match="no names"):
        listed(text)


def test_a_file_that_is_no_list_is_refused_in_a_sentence(listed, tmp_path):
    with pytest.raises(Trouble, match="cannot be read"):
        read(tmp_path / "missing.csv")
    with pytest.raises(Trouble, match="cannot be read"):
        read(tmp_path)
    with pytest.raises(Trouble, match="UTF-8"):
        listed("Åsa", "latin-1")
    with pytest.raises(Trouble, match="far too long"):
        listed("Anna\n" * 30_000)


@given(st.text(max_size=60))
def test_whatever_stands_in_a_line_no_login_name_leaves_the_folder(line):
    try:
        login = class_list.learner_from(class_list.split(line)).login
    except ValueError:
        return
    places = Places("/srv/somewhere")
    assert LOGIN.fullmatch(login) and len(login) <= 30
    assert places.home(login).resolve().parent == places.learners.resolve()
