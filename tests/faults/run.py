"""The command `faults`: does what was good survive when a process is killed while it writes?

    python3 -m workshop_lib faults                  300 kills over all kinds of files
    python3 -m workshop_lib faults --only worksheets

Each kind of file is written for real in a scratch folder, by a process that is killed before each
of its steps that change the disk in turn, and then at moments drawn by chance. Whole is what equals
the state before or the state after, to the byte; where files belong together, all of them. Then
the same is written once more, as a next start would, and must give the state after, with nothing
half-written left beside it.
"""

import argparse
import contextlib
import io
import os
import random
import signal
import sys
import tempfile
import time
import warnings
from pathlib import Path

from tests.faults.subjects import SUBJECTS, every_file
from workshop_lib.launcher.trouble import Trouble

STEPS = {"os.rename", "os.remove", "os.rmdir", "os.mkdir", "os.chmod", "os.link", "os.symlink"}
WRITES = os.O_WRONLY | os.O_RDWR
LONGEST_LIST = 3


def main(arguments):
    """Kill as often as asked for, print a table, and give 0 when everything was whole."""
    parser = argparse.ArgumentParser(prog="faults", description="Kill what writes files.")
    parser.add_argument("--count", type=int, default=300, help="how many kills (300)")
    parser.add_argument("--seed", type=int, default=None, help="which moments")
    parser.add_argument("--only", nargs="+", default=[], metavar="NAME", help="kinds of files")
    chosen = parser.parse_args(arguments)
    if not hasattr(os, "fork"):
        raise Trouble("processes are killed where they can be forked: on Linux or a Mac")
    taken = [s for s in SUBJECTS if not chosen.only or any(n in s.name for n in chosen.only)]
    if not taken:
        raise Trouble(f"there is none of {', '.join(chosen.only)} among the kinds of files")
    seed = int(time.time()) if chosen.seed is None else chosen.seed
    draw, bad = random.Random(seed), 0
    print(f"seed {seed}\n{'':24}{'steps':>7}{'kills':>7}{'whole':>7}{'mended':>8}")  # noqa: T201
    for number, subject in enumerate(taken):
        left = chosen.count // len(taken) + (number < chosen.count % len(taken))
        bad += told(subject, *trial(subject, left, draw))
    return 1 if bad else 0


def told(subject, steps, kills, faults):
    """Print a row for one kind of file, and what was not whole; return how often."""
    sorts = [sum(sort == word for sort, _ in faults) for word in ("torn", "not mended")]
    row = f"{steps:>7}{kills:>7}{kills - sorts[0]:>7}{kills - sorts[1]:>8}"
    print(f"{subject.name:24}{row}", flush=True)  # noqa: T201
    for sort, words in faults[:LONGEST_LIST]:
        print(f"    {sort}: {words}")  # noqa: T201
    return len(faults)


def trial(subject, count, draw):
    """Kill one subject before each step, then at random moments; return steps, kills, faults."""
    with tempfile.TemporaryDirectory(prefix="workshop-faults-") as scratch:
        old, new, seconds, steps = usual(subject, Path(scratch))
        faults, moments = [], list(range(steps))
        moments += [draw.uniform(0, seconds) for _ in range(count - steps)]
        for number, moment in enumerate(moments):
            folder = Path(scratch, f"kill {number}")
            folder.mkdir()
            quietly(subject.before, folder)
            killed(subject.change, folder, moment)
            faults += judged(subject, folder, old, new, f"killed at {moment}")
    return steps, len(moments), faults


def usual(subject, scratch):
    """Return the state before, the state after, how long the change takes, and its steps."""
    states = []
    for name in ("once", "again"):  # the second run has all modules loaded
        folder = scratch / name
        folder.mkdir()
        quietly(subject.before, folder)
        old, start = state(subject, folder), time.monotonic()
        steps = killed(subject.change, folder, None)
        states = [old, state(subject, folder), time.monotonic() - start, steps]
    return states


def state(subject, folder):
    """Return what a person finds in a folder."""
    return (subject.found or every_file)(folder)


def judged(subject, folder, old, new, when):
    """Return what is wrong with what a kill left, and with what the next start makes of it."""
    here, faults = state(subject, folder), []
    if subject.sets or subject.found:
        torn = here not in (old, new)
    else:
        torn = any(text not in (old.get(name), new.get(name)) for name, text in here.items())
        torn |= any(name not in here for name in old.keys() & new.keys())
    if torn:
        faults.append(("torn", f"{when}: {differing(here, old, new)}"))
    for path in folder.rglob(".*"):  # a next start comes later than at once
        with contextlib.suppress(OSError):
            os.utime(path, (time.time() - 10,) * 2, follow_symlinks=False)
    try:
        quietly(subject.change, folder)
    except Exception as error:  # whatever it is, the next start did not mend it
        return [*faults, ("not mended", f"{when}: {error!r}")]
    again, left = state(subject, folder), [path.name for path in folder.rglob("*.part")]
    if subject.name == "answers":  # a line more each time
        again = {"answers": again["answers"][: len(new["answers"])]}
    if again != new or left:
        faults.append(("not mended", f"{when}: {differing(again, old, new)} {left}"))
    return faults


def differing(here, old, new):
    """Return the names of what is neither as before nor as after."""
    names = sorted({*here, *old, *new})
    ways = [f"{n}: {here.get(n) == old.get(n)}/{here.get(n) == new.get(n)}" for n in names]
    return "as before/as after: " + ", ".join(ways[:6])


def killed(change, folder, moment):
    """Run a change in a process that is killed; return how many steps it took.

    moment: before which step, or after how many seconds if it is no whole number; None for never.
    """
    reading, writing = os.pipe()
    child = os.fork()
    if not child:
        os.close(reading)
        run_child(change, folder, moment, writing)
    os.close(writing)
    if isinstance(moment, float):
        time.sleep(moment)
        with contextlib.suppress(ProcessLookupError):
            os.kill(child, signal.SIGKILL)
    with open(reading, "rb") as pipe:
        steps = len(pipe.read())
    os.waitpid(child, 0)
    return steps


def run_child(change, folder, moment, writing):
    """Run the change, telling each step; does not return."""
    taken = 0

    def step(event, given):
        nonlocal taken
        place = str(given[0]) if given else ""
        opened = event == "open" and isinstance(given[2], int) and given[2] & WRITES
        if not (opened or event in STEPS) or str(folder.parent) not in os.path.abspath(place):
            return
        if moment == taken and isinstance(moment, int):
            os.kill(os.getpid(), signal.SIGKILL)
        taken += 1
        os.write(writing, b".")

    status = 1
    try:
        sys.addaudithook(step)
        quietly(change, folder)
        status = 0
    finally:
        os._exit(status)


def quietly(action, folder):
    """Do something without its words."""
    with warnings.catch_warnings(), contextlib.redirect_stdout(io.StringIO()):
        warnings.simplefilter("ignore")
        action(folder)
