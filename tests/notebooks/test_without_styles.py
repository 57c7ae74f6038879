"""Lessons read where no kernel runs and a host strips scripts, styles, classes and live elements.

So a repository's notebook view, an e-mail's preview or a phone shows them. What such a host leaves
is made here by a sanitiser of HTML that others keep; the strictest hosts take pictures away, too.
"""

import re

import nbformat
import nh3
import pytest

from workshop_lib.launcher.environment import masters
from workshop_lib.teaching.live import ASLEEP

# Stricter than the hosts known: no style, no class, no drawing as elements.
LEFT = {
    "tags": nh3.ALLOWED_TAGS - {"svg", "math"},
    "attributes": {"img": {"src", "alt"}, "a": {"href"}, "th": {"scope"}},
    "url_schemes": {"http", "https", "data"},
}
INLINE = "span|strong|b|em|i|code|label|a|small"
RUN_TOGETHER = re.compile(rf"\w(?:</(?:{INLINE})>)+(?:<(?:{INLINE})\b[^>]*>)+\w")
SIGN = '<svg [^>]*aria-hidden="true"'  # beside words that say the same
NOT_FOR_READERS = re.compile(r"\w\((?:\w+=|children)|object at 0x|[Mm]odel not found|<\w+\.\w+")


def stripped(html):
    """Return what a strict host leaves of some HTML."""
    return nh3.clean(html, **LEFT)


def words(html):
    """Return the words that stand in some HTML, one space between them."""
    plain = nh3.clean(re.sub(r"<[^>]+>", r" \g<0> ", html), tags=set())
    return re.sub(r"\s+", " ", plain).strip()


def shown(path):
    """Return the HTML that each cell of a stored lesson shows, with the cell."""
    cells = [cell for cell in nbformat.read(path, as_version=4).cells if cell.cell_type == "code"]
    return [
        (cell, output["data"]["text/html"])
        for cell in cells
        for output in cell.outputs
        if "text/html" in output.get("data", {})
    ]


@pytest.mark.parametrize("path", masters(), ids=lambda path: path.stem[:2])
def test_a_host_that_strips_styles_takes_no_word_and_no_picture(path):
    for cell, html in shown(path):
        left = stripped(html)
        assert words(left) == words(re.sub(r"<svg.*?</svg>", "", html, flags=re.DOTALL)), cell.id
        assert left.count("<img") == html.count("<img"), cell.id
        assert left.count('src="data:image/') == html.count("<img"), cell.id
        assert left.count("<tr>") == html.count("<tr>"), cell.id
        assert left.count("<li>") == len(re.findall("<li[ >]", html)), cell.id
        assert html.count("<svg") == len(re.findall(SIGN, html)), (cell.id, "a drawing is no <img>")
        assert not RUN_TOGETHER.search(left), (cell.id, RUN_TOGETHER.search(left)[0])


@pytest.mark.parametrize("path", masters(), ids=lambda path: path.stem[:2])
def test_every_result_says_something_without_its_picture(path):
    for cell, html in shown(path):
        left = stripped(html)
        told = words(left).replace(ASLEEP, "") + " ".join(re.findall(r'alt="([^"]*)"', left))
        assert len(told.split()) >= 6, (cell.id, told)
        assert not NOT_FOR_READERS.search(told), cell.id
        assert all(len(alt.split()) >= 4 for alt in re.findall(r'alt="([^"]*)"', left)), cell.id


@pytest.mark.parametrize("path", masters(), ids=lambda path: path.stem[:2])
def test_a_panel_shows_its_twin(path):
    panels = [each for each in shown(path) if each[0].source.rstrip().endswith(".panel()")]
    assert panels
    for cell, html in panels:
        left = stripped(html)
        title, *verdict = re.findall(r"<strong>(.*?)</strong>", left)
        assert title and verdict, cell.id
        assert re.search("<table>|<img|<li>", left) and ASLEEP in left, cell.id


@pytest.mark.parametrize("path", masters(), ids=lambda path: path.stem[:2])
def test_the_cautions_stand_there_as_a_list(path):
    shows = [stripped(html) for _, html in shown(path)]
    cautions = [left.partition("<strong>Caution</strong><ul>")[2] for left in shows]
    assert max(left.partition("</ul>")[0].count("<li>") for left in cautions) >= 2


@pytest.mark.parametrize("path", masters(), ids=lambda path: path.stem[:2])
def test_a_front_end_that_knows_only_plain_text_gets_words(path):
    for cell in nbformat.read(path, as_version=4).cells:
        for output in cell.get("outputs", []):
            plain = output.get("data", {}).get("text/plain", "words enough for this")
            assert len(plain.split()) >= 4, (cell.id, plain)
            assert not NOT_FOR_READERS.search(plain.partition("\n")[0]), (cell.id, plain[:80])


def test_the_sanitiser_strips_what_a_host_strips():
    html = '<p style="x" class="y" onclick="z"><svg><text>in</text></svg>a<script>s</script></p>'
    assert stripped(html) == "<p>a</p>"
    assert RUN_TOGETHER.search("<span>Thrust</span><span>800 N</span>")
    assert NOT_FOR_READERS.search("Panel(children=(") and NOT_FOR_READERS.search(
        "<a.B object at 0x1"
    )
