"""Which parts has a lesson, in its order? For hand-outs and slides that are made from it.

A part is what one cell says, and which sort of thing that is: a text with its heading, a question
before the reveal, the answer, a picture, a panel's still picture, the cautions, what to take away.
"""

import re
from typing import NamedTuple

import nbformat

from workshop_lib.quantities import speaking, spoken
from workshop_lib.teaching.in_units import run, told
from workshop_lib.teaching.pages import shown
from workshop_lib.teaching.prose import Prose

SORTS = {  # by the call that a cell ends with
    "predict": "question", "reveal": "answer", "caution": "caution", "take_along": "take away",
    "you_can": "aims", "panel": "panel",
}  # fmt: skip
LEFT_OUT = ("ask", "still", "sources_used", "commit", "look_over", "first_look")
_CALL = re.compile(r"([A-Za-z_]+)\((?:[^()]|\([^()]*\))*\)(?:  #.*)?\Z", re.DOTALL)
_WORDS = re.compile(r"(?<=>)[^<>]+(?=<(?!/?text|/?tspan|/style))")  # not those of a drawing
_HEAD = re.compile(r"^(#+) +(.+)$", re.MULTILINE)


class Part(NamedTuple):
    """One part of a lesson. sort: "text", or one of `SORTS`, or "picture"."""

    sort: str
    html: str
    heading: str = ""
    words: str = ""


def parts(path, units=None):
    """Return the parts of a stored lesson; for a system of units it is run anew in that system.

    path: a notebook. units: "inch", "metric", or None: as it is stored. Returns a list of `Part`.
    """
    notebook = nbformat.read(path, as_version=4)
    if units is not None:
        run(notebook, path.parent, units)
    with speaking(units):
        return [part for cell in notebook.cells for part in _of_cell(cell)]


def _of_cell(cell):
    """Yield the parts of one cell."""
    if cell.cell_type == "markdown":
        yield from _texts(told(cell.source))
    if cell.cell_type != "code" or cell.source.startswith("# Known answer"):
        return
    call = _CALL.search(re.sub(r"  # fmt: skip$", "", cell.source.rstrip()))
    name = call[1] if call else ""
    html = "".join(shown(output) for output in cell.outputs if "data" in output)
    picture = "<svg" in html or "<img" in html
    sort = SORTS.get(name) or ("panel" if name.endswith("_panel") else "picture")
    if name in LEFT_OUT or not html or (sort in ("picture", "panel") and not picture):
        return
    if "chart.axes" not in cell.source:  # the cell of a learner's own curve
        yield Part(sort, _WORDS.sub(lambda found: spoken(found[0]), html))


def _texts(source):
    """Yield a text cell heading by heading."""
    places = [found.start() for found in _HEAD.finditer(source)]
    edges = sorted({0, *places, len(source)})
    for start, end in zip(edges, edges[1:], strict=False):
        piece = source[start:end]
        head = _HEAD.match(piece)
        body = piece[head.end() :] if head else piece
        yield Part("text", Prose().html(body), head[2].strip() if head else "", body.strip())
