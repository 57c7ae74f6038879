"""Which browser do the checks drive? One that is on the machine; none is fetched."""

import os
import shutil

NAMES = ("chromium", "chromium-browser")
MISSING = (
    "the browser tests, for want of Chromium on the PATH (on Debian: apt-get install chromium)"
)


def find():
    """Return the path of the browser's program, or None."""
    return next(filter(None, map(shutil.which, NAMES)), None)


def must_be_there():
    """Return whether a missing browser is a failure: on a machine that checks for everybody."""
    return os.environ.get("CI", "").lower() in ("1", "true")
