"""Lessons are handed out to a class: nothing of a learner's is replaced; the seat has limits."""

import json
import os
import signal
import subprocess
import sys

import pytest

from workshop_lib.classroom import seat
from workshop_lib.classroom.handing_out import hand_out
from workshop_lib.launcher import answers, copies
from workshop_lib.launcher.environment import ROOT, masters

pytestmark = pytest.mark.skipif(os.name == "nt", reason="a class needs Linux")


GIVEN = ["00_start.ipynb", "01_next.ipynb", "jobs/lid.toml"]


@pytest.fixture
def given(tmp_path):
    """Two lessons with what belongs to them, and what hands them out to one learner."""
    lessons = tmp_path / "notebooks"
    lessons.mkdir()
    (lessons / "jobs").mkdir()
    for name in GIVEN:
        (lessons / name).write_text(f"first edition of {name}")
    (lessons / ".hidden").touch()
    own = tmp_path / "home" / "lessons"
    own.parent.mkdir()

    def again():
        new = hand_out(lessons, own, own.parent / "x" / "given.json")
        return sorted(path.relative_to(own).as_posix() for path in new)

    return again, lessons, own


def test_a_new_learner_gets_the_lessons_and_nothing_else(given):
    again, _, own = given
    assert again() == GIVEN
    assert sorted(path.relative_to(own).as_posix() for path in own.rglob("*.*")) == GIVEN
    assert again() == []


def test_a_learners_copy_is_never_overwritten_and_a_newer_edition_lies_beside(given):
    again, lessons, own = given
    again()
    (own / "01_next.ipynb").write_text("my own work")
    for edition, name in (
        ("second", "01_next (newer).ipynb"),
        ("third", "01_next (newer) 2.ipynb"),
    ):
        (lessons / "01_next.ipynb").write_text(f"{edition} edition")
        assert again() == [name]
        assert (own / name).read_text() == f"{edition} edition"
        assert again() == []
    assert (own / "01_next.ipynb").read_text() == "my own work"


def test_a_lesson_that_the_learner_threw_away_comes_again(given):
    again, _, own = given
    again()
    (own / "00_start.ipynb").unlink()
    assert again() == ["00_start.ipynb"]


@pytest.mark.parametrize("text", ["", "{", "[]", "\x00"])
def test_a_lost_record_costs_at_most_a_further_copy(given, text):
    again, _, own = given
    again()
    (own.parent / "x" / "given.json").write_text(text)
    assert again() == []  # the copies are still those of this edition
    (own / "00_start.ipynb").write_text("my own work")
    (own.parent / "x" / "given.json").write_text(text)
    assert again() == ["00_start (newer).ipynb"]
    assert (own / "00_start.ipynb").read_text() == "my own work"


def test_a_link_in_a_lessons_place_is_left_alone(given, tmp_path):
    again, _, own = given
    own.mkdir()
    aim = tmp_path / "aim"
    aim.write_text("not a lesson")
    (own / "00_start.ipynb").symlink_to(aim)
    again()
    assert aim.read_text() == "not a lesson"
    assert (own / "00_start.ipynb").is_symlink()


# Ends itself, as a power cut would, at the line of the module that its last argument counts to.
HAND_OUT = """
import os, pathlib, signal, sys
from workshop_lib.classroom import handing_out
lines = int(sys.argv[3])
def count(frame, event, argument):
    global lines
    if frame.f_code.co_filename != handing_out.__file__:
        return None
    lines -= event == "line"
    if not lines:
        os.kill(os.getpid(), signal.SIGKILL)
    return count
shelf, home = map(pathlib.Path, sys.argv[1:3])
sys.settrace(count)
handing_out.hand_out(shelf, home / "lessons", home / "x" / "given.json")
"""


@pytest.mark.parametrize("line", range(5, 125, 7))
def test_an_end_at_any_moment_leaves_whole_copies_only(tmp_path, line):
    shelf, home = tmp_path / "shelf", tmp_path / "home"
    shelf.mkdir()
    home.mkdir()
    texts = {f"{number:02}_lesson.ipynb": f"{number}" * 50_000 for number in range(6)}
    for name, text in texts.items():
        (shelf / name).write_text(text)
    command = [sys.executable, "-c", HAND_OUT, str(shelf), str(home), str(line)]
    assert subprocess.run(command, cwd=ROOT).returncode == -signal.SIGKILL
    found = list((home / "lessons").glob("*.ipynb"))
    for copy in found:
        assert copy.read_text() == texts[copy.name]
    hand_out(shelf, home / "lessons", home / "x" / "given.json")
    assert {path.name for path in (home / "lessons").iterdir()} == set(texts)


# The seat


SEAT = """
import json, os, resource, sys
from workshop_lib.classroom import seat
def instead(*arguments):
    kinds = ("RLIMIT_DATA", "RLIMIT_NPROC", "RLIMIT_FSIZE", "RLIMIT_CORE")
    print(json.dumps({
        "arguments": arguments, "umask": os.umask(0), "answers": os.environ["WORKSHOP_ANSWERS"],
        "limits": [resource.getrlimit(getattr(resource, kind)) for kind in kinds],
    }))
os.environ[seat.DOOR] = "7"
seat.serve = instead
seat.main(sys.argv[1:])
"""


def sit(home, workbook):
    """Run the seat in a process of its own, up to where it becomes the server."""
    environment = {**os.environ, "HOME": str(home), "PYTHONPATH": str(ROOT)}
    environment["JUPYTER_DATA_DIR"] = str(home / ".local")
    done = subprocess.run(
        [sys.executable, "-c", SEAT, "3000000000", str(workbook), "--some=option"],
        env=environment,
        capture_output=True,
        text=True,
        check=True,
    )
    return json.loads(done.stdout.splitlines()[-1]), done.stderr


def test_a_seat_sets_hard_limits_and_the_learners_own_file_before_the_server(tmp_path):
    copies.write(tmp_path / "workbook" / seat.SHELF)
    told, _ = sit(tmp_path, tmp_path / "workbook")
    assert told["arguments"] == [7, ["--some=option"]]
    assert told["umask"] == 0o077
    assert told["answers"] == str(tmp_path / "lessons" / answers.FILE.name)
    wanted = [3_000_000_000, seat.MOST_TASKS, seat.LARGEST_FILE, 0]
    assert told["limits"] == [[most, most] for most in wanted]
    own = [path for path in (tmp_path / "lessons").rglob("*") if path.is_file()]
    assert {path.name for path in masters()} <= {path.name for path in own}
    assert {path.stat().st_mode & 0o777 for path in own} == {0o600}


def test_a_seat_that_cannot_hand_out_still_lets_the_learner_work(tmp_path):
    (tmp_path / "lessons").write_text("a file where the folder should be")
    copies.write(tmp_path / "workbook" / seat.SHELF)
    told, said = sit(tmp_path, tmp_path / "workbook")
    assert told["arguments"] == [7, ["--some=option"]]
    assert "not be handed out" in said
