"""How does a job's card get onto paper? The command `card`."""

import argparse
import sys
from pathlib import Path

from workshop_lib import plan
from workshop_lib.quantities import InputError
from workshop_lib.write_up.card_page import write_card

FAILED = 2


def main(arguments):
    """Write the card of each job file; give 0 when all are written."""
    parser = argparse.ArgumentParser(prog="card", description="Write cards for the machine.")
    parser.add_argument("jobs", nargs="+", type=Path, metavar="job.toml")
    parser.add_argument("--folder", type=Path, help="where the cards go; usually beside the job")
    given = parser.parse_args(arguments)
    for path in given.jobs:
        try:
            written = write_card(plan.load(path), given.folder or path.parent)
        except InputError as error:
            print(error, file=sys.stderr)  # noqa: T201
            return FAILED
        print(f"{written}: written. Print it from your browser.")  # noqa: T201
    return 0
