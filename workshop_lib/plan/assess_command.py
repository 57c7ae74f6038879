"""Are these job files ready to turn? The command `assess`, in plain text."""

import argparse
import sys
from pathlib import Path

from workshop_lib.plan.assessing import assess
from workshop_lib.plan.job_file import load
from workshop_lib.quantities import InputError

FAILED = 2
HOLDS = {"yes": 0, "open": 1, "no": 1}


def main(arguments):
    """Judge job files; give 0 when all are ready, 1 when one is not, 2 when one cannot be read."""
    parser = argparse.ArgumentParser(prog="assess", description="Judge job files.")
    parser.add_argument("jobs", nargs="+", type=Path, metavar="job.toml")
    status = 0
    for path in parser.parse_args(arguments).jobs:
        try:
            found = assess(load(path))
        except InputError as error:
            print(error, file=sys.stderr)  # noqa: T201
            status = FAILED
            continue
        with found.job.speaking():
            print(in_words(found))  # noqa: T201
        status = max(status, HOLDS[found.holds])
    return status


def in_words(found):
    """Return an assessment as lines of text."""
    lines = [f"{found.job['about.title']}: {found.verdict}"]
    lines += [f"  {each.about}: {each.sentence}" for each in found.reasons]
    lines += ["  load, hold and what else decides:"]
    lines += [f"    {': '.join(filter(None, row[:3]))}" for row in found.table]
    lines += [f"  change: {each.sentence}" for each in found.changes]
    lines += [f"  caution: {each}" for each in found.cautions]
    lines += [f"  note: {each}" for each in found.remarks]
    lines += [f"  how sure: {found.told_chance}"] if found.told_chance else []
    return "\n".join(lines)
