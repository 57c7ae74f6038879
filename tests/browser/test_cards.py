"""The card in a browser: one printed sheet for each job, and one column on a telephone."""

import re
import shutil
import subprocess

import pytest

from tests.plan.job_cases import FILES, full, plain
from workshop_lib import plan
from workshop_lib.drawings.markup import Html
from workshop_lib.quantities import SYSTEMS, speaking
from workshop_lib.write_up.card_contents import card_of
from workshop_lib.write_up.card_page import STYLE, card_body
from workshop_lib.write_up.html_page import framed

TELEPHONE = {"width": 390, "height": 800}
# Everything fails at once, and every word of a person's own is as long as it may be.
LONG = {
    "about__title": "W" * 200,
    "thrust__force": "90 N",
    "nose__plate_diameter": None,
    "rim__bend_allowed": "0.001 mm",
    "cut__speed": "2500 rev/min",
    "cut__feed": "0.001 mm",
    "cut__finishing_depth": "0.0123456789 mm",
    "sheet__material": "pvc",
    "blank__corners": 3,
    "pad__facing": "moulded_lining",
    "pad__facing_thickness": None,
    "disc__diameter": "60.123456789 mm",
    "pad__outer_diameter": "22.123456789 mm",
    "attempt": [{"happened": "It turned.", "slipped": True}],
}


@pytest.fixture(scope="module")
def cards():
    """A card of every demonstration job and of jobs with long texts, in metric and in inch."""
    jobs = [*map(plan.load, FILES), plain(**LONG), full("square"), full("outline")]
    jobs.append(plain(about__title="Disc of a very long name, " * 7))
    found = []
    for units in SYSTEMS:
        with speaking(units):
            for job in jobs:
                with job.speaking_one():
                    found.append(card_of(plan.assess(job, draws=0)))
    return found


def test_each_card_takes_one_sheet_of_a4_and_of_letter(chromium, cards, tmp_path):
    if not shutil.which("pdfinfo"):
        pytest.skip("pdfinfo counts the sheets")
    page = chromium.new_page()
    sheet = '<div style="break-after:page">{}</div>'
    page.set_content(framed("Cards", Html("".join(sheet.format(card_body(c)) for c in cards)), "",
                            STYLE))  # fmt: skip
    for paper in ("A4", "Letter"):
        page.pdf(path=tmp_path / "cards.pdf", format=paper)
        told = subprocess.check_output(["pdfinfo", tmp_path / "cards.pdf"], text=True)
        assert int(re.search(r"Pages:\s+([0-9]+)", told)[1]) == len(cards), paper
    # Room for the letters of another machine, which may be a little larger.
    page.emulate_media(media="print")
    page.set_viewport_size({"width": int((210 - 18) / 25.4 * 96), "height": 900})
    high = page.evaluate("[...document.querySelectorAll('main')].map((e) => e.offsetHeight)")
    assert max(high) * 25.4 / 96 < 279.4 - 18 - 2
    page.close()


def test_a_card_is_read_on_a_telephone_without_sliding_sideways(chromium, cards):
    page = chromium.new_page(viewport=TELEPHONE)
    for card in (cards[0], cards[len(FILES)]):
        page.set_content(framed("Card", card_body(card), "", STYLE))
        assert page.evaluate("document.documentElement.scrollWidth") <= TELEPHONE["width"]
        smallest = "Math.min(...[...document.querySelectorAll('main *')].filter((e) => "
        smallest += "!e.closest('svg')).map((e) => parseFloat(getComputedStyle(e).fontSize)))"
        assert page.evaluate(smallest) >= 12
        letters = "Math.min(...[...document.querySelectorAll('svg text')]"
        letters += ".map((e) => [e, e.getScreenCTM()]).map(([e, m]) => Math.hypot(m.a, m.b)"
        letters += " * parseFloat(getComputedStyle(e).fontSize)))"
        assert page.evaluate(letters) >= 11
    page.close()
