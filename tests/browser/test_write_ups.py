"""A write-up in a browser: four or five sheets with nothing parted, and quiet on a telephone."""

import re
import shutil
import subprocess
from xml.etree import ElementTree

import pytest

from tests.house.thorough import among
from tests.plan.job_cases import COVER, FILES
from workshop_lib import plan, write_up

TELEPHONE = {"width": 390, "height": 800}
NOT_PARTED = """
[...document.querySelectorAll('tr, li, figure')].filter((each) => {
  const style = getComputedStyle(each);
  return style.breakInside !== 'avoid';
}).length
"""
SLIDING = """
[...document.querySelectorAll('body *')].filter((each) =>
  each.scrollWidth > each.clientWidth + 1 && getComputedStyle(each).overflowX !== 'visible').length
"""
SMALLEST = """
Math.min(...[...document.querySelectorAll('svg text')].map((e) => [e, e.getScreenCTM()])
  .map(([e, m]) => Math.hypot(m.a, m.b) * parseFloat(getComputedStyle(e).fontSize)))
"""


@pytest.fixture(params=among([COVER], FILES), ids=lambda path: path.stem)
def page(request, chromium, tmp_path):
    shown = chromium.new_page()
    shown.goto(write_up.write(plan.load(request.param), tmp_path).as_uri())
    yield shown
    shown.close()


def words_of(pdf):
    """Every line of a printed page: sheet, column, place from the top, words, size of letters."""
    command = ["pdftohtml", "-xml", "-i", "-stdout", pdf]
    sheets = ElementTree.fromstring(subprocess.check_output(command, stderr=subprocess.DEVNULL))
    for number, sheet in enumerate(sheets.iter("page"), start=1):
        middle = float(sheet.get("width")) / 2
        for each in sheet.iter("text"):
            words = " ".join("".join(each.itertext()).split())
            right, size = float(each.get("left")) > middle, float(each.get("height"))
            yield number, right, float(each.get("top")), words, size


def test_it_prints_on_four_or_five_sheets_and_parts_no_heading(page, tmp_path):
    if not shutil.which("pdftohtml"):
        pytest.skip("pdftohtml reads the sheets")
    headings = page.evaluate("[...document.querySelectorAll('h2, h3')].map((e) => e.innerText)")
    for paper in ("A4", "Letter"):
        page.pdf(path=tmp_path / "page.pdf", format=paper)
        lines = list(words_of(tmp_path / "page.pdf"))
        assert 4 <= max(line[0] for line in lines) <= 5, paper
        for heading in headings:
            named = [line for line in lines if line[3] == heading]  # a table may name it too
            found = [line for line in named if line[4] == max(each[4] for each in named)]
            assert len(found) == 1, heading
            ((sheet, column, top, *_),) = found
            below = [each for each in lines if each[:2] == (sheet, column) and each[2] > top + 3]
            assert below, f"{paper}: nothing follows “{heading}” on its sheet"
    page.emulate_media(media="print")
    assert page.evaluate(NOT_PARTED) == 0


def test_a_telephone_needs_no_sliding(page):
    page.set_viewport_size(TELEPHONE)
    assert page.evaluate("document.documentElement.scrollWidth") <= TELEPHONE["width"]
    assert page.evaluate(SLIDING) == 0
    assert page.evaluate(SMALLEST) >= 9
    assert not re.search("tabindex", page.content())
