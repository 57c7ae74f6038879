"""How does each learner get the lessons, with nothing of theirs replaced?

A lesson that was changed since comes as a further file beside the learner's own. All of this runs
as the learner, so that no link in a learner's home can lead the administrator's hand elsewhere.
"""

import contextlib
import hashlib
import itertools
import json
import os
import tempfile
from pathlib import Path

NEWER = " (newer)"
PART = ".handing-out-"  # begins the name of a file that is not whole yet


def hand_out(shelf, folder, record_file):
    """Copy into `folder` what this learner has not been given yet; return the new files.

    shelf: the folder with what all are given. record_file: which edition of each file was handed
    out last; it is no harm if it is lost.
    """
    given, new = read_record(record_file), []
    folder.mkdir(exist_ok=True)
    for left in folder.rglob(f"{PART}*"):
        left.unlink()  # of a start that was ended in the middle
    for lesson in sorted(path for path in shelf.rglob("[!.]*") if path.is_file()):
        name = lesson.relative_to(shelf).as_posix()
        own = folder / name
        own.parent.mkdir(exist_ok=True)
        data = lesson.read_bytes()
        edition = hashlib.sha256(data).hexdigest()
        if not os.path.lexists(own):
            new.append(place(data, own.parent, [own.name]))
        elif given.get(name, edition_of(own)) != edition:
            new.append(place(data, own.parent, newer_names(own)))
        given[name] = edition
    record_file.parent.mkdir(parents=True, exist_ok=True)
    place_over(json.dumps(given).encode(), record_file)
    return new


def read_record(path):
    """Return the editions that were handed out: none when the record is missing or torn."""
    with contextlib.suppress(OSError, ValueError):
        record = json.loads(path.read_bytes())
        if isinstance(record, dict):
            return record
    return {}


def edition_of(path):
    """Return the edition of a learner's file; an empty text when it cannot be read."""
    try:
        return hashlib.sha256(path.read_bytes()).hexdigest()
    except OSError:
        return ""


def newer_names(own):
    """Yield the names for a newer edition beside the learner's own file."""
    for number in itertools.count(1):
        count = f" {number}" if number > 1 else ""
        yield f"{own.stem}{NEWER}{count}{own.suffix}"


def place(data, folder, names):
    """Write a new file under the first name that is free; never over another. Return its path."""
    part = written(data, folder)
    try:
        for name in names:
            with contextlib.suppress(FileExistsError):
                os.link(part, folder / name)  # unlike a renaming, this refuses to replace
                return folder / name
        raise FileExistsError(f"every name for {folder / names[0]} is taken")
    finally:
        os.unlink(part)


def place_over(data, path):
    """Replace a file of our own in one step."""
    os.replace(written(data, path.parent), path)


def written(data, folder):
    """Write data to a new hidden file and return its path."""
    with tempfile.NamedTemporaryFile(dir=folder, prefix=PART, delete=False) as part:
        part.write(data)
    return Path(part.name)
