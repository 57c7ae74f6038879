"""The command `fuzz`: hostile input for everything that takes any, a million times.

    python3 -m workshop_lib fuzz                    new inputs each time; the seed is printed
    python3 -m workshop_lib fuzz 5000 --only slip   only targets whose name holds that word
    python3 -m workshop_lib fuzz --repeat "call slip.margin" 1 4711   one input again

Every input is drawn from (seed, target, number) alone, so that one can be repeated by itself. A
family of targets gets its share of the inputs; within it, what is slow gets fewer.
"""

import argparse
import collections
import multiprocessing
import os
import random
import statistics
import sys
import time
from dataclasses import dataclass, field

from tests.fuzz import buttons, calls, entries, fields, own_files, readers, scenes
from tests.fuzz.law import SORTS, tried

COUNT = 1_000_000
SHARES = {"call": 0.2, "reader": 0.3, "field": 0.37, "entry": 0.12, "panel": 0.01}  # of the inputs
FIRST = 12  # inputs of each target, by which its time is known
BATCH = 3.0  # s of inputs that one process takes at a time
SHOWN = 12  # failures that are written out for each target
FAMILIES = (calls, readers, own_files, fields, entries, scenes, buttons)


def targets(only=""):
    """Return every target by name, those of all families."""
    found = [each for family in FAMILIES for each in family.targets()]
    return {name: prepare for name, prepare in found if only in name}


def source(seed, name, number):
    """The random source of one input."""
    return random.Random(f"{seed}/{name}/{number}")


def attempt(prepare, seed, name, number):
    """Draw one input and try it; returns the outcome and what was given.

    What took too long is tried once more, with nothing kept: a busy machine may have held it up.
    """
    act, given = prepare(source(seed, name, number))
    outcome = tried(act)
    if outcome.sort == "too slow":
        forget()
        outcome = min(outcome, tried(act), key=lambda each: each.seconds)
    return outcome, given


def forget():
    """Clear what the library's functions have kept of earlier inputs."""
    for module in [m for n, m in sys.modules.items() if n.startswith("workshop_lib")]:
        for each in list(vars(module).values()):
            if hasattr(each, "cache_clear"):
                each.cache_clear()


@dataclass
class Row:
    """What came of the inputs of one target: counts by word and by sort of fault, the slowest."""

    words: collections.Counter = field(default_factory=collections.Counter)
    sorts: collections.Counter = field(default_factory=collections.Counter)
    slowest: tuple = (0.0, "", 0)
    usual: float = 0.0  # s, of the first inputs
    spent: float = 0.0  # s, of all
    shown: list = field(default_factory=list)

    def __iadd__(self, other):
        self.words += other.words
        self.sorts += other.sorts
        self.spent += other.spent
        self.slowest = max(self.slowest, other.slowest)
        self.shown += other.shown
        return self


def batch(seed, name, numbers, known):
    """Try some inputs of one target; returns its name and a `Row`."""
    row, seconds = Row(), []
    for number in numbers:
        outcome, given = attempt(known[name], seed, name, number)
        seconds.append(outcome.seconds)
        row.words[outcome.word] += 1
        row.slowest = max(row.slowest, (outcome.seconds, name, number))
        if outcome.wrong:
            row.sorts[outcome.sort] += 1
            told = f'FAILED "{name}" {seed} {number}: {outcome.wrong}\n   given {_short(given)}'
            row.shown += [told] if len(row.shown) < SHOWN else []
    row.usual, row.spent = statistics.median(seconds), sum(seconds)
    return name, row


_KNOWN = {}


def _in_process(task):
    """As `batch`, in a process of its own, which finds the targets once."""
    if not _KNOWN:
        _KNOWN.update(targets())
    return batch(*task, _KNOWN)


def rounds(usual, count):
    """How many inputs each target gets: by its family's share, and fewer where it is slow."""
    sizes = {name: max(seconds, 5e-5) ** -0.75 for name, seconds in usual.items()}
    whole = collections.Counter()
    for name, size in sizes.items():
        whole[_family(name)] += size
    shares = sum(SHARES[family] for family in whole)
    return {
        name: max(round(count * SHARES[_family(name)] / shares * size / whole[_family(name)]), 1)
        for name, size in sizes.items()
    }


def _family(name):
    return name.partition(" ")[0]


def fuzz(count, seed, only="", say=print, processes=1, minutes=float("inf")):
    """Try that many inputs, or what the time allows of them; returns {target: `Row`}."""
    end = time.monotonic() + 60 * minutes
    known = targets(only)
    first = max(min(FIRST, count // max(len(known), 1)), 1)
    found, told = {}, collections.Counter()

    def take(name, row):
        found[name] = row if name not in found else found[name].__iadd__(row)
        for line in row.shown:
            told[name] += 1
            if told[name] <= SHOWN:
                say(line)

    def run(tasks):
        if processes == 1:
            for task in tasks:
                take(*batch(*task, known))
                if time.monotonic() > end:
                    return
            return
        with multiprocessing.Pool(processes) as pool:
            for name, row in pool.imap_unordered(_in_process, tasks):
                take(name, row)
                if time.monotonic() > end:
                    return

    run([(seed, name, range(first)) for name in known])
    wanted = rounds({name: row.usual for name, row in found.items()}, count)
    tasks = []
    for name, number_of in wanted.items():
        size = max(int(BATCH / max(found[name].usual, 2e-5)), 1)
        tasks += [
            (seed, name, range(at, min(at + size, number_of)))
            for at in range(first, number_of, size)
        ]
    random.Random(seed).shuffle(tasks)
    run(tasks)
    return found


def _short(given):
    try:
        text = repr(given)
    except Exception as error:  # a thing that cannot even be written out
        text = f"something whose repr raises {type(error).__name__}"
    return text if len(text) < 600 else text[:600] + " …"


def kind(name):
    """The line of the table to which a target belongs."""
    family, rest = _family(name), name.partition(" ")[2]
    if family == "reader":
        return name
    first = rest.partition(" ")[0].partition(",")[0]
    if family == "field":
        return f"field of {first}" if first in ("prediction", "exercise") else "field of a panel"
    if family == "entry":
        return f"entry of a {first}"
    return f"panel {rest.partition(',')[0]}" if "," in rest else family


def table(found):
    """Return the lines of the table: what was tried of each kind, and what came of it."""
    heads = ("targets", "inputs", "fewest", "answered", "refused", *SORTS, "slowest", "in all")
    lines = [f"{'':28}" + "".join(f"{head:>14}" for head in heads)]
    kinds = collections.defaultdict(list)
    for name, row in found.items():
        kinds[kind(name)].append(row)
    for name, rows in [*kinds.items(), ("all", list(found.values()))]:
        whole = Row()
        for row in rows:
            whole += row
        sizes = [row.words.total() for row in rows]
        counts = [len(rows), sum(sizes), min(sizes), whole.words["answered"]]
        counts += [whole.words["refused"], *(whole.sorts[sort] for sort in SORTS)]
        cells = "".join(f"{number:>14,}".replace(",", " ") for number in counts)
        lines.append(f"{name:28}{cells}{1000 * whole.slowest[0]:>11.0f} ms{whole.spent:>12.0f} s")
    return lines


def repeat(name, seed, number):
    """Try one input again and let its error through."""
    act, given = targets()[name](source(seed, name, number))
    print(_short(given))
    print(act())


def main(arguments):
    """Run the fuzz and print the table; return 1 if anything broke the law."""
    parser = argparse.ArgumentParser(prog="fuzz", description=__doc__.splitlines()[0])
    parser.add_argument("count", nargs="?", type=int, default=COUNT)
    parser.add_argument("--seed", type=int, default=None)
    parser.add_argument("--only", default="")
    parser.add_argument("--processes", type=int, default=os.cpu_count())
    parser.add_argument("--minutes", type=float, default=float("inf"))
    parser.add_argument("--repeat", nargs=3, metavar=("TARGET", "SEED", "NUMBER"))
    options = parser.parse_args(arguments)
    if options.repeat:
        name, seed, number = options.repeat
        return repeat(name, int(seed), int(number))
    seed = random.SystemRandom().randrange(10**6) if options.seed is None else options.seed
    print(f"seed {seed}", flush=True)
    begun = time.perf_counter()
    settings = {"processes": options.processes, "minutes": options.minutes}
    found = fuzz(options.count, seed, options.only, **settings)
    print(*table(found), sep="\n")
    slowest = max(row.slowest for row in found.values())
    total = sum(row.words.total() for row in found.values())
    print(f"{total} inputs in {time.perf_counter() - begun:.0f} s.")
    print(f'Slowest: {slowest[0]:.2f} s, "{slowest[1]}" {seed} {slowest[2]}.')
    if any(row.sorts for row in found.values()):
        print('Repeat one: python3 -m workshop_lib fuzz --repeat "TARGET" SEED NUMBER')
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
