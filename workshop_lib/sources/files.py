"""Which files that a person names are accepted? Ordinary ones of a sensible size."""

import re
from pathlib import Path

from workshop_lib.quantities import InputError, quote

MB = 1_000_000
# Names that Windows keeps to itself, with any ending.
KEPT_BY_WINDOWS = re.compile(r"(?i)(con|prn|aux|nul|com[0-9]|lpt[0-9])(\..*)?")


def ordinary_file(path, largest):
    """Return the path of an ordinary file of at most so many bytes; InputError says what is wrong.

    path: text or Path. largest: bytes.
    """
    if not isinstance(path, str | Path) or "\0" in str(path):
        raise InputError("path", f"{quote(path)} is not the name of a file")
    path = Path(path)
    try:
        if not path.is_file():
            raise InputError("path", f"there is no file {quote(path.name)}")
        if path.stat().st_size > largest:
            raise InputError("path", f"{quote(path.name)} is larger than {largest / MB:.0f} MB")
    except OSError as error:
        raise InputError("path", f"{quote(path.name)} cannot be read") from error
    return path
