"""The exported pages in a browser: on a telephone, large for a projector, and on paper."""

import math

import pytest

from tests.house.thorough import among, some
from workshop_lib.launcher.environment import masters
from workshop_lib.teaching import pages
from workshop_lib.teaching.hand_out import slides
from workshop_lib.teaching.lesson_parts import parts

TELEPHONE, LAPTOP, PROJECTOR = (360, 740), (1200, 900), (1280, 720)
SHEETS = ("A4", 595, 842), ("Letter", 612, 792)
STEMS = [path.stem for path in pages.everything()]
WIDTHS = "[document.documentElement.scrollWidth, document.documentElement.clientWidth]"
SMALLEST = """
() => Math.min(...[...document.querySelectorAll("main *")]
  .filter((each) => [...each.childNodes].some((n) => n.nodeType === 3 && n.data.trim()))
  .filter((each) => !each.closest("sub, sup, math, svg"))
  .map((each) => parseFloat(getComputedStyle(each).fontSize)))
"""

# On paper nothing can be rolled into sight, and a picture keeps its shape.
CUT = """
() => [...document.querySelectorAll("main *")].filter((each) => {
  if (!each.getClientRects().length || each.closest("svg, math")) return false;
  if (each.tagName === "IMG") {
    const shape = each.naturalWidth / each.naturalHeight;
    return Math.abs(each.offsetWidth / each.offsetHeight / shape - 1) > 0.05;
  }
  return getComputedStyle(each).overflow !== "visible"
    && (each.scrollHeight > each.clientHeight + 1 || each.scrollWidth > each.clientWidth + 1);
}).map((each) => each.outerHTML.slice(0, 90))
"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    made = tmp_path_factory.mktemp("pages")
    pages.write(pages.everything(), made)
    return made


@pytest.fixture
def shown(chromium, folder):
    """Open a page in a window of some size; give it back with what it asked for from outside."""
    opened, asked = [], []

    def show(stem, size):
        page = chromium.new_page(viewport=sides(size))
        opened.append(page)
        page.on("request", lambda request: asked.append(request.url))
        page.on("console", lambda message: asked.append(message.text))
        page.goto((folder / f"{stem}.html").as_uri())
        return page, asked

    yield show
    for page in opened:
        page.close()


def sides(size):
    return dict(zip(("width", "height"), size, strict=True))


def from_outside(asked):
    return [url for url in asked if not url.startswith(("file:", "data:"))]


def show_python(page):
    """Tick the box of a page that has one."""
    if page.get_by_label("Show the Python").count():
        page.get_by_label("Show the Python").check()


@pytest.mark.parametrize("stem", some([*STEMS, "index"], 3))
def test_a_page_is_whole_in_a_window_on_a_telephone_and_on_paper(stem, shown):
    page, asked = shown(stem, LAPTOP)
    show_python(page)  # the fuller of the two
    page.wait_for_function("[...document.images].every((each) => each.complete)")
    blank = "[...document.images].filter((each) => !each.naturalWidth).map((each) => each.alt)"
    assert page.evaluate(blank) == []
    for size in (LAPTOP, TELEPHONE):
        page.set_viewport_size(sides(size))
        whole, window = page.evaluate(WIDTHS)
        assert whole <= window
    assert page.evaluate(SMALLEST) >= 12
    page.emulate_media(media="print")
    for sheet in SHEETS:
        assert_it_fits(page, *sheet)
    assert from_outside(asked) == []


def assert_it_fits(page, name, width, height):
    """Hold a page that is set for paper to a sheet of this name and size in points."""
    points = 72 / 96  # of a pixel; the margins in pages.css are 15 mm at the sides
    room = (width - 2 * 15 * 72 / 25.4) / points
    page.set_viewport_size(sides((int(room), 900)))
    whole = page.evaluate(WIDTHS)[0]
    assert whole <= int(room), f"wider than {name}: the browser would shrink the page to fit"
    assert page.evaluate(CUT) == []
    tall = page.evaluate(
        "Math.max(...[...document.querySelectorAll('figure, pre')].map((e) => e.offsetHeight), 0)"
    )
    assert tall <= (height - 33 * 72 / 25.4) / points, f"taller than a sheet of {name}"


def test_the_switches_work_without_a_script(shown):
    page, _ = shown("02_the_slip_criterion", PROJECTOR)
    shown_code = page.locator("pre.code >> visible=true")
    assert not shown_code.count() and page.evaluate(SMALLEST) < 16
    page.get_by_label("Large text, for a projector").check()
    assert page.evaluate(SMALLEST) >= 18
    assert page.evaluate(WIDTHS)[0] <= PROJECTOR[0]
    page.get_by_label("Show the Python").check()
    assert shown_code.count() == page.locator("pre.code").count() > 0
    assert page.evaluate(WIDTHS)[0] <= PROJECTOR[0]


def test_the_python_is_printed_only_when_it_is_ticked(shown):
    page, _ = shown("02_the_slip_criterion", LAPTOP)
    page.emulate_media(media="print")
    assert not page.locator("pre.code >> visible=true").count()
    page.emulate_media(media="screen")
    page.get_by_label("Show the Python").check()
    page.emulate_media(media="print")
    assert page.locator("pre.code >> visible=true").count() == page.locator("pre.code").count()


def test_folded_results_are_open_on_paper(shown):
    page, _ = shown("05_run_out_diagnosis", LAPTOP)
    inside = page.locator("details table").first
    assert not inside.is_visible()
    page.emulate_media(media="print")
    assert inside.is_visible()


SMALL_LETTER = 2 * 6.0 * math.tan(math.radians(10 / 60)) / 2.4  # 20 arcmin, as a share of its width
# Slides of which something leaves the screen, and the least letter x of what is told on them.
SLIDES = """
() => {
  const found = [...document.querySelectorAll(".slide")];
  const out = (slide) => slide.scrollHeight > slide.clientHeight + 1
    || slide.scrollWidth > slide.clientWidth + 1
    || [...slide.children].some((each) =>
      each.getBoundingClientRect().top < slide.getBoundingClientRect().top);
  const pen = document.createElement("canvas").getContext("2d");
  const told = [...document.querySelectorAll(".slide :is(p, li, strong, figcaption)")];
  const small = told.filter((each) => each.textContent.trim()).map((each) => {
    const style = getComputedStyle(each);
    pen.font = `${style.fontSize} ${style.fontFamily}`;
    return pen.measureText("x").actualBoundingBoxAscent / innerWidth;
  });
  return [found.length, found.filter(out).map((each) => each.innerText), Math.min(...small)];
}
"""


@pytest.mark.parametrize("path", some(masters(), 9), ids=lambda path: path.stem[:2])
def test_every_slide_is_whole_and_read_from_six_metres(path, chromium, tmp_path):
    (tmp_path / "slides.html").write_text(slides(parts(path)), encoding="utf-8")
    for size in among([PROJECTOR], [(1024, 768), PROJECTOR, (1920, 1080)]):
        page = chromium.new_page(viewport=sides(size))
        page.goto((tmp_path / "slides.html").as_uri())
        count, cut, small = page.evaluate(SLIDES)
        page.close()
        assert count > 10 and cut == [] and small >= SMALL_LETTER, (size, cut, small)
