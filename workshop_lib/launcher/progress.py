"""Is a long step still alive? One line that shows it."""

import re
import sys
import time


class Progress:
    """A line for one step, which is rewritten in place where the output is a terminal."""

    def __init__(self, label, stream=None):
        self.label = label
        self.stream = stream or sys.stdout
        self.live = self.stream.isatty()
        self.start = time.monotonic()
        self._write(f"{label} … ")

    def tick(self, output):
        """Show how far the step is, read from what its log holds by now."""
        packages = len(re.findall(r"^\s*(?:Collecting|Processing) ", output, re.MULTILINE))
        if "Installing collected packages" in output:
            self._rewrite(f"unpacking {packages} packages, {self._seconds()} s")
        elif packages:
            self._rewrite(f"{packages} packages found, {self._seconds()} s")

    def end(self, failed):
        """Close the line with the step's result."""
        result = "failed" if failed else "done"
        self._rewrite(f"{result} after {self._seconds()} s")
        self._write("\n" if self.live else f"{result} after {self._seconds()} s\n")

    def _seconds(self):
        return round(time.monotonic() - self.start)

    def _rewrite(self, state):
        if self.live:
            self._write(f"\r{self.label} … {state:<40}")

    def _write(self, text):
        self.stream.write(text)
        self.stream.flush()
