"""The projector's JupyterLab as it comes up: large text, one lesson, no side bars open."""

import math
import os
import sys

import pytest

from tests.browser.lab import ARTEFACTS
from tests.browser.panel import Panel
from tests.house.thorough import only_thorough
from tests.launcher import served
from workshop_lib.launcher.environment import ROOT

LAUNCH = "import sys; from workshop_lib.launcher.opening import main; sys.exit(main(sys.argv[1:]))"
LESSON = str(ROOT / "notebooks" / "02_the_slip_criterion.ipynb")
MEASURE = """
(selector) => {
  const found = document.querySelector(selector);
  return [parseFloat(getComputedStyle(found).fontSize), found.getBoundingClientRect().width];
}
"""

# Letters are read from six metres where a small one is 20 arcmin tall, on a picture 2.4 m wide.
SIX_METRES = 6.0 * math.tan(math.radians(20 / 60)) / 2.4  # of the picture's width
SIZES = [(1024, 768), (1280, 720), (1920, 1080)]
SEEN = """
(panel) => {
  const room = { left: 0, top: 0, right: innerWidth, bottom: innerHeight };
  const inside = (part) => {
    const box = part.getBoundingClientRect();
    return box.width > 0 && box.left >= -1 && box.right <= room.right + 1
      && box.top >= -1 && box.bottom <= room.bottom + 1;
  };
  const verdict = panel.querySelector(".wb-verdict strong");
  const pen = document.createElement("canvas").getContext("2d");
  const style = getComputedStyle(verdict);
  pen.font = `${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
  const picture = panel.querySelector(".wb-picture svg");
  const tall = (words) => words.getBoundingClientRect().height;
  const letters = [...picture.querySelectorAll("text")].map(tall);
  return {
    small: pen.measureText("x").actualBoundingBoxAscent / innerWidth,
    verdict: inside(verdict), picture: inside(picture),
    wide: picture.getBoundingClientRect().width / innerWidth,
    control: inside(document.activeElement),
    letters: Math.min(...letters),
  };
}
"""


@pytest.fixture(scope="module")
def page(chromium, tmp_path_factory):
    folder = tmp_path_factory.mktemp("projector")
    options = ["--no-browser", "--port=8912", "--projector", LESSON]
    command = [sys.executable, "-u", "-c", LAUNCH, *options]
    path = os.pathsep.join([os.path.dirname(sys.executable), os.environ["PATH"]])
    with served.running(
        command, folder, folder, PYTHONPATH=str(ROOT), PATH=path, WORKSHOP_ANSWERS=""
    ) as process:
        address = served.address_told(process)
        served.wait_until_it_listens(address)
        page = chromium.new_page(viewport={"width": 1280, "height": 720})
        page.goto(address)
        page.wait_for_selector(".jp-Notebook .jp-MarkdownOutput p", timeout=60_000)
        yield page
        page.close()


@only_thorough
def test_text_and_code_are_large_and_the_lesson_has_the_window(page):
    page.wait_for_function(
        "() => parseFloat(getComputedStyle(document.querySelector('.jp-MarkdownOutput')).fontSize)"
        " > 20"
    )
    size, width = page.evaluate(MEASURE, ".jp-Notebook .jp-MarkdownOutput")
    assert size == 22 and width > 0.88 * 1280
    assert page.evaluate(MEASURE, ".jp-Notebook .cm-content")[0] == 19


@only_thorough
def test_nothing_asks_a_question_and_no_number_of_a_run_shows(page):
    assert page.locator(".jp-Dialog, .Toastify__toast").count() == 0
    assert not page.locator(".jp-Notebook .jp-InputArea-prompt >> visible=true").count()


@only_thorough
def test_verdict_and_picture_are_in_sight_and_large_while_a_control_moves(page):
    page.get_by_role("menuitem", name="Run", exact=True).click()
    page.get_by_role("menuitem", name="Run All Cells", exact=True).click()
    title = page.locator(".wb-title").filter(has_text="Will it slip?")
    root = page.locator(".wb-panel:not(.wb-card)").filter(has=title).last
    root.wait_for(timeout=180_000)
    panel = Panel(root)
    for alone in (False, True):
        if alone:
            root.get_by_role("button", name="Fill the screen").click()
            page.wait_for_function("() => document.fullscreenElement")
        for width, height in SIZES:
            page.set_viewport_size({"width": width, "height": height})
            slider = root.get_by_role("slider").nth(3)
            slider.scroll_into_view_if_needed()
            slider.focus()
            page.keyboard.press("ArrowRight")
            panel.settled()
            seen = root.evaluate(SEEN)
            page.screenshot(
                path=ARTEFACTS / f"projector-{width}-{'alone' if alone else 'lesson'}.png"
            )
            assert seen["verdict"] and seen["picture"] and seen["control"], (width, alone, seen)
            assert seen["small"] >= SIX_METRES, (width, alone, seen)
            assert seen["wide"] > 0.2 and seen["letters"] > height / 60, (width, alone, seen)
    root.get_by_role("button", name="Back to the lesson").click()
    page.wait_for_function("() => !document.fullscreenElement")
    assert (
        not root.locator("xpath=ancestor::*[contains(@class,'jp-CodeCell')]")
        .locator(".cm-content >> visible=true")
        .count()
    )
