"""What parts is a write-up made of? `html_page` and `markdown_page` know how each looks."""

from dataclasses import dataclass

# Ends what stands at the foot of every page: it does not supervise …
RULES = "local rules, the machine's own instructions and a trained instructor come first."


@dataclass(frozen=True)
class Heading:
    """A heading of a section, below the title."""

    words: str
    level: int = 2


@dataclass(frozen=True)
class Text:
    """A paragraph."""

    words: str


@dataclass(frozen=True)
class Verdict:
    """The verdict: a sentence, and yes, open or no."""

    words: str
    holds: str


@dataclass(frozen=True)
class Listed:
    """Sentences in a list; numbered where their order counts."""

    sentences: tuple
    numbered: bool = False


@dataclass(frozen=True)
class Cautions:
    """Sentences that warn of what can hurt."""

    sentences: tuple


@dataclass(frozen=True)
class Table:
    """Rows of text, quantities and numbers under headings."""

    rows: tuple
    headings: tuple


@dataclass(frozen=True)
class References:
    """Sources: rows of short name, standing, and the full reference."""

    rows: tuple


@dataclass(frozen=True, eq=False)
class Picture:
    """A drawing with its caption. name: of its file, where there is one.

    detailed: whether it has to stay wide on a narrow screen, to be moved sideways.
    """

    figure: object
    name: str
    caption: str
    detailed: bool = False


@dataclass(frozen=True, eq=False)
class Photograph:
    """A photograph with its caption. data: a JPEG's bytes. size: width and height in pixels.

    name: of its file, where there is one. alt: what can be seen, for those who cannot see it.
    """

    data: bytes
    size: tuple
    name: str
    alt: str
    caption: str


KINDS = (Heading, Text, Verdict, Listed, Cautions, Table, References, Picture, Photograph)
