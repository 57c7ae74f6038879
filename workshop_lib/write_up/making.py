"""How is a nose made, and how is it checked afterwards? One or two sheets for the bench."""

from workshop_lib.bearings import RADIAL_ONLY, limits, typical_inside
from workshop_lib.drawings.making_drawings import making_view
from workshop_lib.load_path import SEATS, highest_thrust, nose_shift, play, trace
from workshop_lib.quantities import Q_, as_shown, in_system, rounded_down, show, system
from workshop_lib.sources import cite
from workshop_lib.write_up.page_parts import Cautions, Heading, Listed, Picture, Table, Text

SHOCK = 1.5  # factor on the thrust under blows that the sheet plans on (ntn-2203, table 3.6)
PUSH = Q_(20.0, "N")  # a finger's push in the checks
# Mean roughness of seats by the grade of their tolerance, up to 80 mm (skf-general).
ROUGHNESS = {"5": 0.4, "6": 0.8, "7": 1.6, "8": 1.6}
LETTERS = "ABCDEFGHJKLM"
BORE = "H7"


def making(nose, thrust=None):
    """The parts of a making sheet. nose: `load_path.Design`. thrust: force for the checks, or None.

    None: half of what it may press. Returns a list for `html_page.page`.
    """
    most = highest_thrust(nose)
    thrust = most / 2 if thrust is None else thrust
    rows = _seats(nose)
    found = trace(nose, thrust)
    letters = [
        (letter, f"{row.what}: {row.nominal} {row.wanted}", (row.place, row.kind))
        for letter, row in zip(LETTERS, rows, strict=False)
    ]
    view = making_view(found, letters)
    return [
        Text(_what(nose, most)),
        Picture(view.figure(), "section", "The nose in section, with its lengths.", True),
        Heading("Sizes that count"),
        Table(
            tuple(
                (letter, row.what, f"{row.nominal} {row.wanted}", *row.limits, row.rough)
                for letter, row in zip(LETTERS, rows, strict=False)
            ),
            ("", "Where", "Size, class", "Limits, µm", "Limits, tenths of a thou", "Surface Ra"),
        ),
        Table(tuple(_others(nose)), ("Part", "Size", "Why")),
        Heading("Square and true"),
        Listed(tuple(_true())),
        Heading("Put together in this order"),
        Listed(tuple(_order(nose)), numbered=True),
        Heading("Check it when it is together"),
        Table(tuple(_checks(nose, thrust)), ("What to do", "What it should show")),
        Cautions(_cautions(most)),
        Text(f"Sources: {cite('skf-shaft-fits skf-housing-fits iso-5753 iso-286-grades')}. "
             "Squareness and roughness: common practice. Bearings as the shop file names them."),
    ]  # fmt: skip


class _Row:
    """One seat or bore: where, its nominal size, its class, its limits in both systems."""

    def __init__(self, place, kind, what, bearing, wanted):
        self.place, self.kind, self.what, self.wanted = place, kind, what, wanted
        size = bearing.bore if kind == "seat" else bearing.outside_diameter
        self.nominal = show(size, figures=5)
        low, high = (each.m_as("um") for each in limits(wanted, size))
        self.limits = _span(low, high, 0), _span(low / 2.54, high / 2.54, 1)  # a tenth: 2.54 µm
        self.rough = f"{ROUGHNESS[wanted[-1]]:g} µm"


def _span(low, high, decimals):
    """Two deviations with their signs; nought has none."""
    return " to ".join(
        "0" if not round(each, decimals) else f"{each:+.{decimals}f}" for each in (low, high)
    )


def _seats(nose):
    """Seats of the inner rings and bores round the outer ones, in the order of the tip."""
    rows = []
    for each in nose.supports:
        wanted = each.seat_class or SEATS[each.place]
        name = f"spindle at the {each.place} bearing"
        if each.bearing.kind == "drawn_cup_needle":
            wanted, name = "h5", f"spindle in the needles of the {each.place} bearing, hardened"
        rows.append(_Row(each.place, "seat", name, each.bearing, wanted))
        if each.bearing.kind == "thrust_ball":
            continue  # its washer has room all round
        told = f"bore round the {each.place} bearing"
        rows.append(_Row(each.place, "bore", told, each.bearing, each.fit_class or BORE))
    return rows


def _steps(nose):
    return {step.name: step for step in nose.steps}


def _others(nose):
    """Sizes that need no fine limits, with why they matter."""
    steps = _steps(nose)
    if "sleeve" in steps:
        front, rear = nose.supports[0], nose.supports[-1]
        gap = rear.behind_tip - front.behind_tip
        gap -= (front.bearing.core.width + rear.bearing.core.width) / 2
        sleeve, shoulder = steps["sleeve"], steps["rotating shoulder"]
        yield ("Shoulder of the spindle", f"⌀ {_mm(shoulder.outer)}",
               "presses on the inner ring alone; larger, it rubs on the outer one")  # fmt: skip
        yield ("Sleeve", f"⌀ {_mm(sleeve.inner)} inside, ⌀ {_mm(sleeve.outer)} outside, "
               f"{_mm(gap)} long", "passes the thrust from outer ring to outer ring")  # fmt: skip
    floor = steps["floor of the bore"]
    yield ("Hole in the floor of the bore", f"⌀ {_mm(floor.inner)}",
           "clear of everything that turns; the last outer ring rests on what is left")  # fmt: skip
    yield ("Radius in the corners", "0.3 mm (12 thou) at most, or undercut",
           "a larger one holds the ring off its shoulder")  # fmt: skip


def _mm(length):
    return show(as_shown(float(length), "length"), figures=4)


def _true():
    inch = system() == "inch"
    fine, coarse = ("0.2 thou", "0.4 thou") if inch else ("5 µm", "10 µm")
    return (
        f"Turn both seats of the spindle and its shoulder at one chucking: the shoulder runs out "
        f"{fine} at most, or the ring stands askew and the nose wobbles.",
        f"Bore the body and face its floor at one chucking, square within {fine}.",
        f"Both ends of the sleeve parallel within {fine}: it passes all of the thrust.",
        f"The face that presses on the plate runs out {coarse} at most.",
    )


def _order(nose):
    first = nose.supports[0].place
    kinds = {each.bearing.kind for each in nose.supports}
    yield "Wash the bearings' places, not the bearings; deburr every edge that a ring passes."
    if nose.key == "pressure_nose":
        yield (
            f"Press the {first} bearing onto the spindle, by its inner ring only, home on the "
            "shoulder."
        )
        yield "Slide on the sleeve, then the rear bearing: its inner ring goes on by hand."
        yield (
            "Oil the bore, and slide spindle, bearings and sleeve in together, until the rear "
            "outer ring stands on the floor."
        )
    else:
        yield f"Press the {first} bearing into its bore, by its outer ring only."
        yield "Lay the housing washer on the floor, the cage with its balls, then the shaft washer."
        if kinds & set(RADIAL_ONLY):
            yield "Press drawn-cup needles in by the end with the maker's marks, to their depth."
        yield "Pass the spindle through until its shoulder stands on the shaft washer."
    if nose.preload:
        force = show(as_shown(nose.preload, "force"))
        yield f"Screw the cap on until the preload of {force} is reached, and lock it."
    yield "Put a drop of grease in, and keep chips out with a felt ring or a close cover."


def _checks(nose, thrust):
    """What to do afterwards, and what each should show by the models of lesson 04."""
    drift = play(nose, thrust)
    yield ("Turn it by hand, nothing pressing", "it turns freely and evenly, without a catch")
    yield (f"Press with {_n(thrust)} and turn it by hand", "as freely; if it drags, a ring rubs")
    yield (f"Under {_n(thrust)}, push the tip to and fro with a finger, indicator on the tip",
           f"{_um(2 * drift)} from stop to stop: the play in the bore")  # fmt: skip
    shift = nose_shift(nose, thrust, PUSH)
    yield (f"Under {_n(thrust)}, push the tip sideways with {_n(PUSH)}",
           f"it goes {_um(shift)} aside")  # fmt: skip
    for each in nose.supports:
        if each.bearing.kind == "deep_groove":
            loose = typical_inside(each.bearing, as_shown(each.clearance, "length")).end_play
            yield (f"Pull and push the ring of the {each.place} bearing along the axis, before it "
                   "goes in", f"about {_um(loose)} of end play")  # fmt: skip
            break
    ring = Q_(10.0, "um")  # radial run-out of inner rings of Normal class, 10 to 18 mm: from memory
    yield ("Turn the spindle once, indicator on its face rim",
           f"{_um(2 * ring)} in all at most, as much as ordinary bearings give")  # fmt: skip


def _n(force):
    return show(rounded_down(force), figures=2)


def _um(length):
    return show(in_system(length.to("um")), figures=2)


def _what(nose, most):
    bearings = ", ".join(f"{each.place} {each.bearing.designation}" for each in nose.supports)
    name = f"{nose.name[:1].upper()}{nose.name[1:]}"
    words = f"{name}: {nose.purpose} Bearings: {bearings}. By the ratings of its parts it may "
    words += f"press {_n(most)}, and {_n(most / SHOCK)} where corners strike (factor {SHOCK:g})."
    return words


def _cautions(most):
    return (
        "Wear eye protection to your local standard at the lathe and at the press.",
        "Press a bearing by the ring that sits tight, never through its balls.",
        f"Do not press harder with it than {_n(most / SHOCK)} while corners strike, nor than "
        f"{_n(most)} at all: if a bearing fails, the disc comes loose.",
        "Try it at the slowest speed first, out of the disc's plane, guard in place.",
        "It holds no work by itself and is no live centre.",
        "Your workshop's rules, the machine's manual and a trained instructor come first.",
    )
