"""Several kernels write one learner's file at once, and any may end at any moment."""

import os
import random
import signal
import subprocess
import sys
import time

import pytest

from tests.house.thorough import among
from workshop_lib.launcher.environment import ROOT
from workshop_lib.teaching.answer_file import FileStore

posix = pytest.mark.skipif(os.name == "nt", reason="signals of POSIX")


@pytest.fixture
def file(tmp_path):
    return tmp_path / "a folder" / "my_answers.jsonl"


@pytest.fixture
def kept(file):
    return FileStore(file)


def given(shelf, key="k"):
    return [entry["given"] for entry in shelf.entries(key)]


def next_day(shelf):
    """The store as another kernel finds it later."""
    return FileStore(shelf.path)


def test_two_open_lessons_see_each_others_entries(kept):
    other = next_day(kept)
    kept.record("k", {"given": "1"})
    other.record("k", {"given": "2"})
    kept.record("k", {"given": "3"})
    assert given(kept) == given(other) == ["1", "2", "3"]


WRITER = """
import sys
from workshop_lib.teaching.answer_file import FileStore
shelf = FileStore(sys.argv[1])
for number in range(int(sys.argv[3])):
    shelf.record(f"key {number % 3}", {"given": f"{sys.argv[2]} {number}"})
    print(number, shelf.word(), flush=True)
"""


def writer(file, name, count):
    command = [sys.executable, "-c", WRITER, str(file), name, str(count)]
    return subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True)


def all_given(file):
    return [each for key in range(3) for each in given(FileStore(file), f"key {key}")]


def test_kernels_that_write_at_the_same_time_lose_nothing(file):
    writers = [writer(file, name, 40) for name in "ABC"]
    for each in writers:
        assert each.communicate(timeout=60)[0].split() == [str(n) for n in range(40)]
    found = all_given(file)
    assert sorted(found) == sorted(f"{name} {number}" for name in "ABC" for number in range(40))
    for name in "ABC":
        own = [int(each[2:]) for each in given(FileStore(file), "key 0") if each[0] == name]
        assert own == sorted(own)


@posix
def test_a_kernel_killed_at_any_moment_leaves_a_whole_file(file):
    draw, promised = random.Random(3), []
    for name in among("ABC", "ABCDEF"):
        process = writer(file, name, 10**9)
        lines = [process.stdout.readline() for _ in range(4)]
        time.sleep(draw.uniform(0, 0.03))
        process.send_signal(signal.SIGKILL)
        lines += process.communicate()[0].splitlines()
        promised += [f"{name} {line.split()[0]}" for line in lines]
        found = all_given(file)
        assert set(promised) <= set(found) and len(found) == len(set(found))
    assert len(promised) > among(10, 20)
    assert list(file.parent.glob("*kept*")) == []
