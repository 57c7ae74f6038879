"""A stage for the launcher's tests: real folders and processes, without the downloads."""

import os
import subprocess
import sys
import time

from workshop_lib.launcher.environment import ROOT, Environment

# Stands in for pip: notes each run, and takes as long as the clone's file `pause` says.
STAND_IN = """
import pathlib, time
with open("runs", "a") as runs: runs.write("start\\n")
time.sleep(float(pathlib.Path("pause").read_text()))
with open("runs", "a") as runs: runs.write("end\\n")
"""


class QuickEnvironment(Environment):
    """The real environment but for its downloads: a bare venv, and a stand-in for pip."""

    maker = ("-I", "-m", "venv", "--without-pip")
    installer = ("-c", STAND_IN)
    proof = "pass"
    space = 0


DRIVER = """
import signal
import sys
signal.signal(signal.SIGINT, signal.default_int_handler)  # what runs in the background ignores it
from tests.launcher.launcher_stage import QuickEnvironment
from workshop_lib.launcher import commands
commands.COMMANDS["ready"] = commands.Command("", "")
commands.hand_over = lambda *_: 0
sys.exit(commands.run(["ready"], QuickEnvironment(sys.argv[1])))
"""


def start(root):
    """Start a set-up in a process of its own."""
    return subprocess.Popen(
        [sys.executable, "-u", "-c", DRIVER, str(root)],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        encoding="utf-8",
    )


def finish(process):
    """Return a process's exit status and output."""
    output, _ = process.communicate(timeout=180)
    return process.returncode, output


def runs(root):
    """Return what the stand-in for pip noted."""
    notes = root / "runs"
    return notes.read_text().split() if notes.exists() else []


def wait_until(condition):
    """Wait for another process to get somewhere."""
    deadline = time.monotonic() + 20
    while not condition():
        assert time.monotonic() < deadline, "the other process never got there"
        time.sleep(0.02)
