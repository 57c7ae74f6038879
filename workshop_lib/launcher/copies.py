"""How do learners first meet the lessons? What `open` shows and `learner-copies` writes.

They are made from the masters in `notebooks/`. What gives an answer away is not there yet: computed
results are left out until the learner runs the cell, answers and known results are folded, worked
solutions are taken out, and each explanation is folded away in a cell of its own, after a cell for
the learner's. Everything else is the master's. A copy in which somebody has worked is never written
over.
"""

import argparse
import ast
import copy
import hashlib
import itertools
import json
import re
import sys
from pathlib import Path

import nbformat

from workshop_lib.launcher.environment import NOTEBOOKS, ROOT, masters, own_lessons
from workshop_lib.sources import csv_tables, replace_text, set_aside

FOLDER = ROOT / "learner"
WORDS = "words_used.md"  # what the lessons' links lead to
EDITION = "as the workbook wrote it:"  # before the mark at the end of a glossary
JOBS = "jobs"  # what lesson 06 reads
# Cells that end with one of these calls only tell or ask: what they show gives nothing away.
TELLING = {"you_can", "caution", "predict", "ask"}
WORKED = {"worked", "hint", "check"}  # calls of an exercise that answer it
TWIN = "still"  # what the still twin of a panel ends with
SOLUTION = "solution"  # the tag of any other cell that belongs to the master alone
ANSWERING = {"reveal"}
KNOWN_ANSWER = "# Known answer:"
# JupyterLab shows the first line of a folded cell, so that must not be the answer.
VEIL = "# An answer from outside: unfold this cell when you have yours\n"
# What reading a file may raise that is torn, or somebody else's.
BROKEN = (OSError, ValueError, AttributeError, TypeError, KeyError, nbformat.ValidationError)
NEWER = " (newer)"  # after the name of a copy that comes beside one of an earlier edition
OWN = "workshop_copy"  # the key under which a copy keeps the mark of what it was
_EXPLAIN = re.compile(r"^\*\*Explain:\*\*(?P<words>.+?)(?=^#+ |\Z)", re.MULTILINE | re.DOTALL)
# A double click opens a whole cell for writing: the learner's holds no answer and no heading.
OWN_WORDS = (
    "**Explain** in your own words what you have just seen: double-click here and write.\n\n> …"
)
FOLDED = "<details><summary>What the workbook says</summary>\n\n{words}\n\n</details>"
# What the ids of those cells, and of the one with what comes after, add to the master's id.
OWN_ID, FOLDED_ID, AFTER_ID = "-own", "-folded", "-after"


def main(arguments):
    """Write a copy of every lesson into the folder `learner/`, or another one."""
    parser = argparse.ArgumentParser(prog="learner-copies", description="Make learners' lessons.")
    parser.add_argument("--folder", type=Path, default=FOLDER, help="where the copies go")
    folder = parser.parse_args(arguments).folder
    if folder.resolve() == NOTEBOOKS.resolve():
        print("The masters stay as they are: name another folder.", file=sys.stderr)
        return 2
    for name in write(folder):
        print(f"{name}: left as it is, since somebody worked in it. Rename it for a fresh one.")
    print(f"Learner copies: in {folder}")
    return 0


def write(folder):
    """Write a copy of every master into a folder; return the names of those left as they are."""
    folder.mkdir(parents=True, exist_ok=True)
    kept = []
    for path in [*masters(), *own_lessons()]:
        target = folder / path.name
        if worked_in(target):
            kept.append(target.name)
        else:
            replace_text(target, text_of(nbformat.read(path, as_version=4)))
    _add_what_they_lead_to(folder)
    return kept


def lay_out(folder, shelf=None):
    """Bring a learner's own folder to the present edition; return the notebooks new in it.

    What the learner has run or written stays. Where somebody worked in a copy of an earlier
    edition, the present one comes beside it under another name. shelf: a folder that `write` has
    filled, for a learner who may not read the masters.
    """
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)  # for the learner's eyes only
    new = []
    for path in masters(shelf) if shelf else [*masters(), *own_lessons()]:
        made = nbformat.read(path, as_version=4)
        if shelf is None:
            made = learner_copy(made)
            made.metadata[OWN] = mark(made)
        edition = made.metadata[OWN]
        for target in _names(folder / path.name):
            if edition_of(target) == edition:
                break
            if not worked_in(target):
                replace_text(target, nbformat.writes(made) + "\n")
                new.append(target)
                break
    _add_what_they_lead_to(folder, shelf or NOTEBOOKS)
    return new


def _names(path):
    """Yield a copy's own name, then those for newer editions beside it."""
    yield path
    for number in itertools.count(1):
        yield path.with_stem(f"{path.stem}{NEWER}{f' {number}' if number > 1 else ''}")


def _add_what_they_lead_to(folder, source=NOTEBOOKS):
    """Add the glossary and the jobs; a job that is there stays: a learner may have changed it."""
    text = (source / WORDS).read_text(encoding="utf-8")
    text += _own_words() if source == NOTEBOOKS else ""
    _add_glossary(folder / WORDS, text.partition(f"\n<!-- {EDITION} ")[0])
    (folder / JOBS).mkdir(exist_ok=True)
    for path in sorted((source / JOBS).glob("*.toml")):
        if not (folder / JOBS / path.name).exists():
            replace_text(folder / JOBS / path.name, path.read_text(encoding="utf-8"))


def _own_words():
    """Return what a teacher's own words add to the glossary."""
    paths = csv_tables.paths_of("words.csv")[1:]
    columns = dict.fromkeys(("word", "meaning", "lesson", "forms"), csv_tables.anything)
    rows = [row for path in paths for row in csv_tables.read_rows(path, columns)]
    added = "".join(f"### {row['word']}\n\n{row['meaning']}\n\n" for row in rows)
    return f"\n## Added by your teacher\n\n{added}" if added else ""


def _add_glossary(target, text):
    """Add the present glossary. One that a learner wrote in is kept beside it; a link stays."""
    if target.is_symlink():
        return
    if target.exists() and not _is_untouched(target, text):
        set_aside(target, "mine")
    replace_text(target, text + f"\n<!-- {EDITION} {_hash(text)} -->\n")


def _is_untouched(path, text):
    """Return whether a glossary stands as some edition of the workbook wrote it."""
    found = path.read_bytes().decode("utf-8", "replace")
    before, _, mark = found.rpartition(f"\n<!-- {EDITION} ")
    return found == text or mark == f"{_hash(before)} -->\n"


def _hash(text):
    return hashlib.sha256(text.encode()).hexdigest()


def text_of(master):
    """Return the learner's copy of a master notebook as the text of its file."""
    made = learner_copy(master)
    made.metadata[OWN] = mark(made)
    return nbformat.writes(made) + "\n"


def learner_copy(master):
    """Return the learner's copy of a notebook; the notebook itself stays as it is."""
    made = copy.deepcopy(master)
    kept = (cell for cell in made.cells if not is_solution(cell))
    made.cells = [each for cell in kept for each in _for_learner(cell)]
    return made


def _for_learner(cell):
    """Return the cells that stand for one of the master's, without what gives an answer away."""
    if cell.cell_type == "markdown":
        return _own_words_first(cell)
    if cell.cell_type == "code":
        calls = last_calls(cell.source)
        cell.execution_count = None
        if not calls & TELLING:
            cell.outputs = []
        for output in cell.outputs:
            output.pop("execution_count", None)
            if output.output_type == "execute_result":
                output["execution_count"] = None
        if cell.source.startswith(KNOWN_ANSWER):
            cell.source = VEIL + cell.source
        if calls & ANSWERING or cell.source.startswith(VEIL):
            cell.metadata.setdefault("jupyter", {})["source_hidden"] = True
    return [cell]


def _own_words_first(cell):
    """Split a text cell where it explains: before, the learner's own, the folded words, after.

    What comes before keeps the cell's id; what is empty is left out. A cell that explains twice is
    split twice.
    """
    found = _EXPLAIN.search(cell.source)
    if found is None:
        cell.source = cell.source.rstrip()
        return [cell]
    before, after = cell.source[: found.start()].rstrip(), cell.source[found.end() :].strip()
    own, folded = OWN_WORDS, FOLDED.format(words=found["words"].strip())
    parts = [(before, ""), (own, OWN_ID), (folded, FOLDED_ID)]
    made = [_part(cell, source, added) for source, added in parts if source]
    return made + (_own_words_first(_part(cell, after, AFTER_ID)) if after else [])


def _part(cell, source, added):
    """Return a cell like another, with another text and something added to its id."""
    part = copy.deepcopy(cell)
    part.source = source
    if "id" in part:  # notebooks of before 2020 have none
        part.id = f"{cell.id}{added}"
    return part


def is_solution(cell):
    """Return whether a cell belongs to the master alone.

    It is tagged, or answers an exercise, or is the still twin of a panel, which is for paper and
    where nothing runs.
    """
    if SOLUTION in cell.metadata.get("tags", []):
        return True
    if cell.cell_type != "code":
        return False
    return bool(called(cell.source) & WORKED) or last_calls(cell.source) == {TWIN}


def last_calls(source):
    """Return the names of the functions that the last statement of a cell calls outermost."""
    statements = ast.parse(source).body
    last = statements[-1] if statements else None
    if isinstance(last, ast.Expr) and isinstance(last.value, ast.Call):
        return {_name(last.value)}
    return set()


def called(source):
    """Return the names of all functions that a cell calls."""
    return {_name(node) for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Call)}


def _name(call):
    return getattr(call.func, "attr", getattr(call.func, "id", ""))


def mark(notebook):
    """Return a short text that changes when anybody changes what stands in a cell.

    Empty cells at the end do not count: Shift + Enter in the last cell adds one each time.
    """
    cells = [[cell.cell_type, cell.source] for cell in notebook.cells]
    while len(cells) > 1 and not cells[-1][1].strip():
        del cells[-1]
    return hashlib.sha256(json.dumps(cells).encode()).hexdigest()[:16]


def edition_of(path):
    """Return the mark of the edition that a copy was made as; None when it bears none."""
    try:
        return nbformat.read(path, as_version=4).metadata.get(OWN)
    except BROKEN:
        return None


def worked_in(path):
    """Return whether a file stands there that is not just as this command wrote it.

    Cells that were only run do not count: what they show can be had again.
    """
    if not path.exists():
        return False
    try:
        found = nbformat.read(path, as_version=4)
        return found.metadata.get(OWN) != mark(found)
    except BROKEN:
        return True  # torn or somebody else's: not ours to replace
