"""A learner's answers are there on the next day, whatever happened to the file or the process."""

import json
import os
import subprocess

import nbformat
import pytest
from nbformat.v4 import new_code_cell, new_notebook

from tests.teaching.exercise_cases import press
from workshop_lib.launcher import answers, opening, running_lessons
from workshop_lib.launcher.environment import ROOT
from workshop_lib.quantities import Q_
from workshop_lib.teaching import answer_file, predict
from workshop_lib.teaching.answer_file import FileStore
from workshop_lib.teaching.exercises import Exercise


@pytest.fixture
def file(tmp_path):
    return tmp_path / "a folder" / "my_answers.jsonl"


@pytest.fixture
def kept(file):
    """A store in a file, in use while the test runs."""
    before = answer_file.use(FileStore(file))
    yield answer_file.current()
    answer_file.use(before)


def given(shelf, key="k"):
    return [entry["given"] for entry in shelf.entries(key)]


def next_day(shelf):
    """The store as another kernel finds it later."""
    return FileStore(shelf.path)


def task(**more):
    return Exercise("l-task", "How much?", Q_(1.2, "N*m"), hints=["a", "b"], solution="so", **more)


# What stands in the file


def test_what_was_entered_is_there_on_the_next_day(kept):
    kept.record("k", {"given": "1 mm"})
    kept.record("other", {"given": "2 µm"})
    kept.record("k", {"given": "½ mm"})
    assert given(next_day(kept)) == ["1 mm", "½ mm"] and given(next_day(kept), "other") == ["2 µm"]


def test_the_file_can_be_read_by_a_person(kept):
    kept.record("l01-task-gauge", {"given": "2 µm", "state": "right"})
    text = kept.path.read_text(encoding="utf-8")
    assert json.loads(text.splitlines()[0])["format"] == 2 and "Answers and predictions" in text
    lines = [line for line in text.splitlines() if "2 µm" in line]
    assert len(lines) == 1 and '"when": "20' in lines[0] and '"state": "right"' in lines[0]


def test_opening_a_lesson_makes_no_file(kept):
    assert given(kept) == [] and kept.word() == ""
    assert not kept.path.exists() and not kept.path.parent.exists()


def test_an_exercise_and_a_prediction_come_back_after_a_restart(kept):
    task().check("2 N m")
    predict.predict("l-p", "How much?", kind="torque")
    predict.commit("l-p", "3 N m")
    answer_file.use(next_day(kept))
    card = task().ask()
    assert card.face["fields"]["answer"]["value"] == "2 N m" and "Not yet" in card.face["verdict"]
    asked = predict.predict("l-p", "How much?", kind="torque")
    assert asked.face["fields"]["answer"] | {"locked": True} == asked.face["fields"]["answer"]
    told = predict.reveal("l-p", Q_(1.2, "N*m"), "Because.")
    assert "predicted: 3 N m" in told.face["verdict"]


def test_what_is_shown_of_an_exercise_is_judged_anew(kept):
    """A file that somebody edited, or a lesson that was corrected, must not turn wrong right."""
    kept.record("l-task", {"given": "9 N m", "state": "right"})
    assert "Not yet" in task().ask().face["verdict"]


@pytest.mark.parametrize(
    "odd", [{}, {"given": None}, {"given": 5}, {"given": "<b>"}, {"given": ["x"]}, {"raw": "1 N"}]
)
def test_an_odd_entry_is_passed_over(kept, odd):
    kept.record("l-task", odd)
    kept.record("l-p", odd)
    predict.predict("l-p", "How much?", kind="torque")
    told = predict.reveal("l-p", Q_(1.2, "N*m"), "Because.")
    assert task().ask().face["verdict"] == told.face["verdict"] == ""
    assert press(task().ask(), "check", "1.2 N m")["fault"] == ""


# Who may touch it


def test_without_the_variable_nothing_is_kept(monkeypatch, file):
    monkeypatch.setattr(answer_file, "_current", [])
    monkeypatch.delenv(answers.VARIABLE, raising=False)
    assert type(answer_file.current()) is answer_file.Store
    monkeypatch.setattr(answer_file, "_current", [])
    monkeypatch.setenv(answers.VARIABLE, " ")
    assert type(answer_file.current()) is answer_file.Store
    monkeypatch.setattr(answer_file, "_current", [])
    monkeypatch.setenv(answers.VARIABLE, str(file))
    assert answer_file.current().path == file


def test_opening_the_lessons_names_the_file_and_leaves_one_that_is_named(monkeypatch):
    class Server:
        ip, sock, port = opening.ADDRESS, "", 8888
        identity_provider = type("Provider", (), {"auth_enabled": True})

        def start(self):
            self.seen = os.environ[answers.VARIABLE]

    server = Server()
    monkeypatch.setattr(opening.LabApp, "initialize_server", lambda argv: server)
    monkeypatch.setattr(opening, "choose_lesson", lambda arguments: (ROOT / "a.ipynb", []))
    monkeypatch.setenv(answers.VARIABLE, "x")
    monkeypatch.delenv(answers.VARIABLE)
    opening.main([])
    assert server.seen == str(ROOT / "my_lessons" / "my_answers.jsonl")
    monkeypatch.setenv(answers.VARIABLE, "elsewhere.jsonl")
    opening.main([])
    assert server.seen == "elsewhere.jsonl"


def test_the_learners_file_stays_out_of_the_repository():
    for name in ("my_answers.jsonl", "my_answers.kept-1.jsonl"):
        command = ["git", "check-ignore", "-q", f"my_lessons/{name}"]
        if (ROOT / ".git").exists():
            assert subprocess.run(command, cwd=ROOT).returncode == 0


ANSWERED = """
from workshop_lib.teaching import answer_file
from workshop_lib.teaching.exercises import Exercise
print(type(answer_file.current()).__name__)
Exercise("l-task", "How much?", 2.0).check("2")
"""


def test_storing_a_notebook_neither_reads_nor_writes_the_learners_file(tmp_path, monkeypatch):
    file = tmp_path / "my_answers.jsonl"
    FileStore(file).record("l-task", {"given": "9", "state": "wrong"})
    before = file.read_bytes()
    monkeypatch.setenv(answers.VARIABLE, str(file))
    monkeypatch.setenv("PYTHONPATH", str(ROOT))
    path = tmp_path / "n.ipynb"
    nbformat.write(new_notebook(cells=[new_code_cell(ANSWERED)]), path)
    running_lessons.store(path)
    outputs = nbformat.read(path, as_version=4).cells[0].outputs
    assert outputs[0].text == "Store\n" and file.read_bytes() == before


# What goes wrong

BROKEN = {
    "cut off": (b'{"format": 2, "abo', "damaged"),
    "not text": (b"\xff\xfe\x00\x81", "damaged"),
    "deep": (b"[" * 100_000, "damaged"),
    "a list": (b"[1, 2]", "damaged"),
    "another program's": (b'{"colour": "red"}', "not a file of answers"),
    "answers without a first line": (b'{"key": "k", "given": "1"}', "not a file of answers"),
    "newer": (b'{"format": 3, "about": ""}', "another version"),
}


@pytest.mark.parametrize("name", BROKEN)
@pytest.mark.parametrize("first", ["read", "write"])
def test_a_file_that_is_not_ours_is_put_aside_and_nothing_is_lost(kept, name, first):
    content, said = BROKEN[name]
    kept.path.parent.mkdir()
    kept.path.write_bytes(content)
    if first == "read":
        assert kept.entries("k") == []
    kept.record("k", {"given": "1 mm"})
    word = kept.word()
    assert said in word and "my_answers.kept-1.jsonl" in word and kept.word() == ""
    assert (kept.path.parent / "my_answers.kept-1.jsonl").read_bytes() == content
    assert given(next_day(kept)) == ["1 mm"]


def test_the_learner_is_told_in_the_card(kept):
    kept.path.parent.mkdir()
    kept.path.write_text("{")
    face = press(task().ask(), "check", "2 N m")
    again = press(task().ask(), "check", "2 N m")
    assert "my_answers.kept-1.jsonl" not in again["details"] + face["details"]  # said at the start
    kept.path.write_text("{")
    face = press(task().ask(), "hint")
    kept.path.write_text("{")
    card = task().ask()
    assert "my_answers.kept-3.jsonl" in card.face["details"]


def test_a_file_with_the_mark_of_a_windows_editor_is_read(kept):
    kept.record("k", {"given": "1 mm"})
    kept.path.write_bytes(b"\xef\xbb\xbf" + kept.path.read_bytes())
    assert given(next_day(kept)) == ["1 mm"]


def test_a_huge_file_is_put_aside_unread(kept, monkeypatch):
    kept.record("k", {"given": "1 mm"})
    monkeypatch.setattr(answer_file, "LARGEST", 10)
    later = next_day(kept)
    assert later.entries("k") == [] and "far larger" in later.word()


def test_what_the_disk_refuses_is_kept_in_memory_and_written_later(kept, monkeypatch):
    def full(*_):
        raise OSError(28, "No space left on device")

    whole = FileStore._append
    monkeypatch.setattr(FileStore, "_append", full)
    face = press(task().ask(), "check", "2 N m")
    assert "No space left" in face["details"] and not face["fault"]
    assert given(kept, "l-task") == ["2 N m"] and not kept.path.exists()
    assert "No space left" in kept.word()  # it lasts
    monkeypatch.setattr(FileStore, "_append", whole)
    kept.record("l-task", {"given": "1.2 N m"})
    assert given(next_day(kept), "l-task") == ["2 N m", "1.2 N m"] and kept.word() == ""


def next_day_word(shelf):
    later = next_day(shelf)
    later.entries("k")
    return later.word()


@pytest.mark.parametrize("end", [b'{"key": "k", "giv', b"\xff\x00", b"[1]\n", b"\n\n"])
def test_a_line_that_was_cut_off_costs_no_other(kept, end):
    kept.record("k", {"given": "1 mm"})
    with kept.path.open("ab") as file:
        file.write(end)
    later = next_day(kept)
    later.record("k", {"given": "2 mm"})
    assert given(next_day(kept)) == ["1 mm", "2 mm"]
    assert end in kept.path.read_bytes()
    assert ("cannot be read" in next_day_word(kept)) == bool(end.strip())


OLD = {"format": 1, "entries": {"k": [{"when": "2026-11-01 10:00:00", "given": "1 mm"}]}}


def test_what_an_earlier_edition_kept_is_taken_over_once_and_left(kept):
    kept.path.parent.mkdir()
    old = kept.path.with_suffix(".json")
    old.write_text(json.dumps(OLD))
    assert given(kept) == ["1 mm"]
    kept.record("k", {"given": "2 mm"})
    assert given(next_day(kept)) == ["1 mm", "2 mm"] and json.loads(old.read_text()) == OLD
    assert FileStore(old).path == kept.path


@pytest.mark.parametrize("text", ["{", "[]", '{"format": 1, "entries": {"k": 1}}'])
def test_an_earlier_file_that_cannot_be_read_stays_where_it_is(kept, text):
    kept.path.parent.mkdir()
    kept.path.with_suffix(".json").write_text(text)
    kept.record("k", {"given": "2 mm"})
    assert given(next_day(kept)) == ["2 mm"]
    assert kept.path.with_suffix(".json").read_text() == text


@pytest.mark.skipif(os.name == "nt", reason="Windows keeps these rights another way")
def test_answers_are_for_their_owners_eyes(kept):
    kept.record("k", {"given": "1 mm"})
    assert kept.path.stat().st_mode & 0o077 == 0
    assert kept.path.parent.stat().st_mode & 0o077 == 0


@pytest.mark.parametrize("place", ["folder", "file for a folder"])
def test_a_place_that_cannot_hold_a_file_is_told(tmp_path, place):
    blocked = tmp_path / "x.jsonl"
    if place == "folder":
        blocked.mkdir()
        shelf = FileStore(blocked)
    else:
        blocked.write_text("mine")
        shelf = FileStore(blocked / "my_answers.jsonl")
    shelf.record("k", {"given": "1 mm"})
    assert given(shelf) == ["1 mm"] and "cannot be" in shelf.word()


def test_odd_values_are_written_as_text(kept):
    kept.record("k", {"given": "\ud800", "odd": {1, 2}.__class__})
    assert given(next_day(kept)) == ["\ud800"]
