"""Where are a learner's predictions and answers kept, so that cells and panels share them?

The store lives in memory and forgets with the kernel, unless the environment variable
`WORKSHOP_ANSWERS` names a file: then it is a `FileStore`. The command `open` sets the variable; the
checks and the storing of notebooks take it away, so that a lesson that is executed there neither
reads nor writes anyone's answers.
"""

import os

from workshop_lib.launcher.answers import VARIABLE
from workshop_lib.teaching.answer_file import FileStore, Store

_current = []


def use(store):
    """Put another store in place of the current one; returns the one that was in use."""
    before, _current[:] = current(), [store]
    return before


def current():
    """Return the store in use."""
    if not _current:
        path = os.environ.get(VARIABLE, "").strip()
        _current.append(FileStore(path) if path else Store())
    return _current[0]
