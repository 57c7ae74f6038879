"""From a slider's step to the picture on the screen, in a real browser, for every panel.

Two references stand in the same page on the same kernel. The floor is a slider and a line of text,
both plain widgets: the ratio tells what our pictures and their making cost above it. The other is
what somebody would write instead: `ipywidgets.interact`, and a matplotlib figure of one chart made
anew at each step in an output area. All three take turns.
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

AIM, AIM_INTERACT = 1.4, 0.3
ROUNDS, STEPS = 4, 8
FLOOR = """import ipywidgets as w
slider, text = w.IntSlider(value=50, max=1000, description="Floor"), w.HTML("<p>50</p>")
slider.observe(lambda change: setattr(text, "value", f"<p>{change.new} N</p>"), "value")
w.VBox([slider, text]).add_class("floor")"""
INTERACT = """import ipywidgets as w, numpy as np, matplotlib.pyplot as plt
def drawn(value):
    figure, axes = plt.subplots(figsize=(5.1, 3.3), layout="constrained")
    turn = np.linspace(0, np.pi / 2, 61)
    for share in (0.4, 0.7, 1):
        axes.plot(share * value * np.sin(turn), share * value * np.cos(turn), label=f"{share}")
    axes.fill_between([0, 500], 0, 100, alpha=0.2)
    axes.set(xlim=(0, 1100), ylim=(0, 1100), xlabel="Side force", ylabel="Torque")
    axes.set_title(f"{value} N")
    axes.legend()
    plt.show()
shown = w.interactive(drawn, value=w.IntSlider(value=500, max=1000))
shown.add_class("redrawn")
shown"""
# From the key going down to the frame after the change: `over` tells which change ends a step.
CLOCK = """
(what) => {
  const state = (window.stepClock = { start: 0, times: [] });
  const begin = (event) => {
    state.start = event.timeStamp;
    state.old = what.querySelector("img")?.src; // what still stands there is no answer
  };
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
  const panel = what.classList.contains("wb-panel");
  // A redrawn picture counts when it has arrived and can be painted, not when the old one goes.
  const arrived = () => {
    const image = what.querySelector("img");
    if (what.dataset.ends !== "image") seen();
    else if (image && image.src !== state.old) image.decode().then(seen, () => {});
  };
  const watcher = new MutationObserver(panel ? seen : arrived);
  const all = { attributes: true, childList: true, characterData: true, subtree: true };
  watcher.observe(what, panel ? { attributes: true, attributeFilter: ["data-waiting"] } : all);
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
    """Put the references at the end of a lesson."""
    notebook.cells += [new_code_cell(FLOOR), new_code_cell(INTERACT)]


def compared(lesson, panel):
    """Return the four lines of one panel; it and the references take turns."""
    slider = first_that_draws(panel)
    if slider is None:
        return []
    page, places = lesson.page, {}
    floor, redrawn = page.locator(".floor"), page.locator(".redrawn")
    redrawn.locator(".jp-OutputArea").first.evaluate("it => (it.dataset.ends = 'image')")
    places["floor"] = floor.locator(".noUi-handle"), floor.locator(".widget-html-content")
    places["interact"] = redrawn.locator(".noUi-handle"), redrawn.locator(".jp-OutputArea").first
    times = {"ours": [], "floor": [], "interact": []}
    for turn in range(ROUNDS):
        key = "ArrowLeft" if turn % 2 else "ArrowRight"
        for name, (handle, ends) in places.items():
            times[name] += steps(page, handle, ends, [key] * STEPS)[1:]
        times["ours"] += steps(page, slider, panel.root, keys_for(slider, key))[1:]
    name, found = f"{lesson.name[:2]} {panel.title}", []
    for other, aim in (("floor", AIM), ("interact", AIM_INTERACT)):
        pair = times["ours"], times[other]
        middle = map(statistics.median, pair)
        tenth = (statistics.quantiles(each, n=10)[-1] for each in pair)
        found.append(Result(f"{name}: step against {other}", *middle, aim))
        found.append(Result(f"{name}: slowest tenth against {other}", *tenth, aim))
    return found


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
