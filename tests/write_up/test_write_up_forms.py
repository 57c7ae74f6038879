"""The two forms of a write-up: whole, quiet, and showing every text as it was typed."""

import re
from html.parser import HTMLParser
from xml.etree import ElementTree

import mistune
import pytest

from tests.house.thorough import some
from tests.plan.job_cases import FILES, full, plain
from workshop_lib import plan, write_up
from workshop_lib.write_up import html_page, markdown_page, page_parts
from workshop_lib.write_up.html_page import STYLE

EACH_JOB = pytest.mark.parametrize("path", FILES, ids=[path.stem for path in FILES])
VOID = {"meta", "br", "hr", "img", "link", "input"}
render = mistune.create_markdown(escape=False, plugins=["table", "url", "strikethrough"])


class Page(HTMLParser):
    """A page read strictly: every tag closed in its order."""

    def __init__(self, text):
        super().__init__(convert_charrefs=True)
        self.open, self.tags, self.attributes, self.words = [], [], [], []
        self.feed(text)
        self.close()
        assert not self.open, f"never closed: {self.open}"

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes.append((tag, dict(attrs)))
        assert len(dict(attrs)) == len(attrs), f"{tag} has an attribute twice"
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes.append((tag, dict(attrs)))

    def handle_endtag(self, tag):
        assert self.open.pop() == tag, f"</{tag}> closes another"

    def handle_data(self, data):
        self.words.append(data)

    @property
    def text(self):
        return "".join(self.words)


def page_of(job, folder):
    return write_up.write(job, folder, "html").read_text(encoding="utf-8")


def markdown_of(job, folder):
    return write_up.write(job, folder, "markdown").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def written(tmp_path_factory):
    """A file for each job's stem and form: every job, written once."""
    folder = tmp_path_factory.mktemp("written")
    return {
        (path.stem, form): write_up.write(plan.load(path), folder, form)
        for path in FILES
        for form in write_up.FORMS
    }


@pytest.fixture
def text(path, written):
    """The page of a job."""
    return written[path.stem, "html"].read_text(encoding="utf-8")


# A page that needs nothing else


@EACH_JOB
def test_a_page_is_whole_and_asks_for_nothing(text):
    page = Page(text)
    assert text.startswith('<!doctype html>\n<html lang="en">')
    assert "default-src 'none'" in text
    assert not {"script", "link", "iframe", "img", "object", "embed", "base", "form"} & set(
        page.tags
    )
    for tag, named in page.attributes:
        assert not {"src", "srcset", "action", "style"} & set(named) or tag == "svg"
        assert not any(name.startswith("on") for name in named), tag
        address = named.get("href") or named.get("xlink:href") or "#"
        assert address.startswith("#")
    assert "url(" not in STYLE and "@import" not in STYLE


@EACH_JOB
def test_headings_go_down_one_at_a_time_below_one_title(text):
    page = Page(text)
    levels = [int(tag[1]) for tag in page.tags if re.fullmatch("h[1-6]", tag)]
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(after <= before + 1 for before, after in zip(levels, levels[1:], strict=False))


@EACH_JOB
def test_every_drawing_says_in_words_what_it_shows(text):
    page = Page(text)
    drawings = [n for tag, n in page.attributes if tag == "svg" and n.get("role") == "img"]
    assert len(drawings) == page.tags.count("figure") >= 6
    for named in drawings:
        assert re.search(r"\d", named.get("aria-label", ""))
    numbers = [named["id"] for _, named in page.attributes if "id" in named]
    assert len(numbers) == len(set(numbers))


@EACH_JOB
def test_every_row_has_the_cells_of_its_heading(text):
    for table in re.findall(r"<table>.*?</table>", text):
        tree = ElementTree.fromstring(table.replace("&nbsp;", " "))
        assert len({len(row) for row in tree.iter("tr")}) == 1


@EACH_JOB
def test_the_same_job_gives_the_same_bytes(path, written, tmp_path):
    for form in write_up.FORMS:
        again = write_up.write(plan.load(path), tmp_path, form)
        assert again.read_bytes() == written[path.stem, form].read_bytes()


# Markdown


@EACH_JOB
def test_markdown_holds_no_tag_and_the_same_tables(path, written):
    text, html = (written[path.stem, form].read_text("utf-8") for form in ("markdown", "html"))
    assert not re.findall(r"<(?!https?://)", text)
    shown = Page(render(text))
    page = Page(html)
    for tag in ("table", "h1", "h2", "h3"):
        assert shown.tags.count(tag) == page.tags.count(tag)
    rows = len(re.findall(r"^\| (?!\| |---)", text, re.MULTILINE))
    assert shown.tags.count("tr") >= rows
    shown_rows = [
        len(re.findall(r"<t[hd]", row)) for row in re.findall(r"(?s)<tr>.*?</tr>", render(text))
    ]
    assert set(shown_rows) <= {2, 3, 4}


@EACH_JOB
def test_markdown_has_its_drawings_beside_it(path, written):
    place = written[path.stem, "markdown"]
    named = re.findall(r"\]\((figures/\w+\.svg)\)", place.read_text(encoding="utf-8"))
    assert len(named) == len(list((place.parent / "figures").iterdir())) >= 6
    for each in named:
        drawing = ElementTree.parse(place.parent / each).getroot()
        assert drawing.tag.endswith("svg")


# What was typed is shown as it was typed

NASTY = [
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "<b>bold</b> &amp; &lt; &#60;script&#62;",
    "[link](javascript:alert(1)) ![picture](http://x.invalid/x.png)",
    "http://x.invalid/ www.x.invalid mailto:a@x.invalid",
    "| a | b |",
    "`code` ```fence``` $x^2$ $$y$$",
    "# heading",
    "- item",
    "1. first",
    "> quoted",
    "***",
    "====",
    "~~gone~~ **strong** _slanted_ __under__",
    "F_{c} and 10^{3}",
    r"back\slash \<b\> \[x\](y)",
    "<!-- hidden -->",
    "{{ template }} {% raw %} ${x}",
    "]]> </style></svg></title>",
    "a" * 180,
]
SAID = ["about.title", "about.purpose", "about.made_by", "about.date"]


ABOUT = ["about.title", "about.purpose", "about.made_by", "about.date"]
EVERYWHERE = 4  # how often each is shown: a remark, and three words of a trouble


def with_texts(texts):
    """A job that holds each text as a remark and in a trouble, and four of them about itself."""
    short = [text for text in texts if len(text) <= 40]
    about = dict(zip(ABOUT, [*texts[:3], short[-1]], strict=True))
    trouble = [{"what": text, "why": text, "mended": text} for text in texts]
    total = {"where": "disc", "total": "0.04 mm"}
    angles, readings = ["0 deg", "120 deg", "240 deg"], ["20 um", "0 um", "-20 um"]
    tests = [total | {"name": text, "state": text} for text in short[:3]]
    tests += [{"where": "disc", "name": short[0], "angles": angles, "readings": readings}]
    entries = {"notes.remarks": list(texts), "notes.went_wrong": trouble, "run_out.tests": tests}
    return full().changed(about | entries), list(about.values())


@pytest.mark.parametrize("start", some(range(0, len(NASTY), 10)))
def test_a_text_is_shown_in_both_forms_as_it_was_typed(start, tmp_path):
    texts = NASTY[start:] + NASTY[:start]  # so that many stand in each place of `ABOUT`
    job, about = with_texts(texts)
    calm, _ = with_texts([f"calm{at}".ljust(min(len(each), 41)) for at, each in enumerate(texts)])
    for form, shown in ((page_of, str), (markdown_of, render)):
        page, quiet = (Page(shown(form(each, tmp_path))) for each in (job, calm))
        assert sorted(page.tags) == sorted(quiet.tags), "a text made a tag"
        for text in texts:
            assert page.text.count(text) >= EVERYWHERE + about.count(text)


LINES = [
    "one\ntwo",
    "text\n====",
    "text\n----",
    "a\n- b\n- c",
    "a\n\n    code",
    "a\n| x | y |\n|---|---|",
]


@pytest.mark.parametrize("text", some(LINES, 3))
def test_a_text_of_several_lines_stays_a_text(text, tmp_path):
    job = full().changed({"about.purpose": text, "notes.remarks": [text]})
    calm = Page(render(markdown_of(full().changed({"about.purpose": "calm"}), tmp_path)))
    page = Page(render(markdown_of(job, tmp_path)))
    extra = {tag for tag in page.tags if page.tags.count(tag) > calm.tags.count(tag)}
    assert extra <= {"br", "p"}
    for word in text.split():
        assert word in page.text


@pytest.mark.parametrize("mark", ["\u202e", "\u2066", "\u200f", "\x00", "\x07"])
def test_marks_that_turn_a_line_round_never_reach_a_page(mark, tmp_path):
    with pytest.raises(plan.JobFaults, match=f"U\\+{ord(mark):04X}"):
        plain(about__purpose=f"a{mark}b")
    assert mark not in html_page.page(f"a{mark}b", [page_parts.Text(f"c{mark}d")])


def test_every_part_has_a_look_in_both_forms():
    kinds = {kind for kind in vars(page_parts).values() if isinstance(kind, type)}
    assert set(html_page._SHOWN) == set(markdown_page._SHOWN) == kinds


@pytest.mark.parametrize("form", [html_page, markdown_page])
def test_every_part_escapes_every_text_that_it_holds(form):
    bad = "<i>&amp;</i> *a*"
    content = [
        page_parts.Heading(bad),
        page_parts.Text(bad),
        page_parts.Verdict(bad, "no"),
        page_parts.Listed((bad,)),
        page_parts.Listed((bad,), numbered=True),
        page_parts.Cautions((bad,)),
        page_parts.Table(((bad, bad),), (bad, bad)),
        page_parts.References(((bad, bad, bad),)),
        page_parts.Photograph(b"", (1, 1), "photograph_1", bad, bad),
    ]
    written = form.page(bad, content)
    page = Page(written if form is html_page else render(written))
    times = 14 + (2 if form is html_page else 1)  # by hand; the title stands in the head too
    assert page.text.count(bad) == times
    assert "i" not in page.tags
    assert page.tags.count("em") == (form is markdown_page), "a caption is set in italics"
