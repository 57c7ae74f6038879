"""Which file keeps a learner's answers? An environment variable names it to the lessons' kernels.

Only the command `open` names it. Set the variable before the start to put the file elsewhere, for
example for each learner of a class, or set it to nothing to keep no file.
"""

import os
from pathlib import Path

from workshop_lib.launcher.environment import ADDITIONS, MY_LESSONS, own_lessons

VARIABLE = "WORKSHOP_ANSWERS"
FILE = MY_LESSONS / "my_answers.jsonl"


def keep():
    """Name the learner's own file to every kernel that is started from here on."""
    os.environ.setdefault(VARIABLE, str(FILE))


def forget(folder=None):
    """Name no file: lessons executed from here on touch nobody's answers, nor own additions.

    folder: that of the lesson which is run; a teacher's own lesson keeps what stands beside it.
    """
    os.environ.pop(VARIABLE, None)
    beside = {path.parent.resolve() for path in own_lessons()}
    if folder is None or Path(folder).resolve() not in beside:
        os.environ[ADDITIONS] = ""
