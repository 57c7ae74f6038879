"""Does Shift + Enter show the answer before a prediction is committed? What a cell shows waits.

From the cell that asks a prediction to the one that reveals it, what other cells show is held back,
folded, until the prediction is on record. That is so for a learner, whose answers go to a file;
where lessons are stored or checked everything shows at once.
"""

import uuid

from IPython import get_ipython
from IPython.core.displayhook import CapturingDisplayHook
from IPython.utils.capture import capture_output

from workshop_lib.drawings import page
from workshop_lib.drawings.markup import Html, escape
from workshop_lib.teaching import answer_file

FREE = ("predict.", ".ask()", "panel()", "page.caution(", "page.you_can(")  # these tell nothing
WAITS = "Commit your prediction first. What this cell shows then appears here."
_asked = []  # keys of predictions that are neither on record nor revealed
_shown = {}  # by key: (display id, block) of what waits


def hold_back(key):
    """From here on, hold back what cells show, until `lift` or `show` is called with this key."""
    shell = get_ipython()
    if shell is None or not isinstance(answer_file.current(), answer_file.FileStore):
        return
    if key not in _asked:
        _asked.append(key)
    Curtain.of(shell)


def lift(key):
    """Hold nothing more back for this key; what waits goes on waiting."""
    if key in _asked:
        _asked.remove(key)


def show(key):
    """Show what was held back for this key."""
    lift(key)
    for place, block in _shown.pop(key, ()):
        _publish(block, place, update=True)


def _publish(block, place, update=False):
    data = {"text/html": str(block.html()), "text/plain": block.text()}
    get_ipython().display_pub.publish(data, transient={"display_id": place}, update=update)


class Curtain:
    """Catches what a cell shows, between IPython's two events around it."""

    def __init__(self, shell):
        self.shell, self.catching = shell, None
        shell.events.register("pre_run_cell", self.before)
        shell.events.register("post_run_cell", self.after)

    @classmethod
    def of(cls, shell):
        """The one curtain of a shell."""
        if not hasattr(shell, "workshop_curtain"):
            shell.workshop_curtain = cls(shell)
        return shell.workshop_curtain

    def before(self, info):
        """Begin to catch, where a prediction waits and the cell could tell its answer."""
        if not _asked or any(each in info.raw_cell for each in FREE):
            return
        self.key, self.catching = _asked[-1], capture_output()
        self.caught, self.hook = self.catching.__enter__(), self.shell.display_trap.hook
        outputs = self.shell.display_pub.outputs
        self.shell.display_trap.hook = CapturingDisplayHook(self.shell, outputs)

    def after(self, _result):
        """Give the cell's output back, or a word that it waits."""
        if self.catching is None:
            return
        self.shell.display_trap.hook = self.hook
        self.catching.__exit__(None, None, None)
        self.catching = None
        block = _block(self.caught)
        if block is not None:
            place = uuid.uuid4().hex
            _shown.setdefault(self.key, []).append((place, block))
            _publish(page.stack(WAITS, page.folded("Show it all the same", block)), place)


def _block(caught):
    """What a cell has shown as one block of a page; None for nothing."""
    parts = [_plain(caught.stdout + caught.stderr)] if caught.stdout or caught.stderr else []
    for each in caught.outputs:
        data = each.data
        html, text = data.get("text/html"), data.get("text/plain", "")
        parts.append(page.Block(Html(html), text) if html else _plain(text))
    return page.stack(*parts) if parts else None


def _plain(text):
    return page.Block(Html(f"<pre>{escape(text)}</pre>"), text)
