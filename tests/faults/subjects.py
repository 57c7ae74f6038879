"""What is written to a learner's or a teacher's disk, and what is whole of it?

Each subject makes an earlier state in an empty folder, changes it, and tells what a person would
find there. `sets` says whether its files belong together, so that no mixture may be met.
"""

import re
from pathlib import Path
from typing import NamedTuple

from tests.launcher.launcher_stage import QuickEnvironment
from workshop_lib import plan, shop
from workshop_lib.launcher import copies
from workshop_lib.launcher.environment import LESSONS, ROOT
from workshop_lib.teaching import pages, worksheets_command
from workshop_lib.teaching.answer_file import FileStore
from workshop_lib.write_up import write, write_card, write_sheet

JOB = ROOT / "notebooks" / "jobs" / "tide_gauge_lid.toml"

NOSE = """
[nose.own]
design = "pressure_nose"
bearings = {{ front = "6001", rear = "6001" }}
span = "40 mm"
fit = "H7"
pushed = "front"
overhang = "{} mm"
"""


class Subject(NamedTuple):
    """One kind of file: `before(folder)` and `change(folder)` write it."""

    name: str
    before: object
    change: object
    sets: bool = False
    found: object = None  # tells the state; None for all files of the folder


def every_file(folder):
    """Return each file by its path; what is hidden, and a kept copy more, is nobody's loss."""
    files = (path for path in sorted(folder.rglob("*")) if path.is_file())
    shown = {path.relative_to(folder).as_posix(): path for path in files}
    return {
        name: path.read_bytes()
        for name, path in shown.items()
        if not any(part.startswith(".") or ".kept-" in part for part in Path(name).parts)
    }


def saved_job(title, diameter=112):
    """Return what saves a job of a title and a size."""

    def save(folder):
        text = JOB.read_text(encoding="utf-8")
        text = text.replace('diameter = "112 mm"', f'diameter = "{diameter} mm"', 1)
        job = plan.parse(re.sub(r'(?m)^title = ".*"', f'title = "{title}"', text))
        plan.save(job, folder / "job.toml")

    return save


def job_in(folder, *told):
    """Write a job's file where nobody looks for pages, and read it."""
    path = folder / ".jobs" / "job.toml"
    path.parent.mkdir(exist_ok=True)
    path.unlink(missing_ok=True)
    saved_job(*told)(path.parent)
    return plan.load(path)


def page_of(make):
    """Return two actions that write a page of two editions of one job."""
    return (
        lambda folder: make(job_in(folder, "A first title"), folder),
        lambda folder: make(job_in(folder, "Another title", 110), folder),
    )


def markdown(job, folder):
    """Write a page as Markdown, with its pictures beside it."""
    write(job, folder, "markdown")


def answered(text):
    """Return what adds an answer."""
    return lambda folder: FileStore(folder / "answers").record("02 torque", {"answer": text})


def answers(folder):
    """Return the answers that can be read."""
    rows = FileStore(folder / "answers").entries("02 torque")
    return {"answers": [row["answer"] for row in rows]}


def worksheets(seed, *more):
    """Return what writes a set of worksheets of its own seed, always under one name."""
    told = ["02", "--sheets", "2", "--name", "set", "--replace", "--seed", str(seed), *more]
    return lambda folder: worksheets_command.main([*told, "--folder", str(folder)])


def a_shop(speed):
    """Return what saves a shop file."""

    def save(folder):
        text = f'[lathe]\nspeeds = ["105 rev/min", "{speed} rev/min"]\n'
        shop.save(text, folder / "my_shop.toml")

    return save


def a_making_sheet(overhang):
    """Return what writes the making sheet of a nose."""

    def make(folder):
        text = NOSE.format(overhang)
        path = folder / ".shop" / "my_shop.toml"
        path.parent.mkdir(exist_ok=True)
        path.write_text(text)
        write_sheet(path, folder=folder)

    return make


def exported(*stems):
    """Return what exports two lessons."""
    notebooks = [ROOT / "notebooks" / f"{stem}.ipynb" for stem in stems]
    return lambda folder: pages.write(notebooks, folder)


def environment(folder):
    """Return whether an environment stands there that runs; half of one does not count."""
    made = QuickEnvironment(folder)
    return {"ready": made.is_ready(LESSONS), "usable": made.is_usable()}


def set_up(folder):
    """Make an environment as a first start does, without the downloads."""
    for name in ("requirements.txt", "workshop_lib/pyproject.toml", "tests/requirements.txt"):
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_text("# nothing\n")
    (folder / "pause").write_text("0")
    QuickEnvironment(folder).make_ready(LESSONS)


SUBJECTS = [
    Subject("set-up", lambda folder: None, set_up, found=environment),
    Subject("answers", answered("240 N"), answered("360 N"), found=answers),
    Subject("job", saved_job("A first title"), saved_job("Another title")),
    Subject("shop file", a_shop(300), a_shop(500)),
    Subject("write-up", *page_of(write)),
    Subject("write-up as Markdown", *page_of(markdown), sets=True),
    Subject("card", *page_of(write_card)),
    Subject("making sheet", a_making_sheet(20), a_making_sheet(30)),
    Subject("worksheets and key", worksheets(1), worksheets(2), sets=True),
    Subject("a sheet each", worksheets(1, "--apart"), worksheets(2, "--apart"), sets=True),
    Subject("pages", lambda folder: None, exported("00_start_here", "02_the_slip_criterion")),
    Subject("learner's copies", lambda folder: None, lambda to: copies.lay_out(to / "my_lessons")),
]
