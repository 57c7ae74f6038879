"""Worksheets: every sheet another one, each with a key that is right."""

import html
import math
import re
import shutil
import subprocess

import pytest

from tests.house.thorough import among, some
from tests.lessons.hand_working import BY_HAND, ROUGHLY, numbers_in
from workshop_lib.launcher import browser
from workshop_lib.quantities import Q_, InputError, parse_unit, speaking
from workshop_lib.teaching import task_list, worksheets
from workshop_lib.teaching.worksheet_pages import fit, grid_page, key_page, sheets_page
from workshop_lib.teaching.worksheets import BLANK, examples

LESSONS = [lesson for lesson in task_list.lessons() if lesson <= "05"]
MIXES = [[lesson] for lesson in LESSONS] + [["01", "02"], LESSONS]


def drawn(lessons, sheets=6, **more):
    return worksheets.draw(lessons, sheets, **more)


def questions(sheet):
    return tuple(task.question for task in sheet.tasks)


def said(page):
    return html.unescape(re.sub(r"<[^>]+>", " ", page))


# The sheets


@pytest.mark.parametrize("lessons", some(MIXES, 3), ids="-".join)
def test_every_sheet_is_another_one_with_the_same_questions(lessons):
    made = drawn(lessons, 12)
    assert [sheet.number for sheet in made.sheets] == list(range(1, 13))
    assert len({questions(sheet) for sheet in made.sheets}) == 12
    assert len({tuple(task.key for task in sheet.tasks) for sheet in made.sheets}) == 1


@pytest.mark.parametrize("lessons", some(MIXES, 3), ids="-".join)
def test_an_exercise_takes_its_own_key_and_refuses_the_neighbours(lessons):
    made = drawn(lessons, 8, seed=5)
    for sheet in made.sheets:
        assert all(task.judged(task.answer_words()).right for task in sheet.tasks)
    for one, other in zip(made.sheets, made.sheets[1:], strict=False):
        for mine, theirs in zip(one.tasks, other.tasks, strict=True):
            assert not mine.judged(theirs.answer_words()).right
            assert not theirs.judged(mine.answer_words()).right


@pytest.mark.parametrize("lessons", some(MIXES, 3), ids="-".join)
def test_every_answer_of_a_key_is_what_hand_working_gives(lessons):
    for sheet in drawn(lessons, 3, seed=11).sheets:
        for task in sheet.tasks:
            if task.key in BY_HAND:
                unit, worked = BY_HAND[task.key]
                wanted = worked(task.question, *numbers_in(task.question, unit))
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


def test_sixty_sheets_are_sixty():
    made = drawn(["05"], 60)
    assert len({questions(sheet) for sheet in made.sheets}) == 60


def test_a_mix_takes_from_every_lesson_that_there_is_room_for():
    keys = [task.key for task in drawn(["01", "02", "05"], 1, tasks=5).sheets[0].tasks]
    assert {key[:3] for key in keys} == {"l01", "l02", "l05"}
    assert len(drawn(LESSONS, 1, tasks=2).sheets[0].tasks) == 2


@pytest.mark.parametrize("seed", some(range(6), 3))
@pytest.mark.parametrize("lessons", some(MIXES, 3), ids="-".join)
def test_easier_questions_come_first_and_in_the_order_of_the_lessons(lessons, seed):
    asked = drawn(lessons, 1, seed=seed).sheets[0].tasks
    effort = [2 if task.long_by_hand else 0 if task.withheld else 1 for task in asked]
    assert effort == sorted(effort)
    for one in range(3):
        alike = [task.key[:3] for task, each in zip(asked, effort, strict=True) if each == one]
        assert alike == sorted(alike)


def test_the_screw_is_worked_by_hand_last():
    for seed in range(30):
        keys = [task.key for task in drawn(["01"], 1, seed=seed).sheets[0].tasks]
        assert "l01-task-handle" not in keys[:-1]


@pytest.mark.parametrize(
    ("asked", "said_of_it"),
    [
        ({"lessons": []}, "no lesson was named"),
        ({"lessons": ["77"]}, "‘77’ is not a lesson"),
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


@pytest.mark.parametrize("lessons", some(MIXES, 3), ids="-".join)
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


@pytest.mark.parametrize("lessons", some(MIXES, 3), ids="-".join)
def test_the_key_has_every_answer_slip_and_working(lessons):
    made = drawn(lessons, 4)
    shown = " ".join(said(key_page(made, "a4", "worksheets 02")).split())
    assert made.code in shown and "worksheets 02" in shown
    for sheet in made.sheets:
        for task in sheet.tasks:
            assert task.answer_words() in shown
            assert all(task.words_for(value) in shown for value, _ in task.mistakes_on_paper())
    for task in made.sheets[0].tasks:
        assert all(" ".join(words.split()) in shown for _, words in task.mistakes_on_paper())


def in_unit_of(cell, within):
    """Return what is allowed, such as 0.4 µm, as a number in the unit of a cell, such as mm."""
    if len(cell) < 2 or cell[1:] == within[1:]:
        return float(within[0])
    from_unit, to_unit = (parse_unit(each[1].replace("µm", "um")) for each in (within, cell))
    return Q_(float(within[0]), from_unit).m_as(to_unit)


def by_fives():
    """Yield a lesson and up to five of its questions at a time, those off a chart first."""
    lessons = sorted(task_list.lessons(), key=lambda each: each != "02")
    for lesson in lessons:
        asked = [task for task in task_list.tasks_of(lesson) if task.remake is not None]
        asked = [
            task.key.rpartition("-task-")[2] for task in sorted(asked, key=lambda t: not t.charted)
        ]
        yield from ((lesson, *asked[at : at + 5]) for at in range(0, len(asked), 5))


@pytest.mark.parametrize("units", ["metric", "inch"])
@pytest.mark.parametrize("asked", some(by_fives(), 6), ids="-".join)
def test_no_mistake_in_the_key_or_the_grid_lies_within_what_the_key_allows(asked, units):
    """Read back from the printed pages: a chart allows 10 %, everything else what is said."""
    with speaking(units):
        made = drawn(asked[:1], 14, questions=asked[1:])
    for paper in among(["a4"], ["a4", "letter"]):
        parts = key_page(made, paper, "x").partition("<h2>Working")[0].split("<h2>")[1:]
        grid = said(grid_page(made, paper))
        for task, part in zip(made.sheets[0].tasks, parts, strict=True):
            within = re.search(r"Right within ([^<]*)\.<", part)[1]
            share = max(map(float, re.findall(r"([0-9.]+) %", within)), default=0) / 100
            charted = task.key.rpartition("-")[2] in ("faces", "thrust", "creep")
            assert not charted or share == 0.1
            for row in re.findall(r"<tr>(<td>.*?)</tr>", part):
                cells = [said(cell).split() for cell in re.findall(r"<td>(.*?)</td>", row)][1:]
                right = float(cells[0][0])
                assert " ".join(cells[0]) in grid
                for cell in cells[1:]:
                    off = abs(float(cell[0]) - right) if cell != ["–"] else math.inf
                    allowed = share * abs(right) if share else in_unit_of(cell, within.split())
                    assert off > allowed


def test_the_ellipse_is_not_listed_where_a_chart_cannot_tell_it():
    made = drawn(["02"], 3, questions=["faces"])
    assert "ellipse" in {
        w for _, s in made.sheets[0].tasks[0].common_wrong for w in re.findall(r"\w+", s)
    }
    assert "ellipse" not in said(key_page(made, "a4", "x")) + said(grid_page(made, "a4"))


@pytest.mark.parametrize("seed", range(12))
def test_the_limit_curve_is_on_the_sheet_of_lesson_02(seed):
    made = drawn(["02"], 1, seed=seed)
    assert sheets_page(made, "a4").count('role="img"') == 1


def test_questions_are_those_that_are_named_in_their_order():
    made = drawn(["01", "02"], 2, questions=["torque", "faces", "01-scale"])
    keys = ["l02-task-torque", "l02-task-faces", "l01-task-scale"]
    assert [task.key for task in made.sheets[1].tasks] == keys


@pytest.mark.parametrize(
    ("questions", "words"),
    [
        (["nothing"], "has no numbers to draw. Name .*comma"),
        (["scale"], "in 2 of these lessons. Write it with its lesson, 00-scale"),
        (["squeal"], "has no numbers"),
        (["comma", "crank", "gauge", "side", "tape", "relief"], "6 questions do not fit"),
    ],
)
def test_a_question_that_cannot_be_asked_is_refused(questions, words):
    with pytest.raises(InputError, match=words):
        drawn(["00", "01"], 1, questions=questions)


def test_names_stand_on_sheet_key_and_grid():
    names = ["Ada Field", "Ben <b>Stone</b>", "Cleo Marsh"]
    made = drawn(["00"], names=names)
    assert [sheet.name for sheet in made.sheets] == names
    for page in (sheets_page(made, "a4"), key_page(made, "a4", "x"), grid_page(made, "a4")):
        assert "<b>Stone" not in page and all(name in html.unescape(page) for name in names)


@pytest.mark.parametrize("sheets", [12, 30])
def test_the_grid_has_a_box_for_right_for_each_mistake_and_for_another(sheets):
    made = drawn(["02"], sheets, questions=["torque", "low", "left"])
    rows = re.findall(r"<tr>(<td>.*?)</tr>", grid_page(made, "a4"))
    assert len(rows) == sheets
    for sheet, row in zip(made.sheets, rows, strict=True):
        listed = sum(len(task.mistakes_on_paper()) + 2 for task in sheet.tasks)
        assert row.count("☐") == listed
    turned = "landscape" in grid_page(made, "a4")
    assert turned == (sheets == 30)  # so that it is one page


@pytest.mark.parametrize("lessons", [["00"], ["02"], ["05"]], ids="-".join)
def test_faded_sheets_have_a_worked_example_a_half_worked_one_and_then_the_question(lessons):
    made = drawn(lessons, 2, faded=True)
    page, key = said(sheets_page(made, "a4")), said(key_page(made, "a4", "x"))
    for sheet in made.sheets:
        for task in sheet.tasks:
            worked, half = examples(task)
            places = [page.index(each.question) for each in (worked, half, task)]
            assert places == sorted(set(places))
            blank, after = page[places[1] : places[2]], page[places[2] :]
            solution = blank.removeprefix(half.question)
            number = re.escape(half.answer_words().split()[0])
            assert BLANK in blank and not re.search(rf"(?<![\w./]){number}(?![\w./°])", solution)
            assert worked.answer_words() in page[places[0] : places[1]]
            assert BLANK not in after[:80] and half.answer_words() in key


def test_what_should_fit_on_one_side_is_marked_so():
    made = drawn(["05"], 2)
    assert fit(made.sheets[0], "a4") and "one-side" in sheets_page(made, "a4")
    assert fit(drawn(["02"], 1, tasks=5).sheets[0], "a4") is None


def all_of_lesson_02():
    """Keys that have, between them, every question of the lesson."""
    return [drawn(["02"], 2, tasks=5, seed=seed) for seed in range(12)]


def test_the_key_names_no_number_that_an_exercise_has_elsewhere():
    for made in [*all_of_lesson_02(), drawn(LESSONS, 2)]:
        shown = said(key_page(made, "a4", "x"))
        assert not re.search(r"exercise [0-9]", shown)
        assert ("Question 1, lesson 0" in shown) == (len(made.lessons) > 1)


def test_the_key_allows_more_where_the_answer_is_read_from_the_chart():
    met = set()
    for made in all_of_lesson_02():
        parts = key_page(made, "a4", "x").split("<h2>")[1:]
        for task, part in zip(made.sheets[0].tasks, parts, strict=False):
            charted = task.key.rpartition("-")[2] in ("faces", "thrust", "creep")
            assert ("allow 10 %" in said(part)) == charted
            met.add(task.key)
    assert met == {task.key for task in task_list.tasks_of("02")}


@pytest.mark.parametrize("seed", range(40))
def test_five_per_cent_of_the_reading_stay_within_what_the_key_allows_for_creep(seed):
    """By hand: x = (N - N')/k, so that N' read 5 % too small or too large changes x by N'/20k."""
    task = task_list.by_name("02")["creep"].with_seed(seed)
    _, _, thrust, stiffness, *_ = numbers_in(task.question)
    creep = task.answer.m_as("mm")
    holds = thrust - 1e3 * stiffness * creep
    assert 0.05 * holds / (1e3 * stiffness) <= 0.10 * creep


def with_questions(lesson, *names):
    """A drawn sheet on which these questions of a lesson stand."""
    keys = {f"l{lesson}-task-{name}" for name in names}
    sets = (drawn([lesson], 1, seed=seed) for seed in range(50))
    return next(each for each in sets if keys <= {task.key for task in each.sheets[0].tasks})


def test_the_sheet_for_creep_has_its_formula():
    assert "N' = N − k x" in said(sheets_page(with_questions("02", "creep"), "a4"))


def test_the_caution_of_the_tape_says_that_it_is_the_tape():
    assert "Tape peels off a lifting rim" in said(sheets_page(with_questions("01", "tape"), "a4"))


def test_a_chart_that_two_questions_need_stands_once():
    page = sheets_page(with_questions("02", "faces", "creep"), "a4")
    assert page.count('role="img"') == 1 and "table of question" in page


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
@pytest.mark.parametrize("lessons", some([["02"], ["04"], LESSONS], 3), ids="-".join)
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
