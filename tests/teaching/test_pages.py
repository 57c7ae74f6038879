"""Lessons as pages: whole, readable, asking for nothing from outside, and nothing is run."""

import html.parser
import re

import nbformat
import pytest
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook, new_output

from workshop_lib.drawings.markup import LOCKED
from workshop_lib.launcher import copies
from workshop_lib.launcher.environment import ROOT
from workshop_lib.launcher.trouble import Trouble
from workshop_lib.quantities import InputError
from workshop_lib.teaching import pages, prose
from workshop_lib.teaching.live import ASLEEP
from workshop_lib.teaching.prose import Prose, formula, roomy, slug
from workshop_lib.teaching.words import find_word

LESSONS = sorted((ROOT / "notebooks").glob("[0-9][0-9]_*.ipynb"))
VOID = {"meta", "br", "img", "input", "hr", "wbr", "link", "path", "circle", "line"}


def name(path):
    return path.stem


class Reader(html.parser.HTMLParser):
    """Reads a page strictly: what opens must close, in order."""

    def __init__(self, text):
        super().__init__()
        self.open, self.tags, self.words = [], [], []
        self.feed(text)
        assert self.open == []

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        if self.open and self.open[-1] != "style":
            self.words.append(data)

    def all(self, *tags):
        return [attrs for tag, attrs in self.tags if tag in tags]

    @property
    def text(self):
        return squeezed("".join(self.words))


def squeezed(text):
    return re.sub(r"\s+", " ", text).strip()


@pytest.fixture(scope="module")
def texts(tmp_path_factory):
    folder = tmp_path_factory.mktemp("pages")
    pages.write(pages.everything(), folder)
    return {path.stem: path.read_text(encoding="utf-8") for path in folder.glob("*.html")}


@pytest.fixture(scope="module")
def readers(texts):
    return {stem: Reader(text) for stem, text in texts.items()}


def stored(path):
    return nbformat.read(path, as_version=4).cells


def folded(cell):
    return cell.metadata.get("jupyter", {}).get("source_hidden", False)


# What a page holds


@pytest.mark.parametrize("path", LESSONS, ids=name)
def test_every_drawing_is_there_with_its_sentence(path, readers):
    drawn = [(each["alt"], each["src"]) for each in readers[path.stem].all("img")]
    wanted = []
    for cell in stored(path):
        for output in cell.get("outputs", []):
            shown = Reader(output.get("data", {}).get("text/html", ""))
            wanted += [(each["alt"], each["src"]) for each in shown.all("img")]
    assert drawn == wanted
    assert all(alt and source.startswith("data:image/") for alt, source in drawn)


@pytest.mark.parametrize("path", LESSONS, ids=name)
def test_every_result_is_there(path, readers):
    text = readers[path.stem].text
    for cell in stored(path):
        for output in cell.get("outputs", []):
            data = output.get("data", {})
            if output.output_type == "stream":
                assert squeezed(output.text) in text
            elif "text/html" in data:
                for part in Reader(data["text/html"]).words:
                    # A value keeps its unit on its line, so its gap is one that does not break.
                    assert part == ASLEEP or squeezed(part) in text, part
            else:
                assert squeezed(data["text/plain"]) in text


@pytest.mark.parametrize("path", LESSONS, ids=name)
def test_open_code_is_there_and_folded_code_is_not(path, readers, texts):
    page = readers[path.stem]
    blocks = re.findall(r'<pre class="code".*?</pre>', texts[path.stem], re.DOTALL)
    cells = [cell for cell in stored(path) if cell.cell_type == "code" and cell.source.strip()]
    seen = [squeezed(Reader(block).text) for block in blocks]
    marks = re.compile(r"# fmt: skip")
    assert seen == [squeezed(marks.sub("", c.source)) for c in cells if not folded(c)]
    assert "kernel" not in page.text.lower()  # a word that no learner knows
    assert "Run this cell" not in page.text and not re.search(r"\b(In|Out) ?\[", page.text)


@pytest.mark.parametrize("path", LESSONS, ids=name)
def test_every_sentence_of_the_text_is_there(path, readers):
    text = readers[path.stem].text
    for cell in stored(path):
        if cell.cell_type == "markdown":
            plain = re.sub(r"\[([^\]]*)\]\([^)]*\)", r"\1", cell.source)
            for sentence in re.split(r"(?<=[.:?!])\s|\n", plain):
                if sentence and not re.search(r"[$*`#|<>_]|^\d+\.", sentence):
                    assert squeezed(sentence) in text, sentence


@pytest.mark.parametrize("stem", [*map(name, LESSONS), "words_used", "index"])
def test_a_page_is_sound_and_asks_for_nothing_from_outside(stem, readers, texts):
    page = readers[stem]
    assert not page.all("script", "link", "iframe", "object", "video", "audio")
    assert not [each for each in page.all("img") if not each["src"].startswith("data:")]
    assert not re.search(r"@import|url\((?!['\"]?(?:#|%23))", texts[stem])  # but parts of itself
    ids = [attrs["id"] for _, attrs in page.tags if "id" in attrs]
    assert len(set(ids)) == len(ids)
    within = [each["href"][1:] for each in page.all("a") if each["href"].startswith("#")]
    assert set(within) <= set(ids)
    assert page.all("html") == [{"lang": "en-GB"}]
    assert len(page.all("title")) == len(page.all("main")) == 1


@pytest.mark.parametrize("stem", [*map(name, LESSONS), "words_used", "index"])
def test_headings_run_in_order_below_one_title(stem, readers):
    levels = [int(tag[1]) for tag, _ in readers[stem].tags if re.fullmatch(r"h[1-6]", tag)]
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(b <= a + 1 for a, b in zip(levels, levels[1:], strict=False))


def test_links_between_pages_lead_to_pages_and_places_that_are_there(readers):
    for page in readers.values():
        for link in page.all("a"):
            target, _, place = link["href"].partition("#")
            if target:
                assert target.removesuffix(".html") in readers, target
                other = readers[target.removesuffix(".html")]
                assert not place or place in {a.get("id") for _, a in other.tags}


def test_writing_twice_gives_the_same_bytes(texts, tmp_path):
    pages.write(pages.everything(), tmp_path)
    assert {p.stem: p.read_text(encoding="utf-8") for p in tmp_path.glob("*.html")} == texts


# Nothing is run


def test_nothing_is_run_what_is_stored_is_shown(tmp_path):
    canary = tmp_path / "ran"
    cell = new_code_cell(f"open({str(canary)!r}, 'w')", outputs=[
        new_output("stream", name="stdout", text="stored "),
        new_output("stream", name="stdout", text="earlier"),
        new_output("error", ename="InputError", evalue="no <unit>", traceback=[]),
        new_output("display_data", {"text/plain": "in words & signs"}),
        new_output("display_data", {"image/png": "aGVs\n", "text/plain": "a picture of 2"}),
    ])  # fmt: skip
    hidden = new_code_cell("secret = 1", metadata={"jupyter": {"source_hidden": True}})
    path = tmp_path / "x.ipynb"
    nbformat.write(new_notebook(cells=[new_markdown_cell("# X"), cell, hidden]), path)
    text = pages.document(pages.read(path), [None, None])
    assert not canary.exists()
    assert "stored earlier" in text and "InputError: no &lt;unit&gt;" in text
    assert "in words &amp; signs" in text and 'alt="a picture of 2"' in text
    assert "secret" not in text


# The command


def test_named_pages_go_into_a_named_folder(tmp_path, capsys):
    out = tmp_path / "a folder"
    assert pages.main([str(LESSONS[0]), "--folder", str(out), "--projector"]) == 0
    assert [path.name for path in out.iterdir()] == [f"{LESSONS[0].stem}.html"]
    assert 'id="large" checked' in (out / f"{LESSONS[0].stem}.html").read_text(encoding="utf-8")
    assert "1 in" in capsys.readouterr().out


def test_a_lesson_is_named_by_its_number_as_for_open(tmp_path, capsys):
    assert pages.main(["02", "--folder", str(tmp_path)]) == 0
    assert [path.stem for path in tmp_path.iterdir()] == [LESSONS[2].stem]
    with pytest.raises(Trouble, match=f"no lesson 9: .*00 to {LESSONS[-1].stem[:2]}"):
        pages.main(["9", "--folder", str(tmp_path)])


def test_no_page_takes_the_place_of_another(tmp_path):
    lesson, notes = LESSONS[2], ROOT / "notebooks" / "for_teachers" / f"{LESSONS[2].stem}.md"
    mine = tmp_path / "index.html"
    mine.write_text("mine")
    first = pages.write([lesson, notes, lesson], tmp_path)
    assert [path.stem for path in first] == [lesson.stem, f"{lesson.stem}_for_teachers", "index_2"]
    assert pages.write([notes, lesson], tmp_path) == [first[1], first[0], first[2]]
    for source, file in zip([lesson, notes], first, strict=False):
        assert pages.read(source).content[:80] in file.read_text(encoding="utf-8")
    (bare,) = pages.write([lesson], tmp_path, answers=False)
    assert bare.stem == f"{lesson.stem}_without_answers"
    assert mine.read_text() == "mine" and len(list(tmp_path.iterdir())) == 5


@pytest.mark.parametrize("path", LESSONS, ids=name)
def test_a_page_without_answers_asks_and_does_not_tell(path, readers):
    told, bare = readers[path.stem].text, pages.read(path, answers=False)
    asked = Reader(pages.document(bare, [None, None]))
    copy = copies.learner_copy(nbformat.read(path, as_version=4))
    questions = [c for c in copy.cells if c.cell_type == "code" and c.outputs]
    for cell in questions:
        for part in Reader(cell.outputs[-1]["data"]["text/html"]).words:
            assert part == ASLEEP or squeezed(part) in asked.text
    assert len(questions) >= 6 and len(asked.text) < len(told)
    for gone in ("Answer:", "; computed ", "What the workbook says"):
        assert gone not in asked.text


@pytest.mark.parametrize("wrong", ["nothing.ipynb", "README", "."])
def test_what_is_no_notebook_is_refused(wrong, tmp_path, capsys):
    assert pages.main([wrong, "--folder", str(tmp_path / "x")]) == 2
    assert wrong in capsys.readouterr().err and not (tmp_path / "x").exists()


# Text cells


def test_a_formula_becomes_mathml_and_an_unknown_command_is_refused():
    assert "<mfrac>" in formula(r"\tfrac{2}{3} r_o") and "<msub>" in formula("r_o")
    with pytest.raises(InputError, match="nosuch"):
        formula(r"\nosuch{3}")
    with pytest.raises(InputError):
        Prose().html(r"text $\nosuch$ text")


def test_a_formula_on_a_line_of_its_own_is_a_block():
    text = Prose().html("Before\n\n$$M = \\mu N$$\n\nafter $N$.")
    assert 'display="block"' in text and 'display="inline"' in text and "$" not in text


def test_two_headings_of_one_name_get_two_anchors():
    writer = Prose()
    writer.html("## Part\n\n## Part\n\n## *Part*, twice?")
    assert [anchor for _, _, anchor in writer.headings] == ["part", "part-2", "part-twice"]
    assert slug("Spindle or part?") == "spindle-or-part"


def test_links_lead_to_exported_pages_and_words_say_what_they_mean():
    text = Prose().html("[pad](words_used.md#driving-pad) [next](03_light_cuts.ipynb) [x](#y)")
    assert f'title="{find_word("pad").meaning}"' in text.replace("&#x27;", "'")
    assert f'href="{prose.WORDS}#driving-pad"' in text
    assert 'href="03_light_cuts.html"' in text and 'href="#y"' in text


def test_wide_things_scroll_by_themselves_and_values_keep_their_units():
    text = roomy('<table><td style="text-align:right;x">4.80 N·m</td></table><img width="712" a>')
    assert text.startswith('<div class="scroll"') and "4.80\u00a0N·m" in text
    assert '<img class="wide" width="712"' in text
    assert 'class="wide"' not in roomy('<img width="520">')
    assert roomy('<img src="http://a.b/c_d">') == '<img src="http://a.b/c_d">'
    assert roomy("see https://a.b/c_d ") == "see https://a.<wbr>b/<wbr>c_<wbr>d "


AWAY = '<META http-equiv="refresh" content="0;url=http://elsewhere.example/">'
DOES = "<script>document.title = 'done'</script><form action='http://elsewhere.example'></form>"


def test_a_page_of_a_notebook_made_to_do_harm_leads_nowhere_and_runs_nothing(tmp_path):
    """The policy stops scripts and forms; it comes first, and a page cannot send itself away."""
    outputs = [
        nbformat.v4.new_output("display_data", {"text/html": AWAY + DOES}),
        nbformat.v4.new_output("display_data", {"image/png": f'"> {AWAY} {DOES}'}),
        nbformat.v4.new_output("error", ename=AWAY, evalue=DOES, traceback=[]),
    ]
    cells = [nbformat.v4.new_markdown_cell(f"# {DOES}\n\n{AWAY}\n\n{DOES}")]
    cells.append(nbformat.v4.new_code_cell(f"'{AWAY}'", outputs=outputs))
    nbformat.write(nbformat.v4.new_notebook(cells=cells), tmp_path / "02_harm.ipynb")
    (page,) = pages.write([tmp_path / "02_harm.ipynb"], tmp_path / "pages")
    before, policy, after = page.read_text(encoding="utf-8").partition(LOCKED)
    assert policy and "<script" not in before and "elsewhere" not in before
    assert not re.search(r"<\s*meta[^>]*refresh", after, re.IGNORECASE)
    for each in ("default-src 'none'", "form-action 'none'", "base-uri 'none'"):
        assert each in policy
    assert "script-src" not in policy
