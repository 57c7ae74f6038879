"""A real class for tests and measurements: made by the command, taken away without a trace.

It makes system accounts and takes minutes, so it runs only where somebody with the administrator's
rights asks for it: by `check --thorough`, or by the variable WORKSHOP_CLASS_TEST, set to 1 or to a
folder, which then keeps the environment for the next run.
"""

import contextlib
import json
import os
import re
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from workshop_lib.classroom import accounts, hub
from workshop_lib.classroom.places import Places
from workshop_lib.classroom.settings import Wish
from workshop_lib.launcher.environment import ROOT
from workshop_lib.launcher.trouble import Trouble

ASKED = os.environ.get("WORKSHOP_CLASS_TEST", "")
ANN, BEN = "classtest-ann", "classtest-ben"
LESSON = "lessons/02_the_slip_criterion.ipynb"

SET_UP_SECONDS = 600  # packages are fetched
END_SECONDS = 120
PASSWORD = re.compile(r"^(?:.*  )?([a-z][a-z0-9-]*) {2,}((?:[a-z]{4}-){2}[a-z]{4})$", re.MULTILINE)


def free_port():
    """Return a port that is free, and whose inner ones are."""
    for port in range(8931, 9400):
        with contextlib.suppress(Trouble):
            hub.claim_ports(Wish(port=port)).close()
            return port
    raise AssertionError("no free port")


def tried(opened, login, code):
    """Run code in a learner's kernel and return what it prints as JSON."""
    kernel = opened.rooms[login][1]
    return json.loads(opened.run(kernel.run(code)))


def python_for_all():
    """Return a Python that every account of this machine can run, or None."""
    for python in (sys._base_executable, "/usr/bin/python3"):
        test = "import sys, venv, ensurepip; sys.exit(sys.version_info < (3, 11))"
        with contextlib.suppress(OSError):
            options = {"user": 65534, "group": 65534, "extra_groups": [], "cwd": "/"}
            if not subprocess.run([python, "-I", "-c", test], **options).returncode:
                return python
    return None


class Stage:
    """One class in a folder: its passwords by login name, and its address while it is open."""

    def __init__(self, folder, port):
        self.places, self.port = Places(folder), port
        self.passwords, self.process = {}, None
        self.address = f"http://127.0.0.1:{port}"

    def call(self, *arguments):
        """Run the command and return what it prints; what fails is raised with its words."""
        done = subprocess.run(
            self.command(*arguments),
            cwd=ROOT,
            env=variables(),
            capture_output=True,
            text=True,
            timeout=SET_UP_SECONDS,
        )
        assert done.returncode == 0, done.stdout + done.stderr
        return done.stdout

    def command(self, *arguments):
        """Return the command line of `class`."""
        folder = f"--folder={self.places.folder}"
        return [python_for_all(), "-m", "workshop_lib", "class", folder, *arguments]

    def add(self, logins):
        """Add learners by a class list."""
        with tempfile.NamedTemporaryFile("w", suffix=".csv") as listed:
            listed.write("\n".join(logins))
            listed.flush()
            said = self.call("add", listed.name)
        self.passwords |= dict(PASSWORD.findall(said))
        assert set(logins) <= set(self.passwords), said

    @contextlib.contextmanager
    def open(self, *options):
        """Start the class and end it afterwards; gives what the command said until it was open."""
        usual = ["prlimit", "--nofile=1024:"]  # open files, as most machines allow
        command = [*usual, *self.command("start", f"--port={self.port}", *options)]
        with subprocess.Popen(
            command,
            cwd=ROOT,
            env=variables(),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            bufsize=1,
        ) as self.process:
            said = []
            try:
                for line in self.process.stdout:
                    said.append(line)
                    if line.startswith("Keep this window open"):
                        break
                else:
                    raise AssertionError("".join(said))
                yield "".join(said)
            finally:
                self.process.send_signal(signal.SIGINT)
                self.process.wait(END_SECONDS)

    def take_away(self):
        """Remove every learner, and then the folder with all that is in it."""
        for login in accounts.members(self.places):
            with contextlib.suppress(AssertionError):
                self.call("remove", login)
        shutil.rmtree(self.places.left, ignore_errors=True)


def variables():
    """Return the variables of a command that must not lean on this process's environment."""
    foreign = ("PYTHONPATH", "VIRTUAL_ENV", "PYTHONNOUSERSITE")
    return {name: value for name, value in os.environ.items() if name not in foreign}


@contextlib.contextmanager
def stage(port, folder=None):
    """Give a class in a folder of its own, and take it away afterwards; a named folder is kept."""
    made = Path(folder or tempfile.mkdtemp(prefix="class-test-"))
    made.mkdir(exist_ok=True)
    made.chmod(0o755)
    own = Stage(made / "class", port)
    try:
        yield own
    finally:
        own.take_away()
        if not folder:
            shutil.rmtree(made)


def hub_of(stage):
    """Return the number of the hub of a class that is open."""
    return int(Path(f"/proc/{stage.process.pid}/task/{stage.process.pid}/children").read_text())


def of_class(stage):
    """Return the numbers of root's programs that run from a class's environment."""
    mark, found = str(stage.places.workbook).encode(), []
    for number in processes(0):
        with contextlib.suppress(OSError):
            if mark in Path(f"/proc/{number}/cmdline").read_bytes():
                found.append(number)
    return found


def processes(uid):
    """Return the numbers of an account's processes that live, the oldest first.

    Numbers start again from the beginning when all have been used: the least is not the oldest.
    """
    found = []
    for folder in Path("/proc").iterdir():
        with contextlib.suppress(OSError):
            if folder.name.isdigit() and folder.stat().st_uid == uid:
                fields = (folder / "stat").read_text().rpartition(")")[2].split()
                begun = int(fields[19])  # proc_pid_stat(5), field 22: starttime
                found += [(begun, int(folder.name))] * (fields[0] not in "ZX")
    return [number for _, number in sorted(found)]


def memory_of(numbers):
    """Return the memory in MB that these processes take: their own, and their part of the shared.

    It is the kernel's proportional set size, in which a page that n processes share counts 1/n.
    """
    total = 0
    for number in numbers:
        with contextlib.suppress(OSError):
            text = Path(f"/proc/{number}/smaps_rollup").read_text()
            total += int(re.search(r"^Pss: +(\d+) kB", text, re.MULTILINE)[1])
    return total * 1024 / 1e6


def seconds_of(numbers):
    """Return the processor time in seconds that these processes have used."""
    total = 0.0
    for number in numbers:
        with contextlib.suppress(OSError):
            fields = Path(f"/proc/{number}/stat").read_text().rpartition(")")[2].split()
            total += sum(map(int, fields[11:15])) / os.sysconf("SC_CLK_TCK")
    return total


def wait_until(condition, seconds):
    """Wait for something; return whether it came."""
    deadline = time.monotonic() + seconds
    while time.monotonic() < deadline:
        if condition():
            return True
        time.sleep(0.2)
    return False
