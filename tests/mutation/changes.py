"""Mutants: every single change of an operator, a sign, a comparison or a number in a module.

A mutant is one changed node of the syntax tree. Its name (where, what it was, what it became, and
which of several alike) says nothing of lines or files, so that it keeps its name when a module
moves or grows, and the same seed picks the same mutants before and after.
"""

import ast
import functools
import hashlib
import itertools
from typing import NamedTuple

ARITHMETIC = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Div,
    ast.Mod: ast.Mult,
    ast.Pow: ast.Mult,
}
# Each comparison loses or gains its limit, and is turned round.
COMPARISONS = {
    ast.Lt: (ast.LtE, ast.GtE),
    ast.LtE: (ast.Lt, ast.Gt),
    ast.Gt: (ast.GtE, ast.LtE),
    ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
}
LOGIC = {
    ast.And: ast.Or,
    ast.Or: ast.And,
    ast.BitAnd: ast.BitOr,
    ast.BitOr: ast.BitAnd,
}
TYPES = ("int", "float", "str", "bool", "list", "tuple", "dict", "set")
FACTOR = 1.1  # on a number with a decimal point; a whole number grows by one
SHOWN = 100  # characters of the code round a change


class Mutant(NamedTuple):
    """One change: `place` counts the tree's nodes, `choice` the changes at that node."""

    function: str
    was: str
    becomes: str
    alike: int
    line: int
    place: int
    choice: int

    @property
    def name(self):
        """What stays the same when the module moves or grows."""
        return f"{self.function}: {self.was} -> {self.becomes} [{self.alike}]"


def edits(node):
    """Return the ways to change one node of the tree, each as (attribute, new value)."""
    match node:
        case ast.BinOp() if is_text(node.left, node.right) or is_type(node.left, node.right):
            return []
        case ast.BinOp() | ast.AugAssign():
            new = ARITHMETIC.get(type(node.op)) or LOGIC.get(type(node.op))
            return [("op", new())] if new else []
        case ast.BoolOp():
            return [("op", LOGIC[type(node.op)]())]
        case ast.UnaryOp(op=ast.USub()):
            return [("op", ast.UAdd())]
        case ast.UnaryOp(op=ast.Invert() | ast.Not(), operand=operand):
            return [(None, operand)]
        case ast.Compare():
            return [
                ("ops", [*node.ops[:at], new(), *node.ops[at + 1 :]])
                for at, op in enumerate(node.ops)
                for new in COMPARISONS.get(type(op), ())
            ]
        case ast.Constant(value=value) if type(value) is int:
            return [("value", value + 1)]
        case ast.Constant(value=value) if type(value) is float:
            return [("value", value * FACTOR if value else 1.0)]
    return []


def nodes(tree):
    """Yield (node, its parent, where it hangs, its function), but no types and no decorators."""

    def walk(parent, function):
        for field, value in ast.iter_fields(parent):
            if field in ("annotation", "returns", "decorator_list"):
                continue
            several = isinstance(value, list)
            for at, node in enumerate(value if several else [value]):
                if not isinstance(node, ast.AST):
                    continue
                inner = function
                if isinstance(node, ast.FunctionDef | ast.ClassDef):
                    inner = f"{function}.{node.name}".lstrip(".")
                yield node, parent, (field, at if several else None), inner
                yield from walk(node, inner)

    yield from walk(tree, "")


def is_text(*sides):
    """Whether text is joined or repeated: a change there would only be a wrong type."""
    return any(
        isinstance(side, ast.JoinedStr)
        or (isinstance(side, ast.Constant) and isinstance(side.value, str))
        for side in sides
    )


def is_type(*sides):
    """Whether a side is a type or None, as in `int | None` and `list | tuple | np.ndarray`."""
    return any(
        (isinstance(side, ast.Name) and side.id in TYPES)
        or (isinstance(side, ast.Constant) and side.value is None)
        or (isinstance(side, ast.BinOp) and is_type(side.left, side.right))
        for side in sides
    )


def computes(source):
    """Whether a module adds, multiplies or divides anything but text."""
    return any(
        isinstance(node, ast.BinOp) and type(node.op) in ARITHMETIC and edits(node)
        for node in ast.walk(ast.parse(source))
    )


@functools.cache
def mutants(source):
    """Return every mutant of a module's text, in its order."""
    tree = ast.parse(source)
    found, met = [], {}
    for place, (node, parent, hung, function) in enumerate(nodes(tree)):
        for choice, edit in enumerate(edits(node)):
            was, becomes = shown(node, parent, hung, edit)
            key = (function, was, becomes)
            met[key] = met.get(key, 0) + 1
            found.append(Mutant(function, was, becomes, met[key], node.lineno, place, choice))
    return found


def shown(node, parent, hung, edit):
    """Return the code round a change, before and after it."""
    if isinstance(node, ast.UnaryOp) and not isinstance(node.op, ast.USub):
        return brief(node), brief(node.operand)
    whole = parent if isinstance(node, ast.Constant | ast.UnaryOp) else node
    was = brief(whole)
    undo = change(node, parent, hung, edit)
    becomes = brief(whole)
    undo()
    return was, becomes


def brief(node):
    """Return the code of a node on one line."""
    text = " ".join(ast.unparse(node).split())
    return text if len(text) <= SHOWN else digest(text)


def digest(text):
    """Return the start of a long line, and a mark that stands for the whole of it."""
    mark = hashlib.sha256(text.encode()).hexdigest()[:6]
    return f"{text[: SHOWN - 8]}…{mark}"


def change(node, parent, hung, edit):
    """Change the tree in place and return what takes it back."""
    attribute, new = edit
    if attribute:
        old = getattr(node, attribute)
        setattr(node, attribute, new)
        return lambda: setattr(node, attribute, old)
    field, at = hung
    if at is None:
        setattr(parent, field, new)
        return lambda: setattr(parent, field, node)
    getattr(parent, field)[at] = new
    return lambda: getattr(parent, field).__setitem__(at, node)


def changed(source, mutant):
    """Return the syntax tree of a module's text with one change in it."""
    tree = ast.parse(source)
    node, parent, hung, _ = next(itertools.islice(nodes(tree), mutant.place, None))
    change(node, parent, hung, edits(node)[mutant.choice])
    return ast.fix_missing_locations(tree)


def drawn(seed, mutant):
    """Return the lot of a mutant: the lowest are picked, whatever else there is to pick from."""
    return hashlib.sha256(f"{seed}/{mutant.name}".encode()).hexdigest()
