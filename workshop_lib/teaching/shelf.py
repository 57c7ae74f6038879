"""What a store of predictions and answers does, in memory: it forgets with the kernel."""

import weakref


class Store:
    """Keeps what was entered, by key, oldest first. An entry is a dict that JSON can hold."""

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
