"""How does a making sheet get onto paper? The command `making-sheet`."""

import argparse
import sys
from pathlib import Path

from workshop_lib import shop
from workshop_lib.quantities import InputError, speaking, system
from workshop_lib.sources import replace_text
from workshop_lib.write_up.html_page import STYLE, page
from workshop_lib.write_up.making import sheet_parts
from workshop_lib.write_up.page_parts import RULES

FAILED = 2
# On paper the sheet is set close, so that it takes two pages and no more.
CLOSE = """
@media print {
  body { font-size: 8.5pt; line-height: 1.3; }
  h1 { font-size: 1.3rem; margin: 0; } h2 { font-size: 1rem; margin: .6rem 0 .2rem; }
  li { margin: .05rem 0; } table { margin: .2rem 0; } th, td { padding: .12rem .6rem .12rem 0; }
  .detailed svg { max-height: 6.2cm; } figure { margin: .2rem 0; }
  footer { margin-top: .4rem; font-size: 7.5pt; }
  .sources { font-size: 6.5pt; overflow-wrap: anywhere; margin: .2rem 0; }
}
"""
FOOT = (
    "Computed with the sheet-disc turning workbook from what you typed in. It cannot watch over "
    f"you: {RULES}"
)


def main(arguments):
    """Write the making sheet of a nose; give 0 when it is written."""
    parser = argparse.ArgumentParser(prog="making-sheet", description="Write making sheets.")
    parser.add_argument("shop", nargs="?", type=Path, metavar="my_shop.toml")
    parser.add_argument("--nose", help="which one, where the shop has several")
    parser.add_argument("--folder", type=Path, help="where the page goes; usually beside the shop")
    given = parser.parse_args(arguments)
    try:
        path = write_sheet(given.shop, given.nose, given.folder)
    except InputError as error:
        print(error, file=sys.stderr)  # noqa: T201
        return FAILED
    print(f"{path}: written. Print it from your browser.")  # noqa: T201
    return 0


def write_sheet(file=None, nose=None, folder=None):
    """Write the making sheet of one nose of a shop file as an HTML page; returns its path.

    file: of the shop; None: the one in this folder or among the lessons. nose: its name, where
    there are several. folder: None: beside the shop's file. Raises InputError.
    """
    place = shop.find() if file is None else file
    if place is None:
        raise InputError(shop.NAME, "was not found", "Make one in lesson 00, or name the file")
    own = shop.load(place)
    if nose is None and len(own.noses) > 1:
        raise InputError(
            "nose", "your shop has several noses", f"Add --nose and one of: {', '.join(own.noses)}"
        )
    name = nose or next(iter(own.noses), "")
    with speaking(own.units or system()):
        text = sheet(own.nose(name, "nose").design)
    return save_sheet(text, name, folder or Path(place).parent)


def sheet(design):
    """The making sheet of a design as the text of an HTML page, in the units that are spoken."""
    title = f"Making sheet: {design.name}"
    return page(title, sheet_parts(design), foot=FOOT, style=STYLE + CLOSE)


def save_sheet(text, name, folder):
    """Write a sheet into a folder as `making_NAME.html`; returns its path. Raises InputError."""
    target = Path(folder) / f"making_{_plain(name)}.html"
    if not target.parent.is_dir():
        raise InputError("folder", "does not exist", "Make it first")
    try:
        replace_text(target, text)
    except OSError as error:
        raise InputError("folder", f"cannot be written to ({error.strerror})") from error
    return target


def _plain(name):
    """A nose's name as part of a file's name."""
    return "".join(each if each.isalnum() and each.isascii() else "_" for each in name)[:60]
