"""How does a pressure nose or a centre look in section, with its loads laid over it?

`thrust_view` follows the thrust (and a preload) part by part, `side_view` the side force. Numbers
in rings stand for the steps of `load_path.trace`, in the same order as its list.
"""

from workshop_lib.bearings import TYPED
from workshop_lib.drawings.bearing_parts import SHANK
from workshop_lib.drawings.bearing_section import DASH, DISC, DOTS, PLATE, Section
from workshop_lib.quantities import show

NOTHING = 0.05  # N; what is below it is not drawn


def _middle(points):
    """Half-way along a leg: of its two middle points where there are more."""
    start, end = points[(len(points) - 1) // 2], points[len(points) // 2]
    return (start[0] + end[0]) / 2, (start[1] + end[1]) / 2


def _pressed(found):
    """Names of the parts that axial load passes through."""
    return {each.name for each in found.elements if each.axial.m_as("N") > NOTHING}


def called(design):
    """A design in a sentence: the workbook's with an article, a person's own by its name."""
    return design.name if design.source == TYPED else f"the {design.name}"


def _alt(found):
    design, carried = found.design, [each for each in found.path if each.how == "bearing"]
    if not _pressed(found):
        told = f"Section of {called(design)} before anything presses: overhang "
        return f"{told}{show(design.overhang)}, span {show(design.span)}."
    told = f"Section of {called(design)}: a thrust of {show(found.thrust)} passes through "
    told += ", ".join(each.name for each in found.path)
    beside = [each.name for each in found.elements if each.how == "bearing" and each not in carried]
    loads = [each for each in found.elements if each.name in beside]
    told += "".join(f"; {each.name}: {show(each.axial)} axially" for each in loads)
    return f"{told}."


def thrust_view(found, listed=True):
    """A design in section with the way of its thrust, step by step. Returns a `Canvas`.

    Where nothing presses, only the parts are named. found: `Trace`. listed: whether the steps are
    named below; without that the sheet is narrower.
    """
    marks = [str(number) for number in range(1, len(found.elements) + 1)]
    pressed = _pressed(found)
    words = [f"{each.name}: {_load(each)}" if pressed else each.name for each in found.elements]
    key = [("– –", _key(found))] if pressed else []
    lines = [*zip(marks, words, strict=True), *key] if listed else []
    sheet = Section(found, _alt(found), lines)
    for side in (1, -1):
        _lay_paths(sheet, found, pressed, side)
    targets = [_target(sheet, each) for each in found.elements]
    sheet.rings(list(zip(marks, targets, strict=True)))
    _push(sheet, found)
    sheet.list()
    return sheet.canvas


def _load(element):
    if element.path == "beside" and element.axial.m_as("N") <= NOTHING:
        return "none of the thrust"
    return show(element.axial)


def _key(found):
    words = "thrust path"
    if any(each.path == "preload" for each in found.elements):
        words += " (dotted: of the preload)"
    return words


def _lay_paths(sheet, found, pressed, side):
    for each in found.elements:
        if each.name not in pressed or each.name not in sheet.cut.legs:
            continue
        style, colour = (DASH, "blue") if each.path == "thrust" else (DOTS, "purple")
        sheet.way(sheet.cut.legs[each.name], side, style, colour)
    if found.thrust.m_as("N") > NOTHING:
        sheet.way(sheet.cut.exit, side, DASH, "blue")
    if any(each.path == "preload" and each.name in pressed for each in found.elements):
        sheet.way(sheet.cut.back, side, DOTS, "purple")


def _target(sheet, element):
    """Where the ring of an element points: the middle of its leg, else its ball or roller."""
    if element.name in sheet.cut.legs:
        return _middle(sheet.cut.legs[element.name])
    size = sheet.cut.sizes[element.place]
    return size.x, size.pitch / 2


def _push(sheet, found):
    c = sheet.canvas
    work = "disc" if found.design.key == "pressure_nose" else "work"
    edge = -DISC - 0.4 if work == "disc" else -9.4
    tip = sheet.at((edge, 0))
    if found.thrust.m_as("N") > NOTHING:
        c.arrow((tip[0] - 11, 0), tip, colour="blue")
        c.text((tip[0] - 1.5, 2.4), show(found.thrust), "end", "bottom", "small", colour="blue")
    c.text((tip[0] - 1.5, -2.4), work, "end", "top", "small")
    if work == "disc":
        _plate(sheet)
    c.text(sheet.at((sheet.cut.length - SHANK / 2, 3)), "tailstock", size="small")


def _plate(sheet):
    """Name the plate before a nose, which spreads its push over the sheet."""
    foot = sheet.at((-PLATE / 2, 0.85 * sheet.cut.wall), -1)
    sheet.canvas.leader(foot, (-13, foot[1]), "plate", size="small")


def side_view(found, listed=True):
    """A design in section with the way of its side force and every bearing's answer: a `Canvas`.

    found: `Trace`. The force is drawn upwards; a bearing's number is what the spindle presses on it
    with, up when it goes with the side force and down when it goes against it. listed: whether the
    answers stand below; without that the sheet is narrower.
    """
    aside = f"the tip goes {_microns(found.tip_shift)} aside"
    answers = "; ".join(_answer(each) for each in found.reactions)
    alt = f"Section of {called(found.design)} under a side force of {show(found.side_force)}: "
    marks = "ABCD"[: len(found.reactions)]
    lines = [(mark, _answer(each)) for mark, each in zip(marks, found.reactions, strict=True)]
    if any(step.name == "sleeve" for step in found.design.steps):
        lines.append(("", "sleeve: none, it only keeps the outer rings apart"))
    lines.append(("", f"{aside}, {_microns(found.play)} of it play"))
    sheet = Section(found, f"{alt}{answers}; {aside}.", lines if listed else [])
    for each in found.reactions:
        _reaction(sheet, each)
    spots = [_spot(sheet, each) for each in found.reactions]
    sheet.rings(list(zip(marks, spots, strict=True)))
    _side_push(sheet, found)
    sheet.list()
    return sheet.canvas


def _microns(length):
    """A shift in words: to two figures, since sizes and fits are hardly known better."""
    return show(length, "um", figures=2)


def _answer(reaction):
    force = reaction.side.m_as("N")
    words = f"{reaction.place} bearing, {reaction.bearing.designation}: "
    if abs(force) > NOTHING:
        way = "with" if force > 0 else "against"
        return f"{words}{show(abs(reaction.side), figures=2)} {way} the force"
    if abs(reaction.moment.m_as("N*m")) > 1e-3:
        return f"{words}only tilt, {show(abs(reaction.moment))}"
    return f"{words}no side force"


def _spot(sheet, reaction):
    size = sheet.cut.sizes[reaction.place]
    return size.x + 0.3 * size.width, (size.pitch + 0.6 * size.body) / 2 + 0.8


def _reaction(sheet, reaction):
    """From the axis out through the balls on the pressed side into the body."""
    force = reaction.side.m_as("N")
    if abs(force) <= NOTHING:
        return
    size, side = sheet.cut.sizes[reaction.place], 1 if force > 0 else -1
    sheet.way([(0.5, 0), (size.x, 0)], side, DASH, "orange", heads=False)
    sheet.way([(size.x, 0), (size.x, sheet.cut.wall - 1)], side, DASH, "orange", heads=False)
    sheet.head(sheet.at((size.x, sheet.cut.wall - 0.5), side), (0, side), "orange")


def _side_push(sheet, found):
    c = sheet.canvas
    x, y = (
        (-DISC * sheet.scale - 2, -4.0)
        if found.design.key == "pressure_nose"
        else (-7.0, -10 * sheet.scale - 1)
    )
    c.arrow((x, y - 15), (x, y), colour="orange")
    c.text((x - 2, y - 11), show(found.side_force), "end", size="small", colour="orange")
    c.text((x - 2, y - 6), "side force", "end", size="small", colour="orange")
    c.text(sheet.at((sheet.cut.length - SHANK / 2, 3)), "tailstock", size="small")
