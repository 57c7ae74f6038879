"""From a slider's step to the picture on the screen, in a real browser, for every panel.

The reference stands in the same page on the same kernel: a slider and a line of text, both plain
widgets, so that the ratio tells what our pictures and their making cost above the floor.
"""

import statistics
import sys
import tempfile
from pathlib import Path

from nbformat.v4 import new_code_cell
from playwright.sync_api import sync_playwright

sys.path.insert(0, str(Path(__file__).parents[1]))  # where the tests' own helpers lie

from tests.benchmarks.timing import Result
from tests.browser import workbook
from tests.browser.lab import Lesson, flags
from workshop_lib.launcher import browser as program

AIM = 1.5
ROUNDS, STEPS = 4, 8
FLOOR = """import ipywidgets as w
slider, text = w.IntSlider(value=50, max=1000, description="Floor"), w.HTML("<p>50</p>")
slider.observe(lambda change: setattr(text, "value", f"<p>{change.new} N</p>"), "value")
w.VBox([slider, text]).add_class("floor")"""
# From the key going down to the frame after the change: `over` tells which change ends a step.
CLOCK = """
(what) => {
  const state = (window.stepClock = { start: 0, times: [] });
  const begin = (event) => (state.start = event.timeStamp);
  document.addEventListener("keydown", begin, true);
  const seen = () => {
    if (!state.start || what.hasAttribute("data-waiting")) return;
    const start = state.start;
    state.start = 0;
    requestAnimationFrame(() => {
      const frame = new MessageChannel();
      frame.port1.onmessage = () => state.times.push(performance.now() - start);
      frame.port2.postMessage(0); // comes after the frame was painted
    });
  };
  const watcher = new MutationObserver(seen);
  const all = { attributes: true, childList: true, characterData: true, subtree: true };
  watcher.observe(what, what.classList.contains("wb-panel")
    ? { attributes: true, attributeFilter: ["data-waiting"] } : all);
  state.stop = () => {
    watcher.disconnect();
    document.removeEventListener("keydown", begin, true);
    return state.times;
  };
}
"""


def results():
    """Return a median and a slowest tenth for every panel of every lesson."""
    path = program.find()
    if path is None:
        print(f"Left out: {program.MISSING}")
        return []
    found = []
    with (
        tempfile.TemporaryDirectory() as folder,
        workbook.opened(Path(folder), add_floor) as address,
        sync_playwright() as playwright,
    ):
        chromium = playwright.chromium.launch(executable_path=path, args=flags())
        for name in workbook.LESSONS:
            lesson = Lesson(chromium, address, name)
            lesson.start()
            lesson.finish()
            for panel in lesson.panels():
                found += compared(lesson, panel)
            lesson.page.close()
        chromium.close()
    return found


def add_floor(notebook):
    """Put the reference at the end of a lesson."""
    notebook.cells.append(new_code_cell(FLOOR))


def compared(lesson, panel):
    """Return the two lines of one panel; the floor and the panel take turns."""
    slider = first_that_draws(panel)
    if slider is None:
        return []
    floor = lesson.page.locator(".floor")
    handle, text = floor.locator(".noUi-handle"), floor.locator(".widget-html-content")
    ours, theirs = [], []
    for turn in range(ROUNDS):
        key = "ArrowLeft" if turn % 2 else "ArrowRight"
        theirs += steps(lesson.page, handle, text, [key] * STEPS)[1:]
        ours += steps(lesson.page, slider, panel.root, keys_for(slider, key))[1:]
    name = f"{lesson.name[:2]} {panel.title}"
    tenth = [statistics.quantiles(times, n=10)[-1] for times in (ours, theirs)]
    return [
        Result(f"{name}: step to picture", statistics.median(ours), statistics.median(theirs), AIM),
        Result(f"{name}: slowest tenth", *tenth, AIM),
    ]


def keys_for(slider, key):
    """Return the keys of one round: all the one, but for turning back at an end of the travel."""
    at, places = slider.evaluate(
        "it => [it.valueAsNumber - it.min, it.max - it.min].map((way) => Math.round(way / it.step))"
    )
    keys = []
    for _ in range(STEPS):
        if at == (places if key == "ArrowRight" else 0):
            key = "ArrowLeft" if key == "ArrowRight" else "ArrowRight"
        at += 1 if key == "ArrowRight" else -1
        keys.append(key)
    return keys


def first_that_draws(panel):
    """Return the first slider of which a step changes what is shown, or None."""
    sliders = panel.root.get_by_role("slider")
    for index in range(sliders.count()):
        slider, before = sliders.nth(index), panel.settled()["answer"]
        slider.press(keys_for(slider, "ArrowRight")[0])
        if panel.settled()["answer"] != before:
            return slider
    return None


def steps(page, handle, ends, keys):
    """Return the milliseconds of some steps, each from its key to the frame that shows it."""
    handle.focus()
    page.evaluate(CLOCK, ends.element_handle())
    for done, key in enumerate(keys):
        page.keyboard.press(key)
        page.wait_for_function("count => stepClock.times.length > count", arg=done)
    return page.evaluate("stepClock.stop()")
