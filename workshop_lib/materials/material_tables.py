"""How do the tables hold sheet materials and facings? The objects, and how they are read."""

from dataclasses import dataclass, field, fields

from workshop_lib import gauges, sources
from workshop_lib.quantities import InputError, Quantity, as_shown, quote, say, show
from workshop_lib.sources import Range, csv_tables

FAMILIES = ("metal", "plastic", "laminate")
CONDITIONS = ("dry", "oily")
MPA, GPA, M_PER_MIN = 1e6, 1e9, 1 / 60  # to Pa and m/s


@dataclass(frozen=True, eq=False)
class Bare:
    """A material's numbers without units, for the physics: SI throughout."""

    specific_cutting_force: Range  # Pa, for a chip 1 mm wide and 1 mm thick (kc1.1)
    chip_exponent: float  # m_c
    density: float  # kg/m³
    youngs_modulus: float  # Pa
    poisson_ratio: float
    yield_strength: float  # Pa
    cutting_speed_hss: Range  # m/s
    cutting_speed_carbide: Range  # m/s


_LABELS = {
    "youngs_modulus": "Young's modulus",
    "poisson_ratio": "Poisson ratio",
    "cutting_speed_hss": "cutting speed with high-speed steel",
    "cutting_speed_carbide": "cutting speed with carbide",
}


def _label(number):
    return _LABELS.get(number, number.replace("_", " "))


def _shown(number, unit=None):
    """Make the property that gives one of the bare numbers back as a quantity in that unit."""

    def get(self):
        value = getattr(self.core, number)
        if unit is None:
            return value
        if not isinstance(value, Range):
            return Quantity(value, _CORE[unit]).to(unit)
        triple = (Quantity(one, _CORE[unit]).to(unit) for one in value)
        return Range(*triple, sources=value.sources, standing=value.standing, note=value.note)

    return property(get, doc=f"{_label(number)}, in {unit or 'plain numbers'}")


_CORE = {"MPa": "Pa", "GPa": "Pa", "m/min": "m/s", "kg/m**3": "kg/m**3"}


@dataclass(frozen=True, eq=False)
class Material:
    """One kind of sheet. Its numbers are quantities here and bare SI floats in `.core`.

    family: metal, plastic or laminate. gauge_table: the gauge that this sheet is commonly sold by,
    or None. The yield strength is that of the softest temper, the first to be marked.
    """

    key: str
    name: str
    family: str
    gauge_table: str | None
    note: str = field(repr=False)
    core: Bare = field(repr=False)
    cited: dict = field(repr=False)  # name of the number -> citation keys

    specific_cutting_force = _shown("specific_cutting_force", "MPa")
    chip_exponent = _shown("chip_exponent")
    density = _shown("density", "kg/m**3")
    youngs_modulus = _shown("youngs_modulus", "GPa")
    poisson_ratio = _shown("poisson_ratio")
    yield_strength = _shown("yield_strength", "MPa")
    cutting_speed_hss = _shown("cutting_speed_hss", "m/min")
    cutting_speed_carbide = _shown("cutting_speed_carbide", "m/min")

    def sources(self, number):
        """Citation keys of one of its numbers, such as "density"."""
        return self.cited[csv_tables.choose(number, self.cited, "number", "number of a material")]

    def standing(self, number):
        """How far one of its numbers can be trusted: the weakest standing of its sources."""
        return sources.standing(self.sources(number))

    def describe(self, number):
        """One of its numbers in words, with where it comes from."""
        cited, value = sources.cite(self.sources(number)), getattr(self, number)
        return f"{self.name}, {_label(number)}: {_in_words(value)}. Source: {cited}."


@dataclass(frozen=True, eq=False)
class Facing:
    """What a pad is faced with. Its friction depends on the sheet: see `friction`."""

    key: str
    name: str
    rows: tuple = field(repr=False)

    @property
    def highest_pressure(self):
        """The least of the highest pressures that are known for it; None when none is."""
        known = [p for row in self.rows if (p := row["highest_pressure_MPa"]) is not None]
        return as_shown(min(known) * MPA, "pressure") if known else None


class Friction(Range):
    """Static friction of a facing on a sheet: low, typical and high, with where they come from.

    It counts as three numbers wherever a ratio is wanted. Besides what a `Range` has: facing,
    material (their names) and condition.
    """

    def describe(self):
        """The three values in words, with how far they can be trusted."""
        said = say(
            "{facing} on {sheet}, {condition}: {values}. Source: {source}.",
            facing=say(self.facing),
            sheet=say(self.material),
            condition=say(self.condition),
            values=_in_words(self),
            source=sources.cite(self.sources),
        )
        return f"{said} {say(self.note)}" if self.note else said

    __str__ = describe


def _in_words(value):
    if not isinstance(value, Range):
        return show(value)
    low, typical, high = (show(one) for one in value)
    return say("typically {typical}, from {low} to {high}", typical=typical, low=low, high=high)


def _gauge_table(cell):
    return csv_tables.choose(cell, gauges.tables(), "", "gauge table")


_FORCE = [f"kc_{end}_N_per_mm2" for end in ("low", "typical", "high")]
_HSS = [f"hss_{end}_m_per_min" for end in ("low", "typical", "high")]
_CARBIDE = [f"carbide_{end}_m_per_min" for end in ("low", "typical", "high")]
_MATERIAL_COLUMNS = {
    "key": csv_tables.key,
    "name": csv_tables.text,
    "family": csv_tables.one_of(*FAMILIES),
    "gauge_table": csv_tables.or_empty(_gauge_table),
    **dict.fromkeys(_FORCE, csv_tables.number(1, 20_000)),
    "chip_exponent": csv_tables.number(0, 0.99),
    "kc_source": sources.keys_in_cell,
    "density_kg_per_m3": csv_tables.number(10, 25_000),
    "density_source": sources.keys_in_cell,
    "youngs_modulus_GPa": csv_tables.number(0.001, 1000),
    "youngs_source": sources.keys_in_cell,
    "poisson_ratio": csv_tables.number(0, 0.5),
    "poisson_source": sources.keys_in_cell,
    "yield_MPa": csv_tables.number(0.1, 5000),
    "yield_source": sources.keys_in_cell,
    **dict.fromkeys(_HSS + _CARBIDE, csv_tables.number(1, 10_000)),
    "speed_source": sources.keys_in_cell,
    "note": csv_tables.anything,
}
_FACING_COLUMNS = {
    "key": csv_tables.key,
    "name": csv_tables.text,
    "sheet": csv_tables.key,
    "condition": csv_tables.one_of(*CONDITIONS),
    **dict.fromkeys(("low", "typical", "high"), csv_tables.number(0.001, 2)),
    "highest_pressure_MPa": csv_tables.or_empty(csv_tables.number(0.001, 1000)),
    "source": sources.keys_in_cell,
    "note": csv_tables.anything,
}

_SHEET_COLUMNS = {
    name: _FACING_COLUMNS[name]
    for name in ("sheet", "condition", "low", "typical", "high", "source", "note")
}


def _range(row, columns, unit, cited):
    low, typical, high = (unit * value for value in row.ordered(*columns))
    return Range(low, typical, high, sources=cited, standing=sources.standing(cited))


def _material(row):
    force, speed = row["kc_source"], row["speed_source"]
    core = Bare(
        specific_cutting_force=_range(row, _FORCE, MPA, force),
        chip_exponent=row["chip_exponent"],
        density=row["density_kg_per_m3"],
        youngs_modulus=row["youngs_modulus_GPa"] * GPA,
        poisson_ratio=row["poisson_ratio"],
        yield_strength=row["yield_MPa"] * MPA,
        cutting_speed_hss=_range(row, _HSS, M_PER_MIN, speed),
        cutting_speed_carbide=_range(row, _CARBIDE, M_PER_MIN, speed),
    )
    prefixes = ("kc", "kc", "density", "youngs", "poisson", "yield", "speed", "speed")
    cited = {
        number.name: row[f"{prefix}_source"]
        for number, prefix in zip(fields(Bare), prefixes, strict=True)
    }
    named = {name: row[name] for name in ("key", "name", "family", "gauge_table", "note")}
    return Material(**named, core=core, cited=cited)


def _materials(rows):
    return {key: _material(row) for key, row in csv_tables.by_key(rows, "key").items()}


def _facings(rows):
    csv_tables.by_key(rows, "key", "sheet", "condition")
    grouped = {}
    for row in rows:
        first = grouped.setdefault(row["key"], [])
        if first and first[0]["name"] != row["name"]:
            problem = f"{row['key']} is named {quote(first[0]['name'])} in line {first[0].line}"
            raise row.error(problem, "Use one name for it")
        _check_pair(row)
        first.append(row)
    return {key: Facing(key, some[0]["name"], tuple(some)) for key, some in grouped.items()}


def _check_pair(row):
    """Refuse a row of friction for a sheet that is not known, or whose range is out of order."""
    known = ("any", *FAMILIES, *known_materials())
    try:
        csv_tables.choose(row["sheet"], known, "", "sheet")
    except InputError as error:
        raise row.error(f"sheet {error.problem}", error.mend) from error
    row.ordered("low", "typical", "high")


def _sheets(rows):
    csv_tables.by_key(rows, "sheet", "condition")
    for row in rows:
        _check_pair(row)
    return tuple(rows)


def known_materials():
    """Return all materials by key, read again when their file has changed."""
    return csv_tables.load("materials.csv", _MATERIAL_COLUMNS, _materials)


def known_facings():
    """Return all facings by key, read again when their file has changed."""
    return csv_tables.load("facings.csv", _FACING_COLUMNS, _facings)


def sheet_on_sheet():
    """Return the rows of a sheet that lies on its like, read again when their file has changed."""
    return csv_tables.load("sheet_on_sheet.csv", _SHEET_COLUMNS, _sheets)
