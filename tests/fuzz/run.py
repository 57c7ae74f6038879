"""The command `fuzz`: hostile input for every public call, reader and panel, seeded.

    python3 -m workshop_lib fuzz                  100 000 inputs
    python3 -m workshop_lib fuzz 5000 --only slip only targets whose name holds that word
    python3 -m workshop_lib fuzz --repeat "call slip.margin" 1 4711   one input again

Every input is drawn from (seed, target, number) alone, so that one can be repeated by itself.
"""

import argparse
import collections
import random
import sys
import time

from tests.fuzz import calls, readers, scenes
from tests.fuzz.law import tried

COUNT = 100_000
SHARES = {"call": 0.45, "reader": 0.45, "panel": 0.10}  # of the inputs
SHOWN = 12  # failures that are written out for each target


def targets(only=""):
    """Return every target by name, those of all three families."""
    found = [*calls.targets(), *readers.targets(), *scenes.targets()]
    return {name: prepare for name, prepare in found if only in name}


def source(seed, name, number):
    """The random source of one input."""
    return random.Random(f"{seed}/{name}/{number}")


def attempt(prepare, seed, name, number):
    """Draw one input and try it; returns the outcome and what was given."""
    act, given = prepare(source(seed, name, number))
    return tried(act), given


def rounds(names, count):
    """How many inputs each target gets, by the family's share."""
    sizes = collections.Counter(name.partition(" ")[0] for name in names)
    whole = sum(SHARES[family] for family in sizes)
    return {
        name: max(int(count * SHARES[family] / whole / sizes[family]), 1)
        for name in names
        for family in [name.partition(" ")[0]]
    }


def fuzz(count, seed, only="", say=print):
    """Try that many inputs; returns (outcomes by word, failures, slowest)."""
    chosen = targets(only)
    words, failures, slowest = collections.Counter(), [], (0.0, "", 0)
    for name, number_of in rounds(chosen, count).items():
        bad = 0
        for number in range(number_of):
            outcome, given = attempt(chosen[name], seed, name, number)
            words[outcome.word] += 1
            slowest = max(slowest, (outcome.seconds, name, number))
            if outcome.wrong:
                bad += 1
                failures.append((name, number, outcome.wrong))
                if bad <= SHOWN:
                    say(
                        f'FAILED "{name}" {seed} {number}: {outcome.wrong}\n'
                        f"   given {_short(given)}"
                    )
    return words, failures, slowest


def _short(given):
    try:
        text = repr(given)
    except Exception as error:  # a thing that cannot even be written out
        text = f"something whose repr raises {type(error).__name__}"
    return text if len(text) < 600 else text[:600] + " …"


def repeat(name, seed, number):
    """Try one input again and let its error through."""
    act, given = targets()[name](source(seed, name, number))
    print(_short(given))
    print(act())


def main(arguments):
    """Run the fuzz and print the counts; return 1 if anything broke the law."""
    parser = argparse.ArgumentParser(prog="fuzz", description=__doc__.splitlines()[0])
    parser.add_argument("count", nargs="?", type=int, default=COUNT)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", default="")
    parser.add_argument("--repeat", nargs=3, metavar=("TARGET", "SEED", "NUMBER"))
    options = parser.parse_args(arguments)
    if options.repeat:
        name, seed, number = options.repeat
        return repeat(name, int(seed), int(number))
    begun = time.perf_counter()
    words, failures, slowest = fuzz(options.count, options.seed, options.only)
    total, spent = sum(words.values()), time.perf_counter() - begun
    told = ", ".join(f"{words[word]} {word}" for word in ("answered", "refused", "failed"))
    print(f"{total} inputs in {spent:.0f} s: {told}.")
    print(f'Slowest: {slowest[0]:.2f} s, "{slowest[1]}" {options.seed} {slowest[2]}.')
    if failures:
        print('Repeat one: python3 -m workshop_lib fuzz --repeat "TARGET" SEED NUMBER')
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
