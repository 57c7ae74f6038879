"""How does a write-up look as one HTML page that needs nothing else, on screen and paper?"""

import base64

from workshop_lib.drawings.markup import LOCKED, Html, escape
from workshop_lib.drawings.page import cell_text
from workshop_lib.write_up import page_parts
from workshop_lib.write_up.page_parts import RULES

MOST_BESIDE = 3  # columns that stand beside each other on a telephone
MARKS = {"yes": "✓", "open": "?", "no": "✕"}
STYLE = """
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1rem; max-width: 52rem; color: #1b2530; background: #fff;
  font: 1rem/1.5 system-ui, "Liberation Sans", Arial, sans-serif; overflow-wrap: break-word; }
h1 { font-size: 1.8rem; line-height: 1.2; margin: .5rem 0; }
h2 { font-size: 1.3rem; margin: 2rem 0 .5rem; border-bottom: 1px solid #c3c9d0; }
h3 { font-size: 1.1rem; margin: 1.3rem 0 .4rem; }
h2, h3 { break-after: avoid; }
figure { margin: 1rem 0; break-inside: avoid; }
figure svg, figure img { max-width: 100%; height: auto; }
.drawing { overflow-x: auto; }
figcaption { font-size: .93rem; color: #45505c; }
table { border-collapse: collapse; margin: .7rem 0; }
th, td { text-align: left; vertical-align: top; padding: .3rem .8rem .3rem 0;
  border-bottom: 1px solid #c3c9d0; }
thead th { border-bottom-width: 2px; }
tbody th { font-weight: 600; }
tr { break-inside: avoid; }
li { margin: .3rem 0; }
.verdict { font-size: 1.15rem; font-weight: 600; padding: .6rem .9rem; background: #f3f5f6;
  border-left: .5rem solid; break-inside: avoid; }
.yes { border-color: #0d8f78; } .open { border-color: #b07410; } .no { border-color: #c9490c; }
.sources { font-size: .85rem; line-height: 1.35; padding-left: 1.2rem; }
.caution { padding: .4rem .9rem; border: 2px solid #b07410; break-inside: avoid; }
footer { margin-top: 2rem; font-size: .9rem; color: #45505c; }
@media screen and (max-width: 36rem) {
  .detailed svg { min-width: 30rem; }
  figure:has(.detailed) figcaption::after {
    content: " Slide the drawing sideways to see all of it.";
  }
  th, td { padding-right: .5rem; font-size: .93rem; }
  ol, ul { padding-left: 1.4rem; }
}
@page { margin: 14mm; }
@media print {
  body { padding: 0; max-width: none; font-size: 10pt; }
  .drawing { overflow: visible; }
  .sources li { break-inside: avoid; }
  .sources { columns: 2; font-size: 7.5pt; }
  h2 { margin-top: 1.3rem; }
  figure { margin: .6rem 0; display: inline-block; width: 48%; vertical-align: top; }
  figure:has(.detailed) { display: block; width: auto; }
  figure svg { max-height: 8cm; }
  .detailed svg { max-height: 9.5cm; }
  figcaption { font-size: 9pt; }
  a { color: inherit; }
}
"""
FOOT = (
    "Computed with the sheet-disc turning workbook from the entries of one job file. It does not "
    f"supervise: {RULES}"
)


def mark(origin):
    """Return what tells a program, and no reader, which job a page came from."""
    return f'<meta name="job" content="{escape(origin)}">'


def page(title, content, origin="", foot=FOOT, style=STYLE):
    """Return the whole page as text. content: parts as `contents` gives them.

    origin: of the job that it came from, see `page_files.origin`. foot: sentence below it.
    style: its style sheet.
    """
    body = "\n".join(_SHOWN[type(part)](part) for part in content)
    inside = f"<main>\n<h1>{escape(title)}</h1>\n{body}\n</main>\n<footer>{escape(foot)}</footer>"
    return framed(title, inside, origin, style)


def framed(title, inside, origin, style):
    """Return a whole page that asks for nothing from outside. inside: its body, as safe HTML."""
    return (
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"{LOCKED}\n{mark(origin)}\n<title>{escape(title)}</title>\n<style>{style}</style>\n</head>\n<body>\n"
        f"{inside}\n</body>\n</html>\n"
    )


def _heading(part):
    return f"<h{part.level}>{escape(part.words)}</h{part.level}>"


def _text(part):
    lines = "<br>".join(escape(line) for line in part.words.splitlines())
    return f"<p>{lines}</p>"


def _verdict(part):
    mark = f'<span aria-hidden="true">{MARKS[part.holds]} </span>'
    return f'<p class="verdict {part.holds}">{mark}{escape(part.words)}</p>'


def _listed(part):
    tag = "ol" if part.numbered else "ul"
    return f"<{tag}>{''.join(f'<li>{escape(each)}</li>' for each in part.sentences)}</{tag}>"


def _cautions(part):
    items = "".join(f"<li>{escape(each)}</li>" for each in part.sentences)
    return f'<div class="caution"><strong>Caution</strong><ul>{items}</ul></div>'


def _table(part):
    head = ""
    if any(part.headings):
        cells = "".join(f'<th scope="col">{escape(each)}</th>' for each in part.headings)
        head = f"<thead><tr>{cells}</tr></thead>"
    rows = "".join(f"<tr>{_row(row, part.headings)}</tr>" for row in part.rows)
    columns = f"columns-{len(part.headings)}"
    return f'<table class="{columns}">{head}<tbody>{rows}</tbody></table>'


def _row(row, headings):
    """One row; each cell of a table of four bears its heading, for where they stand in a column."""
    first, *others = (escape(cell_text(cell)) for cell in row)
    named = [f' data-head="{escape(each)}"' for each in headings[1:]]
    named = named if len(headings) > MOST_BESIDE else [""] * len(others)
    cells = (f"<td{name}>{cell}</td>" for name, cell in zip(named, others, strict=True))
    return f'<th scope="row">{first}</th>' + "".join(cells)


def _references(part):
    items = (
        f"<li><strong>{escape(short)}</strong> ({escape(standing)}). {escape(reference)}</li>"
        for short, standing, reference in part.rows
    )
    return f'<ul class="sources">{"".join(items)}</ul>'


def _picture(part):
    caption = f"<figcaption>{escape(part.caption)}</figcaption>"
    boxed = '<div class="drawing detailed" tabindex="0">{}</div>'  # wide: slides on a telephone
    drawing = (boxed if part.detailed else "{}").format(part.figure.svg)
    return Html(f"<figure>{drawing}{caption}</figure>")


def photograph(part):
    """A `Photograph` as safe HTML that holds it, so that the page stays one file."""
    wide, high = part.size
    source = f"data:image/jpeg;base64,{base64.b64encode(part.data).decode()}"
    image = f'<img src="{source}" alt="{escape(part.alt)}" width="{wide}" height="{high}">'
    caption = f"<figcaption>{escape(part.caption)}</figcaption>" if part.caption else ""
    return Html(f'<figure class="photograph">{image}{caption}</figure>')


_WRITERS = (
    *(_heading, _text, _verdict, _listed, _cautions, _table, _references, _picture),
    photograph,
)
_SHOWN = dict(zip(page_parts.KINDS, _WRITERS, strict=True))
