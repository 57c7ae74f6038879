"""How is a file replaced in one step, so that nobody ever meets half of one?

The standard library only: the launcher, a job's file and a learner's answers may all use it.
"""

import contextlib
import errno
import filecmp
import glob
import itertools
import os
import shutil
import stat
import tempfile
import time
from pathlib import Path

try:
    import fcntl
except ImportError:  # Windows, where a file that is open cannot be taken away
    fcntl = None

PART = ".part"  # how the name of a file that is still being written ends
STALE = 3600.0  # seconds after which such a file is nobody's, where none can be locked
FRESH = 2.0  # seconds within which one may not have been locked yet by whoever began it
PATIENCE = 2.0  # seconds for which a file that another program holds open (Windows) is waited for
PAUSE = 0.02
HEAD = 8192  # bytes of a page among which the mark of what it was made from stands
IN_USE = {5, 32, 33}  # Windows: access denied, sharing violation, lock violation


def replace_text(path, text):
    """Write a text file whole, or leave it as it was.

    The text goes to a new file in the same folder, is forced to the disk, and takes the old one's
    place in one step. path: the file; a link stays a link, and what it points to is replaced.
    text: written as UTF-8 with the line ends that it has. The old file's permissions stay; a new
    one gets the usual ones. Raises OSError when that cannot be done, among them PermissionError for
    a file that is write-protected; UnicodeEncodeError for text that is not Unicode. In every case
    the old file is untouched.

    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     file = Path(folder, "notes.txt")
    ...     replace_text(file, "800 N\\n")
    ...     file.read_text(encoding="utf-8")
    '800 N\\n'
    """
    content = text.encode("utf-8")
    target = Path(os.path.realpath(path))
    mode = _mode_for(target)
    descriptor, part = tempfile.mkstemp(PART, prefix(target), target.parent)
    try:
        with open(descriptor, "wb") as file:
            hold(descriptor)
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(part, mode)
        _take_the_place(part, target)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(part)
        raise
    _settle(target)


def set_aside(path, word="kept"):
    """Rename a file so that nothing is lost, and return where it is now.

    It stays in its folder, as `name.kept-1.json` with the first number that is free. word: what
    stands before the number. Raises OSError when it cannot be renamed.
    """
    fresh = _free_name(path, word)
    _take_the_place(path, fresh)
    return fresh


def keep_copy(path, word="kept"):
    """Copy a file to a free name beside it, as `set_aside` names it, and return where the copy is.

    A copy that is there already, to the byte, serves.

    Raises OSError when it cannot be copied.
    """
    fresh = _free_name(path, word)
    for kept in fresh.parent.glob(f"{glob.escape(Path(path).stem)}.{word}-*{Path(path).suffix}"):
        if filecmp.cmp(path, kept, shallow=False):
            return kept
    shutil.copy2(path, fresh)
    return fresh


def bears(path, mark):
    """Return whether a page bears a mark near its beginning; one that cannot be read does not."""
    try:
        with open(path, "rb") as page:
            return mark.encode() in page.read(HEAD)
    except OSError:
        return False


def _free_name(path, word):
    path = Path(path)
    names = (path.with_name(f"{path.stem}.{word}-{n}{path.suffix}") for n in itertools.count(1))
    return next(name for name in names if not os.path.lexists(name))


def _mode_for(target):
    """Return the permissions that the file shall have; refuse what may not be written over."""
    try:
        found = os.stat(target)
    except FileNotFoundError:
        return 0o666 & ~mask()
    if stat.S_ISDIR(found.st_mode):
        raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(target))
    if not os.access(target, os.W_OK):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(target))
    return stat.S_IMODE(found.st_mode)


def mask():
    """Return which permissions this process gives to nobody."""
    value = os.umask(0)
    os.umask(value)
    return value


def prefix(target):
    """Return how the names of what is begun in place of a file or folder start."""
    return f".{target.name[:60]}."


def _take_the_place(part, target):
    """Rename over the old file; wait a little where another program has it open (Windows)."""
    deadline = time.monotonic() + PATIENCE
    while True:
        try:
            return os.replace(part, target)
        except OSError as error:
            held = getattr(error, "winerror", None) in IN_USE
            if not held or time.monotonic() > deadline:
                raise
            time.sleep(PAUSE)


def _settle(target):
    """Force the renaming to the disk as well, and clear away what killed processes left."""
    settle_names(target.parent)
    for left in parts_of(target):
        if is_abandoned(left):
            with contextlib.suppress(OSError):
                left.unlink()


def settle_names(folder):
    """Force to the disk which files a folder has."""
    with contextlib.suppress(OSError):  # a folder cannot be opened so everywhere
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)


def parts_of(target):
    """Return what was begun in place of a file or folder and is not finished, or never was."""
    names = [each for each in target.parent.iterdir() if each.name.endswith(PART)]
    return [each for each in names if each.name.startswith(prefix(target))]


def hold(descriptor):
    """Mark what is being written as this process's: the lock goes with the process."""
    with contextlib.suppress(OSError):
        if fcntl:
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)


def is_abandoned(part):
    """Return whether the process that began it is gone."""
    with contextlib.suppress(OSError):
        age = time.time() - part.stat().st_mtime
        if not fcntl or age < FRESH:
            return age > FRESH
        descriptor = os.open(part, os.O_RDONLY)
        try:
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
            return True
        except BlockingIOError:
            return False
        except OSError:  # a file system without locks
            return age > STALE
        finally:
            os.close(descriptor)
    return False
