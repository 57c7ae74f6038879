"""Where is the shop file, and what does it say? Read strictly, saved with its comments."""

from pathlib import Path

from workshop_lib.own_files import (
    as_path,
    document_of,
    plainly,
    save_text,
    tables_of,
    text_of,
    writer,
)
from workshop_lib.quantities import InputError, quote
from workshop_lib.shop.own_shop import FORMAT, Shop, shop_of
from workshop_lib.shop.shop_entries import PARTS
from workshop_lib.shop.template import TEMPLATE

NAME = "my_shop.toml"
TOP = Path(__file__).resolve().parents[2]
MY_LESSONS, MASTERS = TOP / "my_lessons", TOP / "notebooks"


def load(path=NAME):
    """Which shop does this file describe?

    path: of a TOML file, see `shop.entries` for its keys. Returns a `Shop`. Raises `ShopFaults`,
    which names every fault with its line and key, or InputError where the file is not TOML.
    """
    path = as_path(path)
    return parse(text_of(path), path.name, path.resolve())


def parse(text, where=NAME, file=None):
    """Which shop does this text describe? As `load`; where: what to call it in a refusal."""
    return shop_of(tables_of(text, where), text, where, file)


def find(beside=None):
    """Where is the shop file of a job? Its path, or None.

    Beside the job; in the folder above it; among the lessons in `my_lessons/`. The workbook's own
    jobs in `notebooks/` have none.
    """
    folders = []
    if beside is not None:
        folder = Path(beside).resolve().parent
        folders = [folder, folder.parent] if folder.name in ("jobs", "my_jobs") else [folder]
        if folder == MASTERS or MASTERS in folder.parents:
            return None
        folders.append(MY_LESSONS)
    else:
        here = Path.cwd()
        folders = [here] if here == MASTERS or MASTERS in here.parents else [here, MY_LESSONS]
    for folder in folders:
        if (folder / NAME).is_file():
            return folder / NAME
    return None


def found(beside=None):
    """The `Shop` of a job, or None where there is no shop file; refuses a faulty one."""
    path = find(beside)
    return None if path is None else load(path)


def changed(shop, part, entries, name=None):
    """The text of a shop's file with other entries in one part; None takes an entry out.

    shop: `Shop`, the text of one, or None for a new file from the template. part: "units", "lathe",
    "nose" or "pads"; name: of the nose or pad. An entry that is there behind a # takes its
    place. Comments and everything else stay. Raises InputError.
    """
    if part not in PARTS:
        raise InputError(
            "part", f"{quote(part)} is not a part of a shop", f"Known: {', '.join(PARTS)}"
        )
    text = shop.text if isinstance(shop, Shop) else shop
    text = _awake(TEMPLATE if text is None else text, part if name is None else None, entries)
    document = document_of(text, NAME)
    document.setdefault("format", FORMAT)
    table = _table(document, part)
    if name is not None:
        table = _table(table, name)
    for key, value in entries.items():
        if value is None:
            table.pop(key, None)
        else:
            table[key] = _inline(plainly(value))
    return writer().dumps(document)


def _awake(text, part, entries):
    """The text with the commented lines of a part's entries made into entries, to be filled."""
    lines, inside, missing = text.splitlines(), False, set(entries)
    for line in lines:  # those that stand there already stay asleep elsewhere
        missing.discard(line.partition(" =")[0])
    for number, line in enumerate(lines):
        if line.startswith(("[", "# [")):
            inside = line.strip() == f"[{part}]"
        key = line.removeprefix("# ").partition(" =")[0]
        if inside and line.startswith("# ") and key in missing and entries[key] is not None:
            lines[number] = f"{key} = 0"
            missing.discard(key)
    return "\n".join(lines) + "\n" * text.endswith("\n")


def _table(document, name):
    if name not in document:
        document[name] = writer().table()
    return document[name]


def _inline(value):
    """A table inside a part, written on one line as in the template."""
    if not isinstance(value, dict):
        return value
    made = writer().inline_table()
    made.update(value)
    return made


def folder():
    """The folder of a shop file that is not there yet, and of what a panel writes."""
    return MY_LESSONS if MY_LESSONS.is_dir() else Path.cwd()


def save(text, path=None, before=None):
    """Write a shop's text to its file in one step, after it has been read back.

    text: of the whole file. path: of the file, `my_lessons/my_shop.toml` when left out. before: the
    `Shop` that it was made from; what stands in the file already and is not that is kept beside it.
    Returns the `Shop`. Raises InputError, and writes nothing then.
    """
    path = folder() / NAME if path is None else path
    path = as_path(path)
    made = parse(text, path.name, path.resolve())
    save_text(path, text, (text, before.text if isinstance(before, Shop) else TEMPLATE))
    return made
