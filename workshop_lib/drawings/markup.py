"""Which text is safe to put into a page or a drawing, and how wide is it?

Every text that a person wrote passes through here before it becomes HTML or SVG. A text may carry
subscripts and superscripts as `F_{c}` and `10^{3}`; nothing else in it has a meaning.
"""

import html
import math
import re

# In the head of a page: it shows what stands in it and asks for nothing from outside.
LOCKED = (
    '<meta http-equiv="Content-Security-Policy" content="default-src \'none\'; img-src data:; '
    "style-src 'unsafe-inline'; form-action 'none'; base-uri 'none'\">"
)
_RAISED = re.compile(r"([_^])\{([^{}]*)\}")

# Advance widths in thousandths of the font size, to the nearest 20: for each letter the wider of
# Helvetica's metrics, which Arial and Liberation Sans share, and those of DejaVu Sans, which a
# machine without either shows in their place (read off Liberation Sans and DejaVu Sans).
_WIDTHS = {
    width: set(characters)
    for width, characters in {
        280: "'ijl",
        300: "I",
        320: " ,.·‘’",
        340: "/:;\\|",
        360: "-f",
        400: "!()[]t²³¹",
        420: "r",
        460: '"',
        500: "*J`°",
        520: "sz“”",
        540: "cε",
        560: "?L_–",
        580: "kκ",
        600: "vxy",
        620: "FTaeoθ",
        640: "$0123456789bdghnpqu{}£µΣβμ€√",
        660: "EKPSYαφ",
        680: "ABVXZΔ",
        720: "CRπ",
        740: "NU",
        760: "HΩ",
        780: "&DGOQ",
        820: "w",
        840: "#+<=>^~±×÷ω↑↓−∞≈≤≥",
        860: "M",
        960: "%¼½¾",
        980: "Wm",
        1000: "—…←→",
        1020: "@",
    }.items()
}
_ADVANCE = {character: width / 1000 for width, group in _WIDTHS.items() for character in group}
_OTHER = 0.6
_BOLDER = 1.12
SMALL = 0.72  # size of a raised or lowered text relative to the text that it belongs to


class Html(str):
    """A text that already is safe markup: only this package's own builders make it."""

    __slots__ = ()


def escape(text):
    """Return any text as safe HTML or SVG text; what cannot be printed becomes a middle dot."""
    if isinstance(text, Html):
        return text
    text = str(text)
    if not text.isprintable():
        text = "".join(c if c.isprintable() or c == "\n" else "·" for c in text)
    return Html(html.escape(text, quote=True))


def pieces(words):
    """Split a text at its raised and lowered parts: pairs of ("", "_" or "^") and plain text."""
    parts = _RAISED.split(str(words))
    found = [("", parts[0])]
    for mark, inner, after in zip(parts[1::3], parts[2::3], parts[3::3], strict=True):
        found += [(mark, inner), ("", after)]
    return [(mark, text) for mark, text in found if text]


def plain(words):
    """Return a text without markup: `F_{c}` becomes F_c, `10^{3}` becomes 10^3."""
    return "".join(mark + text for mark, text in pieces(words))


def rich(words):
    """Return a text as HTML, its raised and lowered parts marked up."""
    if isinstance(words, Html):
        return words
    tags = {"_": "sub", "^": "sup"}
    return Html(
        "".join(
            f"<{tags[mark]}>{escape(text)}</{tags[mark]}>" if mark else escape(text)
            for mark, text in pieces(words)
        )
    )


def text_width(words, size=1.0, bold=False):
    """Estimate how wide a text is set at most, in the unit of `size`.

    >>> round(text_width("10 mm", 10), 2)
    35.6
    """
    width = sum(
        (SMALL if mark else 1.0) * sum(_ADVANCE.get(character, _OTHER) for character in text)
        for mark, text in pieces(words)
    )
    return width * size * (_BOLDER if bold else 1.0)


def number(value):
    """Write a coordinate with at most two decimals; NaN and infinity have no place in a drawing.

    What lies half-way but for a processor's rounding goes the same way on every processor.

    >>> number(29.925 + 4e-15) == number(29.925 - 4e-15), number(-0.001)
    (True, '0')
    """
    if not math.isfinite(value):
        raise ValueError("a drawing has no place for NaN or infinity")
    text = f"{round(value, 9):.2f}"
    text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def attributes(**named):
    """Write attributes in the order given; None is left out, `_` stands for a hyphen."""
    return "".join(
        f' {name.replace("_", "-")}="{escape(value)}"'
        for name, value in named.items()
        if value is not None
    )
