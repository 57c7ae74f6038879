"""Where the words of a finished picture stand, from its SVG alone: on the sheet, none on another.

Letters are measured in DejaVu Sans, which comes with matplotlib and is wider than the letters that
a page asks for: a machine without those shows it, or something narrower.
"""

import re
from functools import lru_cache
from xml.etree import ElementTree

import numpy as np
from matplotlib import font_manager, ft2font
from shapely import STRtree, area, intersection
from shapely.geometry import Polygon, box

SVG = "{http://www.w3.org/2000/svg}"
CAPITAL, TAIL = 0.73, 0.2  # of DejaVu Sans: height of capitals, depth of most tails, in sizes
TOUCH = 0.25  # mm² that two texts may share
EDGE = 0.2  # mm
MARK, COVERED = 4.0, 1.0  # mm: the largest mark; mm²: how much of one a word may hide
MM = 25.4 / 72  # in a point, the unit of a chart's layers
_POINT = re.compile(r"[MLC] (-?[0-9.]+) (-?[0-9.]+)")
_STEP = re.compile(r"(scale|translate|rotate)\(([^)]*)\)")


@lru_cache(maxsize=2)
def _font(weight):
    return ft2font.FT2Font(font_manager.findfont(f"DejaVu Sans:weight={weight}"))


@lru_cache(maxsize=1024)
def advance(letter, weight):
    """Return the width of one letter in sizes."""
    flags = ft2font.LoadFlags.NO_SCALE | ft2font.LoadFlags.NO_HINTING
    return _font(weight).load_char(ord(letter), flags=flags).horiAdvance / 2048


def _moved(told):
    """Return a `transform` attribute as a 3 × 3 matrix."""
    matrix = np.eye(3)
    for name, given in _STEP.findall(told or ""):
        numbers = [float(each) for each in given.replace(",", " ").split()]
        step = np.eye(3)
        if name == "scale":
            step[0, 0], step[1, 1] = numbers[0], numbers[-1]
        elif name == "translate":
            step[:2, 2] = numbers
        else:
            turned = np.radians(numbers[0])
            step[:2, :2] = [[np.cos(turned), -np.sin(turned)], [np.sin(turned), np.cos(turned)]]
            about = np.array(numbers[1:] or [0, 0])
            step[:2, 2] = about - step[:2, :2] @ about
        matrix = matrix @ step
    return matrix


def _pieces(node, size):
    """Yield the letters of a text, each stretch with its size."""
    if node.text:
        yield node.text, size
    for inner in node:
        yield from _pieces(inner, float(inner.get("font-size", size)))
        if inner.tail:
            yield inner.tail, size


def _texts(node, moved, size):
    """Yield (words, corners in mm) of every text below a node."""
    moved = moved @ _moved(node.get("transform"))
    size = float(node.get("font-size", size))
    if node.tag != f"{SVG}text":
        for inner in node:
            yield from _texts(inner, moved, size)
        return
    stretches = list(_pieces(node, size))
    weight = node.get("font-weight", "normal")
    width = sum(high * advance(letter, weight) for text, high in stretches for letter in text)
    left = float(node.get("x"))
    left -= {"start": 0, "middle": width / 2, "end": width}[node.get("text-anchor", "start")]
    base = float(node.get("y"))
    low, high = base + TAIL * size, base - CAPITAL * size
    corners = [(left, low, 1), (left + width, low, 1), (left + width, high, 1), (left, high, 1)]
    yield "".join(text for text, _ in stretches), (moved @ np.array(corners).T).T[:, :2]


def _marks(root):
    """Return a box for every mark of a chart: the small shapes that lie over its plot, in mm."""
    boxes = []
    for layer in root.iter(f"{SVG}g"):
        if layer.get("class") == "wb-moving":
            paths = [path.get("d") for path in layer.findall(f"{SVG}path")]
            ends = [np.array(_POINT.findall(path), dtype=float) * MM for path in paths]
            boxes += [box(*each.min(axis=0), *each.max(axis=0)) for each in ends]
    return [each for each in boxes if np.ptp(np.reshape(each.bounds, (2, 2)), axis=0).max() < MARK]


def faults(svg):
    """List the texts of a picture that leave its sheet, or lie on another or on a chart's mark."""
    root = ElementTree.fromstring(str(svg))
    _, _, wide, tall = map(float, root.get("viewBox").split())
    found, shapes, words = [], [], []
    for told, corners in _texts(root, np.eye(3), 16):
        over = max(-corners.min(), *(corners.max(axis=0) - (wide, tall)))
        if over > EDGE:
            found.append(f"{told!r} leaves the sheet by {over:.1f} mm")
        shapes.append(Polygon(corners))
        words.append(told)
    one, other = STRtree(shapes).query(shapes, predicate="intersects")
    pairs = one < other
    one, other = one[pairs], other[pairs]
    shared = area(intersection(np.take(shapes, one), np.take(shapes, other)))
    for i, j, size in zip(one, other, shared, strict=True):
        if size > TOUCH:
            found.append(f"{words[i]!r} lies on {words[j]!r}")
    marks = _marks(root)
    one, other = STRtree(marks).query(shapes, predicate="intersects") if marks else ([], [])
    shared = area(intersection(np.take(shapes, one), np.take(marks, other))) if len(one) else []
    return found + [f"{words[i]!r} lies on a mark" for i, size in zip(one, shared, strict=True)
                    if size > COVERED]  # fmt: skip


def clashes(view):
    """List such faults in all pictures that a panel's answer shows."""
    shown = [each for each in (view.picture, *view.details) if hasattr(each, "figure")]
    return [fault for each in shown for fault in faults(each.figure().svg)]
