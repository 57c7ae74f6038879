"""The glossary: every word explained once, in plain words, and linked once in the course."""

import functools
import html
import re

import nbformat
import pytest

from tests.conftest import stand_in
from tests.house.laws import held_for
from workshop_lib.launcher.environment import ROOT
from workshop_lib.quantities import InputError
from workshop_lib.teaching import word_links, words
from workshop_lib.teaching.words import all_words, find_word, pattern, spots

NOTEBOOKS = ROOT / "notebooks"
LESSONS = {int(path.name[:2]): path for path in sorted(NOTEBOOKS.glob("[0-9][0-9]_*.ipynb"))}
# Words that a shop or an engineer uses and others do not: gathered apart from the table.
TRADE = (ROOT / "tests" / "trade_words.txt").read_text(encoding="utf-8").split("\n")
TRADE = [each for each in TRADE if each]


def name(word):
    return word.word


def texts(path):
    """Return the text cells of a lesson as they read, without links to the glossary."""
    cells = nbformat.read(path, as_version=4).cells
    return [word_links.unlinked(c.source) for c in cells if c.cell_type == "markdown"]


def shown(path):
    """Return all that a lesson shows: its text cells and its outputs, alt sentences included."""
    outputs = [
        output.get("text", "") + output.get("data", {}).get("text/html", "")
        for cell in nbformat.read(path, as_version=4).cells
        for output in cell.get("outputs", [])
    ]
    alts = re.findall(r'(?:alt|aria-label)="([^"]*)"', " ".join(outputs))
    seen = html.unescape(re.sub(r"<[^>]+>", " ", " ".join(outputs)) + " ".join(alts))
    return "\n\n".join([*texts(path), seen])


@pytest.fixture(scope="module")
def shown_in():
    return {number: shown(path) for number, path in LESSONS.items()}


# The table


@held_for(all_words())
def test_a_meaning_is_one_to_three_plain_sentences(word):
    sentences = re.findall(r"[^.]+?[.](?=\s|$)", word.meaning)
    assert 1 <= len(sentences) <= 3 and word.meaning.endswith(".")
    assert max(len(sentence.split()) for sentence in sentences) <= 32
    assert word.meaning[0].isupper() and word.word == word.word.strip()


@held_for(all_words())
def test_a_meaning_uses_no_trade_word_that_is_not_explained(word):
    known = {form.casefold() for each in all_words() for form in (each.word, *each.forms)}
    for match in pattern(tuple(TRADE)).finditer(word.meaning):
        inside = [
            spot for spot, _ in spots(word.meaning, all_words()) if spot.start() <= match.start()
        ]
        assert match[0].casefold() in known or any(s.end() >= match.end() for s in inside), match[0]


def test_no_chain_of_meanings_leads_back_to_its_start():
    uses = {
        each.word: {other.word for _, other in spots(each.meaning, all_words())} - {each.word}
        for each in all_words()
    }
    while uses:
        free = {word for word, needed in uses.items() if not needed & set(uses)}
        assert free, f"these explain one another: {sorted(uses)}"
        uses = {word: needed for word, needed in uses.items() if word not in free}


@held_for(all_words())
def test_no_meaning_explains_a_word_by_itself(word):
    first_sentence = re.split(r"[.](?=\s|$)", word.meaning)[0]
    assert not pattern((word.word, *word.forms)).search(first_sentence)


@pytest.mark.parametrize("rows", [
    "chuck,A clamp.,0,\nbore,A hole.,1,\n",
    "bore,A hole.,1,hole\nchuck,A clamp.,0,Hole\n",
    "bore,A hole.,1,\nbore,A hole.,1,\n",
])  # fmt: skip
def test_a_table_out_of_order_or_with_a_form_twice_is_refused(rows, monkeypatch, tmp_path):
    (tmp_path / "words.csv").write_text("word,meaning,lesson,forms\n" + rows, encoding="utf-8")
    stand_in(monkeypatch, tmp_path)
    with pytest.raises(InputError, match=r"words\.csv, line 3"):
        all_words()


def test_a_word_is_found_by_any_of_its_forms():
    assert find_word("Pads").word == "driving pad"
    with pytest.raises(InputError, match="Did you mean spindle"):
        find_word("spindel")
    with pytest.raises(InputError):
        find_word(3)


def test_a_longer_form_hides_a_shorter_one_inside_it():
    found = spots("the tide gauge, then 24 gauge", all_words())
    assert [(match[0], each.word) for match, each in found] == [
        ("tide gauge", "tide gauge"), ("gauge", "gauge number")]  # fmt: skip
    assert spots("gauges-and pads", [find_word("gauge number")]) == []


# The numbers in it, from outside


def test_numbers_in_meanings_are_those_of_the_standards():
    assert "0.0254 mm" in find_word("thou").meaning  # the inch is 25.4 mm by definition
    assert "one newton on each square millimetre" in find_word("megapascal").meaning  # 10⁶ N/m²
    assert "a million turns" in find_word("dynamic rating").meaning  # ISO 281: basic rating life
    assert "nine out of ten" in find_word("rating life").meaning  # ISO 281: 90 % reliability
    assert "twice the eccentricity" in find_word("indicator total").meaning


# Lessons and page


@pytest.mark.parametrize("word", all_words(), ids=name)
def test_a_word_comes_up_in_the_lesson_named_and_in_no_earlier_text(word, shown_in):
    assert any(each == word for _, each in spots(shown_in[word.lesson], all_words()))
    for number in range(word.lesson):
        early = word.word in said_in(number) and not in_another_sense(word, number)
        assert not early, f"lesson {number:02} has it before"


@functools.cache
def said_in(number):
    """Return the words that the texts of a lesson use, other than in headings."""
    headless = [re.sub(r"^#+ .*$", "", text, flags=re.MULTILINE) for text in texts(LESSONS[number])]
    return {each.word for text in headless for _, each in spots(text, all_words())}


def in_another_sense(word, lesson):
    """Return whether an early lesson uses the letters of a word, but not its sense."""
    # the workbook's own set-up of packages; the axes of a chart
    return (word.word, lesson) in {("set-up", 0), ("axis", 0)}


@pytest.mark.parametrize("number", LESSONS)
def test_each_lesson_carries_exactly_the_links_that_the_table_asks_for(number):
    notebook = nbformat.read(LESSONS[number], as_version=4)
    before = [cell.source for cell in notebook.cells]
    word_links.linked(notebook, number)
    wanted = [cell.source for cell in notebook.cells]
    assert before == wanted, "run: python3 -m workshop_lib words"


@held_for(all_words())
def test_each_word_is_linked_from_the_lesson_it_comes_up_in_first(word):
    target = f"]({word_links.PAGE}#{word.anchor})"
    assert target in LESSONS[word.lesson].read_text(encoding="utf-8")


def test_a_word_is_linked_once_in_the_course_and_in_no_shop_question():
    cells = [c.source for path in LESSONS.values() for c in nbformat.read(path, 4).cells]
    links = re.findall(re.escape(word_links.PAGE) + r"#([^)]*)\)", "".join(cells))
    assert sorted(links) == sorted(each.anchor for each in all_words())
    asked = [line for cell in cells for line in cell.splitlines() if "**Shop question" in line]
    assert len(asked) == len(LESSONS)
    assert word_links.PAGE not in "".join(asked)


def test_meanings_lead_to_the_sense_that_they_have():
    # A stress is no cut that passes, and a relieved pad has no ring of a bearing.
    for word, not_to in (("stress", "pass"), ("relieved", "outer ring")):
        led = [each.word for _, each in spots(find_word(word).meaning, all_words())]
        assert not_to not in led


@pytest.mark.parametrize("number", LESSONS)
def test_every_link_to_the_glossary_names_a_word_that_is_there(number):
    text = "".join(c.source for c in nbformat.read(LESSONS[number], as_version=4).cells)
    targets = re.findall(re.escape(word_links.PAGE) + r"#([^)]*)\)", text)
    assert set(targets) <= {each.anchor for each in all_words()}
    assert len(set(targets)) == len(targets), "a word is linked twice in one lesson"


def test_the_page_of_words_is_current():
    stored = (NOTEBOOKS / word_links.PAGE).read_text(encoding="utf-8")
    assert stored == word_links.page_text(), "run: python3 -m workshop_lib words"


def test_every_link_within_the_page_leads_to_a_heading_of_it():
    page = word_links.page_text()
    headings = {head.replace(" ", "-") for head in re.findall(r"^### (.+)$", page, re.MULTILINE)}
    assert headings == {each.anchor for each in all_words()}
    assert set(re.findall(r"\]\(#([^)]*)\)", page)) <= headings


def test_links_go_neither_into_headings_nor_code_nor_formulas():
    cells = ["## The spindle", "`spindle` and $spindle$ and <b title='spindle'> and the Spindle."]
    notebook = nbformat.v4.new_notebook(cells=[nbformat.v4.new_markdown_cell(c) for c in cells])
    word_links.linked(notebook, 0)
    assert notebook.cells[0].source == cells[0]
    linked = cells[1].replace("the Spindle", "the [Spindle](words_used.md#spindle)")
    assert notebook.cells[1].source.startswith(linked)


def test_setting_links_twice_changes_nothing_and_taking_them_out_brings_the_text_back():
    source = "## Take away\n\nA spindle and a chuck."
    notebook = nbformat.v4.new_notebook(cells=[nbformat.v4.new_markdown_cell(source)])
    once = word_links.linked(notebook, 0).cells[0].source
    assert word_links.linked(notebook, 0).cells[0].source == once != source
    assert word_links.MORE in once
    assert word_links.unlinked(once) == source


def test_the_command_says_what_it_wrote_and_takes_no_arguments(monkeypatch, tmp_path, capsys):
    monkeypatch.setattr(word_links, "NOTEBOOKS", tmp_path)
    monkeypatch.setattr(word_links, "lesson_files", lambda: dict.fromkeys(range(100), "x.ipynb"))
    cell = nbformat.v4.new_markdown_cell("# A spindle\n\nThe spindle turns.", id="x")
    nbformat.write(nbformat.v4.new_notebook(cells=[cell]), tmp_path / "00_x.ipynb")
    assert word_links.main([]) == 0
    assert "00_x.ipynb: linked" in capsys.readouterr().out
    assert word_links.main([]) == 0
    assert "linked" not in capsys.readouterr().out
    assert word_links.main(["02"]) == 2
    assert words.find_word("spindle").anchor in (tmp_path / "00_x.ipynb").read_text(
        encoding="utf-8"
    )
