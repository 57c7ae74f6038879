"""What a stored notebook must hold for the comparison of its cells to mean anything.

nbval compares a cell with its stored output only when that has an execution count, and obeys every
marker that it finds. Each guard here closes one way for a wrong lesson to pass, and says it in
sentences.
"""

import ast
import itertools
import re

import nbformat

EXACT_MARKERS = {"NBVAL_RAISES_EXCEPTION", "NBVAL_CHECK_OUTPUT"}
UNCHECKED_TAGS = {"nbval-skip", "nbval-ignore-output", "skip-execution"}
KNOWN_ANSWER = re.compile(r"# Known answer: \S.*")
TAG = re.compile(r"<(/?svg|img)(?=[\s>])(?:[^>\"']|\"[^\"]*\"|'[^']*')*>")
ALT = re.compile(r"\s(?:aria-label|alt)=(?:\"([^\"]+)\"|'([^']+)')")


def faults(notebook):
    """Return a sentence for each thing that would let a wrong cell of `notebook` pass."""
    guards = (counts, errors, warnings, markers, known_answers, drawings, headings, kernel)
    return [fault for guard in guards for fault in guard(notebook)]


def code_cells(notebook):
    """Return the code cells that hold something, each with its number in the notebook."""
    cells = enumerate(notebook.cells, 1)
    return [(i, cell) for i, cell in cells if cell.cell_type == "code" and cell.source.strip()]


def is_known_answer(cell):
    """Return whether a cell claims to compare with an answer from outside the project."""
    return KNOWN_ANSWER.match(cell.source) is not None


def may_raise(cell):
    """Return whether a cell is marked as one that shows an error on purpose."""
    marked = any(comment == "NBVAL_RAISES_EXCEPTION" for comment in comments(cell))
    return marked or "raises-exception" in cell.metadata.get("tags", [])


def comments(cell):
    """Return the text of the lines that are comments, as nbval reads them."""
    lines = (line.strip() for line in cell.source.splitlines())
    return [line.lstrip("#").strip() for line in lines if line.startswith("#")]


def counts(notebook):
    """Each cell was executed, all in one run from top to bottom."""
    for expected, (i, cell) in enumerate(code_cells(notebook), 1):
        if cell.execution_count is None:
            yield f"cell {i} is stored unexecuted, so nothing in it is checked"
        elif cell.execution_count != expected:
            yield f"cell {i} ran as number {cell.execution_count}, not {expected}: run all anew"


def errors(notebook):
    """An error is stored where one is announced, and nowhere else."""
    for i, cell in code_cells(notebook):
        failed = any(output.output_type == "error" for output in cell.outputs)
        if failed and not may_raise(cell):
            yield f"cell {i} is stored with an error"
        if may_raise(cell) and not failed:
            yield f"cell {i} is marked as raising an error but stores none"


def warnings(notebook):
    """No warning is stored: compared with its like it would pass for ever."""
    for i, cell in code_cells(notebook):
        if any(output.get("name") == "stderr" for output in cell.outputs):
            yield f"cell {i} is stored with a warning"


def markers(notebook):
    """Every marker is one that nbval reads, and none takes a cell out of the check."""
    for i, cell in code_cells(notebook):
        for comment in comments(cell):
            if "NBVAL" in comment.upper() and comment not in EXACT_MARKERS:
                yield f"cell {i} has the marker {comment!r}, which is not read or not allowed"
        for tag in UNCHECKED_TAGS.intersection(cell.metadata.get("tags", [])):
            yield f"cell {i} has the tag {tag!r}, which takes it out of the check"


def known_answers(notebook):
    """A known answer names its source, asserts in the open, and shows what it compared."""
    for i, cell in code_cells(notebook):
        said = any("known answer" in comment.lower() for comment in comments(cell))
        if said and not is_known_answer(cell):
            yield f"cell {i} must begin with the line '# Known answer: …source…'"
        if not is_known_answer(cell):
            continue
        if not asserts_in_the_open(cell.source):
            yield f"cell {i} claims a known answer and asserts nothing outside a function"
        if not cell.outputs:
            yield f"cell {i} claims a known answer and shows nothing"
        if any("NBVAL" in comment for comment in comments(cell)):
            yield f"cell {i} claims a known answer and carries a marker"


def asserts_in_the_open(source):
    """Return whether an assertion runs with the cell itself, where no widget can swallow it.

    An assertion is `assert`, or a call of the lessons' `agrees`, which raises AssertionError.
    """
    closed = (ast.FunctionDef, ast.Lambda, ast.ClassDef, ast.Try)
    waiting = [ast.parse(source)]
    while waiting:
        node = waiting.pop()
        called = getattr(node, "func", None)
        name = getattr(called, "attr", getattr(called, "id", None))
        if isinstance(node, ast.Assert) or name == "agrees":
            return True
        waiting += [child for child in ast.iter_child_nodes(node) if not isinstance(child, closed)]
    return False


def drawings(notebook):
    """Every drawing says in words what it shows, with its number."""
    for i, cell in code_cells(notebook):
        for output in cell.outputs:
            for tag in shown(output.get("data", {}).get("text/html", "")):
                alt = ALT.search(tag)
                if not alt or not re.search(r"\d", alt[0]):
                    yield f"cell {i} has a drawing without a sentence that holds its number"


def shown(html):
    """Yield the opening tags of drawings, but for parts of a drawing and mere ornaments."""
    depth = 0
    for tag in TAG.finditer(html):
        if tag[1] == "/svg":
            depth -= 1
            continue
        if depth == 0 and 'aria-hidden="true"' not in tag[0]:
            yield tag[0]
        depth += tag[1] == "svg"


def headings(notebook):
    """One title, and no level of heading left out below it."""
    text = "\n".join(cell.source for cell in notebook.cells if cell.cell_type == "markdown")
    text = re.sub(r"^```.*?^```", "", text, flags=re.MULTILINE | re.DOTALL)
    levels = [len(marks) for marks in re.findall(r"^(#{1,6}) ", text, re.MULTILINE)]
    if levels.count(1) != 1 or levels[0] != 1:
        yield "the notebook must begin its headings with its only title (#)"
    for before, after in itertools.pairwise(levels):
        if after > before + 1:
            yield f"a heading of level {after} stands below one of level {before}"


def kernel(notebook):
    """The notebook names the environment's kernel, or JupyterLab stops to ask for one."""
    if notebook.metadata.get("kernelspec", {}).get("name") != "python3":
        yield "the notebook does not name its kernel (python3): store it again"


def read(path):
    """Return a notebook as it is stored."""
    return nbformat.read(path, as_version=4)
