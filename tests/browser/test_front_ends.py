"""Other front ends: a copy that lies elsewhere, opened in Notebook 7 and as a page by Voilà.

Both are started as people start them, in a folder of their own, with no word of the workbook. Their
packages are fetched for this test alone, so only `check --thorough` runs it.
"""

import os
import shutil
import subprocess
import sys
import threading
import urllib.parse
import venv

import pytest

from tests.browser.lab import bytes_of
from tests.browser.panel import PATIENCE, Panel
from tests.house.thorough import only_thorough
from tests.launcher import served
from workshop_lib.launcher.environment import ROOT, masters
from workshop_lib.launcher.opening import is_administrator

pytestmark = only_thorough
LESSON = masters()[0]
PORT = 8961
OTHERS = ["notebook>=7.5,<8", "voila>=0.5.8,<0.6"]


@pytest.fixture(scope="module")
def python(tmp_path_factory):
    """A Python made as the one-click image makes it, and with the other front ends besides."""
    folder = tmp_path_factory.mktemp("others") / "environment"
    venv.create(folder, with_pip=True)
    python = folder / "bin" / "python"
    pip = ["-m", "pip", "install", "-q", "--disable-pip-version-check"]
    listed = ["-r", ".binder/requirements.txt"]
    subprocess.run([python, *pip, *listed, *OTHERS], check=True, cwd=ROOT)
    return python


@pytest.fixture(scope="module")
def place(python, tmp_path_factory):
    """The address of a server that anybody might have started, and its token."""
    folder = tmp_path_factory.mktemp("elsewhere")
    shutil.copy(LESSON, folder)
    command = [python, "-m", "notebook", "--no-browser", f"--port={PORT}"]
    command += ["--allow-root"] if is_administrator() else []
    paths = os.pathsep.join(
        [str(python.parent), os.path.dirname(sys.executable), os.environ["PATH"]]
    )
    with served.running(command, folder, folder / "settings", PATH=paths, PYTHONPATH="") as process:
        told = urllib.parse.urlsplit(served.address_told(process))
        threading.Thread(target=process.stdout.read, daemon=True).start()  # else its pipe fills up
        served.wait_until_it_listens(told.geturl())
        yield f"http://{told.netloc}", told.query


def moved(page):
    """Move the first slider of a page by a key; return its panel's setting before and after."""
    page.wait_for_selector(".wb-panel input[type=range]", timeout=PATIENCE)
    slider = page.locator(".wb-panel input[type=range]").first
    panel = Panel(page.locator(".wb-panel").filter(has=page.locator("input[type=range]")).first)
    before = panel.settled()["setting"]
    for _ in range(8):
        slider.press("ArrowRight")
    page.wait_for_function(
        "before => [...document.querySelectorAll('.wb-panel')]"
        ".find(each => each.querySelector('input[type=range]'))"
        ".querySelector('.wb-setting').textContent !== before",
        arg=before,
    )
    return before, panel.settled()["setting"]


def test_a_panel_is_alive_in_notebook_7(place, chromium):
    address, token = place
    page = chromium.new_page()
    page.set_default_timeout(PATIENCE)
    with page.expect_websocket(lambda socket: "/channels" in socket.url) as socket:
        page.goto(f"{address}/notebooks/{LESSON.name}?{token}")
    socket.value.wait_for_event("framereceived", lambda it: b"history_reply" in bytes_of(it))
    page.get_by_role("menuitem", name="Run", exact=True).click()
    page.get_by_role("menuitem", name="Run All Cells", exact=True).click()
    assert len(set(moved(page))) == 2
    assert page.locator('[data-mime-type$="error"]').count() == 0
    page.close()


def test_a_panel_is_alive_on_a_page_by_voila(place, chromium):
    address, token = place
    page = chromium.new_page()
    page.set_default_timeout(PATIENCE)
    page.goto(f"{address}/voila/render/{LESSON.name}?{token}")
    assert len(set(moved(page))) == 2
    assert page.locator('[data-mime-type$="error"]').count() == 0
    page.close()
