"""A file is replaced whole or not at all, whenever the process ends and whoever holds it open."""

import os
import random
import signal
import stat
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.house.thorough import only_thorough
from workshop_lib.launcher.environment import ROOT
from workshop_lib.sources import safe_file
from workshop_lib.sources.safe_file import replace_text, set_aside

posix = pytest.mark.skipif(os.name == "nt", reason="permissions and signals of POSIX")


def names(folder):
    return sorted(path.name for path in folder.iterdir())


@pytest.mark.parametrize("text", ["", "800 N\n", "µm ½ ²\r\nline\n", "x" * 300_000])
def test_what_is_written_is_what_is_read(tmp_path, text):
    for _ in range(2):  # a new file, then over the old one
        replace_text(tmp_path / "a name with ä.json", text)
    assert (tmp_path / "a name with ä.json").read_bytes() == text.encode("utf-8")
    assert names(tmp_path) == ["a name with ä.json"]


def test_a_path_as_text_and_a_long_name_serve(tmp_path):
    long = tmp_path / ("n" * 240 + ".json")
    replace_text(str(long), "x")
    assert long.read_text() == "x"


@posix
@pytest.mark.parametrize("mode", [0o600, 0o640, 0o664])
def test_permissions_stay(tmp_path, mode):
    file = tmp_path / "f"
    file.write_text("old")
    file.chmod(mode)
    replace_text(file, "new")
    assert stat.S_IMODE(file.stat().st_mode) == mode


@posix
def test_a_new_file_gets_the_usual_permissions(tmp_path):
    replace_text(tmp_path / "f", "new")
    (tmp_path / "g").write_text("as open() makes it")
    assert (tmp_path / "f").stat().st_mode == (tmp_path / "g").stat().st_mode


@posix
def test_a_link_stays_a_link_and_its_file_is_replaced(tmp_path):
    (tmp_path / "there").mkdir()
    real = tmp_path / "there" / "real"
    real.write_text("old")
    (tmp_path / "link").symlink_to(real)
    replace_text(tmp_path / "link", "new")
    assert (tmp_path / "link").is_symlink() and real.read_text() == "new"


def test_what_cannot_be_written_leaves_the_old_file(tmp_path, monkeypatch):
    file = tmp_path / "f"
    file.write_text("old")
    with pytest.raises(UnicodeEncodeError):
        replace_text(file, "\ud800")

    def full(_descriptor):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(safe_file.os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        replace_text(file, "new")
    assert file.read_text() == "old" and names(tmp_path) == ["f"]


def test_a_write_protected_file_is_not_written_over(tmp_path, monkeypatch):
    file = tmp_path / "f"
    file.write_text("old")
    # An administrator may write everything, so the system's answer is stood in for.
    monkeypatch.setattr(safe_file.os, "access", lambda _path, _mode: False)
    with pytest.raises(PermissionError):
        replace_text(file, "new")
    assert file.read_text() == "old"


def test_a_folder_or_a_missing_folder_is_refused(tmp_path):
    with pytest.raises(IsADirectoryError):
        replace_text(tmp_path, "x")
    with pytest.raises(FileNotFoundError):
        replace_text(tmp_path / "none" / "f", "x")
    assert names(tmp_path) == []


class Held:
    """Stands for Windows' os.replace while another program has the file open for some tries."""

    def __init__(self, tries, winerror=32):
        self.left, self.winerror, self.replace = tries, winerror, os.replace

    def __call__(self, part, target):
        if self.left:
            self.left -= 1
            error = PermissionError(13, "in use")
            error.winerror = self.winerror
            raise error
        self.replace(part, target)


@pytest.mark.parametrize("winerror", [5, 32, 33])
def test_a_file_that_is_held_open_is_waited_for(tmp_path, monkeypatch, winerror):
    held = Held(3, winerror)
    monkeypatch.setattr(safe_file.os, "replace", held)
    replace_text(tmp_path / "f", "new")
    assert held.left == 0 and (tmp_path / "f").read_text() == "new"


@pytest.mark.parametrize(("tries", "winerror"), [(10**9, 32), (10**9, 3)])
def test_waiting_ends_and_another_refusal_is_not_waited_for(tmp_path, monkeypatch, tries, winerror):
    (tmp_path / "f").write_text("old")
    monkeypatch.setattr(safe_file, "PATIENCE", 0.1)
    held = Held(tries, winerror)
    monkeypatch.setattr(safe_file.os, "replace", held)
    with pytest.raises(PermissionError):
        replace_text(tmp_path / "f", "new")
    assert (held.left < tries - 1) == (winerror == 32)
    assert (tmp_path / "f").read_text() == "old" and names(tmp_path) == ["f"]


def test_old_parts_of_killed_processes_are_cleared_and_young_ones_left(tmp_path):
    old, young, other, held = (tmp_path / f".{n}.part" for n in ("f.old", "f.young", "g.x", "f.z"))
    for part in (old, young, other, held):
        part.write_text("half")
    for part in (old, other, held):
        os.utime(part, (time.time() - 2 * safe_file.FRESH,) * 2)
    with open(held) as file:  # as by a process that is still at it
        safe_file.hold(file.fileno())
        replace_text(tmp_path / "f", "new")
    left = [".f.young.part", ".f.z.part", ".g.x.part", "f"]
    assert names(tmp_path) == (left if safe_file.fcntl else [left[0], *left[2:]])


def test_what_is_set_aside_keeps_every_version(tmp_path):
    for number in (1, 2):
        (tmp_path / "answers.json").write_text(f"version {number}")
        kept = set_aside(tmp_path / "answers.json")
        assert kept == tmp_path / f"answers.kept-{number}.json"
        assert kept.read_text() == f"version {number}"
    assert names(tmp_path) == ["answers.kept-1.json", "answers.kept-2.json"]


WRITER = """
import sys
from workshop_lib.sources.safe_file import replace_text
for number in range(10**9):
    replace_text(sys.argv[1], f"{number}\\n" + "x" * 20000 + f"\\n{number}\\n")
"""


@posix
@only_thorough
def test_a_writer_killed_at_any_moment_leaves_a_whole_file(tmp_path):
    file, draw = tmp_path / "f", random.Random(7)
    replace_text(file, "0\n" + "x" * 20000 + "\n0\n")
    written = set()
    for _ in range(8):
        process = subprocess.Popen([sys.executable, "-c", WRITER, file], cwd=ROOT)
        before = file.stat().st_ino
        while file.stat().st_ino == before and process.poll() is None:
            time.sleep(0.002)
        time.sleep(draw.uniform(0, 0.02))
        process.send_signal(signal.SIGKILL)
        process.wait()
        first, middle, last, end = Path(file).read_text().split("\n")
        assert first == last and middle == "x" * 20000 and end == ""
        written.add(int(first))
    assert max(written) > 0  # it was cut off while it wrote, not before
