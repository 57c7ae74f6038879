"""A set of files changes as one, whenever the process ends."""

import os
import shutil
import subprocess
import sys

import pytest

from tests.house.thorough import among, only_thorough
from workshop_lib.launcher.environment import ROOT
from workshop_lib.sources import replace_folder, restore
from workshop_lib.sources.safe_set import BEFORE

posix = pytest.mark.skipif(os.name == "nt", reason="signals and links of POSIX")
OLD, NEW = ({"sheets": f"{word} sheets", "key": f"{word} key".encode()} for word in ("old", "new"))
# Kills itself before its so-many-th step that changes the folder.
KILLED = """
import os, signal, sys
from workshop_lib.sources import replace_folder, safe_set
left = int(sys.argv[2])
def step(event, given):
    global left
    writes = event == "open" and isinstance(given[2], int) and given[2] & (os.O_WRONLY | os.O_RDWR)
    if writes or event in ("os.rename", "os.remove", "os.rmdir", "os.mkdir", "os.chmod"):
        left -= 1
        if left < 0:
            os.kill(os.getpid(), signal.SIGKILL)
if sys.argv[3] == "two steps":
    safe_set._exchanged = lambda one, other: False
sys.addaudithook(step)
replace_folder(sys.argv[1], {"sheets": "new sheets", "key": "new key"})
"""


def held(folder):
    """Return what a folder holds, by name."""
    return {each.name: each.read_text() for each in folder.iterdir()}


def texts(files):
    return {name: text if isinstance(text, str) else text.decode() for name, text in files.items()}


def test_a_set_takes_the_place_of_another_and_leaves_what_is_not_of_it(tmp_path):
    folder = tmp_path / "set"
    replace_folder(folder, OLD | {"sheet_9": "goes"})
    (folder / "notes").write_text("mine")
    (folder / "photos").mkdir()
    (folder / "photos" / "one").write_text("a photo")
    replace_folder(folder, NEW, ours=lambda name: name.startswith("sheet"))
    assert (folder / "photos" / "one").read_text() == "a photo"
    shutil.rmtree(folder / "photos")
    assert held(folder) == texts(NEW) | {"notes": "mine"}
    assert [each.name for each in tmp_path.iterdir()] == ["set"]


@posix
def test_a_link_to_a_folder_stays_one(tmp_path):
    (tmp_path / "link").symlink_to(tmp_path / "set")
    replace_folder(tmp_path / "set", OLD)
    replace_folder(tmp_path / "link", NEW)
    assert (tmp_path / "link").is_symlink() and held(tmp_path / "set") == texts(NEW)


def test_what_cannot_be_written_leaves_the_old_set(tmp_path):
    replace_folder(tmp_path / "set", OLD)
    with pytest.raises(UnicodeEncodeError):
        replace_folder(tmp_path / "set", NEW | {"worse": "\ud800"})
    assert held(tmp_path / "set") == texts(OLD)
    assert [each.name for each in tmp_path.iterdir()] == ["set"]


@posix
@pytest.mark.parametrize("how", ["one step", pytest.param("two steps", marks=only_thorough)])
def test_killed_before_each_step_it_leaves_one_whole_set_that_the_next_start_finds(tmp_path, how):
    seen, number, status = [], 0, None
    while status != 0:
        folder = tmp_path / str(number) / "set"
        folder.parent.mkdir()
        replace_folder(folder, OLD)
        command = [sys.executable, "-c", KILLED, folder, str(number), how]
        status = subprocess.run(command, cwd=ROOT).returncode
        here = held(folder) if folder.exists() else None
        before = folder.with_name(f".set{BEFORE}")
        assert here in (texts(OLD), texts(NEW)) or (here is None and how == "two steps")
        assert here or held(before) == texts(OLD)
        restore(folder)
        assert held(folder) == (here or texts(OLD)) and not before.exists()
        seen.append(here)
        number += among(3, 1)
    assert seen[0] == texts(OLD) and seen[-1] == texts(NEW)
