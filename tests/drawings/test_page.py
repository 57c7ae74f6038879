"""Blocks of a page: the same words in HTML and as text, safe, and never by colour alone."""

import re
from html.parser import HTMLParser

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from matplotlib.figure import Figure

from workshop_lib.drawings import page
from workshop_lib.drawings.drawing import Canvas
from workshop_lib.quantities import Q_, InputError
from workshop_lib.teaching.fields import Choice, Field

HOSTILE = "<script>alert(1)</script>"


class Read(HTMLParser):
    """What a browser makes of a piece of HTML: its tags, their balance, and its words."""

    VOID = {"img", "br", "path", "circle", "rect"}

    def __init__(self, text):
        super().__init__()
        self.tags, self.open, self.words = [], [], []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.tags.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        self.words.append(data)


def blocks(words):
    figure = Canvas(40, 30, words).circle((20, 15), 5).figure(words)
    return [
        page.table([[words, 1.0]], [words, "n"], words),
        page.caution(words),
        page.caution(words, "two"),
        page.take_along(words),
        page.you_can(40, words),
        page.note(words),
        page.steps(words),
        page.verdict(words, "yes", words),
        page.verdict(words),
        page.folded(words, words),
        page.blank(Choice("a", words, {"k": words}, "k")),
        page.stack(words, [words], figure, None),
    ]


def test_nothing_typed_becomes_markup_in_any_block():
    for block in blocks(HOSTILE):
        for form in (block.html(), block.portable(), block._repr_html_()):
            assert "script" not in Read(form).tags


@given(st.text(max_size=30))
def test_every_block_closes_what_it_opens(words):
    for block in blocks(words):
        assert Read(block.html()).open == []
        assert Read(block.portable()).open == []


def test_every_block_ends_a_cell_with_fixed_text():
    for one, again in zip(blocks("a 1"), blocks("a 1"), strict=True):
        assert repr(one) == again.text() and one.html() == again.html()


def test_a_drawing_that_is_folded_away_stays_an_image_for_a_wary_viewer():
    block = page.folded("more", Canvas(40, 30, "A disc 5 mm across.").circle((20, 15), 5))
    assert "<svg" in block.html() and "<img" not in block.html()
    assert "<img" in block._repr_html_() and "<svg" not in block._repr_html_()
    assert block.text() == "more: A disc 5 mm across."


def test_a_table_reads_the_same_as_text():
    table = page.table(
        [["24", Q_(0.635, "mm"), True], ["18", Q_(1.27, "mm"), False]],
        ["Gauge", "Thickness", "In stock"],
        "Sheets",
    )
    assert repr(table).splitlines() == [
        "Sheets",
        "Gauge  Thickness  In stock",
        "-----  ---------  --------",
        "   24   0.635 mm  yes",
        "   18    1.27 mm  no",
    ]
    words = " ".join(Read(table.html()).words)
    assert words == "Sheets Gauge Thickness In stock 24 0.635 mm yes 18 1.27 mm no"


def test_a_table_names_its_columns_for_a_screen_reader():
    html = page.table([[1]], ["n"], "Counted").html()
    assert '<th scope="col"' in html and "<caption" in html


@pytest.mark.parametrize(
    ("cell", "text"),
    [
        (Q_(1.05678, "N*m"), "1.06 N·m"),
        (0.33333, "0.333"),
        (np.float64(2), "2.00"),
        (12, "12"),
        (True, "yes"),
        (np.bool_(False), "no"),
        (None, ""),
        ("F_{c}", "F_{c}"),
    ],
)
def test_cells_are_written_for_people(cell, text):
    assert page.cell_text(cell) == text


def test_a_ragged_row_is_named():
    with pytest.raises(InputError, match="^rows: row 2 .* 1 .* 2 headings"):
        page.table([[1, 2], [1]], ["a", "b"])


def test_a_caution_says_caution_in_words():
    block = page.caution("Keep clear.")
    assert repr(block) == "Caution: Keep clear."
    assert 'role="note" aria-label="Caution"' in block.html()
    assert "Caution" in Read(block.html()).words


def test_a_block_without_a_sentence_is_refused():
    with pytest.raises(InputError, match="no sentences"):
        page.caution()


@pytest.mark.parametrize(
    ("holds", "start"), [("yes", "Holds: "), ("no", "Does not hold: "), ("open", "Undecided: ")]
)
def test_a_verdict_says_in_words_what_its_colour_says(holds, start):
    block = page.verdict("1.5 times the load", holds)
    assert repr(block) == f"{start}1.5 times the load"
    html = {kind: page.verdict("x", kind).html() for kind in ("yes", "no", "open")}
    shapes = {kind: tuple(re.findall(r' d="([^"]*)"', text)) for kind, text in html.items()}
    assert len(set(shapes.values())) == 3  # and each has a shape of its own
    assert 'aria-hidden="true"' in block.html()


def test_a_verdict_does_not_repeat_its_word():
    assert repr(page.verdict("Holds: 2.3 times the load", "yes")) == "Holds: 2.3 times the load"
    assert repr(page.verdict("at 0.8 times", "no", "Slips")) == "Slips: at 0.8 times"


def test_a_verdict_that_is_none_of_the_three_is_refused():
    with pytest.raises(InputError, match="not yes, no, open"):
        page.verdict("x", "maybe")


def test_steps_are_numbered_in_order():
    assert repr(page.steps("Clean.", "Press.")) == "1. Clean.\n2. Press."


def test_a_stack_keeps_order_and_leaves_out_nothing_but_none():
    figure = Canvas(40, 30, "A disc 10 mm across.").figure()
    block = page.stack("First.", None, ["a", "b"], figure, page.note("Last."))
    assert repr(block) == "First.\n- a\n- b\nA disc 10 mm across.\nNote: Last."


def test_drawings_in_a_stored_page_are_images_with_their_sentence():
    figure = Canvas(40, 30, "A disc 10 mm across.").figure()
    stored = page.stack(figure)._repr_html_()
    assert "<svg" not in stored and 'alt="A disc 10 mm across."' in stored


def test_a_printed_page_has_room_for_an_answer():
    assert repr(page.blank(Field("a", "Your answer", "force", ""))) == "Your answer: ____________"
    ticks = page.blank(Choice("a", "Which?", {"x": "one", "y": "two"}, ""))
    assert repr(ticks) == "- ☐ one\n- ☐ two"


def test_titles_with_their_numbers_stand_left_and_quantities_right():
    cells = page.table([["01 Holding it", "5 Nmm"], ["02 The slip", "−3 N"]], ["A", "B"]).html()
    assert cells.count("text-align:left") == cells.count("text-align:right") == 3


def test_an_address_may_break_and_a_word_may_not():
    cells = page.table([["short", "https://example.org/" + 30 * "x"]], ["A", "B"]).html()
    assert cells.count("overflow-wrap:anywhere") == 1
    assert 'overflow-wrap:anywhere">https' in cells


def test_any_figure_gets_its_sentence_and_none_goes_without():
    figure = Figure(figsize=(1, 1))
    figure.add_subplot().plot([0, 1], [0, 2])
    shown = page.picture(figure, "My <lathe> reaches 2 N.")
    assert 'alt="My &lt;lathe&gt; reaches 2 N."' in shown.html() and "<script" not in shown.html()
    assert shown.text() == "My <lathe> reaches 2 N."
    with pytest.raises(InputError, match="alt"):
        page.picture(figure, " ")
