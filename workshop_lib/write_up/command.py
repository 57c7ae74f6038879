"""How do job files become pages? The command `write-up`."""

import argparse
import sys
from pathlib import Path

from workshop_lib import plan
from workshop_lib.quantities import InputError
from workshop_lib.write_up.publish import FORMS, why_numbered, write

FAILED = 2


def main(arguments):
    """Write a job file up as a page; give 0 when it is written."""
    parser = argparse.ArgumentParser(prog="write-up", description="Write job files up as pages.")
    parser.add_argument("jobs", nargs="+", type=Path, metavar="job.toml")
    parser.add_argument("--form", choices=FORMS, default="html")
    parser.add_argument("--folder", type=Path, help="where the pages go; usually beside the job")
    given = parser.parse_args(arguments)
    for path in given.jobs:
        try:
            job = plan.load(path)
            page = write(job, given.folder or path.parent, given.form)
        except InputError as error:
            print(error, file=sys.stderr)  # noqa: T201
            return FAILED
        print(f"{page}: written. {why_numbered(job, page)}".rstrip())  # noqa: T201
    return 0
