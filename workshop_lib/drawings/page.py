"""How does a block of a lesson's page look? Tables, cautions, verdicts; as HTML and text.

Each block ends a cell. Styles stand inside the tags, because a saved page, a printed sheet and a
viewer that strips style sheets must all show the same block; colours follow the page's theme.
"""

import base64
import importlib
import io
import numbers
import re

import numpy as np
import pint

from workshop_lib.drawings.markup import Html, escape, plain, rich
from workshop_lib.quantities import InputError, in_figures, quote, say, show

LONG_WORD = 30  # characters; no word of the language is as long
_LINE = "var(--jp-border-color2,#c3c9d0)"
_FAINT = "var(--jp-layout-color2,rgba(128,128,128,.1))"
_BLOCK = "margin:.7em 0;break-inside:avoid;max-width:46em;line-height:1.45"

HOLDS = {
    "yes": (
        "Holds",
        "#0d8f78",
        '<circle cx="8" cy="8" r="8" {}/><path d="M4 8.3l2.7 2.7L12 5.4"/>',
    ),
    "no": (
        "Does not hold",
        "#c9490c",
        '<path d="M4.7 0h6.6L16 4.7v6.6L11.3 16H4.7L0 11.3V4.7z" {}/>'
        '<path d="M5 5l6 6M11 5l-6 6"/>',
    ),
    "open": (
        "Undecided",
        "#b07410",
        '<path d="M8 .6L16 15.4H0z" {}/>'
        '<path d="M6.2 7.4a1.9 1.9 0 1 1 2.6 1.8q-.8.4-.8 1.3M8 12.6v.8"/>',
    ),
}
_BANG = '<path d="M8 .6L16 15.4H0z" {}/><path d="M8 5.8v4.4M8 12.4v.9"/>'


def __getattr__(name):
    """Let the first cell of an earlier edition's copy, which calls `objectives`, say what to do."""
    if name == "objectives":
        importlib.import_module("workshop_lib.lesson")
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")


class Block:
    """A finished piece of a page: safe HTML and the same in plain text."""

    def __init__(self, html, text, portable=None):
        self._html, self._text = Html(html), text
        self._portable = portable

    def html(self):
        """Return the block as safe HTML."""
        return self._html

    def portable(self):
        """Return the block as HTML that a wary viewer keeps: drawings as images."""
        return self._html if self._portable is None else Html(self._portable())

    def text(self):
        """Return the block as plain text."""
        return self._text

    def _repr_html_(self):
        return str(self.portable())

    def __repr__(self):
        return self.text()


def stack(*parts):
    """Join blocks, figures, sentences and lists of sentences into one block, in that order."""
    blocks = [as_block(part) for part in parts if part is not None]
    texts = [block.text() for block in blocks]
    return Block(
        "".join(block.html() for block in blocks),
        "\n".join(text for text in texts if text),
        lambda: "".join(block.portable() for block in blocks),  # no live panel asks for it
    )


def as_block(part):
    """Return anything that a page can hold as something with `html()` and `text()`."""
    if hasattr(part, "portable"):
        return part
    if hasattr(part, "figure"):
        return part.figure()
    if isinstance(part, list | tuple):
        return _listed("ul", part)
    return Block(f'<p style="{_BLOCK}">{rich(cell_text(part))}</p>', plain(cell_text(part)))


def cell_text(value):
    """Write one value for people: quantities and numbers to three figures, truth in words."""
    if isinstance(value, bool | np.bool_):
        return say("yes" if value else "no")
    if isinstance(value, pint.Quantity) or (
        isinstance(value, numbers.Real | np.ndarray) and not isinstance(value, numbers.Integral)
    ):
        return in_figures(show(value))
    return "" if value is None else say(value) if isinstance(value, str) else str(value)


def table(rows, headings, caption=""):
    """Lay rows out as a table.

    rows: sequences of cells, each text, a quantity, a number, or True/False. headings: one for each
    column, units included where the cells have none. Columns of numbers stand right.
    Raises InputError when a row has another number of cells than the headings.

    >>> table([["24", "0.64 mm"], ["18", "1.27 mm"]], ["Gauge", "Thickness"])
    Gauge  Thickness
    -----  ---------
       24    0.64 mm
       18    1.27 mm
    """
    rows = [list(row) for row in rows]
    for index, row in enumerate(rows, 1):
        if len(row) != len(headings):
            problem = f"row {index} has {len(row)} cells for {len(headings)} headings"
            raise InputError("rows", problem)
    written = [[cell_text(cell) for cell in row] for row in rows]
    headings, caption = [say(each) for each in headings], say(caption)
    right = [all(_is_number(row[column]) for row in rows) for column in range(len(headings))]
    return Block(
        _table_html(written, headings, caption, right),
        _table_text(written, headings, caption, right),
    )


_TITLE = re.compile("[0-9]+ [A-Z][a-z]{3}")  # such as a lesson's, with its number before it


def _is_number(cell):
    if isinstance(cell, str):
        return cell.lstrip("−-+±< ")[:1].isdigit() and not _TITLE.match(cell)
    return isinstance(cell, pint.Quantity | numbers.Real) and not isinstance(cell, bool | np.bool_)


def _table_html(rows, headings, caption, right):
    side = ["right" if numeric else "left" for numeric in right]
    edge = f"border-bottom:1px solid {_LINE};padding:.25em .8em"
    heads = "".join(
        _head(words, f"text-align:{at};{edge};border-bottom-width:2px")
        for at, words in zip(side, headings, strict=True)
    )
    body = "".join(
        "<tr>"
        + "".join(
            f'<td style="text-align:{at};{edge}{_breaking(cell)}">{rich(cell)}</td>'
            for at, cell in zip(side, row, strict=True)
        )
        + "</tr>"
        for row in rows
    )
    head = f'<caption style="text-align:left;padding:.3em 0">{rich(caption)}</caption>'
    return (
        '<table style="border-collapse:collapse;margin:.7em 0;break-inside:avoid">'
        f"{head if caption else ''}<thead><tr>{heads}</tr></thead><tbody>{body}</tbody></table>"
    )


def _head(words, style):
    """Return a column's heading; an empty cell over a column that needs none."""
    cell = 'th scope="col"' if words else "td"
    return f'<{cell} style="{style}">{rich(words)}</{cell[:2]}>'


def _breaking(cell):
    """Let an address break anywhere, so that it does not push a narrow page out of its frame."""
    longest = max(map(len, plain(cell).split()), default=0)
    return ";overflow-wrap:anywhere" if longest > LONG_WORD else ""


def _table_text(rows, headings, caption, right):
    lines = [[plain(cell) for cell in row] for row in [headings, *rows]]
    widths = [max(map(len, column)) for column in zip(*lines, strict=True)]
    lines.insert(1, ["-" * width for width in widths])
    written = [
        "  ".join(
            cell.rjust(width) if numeric else cell.ljust(width)
            for cell, width, numeric in zip(line, widths, right, strict=True)
        ).rstrip()
        for line in lines
    ]
    return "\n".join(([plain(caption)] if caption else []) + written)


def caution(*sentences):
    """Warn of what can hurt a person or a machine: a marked block that says Caution in words."""
    return _boxed("Caution", "#b07410", _BANG, sentences)


def take_along(*sentences):
    """List what to take from a lesson to the lathe."""
    return _ruled("To take to the lathe", sentences)


def note(*sentences):
    """Set a remark apart from the text."""
    return _boxed("Note", "#566270", "", sentences)


def you_can(minutes, *sentences):
    """List what a learner can do after the lesson, each beginning with a verb, and its minutes."""
    return _ruled(f"After this lesson, in about {minutes} minutes, you can", sentences)


def steps(*sentences):
    """List steps in their order."""
    return _listed("ol", sentences)


def verdict(words, holds=None, word=None):
    """State a verdict: a sentence with a shape and a word for yes, no or open.

    holds: "yes", "no", "open", or None for a result that is neither good nor bad.
    word: what to say for it, for example "Slips"; left out when the sentence starts with it.

    >>> verdict("2.3 times the load", "yes")
    Holds: 2.3 times the load
    """
    if holds is not None and holds not in HOLDS:
        raise InputError("holds", f"{quote(holds)} is not yes, no, open or None")
    usual, colour, shape = HOLDS.get(holds, ("", "#0a5ea8", ""))
    word = say(usual if word is None else word)
    if word and not plain(words).lower().startswith(word.lower()):
        words = f"{word}: {words}"
    style = f"border-left:.4em solid {colour};padding:.45em .8em;background:{_FAINT}"
    style += ";max-width:40em;font-size:1.15em"
    html = f'<p style="{_BLOCK};{style}">{icon(shape, colour)}<strong>{rich(words)}</strong></p>'
    return Block(html, plain(words))


def icon(shape, colour):
    """Draw a small sign before a word; the word says the same, so screen readers skip the sign."""
    if not shape:
        return Html("")
    style = "width:1.1em;height:1.1em;vertical-align:-.18em;margin-right:.5em"
    pen = 'fill="none" stroke="#fff" stroke-width="1.8" stroke-linecap="round"'
    ground = f'fill="{colour}" stroke="none"'
    return Html(
        f'<svg viewBox="0 0 16 16" width="16" height="16" aria-hidden="true" style="{style}" {pen}>'
        f"{shape.format(ground)}</svg>"
    )


def picture(figure, alt, caption=""):
    """Show any figure of matplotlib's with the sentence that says what it shows.

    alt: one sentence with its number, for those who cannot see the picture.
    """
    if not isinstance(alt, str) or not alt.strip():
        raise InputError("alt", "a picture needs a sentence that says what it shows")
    file = io.BytesIO()
    figure.savefig(file, format="png", bbox_inches="tight", metadata={"Software": None})
    data = base64.b64encode(file.getvalue()).decode()
    source = f'alt="{escape(plain(alt))}" src="data:image/png;base64,{data}"'
    image = f'<img style="max-width:100%" {source}>'
    below = f"<figcaption>{rich(caption)}</figcaption>" if caption else ""
    return Block(f'<figure style="margin:.6em 0">{image}{below}</figure>', plain(alt))


def folded(summary, part):
    """Fold a part away under a line that opens it; in plain text it stands open."""
    block = as_block(part)
    line = f'<summary data-lm-suppress-shortcuts="true">{rich(summary)}</summary>'

    def within(inner):
        return f"<details>{line}{inner}</details>"

    text = f"{plain(summary)}: {block.text()}"
    return Block(within(block.html()), text, lambda: within(block.portable()))


def to_copy(summary, line):
    """Fold away a line of a file, whole and to be copied; in plain text its lists are cut short."""
    code = f'<code style="overflow-wrap:anywhere;user-select:all">{escape(line)}</code>'
    folds = f'<details><summary data-lm-suppress-shortcuts="true">{rich(summary)}</summary>'
    brief = re.sub(r"\[[^\]]*\]", "[…]", line)
    return Block(f'{folds}<p style="{_BLOCK}">{code}</p></details>', f"{plain(summary)}: {brief}")


def blank(field):
    """Leave room on a printed page for what goes into a field: a line, or boxes to tick."""
    if hasattr(field, "options"):
        return _listed("ul", [f"☐ {words}" for words in field.options.values()])
    line = '<span style="display:inline-block;width:14em;border-bottom:1px solid">&nbsp;</span>'
    html = f'<p style="{_BLOCK}">{rich(field.label)}: {line}</p>'
    return Block(html, f"{plain(field.label)}: ____________")


def _listed(tag, sentences):
    items = "".join(f'<li style="margin:.2em 0">{rich(cell_text(s))}</li>' for s in sentences)
    marks = [f"{i}." if tag == "ol" else "-" for i in range(1, len(sentences) + 1)]
    text = "\n".join(f"{m} {plain(cell_text(s))}" for m, s in zip(marks, sentences, strict=True))
    return Block(f'<{tag} style="{_BLOCK};padding-left:1.6em">{items}</{tag}>', text)


def _ruled(heading, sentences):
    """Set a list under a heading, between two thin lines; no colour, and nothing at the side."""
    if not sentences:
        raise InputError(heading.lower(), "there are no sentences in it")
    heading, inner = say(heading), _listed("ul", sentences)
    style = f"{_BLOCK};border:solid {_LINE};border-width:1px 0;padding:.6em 0 .3em"
    html = (
        f'<div role="group" aria-label="{escape(heading)}" style="{style}">'
        f'<strong style="font-size:1.08em">{escape(heading)}:</strong>{inner.html()}</div>'
    )
    return Block(html, f"{heading}:\n{inner.text()}")


def _boxed(heading, colour, shape, sentences):
    """Set sentences under a heading, with a bar at the side; one alone needs no list."""
    if not sentences:
        raise InputError(heading.lower(), "there are no sentences in it")
    heading = say(heading)
    inner = _listed("ul", sentences) if len(sentences) > 1 else as_block(sentences[0])
    style = f"{_BLOCK};border-left:.4em solid {colour};padding:.5em .9em;background:{_FAINT}"
    html = (
        f'<div role="note" aria-label="{escape(heading)}" style="{style}">'
        f"<strong>{icon(shape, colour)}{escape(heading)}</strong>{inner.html()}</div>"
    )
    joint = "\n" if len(sentences) > 1 else " "
    return Block(html, f"{heading}:{joint}{inner.text()}")
