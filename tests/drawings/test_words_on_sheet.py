"""The pictures of stored lessons, and of extremes that no panel reaches, have room for words."""

import json
import re
from html import unescape
from types import SimpleNamespace
from urllib.parse import unquote

import pytest
from scipy import stats

from tests.drawings.words_on_sheet import faults
from tests.house.laws import held_for
from workshop_lib.drawings import slip_charts
from workshop_lib.drawings.drawing import Canvas
from workshop_lib.launcher.environment import ROOT
from workshop_lib.load_path import designs, find_design
from workshop_lib.quantities import speaking
from workshop_lib.write_up.making import sheet_parts
from workshop_lib.write_up.page_parts import Picture

LESSONS = sorted((ROOT / "notebooks").glob("0*.ipynb"))
PICTURE = re.compile(r'src="data:image/svg\+xml,([^"]*)"')


@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.stem[:2])
def test_no_words_of_a_stored_lesson_leave_their_sheet_or_lie_on_others(path):
    cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    outputs = [output.get("data", {}) for cell in cells for output in cell.get("outputs", [])]
    pages = ["".join(data.get("text/html", "")) for data in outputs]
    sources = [source for page in pages for source in PICTURE.findall(page)]
    assert sources
    found = [faults(unquote(unescape(source)).replace("'", '"')) for source in sources]
    assert [each for each in found if each] == []


@pytest.mark.parametrize(
    ("at", "told"), [((38, 10), "leaves the sheet"), ((20, 10.5), "lies on"), ((20, 4), "")]
)
def test_words_off_the_sheet_and_words_on_words_are_found(at, told):
    c = Canvas(40, 20, "Words 1.").text((20, 10), "first words").text(at, "others")
    found = faults(c.svg())
    assert (found == []) if not told else any(told in each for each in found)


@held_for([0.3, 0.9, 1.5, 2.2, 6, 40], [0.02, 0.2, 0.6])
def test_the_chart_of_chance_keeps_its_words_apart_however_wide_the_margin_spreads(middle, share):
    spread = stats.norm(middle, share * middle)
    margin = SimpleNamespace(quantile=spread.ppf, chance_below=spread.cdf)
    chart = slip_charts.margin_chart(SimpleNamespace(margin=margin))
    assert chart.faults() == [] and faults(chart.picture("a 1").svg) == []


@held_for([1.2, 3.0, 12.0], [(1.0, 1.1), (1.5, 3.0)])
def test_the_chart_of_what_eats_a_margin_keeps_its_words_apart(start, factor):
    names = dict.fromkeys(("nose radius", "worn edge", "rake", "blow of the corner"), factor)
    assert faults(slip_charts.eaten_chart(names, (start, 1.4 * start)).picture("a 1").svg) == []


@held_for(["metric", "inch"], [design.key for design in designs()])
def test_a_making_sheet_has_room_for_its_words(system, key):
    with speaking(system):
        parts = sheet_parts(find_design(key))
    (picture,) = [part.figure for part in parts if isinstance(part, Picture)]
    assert faults(picture.svg) == []
