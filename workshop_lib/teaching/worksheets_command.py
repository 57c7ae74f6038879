"""What can a teacher type after `worksheets`? Different sheets for a class, and the key.

worksheets 02 --sheets 24 --seed 7
worksheets 02 --questions torque faces --names class.csv --units inch
"""

import argparse
import re
from pathlib import Path

from workshop_lib import shop
from workshop_lib.launcher import class_list
from workshop_lib.launcher.environment import ROOT
from workshop_lib.launcher.trouble import Trouble
from workshop_lib.quantities import SYSTEMS, InputError, quote, speaking
from workshop_lib.sources import KEPT_BY_WINDOWS, replace_folder, restore
from workshop_lib.teaching import task_list, worksheets
from workshop_lib.teaching.worksheet_pages import PAPERS, grid_page, key_page, sheets_page

FOLDER = ROOT / "worksheets"
SHEETS, KEY, GRID, ONE = "sheets.html", "key.html", "marking_grid.html", "sheet_{:03d}.html"
_OURS = re.compile(r"sheets\.html|key\.html|marking_grid\.html|sheet_[0-9]{3}\.html")
_NAME = re.compile(r"\w[\w .-]{0,59}")


class _Reader(argparse.ArgumentParser):
    """Says in one sentence what is wrong, in place of a page of usage."""

    def error(self, message):
        raise Trouble(f"{message}. Put --help right after the command to read what it takes")


def main(arguments):
    """Draw and write the worksheets that are asked for, and say where; return a status."""
    options = _options().parse_args(arguments)
    lessons = task_list.lessons() if options.lessons == ["all"] else options.lessons
    try:
        units = options.units or _of_the_shop()
        names = [one.name for one in class_list.read(options.names)] if options.names else ()
        with speaking(units):
            drawn = worksheets.draw(
                lessons, options.sheets, options.tasks, options.seed, options.questions, names,
                options.faded,
            )  # fmt: skip
    except InputError as error:
        raise Trouble(str(error)) from None
    folder = _folder(options, drawn)
    written = _files(drawn, options)
    _write(folder, written)
    shown = folder.relative_to(ROOT) if folder.is_relative_to(ROOT) else folder
    count = len(drawn.sheets)
    print(f"Worksheets: {count}, with a key and a marking grid, set {drawn.code}, in {shown}.")  # noqa: T201
    print("Open the pages in a browser and print them from there.")  # noqa: T201
    return 0


def _options():
    reader = _Reader(prog="worksheets", add_help=False, allow_abbrev=False)
    reader.add_argument("lessons", nargs="*")
    reader.add_argument("--sheets", type=_whole, default=12)
    reader.add_argument("--tasks", type=_whole, default=None)
    reader.add_argument("--seed", type=_whole, default=1)
    reader.add_argument("--paper", type=str.lower, choices=PAPERS, default="a4")
    reader.add_argument("--folder", type=Path, default=FOLDER)
    reader.add_argument("--name", default=None)
    reader.add_argument("--questions", nargs="+", default=())
    reader.add_argument("--units", choices=SYSTEMS, default=None)
    reader.add_argument("--names", type=Path, default=None)
    reader.add_argument("--faded", action="store_true")
    reader.add_argument("--apart", action="store_true")
    reader.add_argument("--replace", action="store_true")
    return reader


def _of_the_shop():
    """Return the system of units of the teacher's own shop file, or None."""
    own = shop.found()
    return own.units if own else None


def _whole(text):
    """Read a whole number; 0x10, 1_000 and ٣ are none."""
    if not re.fullmatch(r"[0-9]{1,9}", text):
        raise argparse.ArgumentTypeError(f"{quote(text)} is not a whole number from 0")
    return int(text)


def _folder(options, drawn):
    """Return the folder to write into; refuse one that exists, or a name that leads elsewhere."""
    usual = f"{'lesson' if len(drawn.lessons) == 1 else 'lessons'}_{'_'.join(drawn.lessons)}"
    name = f"{usual}_seed_{drawn.seed}" if options.name is None else options.name
    if not _NAME.fullmatch(name) or KEPT_BY_WINDOWS.fullmatch(name) or name.endswith((".", " ")):
        raise Trouble(
            f"the name {quote(name)} cannot be used: write letters, digits, spaces, points or "
            "dashes, and choose the place with --folder"
        )
    folder = options.folder / name
    restore(folder)  # a set of before, where a process was killed in between
    if folder.resolve().parent != options.folder.resolve():
        raise Trouble(f"{folder} is a link that leads elsewhere: choose another name")
    if folder.exists() and not folder.is_dir():
        raise Trouble(f"{folder} is a file: choose another name")
    if folder.exists() and any(folder.iterdir()) and not options.replace:
        raise Trouble(
            f"the folder {folder.name} is there already: add --replace to write over its "
            "worksheets, or give another --name"
        )
    return folder


def _files(drawn, options):
    """Return the text of each file by its name."""
    files = {SHEETS: sheets_page(drawn, options.paper)}
    if options.apart:
        files = {
            ONE.format(sheet.number): sheets_page(drawn, options.paper, [sheet])
            for sheet in drawn.sheets
        }
    key = key_page(drawn, options.paper, _again(drawn, options))
    return files | {GRID: grid_page(drawn, options.paper), KEY: key}


def _again(drawn, options):
    """Return the command that gives the same set."""
    parts = ["python3 -m workshop_lib worksheets", *drawn.lessons, f"--sheets {len(drawn.sheets)}"]
    parts += [f"--tasks {len(drawn.sheets[0].tasks)}", f"--seed {drawn.seed}"]
    parts += [f"--questions {' '.join(options.questions)}"] if options.questions else []
    parts += [f"--units {drawn.units}"] if drawn.units else []
    parts += ["--faded"] if drawn.faded else []
    return " ".join([*parts, f"--paper {options.paper}"])


def _write(folder, files):
    """Write sheets, key and grid as one set; of an earlier set nothing stays, of others all."""
    folder.parent.mkdir(parents=True, exist_ok=True)
    replace_folder(folder, files, ours=lambda name: bool(_OURS.fullmatch(name)))
