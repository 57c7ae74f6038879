"""The learner's own file: answers and predictions that are there again on the next day.

One JSON file with a format number, a sentence that says what it is, and the entries by key, one on
a line. It is only ever replaced whole. Several notebooks may write at the same time: each takes a
lock, reads what the others have added meanwhile, and adds its own.
"""

import contextlib
import datetime
import json
import os
import time
from pathlib import Path

from workshop_lib.launcher import lock
from workshop_lib.sources import replace_text, set_aside
from workshop_lib.teaching.shelf import Store

FORMAT = 1
ABOUT = (
    "Answers and predictions of one learner of the workbook, kept by its lessons. To start afresh, "
    "rename or delete this file."
)
LARGEST = 20_000_000  # bytes; no learner types more
PATIENCE = 5.0  # seconds to wait for the lock
PAUSE = 0.01


class NotOurs(ValueError):
    """A file that does not hold a learner's answers, or no longer does."""


class FileStore(Store):
    """A store in a file. It never raises: what cannot be kept on the disk is kept until it can.

    path: the file; its folder is made when there is none.
    """

    def __init__(self, path):
        super().__init__()
        self.path = Path(path).expanduser().absolute()
        self._seen = None  # what the file looked like when it was read last
        self._unsaved = []  # (key, entry) that the file does not hold yet
        self._said, self._lasting = "", ""

    def record(self, key, entry):
        """Add an entry, write the file, and tell those who watch its key."""
        now = datetime.datetime.now().isoformat(" ", "seconds")
        plain = json.loads(json.dumps({"when": now, **entry}, default=str))
        self._unsaved.append((str(key), plain))
        self._save()
        self._tell(key)

    def entries(self, key):
        """Return the entries of a key, oldest first, those of other notebooks among them."""
        self._look()
        waiting = [dict(entry) for name, entry in self._unsaved if name == key]
        return super().entries(key) + waiting

    def word(self):
        """Return a sentence that the learner should hear now, or ''; each is said once.

        What lasts, such as a file that cannot be written, is said again after every entry.
        """
        said, self._said = self._said, ""
        return " ".join(filter(None, [said, self._lasting]))

    def _save(self):
        """Add what is not in the file yet; on failure it waits for the next time."""
        with self._trouble("kept in this file"), self._alone():
            self._read()
            entries = {name: list(rows) for name, rows in self._entries.items()}
            for name, entry in self._unsaved:
                entries.setdefault(name, []).append(entry)
            replace_text(self.path, written(entries))
            self._entries, self._unsaved = entries, []
            self._seen = self._signature()

    def _look(self):
        """Read the file if it has changed since."""
        with self._trouble("read from this file"):
            if self._signature() == self._seen:
                return
            try:
                self._take()
            except NotOurs:
                with self._alone():
                    self._read()

    def _read(self):
        """Read the file; one that is not ours is put aside. The lock must be held."""
        try:
            self._take()
        except NotOurs as error:
            kept = set_aside(self.path)
            self._entries, self._seen = {}, None
            self._said = (
                f"{self.path.name} {error}. It stays beside it as {kept.name}, with all that is in "
                "it, and a new file is begun."
            )

    def _take(self):
        signature = self._signature()
        self._entries = {} if signature is None else parsed(self.path)
        self._seen = signature

    def _signature(self):
        try:
            found = self.path.stat()
        except FileNotFoundError:
            return None
        return found.st_ino, found.st_mtime_ns, found.st_size

    @contextlib.contextmanager
    def _trouble(self, what):
        """Turn what the disk refuses into a sentence."""
        try:
            yield
            if not self._unsaved:
                self._lasting = ""
        except OSError as error:
            why = error.strerror or str(error)
            self._lasting = (
                f"Your answers cannot be {what} now: {self.path.name} ({why}). What you "
                "enter is kept while this notebook is open, and written as soon as that works."
            )

    @contextlib.contextmanager
    def _alone(self):
        """Hold the lock, which ends with the process; OSError when another keeps it too long."""
        self.path.parent.mkdir(parents=True, exist_ok=True)
        name = self.path.with_name(f".{self.path.name}.lock")
        descriptor = os.open(name, os.O_RDWR | os.O_CREAT, 0o666)
        try:
            deadline = time.monotonic() + PATIENCE
            while not lock.try_to_take(descriptor):
                if time.monotonic() > deadline:
                    raise OSError("another notebook is writing it")
                time.sleep(PAUSE)
            yield
        finally:
            os.close(descriptor)


def written(entries):
    """Return the file's text: what it is, and one entry on each line."""
    parts = []
    for name, rows in entries.items():
        lines = ",\n".join(f"      {_json(row)}" for row in rows)
        parts.append(f"    {_json(name)}: [\n{lines}\n    ]")
    body = "{\n" + ",\n".join(parts) + "\n  }" if parts else "{}"
    head = f'  "format": {FORMAT},\n  "about": {_json(ABOUT)},\n'
    text = "{\n" + head + f'  "entries": {body}\n' + "}\n"
    return text.encode("utf-8", "backslashreplace").decode("utf-8")


def _json(value):
    return json.dumps(value, ensure_ascii=False)


def parsed(path):
    """Return the entries of a file by key; raise NotOurs, whose text goes on from its name."""
    if path.stat().st_size > LARGEST:
        raise NotOurs("is far larger than a file of answers")
    try:
        record = json.loads(path.read_bytes().decode("utf-8-sig"))
    except (ValueError, RecursionError):
        raise NotOurs("is damaged and cannot be read") from None
    if not isinstance(record, dict) or "entries" not in record:
        raise NotOurs("is not a file of answers")
    if record.get("format") != FORMAT:
        raise NotOurs("was written by another version of the workbook")
    entries = record["entries"]
    rows = entries.values() if isinstance(entries, dict) else [None]
    if not all(isinstance(row, list) and all(isinstance(e, dict) for e in row) for row in rows):
        raise NotOurs("is not a file of answers")
    return entries
