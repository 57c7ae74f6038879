"""A job written up as a page to publish: what was made, how, and how sure that is."""

import os
import re
import unicodedata
from pathlib import Path

from workshop_lib.planning.assessing import assess
from workshop_lib.quantities import InputError, quote
from workshop_lib.safe_file import replace_text
from workshop_lib.tables import choose
from workshop_lib.writing import html_page, markdown_page
from workshop_lib.writing.contents import contents
from workshop_lib.writing.parts import Picture
from workshop_lib.writing.preview import head

FORMS = ("html", "markdown")
LONGEST_NAME = 60
_RESERVED = re.compile(r"(?i)(con|prn|aux|nul|com\d|lpt\d)")  # names that Windows keeps to itself


def write(job, folder, form="html"):
    """Write a job up as one page, in a folder that is there.

    job: `plan.Job`. folder: path; the page is named after the job's title and never lands outside.
    form: "html" (one file that needs nothing else, pictures inside) or "markdown" (with its
    pictures in a folder `figures` beside it, inside a folder of the job's name). What an earlier
    write-up of the same title left there is replaced. Returns the path of the page.
    Raises InputError when the form is not known or the folder cannot be written to.
    """
    choose(form, FORMS, "form", "form")
    if not isinstance(folder, str | os.PathLike) or "\0" in os.fspath(folder):
        raise InputError("folder", f"{quote(folder)} cannot be a folder's name")
    folder = Path(folder)
    if not folder.is_dir():
        raise InputError("folder", f"{quote(folder.name)} is not a folder", "Make it first")
    found = assess(job)
    title, parts = job["about.title"], contents(found)
    name = file_name(title)
    try:
        if form == "html":
            path = folder / f"{name}.html"
            replace_text(path, html_page.page(title, parts))
            return path
        place = folder / name
        (place / markdown_page.FIGURES).mkdir(parents=True, exist_ok=True)
        for part in parts:
            if isinstance(part, Picture):
                picture = place / markdown_page.FIGURES / f"{part.name}.svg"
                replace_text(picture, f"{part.figure.svg}\n")
        path = place / f"{name}.md"
        replace_text(path, markdown_page.page(title, parts))
        return path
    except OSError as error:
        raise InputError("folder", f"cannot be written to ({error.strerror})") from error


def preview(job, until="The set-up"):
    """The head of a job's page, as a block of a lesson's page.

    job: `plan.Job`. until: the heading before which it ends. Returns a `page.Block`.
    """
    return head(job["about.title"], contents(assess(job, draws=0)), until)


def file_name(title):
    """Return a title as a file's name: small letters, digits and underscores, never a path.

    >>> file_name("Cover of the tide gauge, 78 mm"), file_name("../../etc")
    ('cover_of_the_tide_gauge_78_mm', 'etc')
    """
    bare = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode()
    name = re.sub(r"[^a-z0-9]+", "_", bare.lower()).strip("_")[:LONGEST_NAME].strip("_")
    return f"job_{name}".rstrip("_") if not name or _RESERVED.fullmatch(name) else name
