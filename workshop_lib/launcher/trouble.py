"""What can stop the set-up, and what do you do about it? One sentence for each."""

import errno
import importlib.util
import os
import sys
from pathlib import Path


class Trouble(Exception):
    """A set-up that cannot go on; the text is the sentence for the person at the keyboard."""


def printable(text):
    """Return a text without what would steer a terminal, as the name of a folder may."""
    return "".join(c if c.isprintable() or c == "\n" else "?" for c in str(text))


NEEDED_SPACE = "1.5 GB"
NO_SPACE = f"the disk is full: free about {NEEDED_SPACE} and start again"
NO_ROOM = "there is no room left for what is to be written: free some space there and start again"
NO_PERMISSION = "writing is not allowed in {folder}: copy the workbook to a folder of your own"
NO_NETWORK = (
    "the packages could not be fetched: check the network connection (and the proxy, if there is "
    "one) and start again"
)
LONG_PATH = (
    "the path {folder} is too long for Windows: move the workbook nearer to the drive's root"
)
IN_USE = "a file in {folder} is in use: close the running workbook and start again"

SPACE_MARKS = ("No space left on device", "not enough space on the disk", "Disk quota exceeded")
PERMISSION_MARKS = ("Permission denied", "Access is denied", "Read-only file system")
LONG_PATH_MARKS = ("Windows Long Path", "filename or extension is too long")
NETWORK_MARKS = (
    "NewConnectionError",
    "ConnectTimeoutError",
    "ReadTimeoutError",
    "ProxyError",
    "SSLError",
    "Connection refused",
    "Connection aborted",
    "onnection broken",
    "Name or service not known",
    "name resolution",
    "getaddrinfo failed",
    "nodename nor servname",
    "Network is unreachable",
)


def from_pip(output, folder):
    """Return the Trouble that pip's output tells of; one not foreseen in pip's own words."""
    lines = [line.strip() for line in output.splitlines() if line.strip()]
    first = next((i for i, line in enumerate(lines) if line.startswith("ERROR")), 0)
    errors = "\n".join(lines[first:])
    # Offline, pip warns of each failed connection and then says only that it found no version.
    network = output if "Could not find a version" in errors else errors
    for text, marks, sentence in (
        (errors, SPACE_MARKS, NO_SPACE),
        (errors, LONG_PATH_MARKS, LONG_PATH),
        (errors, PERMISSION_MARKS, NO_PERMISSION),
        (network, NETWORK_MARKS, NO_NETWORK),
    ):
        if any(mark in text for mark in marks):
            return Trouble(sentence.format(folder=folder))
    said = [line for line in lines[first:] if line.startswith("ERROR")] or lines
    return Trouble(
        f"the packages could not be installed; pip said: {' / '.join(said[-2:])} "
        "(the whole log is in .venv/set-up.log)"
    )


def from_os_error(error, folder):
    """Return the Trouble behind an operating system's refusal; a rare one in its own words."""
    if getattr(error, "winerror", None) == 32:
        sentence = IN_USE
    elif error.errno in (errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC)):
        sentence = NO_SPACE
    elif error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        sentence = NO_PERMISSION
    else:
        return Trouble(f"the environment could not be made in {folder}: {error}")
    return Trouble(sentence.format(folder=folder))


def from_file_error(error, folder):
    """Return the Trouble of a command that could not read or write a file, which it names."""
    if error.errno in (errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC)):
        return Trouble(NO_ROOM)
    if not error.filename:
        return from_os_error(error, folder)
    place = Path(os.fsdecode(error.filename))
    place = place.parent if place.name.startswith(".") else place  # one that is still being written
    reason = error.strerror or str(error)
    return Trouble(f"{place} cannot be used ({reason}): name another place")


def missing_part_of_python():
    """Return the Trouble of a Python that cannot make environments, or None when it can."""
    if all(importlib.util.find_spec(name) for name in ("venv", "ensurepip")):
        return None
    version = "{}.{}".format(*sys.version_info[:2])
    return Trouble(
        "this Python cannot make environments, because a part of it is missing: on Debian or "
        f"Ubuntu type 'sudo apt install python{version}-venv', elsewhere install Python from "
        "python.org"
    )
