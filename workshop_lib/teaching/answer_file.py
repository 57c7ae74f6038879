"""Are a learner's answers and predictions there again on the next day, shared by all cells?

One line of JSON for each entry, which is only ever added: several notebooks may write at the same
time, and a line that was cut off costs no other. A first line says what the file is.
"""

import contextlib
import datetime
import json
import os
import weakref
from pathlib import Path

from workshop_lib.launcher.answers import VARIABLE
from workshop_lib.sources import set_aside

FORMAT = 2
ABOUT = (
    "Answers and predictions of one learner of the workbook, kept by its lessons. To start afresh, "
    "rename or delete this file."
)
LARGEST = 3_000_000  # bytes: some 20,000 answers; no learner types more
WHO, LONGEST_NAME = "who", 60  # the key of a name that a learner gives, and its most letters


class Store:
    """Keeps in memory what was entered, by key, oldest first; an entry is what JSON can hold."""

    def __init__(self):
        self._entries, self._watchers = {}, {}

    def record(self, key, entry):
        """Add an entry and tell those who watch its key."""
        self._entries.setdefault(key, []).append(dict(entry))
        self._tell(key)

    def entries(self, key):
        """Return the entries of a key, oldest first."""
        return [dict(entry) for entry in self._entries.get(key, ())]

    def watch(self, key, watcher):
        """Call `watcher.refresh()` on every later entry of a key, as long as the watcher lives."""
        self._watchers.setdefault(key, weakref.WeakSet()).add(watcher)

    def word(self):
        """Return a sentence that the learner should hear about the keeping, or ''."""
        return ""

    def _tell(self, key):
        for told in list(self._watchers.get(key, ())):
            told.refresh()


class NotOurs(ValueError):
    """A file that does not hold a learner's answers, or no longer does."""


class FileStore(Store):
    """A store in a file. It never raises: what cannot be kept on the disk is kept until it can.

    path: the file, which ends in .jsonl whatever is given; its folder is made when there is none.
    A file of the same name that ends in .json is of an earlier edition: it is read once, taken
    over, and left as it is. Both file and folder are made for their owner's eyes only.
    """

    def __init__(self, path):
        super().__init__()
        self.path = Path(path).expanduser().absolute().with_suffix(".jsonl")
        self._seen = None  # what the file looked like when it was read last
        self._unsaved = []  # (key, entry) that the file does not hold yet
        self._said, self._lasting = "", ""

    def record(self, key, entry):
        """Add an entry, write it down, and tell those who watch its key."""
        now = datetime.datetime.now().isoformat(" ", "seconds")
        plain = json.loads(json.dumps({"when": now, **entry}, default=str))
        self._unsaved.append((str(key), plain))
        with self._trouble("kept in this file"):
            self._read()
            self._append("".join(line_of(*each) for each in self._unsaved))
            for name, row in self._unsaved:
                self._entries.setdefault(name, []).append(row)
            self._unsaved, self._seen = [], None
        self._tell(key)

    def entries(self, key):
        """Return the entries of a key, oldest first, those of other notebooks among them."""
        with self._trouble("read from this file"):
            if self._signature() != self._seen or self._seen is None:
                self._read()
        waiting = [dict(entry) for name, entry in self._unsaved if name == key]
        return super().entries(key) + waiting

    def word(self):
        """Return a sentence that the learner should hear now, or ''; each is said once.

        What lasts, such as a file that cannot be written, is said again after every entry.
        """
        said, self._said = self._said, ""
        return " ".join(filter(None, [said, self._lasting]))

    def _append(self, lines):
        """Add whole lines in one step, after the end of a line that was cut off."""
        self.path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        descriptor = os.open(self.path, os.O_RDWR | os.O_APPEND | os.O_CREAT, 0o600)
        with open(descriptor, "r+b", buffering=0) as file:
            size = file.seek(0, os.SEEK_END)
            if not size:
                lines = HEAD + lines
            else:
                file.seek(size - 1)
                lines = lines if file.read(1) == b"\n" else "\n" + lines
            added = lines.encode("utf-8", "backslashreplace")
            if file.write(added) < len(added):
                raise OSError(28, "No space left on device")

    def _read(self):
        """Read the file, or take an earlier edition's over; one that is not ours is put aside."""
        signature = self._signature()
        if signature is None:
            signature = self._taken_over()
        try:
            self._entries, torn = ({}, 0) if signature is None else parsed(self.path)
            self._seen = signature
            if torn:
                self._said = f"{self.path.name}: {torn} of its lines cannot be read."
        except NotOurs as error:
            kept = set_aside(self.path)
            self._entries, self._seen = {}, None
            self._said = (
                f"{self.path.name} {error}. It stays beside it as {kept.name}, with all that is in "
                "it, and a new file is begun."
            )

    def _taken_over(self):
        """Begin with what an earlier edition kept, unless another notebook has begun meanwhile."""
        with contextlib.suppress(FileNotFoundError, NotOurs, FileExistsError):
            entries = parsed_format_1(self.path.with_suffix(".json"))
            lines = [line_of(name, row) for name, rows in entries.items() for row in rows]
            descriptor = os.open(self.path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
            with open(descriptor, "wb", buffering=0) as file:
                file.write((HEAD + "".join(lines)).encode("utf-8", "backslashreplace"))
        return self._signature()

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


def line_of(key, entry):
    """Return an entry as a line of the file."""
    return json.dumps({"key": key, **entry}, ensure_ascii=False) + "\n"


HEAD = json.dumps({"format": FORMAT, "about": ABOUT}, ensure_ascii=False) + "\n"


def parsed(path):
    """Return a file's entries by key, and how many of its lines cannot be read.

    Raises NotOurs, whose text goes on from the file's name.
    """
    *lines, last = text_of(path).split("\n")
    rows = [row_of(line) for line in lines if line.strip()]
    rows += filter(None, [row_of(last)])  # without its end it may be just being written
    heads = [row for row in rows if row and "format" in row]
    if not rows or not heads or heads[0] is not rows[0]:
        raise NotOurs(
            "is damaged and cannot be read" if not any(rows) else "is not a file of answers"
        )
    if heads[0]["format"] != FORMAT:
        raise NotOurs("was written by another version of the workbook")
    entries, torn = {}, 0
    for row in rows:
        if row and isinstance(row.get("key"), str):
            entries.setdefault(row.pop("key"), []).append(row)
        elif not (row and "format" in row):
            torn += 1
    return entries, torn


def row_of(line):
    """Return a line's object; None when it is none."""
    try:
        row = json.loads(line)
    except (ValueError, RecursionError):
        return None
    return row if isinstance(row, dict) else None


def parsed_format_1(path):
    """Return the entries of a file of an earlier edition, one object with lists by key."""
    record = row_of(text_of(path)) or {}
    entries = record.get("entries")
    if record.get("format") != 1 or not isinstance(entries, dict):
        raise NotOurs("is not a file of answers")
    rows = [rows for rows in entries.values() if isinstance(rows, list)]
    if len(rows) < len(entries) or not all(isinstance(e, dict) for each in rows for e in each):
        raise NotOurs("is not a file of answers")
    return entries


def name_in(entries):
    """Return the name that the last of these entries gives, or ''.

    >>> name_in([{"given": "Bo"}, {"given": " Åsa  Öberg"}])
    'Åsa Öberg'
    """
    return plain_name(entries[-1].get("given")) if entries else ""


def plain_name(given):
    """Return a name in plain letters, or '' for what is none."""
    plain = " ".join(given.split()) if isinstance(given, str) else ""
    return plain if plain.isprintable() and len(plain) <= LONGEST_NAME else ""


def text_of(path):
    """Return a file's text; one that is too large or no text is not ours."""
    if path.stat().st_size > LARGEST:
        raise NotOurs("is far larger than a file of answers")
    return path.read_bytes().decode("utf-8-sig", "replace")


_current = []


def use(store):
    """Put another store in place of the current one; returns the one that was in use."""
    before, _current[:] = current(), [store]
    return before


def current():
    """Return the store in use: one in memory, unless `WORKSHOP_ANSWERS` names a file.

    The command `open` sets that variable; the checks and the storing of notebooks take it away, so
    that a lesson that is executed there neither reads nor writes anyone's answers.
    """
    if not _current:
        path = os.environ.get(VARIABLE, "").strip()
        _current.append(FileStore(path) if path else Store())
    return _current[0]
