"""Access, WCAG 2.2 AA, on our own panels and outputs: by axe-core, and by what it cannot see.

JupyterLab's own menus and bars are not ours to mend and are left out.
"""

import contextlib

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from tests.house.thorough import THOROUGH

LEVELS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
OURS = {"include": [[".jp-OutputArea-output"]]}
FEWEST = (
    40 if THOROUGH else 5
)  # texts whose contrast was measured: fewer would mean that axe saw no page
SHOWN = ".jp-Cell { content-visibility: visible !important }"
TALL = "html, body {{ height: {}px !important }}"  # a theme that is loaded later has its own
ROLL = ".jp-WindowedPanel-outer"
AT_TOP = f"""
() => {{
  const roll = document.querySelector("{ROLL}");
  roll.scrollTop = 0;
  const below = [...document.querySelectorAll(".jp-OutputArea-output")]
    .filter((each) => each.getBoundingClientRect().bottom > roll.getBoundingClientRect().bottom);
  return !below.length;
}}
"""
SMALLEST = 24  # CSS px, WCAG 2.5.8

# What stands out at the right of its panel, other than within a table.
RUNS_OUT = """
() => [...document.querySelectorAll(".wb-panel")].flatMap((panel) => {
  const edge = panel.getBoundingClientRect().right + 1;
  return [...panel.querySelectorAll("*")]
    .filter((each) => !each.closest("table, svg, .wb-hidden, textarea"))
    .filter((each) => each.getClientRects().length && each.getBoundingClientRect().right > edge)
    .map((each) => `${panel.innerText.slice(0, 30)}: ${each.className || each.tagName}`);
})
"""
SMALL = """
least => [...document.querySelectorAll(".wb-panel :is(input, select, button, textarea, summary)")]
  .filter((each) => each.getClientRects().length)
  .map((each) => [each, (each.closest(".wb-choice") || each).getBoundingClientRect()])
  .filter(([, box]) => Math.min(box.width, box.height) < least - 0.01)
  .map(([each, box]) => `${each.outerHTML.slice(0, 60)} ${box.width} by ${box.height}`)
"""
UNTOLD = """
() => [...document.querySelectorAll(".jp-OutputArea-output :is(svg, img)")]
  .filter((each) => !each.closest("[aria-hidden=true]") && !each.parentElement.closest("svg"))
  .map((each) => each.getAttribute(each.tagName === "IMG" ? "alt" : "aria-label") || "")
  .filter((words) => words.split(" ").length < 4)
"""


@contextlib.contextmanager
def spread(lesson):
    """Show the whole lesson at once: what is scrolled away, axe cannot judge."""
    page, usual = lesson.page, lesson.page.viewport_size
    shown = page.add_style_tag(content=SHOWN)
    height = page.locator(ROLL).evaluate("roll => roll.scrollHeight") + 400
    page.set_viewport_size({**usual, "height": height})
    tall = page.add_style_tag(content=TALL.format(height))
    page.wait_for_function(AT_TOP)
    yield page
    page.set_viewport_size(usual)
    for style in (shown, tall):
        style.evaluate("style => style.remove()")


def as_far_as_usual(lesson):
    """Show the whole lesson in `check --thorough`; in the usual check what lies in the window."""
    return spread(lesson) if THOROUGH else contextlib.nullcontext(lesson.page)


def barriers(page):
    """Return what axe-core calls a violation, a line for each kind."""
    found = Axe().run(page, context=OURS, options={"runOnly": LEVELS}).response
    measured = sum(len(rule["nodes"]) for rule in found["passes"] if rule["id"] == "color-contrast")
    assert measured >= FEWEST
    return [
        f"{rule['id']}: {rule['help']}: {node['html'][:150]}"
        for rule in found["violations"]
        for node in rule["nodes"]
    ]


def test_no_barrier_is_found_in_a_lesson(lesson):
    with as_far_as_usual(lesson) as page:
        assert barriers(page) == []
        assert page.evaluate(SMALL, SMALLEST) == []
        assert page.evaluate(UNTOLD) == []


def test_no_barrier_is_found_while_an_entry_is_refused_and_in_the_dark(lessons):
    lesson = lessons["02"]
    panel = lesson.panel("Will it slip?")
    panel.type("Thrust", "3,5 N")
    with lesson.in_the_dark():
        with as_far_as_usual(lesson) as page:
            assert barriers(page) == []
        lesson.picture("02-refused-dark", panel.root)
    panel.type("Thrust", "800 N")


@pytest.mark.parametrize("width", [320, 660])
def test_panels_reflow_where_the_page_is_narrow_or_enlarged(lesson, width):
    """320 CSS px is 1280 px at 400 %; 660 px is this window at 200 %."""
    style = lesson.page.add_style_tag(content=f".wb-host {{ width: {width}px !important }} {SHOWN}")
    try:
        assert lesson.page.evaluate(RUNS_OUT) == []
        if lesson.live.count():
            lesson.picture(f"{lesson.name[:2]}-at-{width}", lesson.live.last)
    finally:
        style.evaluate("style => style.remove()")


def test_the_keyboard_goes_through_a_panel_in_reading_order_and_is_seen(lessons):
    lesson = lessons["02"]
    panel = lesson.panel("Where does the pad press?")
    order = panel.root.evaluate(
        "panel => [...panel.querySelectorAll('input:not([type=radio]), input:checked, select')]"
        ".map((each) => each.id || each.type + each.value)"
    )
    panel.box("Pad, outer diameter").focus()
    passed = []
    for _ in order:
        here = lesson.page.evaluate(
            "() => { const it = document.activeElement, look = getComputedStyle(it);"
            "return [it.id || it.type + it.value, look.outlineStyle, look.outlineWidth]; }"
        )
        passed.append(here[0])
        lesson.page.keyboard.press("Tab")
        assert here[1:] == ["solid", "3px"]
    assert passed == order


def test_a_screen_reader_is_told_once_when_a_burst_has_ended(lessons):
    lesson = lessons["02"]
    panel = lesson.panel("One face or two?")
    panel.type("Thrust", "none")
    expect(panel.told).to_contain_text("‘none’ does not start with a number")
    panel.type("Thrust", "800 N")
    expect(panel.told).to_have_text(panel.verdict.text_content())
    panel.told.evaluate(
        "told => { window.told = []; new MutationObserver(() => window.told.push(told.textContent))"
        ".observe(told, { childList: true, characterData: true, subtree: true }) }"
    )
    verdicts = []
    for _ in range(5):  # each is another verdict, and all come within the stillness that is awaited
        panel.slider("Thrust").press("PageUp")
        verdicts.append(panel.settled()["verdict"])
    assert len(set(verdicts)) == 5
    lesson.page.wait_for_function("() => told.length > 0")
    assert lesson.page.evaluate("told") == verdicts[-1:]
    panel.type("Thrust", "3,5 N")
    lesson.page.wait_for_function("() => told.length > 1")
    said = lesson.page.evaluate("told")[1]
    assert said.startswith("Thrust: ‘3,5 N’ has a comma") and "last valid entries" in said
    panel.type("Thrust", "800 N")
