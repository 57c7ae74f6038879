"""A class on one page: votes and mistakes, by whom if wished, and no words of a file's own."""

import json
import re
import subprocess
import sys

import pytest

from tests.house.thorough import only_thorough
from workshop_lib.launcher.class_list import Learner
from workshop_lib.launcher.environment import ROOT
from workshop_lib.launcher.trouble import Trouble
from workshop_lib.quantities import Q_, speaking
from workshop_lib.teaching import answer_file, class_answers, overview, predict, task_list, who

CREEP, BOTH = (
    next(q for q in class_answers.predictions(class_answers.lesson_file("02")) if q.key == key)
    for key in ("l02-creep", "l02-both")
)


@pytest.fixture
def write(tmp_path):
    """Write one learner's file by the lessons' own calls; returns the function and the folder."""
    before = answer_file.current()

    def learner(file, name="", creep=(), both=(), shown=False, checks=()):
        answer_file.use(answer_file.FileStore(tmp_path / f"{file}.jsonl"))
        if name:
            who.ask().answer("commit", {"answer": name})
        predict.predict("l02-creep", "?", kind="force")
        predict.predict("l02-both", "?", options=BOTH.field.options)
        for answer in creep:
            predict.commit("l02-creep", answer)
        for answer in both:
            predict.commit("l02-both", answer)
        if shown:
            predict.reveal("l02-creep", Q_(400.0, "N"), "")
            predict.reveal("l02-both", "slips", "")
        for key, answer, helped in checks:
            task_list.by_name("02")[key].check(answer, helped)
        return tmp_path

    yield learner
    answer_file.use(before)


def counted(folder, question):
    learners = class_answers.read_folder(folder).learners
    given = [vote for each in learners if (vote := class_answers.votes(each, question))]
    return class_answers.bars(question, given), [vote.met for vote in given]


def test_one_amount_in_two_units_is_one_answer_and_both_votes_are_kept(write):
    write("a", creep=["240 N", "0.4 kN"], shown=True)
    write("b", creep=["0.24 kN"], shown=True)
    folder = write("c", creep=["240 N", "400 N"])  # the answer was not shown yet
    bars, met = counted(folder, CREEP)
    assert bars == [("240 N", 3, 1), ("400 N", 0, 2)]
    assert met == [(False, True), (False, False), (None, None)]


def test_the_answer_is_on_record_once_in_whichever_order_the_cells_were_run(write):
    folder = write("a", both=["holds", "slips"], shown=True)
    answer_file.use(answer_file.FileStore(folder / "b.jsonl"))
    revealed = predict.reveal("l02-both", "slips", "")  # all cells at once, and then the vote
    predict.commit("l02-both", "holds")
    predict.commit("l02-both", "slips")
    assert "Right" in revealed.face["verdict"]
    bars, met = counted(folder, BOTH)
    assert [(bar.first, bar.last) for bar in bars] == [(2, 0), (0, 2)]
    assert met == [(False, True)] * 2
    for name in "ab":
        assert (folder / f"{name}.jsonl").read_text().count('"right"') == 1


def test_every_prediction_of_the_course_is_found_in_its_notebook():
    for number in task_list.lessons():
        path = class_answers.lesson_file(number)
        stored = json.loads(path.read_text(encoding="utf-8"))["cells"]
        asked = sum("predict.predict(" in "".join(cell["source"]) for cell in stored)
        found = class_answers.predictions(path)
        assert len(found) == asked > 0 and all(q.key.startswith(f"l{number}-") for q in found)


def test_exercises_are_scored_to_the_first_right_answer_and_mistakes_are_told_in_words(write):
    torque = task_list.by_name("02")["torque"]
    wrong, said = torque.common_wrong[0]
    checks = [("torque", wrong, ""), ("torque", torque.answer, "1 hint"), ("torque", "9 N m", "")]
    folder = write("a", "Åsa", checks=checks)
    write("b", checks=[("torque", wrong, "")])
    learners = class_answers.read_folder(folder).learners
    scores = {each.file: class_answers.score(each, torque.key) for each in learners}
    assert scores == {"a.jsonl": (2, True, True), "b.jsonl": (1, False, False)}
    known = class_answers.sentences("02")
    assert class_answers.mistakes(learners, torque.key, known) == [(said, 2)]
    page = overview.document(class_answers.read_folder(folder), ["02"], "names")
    assert "✓ 2 h" in page and "✗ 1" in page and "1 of 2" in page and "Åsa" in page


def test_a_mistake_has_the_same_name_with_other_numbers():
    known = class_answers.sentences("02")
    for task in task_list.tasks_of("02"):
        for other in [task.with_seed(3)] if task.remake else []:
            made = {class_answers.mistake_key(said) for _, said in other.common_wrong}
            assert len(made & set(known)) >= len(made) - 1, task.key  # one may differ in its words


def test_an_inch_learners_mistake_is_told_in_words(write):
    for number in ("00", "04"):
        known = class_answers.sentences(number)
        with speaking("inch"):
            for task in task_list.tasks_of(number):
                for _, said in task.common_wrong:
                    assert class_answers.mistake_key(said) in known


@pytest.mark.parametrize("show", overview.SHOWN)
def test_names_numbers_or_none_as_the_teacher_chooses(write, show):
    checks = [("torque", "1 N m", "")]
    folder = write("secret", "Bo <b>", both=["slips"], checks=checks)
    write("other")
    (folder / "other.jsonl").write_text("")
    (folder / "torn").write_bytes(b"\x00 not ours")
    page = overview.document(class_answers.read_folder(folder), ["02"], show)
    assert ("Bo &lt;b&gt;" in page) == (show == "names") and "<b>" not in page
    assert ("other" in page) == ("torn" in page) == (show == "names")
    missing = {"names": ": other", "numbers": ": [12]", "none": ""}[show]
    assert re.search(rf"Not started: 1 of 2{missing}\.", page)


HARM = [
    b"", b"{", b"[" * 100_000, b'{"format": 2}\n' + b'{"key": "who", "given": 7}\n' * 3,
    b'{"format": 2}\n{"key": "l02-both", "raw": ["slips"], "right": {}}\n',
    b'{"format": 2}\n{"key": "l02-creep", "raw": "9**9**9 N"}\n{"key": "l02-creep", "raw": NaN}\n',
    b'{"format": 2}\n{"key": "l02-creep", "raw": "1 N"}\n{"key": "l02-creep", "right": "0 N"}\n',
    b'{"format": 2}\n{"key": "l02-creep", "raw": "1 N"}\n'
    b'{"key": "l02-creep", "right": "400 N", "within": ["<script>"]}\n',
    b'{"format": 2}\n{"key": "l02-task-torque", "state": "known", "mistake": "<script>x"}\n',
    b'{"format": 2}\n{"key": "l02-task-torque", "state": ["right"], "mistake": {}, "helped": 1}\n',
    b'{"format": 2}\n{"key": "who", "given": "<script>alert(1)</script>\xe2\x80\xae"}\n',
    b'{"format": 2}\n{"key": "l02-both", "given": "<script>", "raw": "slips"}\n' + b"\xff\n",
    answer_file.HEAD.encode() + b'{"key": "l02-creep", "raw": "1 N"}\n' * 100_000,
]  # fmt: skip


def test_files_made_to_do_harm_are_named_or_read_as_data_only(tmp_path):
    for number, content in enumerate(HARM):
        (tmp_path / f"{number} <script>.jsonl").write_bytes(content)
    (tmp_path / "elsewhere").symlink_to("/dev/zero")
    for show in overview.SHOWN:
        read = class_answers.read_folder(tmp_path)
        page = overview.document(read, ["02"], show)
        assert "<script" not in page and "&lt;script&gt;x" not in page and "\u202e" not in page
    left_out = {file.partition(" ")[0] for file, why in read.remarks if "left out" in why}
    assert left_out == {"1", "2", str(len(HARM) - 1)} and len(read.learners) == len(HARM) - 3


@only_thorough
def test_the_overview_waits_for_neither_widgets_charts_nor_notebooks():
    """Each of them loads for as long as the rest takes together."""
    code = "import sys; from workshop_lib.teaching import overview, task_list; "
    code += "print(len(task_list.tasks_of('02')), *sys.modules)"
    command = [sys.executable, "-c", code]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
    count, *loaded = done.stdout.split()
    assert int(count) > 3 and not {"anywidget", "matplotlib", "nbformat"} & set(loaded)


def test_an_earlier_copy_of_a_file_is_named_and_not_counted_twice(write):
    folder = write("a", both=["slips", "holds", "slips"])
    (folder / "again.jsonl").write_text((folder / "a.jsonl").read_text())
    write("a", creep=["1 N"])
    read = class_answers.read_folder(folder)
    assert [each.file for each in read.learners] == ["a.jsonl"]
    assert read.remarks == [("again.jsonl", "is an earlier copy of a.jsonl: left out")]


def test_the_class_list_tells_who_handed_nothing_in(write):
    learners = class_answers.read_folder(write("bo-lind", both=["slips"])).learners
    expected = [Learner("Bo Lind", "bo-lind"), Learner("Åsa Öberg", "asa-oberg")]
    assert [each.name for each in overview.with_expected(learners, expected)] == ["", "Åsa Öberg"]


def test_the_command_writes_a_page_and_never_over_another_file(write, tmp_path, capsys):
    folder = write("a", both=["slips"])
    page = tmp_path / "page.html"
    assert overview.main([str(folder), "2", "--page", str(page)]) == 0
    assert overview.main([str(folder), "--page", str(page)]) == 0
    assert "It slips" in page.read_text(encoding="utf-8")
    page.write_text("mine")
    with pytest.raises(Trouble, match="another file"):
        overview.main([str(folder), "--page", str(page)])
    with pytest.raises(Trouble, match="no folder"):
        overview.main([str(folder / "none")])


def test_a_lesson_that_is_not_there_and_a_teachers_faulty_file_are_said(
    tmp_path, monkeypatch, capsys
):
    page = ["--page", str(tmp_path / "o.html")]
    with pytest.raises(Trouble, match="no lesson 77"):
        overview.main([str(tmp_path), "77", *page])
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "exercises.toml").write_text("nonsense")
    monkeypatch.setenv("WORKSHOP_DATA", str(tmp_path / "mine"))
    with pytest.raises(Trouble, match=r"exercises\.toml, line 1"):
        overview.main([str(tmp_path / "mine"), "02", *page])


def test_a_learner_who_takes_a_classmates_name_is_told_apart_by_the_account(write):
    write("asa-oberg", "Åsa Öberg", both=["slips"])
    write("bo-lind", "Åsa Öberg", both=["holds"])
    folder = write("learner-xyz", "✓", both=["holds"])
    named = overview.called(class_answers.read_folder(folder).learners, "names")
    assert sorted(named.values()) == ["Åsa Öberg", "Åsa Öberg (bo-lind)", "✓ (learner-xyz)"]


def test_a_name_is_given_changed_and_taken_off(write):
    folder = write("a", "Bo")
    card = who.ask()
    assert "Bo" in card.face["verdict"]
    assert (
        "Write at most"
        in card.answer("commit", {"answer": "x\u202ey"})["fields"]["answer"]["complaint"]
    )
    card.answer("without", {})
    assert class_answers.read_folder(folder).learners[0].name == ""
    card.answer("commit", {"answer": " Bo  Lind "})
    assert class_answers.read_folder(folder).learners[0].name == "Bo Lind"
