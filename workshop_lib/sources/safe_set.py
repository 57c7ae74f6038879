"""How do files that belong together change together, so that nobody meets a mixture of two sets?

The standard library only, as in `safe_file`.
"""

import contextlib
import ctypes
import errno
import os
import shutil
import tempfile
from pathlib import Path

from workshop_lib.sources.safe_file import (
    PART,
    hold,
    is_abandoned,
    mask,
    parts_of,
    prefix,
    settle_names,
)

BEFORE = ".before"  # how the name of the earlier set ends while the new one takes its place


def replace_folder(folder, files, ours=lambda _name: False):
    """Write a folder of files as one set, or leave the one that is there as it was.

    The set goes to a new folder beside it, which changes places with the old one when it is whole:
    in one step on Linux, elsewhere in two. A process that is killed between the two leaves the old
    set under another name, and `restore`, which the next call begins with, gives it its own back.

    folder: its path; a link stays a link. The folder that it lies in is there. files: text or bytes
    by name, which may lead into a folder of it, as "figures/one.svg"; text is written as UTF-8.
    ours: tells by such a name what belongs to an earlier set and goes with it; everything else
    stays. Raises OSError when that cannot be done.

    >>> with tempfile.TemporaryDirectory() as place:
    ...     replace_folder(Path(place, "set"), {"sheets": "12 sheets", "key": "12 answers"})
    ...     replace_folder(Path(place, "set"), {"sheets": "3 sheets", "key": "3 answers"})
    ...     sorted(each.read_text() for each in Path(place, "set").iterdir())
    ['3 answers', '3 sheets']
    """
    target = Path(os.path.realpath(folder))
    restore(target)
    fresh = Path(tempfile.mkdtemp(PART, prefix(target), target.parent))
    try:
        with _held(fresh):
            for name, content in files.items():
                _write(fresh / name, content)
            if target.is_dir():
                shutil.copymode(target, fresh)
                _take_along(target, fresh, files, ours)
            else:
                fresh.chmod(0o777 & ~mask())
            settle_names(fresh)
            _take_the_place(fresh, target)
    finally:
        shutil.rmtree(fresh, ignore_errors=True)
    settle_names(target.parent)
    shutil.rmtree(_before(target), ignore_errors=True)


def restore(folder):
    """Bring back a set whose place was just being taken when a process was killed.

    What such a process had begun goes. Raises OSError where the folder cannot be renamed.
    """
    target = Path(os.path.realpath(folder))
    before = _before(target)
    if not target.parent.is_dir():
        return
    if before.is_dir() and not os.path.lexists(target):
        before.rename(target)
    shutil.rmtree(before, ignore_errors=True)
    for left in parts_of(target):
        if is_abandoned(left):
            shutil.rmtree(left, ignore_errors=True)


def _before(target):
    return target.with_name(f".{target.name[:60]}{BEFORE}")


@contextlib.contextmanager
def _held(folder):
    """Mark a folder as this process's while it is filled."""
    with contextlib.ExitStack() as stack:
        with contextlib.suppress(OSError):  # Windows opens no folder
            descriptor = os.open(folder, os.O_RDONLY)
            stack.callback(os.close, descriptor)
            hold(descriptor)
        yield


def _write(path, content):
    path.parent.mkdir(exist_ok=True)
    with open(path, "wb") as file:
        file.write(content if isinstance(content, bytes) else content.encode("utf-8"))
        file.flush()
        os.fsync(file.fileno())


def _take_along(target, fresh, files, ours):
    """Copy what somebody else put into the old folder."""
    for each in sorted(target.rglob("*")):
        name = each.relative_to(target).as_posix()
        if each.is_dir() and not each.is_symlink():
            continue
        if name not in files and not ours(name):
            if (fresh / name).is_dir():
                raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(each))
            (fresh / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(each, fresh / name, follow_symlinks=False)


def _take_the_place(fresh, target):
    """Put the new folder where the old one stood; the old one back if that fails."""
    before = _before(target)
    if os.path.lexists(target):
        if _exchanged(fresh, target):
            return
        target.rename(before)
    try:
        fresh.rename(target)
    except OSError:
        if before.is_dir():
            before.rename(target)
        raise


def _exchanged(one, other):
    """Let two folders change places in one step; return False where the system cannot."""
    try:
        exchange = ctypes.CDLL(None).renameat2
    except (AttributeError, OSError, TypeError):  # no Linux
        return False
    here, swap = -100, 2  # AT_FDCWD, RENAME_EXCHANGE of renameat2(2)
    return exchange(here, os.fsencode(one), here, os.fsencode(other), swap) == 0
