"""Worksheets: every sheet another one, each with a key that is right, and nothing overwritten."""

import html
import re
import shutil
import subprocess

import pytest
from hand_working import BY_HAND, ROUGHLY, numbers_in

from workshop_lib.launcher import browser, commands
from workshop_lib.launcher.trouble import Trouble
from workshop_lib.lesson import task_list, worksheets
from workshop_lib.lesson.worksheet_pages import key_page, sheets_page
from workshop_lib.lesson.worksheets_command import main
from workshop_lib.quantities import InputError

LESSONS = [lesson for lesson in task_list.lessons() if lesson <= "05"]
MIXES = [[lesson] for lesson in LESSONS] + [["01", "02"], LESSONS]


def drawn(lessons, sheets=6, **more):
    return worksheets.draw(lessons, sheets, **more)


def questions(sheet):
    return tuple(task.question for task in sheet.tasks)


def said(page):
    return html.unescape(re.sub(r"<[^>]+>", " ", page))


# The sheets


@pytest.mark.parametrize("lessons", MIXES, ids="-".join)
def test_every_sheet_is_another_one_with_the_same_questions(lessons):
    made = drawn(lessons, 12)
    assert [sheet.number for sheet in made.sheets] == list(range(1, 13))
    assert len({questions(sheet) for sheet in made.sheets}) == 12
    assert len({tuple(task.key for task in sheet.tasks) for sheet in made.sheets}) == 1


@pytest.mark.parametrize("lessons", MIXES, ids="-".join)
def test_an_exercise_takes_its_own_key_and_refuses_the_neighbours(lessons):
    made = drawn(lessons, 8, seed=5)
    for sheet in made.sheets:
        assert all(task.judged(task.answer_words()).right for task in sheet.tasks)
    for one, other in zip(made.sheets, made.sheets[1:], strict=False):
        for mine, theirs in zip(one.tasks, other.tasks, strict=True):
            assert not mine.judged(theirs.answer_words()).right
            assert not theirs.judged(mine.answer_words()).right


@pytest.mark.parametrize("lessons", MIXES, ids="-".join)
def test_every_answer_of_a_key_is_what_hand_working_gives(lessons):
    for sheet in drawn(lessons, 3, seed=11).sheets:
        for task in sheet.tasks:
            if task.key in BY_HAND:
                unit, worked = BY_HAND[task.key]
                wanted = worked(task.question, *numbers_in(task.question))
                found = float(task.answer if not unit else task.answer.m_as(unit))
                assert found == pytest.approx(wanted, rel=ROUGHLY.get(task.key, 1e-6))


def test_the_same_seed_gives_the_same_pages_and_another_seed_others():
    one, again, other = (drawn(["02"], seed=seed) for seed in (3, 3, 4))
    assert sheets_page(one, "a4") == sheets_page(again, "a4") and one.code == again.code
    assert key_page(one, "a4", "x") == key_page(again, "a4", "x")
    assert one.code != other.code
    assert not set(map(questions, one.sheets)) & set(map(questions, other.sheets))


def test_more_sheets_leave_the_first_ones_as_they_are():
    few, many = drawn(["03"], 3), drawn(["03"], 9)
    assert list(map(questions, few.sheets)) == list(map(questions, many.sheets[:3]))


def test_two_hundred_sheets_are_two_hundred():
    made = drawn(["05"], 200)
    assert len({questions(sheet) for sheet in made.sheets}) == 200


def test_a_mix_takes_from_every_lesson_that_there_is_room_for():
    keys = [task.key for task in drawn(["01", "02", "05"], 1, tasks=5).sheets[0].tasks]
    assert {key[:3] for key in keys} == {"l01", "l02", "l05"} and keys == sorted(
        keys, key=lambda key: key[:3]
    )
    assert len(drawn(LESSONS, 1, tasks=2).sheets[0].tasks) == 2


@pytest.mark.parametrize(
    ("asked", "said_of_it"),
    [
        ({"lessons": []}, "none was named"),
        ({"lessons": ["77"]}, "‘77’ is none"),
        ({"sheets": 0}, "from 1 to 200"),
        ({"sheets": 201}, "from 1 to 200"),
        ({"sheets": True}, "from 1 to 200"),
        ({"tasks": 6}, "from 1 to 5"),
        ({"tasks": 0}, "from 1 to 5"),
        ({"seed": -1}, "from 0 to 999999"),
        ({"seed": 1.0}, "from 0 to 999999"),
        ({"lessons": ["00"], "tasks": 5}, "only 3 questions"),
    ],
)
def test_what_cannot_be_drawn_is_refused_in_words(asked, said_of_it):
    with pytest.raises(InputError, match=said_of_it):
        worksheets.draw(**{"lessons": ["01"], **asked})


# The pages


@pytest.mark.parametrize("lessons", MIXES, ids="-".join)
def test_a_sheet_has_its_number_its_questions_and_neither_answer_nor_slip(lessons):
    made = drawn(lessons, 4)
    page = sheets_page(made, "a4")
    shown = said(page)
    for sheet in made.sheets:
        own = said(sheets_page(made, "a4", [sheet]))
        assert f"Sheet {sheet.number}" in own and f"Set {made.code}" in own
        for task in sheet.tasks:
            assert task.question in shown and task.question in own
            assert f"Answer in {task.unit}" in own if task.unit else "a plain number" in own
            hidden = [task.hints[-1], *(words for _, words in task.common_wrong)]
            assert not any(words in shown for words in hidden)
    assert "Name" in shown and "trained instructor come before" in shown


@pytest.mark.parametrize("lessons", MIXES, ids="-".join)
def test_the_key_has_every_answer_slip_and_working(lessons):
    made = drawn(lessons, 4)
    shown = " ".join(said(key_page(made, "a4", "worksheets 02")).split())
    assert made.code in shown and "worksheets 02" in shown
    for sheet in made.sheets:
        for task in sheet.tasks:
            assert task.answer_words() in shown
            assert all(task.words_for(value) in shown for value, _ in task.common_wrong)
    for task in made.sheets[0].tasks:
        assert all(" ".join(words.split()) in shown for _, words in task.common_wrong)


def test_a_chart_that_two_questions_need_stands_once():
    made = next(
        each
        for each in (drawn(["02"], 1, seed=seed) for seed in range(50))
        if {"l02-task-faces", "l02-task-creep"} <= {task.key for task in each.sheets[0].tasks}
    )
    page = sheets_page(made, "a4")
    assert page.count('role="img"') == 1 and "Use the chart or table of question" in page


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_page_is_whole_in_itself_on_either_paper(paper):
    made = drawn(["01", "02", "04"], 2, tasks=5)
    for page in (sheets_page(made, paper), key_page(made, paper, "x")):
        assert re.search(r"@page \{ size: (A4|letter); \}", page)[1].lower() == paper
        # The names of the drawing's own language are no addresses to fetch from.
        bare = page.replace("http://www.w3.org/2000/svg", "")
        assert not re.search(
            r"https?:|//|url\(|@import|<script|<link|src=", bare.split("</style>")[1]
        )
        assert "default-src 'none'" in page


def test_nothing_of_a_command_becomes_markup():
    assert "<script" not in key_page(drawn(["00"], 1), "a4", "<script>alert(1)</script>")


@pytest.mark.skipif(not browser.find(), reason="Chromium prints the pages")
@pytest.mark.skipif(not shutil.which("pdfinfo"), reason="pdfinfo counts them")
@pytest.mark.parametrize("lessons", [["02"], ["04"], LESSONS], ids="-".join)
def test_each_sheet_prints_on_one_page_or_two(tmp_path, lessons):
    made = drawn(lessons, 4, tasks=5)
    for sheet in made.sheets[:1]:
        (tmp_path / "s.html").write_text(sheets_page(made, "letter", [sheet]), encoding="utf-8")
        command = [browser.find(), "--headless", "--no-sandbox", "--disable-gpu"]
        command += [f"--print-to-pdf={tmp_path / 's.pdf'}", (tmp_path / "s.html").as_uri()]
        subprocess.run(command, check=True, capture_output=True, timeout=60)
        told = subprocess.check_output(["pdfinfo", tmp_path / "s.pdf"], text=True)
        assert int(re.search(r"Pages:\s+([0-9]+)", told)[1]) <= 2
        assert "(letter)" in told


# The command


def files(folder):
    return sorted(path.name for path in folder.rglob("*") if path.is_file())


def run(tmp_path, *arguments):
    return main([*arguments, "--folder", str(tmp_path)])


def test_the_command_writes_sheets_and_key_and_says_where(tmp_path, capsys):
    assert run(tmp_path, "2", "--sheets", "3", "--seed", "7") == 0
    assert files(tmp_path) == ["key.html", "sheets.html"]
    assert "3 worksheets and their key" in capsys.readouterr().out
    key = (tmp_path / "lesson_02_seed_7" / "key.html").read_text(encoding="utf-8")
    again = re.search(r"worksheets (02 --sheets 3 --tasks 4 --seed 7 --paper a4)", key)[1]
    before = (tmp_path / "lesson_02_seed_7" / "sheets.html").read_bytes()
    run(tmp_path, *again.split(), "--name", "again")
    assert (tmp_path / "again" / "sheets.html").read_bytes() == before


def test_sheets_may_be_files_of_their_own(tmp_path):
    run(tmp_path, "00", "--sheets", "2", "--apart", "--paper", "Letter")
    assert files(tmp_path) == ["key.html", "sheet_001.html", "sheet_002.html"]
    page = (tmp_path / "lesson_00_seed_1" / "sheet_002.html").read_text(encoding="utf-8")
    assert "Sheet 2" in page and "Sheet 1<" not in page and "size: letter" in page


def test_an_earlier_set_is_written_over_only_when_asked(tmp_path):
    run(tmp_path, "00", "--sheets", "3", "--apart")
    folder = tmp_path / "lesson_00_seed_1"
    (folder / "notes.txt").write_text("mine")
    before = {path: path.read_bytes() for path in folder.iterdir()}
    with pytest.raises(Trouble, match="is there already: add --replace"):
        run(tmp_path, "00", "--sheets", "2", "--apart")
    assert {path: path.read_bytes() for path in folder.iterdir()} == before
    run(tmp_path, "00", "--sheets", "2", "--apart", "--replace")
    assert files(folder) == ["key.html", "notes.txt", "sheet_001.html", "sheet_002.html"]


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


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        ([], "none was named"),
        (["9"], "is none. There are 00, 01"),
        (["01", "--sheets", "0"], "from 1 to 200"),
        (["01", "--sheets", "many"], "‘many’ is not a whole number"),
        (["01", "--sheets", "1e2"], "not a whole number"),
        (["01", "--sheets"], "expected one argument"),
        (["01", "--paper", "a3"], "invalid choice"),
        (["01", "--colour", "red"], "unrecognized arguments"),
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
