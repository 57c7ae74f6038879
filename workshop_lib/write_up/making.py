"""How is a nose made, and how is it checked afterwards? One or two sheets for the bench."""

from workshop_lib.bearings import (
    RADIAL_ONLY,
    fit_sources,
    limits,
    sources_at,
    tabulated,
    tolerance,
)
from workshop_lib.drawings.making_drawings import making_view
from workshop_lib.load_path import SEATS, expected, highest_thrust, in_words, trace
from workshop_lib.quantities import Q_, as_shown, resolution, rounded_down, show, system
from workshop_lib.slip import RULES_FIRST
from workshop_lib.sources import find_all, standing
from workshop_lib.write_up.page_parts import (
    Cautions,
    Heading,
    Listed,
    Picture,
    References,
    Table,
    Text,
)

SHOCK = 1.5  # factor on the thrust under blows that the sheet plans on (ntn-2203, table 3.6)
PUSH = Q_(20.0, "N")  # a finger's push in the checks
# Mean roughness of seats by the grade of their tolerance, up to 80 mm: from memory.
ROUGHNESS = {"5": 0.4, "6": 0.8, "7": 1.6, "8": 1.6}
LETTERS = "ABCDEFGHJKLM"
# Bores of rings that are pressed in: over a plain ring tight but at the edge of its limits (common
# practice), over a drawn cup as its maker asks (ntn-needle).
FAST, CUP = "M7", "N6"
PRACTICE, MEMORY = "common-practice", "from-memory"


def sheet_parts(nose, thrust=None):
    """The parts of a making sheet. nose: `load_path.Design`. thrust: force for the checks, or None.

    None: half of what it may press. Every row says how far to trust it. Returns a list for
    `html_page.page`.
    """
    most = highest_thrust(nose)
    thrust = most / 2 if thrust is None else thrust
    rows = sizes(nose)
    tables = [others(nose), _true(nose), _checks(nose, thrust)]
    parts, true, checks = (
        Table(tuple((*row, standing(keys)) for row, keys in table), (*heads, "Standing"))
        for table, heads in zip(tables, HEADS, strict=True)
    )
    cited = [*(row.cited for row in rows), *(keys for table in tables for _, keys in table)]
    return [
        Text(_what(nose, most)),
        Picture(section(nose, rows, thrust), "section", "The nose in section, with its lengths.",
                True),
        Heading("Sizes that count"),
        Table(tuple(row.cells() for row in rows), ROW_HEADS),
        parts,
        Heading("Square and true"),
        true,
        Heading("Assemble in this order"),
        Listed(tuple(_order(nose)), numbered=True),
        Heading("Check it when it is assembled"),
        checks,
        Cautions(_cautions(most)),
        Heading("How far to trust it"),
        Text("Published: the number was seen there. Common practice: a habit of the trade. From "
             "memory: we have not seen it in print, so measure where it matters. Bearings and "
             "sizes that you typed are taken as they are in your shop file or the panel."),
        References(_references(cited)),
    ]  # fmt: skip


ROW_HEADS = (
    *("", "Where", "Size, class", "From – to", "Limits, µm", "Limits, tenths of a thou"),
    *("Surface Ra", "Standing"),
)
HEADS = (
    ("Part", "Size", "Why"),
    ("What", "Within", "Why"),
    ("What to do", "What it should show"),
)


def _references(cited):
    """Each source once, the firmest first: its name, standing and full reference."""
    keys = dict.fromkeys(" ".join(cited).split())
    found = [each for each in find_all(" ".join(keys)) if each.key not in (PRACTICE, MEMORY)]
    order = ("published", PRACTICE.replace("-", " "), MEMORY.replace("-", " "))
    found = sorted(found, key=lambda each: order.index(each.standing))
    return tuple((each.short, each.standing, each.reference) for each in found)


def section(nose, rows, thrust):
    """The nose in section with its lengths, and a letter at each place with a fine limit."""
    letters = [
        (row.letter, f"{row.what}: {row.nominal} {row.wanted}", (row.place, row.kind))
        for row in rows
    ]
    return making_view(trace(nose, thrust), letters).figure()


class Size:
    """One seat or bore: where, its nominal size, its class, its limits in both systems.

    limits: in µm and in tenths of a thou, as text. span: the sizes themselves, in the system that
    is spoken. cited: keys of its sources.
    """

    def __init__(self, letter, place, kind, what, bearing, wanted):
        self.letter, self.place, self.kind = letter, place, kind
        self.what, self.wanted = what, wanted
        size = bearing.bore if kind == "seat" else bearing.outside_diameter
        self.nominal = show(size, figures=5)
        ends = limits(wanted, size)
        low, high = (each.m_as("um") for each in ends)
        self.limits = _span(low, high), _span(low / 2.54, high / 2.54)  # a tenth: 2.54 µm
        self.span = _between(*(size + each for each in ends))
        self.rough = f"{ROUGHNESS[wanted[-1]]:g} µm"
        self.cited = fit_sources(tolerance(wanted, "class"), size.m_as("m"))

    def cells(self):
        """Return the row of the sheet."""
        named = f"{self.nominal} {self.wanted}"
        return (self.letter, self.what, named, self.span, *self.limits, self.rough,
                standing(self.cited))  # fmt: skip


def _between(low, high):
    """Two sizes as a micrometer shows them, to a micrometre inwards, or to a tenth of a tenth."""
    if system() == "inch":
        return f"{low.m_as('inch'):.5f} to {high.m_as('inch'):.5f} in"
    low = resolution.steps_up(low.m_as("mm"), 1e-3) / 1e3
    high = resolution.steps_down(high.m_as("mm"), 1e-3) / 1e3
    return f"{low:.3f} to {high:.3f} mm"


def _span(low, high):
    """Two deviations with their signs, to a tenth where there is one; nought has none."""
    return " to ".join("0" if not round(each, 1) else f"{round(each, 1):+g}"
                       for each in (low, high))  # fmt: skip


def sizes(nose):
    """Seats of the inner rings and bores round the outer ones, in the order of the tip."""
    rows = []
    for each in nose.supports:
        wanted = each.seat_class or SEATS[each.place]
        name = f"spindle at the {each.place} bearing"
        if each.bearing.kind == "drawn_cup_needle":
            wanted, name = "h5", f"spindle in the needles of the {each.place} bearing, hardened"
        rows.append((each.place, "seat", name, each.bearing, wanted))
        if each.bearing.kind == "thrust_ball":
            continue  # its washer has room all round
        told = f"bore round the {each.place} bearing"
        cup = each.bearing.kind == "drawn_cup_needle"
        usual = CUP if cup else FAST if each.radial == "fixed" else "H7"
        rows.append((each.place, "bore", told, each.bearing, each.fit_class or usual))
    return [Size(letter, *row) for letter, row in zip(LETTERS, rows, strict=False)]


def _steps(nose):
    return {step.name: step for step in nose.steps}


def others(nose):
    """Sizes that need no fine limits, with why they matter and where they come from."""
    steps = _steps(nose)
    found = []
    if "sleeve" in steps:
        front, rear = nose.supports[0], nose.supports[-1]
        gap = rear.behind_tip - front.behind_tip
        gap -= (front.bearing.core.width + rear.bearing.core.width) / 2
        sleeve, shoulder = steps["sleeve"], steps["rotating shoulder"]
        found += [
            (("Shoulder of the spindle", f"⌀ {_mm(shoulder.outer)}",
              "it presses on the inner ring only; any larger, and it rubs on the outer "
              "one"), MEMORY),
            (("Sleeve", f"⌀ {_mm(sleeve.inner)} inside, ⌀ {_mm(sleeve.outer)} outside",
              "it carries the thrust from outer ring to outer ring, clear of the inner "
              "rings"), MEMORY),
            (("Length of the sleeve", _mm(gap), "the span minus half the width of each bearing"),
             "elementary-mechanics"),
        ]  # fmt: skip
    floor = steps["floor of the bore"]
    return [
        *found,
        (("Hole in the floor of the bore", f"⌀ {_mm(floor.inner)}",
          "it is clear of everything that turns; the rear outer ring rests on what is "
          "left"), MEMORY),
        (("Radius in the corners", "0.3 mm (12 thou) at most, or undercut",
          "a larger radius keeps the ring off its shoulder"), MEMORY),
    ]  # fmt: skip


def _mm(length):
    return show(as_shown(float(length), "length"), figures=4)


def _true(nose):
    """What must be square and true, within what, and why; IT5 for what a ring stands against."""
    inch = system() == "inch"
    fine, coarse = ("0.2 thou", "0.4 thou") if inch else ("5 µm", "10 µm")
    front, rear = nose.supports[0].bearing, nose.supports[-1].bearing
    shoulder, floor = ((bearing, tabulated("IT5", bearing.m_as("m")))
                       for bearing in (front.bore, rear.outside_diameter))  # fmt: skip
    found = [
        (("Shoulder of the spindle, run-out of its face; turn it and both seats at one setting",
          _fine(shoulder[1]), "or the ring sits askew and the nose wobbles"),
         f"abutment-run-out {sources_at('IT5', front.bore.m_as('m'))}"),
        (("Floor of the bore, square to the bore; bore and face it at one setting", _fine(floor[1]),
          "the rear outer ring rests on it"),
         f"abutment-run-out {sources_at('IT5', rear.outside_diameter.m_as('m'))}"),
        (("Face that presses on the plate, run-out", coarse, "or it presses harder on one side"),
         PRACTICE),
    ]  # fmt: skip
    if "sleeve" in _steps(nose):
        sleeve = ("Ends of the sleeve, parallel", fine, "all the thrust goes through it")
        found.insert(2, (sleeve, PRACTICE))
    return found


def _fine(length):
    """A small length, to the tenth of a thou or the micrometre."""
    if system() == "inch":
        return f"{resolution.steps_down(length / 25.4e-6, 0.1) / 10:.1f} thou"
    return f"{1e6 * length:.0f} µm"


def _order(nose):
    first = nose.supports[0].place
    kinds = {each.bearing.kind for each in nose.supports}
    yield "Wash the seats and bores, not the bearings. Deburr every edge that a ring slides over."
    if nose.key == "pressure_nose":
        yield (
            f"Press the {first} bearing onto the spindle by its inner ring only, right up to the "
            "shoulder."
        )
        yield "Slide on the sleeve, then the rear bearing. Its inner ring goes on by hand."
        yield (
            "Oil the bore, and slide spindle, bearings and sleeve in together until the rear outer "
            "ring rests on the floor."
        )
    else:
        yield f"Press the {first} bearing into its bore by its outer ring only."
        yield "Lay the housing washer on the floor, the cage with its balls, then the shaft washer."
        if kinds & set(RADIAL_ONLY):
            yield "Press drawn-cup needles in to depth, pushing on the end with the maker's marks."
        yield "Push the spindle through until its shoulder rests on the shaft washer."
    if nose.preload:
        force = show(as_shown(nose.preload, "force"))
        yield f"Screw the cap on until the preload of {force} is reached, and lock it."
    yield "Put in a little grease, and keep chips out with a felt ring or a close-fitting cover."


# How each check of `load_path.CHECKS` is made, before the thrust and push are filled in.
DONE = {
    "end_play": "Before the {front} bearing goes in, pull and push its ring along the axis",
    "drift": "Under {thrust}, indicator on the tip, push the tip to and fro with a finger; read "
    "from stop to stop",
    "give": "Under {thrust}, push the tip sideways with {push}; read how far it moves",
    "run_out": "Turn the spindle once, indicator on the side of the tip",
}


def _checks(nose, thrust):
    """What to do afterwards, and what each should show by the models of lesson 04."""
    told = {"thrust": _n(thrust), "push": _n(PUSH), "front": nose.supports[0].place}
    wanted = expected(nose, thrust, PUSH)
    rows = [((done.format(**told), in_words(wanted[key])), wanted[key].cited)
            for key, done in DONE.items() if key in wanted]  # fmt: skip
    by_hand = [
        (("Turn it by hand with no thrust", "it turns freely and evenly, without catching"),
         PRACTICE),
        ((f"Press with {_n(thrust)} and turn it by hand", "it turns just as freely; if it drags, "
                                                          "something is rubbing"),
         PRACTICE),
    ]  # fmt: skip
    first = rows[:1] if "end_play" in wanted else []
    return [*first, *by_hand, *rows[len(first) :]]


def _n(force):
    return show(rounded_down(force), figures=2)


def _what(nose, most):
    bearings = ", ".join(f"{each.place} {each.bearing.designation}" for each in nose.supports)
    name = f"{nose.name[:1].upper()}{nose.name[1:]}"
    words = (
        f"{name}: {nose.purpose} Bearings: {bearings}. By the ratings of its parts it may press "
    )
    words += f"with {_n(most)}, or {_n(most / SHOCK)} where corners strike (factor {SHOCK:g})."
    return words


def _cautions(most):
    return (
        "Wear eye protection to your local standard at the lathe and at the press.",
        "Press a bearing by the ring that sits tight, never through its balls.",
        f"Never press harder than {_n(most / SHOCK)} while corners strike, or than {_n(most)} in a "
        "steady cut. If a bearing fails, the disc comes loose.",
        "Run it at the slowest speed first. Stand out of the disc's plane, with the guard in "
        "place.",
        "It is not a live centre. Never use it to support work.",
        RULES_FIRST,
    )
