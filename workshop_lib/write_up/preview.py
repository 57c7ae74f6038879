"""The head of a write-up as a block of a lesson's page: the same parts, in a frame."""

from itertools import takewhile

from workshop_lib.drawings import page
from workshop_lib.drawings.markup import Html, escape
from workshop_lib.write_up import page_parts

PLAIN = ("Part", "In this job")  # headings of a table that has none of its own
FRAME = "border:1px solid #b8c0c8;padding:.4em 1.2em;margin:.7em 0;max-width:46em"


def head(title, content, until):
    """Return the parts before a heading, framed as a sheet of paper is. until: that heading."""
    shown = takewhile(lambda part: part != page_parts.Heading(until), content)
    blocks = [_words(title, "1.4em"), *(_SHOWN[type(part)](part) for part in shown)]
    sheet = page.stack(*blocks)
    return page.Block(_framed(sheet.html()), sheet.text(), lambda: _framed(sheet.portable()))


def _framed(html):
    return Html(f'<div style="{FRAME}">{html}</div>')


def _words(words, size):
    """A title in bold: no heading of the page that shows it."""
    return page.Block(f'<p style="font-size:{size}"><strong>{escape(words)}</strong></p>', words)


_SHOWN = {
    page_parts.Heading: lambda part: _words(part.words, "1.15em"),
    page_parts.Text: lambda part: part.words,
    page_parts.Verdict: lambda part: page.verdict(part.words, part.holds, ""),
    page_parts.Table: lambda part: page.table(
        part.rows, part.headings if any(part.headings) else PLAIN
    ),
    page_parts.Picture: lambda part: part.figure,
}
