"""Where a learner's predictions and answers are kept, so that cells and panels share them.

The store of this session lives in memory and forgets with the kernel. Another store with the same
three methods (`record`, `entries`, `watch`) may take its place through `use`.
"""

import weakref


class Store:
    """Keeps what was entered, by key, oldest first. An entry is a dict that JSON can hold."""

    def __init__(self):
        self._entries, self._watchers = {}, {}

    def record(self, key, entry):
        """Add an entry and tell those who watch its key."""
        self._entries.setdefault(key, []).append(dict(entry))
        for told in list(self._watchers.get(key, ())):
            told.refresh()

    def entries(self, key):
        """Return the entries of a key, oldest first."""
        return [dict(entry) for entry in self._entries.get(key, ())]

    def watch(self, key, watcher):
        """Call `watcher.refresh()` on every later entry of a key, as long as the watcher lives."""
        self._watchers.setdefault(key, weakref.WeakSet()).add(watcher)


_current = [Store()]


def use(store):
    """Put another store in place of the current one; returns the one that was in use."""
    before, _current[0] = _current[0], store
    return before


def current():
    """Return the store in use."""
    return _current[0]
