"""How does a lesson become a page that reads without Jupyter? The command `pages`.

Only what is stored is shown and nothing is run, unless `--units` asks for it: drawings, twin cells
and results stand there, a panel is its still picture, folded inputs are left out. The code shows,
on screen and on paper, only once its box is ticked. A page asks for nothing from outside. A page
without answers shows a notebook as its learner copy does before anything in that was run. A page
bears a mark of what it was made from, which no reader sees: only a page made from the same again
replaces it.
"""

import argparse
import hashlib
import itertools
import os
import re
import sys
from pathlib import Path
from typing import NamedTuple

import nbformat
import pygments
from pygments.formatters import HtmlFormatter
from pygments.lexers import PythonLexer

from workshop_lib.drawings.markup import LOCKED, escape
from workshop_lib.launcher import copies
from workshop_lib.launcher.environment import LESSON, NOTEBOOKS, ROOT, master, masters
from workshop_lib.launcher.resting import ASLEEP, ELSEWHERE
from workshop_lib.quantities import SYSTEMS, speaking
from workshop_lib.slip import RULES_FIRST
from workshop_lib.sources import bears, replace_text
from workshop_lib.teaching.in_units import run, told
from workshop_lib.teaching.prose import Prose, roomy

FOLDER = ROOT / "pages"
CONTENTS = "index"
STYLE = Path(__file__).with_name("pages.css")
SORTS = (".ipynb", ".md")
WITHOUT = "_without_answers"  # ends the name of such a page
_COLOURS = HtmlFormatter(nowrap=True)
_ASLEEP = re.compile(rf"<p[^>]*>{re.escape(escape(ASLEEP))}</p>")
_BOX = '<li style="margin:.2em 0">☐'  # an option to tick needs no bullet as well
_AWAY = re.compile(r"<(?=\s*meta\b)", re.IGNORECASE)  # leads elsewhere, whatever the policy says
_LONG_TABLE = 9  # rows: more than this may break over two sheets


class Page(NamedTuple):
    """A page before it is written: its title, its headings, its content, its mark, its name."""

    title: str
    headings: list
    content: str
    mark: str
    name: str = "page.html"


def main(arguments):
    """Write the named notebooks and texts, or all lessons with their words; return a status."""
    parser = argparse.ArgumentParser(prog="pages", description="Export lessons as HTML pages.")
    parser.add_argument("names", nargs="*", metavar="02 or notebook.ipynb")
    parser.add_argument("--folder", type=Path, default=FOLDER, help="where the pages go")
    parser.add_argument("--projector", action="store_true", help="begin with large text")
    parser.add_argument("--without-answers", action="store_true", help="questions only")
    parser.add_argument("--units", choices=SYSTEMS, help="run the lessons again in these units")
    chosen = parser.parse_args(arguments)
    paths = [master(each) if re.fullmatch(LESSON, each) else Path(each) for each in chosen.names]
    unfit = [each for each in paths if each.suffix not in SORTS or not each.is_file()]
    if unfit:
        print(f"{unfit[0]}: there is no such notebook or Markdown text", file=sys.stderr)  # noqa: T201
        return 2
    answers = not chosen.without_answers
    written = write(paths or everything(), chosen.folder, chosen.projector, answers, chosen.units)
    print(f"Pages: {len(written)} in {chosen.folder}; begin with {written[-1].name}")  # noqa: T201
    return 0


def everything():
    """Return what is exported when nothing is named: the lessons and the words used in them."""
    return [*masters(), *NOTEBOOKS.glob("words_used.md")]


def write(paths, folder, large=False, answers=True, units=None):
    """Write a page for each notebook or Markdown text, and a first page that lists them.

    units: "inch" or "metric": lessons are run anew in it, texts told in it. Nothing in the folder
    is replaced but a page made from the same before.
    """
    folder.mkdir(parents=True, exist_ok=True)
    pages, taken = [], set()
    for path in dict.fromkeys(paths):
        page = read(path, answers, units)
        added = "" if answers or path.suffix == ".md" else WITHOUT
        added += f"_{units}" if units else ""
        name = name_of(folder, path, page.mark, taken, added)
        taken.add(name)
        pages.append(page._replace(name=name))
    first = contents(pages)
    first = first._replace(name=name_of(folder, None, first.mark, taken))
    files = []
    for number, page in enumerate(pages):
        around = [pages[i] if 0 <= i < len(pages) else None for i in (number - 1, number + 1)]
        files.append(folder / page.name)
        replace_text(files[-1], document(page, around, large, first.name))
    if len(pages) > 1:
        files.append(folder / first.name)
        replace_text(files[-1], document(first, [None, None], large))
    return files


def read(path, answers=True, units=None):
    """Return the page of a stored notebook or of a Markdown text; nothing in it is run, but for a
    system of units.
    """
    prose = Prose()
    with speaking(units):
        if path.suffix == ".ipynb":
            cells = _cells(path, answers, units)
            content = "\n".join(filter(None, (_cell(cell, prose) for cell in cells)))
        else:
            content = prose.html(told(path.read_text(encoding="utf-8")))
    content = _AWAY.sub("&lt;", content)
    titles = [words for level, words, _ in prose.headings if level == 1]
    mark = mark_of(path, f"{answers} {units}" if units else answers)
    return Page((titles or [path.stem])[0], prose.headings, content, mark)


def _cells(path, answers, units):
    """Return the cells of a notebook that a page shows."""
    notebook = nbformat.read(path, as_version=4)
    if units:
        run(notebook, path.parent, units)
    if answers:
        return notebook.cells
    cells = copies.learner_copy(notebook).cells
    return [cell for cell in cells if not cell.get("id", "").endswith(copies.FOLDED_ID)]


def contents(pages):
    """Return the first page: one line for each of the others."""
    rows = "".join(f'<li><a href="{page.name}">{page.title}</a></li>' for page in pages)
    title = "Turning sheet discs that have no hole"
    content = f"<h1>{title}</h1>\n<ul>{rows}</ul>"
    return Page(title, [], content, mark_of(None, True))


def document(page, around, large=False, first="index.html"):
    """Return the whole HTML text of a page.

    around: the pages before and after it, or None. first: the name of the page that lists all.
    """
    before, after = around
    links = [f'<a href="{before.name}">Before: {before.title}</a>' if before else ""]
    links += [f'<a href="{after.name}">Next: {after.title}</a>' if after else ""]
    ticked = " checked" if large else ""
    python = '<label><input type="checkbox" id="python">Show the Python</label>'
    return f"""<!doctype html>
<html lang="en-GB">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
{LOCKED}
{page.mark}
<title>{re.sub("<[^>]+>", "", page.title)}</title>
<style>
{STYLE.read_text(encoding="utf-8")}</style>
</head>
<body>
<header>
<a class="skip" href="#lesson">Go to the text</a>
<div class="bar">
{python if '<pre class="code"' in page.content else ""}
<label><input type="checkbox" id="large"{ticked}>Large text, for a projector</label>
{f'<a href="{first}">All pages</a>' if any(around) else ""}
</div>
</header>
<main id="lesson">
{with_outline(page)}
</main>
<footer>
<p>{RULES_FIRST}</p>
<nav aria-label="Other pages">{"".join(links)}</nav>
</footer>
</body>
</html>
"""


def mark_of(path, answers):
    """Return the mark of a page in HTML. path: what it is made from, or None for the contents."""
    told = CONTENTS
    if path is not None:
        whole = path.resolve()
        told = whole.relative_to(ROOT) if whole.is_relative_to(ROOT) else whole
        told = f"{told.as_posix()} {answers}"
    return f'<meta name="made-from" content="{hashlib.sha256(told.encode()).hexdigest()[:16]}">'


def name_of(folder, path, marked, taken, added=""):
    """Return the name for a page: its own of before, or one that nothing in the folder has.

    path: what it is made from, or None for the contents. marked: its mark. taken: names already
    given to other pages. added: what its name ends with.
    """
    for stem in _stems(path, added):
        file = folder / f"{stem}.html"
        if file.name not in taken and (not os.path.lexists(file) or bears(file, marked)):
            return file.name
    raise AssertionError("there is always one more name")


def _stems(path, added):
    """Yield a page's own name, with its folder's, then with a number."""
    stem = f"{path.stem}{added}" if path else CONTENTS
    yield stem
    if path and path.resolve().parent.name:
        yield f"{stem}_{path.resolve().parent.name}"
    yield from (f"{stem}_{number}" for number in itertools.count(2))


def with_outline(page):
    """Put the list of a page's parts above its first part."""
    parts = [(words, anchor) for level, words, anchor in page.headings if level == 2]
    if len(parts) < 3:
        return page.content
    rows = "".join(f'<li><a href="#{anchor}">{words}</a></li>' for words, anchor in parts)
    sort = "outline letters" if max(len(words) for words, _ in parts) == 1 else "outline"
    outline = f'<nav class="{sort}" aria-label="On this page"><ul>{rows}</ul></nav>\n'
    place = page.content.find("<h2 ")
    return page.content[:place] + outline + page.content[place:]


def _cell(cell, prose):
    """Return one cell of a stored notebook as HTML."""
    if cell.cell_type == "markdown":
        return prose.html(told(cell.source))
    if cell.cell_type != "code":
        return ""
    folded = cell.metadata.get("jupyter", {}).get("source_hidden", False)
    code = "" if folded or not cell.source.strip() else _code(cell.source)
    return code + "".join(shown(output) for output in _joined(cell.outputs))


def _joined(outputs):
    """Put together what was printed in several goes: where it was cut says nothing."""
    joined = []
    for output in outputs:
        streams = joined and output.output_type == joined[-1].output_type == "stream"
        if streams and output.name == joined[-1].name:
            joined[-1] = nbformat.v4.new_output(
                "stream", name=output.name, text=joined[-1].text + output.text
            )
        else:
            joined.append(output)
    return joined


def _code(source):
    lines = [line for line in source.splitlines() if line.strip() != "# fmt: skip"]
    text = "\n".join(line.removesuffix("  # fmt: skip") for line in lines)
    coloured = pygments.highlight(text, PythonLexer(), _COLOURS).rstrip("\n")
    return f'<pre class="code" tabindex="0"><code>{coloured}</code></pre>\n'


def shown(output):
    """Return one stored output: its HTML where it has one, else its picture, else its text."""
    if output.output_type == "stream":
        return _said(output.text)
    if output.output_type == "error":
        return _said(f"{output.ename}: {output.evalue}")
    data = output.get("data", {})
    if "text/html" in data:
        return f'<div class="shown">{roomy(_still(data["text/html"]))}</div>\n'
    if "image/png" in data:
        alt = escape(data.get("text/plain", ""))
        picture = escape(data["image/png"].strip())
        return f'<p><img alt="{alt}" src="data:image/png;base64,{picture}"></p>\n'
    return _said(data.get("text/plain", ""))


def _said(text):
    return f'<pre class="said">{escape(text.rstrip())}</pre>\n' if text.strip() else ""


def _still(html):
    """Make of a live element's picture one for paper: no word of running it, boxes to tick."""
    html = ELSEWHERE.sub("", _ASLEEP.sub("", html))
    html = html.replace(_BOX, f"{_BOX[:-3]};list-style:none{_BOX[-3:]}")
    if html.count("<tr>") > _LONG_TABLE:
        html = html.replace("<table style", '<table class="long" style')
    return html
