"""Is another start of the workbook still busy? A lock that the set-up's children hold as well.

On POSIX the lock belongs to the open file, which a child may inherit: when a start is killed while
pip runs on, the next start waits until pip has ended instead of working against it.
"""

import contextlib
import errno
import os
import time

if os.name == "nt":
    import msvcrt
else:
    import fcntl

PAUSE = 0.1  # seconds between two tries
UNSUPPORTED = {errno.ENOLCK, errno.ENOSYS, getattr(errno, "ENOTSUP", errno.ENOSYS)}


def try_to_take(descriptor):
    """Take the lock if it is free; return whether it is held now."""
    try:
        if os.name == "nt":
            os.lseek(descriptor, 0, os.SEEK_SET)
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        else:
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as error:
        # A file system without locks must not keep the workbook shut for ever.
        return error.errno in UNSUPPORTED
    return True


@contextlib.contextmanager
def hold(path, waiting):
    """Hold the lock file at `path`, giving its descriptor; call `waiting` once if it is taken."""
    descriptor = os.open(path, os.O_RDWR | os.O_CREAT, 0o666)
    try:
        if not try_to_take(descriptor):
            waiting()
            while not try_to_take(descriptor):
                time.sleep(PAUSE)
        yield descriptor
    finally:
        os.close(descriptor)
