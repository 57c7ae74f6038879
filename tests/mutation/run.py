"""The command `mutants`: how many small changes of the library do the nearest tests notice?

    python3 -m workshop_lib mutants                          300 changes of all modules that compute
    python3 -m workshop_lib mutants --rooms friction slip    only of those rooms
    python3 -m workshop_lib mutants --record scores.jsonl    begun again, it goes on where it was

The work tree is not touched. `equivalents.csv` names the changes that alter nothing, with why.
"""

import argparse
import collections
import csv
import json
import os
import signal
import sys
from pathlib import Path
from typing import NamedTuple

from tests.mutation import changes
from tests.mutation.nearest import library, nearest, room
from tests.mutation.trial import BASE, KILLED, SURVIVED, TIMED_OUT, trial, warm, warm_for
from workshop_lib.launcher.environment import ROOT
from workshop_lib.launcher.trouble import Trouble

COUNT = 300
# Built on the subject: they show, ask and write down what the other rooms compute.
SHOWN_ROOMS = {
    *("classroom", "drawings", "launcher", "lessons", "plan", "shop", "teaching", "write_up"),
}
EQUIVALENTS = Path(__file__).with_name("equivalents.csv")
EQUIVALENT = "equivalent"
LONGEST = 300.0  # seconds for tests that nothing was changed for
SLOWER = 3  # times as long as that, and SPARE seconds, are granted to a mutant
SPARE = 5.0


class Picked(NamedTuple):
    """A mutant and the path of its module."""

    module: Path
    mutant: changes.Mutant

    @property
    def key(self):
        """Under which it is recorded."""
        return f"{self.module.as_posix()}: {self.mutant.name}"


def numeric():
    """Return the modules that compute, in the rooms of the subject."""
    found = [path for path in library() if path.parts[2:] and room(path) not in SHOWN_ROOMS]
    return [path for path in found if changes.computes(text(path)) or "import numpy" in text(path)]


def text(path):
    """Return what is written in a file of the clone."""
    return Path(ROOT, path).read_text(encoding="utf-8")


def pick(modules, count, seed):
    """Return the mutants of those modules that a seed picks, module by module, units first."""
    every = [Picked(path, mutant) for path in modules for mutant in changes.mutants(text(path))]
    every.sort(key=lambda picked: changes.drawn(seed, picked.mutant))
    return sorted(
        every[:count], key=lambda each: (room(each.module) != BASE, each.module, each.mutant.place)
    )


def equivalents():
    """Return the reason of each mutant that is known to change nothing, by its key."""
    with EQUIVALENTS.open(encoding="utf-8", newline="") as file:
        return {f"{row['module']}: {row['change']}": row["reason"] for row in csv.DictReader(file)}


class Record:
    """What is known so far, kept in a file, a line for each trial, if one is named."""

    def __init__(self, path=None):
        self.path, self.known = path and Path(path), {}
        if self.path and self.path.exists():
            lines = self.path.read_text(encoding="utf-8").splitlines()
            self.known = dict(json.loads(line) for line in lines)

    def once(self, key, make):
        """Return what is known under a key, after making it if it is not."""
        if key not in self.known:
            self.known[key] = make()
            if self.path:
                with self.path.open("a", encoding="utf-8") as file:
                    file.write(json.dumps([key, self.known[key]]) + "\n")
        return self.known[key]


def seconds_of(path, record):
    """Return the processor time of a test file when nothing is changed; it must pass."""
    outcome, seconds = record.once(path, lambda: trial([path], LONGEST))
    if outcome != SURVIVED:
        raise Trouble(f"{path} does not pass as it is, so no change can be judged by it")
    return seconds


def judged(picked, record):
    """Return the outcome of one mutant: by the nearest tests, and what those do not notice by
    the others of the room's folder."""
    near, folder = nearest(picked.module)
    outcome = tried(near, picked, record)
    if outcome == SURVIVED and folder:
        return tried(folder, picked, record, ", by the folder")
    return outcome


def tried(tests, picked, record, by=""):
    """Return what some test files say of a mutant: the quick ones come first."""
    order = sorted(tests, key=lambda path: seconds_of(path, record))
    limit = SLOWER * sum(seconds_of(path, record) for path in order) + SPARE
    warm_for(picked.module)
    tree = changes.changed(text(picked.module), picked.mutant)
    key = picked.key + by
    return record.once(key, lambda: trial(order, limit, picked.module, tree))[0]


def table(outcomes):
    """Return the lines of the table: a row for each room and one for all."""
    rooms = collections.defaultdict(collections.Counter)
    for picked, outcome in outcomes:
        for name in (room(picked.module), "all rooms"):
            rooms[name][outcome] += 1
    lines = [
        f"{'room':14}{'mutants':>9}{'killed':>9}{'equivalent':>12}{'survived':>10}{'score':>9}"
    ]
    for name in sorted(rooms, key=lambda name: (name == "all rooms", name)):
        row = rooms[name]
        caught, whole = row[KILLED] + row[TIMED_OUT], row.total() - row[EQUIVALENT]
        score = f"{caught / whole:.1%}" if whole else "-"
        lines.append(
            f"{name:14}{row.total():9}{caught:9}{row[EQUIVALENT]:12}{row[SURVIVED]:10}{score:>9}"
        )
    return lines


def described(picked):
    """Return where a mutant is and what it changes."""
    mutant = picked.mutant
    where = f"{picked.module.as_posix()}:{mutant.line}"
    return f"{where}  {mutant.function or 'module'}: {mutant.was}  ->  {mutant.becomes}"


def read(arguments):
    """Return the options."""
    parser = argparse.ArgumentParser(prog="mutants", description=__doc__.split("\n")[0])
    parser.add_argument("--count", type=int, default=COUNT, help="how many mutants")
    parser.add_argument("--seed", default="1", help="which ones")
    parser.add_argument("--rooms", nargs="+", default=[], help="only of these rooms")
    parser.add_argument("--record", help="a file that keeps what was found, to go on from")
    parser.add_argument("--tests", action="store_true", help="only say which tests are nearest")
    return parser.parse_args(arguments)


def main(arguments):
    """Try the mutants and print the scores; 0 if every survivor is a known equivalent."""
    options = read(arguments)
    if not hasattr(os, "fork"):
        raise Trouble("mutants are tried in forks of one process, which Windows does not have")
    modules = [path for path in numeric() if not options.rooms or room(path) in options.rooms]
    if not modules:
        every = ", ".join(sorted({room(path) for path in numeric()}))
        raise Trouble(f"there is no such room: the rooms are {every}")
    if options.tests:
        for path in modules:
            near, rest = nearest(path)
            print(f"{path.as_posix()} is tried by {' '.join(near[1:])}; then by {' '.join(rest)}")
        return 0
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(1))  # so that a child is ended too
    warm()
    same, record, outcomes = equivalents(), Record(options.record), []
    every = {picked.key for picked in pick(numeric(), None, options.seed)}
    for key in same.keys() - every:
        print("no longer there, take it out of equivalents.csv:", key)
    for picked in pick(modules, options.count, options.seed):
        outcome = EQUIVALENT if picked.key in same else judged(picked, record)
        outcomes.append((picked, outcome))
        if outcome == SURVIVED:
            print("survived:", described(picked), flush=True)
    print(*table(outcomes), sep="\n")
    return int(any(outcome == SURVIVED for _, outcome in outcomes))
