"""How does the card look? One sheet of paper, and one column on a phone. The command `card`."""

import argparse
import sys
from pathlib import Path

from workshop_lib.drawings.markup import escape
from workshop_lib.plan import assess, load
from workshop_lib.quantities import InputError
from workshop_lib.sources import replace_text
from workshop_lib.write_up.card_contents import card_of
from workshop_lib.write_up.html_page import MARKS, framed
from workshop_lib.write_up.page_files import html_place, on_paper, origin, ready
from workshop_lib.write_up.page_parts import RULES

FAILED = 2
KIND = "_card"  # behind the job's name in the name of the file
BANDS = {"open": "Not yet", "no": "Not yet: do not run this plan"}
# The room is what A4 and Letter have in common: 210 mm less margins wide, 279 mm less margins high.
STYLE = """
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { margin: 0; color: #1b2530; background: #fff; }
main { margin: 0 auto; padding: .8rem; max-width: 60rem; overflow-wrap: anywhere;
  font: .95rem/1.4 Arial, "Liberation Sans", Helvetica, sans-serif; }
h1 { font-size: 1.5em; line-height: 1.15; margin: 0; }
h2 { font-size: 1.05em; margin: .6em 0 .2em; border-bottom: 1px solid #566270; }
p, ul, dl, table { margin: .2em 0; }
ul { padding-left: 1.1em; } li { margin: .12em 0; }
.band { border: .2em solid #c9490c; padding: .2em .6em .4em; margin-bottom: .6em; }
.band strong.large { display: block; font-size: 2em; line-height: 1.15; color: #a83c08;
  text-transform: uppercase; }
.band.open { border-color: #b07410; } .band.open strong.large { color: #8a5a08; }
.pair { display: grid; grid-template-columns: 1fr 1fr; gap: 0 1.4em; }
.pair svg { width: 100% !important; min-width: 0 !important; max-width: 34rem; height: auto; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: top; padding: .1em .6em .1em 0;
  border-bottom: 1px solid #c3c9d0; font-variant-numeric: tabular-nums; }
.rows th { font-weight: 600; width: 8em; }
.flow { columns: 2; column-gap: 1.4em; margin-top: .5em; }
.flow h2 { margin-top: 0; break-after: avoid; } .flow li { break-inside: avoid; }
.cautions { border: .12em solid #b07410; padding: 0 .6em; -webkit-box-decoration-break: clone;
  box-decoration-break: clone; }
.boxes { display: grid; grid-template-columns: repeat(5, 1fr); gap: .3em; margin-top: .7em; }
.boxes div { border: 1px solid #1b2530; min-height: 3.1em; padding: .1em .3em; font-size: .85em; }
.wide { grid-column: 1 / -1; }
footer { font-size: .8em; color: #45505c; margin-top: .3em; }
@media screen and (max-width: 44rem) {
  .pair { grid-template-columns: 1fr; }
  .boxes { grid-template-columns: 1fr 1fr; } .flow { columns: 1; }
}
@page { margin: 9mm; }
@media print {
  main { padding: 0; max-width: none; font-size: 8.1pt; line-height: 1.18; }
  .boxes div { min-height: 8.5mm; }
  main.yes { font-size: 8.7pt; } main.yes .boxes div { min-height: 11mm; }
  .pair svg { max-height: 39mm; } main.yes .pair svg { max-height: 44mm; }
  .flow { margin-top: .3em; } .boxes { margin-top: .4em; }
}
"""
FOOT = f"Computed with the sheet-disc turning workbook. It does not supervise: {RULES}"


def write_card(job, folder):
    """Write the card of a job, one sheet to take to the machine, as an HTML page.

    job: `plan.Job`. folder: path; made where it is not there. The card is called after the job's
    file, or its title, with `_card` behind it. An earlier card of the same job is replaced, and
    nothing else: see `write`. Returns the path. Raises InputError.
    """
    with on_paper(job):
        found = assess(job, draws=0)
        card = card_of(found)
    folder = ready(folder)
    path = html_place(job, folder, KIND)
    try:
        replace_text(path, card_html(card, origin(job, folder)))
    except OSError as error:
        raise InputError("folder", f"cannot be written to ({error.strerror})") from error
    return path


def card_html(card, origin=""):
    """The whole page of a `Card` as text. origin: of its job, see `page_files.origin`."""
    return framed(f"Card: {card.title}", card_body(card), origin, STYLE)


def card_body(card):
    """What stands on the card, as safe HTML: a `main` that takes one sheet when it is printed."""
    blank, set_up = card.pictures
    return (
        f'<main class="{card.holds}">\n{_band(card)}<h1>{escape(card.title)}</h1>\n'
        f'{_verdict(card)}<div class="pair">'
        f"<section><h2>Sheet and blank</h2>{blank.svg()}{_rows(card.sheet)}"
        f"<h2>Passes</h2>{_passes(card.passes)}</section>"
        f"<section><h2>Set-up</h2>{set_up.svg()}{_rows(card.settings)}</section>"
        f'</div>\n<div class="flow"><h2>When to stop, and what to look at</h2>{_list(card.looks)}'
        f'<div class="cautions"><h2>Caution</h2>{_list(card.cautions)}</div>'
        f"</div>\n{_boxes(card.boxes)}\n<footer>{escape(FOOT)}</footer>\n</main>"
    )


def _band(card):
    if card.holds == "yes":
        return ""
    told = "".join(
        f"<li><strong>{escape(asked)}</strong> {escape(mend)}</li>" for asked, mend in card.not_yet
    )
    large = f'<strong class="large">{escape(BANDS[card.holds])}</strong>'
    return f'<div class="band {card.holds}">{large}<ul>{told}</ul></div>\n'


def _verdict(card):
    if card.holds != "yes":
        return ""  # the band says it
    mark = f'<span aria-hidden="true">{MARKS[card.holds]} </span>'
    return f"<p>{mark}<strong>{escape(card.verdict)}</strong></p>\n"


def _rows(rows):
    body = "".join(
        f'<tr><th scope="row">{escape(name)}</th><td>{escape(value)}</td></tr>'
        for name, value in rows
    )
    return f'<table class="rows"><tbody>{body}</tbody></table>'


def _passes(rows):
    heads = ("Pass", "⌀ after it", "Corners a turn", "Holds, times")
    head = "".join(f'<th scope="col">{escape(each)}</th>' for each in heads)
    body = "".join(
        "<tr>" + "".join(f"<td>{escape(cell)}</td>" for cell in row) + "</tr>" for row in rows
    )
    return f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"


def _list(sentences):
    return f"<ul>{''.join(f'<li>{escape(each)}</li>' for each in sentences)}</ul>"


def _boxes(names):
    each = "".join(f"<div>{escape(name)}</div>" for name in names)
    return f'<div class="boxes">{each}<div class="wide">What to remember next time</div></div>'


def main(arguments):
    """Write the card of each job file; give 0 when all are written."""
    parser = argparse.ArgumentParser(prog="card", description="Write cards for the machine.")
    parser.add_argument("jobs", nargs="+", type=Path, metavar="job.toml")
    parser.add_argument("--folder", type=Path, help="where the cards go; usually beside the job")
    given = parser.parse_args(arguments)
    for path in given.jobs:
        try:
            written = write_card(load(path), given.folder or path.parent)
        except InputError as error:
            print(error, file=sys.stderr)  # noqa: T201
            return FAILED
        print(f"{written}: written. Print it from your browser.")  # noqa: T201
    return 0
