"""Panels under fire: three hundred values drawn by chance into each, as fast as a page takes them.

Left to `check --thorough`. The values are drawn anew on each run; the seed is told where one fails.
"""

import os
import random

import pytest

from tests.house.thorough import only_thorough

VALUES, AT_ONCE, PANELS = 300, 15, 10
SEED = int(os.environ.get("WORKSHOP_SEED", 0)) or random.SystemRandom().randrange(1, 10**6)
NUMBERS = ["0", "-1", "1e-9", "1e9", "3,5", "1 1/2", "½", ".5", "007", "1e999", "−3", "٣", "NaN"]
UNITS = [
    "mm",
    "in",
    "thou",
    "N",
    "lbf",
    "N m",
    "lbf in",
    "rev/min",
    "rpm",
    "MPa",
    "deg",
    "%",
    "",
    "x",
]
OTHERS = [
    "",
    " ",
    "\t",
    "😀",
    "<img src=x onerror=window.ran=1>",
    "a" * 5000,
    "\u202e30 mm",
    "22 gauge",
]
FIRE = """
([panel, values]) => {
  const boxes = [...panel.querySelectorAll(
    ":is(input[type=text], textarea).wb-box:not(:read-only), select, input[type=checkbox]")]
    .filter((box) => box.labels?.[0]?.textContent !== "Open"); // it brings another form
  for (const [place, text] of values) {
    const box = boxes[Math.floor(place * boxes.length)];
    box.kept ??= box.type === "checkbox" ? box.checked : box.value;
    if (box.type === "checkbox") box.checked = !box.checked;
    else if (box.tagName === "SELECT") box.selectedIndex = Math.floor(place * 1e6) % box.length;
    else box.value = text;
    box.dispatchEvent(new Event("input", { bubbles: true }));
    box.dispatchEvent(new Event("change", { bubbles: true }));
  }
}
"""
BACK = """
(panel) => panel.querySelectorAll("input, textarea, select").forEach((box) => {
  if (box.kept === undefined) return;
  if (box.type === "checkbox") box.checked = box.kept;
  else box.value = box.kept;
  box.dispatchEvent(new Event("input", { bubbles: true }));
  box.dispatchEvent(new Event("change", { bubbles: true }));
})
"""


def drawn(luck):
    """Return a place among the fields, from 0 to 1, and a text."""
    plain = f"{luck.uniform(0, 10 ** luck.randint(-1, 4)):.4g}"
    number = luck.choice([plain] * 20 + NUMBERS)
    text = luck.choice(OTHERS) if luck.random() < 0.1 else f"{number} {luck.choice(UNITS)}"
    return luck.random(), text


@only_thorough
@pytest.mark.parametrize("number", ["00", "02", "03", "04", "06"])
def test_no_old_verdict_is_shown_as_current_and_nothing_breaks(lessons, number):
    lesson, luck = lessons[number], random.Random(SEED)
    for panel in lesson.panels()[: PANELS // 5]:
        start = panel.settled()
        handle = panel.root.element_handle()
        for _ in range(VALUES // AT_ONCE):
            lesson.page.evaluate(FIRE, [handle, [drawn(luck) for _ in range(AT_ONCE)]])
            state = panel.settled()
            told = f"{panel.title}, WORKSHOP_SEED={SEED}: {state}"[:500]
            assert "fault of its own" not in state["fault"], told
            assert not state["complaints"] or "last valid entries" in state["note"], told
            assert state["complaints"] or state["fault"] or not state["note"], told
        handle.evaluate(BACK)
        end = panel.settled()
        assert (end["answer"], end["setting"]) == (start["answer"], start["setting"]), panel.title
    assert lesson.page.evaluate("window.ran") is None and lesson.errors == []
