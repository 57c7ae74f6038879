"""How loose is a ring in its bore, and how tight on its shaft? Limits of size.

Tolerance grades and deviations come from `data/fits.csv`, for sizes over 3 mm and up to 80 mm.
A bearing's own rings lie below their nominal size, which is why an H7 bore slides over an outer
ring, and a k5 shaft grips an inner one.
"""

import re

import numpy as np

from workshop_lib import sources
from workshop_lib.bearings.bearing_tables import catalogue
from workshop_lib.bearings.clearances import UM
from workshop_lib.quantities import InputError, as_shown, boundary, quote
from workshop_lib.sources import Range, csv_tables

GRADES = ("IT5", "IT6", "IT7", "IT8")
_LETTERS = ("f", "g", "k", "m", "n")  # fundamental deviations in the table; h and js need none
_TOLERANCE = re.compile(r"(H|G|F|JS|js|f|g|h)([5-8])|([kmn])([5-7])|([KMN])([67])", re.ASCII)
_COLUMNS = {
    "quantity": csv_tables.one_of(
        *GRADES, *_LETTERS, "bearing_bore", "bearing_outside", "ring_run_out"
    ),
    **dict.fromkeys(("over_mm", "up_to_mm", "value_um"), csv_tables.number(0, 1000)),
    "source": sources.keys_in_cell,
}


def _steps(rows):
    """The steps of size for each quantity: (over, up to, value) in metres, and the source."""
    found = {}
    for row in csv_tables.by_key(rows, "quantity", "over_mm", "up_to_mm").values():
        row.ordered("over_mm", "up_to_mm")
        step = row["over_mm"] * 1e-3, row["up_to_mm"] * 1e-3, row["value_um"] * UM
        found.setdefault(row["quantity"], []).append((*step, row["source"]))
    return found


def known_fits():
    """All steps of size by quantity, as their file is now."""
    return csv_tables.load("fits.csv", _COLUMNS, _steps)


def tabulated(quantity, diameter, name="diameter"):
    """One number of the table in metres for a diameter in metres; InputError outside it."""
    return _step(quantity, diameter, name)[0]


def _step(quantity, diameter, name="diameter"):
    """One number of the table in metres, and the keys of its sources."""
    table = known_fits()
    for over, up_to, value, cited in table[quantity]:
        if over < diameter <= up_to + 1e-12:
            return value, cited
    least, most = 1e3 * table[quantity][0][0], 1e3 * table[quantity][-1][1]
    problem = f"{1e3 * diameter:g} mm is outside the table of fits"
    raise InputError(name, problem, f"It goes from over {least:g} mm to {most:g} mm")


def tolerance(value, name):
    """A tolerance class such as "H7" or "k5", as (letters, grade)."""
    found = _TOLERANCE.fullmatch(value) if isinstance(value, str) else None
    if not found:
        mend = "Write one such as H7, G7, JS6, K7, N6, k5, m6, js5, g6 or h5"
        raise InputError(
            name, f"{quote(value)} is not a tolerance class in the workbook's tables", mend
        )
    letters, grade = (each for each in found.groups() if each)
    return letters, f"IT{grade}"


def deviations(wanted, diameter, name="diameter"):
    """Lower and upper deviation from the nominal size, all in metres, of a parsed tolerance."""
    letters, grade = wanted
    width = tabulated(grade, diameter, name)
    if letters in ("js", "JS"):
        return -width / 2, width / 2
    if letters in ("k", "m", "n"):
        start = tabulated(letters, diameter, name)
        return start, start + width
    if letters in ("K", "M", "N"):  # as far below as the shaft lies above, less a step of grade
        finer = tabulated(f"IT{int(grade[2:]) - 1}", diameter, name)
        end = width - finer - tabulated(letters.lower(), diameter, name)
        return end - width, end
    start = 0.0 if letters in "hH" else tabulated(letters.lower(), diameter, name)
    return (start, start + width) if letters.isupper() else (-start - width, -start)


def sources_at(quantity, diameter):
    """The keys of the sources of one number of the table for a diameter in metres."""
    return _step(quantity, diameter)[1]


def fit_sources(wanted, diameter, *rings):
    """The keys of the sources of a parsed tolerance at a diameter in metres, and of rings there.

    rings: "bearing_bore" or "bearing_outside", where a bearing's ring sits there. A class whose
    rule is remembered, G or F, names that rule too.
    """
    letters, grade = wanted
    used = [grade, *(each for each in (letters.lower(),) if each in _LETTERS), *rings]
    keys = " ".join(_step(each, diameter)[1] for each in used)
    keys += " iso-286-mirror" * (letters in ("G", "F"))
    keys += " skf-tight-housings" * (letters in ("K", "M", "N"))
    return " ".join(dict.fromkeys(keys.split()))


def _one_diameter(value):
    if np.ndim(value):
        raise InputError("diameter", "give one diameter at a time")


@boundary(diameter="length > 0", tolerance_class=tolerance)
def limits(tolerance_class, diameter):
    """Between which sizes must a bore or a shaft of this tolerance class lie?

    H, G, F, JS (grades 5 to 8), K, M, N (6 and 7): bores; h, g, f, js (5 to 8), k, m, n (5 to 7):
    shafts. A G or F bore lies as far above the nominal size as a g or f shaft lies below it; a K, M
    or N bore as far below as its shaft lies above, less the step to the next finer grade.

    tolerance_class: text such as "H7" or "k5". diameter: one length over 3 mm and up to 80 mm.
    Returns two lengths in µm, the least and the greatest deviation from the nominal size. Raises
    InputError. Source: iso-286-grades, skf-shaft-fits, skf-housing-fits,
    skf-tight-housings, iso-286-mirror.

    >>> print(*(deviation.round(3) for deviation in limits("H7", "35 mm")))
    0.0 µm 25.0 µm
    >>> print(*(deviation.round(3) for deviation in limits("k5", "15 mm")))
    1.0 µm 9.0 µm
    """
    _one_diameter(diameter)
    return tuple(
        as_shown(value, "length").to("um") for value in deviations(tolerance_class, diameter)
    )


def _play(low, high, cited):
    three = (as_shown(value, "length").to("um") for value in (low, (low + high) / 2, high))
    return Range(*three, sources=cited, standing=sources.standing(cited))


def ring_play(bearing, wanted):
    """Least and most play in metres between an outer ring and a bore of a parsed tolerance."""
    size = bearing.core.outside_diameter
    low, high = deviations(wanted, size, "bearing")
    return low, high + tabulated("bearing_outside", size, "bearing")


@boundary(returns="length", bearing=catalogue)
def ring_run_out(bearing):
    """How much may the inner ring of an ordinary bearing run out?

    The most that Normal tolerance (class P0) allows, as a total reading of the indicator on the
    ring while the outer ring is held still.

    bearing: designation or `Bearing` with a bore over 3 mm and up to 50 mm. Returns a length in mm;
    nothing for a bearing without an inner ring, whose needles run on the shaft. Raises InputError.
    Notes: what most bearings show is half of it or less. Source: ring-run-out; over 18 mm
    from-memory.

    >>> print(ring_run_out("6001").to("um").round(3))
    10.0 µm
    """
    if bearing.kind == "drawn_cup_needle":
        return 0.0
    return tabulated("ring_run_out", bearing.core.bore, "bearing")


@boundary(bearing=catalogue, bore=tolerance)
def sliding_fit(bearing, bore="H7"):
    """How much play does an outer ring have in its bore?

    Play = bore − outside diameter; the ring of Normal tolerance lies between its nominal size and
    9 µm (over 18 mm) or 11 µm (over 30 mm) below.

    bearing: designation or `Bearing`. bore: tolerance class such as "H7" or "G7". Returns a `Range`
    of three lengths in µm, on the diameter: least, middle and most; below zero is a tight fit.
    Raises InputError. Notes: both parts at the temperature of the shop; the middle is met most
    often. Source: skf-housing-fits, bearing-tolerances, iso-286-mirror (G and F).

    The printed table gives 0 to 36 µm for H7 on 35 mm.
    >>> least, middle, most = sliding_fit("6202", "H7")
    >>> print(least.round(3), most.round(3))
    0.0 µm 36.0 µm
    """
    if not bore[0].isupper():
        raise InputError(
            "bore", "the tolerance of a bore is written in capitals", "Write one such as H7"
        )
    cited = fit_sources(bore, bearing.core.outside_diameter, "bearing_outside")
    return _play(*ring_play(bearing, bore), cited)


@boundary(bearing=catalogue, shaft=tolerance)
def seat(bearing, shaft="k5"):
    """How tightly does an inner ring sit on its shaft?

    Play = bore of the ring − shaft; the ring of Normal tolerance lies between its nominal size and
    8 µm (over 18 mm: 10 µm) below.

    bearing: designation or `Bearing` with an inner ring. shaft: tolerance class such as "k5",
    "js5", "g6" or "h5". Returns a `Range` of three lengths in µm, on the diameter: least, middle
    and most play; below zero is a tight fit. Raises InputError. Source: skf-shaft-fits,
    bearing-tolerances.

    The printed table gives −17 to −1 µm for k5 on 15 mm.
    >>> least, middle, most = seat("6202", "k5")
    >>> print(least.round(3), most.round(3))
    -17.0 µm -1.0 µm
    """
    if bearing.kind == "drawn_cup_needle":
        problem = f"{bearing.name} has no inner ring; its needles run on the shaft"
        raise InputError("bearing", problem, "See needle_play")
    if not shaft[0].islower():
        raise InputError(
            "shaft", "the tolerance of a shaft is written in small letters", "Write one such as k5"
        )
    size = bearing.core.bore
    low, high = deviations(shaft, size, "bearing")
    ring = tabulated("bearing_bore", size, "bearing")
    return _play(-ring - high, -low, fit_sources(shaft, size, "bearing_bore"))


@boundary(bearing=catalogue, shaft=tolerance)
def needle_play(bearing, shaft="h5"):
    """How much play does a shaft have in a drawn-cup needle bearing that is pressed home?

    Play = circle inside the needles − shaft; the circle comes to about F8 in an N6 housing.

    bearing: designation or `Bearing`, a drawn-cup needle bearing. shaft: tolerance class, "h5" or
    "h6" as a rule. Returns a `Range` of three lengths in µm, on the diameter. Raises InputError.
    Source: ntn-needle, skf-shaft-fits, iso-286-mirror.

    By hand, 10 mm: F8 is +13 to +35 µm, h5 is 0 to −6 µm.
    >>> least, middle, most = needle_play("HK 1010")
    >>> print(least.round(3), most.round(3))
    13.0 µm 41.0 µm
    """
    if bearing.kind != "drawn_cup_needle":
        raise InputError("bearing", f"{bearing.name} is not a drawn-cup needle bearing")
    if not shaft[0].islower():
        raise InputError(
            "shaft", "the tolerance of a shaft is written in small letters", "Write one such as h5"
        )
    circle = deviations(("F", "IT8"), bearing.core.bore, "bearing")
    low, high = deviations(shaft, bearing.core.bore, "bearing")
    cited = "ntn-needle skf-shaft-fits iso-286-mirror"
    return _play(circle[0] - high, circle[1] - low, cited)
