"""Which small bearings does the workbook know? `data/bearings.csv` and `data/bearing_ratings.csv`.

A bearing has printed ratings, often two sets that differ by some per cent; the first set in the
table is used unless another is asked for. What is inside is a maker's own choice and not printed:
ball counts and sizes here are typical ones that give the printed ratings back.
"""

from dataclasses import dataclass, field, replace

import numpy as np

from workshop_lib import sources
from workshop_lib.quantities import as_shown, quote
from workshop_lib.sources import csv_tables

KINDS_OF_BEARING = {
    "deep_groove": "deep-groove ball bearing",
    "angular_contact": "angular-contact ball bearing, 40°",
    "thrust_ball": "thrust ball bearing",
    "cylindrical_roller": "cylindrical roller bearing",
    "drawn_cup_needle": "drawn-cup needle roller bearing",
}
BALL_KINDS = ("deep_groove", "angular_contact", "thrust_ball")
RADIAL_ONLY = ("cylindrical_roller", "drawn_cup_needle")  # no axial load at all
MM, KN = 1e-3, 1e3


@dataclass(frozen=True)
class Rating:
    """One printed pair of load ratings, in N, and where it was printed."""

    dynamic: float
    static: float
    source: str


@dataclass(frozen=True)
class Inside:
    """A typical inside in metres and radians: balls or rollers, their size and pitch circle."""

    elements: int
    element_diameter: float
    pitch_diameter: float
    length: float | None  # of a roller
    contact_angle: float


@dataclass(frozen=True, eq=False)
class Bare:
    """A bearing's numbers without units, for the physics: m and N throughout."""

    bore: float
    outside_diameter: float
    width: float
    dynamic_rating: float
    static_rating: float
    f0: float | None
    diameter_series: int | None
    minimum_load: float | None  # N at 1000 rev/min, for thrust ball bearings


def _shown(number, kind, words):
    return property(lambda self: as_shown(getattr(self.core, number), kind), doc=words)


@dataclass(frozen=True, eq=False)
class Bearing:
    """One rolling bearing. Its numbers are quantities here and bare SI floats in `.core`.

    kind: one of `KINDS_OF_BEARING`. ratings: every printed pair; `.rating` is the one in use.
    inside: typical balls or rollers, or None where no typical inside is known. source: of sizes and
    f0; inside_source: of what is inside.
    """

    designation: str
    kind: str
    core: Bare = field(repr=False)
    rating: Rating = field(repr=False)
    ratings: tuple = field(repr=False)
    inside: Inside | None = field(repr=False)
    source: str = field(repr=False)
    inside_source: str = field(repr=False)
    note: str = field(repr=False)

    bore = _shown("bore", "length", "Bore, mm.")
    outside_diameter = _shown("outside_diameter", "length", "Outside diameter, mm.")
    width = _shown("width", "length", "Width (thrust bearings: height), mm.")
    dynamic_rating = _shown("dynamic_rating", "force", "Basic dynamic load rating C, N.")
    static_rating = _shown("static_rating", "force", "Basic static load rating C0, N.")

    @property
    def name(self):
        """Designation and kind in words."""
        return f"{self.designation} ({KINDS_OF_BEARING[self.kind]})"

    @property
    def exponent(self):
        """The exponent of the life formula: 3 for balls, 10/3 for rollers."""
        return 3.0 if self.kind in BALL_KINDS else 10 / 3

    def with_rating(self, source):
        """The same bearing judged by another printed pair of ratings.

        source: key of the publication, such as "skf-2018". Raises InputError for any other.
        """
        printed = {rating.source: rating for rating in self.ratings}
        rating = printed[csv_tables.choose(source, printed, "source", "printed rating of it")]
        core = replace(self.core, dynamic_rating=rating.dynamic, static_rating=rating.static)
        return replace(self, core=core, rating=rating)

    def describe(self):
        """Its ratings in words, and where they come from."""
        printed = "; ".join(
            f"C {rating.dynamic:.0f} N, C0 {rating.static:.0f} N: {sources.cite(rating.source)}"
            for rating in self.ratings
        )
        return f"{self.name}. {printed}. Used: {sources.cite(self.rating.source)}."


_SIZE = csv_tables.number(1, 100)
_COLUMNS = {
    "designation": csv_tables.text,
    "kind": csv_tables.one_of(*KINDS_OF_BEARING),
    **dict.fromkeys(("bore_mm", "outside_mm", "width_mm"), _SIZE),
    "diameter_series": csv_tables.or_empty(csv_tables.whole(0, 9)),
    "f0": csv_tables.or_empty(csv_tables.number(5, 20)),
    "minimum_load_kN": csv_tables.or_empty(csv_tables.number(0, 100)),
    "elements": csv_tables.or_empty(csv_tables.whole(3, 200)),
    **dict.fromkeys(("element_mm", "pitch_mm", "length_mm"), csv_tables.or_empty(_SIZE)),
    "angle_deg": csv_tables.or_empty(csv_tables.number(0, 90)),
    **dict.fromkeys(("source", "inside_source"), sources.keys_in_cell),
    "note": csv_tables.anything,
}
_RATING_COLUMNS = {
    "designation": csv_tables.text,
    **dict.fromkeys(("dynamic_N", "static_N"), csv_tables.number(1, 1e7)),
    "source": sources.keys_in_cell,
}


def _plain(designation):
    """A designation as it is compared: no spaces, capital letters."""
    return "".join(designation.split()).upper()


def _ratings(rows):
    """Printed ratings by designation, in the order of the table."""
    found = {}
    for row in rows:
        rating = Rating(row["dynamic_N"], row["static_N"], row["source"])
        found.setdefault(row["designation"], []).append(rating)
    return found


def _checked(rows):
    """Rows by designation; a row with a part of an inside is refused."""
    for row in rows:
        row.ordered("bore_mm", "outside_mm")
        given = [row[column] is not None for column in ("elements", "element_mm", "pitch_mm")]
        if any(given) and not (all(given) and row["angle_deg"] is not None):
            raise row.error(
                "elements, element_mm, pitch_mm and angle_deg must all be filled in, "
                "or none of them"
            )
        if row["kind"] == "deep_groove" and (row["f0"] is None or row["diameter_series"] is None):
            raise row.error("a deep-groove bearing needs f0 and diameter_series")
        if row["kind"] == "thrust_ball" and row["minimum_load_kN"] is None:
            raise row.error("a thrust ball bearing needs minimum_load_kN")
    return csv_tables.by_key(rows, "designation")


def _inside(row):
    if row["elements"] is None:
        return None
    length = None if row["length_mm"] is None else row["length_mm"] * MM
    sizes = row["element_mm"] * MM, row["pitch_mm"] * MM
    return Inside(row["elements"], *sizes, length, np.radians(row["angle_deg"]).item())


def _bearing(row, ratings):
    if row["designation"] not in ratings:
        raise row.error(f"{quote(row['designation'])} has no row in bearing_ratings.csv")
    used = ratings[row["designation"]][0]
    least = row["minimum_load_kN"]
    core = Bare(
        *(row[column] * MM for column in ("bore_mm", "outside_mm", "width_mm")),
        dynamic_rating=used.dynamic,
        static_rating=used.static,
        f0=row["f0"],
        diameter_series=row["diameter_series"],
        minimum_load=None if least is None else least * KN,
    )
    named = ("designation", "kind", "source", "inside_source", "note")
    told = {name: row[name] for name in named}
    printed = tuple(ratings[row["designation"]])
    return Bearing(**told, core=core, rating=used, ratings=printed, inside=_inside(row))


_built = {}


def known_bearings():
    """Return all bearings by their plain designation, read again when a file has changed."""
    rows = csv_tables.load("bearings.csv", _COLUMNS, _checked)
    ratings = csv_tables.load("bearing_ratings.csv", _RATING_COLUMNS, _ratings)

    def build():
        return {_plain(key): _bearing(row, ratings) for key, row in rows.items()}

    return csv_tables.kept_while_same(_built, (rows, ratings), build)


def catalogue(designation, name="bearing"):
    """What does the catalogue print for this bearing?

    designation: text such as "6202" or "HK 1010", or a `Bearing`, which comes back as it is.
    name: what to call it in an error. Returns a `Bearing`: `.dynamic_rating`, `.static_rating`,
    `.bore`, `.outside_diameter`, `.width` and more. Raises InputError that names what was probably
    meant. Notes: where two catalogues print different ratings, the first in the table is used and
    `.rating.source` says which; `.with_rating("skf-2018")` takes another.
    Source: one for each rating; see `.describe()`.

    >>> print(catalogue("6202").static_rating, catalogue("6202").rating.source)
    3750.0 N nsk-catalogue
    """
    if isinstance(designation, Bearing):
        return designation
    known = known_bearings()
    if isinstance(designation, int) and 0 < designation < 10**6:
        designation = str(designation)
    if isinstance(designation, str) and len(designation) < 40 and _plain(designation) in known:
        return known[_plain(designation)]
    listed = [bearing.designation for bearing in known.values()]
    return known[_plain(csv_tables.choose(designation, listed, name, "bearing", "bearings()"))]


def bearings(kind=None):
    """Which bearings are there?

    kind: None for all, or one of "deep_groove", "angular_contact", "thrust_ball",
    "cylindrical_roller", "drawn_cup_needle". Returns a tuple of `Bearing`, in the order of their
    table. Raises InputError for another kind.

    >>> [bearing.designation for bearing in bearings("thrust_ball")][:2]
    ['51100', '51101']
    """
    if kind is not None:
        csv_tables.choose(kind, KINDS_OF_BEARING, "kind", "kind of bearing")
    return tuple(each for each in known_bearings().values() if kind in (None, each.kind))
