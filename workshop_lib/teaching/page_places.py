"""What are the pages of lessons called, so that none takes the place of another?

A page bears a mark of what it was made from, which no reader sees. Only a page made from the same
again replaces it; anything else of its name stays, and the new page gets another name.
"""

import hashlib
import itertools
import os

from workshop_lib.launcher.environment import ROOT

CONTENTS = "index"
_HEAD = 4096  # bytes of a page among which its mark stands


def mark(path, answers):
    """Return the mark of a page in HTML. path: what it is made from, or None for the contents."""
    told = CONTENTS
    if path is not None:
        whole = path.resolve()
        told = whole.relative_to(ROOT) if whole.is_relative_to(ROOT) else whole
        told = f"{told.as_posix()} {answers}"
    return f'<meta name="made-from" content="{hashlib.sha256(told.encode()).hexdigest()[:16]}">'


def name(folder, path, marked, taken, added=""):
    """Return the name for a page: its own of before, or one that nothing in the folder has.

    path: what it is made from, or None for the contents. marked: its mark. taken: names already
    given to other pages. added: what its name ends with.
    """
    for stem in stems(path, added):
        file = folder / f"{stem}.html"
        if file.name not in taken and (not os.path.lexists(file) or bears(file, marked)):
            return file.name
    raise AssertionError("there is always one more name")


def stems(path, added):
    """Yield a page's own name, with its folder's, then with a number."""
    stem = f"{path.stem}{added}" if path else CONTENTS
    yield stem
    if path and path.resolve().parent.name:
        yield f"{stem}_{path.resolve().parent.name}"
    yield from (f"{stem}_{number}" for number in itertools.count(2))


def bears(file, marked):
    """Return whether a file bears a mark; what cannot be read is somebody else's."""
    try:
        with file.open("rb") as page:
            return marked.encode() in page.read(_HEAD)
    except OSError:
        return False
