"""Lessons are handed out to a class: nothing of a learner's is replaced; the seat has limits."""

import json
import os
import shutil
import signal
import subprocess
import sys
import tempfile
from pathlib import Path

import nbformat
import pytest

from tests.classroom import classroom_stage
from tests.house.thorough import among, only_thorough
from workshop_lib.classroom import seat, settings
from workshop_lib.launcher import answers, copies
from workshop_lib.launcher.environment import ROOT, masters

pytestmark = pytest.mark.skipif(os.name == "nt", reason="a class needs Linux")


@pytest.fixture
def home(tmp_path, monkeypatch):
    """A learner's home, and what hands two lessons and what they lead to out into it."""
    monkeypatch.setenv("JUPYTER_DATA_DIR", str(tmp_path / "data"))
    shelf, own = tmp_path / "shelf", tmp_path / "home" / "lessons"
    copies.write(shelf)
    for path in shelf.glob("0[2-9]*"):
        path.unlink()
    own.parent.mkdir()

    def again():
        before = {path.name: path.stat().st_ino for path in own.glob("*.ipynb")}
        seat.make_ready(own.parent, shelf)
        after = {path.name: path.stat().st_ino for path in own.glob("*.ipynb")}
        return sorted(name for name in after if after[name] != before.get(name))

    return again, shelf, own


def another_edition(path):
    """Change a lesson of the shelf as a new edition of the workbook would."""
    notebook = nbformat.read(path, as_version=4)
    notebook.cells[0].source += " And more."
    notebook.metadata[copies.OWN] = copies.mark(notebook)
    nbformat.write(notebook, path)


def test_a_learner_gets_the_lessons_once_and_nothing_of_ones_own_is_replaced(home):
    again, shelf, own = home
    first, second = again()
    assert again() == []
    (own.parent / ".handed-out").write_text("torn")
    assert again() == []
    for path in filter(Path.is_file, shelf.rglob("*")):
        assert (own / path.relative_to(shelf)).read_bytes() == path.read_bytes()
    mine = nbformat.read(own / first, as_version=4)
    mine.cells[0].source += " My own words."
    nbformat.write(mine, own / first)
    kept = (own / first).read_bytes()
    for name in (first, second):
        another_edition(shelf / name)
    assert again() == [first.replace(".ipynb", " (newer).ipynb"), second]
    assert (own / first).read_bytes() == kept and again() == []
    (own / second).unlink()
    assert again() == [second]


def test_a_link_in_a_lessons_place_is_left_alone(home, tmp_path):
    again, shelf, own = home
    own.mkdir()
    aim = tmp_path / "aim"
    aim.write_text("not a lesson")
    (own / copies.WORDS).symlink_to(aim)
    (own / next(shelf.glob("00*")).name).symlink_to(aim)
    again()
    again()
    assert aim.read_text() == "not a lesson"


# Ends itself, as a power cut would, at the file that its last argument counts to.
HAND_OUT = """
import os, pathlib, shutil, signal, sys
from workshop_lib.classroom import seat
files = int(sys.argv[3])
def counted(act):
    def instead(*places, **more):
        global files
        files -= 1
        if not files:
            os.kill(os.getpid(), signal.SIGKILL)
        return act(*places, **more)
    return instead
shutil.copyfile, os.replace = counted(shutil.copyfile), counted(os.replace)
seat.make_ready(*(pathlib.Path(each) for each in sys.argv[1:3]))
"""


@pytest.mark.parametrize("begun", among([False], [False, True]))
@pytest.mark.parametrize("file", among((2,), range(1, 7)))
def test_an_end_at_any_moment_leaves_whole_copies_only(home, begun, file):
    again, shelf, own = home
    if begun:  # by an earlier edition of some of it
        own.mkdir()
        (own / "jobs").mkdir()
    command = [sys.executable, "-c", HAND_OUT, str(own.parent), str(shelf), str(file)]
    assert subprocess.run(command, cwd=ROOT).returncode == -signal.SIGKILL
    whole = {path.name: path.read_bytes() for path in shelf.rglob("*") if path.is_file()}
    for copy in own.rglob("*.*"):
        assert copy.suffix == ".part" or copy.read_bytes() == whole[copy.name]
    again()
    assert {p.name for p in own.rglob("*") if p.is_file() and p.suffix != ".part"} == set(whole)
    assert not (own.parent / ".handing-out").exists()


def test_a_start_that_brings_nothing_new_loads_nothing_of_the_workbooks_sums(home):
    again, shelf, own = home
    again()
    code = "import pathlib, sys; from workshop_lib.classroom import seat; "
    code += "seat.make_ready(*map(pathlib.Path, sys.argv[1:])); print(*sys.modules)"
    for place in among([own.parent.parent / "new"], [own.parent, own.parent.parent / "new"]):
        place.mkdir(exist_ok=True)
        command = [sys.executable, "-c", code, str(place), str(shelf)]
        done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
        assert not {"pint", "numpy"} & set(done.stdout.split())


# Renames a folder of the home away and a link to another's into its place, over and over.
RACE = """
import os, pathlib, sys, time
own, aim = map(pathlib.Path, sys.argv[1:])
print("ready", flush=True)
while True:
    try:
        os.rename(own, own.with_name("aside"))
        own.symlink_to(aim)
        time.sleep(0.0005)
        own.unlink()
        os.rename(own.with_name("aside"), own)
    except OSError:
        time.sleep(0.0005)
"""
HAND_OUT_AGAIN = """
import contextlib, pathlib, sys
from workshop_lib.classroom import seat
own, shelf = map(pathlib.Path, sys.argv[1:])
for _ in range(9):
    for path in own.glob("0*"):
        with contextlib.suppress(OSError):
            path.unlink()
    with contextlib.suppress(OSError):
        seat.make_ready(own.parent, shelf)
"""


@only_thorough
@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid(), reason="two accounts: only root")
def test_a_rename_that_races_the_hand_out_leads_it_to_nothing_of_anothers(tmp_path, home):
    """It runs as the learner: where the link leads, that learner's rights end."""
    again, shelf, own = home
    again()
    place = Path(tempfile.mkdtemp(prefix="class-race-"))
    try:
        place.chmod(0o711)
        victim, learner = place / "victim", place / "learner"
        shutil.copytree(shelf, place / "shelf")
        shutil.copytree(own, learner / "lessons")
        shutil.copytree(ROOT / "workshop_lib", place / "workshop_lib")
        victim.mkdir(mode=0o700)
        (victim / "00_start_here.ipynb").write_text("the teacher's own")
        for path in [learner, *learner.rglob("*")]:
            os.chown(path, 65534, 65534)
        run = [classroom_stage.python_for_all(), "-c"]
        rights = {"user": 65534, "group": 65534, "extra_groups": [], "cwd": place}
        rights["env"] = {
            "JUPYTER_DATA_DIR": str(learner / "data"),
            "PYTHONPATH": os.pathsep.join(filter(None, [str(place), *sys.path])),
        }
        lessons = str(learner / "lessons")
        with subprocess.Popen([*run, RACE, lessons, str(victim)], stdout=-1, **rights) as race:
            assert race.stdout.readline() == b"ready\n"
            done = subprocess.run([*run, HAND_OUT_AGAIN, lessons, str(place / "shelf")], **rights)
            race.kill()
        assert done.returncode == 0
        assert [p.read_text() for p in victim.iterdir()] == ["the teacher's own"]
    finally:
        shutil.rmtree(place)


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
        [*settings.limits(3000), sys.executable, "-c", SEAT, str(workbook), "--some=option"],
        env=environment,
        capture_output=True,
        text=True,
        check=True,
    )
    assert not done.stdout + done.stderr  # the hub's files get nothing of what a server says
    *said, told = (home / seat.SAID).read_text().splitlines()
    return json.loads(told), "\n".join(said)


def test_a_seat_sets_hard_limits_and_the_learners_own_file_before_the_server(tmp_path):
    copies.write(tmp_path / "workbook" / seat.SHELF)
    told, _ = sit(tmp_path, tmp_path / "workbook")
    assert told["arguments"] == [7, ["--some=option"]]
    assert told["umask"] == 0o077
    assert told["answers"] == str(tmp_path / "lessons" / answers.FILE.name)
    wanted = [3_000_000_000, settings.MOST_TASKS, settings.LARGEST_FILE, 0]
    assert told["limits"] == [[most, most] for most in wanted]
    own = [path for path in (tmp_path / "lessons").rglob("*") if path.is_file()]
    assert {path.name for path in masters()} <= {path.name for path in own}
    assert {path.stat().st_mode & 0o777 for path in own} == {0o600}


def test_a_seat_that_cannot_hand_out_still_lets_the_learner_work(tmp_path):
    (tmp_path / "lessons").write_text("a file where the folder should be")
    told, said = sit(tmp_path, tmp_path / "workbook")
    assert told["arguments"] == [7, ["--some=option"]]
    assert "not be handed out" in said
