"""How does a write-up look as Markdown, with its drawings in a folder beside it?"""

import html
import re

from workshop_lib.drawings.page import cell_text
from workshop_lib.write_up import page_parts
from workshop_lib.write_up.html_page import FOOT

FIGURES = "figures"
_SPECIAL = re.compile(r"([\\`*_\[\]|~$])")
_AT_START = re.compile(r"^(\s*)([-=+#:]|\d+[.)](?=\s|$))", re.MULTILINE)
_LINK = re.compile(r"(?i)\b(https?|ftp|javascript|data|file|mailto):")
_BARE_LINK = re.compile(r"(?i)\b(www)\.")


def escaped(words):
    """Return any text as Markdown that says no more than the text: no markup, no link, no tag."""
    text = str(words).replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    text = _SPECIAL.sub(r"\\\1", text)
    text = _BARE_LINK.sub(r"\1\.", _LINK.sub(r"\1&#58;", text))
    return _AT_START.sub(lambda m: f"{m[1]}{m[2][:-1]}\\{m[2][-1]}", text)


def mark(origin):
    """Return what tells a program, and no reader, which job a page came from: a link's address."""
    return f"[//]: # (job {escaped(origin)})"


def page(title, content, origin=""):
    """Return the whole page as text. content: parts as `contents` gives them.

    origin: of the job that it came from, see `page_files.origin`.
    """
    body = "\n\n".join(_SHOWN[type(part)](part) for part in content)
    return f"# {_line(title)}\n\n{mark(origin)}\n\n{body}\n\n---\n\n{escaped(FOOT)}\n"


def _line(words):
    return escaped(" ".join(str(words).split()))


def _heading(part):
    return f"{'#' * part.level} {_line(part.words)}"


def _text(part):
    return "  \n".join(escaped(line) for line in part.words.splitlines() if line.strip())


def _verdict(part):
    return f"**{_line(part.words)}**"


def _listed(part):
    marks = [f"{n}." if part.numbered else "-" for n in range(1, len(part.sentences) + 1)]
    return "\n".join(f"{m} {_line(s)}" for m, s in zip(marks, part.sentences, strict=True))


def _cautions(part):
    lines = [f"> - {_line(each)}" for each in part.sentences]
    return "\n".join(["> **Caution**", ">", *lines])


def _table(part):
    rows = [part.headings, ["---"] * len(part.headings)]
    written = [" | ".join(_line(cell_text(cell)) for cell in part.headings), " | ".join(rows[1])]
    written += [" | ".join(_line(cell_text(cell)) for cell in row) for row in part.rows]
    return "\n".join(f"| {line} |" for line in written)


def _references(part):
    return "\n".join(
        f"- **{_line(short)}** ({_line(standing)}). {_addresses(_line(reference))}"
        for short, standing, reference in part.rows
    )


def _addresses(written):
    """Leave the addresses of our own table of sources to be read as they are."""
    return re.sub(r"(https?)&#58;(\S*)", lambda m: f"<{m[1]}:{_bare(m[2])}>", written)


def _bare(written):
    return html.unescape(re.sub(r"\\(.)", r"\1", written)).rstrip(".,;")


def _picture(part):
    alt = _line(part.figure.text())
    return f"![{alt}]({FIGURES}/{part.name}.svg)\n\n*{_line(part.caption)}*"


def _photograph(part):
    shown = f"![{_line(part.alt)}]({FIGURES}/{part.name}.jpg)"
    return f"{shown}\n\n*{_line(part.caption)}*" if part.caption else shown


_WRITERS = (
    *(_heading, _text, _verdict, _listed, _cautions, _table, _references, _picture),
    _photograph,
)
_SHOWN = dict(zip(page_parts.KINDS, _WRITERS, strict=True))
