"""JupyterLab in the browser: a lesson opened and run from top to bottom, as a learner does it."""

import contextlib
import os
import re
import sys
import urllib.parse
from pathlib import Path

from playwright.sync_api import TimeoutError as TooLate

from tests.browser import workbook
from tests.browser.panel import PATIENCE, Panel
from workshop_lib.launcher.environment import ROOT

ARTEFACTS = ROOT / "tests" / "artefacts" / "browser"
FLAGS = [
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
DARK = Path(sys.prefix, "share/jupyter/lab/themes/@jupyterlab/theme-dark-extension/index.css")
KERNELS = re.compile(r"/api/kernels\?\d+$")  # which JupyterLab asks for every ten seconds
# Every code cell has run, or one of them stopped the rest. JupyterLab itself is asked, since a
# folded cell shows its count nowhere.
ENDED = """
(count) => {
  const live = document.querySelectorAll(".wb-panel").length >= count;
  const cells = jupyterapp.shell.currentWidget.content.model.cells;
  const ran = [...cells].every((cell) => cell.type !== "code" || cell.executionCount);
  const stopped = document.querySelector('[data-mime-type$="stderr"], [data-mime-type$="error"]');
  return (live && ran) || stopped;
}
"""


def flags():
    """Return Chromium's flags; root has no sandbox to offer it."""
    root = hasattr(os, "geteuid") and os.geteuid() == 0
    return [*FLAGS, "--no-sandbox"] if root else FLAGS


def bytes_of(frame):
    """Return what went over a socket as bytes, whichever of its two forms it had."""
    return frame.encode() if isinstance(frame, str) else frame


class Lesson:
    """A lesson in a page of its own."""

    def __init__(self, browser, address, name):
        self.name = name
        self.errors = []  # what the page complained of, as it came
        place, query = address.partition("/lab/")[0], urllib.parse.urlsplit(address).query
        self.page = browser.new_page(viewport={"width": 1320, "height": 1000})
        self.page.set_default_timeout(PATIENCE)
        self.page.on("console", self._hear)
        self.page.on("pageerror", lambda error: self.errors.append(str(error)))
        with self.page.expect_websocket(lambda socket: "/channels" in socket.url) as socket:
            self.page.goto(f"{place}/lab/tree/my_lessons/{name}.ipynb?reset&{query}")
        self.socket = socket.value  # between page and kernel
        # JupyterLab shows an idle kernel a moment before it has one, and drops what is run then.
        self.socket.wait_for_event(
            "framereceived", lambda frame: b"history_reply" in bytes_of(frame)
        )

    def _hear(self, message):
        """Note a complaint. The server cannot list its kernels while one of them starts."""
        if message.type in ("error", "warning") and not KERNELS.search(message.location["url"]):
            self.errors.append(f"{message.type}: {message.text} ({message.location['url']})")

    def start(self):
        """Choose Run All Cells in the menu."""
        self.page.get_by_role("menuitem", name="Run", exact=True).click()
        self.page.get_by_role("menuitem", name="Run All Cells", exact=True).click()

    def finish(self):
        """Wait until every cell has run and the live elements stand, or one stopped the rest."""
        panels, cards = workbook.live_elements(self.name)
        try:
            self.page.wait_for_function(ENDED, arg=panels + cards)
        except TooLate:
            self.picture(f"{self.name}-did-not-end")
            raise

    @property
    def cells(self):
        """The code cells."""
        return self.page.locator(".jp-Notebook .jp-CodeCell")

    @contextlib.contextmanager
    def in_the_dark(self):
        """Show the page as JupyterLab's dark theme does: with its style sheet and its mark."""
        mark = "light => { document.body.dataset.jpThemeLight = light }"
        # It stands before the light theme's sheet, and must weigh more than that.
        text = DARK.read_text(encoding="utf-8").replace(":root", "html:root")
        style = self.page.add_style_tag(content=text)
        self.page.evaluate(mark, "false")
        yield
        self.page.evaluate(mark, "true")
        style.evaluate("style => style.remove()")

    def complaints(self):
        """Return the text of all tracebacks and of all that went to stderr."""
        return self.page.locator(
            '[data-mime-type$="error"], [data-mime-type$="stderr"]'
        ).all_text_contents()

    def panel(self, title):
        """Return the live panel, or card, with this title."""
        exact = re.compile(f"^{re.escape(title)}$")
        title = self.page.locator(".wb-title").filter(has_text=exact)
        return Panel(self.page.locator(".wb-panel").filter(has=title).first)

    @property
    def live(self):
        """The panels."""
        return self.page.locator(".wb-panel:not(.wb-card)")

    @property
    def cards(self):
        """The predictions, answers and exercises."""
        return self.page.locator(".wb-card")

    @property
    def exercises(self):
        """The cards that are exercises."""
        return self.cards.filter(has=self.page.get_by_role("button", name="Check", exact=True))

    def panels(self):
        """Return every panel, in the lesson's order."""
        return [Panel(self.live.nth(index)) for index in range(self.live.count())]

    def picture(self, name, part=None):
        """Keep what the window shows, or a part of it, for people to look at."""
        ARTEFACTS.mkdir(parents=True, exist_ok=True)
        (part or self.page).screenshot(path=ARTEFACTS / f"{name}.png")
