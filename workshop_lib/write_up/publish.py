"""How is a job written up as a page? What was made, how, and how sure it is. Command `write-up`."""

import argparse
import sys
from itertools import takewhile
from pathlib import Path

from workshop_lib.drawings import page
from workshop_lib.drawings.markup import Html, escape
from workshop_lib.plan import assess, load
from workshop_lib.quantities import InputError
from workshop_lib.sources import choose, replace_folder, replace_text
from workshop_lib.write_up import html_page, markdown_page, page_parts
from workshop_lib.write_up.article_style import ARTICLE
from workshop_lib.write_up.contents import contents
from workshop_lib.write_up.html_page import STYLE
from workshop_lib.write_up.page_files import (
    file_name,
    html_place,
    markdown_place,
    name_of,
    on_paper,
    origin,
    ready,
)
from workshop_lib.write_up.page_parts import Photograph, Picture

__all__ = ["FORMS", "file_name", "preview", "why_numbered", "write"]

FORMS = ("html", "markdown")
FAILED = 2


def write(job, folder, form="html"):
    """Write a job up as one page.

    job: `plan.Job`. folder: path, made where it is not there; the page never lands outside. form:
    "html" (one file that needs nothing else, pictures inside) or "markdown" (with its pictures in a
    folder `figures` beside it, inside a folder of the page's name). The page is named after the
    job's file, or after its title where it came from none. An earlier page of the same job is
    replaced, and nothing else: where the name is taken the page gets a number, and `why_numbered`
    says so. Returns the path of the page. Raises InputError when the form is not known or the
    folder can neither be made nor be written to.
    Notes: a job is told from others by its file, or by its title where it came from none.
    """
    choose(form, FORMS, "form", "form")
    folder = ready(folder)
    try:
        with on_paper(job):
            parts = contents(assess(job))
            return (_write_html if form == "html" else _write_markdown)(job, parts, folder)
    except OSError as error:
        raise InputError("folder", f"cannot be written to ({error.strerror})") from error


def _write_html(job, parts, folder):
    path = html_place(job, folder)
    replace_text(
        path, html_page.page(job["about.title"], parts, origin(job, folder), style=STYLE + ARTICLE)
    )
    return path


def _write_markdown(job, parts, folder):
    path = markdown_place(job, folder)
    files, folder_of = {}, markdown_page.FIGURES
    for part in parts:
        if isinstance(part, Picture):
            files[f"{folder_of}/{part.name}.svg"] = f"{part.figure.svg}\n"
        if isinstance(part, Photograph):
            files[f"{folder_of}/{part.name}.jpg"] = part.data
    files[path.name] = markdown_page.page(job["about.title"], parts, origin(job, folder))
    replace_folder(path.parent, files)
    return path


def why_numbered(job, path):
    """Why a page that was written does not bear its job's name, in a sentence; else nothing.

    job: `plan.Job`. path: as `write` gave it back.
    """
    path, name = Path(path), name_of(job)
    if path.stem == name:
        return ""
    taken = f"{name}{path.suffix}" if path.suffix == ".html" else name
    return f"{taken} was there already and did not come from this job, so it stays as it is."


def preview(job, until="The set-up"):
    """The head of a job's page, as a block of a lesson's page.

    job: `plan.Job`. until: the heading before which it ends. Returns a `page.Block`.
    """
    with on_paper(job):
        return head(job["about.title"], contents(assess(job, draws=0)), until)


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
    page_parts.Photograph: lambda part: page.Block(html_page.photograph(part), part.alt),
}


def main(arguments):
    """Write a job file up as a page; give 0 when it is written."""
    parser = argparse.ArgumentParser(prog="write-up", description="Write job files up as pages.")
    parser.add_argument("jobs", nargs="+", type=Path, metavar="job.toml")
    parser.add_argument("--form", choices=FORMS, default="html")
    parser.add_argument("--folder", type=Path, help="where the pages go; usually beside the job")
    given = parser.parse_args(arguments)
    for path in given.jobs:
        try:
            job = load(path)
            made = write(job, given.folder or path.parent, given.form)
        except InputError as error:
            print(error, file=sys.stderr)  # noqa: T201
            return FAILED
        print(f"{made}: written. {why_numbered(job, made)}".rstrip())  # noqa: T201
    return 0
