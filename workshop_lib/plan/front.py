"""A whole job, from its file to its judgement. The public calls, in one place.

`load` and `save` a job file, `job` makes one from typed entries, `entries` says what may stand in
it, `assess` judges it, `compare` lays two side by side.
"""

from workshop_lib.planning.assessing import Assessment, assess
from workshop_lib.planning.checking import JobFaults
from workshop_lib.planning.comparing import Comparison, compare, compare_judged
from workshop_lib.planning.entries import ENTRIES
from workshop_lib.planning.job import Job
from workshop_lib.planning.job_file import load, parse, save
from workshop_lib.planning.names import INPUT_NAMES, NEED_NOT_ADD_UP, QUESTIONS

__all__ = [
    "INPUT_NAMES",
    "NEED_NOT_ADD_UP",
    "QUESTIONS",
    "Assessment",
    "Comparison",
    "Job",
    "JobFaults",
    "assess",
    "compare",
    "compare_judged",
    "entries",
    "job",
    "load",
    "parse",
    "save",
]


def job(entries):
    """Which job follows from these entries? A dictionary from dotted keys to typed values.

    entries: such as {"disc.diameter": "78 mm", …}; see `plan.entries()`. Returns a `Job`. Raises
    `JobFaults`, which names every fault by its key.
    """
    return Job(entries)


def entries():
    """What may stand in a job? Rows of key, meaning, and whether it must be there."""
    return [
        [key, entry.means, "needed" if entry.required else ""] for key, entry in ENTRIES.items()
    ]
