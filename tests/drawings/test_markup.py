"""Text on its way into pages and drawings: nothing typed becomes markup, widths are honest."""

import html
from html.parser import HTMLParser

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.drawings.words_on_sheet import advance
from workshop_lib.drawings.markup import (
    Html,
    attributes,
    escape,
    number,
    pieces,
    plain,
    rich,
    text_width,
)


class Tags(HTMLParser):
    """Collects what a browser would take for tags, and the text between them."""

    def __init__(self, text):
        super().__init__(convert_charrefs=True)
        self.tags, self.words = [], ""
        self.feed(text)
        self.close()

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))

    def handle_data(self, data):
        self.words += data


@given(st.text())
def test_escaped_text_holds_no_tag_and_reads_back(text):
    found = Tags(escape(text))
    assert found.tags == []
    expected = "".join(c if c.isprintable() or c == "\n" else "·" for c in text)
    assert html.unescape(escape(text)) == expected


@given(st.text())
def test_an_attribute_never_ends_early(text):
    (tag,) = Tags(f"<p{attributes(alt=text)}>").tags
    assert list(tag[1]) == ["alt"]


@given(st.text(alphabet="_^{}<>a&"))
def test_rich_text_has_only_raised_and_lowered_tags(text):
    assert {tag for tag, _ in Tags(rich(text)).tags} <= {"sub", "sup"}


def test_markup_already_made_safe_is_not_escaped_twice():
    assert escape(Html("<b>")) == "<b>"
    assert rich(Html("<b>")) == "<b>"


def test_raised_and_lowered_parts_are_found():
    assert pieces("F_{c} = 10^{3} N") == [
        ("", "F"),
        ("_", "c"),
        ("", " = 10"),
        ("^", "3"),
        ("", " N"),
    ]
    assert rich("F_{c}") == "F<sub>c</sub>"
    assert plain("F_{c} = 10^{3} N") == "F_c = 10^3 N"


def test_a_bare_underscore_means_nothing():
    assert rich("stainless_steel") == "stainless_steel"


# Helvetica advance widths (Adobe font metrics): H 722, a 556, m 833, space 278, 1 556, N 722.
@pytest.mark.parametrize(("words", "thousandths"), [("Ham", 2111), ("11 N", 2112)])
def test_width_is_enough_for_helvetica_and_for_dejavu_and_not_much_more(words, thousandths):
    own = sum(1000 * advance(letter, "normal") for letter in words)  # the font file's own
    assert 0.985 * max(thousandths, own) < text_width(words, 1000) < 1.05 * max(thousandths, own)


@pytest.mark.parametrize("weight", ["normal", "bold"])
def test_a_sentence_is_as_wide_as_the_widest_letters_set_it(weight):
    words = "Departures drawn 100 times larger: 0.043 mm ± 12 µm, 24–30°, 2·N"
    own = sum(advance(letter, weight) for letter in words)
    assert text_width(words, 1, weight == "bold") == pytest.approx(own, rel=0.04)


def test_width_grows_with_size_and_shrinks_in_a_subscript():
    assert text_width("mm", 8) == pytest.approx(2 * text_width("mm", 4))
    assert text_width("F_{c}", 4) < text_width("Fc", 4)
    assert text_width("F", 4, bold=True) > text_width("F", 4)


@pytest.mark.parametrize(
    ("value", "text"), [(1.0, "1"), (0.125, "0.12"), (-0.001, "0"), (10.0, "10"), (-2.5, "-2.5")]
)
def test_a_coordinate_has_at_most_two_decimals_and_no_minus_zero(value, text):
    assert number(value) == text


@pytest.mark.parametrize("value", [float("nan"), float("inf"), -float("inf")])
def test_no_place_for_what_is_not_finite(value):
    with pytest.raises(ValueError, match="NaN"):
        number(value)
