"""How do a lesson's text cells become HTML with no script, no font and no request?

Formulas become MathML, which browsers set by themselves. Whatever cannot be turned is refused: a
page that shows raw formula code would pass for finished.
"""

import re

import mistune
from latex2mathml.converter import convert
from mistune.plugins.math import math
from mistune.plugins.table import table

from workshop_lib.drawings.markup import escape
from workshop_lib.quantities import InputError, quote
from workshop_lib.teaching.words import all_words

_ONE_LINE_FORMULA = re.compile(r"\$\$(.+?)\$\$", re.DOTALL)
_PAGE_LINK = re.compile(r"(?P<page>[\w./-]+)\.(?:ipynb|md)(?P<place>#[\w%.-]*)?")
_WIDE = 600  # pixels: a drawing wider than this shrinks to something unreadable on a phone
_VALUE = re.compile(r'(?<=<td style="text-align:right)([^>]*>)([^<]{1,14})(?=</td>)')
# A tag is taken whole, so that an address in it, such as a drawing's, stays as it is.
_ADDRESS = re.compile(r"<[^>]*>|https?://[^\s<>\"]+")
_JOINT = re.compile(r"(?<=[^/:])([/_.=%?-]+)(?=[^\s/])")
_IMAGE = re.compile(r'<img(?= [^>]*?width="(?P<width>\d+)[^"]*")')
WORDS = "words_used.html"


def _meanings():
    """Return what each anchor on the page of words explains; it shows when one points at a link."""
    return {each.anchor.lower(): each.meaning for each in all_words()}


def slug(words):
    """Return the anchor of a heading, as notebooks and code hosts make it.

    >>> slug("Where does the thrust go?")
    'where-does-the-thrust-go'
    """
    return re.sub(r"\s+", "-", re.sub(r"[^\w\s-]", "", words).strip().lower())


def formula(text, display="inline"):
    """Return a formula as MathML. Raises InputError for a command that is not known."""
    mathml = convert(text, display=display)
    unknown = re.search(r"\\[A-Za-z]+", mathml)
    if unknown:
        raise InputError("formula", f"{quote(unknown[0])} in {quote(text)} is not known here")
    return mathml


class _Writer(mistune.HTMLRenderer):
    """Writes headings with an anchor, links to the exported pages, and tables that may scroll."""

    def __init__(self):
        super().__init__(escape=False)
        self.headings, self._used = [], set()

    def heading(self, text, level, **_attributes):
        words = re.sub(r"<[^>]+>", "", text)
        anchor = self._free(slug(words))
        self.headings.append((level, words, anchor))
        return f'<h{level} id="{anchor}">{text}</h{level}>\n'

    def _free(self, anchor):
        number, free = 1, anchor
        while free in self._used:
            number += 1
            free = f"{anchor}-{number}"
        self._used.add(free)
        return free

    def link(self, text, url, title=None):
        page = _PAGE_LINK.fullmatch(url)
        if page:
            url = f"{page['page']}.html{(page['place'] or '').lower()}"  # as `slug` has them
        meaning = _meanings().get(url.partition(f"{WORDS}#")[2])
        told = f' class="word" title="{escape(meaning)}"' if meaning else ""
        return f'<a{told} href="{escape(url)}">{text}</a>'


class Prose:
    """Turns the text cells of one page into HTML; collects the headings as it goes.

    headings: (level, words as HTML, anchor) of all text turned so far, no anchor twice.
    """

    def __init__(self):
        self._writer = _Writer()
        self._turn = mistune.create_markdown(renderer=self._writer, plugins=[table, math])
        self._turn.renderer.register("inline_math", lambda _, text: formula(text))
        self._turn.renderer.register(
            "block_math",
            lambda _, text: f'<div class="formula scroll">{formula(text, "block")}</div>',
        )

    @property
    def headings(self):
        """The headings of all text turned so far."""
        return list(self._writer.headings)

    def html(self, source):
        """Return one text cell as HTML."""
        return roomy(self._turn(_ONE_LINE_FORMULA.sub(r"\n$$\n\1\n$$\n", source)))


def roomy(html):
    """Let what is too wide for a narrow screen scroll by itself, so that the page never does."""
    html = re.sub(
        r"<table\b", '<div class="scroll" role="group" tabindex="0"><table', html
    ).replace("</table>", "</table></div>")
    html = _VALUE.sub(lambda found: found[1] + found[2].replace(" ", "\u00a0"), html)
    html = _ADDRESS.sub(_with_breaks, html)
    return _IMAGE.sub(
        lambda found: '<img class="wide"' if int(found["width"]) > _WIDE else found[0], html
    )


def _with_breaks(found):
    """Let a web address break at its joints."""
    return found[0] if found[0].startswith("<") else _JOINT.sub(r"\1<wbr>", found[0])
