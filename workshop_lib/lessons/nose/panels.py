"""Which panels does lesson 08 have? Sizes to turn, how hard it may press, readings judged."""

from functools import lru_cache

import numpy as np

from workshop_lib.bearings import bearings, catalogue, rating_life
from workshop_lib.drawings import page
from workshop_lib.drawings.charts import Chart
from workshop_lib.drawings.kept_axes import nice
from workshop_lib.lessons.shared_fields import noses_of_shop
from workshop_lib.load_path import (
    find_design,
    highest_thrust,
    in_words,
    look_at,
    own_design,
    trace,
)
from workshop_lib.quantities import Q_, InputError, read, rounded_down, show
from workshop_lib.teaching.fields import Choice, Field, Text
from workshop_lib.teaching.panels import Scene, View
from workshop_lib.teaching.writing import Button, WritingPanel, sheet_of
from workshop_lib.write_up import making

SET, TYPED = "set", "typed"
PATTERNS = {
    SET: "pressure nose, as set below",
    "roller_centre": "roller centre of lesson 04",
    "preloaded_centre": "preloaded centre of lesson 04",
}
BOX = "bore 12 mm\noutside 28 mm\nwidth 8 mm\nC 5100 N\nC0 2370 N"
ENTRIES = {
    "bore": ("bore", "length"),
    "outside": ("outside_diameter", "length"),
    "width": ("width", "length"),
    "C": ("dynamic_rating", "force"),
    "C0": ("static_rating", "force"),
}
BORES = {"H6": "H6, close", "H7": "H7, usual", "G7": "G7, easy"}
SEATS = {"k5": "k5, tight", "js5": "js5, lighter", "m5": "m5, tighter"}
SHOCKS = "1 is a steady cut; corners that strike count 1.5, and heavy blows 2."
CAUTION = "If a bearing fails, the disc comes loose. Stay below the thrust given here."
ROW = 12.0  # mm on paper for each bar of a chart

_own = {}  # the noses of my_shop.toml, as they stood when a panel was last made


def _nose_fields(*more):
    """The fields that say which nose: one of the shop's, a pattern, or bearings set here."""
    _own.clear()
    _own.update(noses_of_shop())
    noses = {key: design.name for key, design in _own.items()} | PATTERNS
    names = {each.designation: each.name for each in bearings("deep_groove")}
    names |= {TYPED: "the one typed below"}
    return [
        Choice("nose", "Nose", noses, next(iter(noses))),
        Choice("front", "Front bearing", names, "6001"),
        Choice("rear", "Rear bearing", names, "6001"),
        Text("box", "A bearing typed from its box", BOX, rows=5,
             help="Used where “the one typed below” is chosen."),
        Field("overhang", "Tip to front bearing", "length > 0", "25 mm", slider=(5, 100, 1)),
        Field("span", "Front to rear bearing", "length > 0", "32 mm", slider=(5, 100, 1)),
        *more,
    ]  # fmt: skip


def _fits():
    return (
        Choice("bore", "Bore round the outer rings", BORES, "H7"),
        Choice("seat", "Seat of the front inner ring", SEATS, "k5"),
    )


def _nose(nose, front, rear, box, overhang, span, bore="H7", seat="k5"):
    """The design that was chosen or set; what is wrong with it is said at its field."""
    _from_box(box)  # what is typed there is looked at even while it is not used
    if nose != SET:
        return _own.get(nose) or find_design(nose)
    lengths = (overhang.m_as("m"), span.m_as("m"))
    return _built(front, rear, box if TYPED in (front, rear) else "", *lengths, bore, seat)


@lru_cache(maxsize=64)
def _built(front, rear, box, overhang, span, bore, seat):
    """The pressure nose of these bearings and sizes (m), kept while other sliders move."""
    typed = _from_box(box) if box else None
    chosen = {place: typed if which == TYPED else which
              for place, which in (("front", front), ("rear", rear))}  # fmt: skip
    sizes = (Q_(overhang, "m").to("mm"), Q_(span, "m").to("mm"))
    try:
        return own_design("pressure_nose", chosen, *sizes, fit=bore, seats={"front": seat},
                          name="your pressure nose")  # fmt: skip
    except InputError as error:
        raise _at_field(error, front, rear) from error


def _at_field(error, front, rear):
    place = error.name.partition(".")[0]
    name = {"bearings": "rear", "fit": "bore", "seats": "seat"}.get(place, place)
    if error.name.startswith("bearings.front"):
        name = "front"
    if place == "bearings" and TYPED in (front, rear) and error.name.count(".") > 1:
        name = "box"
    return InputError(name, error.problem, error.mend)


def _from_box(text):
    """A bearing of typed lines such as “bore 12 mm”, as `bearings.bearing_of` takes it."""
    found = {"kind": "deep_groove"}
    for line in text.splitlines():
        word, _, value = line.strip().partition(" ")
        if not word:
            continue
        if word not in ENTRIES:
            problem = f"each line must start with one of {', '.join(ENTRIES)}"
            raise InputError("box", problem, "Write five lines such as: bore 12 mm")
        key, kind = ENTRIES[word]
        try:
            found[key] = read(value, kind)
        except InputError as error:
            raise InputError("box", f"{word}: {error.problem}", error.mend) from error
    missing = [word for word, (key, _) in ENTRIES.items() if key not in found]
    if missing:
        raise InputError("box", f"these lines are missing: {', '.join(missing)}")
    return found


def sizes_scene():
    """What sizes shall I turn? Limits of the seats and bores, and the section with its lengths."""
    return Scene("What sizes shall I turn?", _nose_fields(*_fits()), _judge_sizes)


def sizes_panel():
    """The same as a panel with a button that writes the making sheet and shows it."""
    return WritingPanel(sizes_scene(), Button("sheet", "Write the making sheet", _sheet))


def _sheet(**values):
    name = values["nose"].removeprefix("own ")
    return sheet_of(_nose(**values), "nose" if name == SET else name)


def _judge_sizes(**values):
    design = _nose(**values)
    rows = making.sizes(design)
    seat, bore = rows[0], next(row for row in rows if row.kind == "bore")
    words = f"Turn the {seat.what.partition(',')[0]} to {seat.span}, and the {bore.what} to "
    words += bore.span
    picture = making.section(design, rows, highest_thrust(design) / 2)
    table = page.table([row.cells() for row in rows], making.ROW_HEADS)
    others = page.table([(*row, making.standing(keys)) for row, keys in making.others(design)],
                        [*making.HEADS[0], "Standing"])  # fmt: skip
    return View(words, None, picture, [table, others])


def press_scene():
    """How hard may it press? Its parts, blows and a side force against the thrust you want."""
    more = (
        Field("wanted", "Thrust you want", "force > 0", "350 N", slider=(50, 2500, 10)),
        Field("side", "Side force at the tip", "force >= 0", "0 N", slider=(0, 300, 5)),
        Field("shock", "Factor for the blows of the cut", "ratio > 0", "1.5", (1, 3, 0.1), SHOCKS),
        Field("speed", "Speed", "speed > 0", "300 rev/min", slider=(20, 2000, 10)),
    )
    words = {"yes": "Strong enough", "no": "Not strong enough"}
    return Scene("How hard may it press?", _nose_fields(*more), _judge_press, words=words)


def _judge_press(wanted, side, shock, speed, **values):
    design, factor = _nose(**values), shock.m_as("")
    if factor < 1:
        raise InputError("shock", "blows never count less than the thrust", "Write 1 or more")
    shock = show(shock)
    most = highest_thrust(design, side, factor)
    enough = bool(wanted <= most)
    pressed = show(rounded_down(most), figures=2)
    words = f"it may press up to {pressed}"
    words += f" where blows count {shock} times" * (factor > 1) + f", and you want {show(wanted)}"
    loaded = trace(design, wanted * factor, side)
    rows = [[each.name, each.axial, _times(each), each.governs if _counts(each) else ""]
            for each in loaded.elements]  # fmt: skip
    details = [
        page.table(rows, ["Part", "Load, blows included", "Can take", "What gives way first"]),
        *_lives(design, loaded, factor, speed),
        page.caution(CAUTION),
    ]
    rivals = _rivals(most, values, side, factor)
    alt = f"This nose may press up to {pressed}; you want {show(wanted)}"
    alt += "; other bearings with its bore: " * bool(rivals[1:])
    alt += ", ".join(f"{name} {show(rounded_down(each), figures=2)}" for name, each in rivals[1:])
    chart = press_chart(rivals, wanted).picture(f"{alt}.")
    said = f"{'Strong enough' if enough else 'Not strong enough'}: {words}"
    return View(said, "yes" if enough else "no", chart, details)


def _counts(element):
    return np.isfinite(element.margin)


def _times(element):
    if not _counts(element):
        return "no load"
    return f"{show(rounded_down(Q_(float(element.margin))), figures=2)} times this load"


def _lives(design, loaded, factor, speed):
    """How long the bearing that feels the thrust lasts, at the thrust without its blows."""
    for each in loaded.reactions:
        if each.axial.m_as("N") > 0 and design.support(each.place).bearing.kind != "thrust_ball":
            bearing = design.support(each.place).bearing
            hours = rating_life(bearing, each.axial, each.side, speed).hours
            told = show(rounded_down(hours), figures=2)
            yield (
                f"Running at {show(speed)} under this load all the time, nine out of ten of these "
                f"bearings last {told} in clean grease. In a workshop, dirt usually ends them "
                "sooner."
            )


def _rivals(most, values, side, factor):
    """This nose, and the same with other bearings of its bore: (name, highest thrust)."""
    found = [("this nose", most)]
    if values["nose"] != SET or TYPED in (values["front"], values["rear"]):
        return found
    now = catalogue(values["front"])
    for each in bearings("deep_groove"):
        if each.core.bore != now.core.bore or each.designation == now.designation:
            continue
        try:
            other = _nose(**values | {"front": each.designation, "rear": each.designation})
        except InputError:  # the places leave no room for it
            continue
        found.append((f"two {each.designation}", highest_thrust(other, side, factor)))
    return found


def press_chart(rivals, wanted):
    """How hard each nose may press, as bars, with the thrust that is wanted, as a `Chart`.

    rivals: (name, force) for each. wanted: force.
    """
    sizes = [force.m_as("N") for _, force in rivals]
    top, tall = nice(1.2 * max(*sizes, wanted.m_as("N"))), ROW * len(sizes)
    across = ("It may press", 0, top, "N")
    chart = Chart(across, ("", 0, len(sizes)), (134, tall + 26), room=(28, 13, 84, tall))
    at = wanted.m_as("N")
    chart.vertical(at).write("wanted", at, len(sizes), (0, 2), "middle", "bottom", size="small")
    for row, (name, force) in enumerate(rivals):
        level, enough = len(sizes) - row - 0.5, bool(force >= wanted)
        chart.bar(0, force.m_as("N"), level - 0.3, level + 0.3, "green" if enough else "grey",
                  None if enough else True)  # fmt: skip
        chart.write(name, 0, level, (-2, 0), "end", size="small", bold=not row)
        told = show(rounded_down(force), figures=2)
        chart.write(told, force.m_as("N"), level, (2, 0), "start", size="small")
    return chart


def checks_scene():
    """Did it come out right? Four readings, each held against what it should be."""
    more = (
        *_fits(),
        Field("thrust", "Thrust during the checks", "force > 0", "300 N", slider=(50, 1000, 10)),
        Field("push", "Push from the side", "force > 0", "20 N", slider=(5, 100, 1)),
        Field("end_play", "End play of the front bearing before it goes in", "length >= 0",
              "95 µm", slider=(0, 300, 5)),
        Field("drift", "Play at the tip under thrust, stop to stop", "length >= 0", "14 µm",
              slider=(0, 120, 1)),
        Field("give", "Movement under the push", "length >= 0", "21 µm", slider=(0, 200, 1)),
        Field("run_out", "Run-out of the tip in one turn", "length >= 0", "12 µm",
              slider=(0, 120, 1)),
    )  # fmt: skip
    words = {"yes": "As it should be", "no": "Not yet", "open": "Check again"}
    return Scene("Did it come out right?", _nose_fields(*more), _judge_checks, words=words)


NAMES = {
    "end_play": "end play",
    "drift": "play in the bore",
    "give": "give under the push",
    "run_out": "run-out of the tip",
}


def _judge_checks(thrust, push, end_play, drift, give, run_out, **values):
    design = _nose(**values)
    found = look_at(design, thrust, push, end_play=end_play, drift=drift, give=give,
                    run_out=run_out)  # fmt: skip
    worst = [each for holds in ("no", "open") for each in found if each.holds == holds]
    first = worst[0] if worst else None
    words = "As it should be: every reading is in the range that its sizes allow"
    if first is not None:
        told = {"no": "Not yet", "open": "Check again"}[first.holds]
        words = f"{told}: the {NAMES[first.expected.key]} is {show(first.measured)}, "
        words += f"and it should be {in_words(first.expected)}"
    rows = [[NAMES[each.expected.key], show(each.measured), in_words(each.expected), each.said]
            for each in found]  # fmt: skip
    table = page.table(rows, ["Check", "Your reading", "Should be", "What it means"])
    alt = f"Each reading on its range; {len(found) - len(worst)} of {len(found)} are inside it."
    return View(words, first.holds if first else "yes", checks_chart(found).picture(alt), [table])


def checks_chart(found):
    """Every reading on the range in which it should lie, as a `Chart`. found: `Finding`s."""
    sizes = [[each.m_as("um") for each in (f.expected.low, f.expected.high, f.measured)]
             for f in found]  # fmt: skip
    top, tall = nice(1.15 * max([max(each) for each in sizes])), ROW * len(found)
    across = ("Reading", 0, top, "µm")
    chart = Chart(across, ("", 0, len(found)), (134, tall + 20), room=(38, 13, 74, tall))
    for row, (each, (low, high, size)) in enumerate(zip(found, sizes, strict=True)):
        level = len(found) - row - 0.5
        right = max(high, low + 0.004 * top)  # a range of nothing is a line
        chart.bar(low, right, level - 0.3, level + 0.3, "green")
        chart.point(size, level, "", "dot" if each.holds == "yes" else "cross")
        chart.write(NAMES[each.expected.key], 0, level, (-2, 0), "end", size="small")
        said = {"yes": "", "open": "check again", "no": "not yet"}[each.holds]
        chart.write(said, max(size, high), level, (3, 0), "start", size="small")
    return chart
