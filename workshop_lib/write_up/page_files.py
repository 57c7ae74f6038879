"""Where does a write-up go? Named after its job's file, never in place of something else.

A page bears a mark of the job that it came from, which no reader sees. By it the same job's next
page replaces it, and no other's does.
"""

import hashlib
import itertools
import os
import re
import unicodedata
from pathlib import Path

from workshop_lib.plan import Job
from workshop_lib.quantities import InputError, quote
from workshop_lib.sources import KEPT_BY_WINDOWS, bears, restore
from workshop_lib.write_up import html_page, markdown_page

LONGEST_NAME = 60


def on_paper(job):
    """A `with` block in which a job is told in one system of units. Raises InputError."""
    if not isinstance(job, Job):
        raise InputError("job", f"{quote(job)} is not a job", "Load one, or make one with plan.job")
    return job.speaking_one()


def ready(folder):
    """Return the folder that a page goes into; one that is not there is made. Raises InputError."""
    if not isinstance(folder, str | os.PathLike) or "\0" in os.fspath(folder):
        raise InputError("folder", f"{quote(folder)} cannot be the name of a folder")
    folder = Path(folder)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        if os.path.lexists(folder):
            raise InputError("folder", f"{quote(folder.name)} is not a folder") from error
        problem = f"{quote(folder.name)} cannot be made ({error.strerror})"
        raise InputError("folder", problem, "Choose one that you can write to") from error
    return folder


def file_name(title):
    """Return a title as a file's name: small letters, digits and underscores, never a path.

    >>> file_name("Cover of the tide gauge, 78 mm"), file_name("../../etc")
    ('cover_of_the_tide_gauge_78_mm', 'etc')
    """
    bare = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode()
    name = re.sub(r"[^a-z0-9]+", "_", bare.lower()).strip("_")[:LONGEST_NAME].strip("_")
    return f"job_{name}".rstrip("_") if not name or KEPT_BY_WINDOWS.fullmatch(name) else name


def name_of(job):
    """What a job's page is called: as its file, or after its title where it has none."""
    return file_name(job["about.title"] if job.file is None else job.file.stem)


def origin(job, folder):
    """What tells a job from others, as 16 digits that tell nothing of anybody's folders.

    A job with a file is told by the way from the page's folder to it, so that both may be moved
    together; one without a file by its title.
    """
    if job.file is None:
        told = f"title {job['about.title']}"
    else:
        try:
            way = Path(os.path.relpath(job.file, folder.resolve()))
        except ValueError:  # another drive, on Windows
            way = job.file
        told = f"file {way.as_posix()}"
    return hashlib.sha256(told.encode()).hexdigest()[:16]


def html_place(job, folder, kind=""):
    """The path of a job's page as HTML: its own page of before, or a name that is free.

    kind: what stands behind the job's name, such as "_card".
    """
    mark = html_page.mark(origin(job, folder))
    pages = (folder / f"{name}.html" for name in _names(job, kind))
    return next(page for page in pages if not os.path.lexists(page) or bears(page, mark))


def markdown_place(job, folder):
    """The path of a job's page as Markdown, in a folder of the page's name."""
    mark = markdown_page.mark(origin(job, folder))
    for name in _names(job):
        restore(folder / name)  # its own page of before, where a process was killed in between
        page = folder / name / f"{name}.md"
        if not os.path.lexists(page.parent) or bears(page, mark):
            return page
    raise AssertionError("there is always one more name")


def _names(job, kind=""):
    """Yield a page's own name, then those for when it is taken."""
    name = name_of(job) + kind
    yield name
    yield from (f"{name}_{number}" for number in itertools.count(2))
