"""How do the seven gauge tables define their numbers, and how is a gauge number read?"""

import re
from dataclasses import dataclass, field

import numpy as np

from workshop_lib import sources
from workshop_lib.quantities import InputError, Quantity, quote, refuse_missing
from workshop_lib.sources import csv_tables

INCH = 0.0254  # m, by definition
IRON = 640.0  # oz/ft² in one inch of the wrought iron of 1893: 480 lb/ft³
STEEL = 669.12  # oz/ft² in one inch of the later steel gauge: 41.82 lb/ft², over-rolling included
ZINC = 2.5  # oz/ft² that the galvanized gauge adds to the weight of the same number


@dataclass(frozen=True, eq=False)
class GaugeTable:
    """One gauge: what it is for, how it is defined, and its rows from thick to thin."""

    key: str
    label: str  # with {} where the number goes
    purpose: str
    sources: str
    gauges: np.ndarray = field(repr=False)
    inches: np.ndarray = field(repr=False)
    rows: dict = field(repr=False)  # gauge -> row of the stored table, for its source and note

    @property
    def extent(self):
        """First and last number as text."""
        return f"{self.gauges[0]} to {self.gauges[-1]}"

    def sources_of(self, gauge):
        """Citation keys of one row; the table's own where the row is computed."""
        return self.rows[gauge]["source"] if gauge in self.rows else self.sources


# The tables by which sheet is usually sold, in a few words.
SOLD_BY = {
    "uncoated_steel": "uncoated steel",
    "galvanized_steel": "zinc-coated steel",
    "stainless_steel": "stainless steel",
    "swg": "standard wire gauge",
    "awg": "American wire gauge",
}
DEFINITIONS = {  # key: (label, purpose, sources)
    "us_standard": (
        "No. {} US Standard",
        "the law of 1893, by weight of wrought iron: old drawings, root of the other steel gauges",
        "us-code-15-206 sizes-sheet-metal",
    ),
    "uncoated_steel": (
        "{} gauge uncoated steel",
        "mild steel sheet in North America (Manufacturers' Standard Gauge)",
        "sizes-sheet-metal merchant-gauge-chart",
    ),
    "galvanized_steel": (
        "{} gauge zinc-coated steel",
        "zinc-coated steel sheet, thicker than uncoated sheet of the same number",
        "smacna-galvanized merchant-gauge-chart",
    ),
    "stainless_steel": (
        "{} gauge stainless steel",
        "stainless steel sheet, as the US Standard but rounded to a ten-thousandth of an inch",
        "bccampus-sheet precisebits-gauge us-code-15-206",
    ),
    "swg": ("{} SWG", "the British wire gauge of 1884, used for sheet too", "swg-order-1883"),
    "bg": ("{} BG", "the British gauge of 1914 for iron and steel sheet and hoop", "bg-order-1914"),
    "awg": (
        "{} AWG",
        "the American (Brown & Sharpe) gauge: sheet of copper, brass and aluminium",
        "awg-b258",
    ),
}
# A reading that fits several is named in this order: today's sheet before the law of 1893.
LIKELIEST = (
    "stainless_steel",
    "uncoated_steel",
    "galvanized_steel",
    "awg",
    "swg",
    "bg",
    "us_standard",
)

_COLUMNS = {
    "table": csv_tables.one_of("us_standard", "swg", "bg"),
    "gauge": csv_tables.whole(0, 99),
    "weight_oz_per_ft2": csv_tables.or_empty(csv_tables.number(0.1, 1000)),
    "thickness_in": csv_tables.or_empty(csv_tables.number(0.0001, 1)),
    "source": sources.keys_in_cell,
    "note": csv_tables.anything,
}
_OWN_COLUMNS = {
    "gauge": csv_tables.whole(0, 99),
    "thickness_mm": csv_tables.number(0.001, 25),
    "source": sources.keys_in_cell,
    "note": csv_tables.anything,
}
_TOLERANCE_COLUMNS = {
    "table": csv_tables.one_of(*DEFINITIONS),
    "up_to_in": csv_tables.number(0.0001, 1),
    "tolerance_in": csv_tables.number(0.0001, 0.1),
    "source": sources.keys_in_cell,
    "note": csv_tables.anything,
}


def _four_places(inches):
    """Round to the ten-thousandth of an inch of printed tables, halves upward as they do."""
    return np.floor(np.asarray(inches) * 1e4 + 0.5 + 1e-9) / 1e4


def _stored(rows, table, column):
    """Return the rows of one stored table, thick to thin, with their gauges and values."""
    chosen = {row["gauge"]: row for row in rows if row["table"] == table}
    for row in chosen.values():
        if row[column] is None:
            raise row.error(f"{column} is empty, and {table} is made from it")
    gauges = np.array(sorted(chosen))
    return chosen, gauges, np.array([chosen[gauge][column] for gauge in gauges], dtype=float)


def _built(rows):
    csv_tables.by_key(rows, "table", "gauge")
    law, numbers, weights = _stored(rows, "us_standard", "weight_oz_per_ft2")
    sheet, coated = (numbers >= 3) & (numbers <= 30), (numbers >= 8) & (numbers <= 31)
    wires = np.arange(41)
    contents = {
        "us_standard": (numbers, weights / IRON, law),
        "uncoated_steel": (numbers[sheet], _four_places(weights[sheet] / STEEL), {}),
        "galvanized_steel": (numbers[coated], _four_places((weights[coated] + ZINC) / STEEL), {}),
        "stainless_steel": (numbers[sheet], _four_places(weights[sheet] / IRON), {}),
        "awg": (wires, _four_places(0.005 * 92 ** ((36 - wires) / 39)), {}),
    }
    for key in ("swg", "bg"):
        chosen, gauges, inches = _stored(rows, key, "thickness_in")
        contents[key] = (gauges, inches, chosen)
    return {key: GaugeTable(key, *DEFINITIONS[key], *contents[key]) for key in DEFINITIONS}


def known():
    """Return all tables by key, a teacher's own last, read again when their file has changed."""
    tables = csv_tables.load("gauges.csv", _COLUMNS, _built)
    own = csv_tables.own_gauges()
    return {**tables, **{_own_key(file): _own(file) for file in own}} if own else tables


def _own_key(file):
    """Return the key of a table of a teacher's own: `gauge_din.csv` holds the table `din`."""
    key = csv_tables.key(file.removeprefix(csv_tables.GAUGE).removesuffix(".csv"))
    if key in DEFINITIONS:
        raise InputError(file, f"{key} is a built-in gauge table", "Give it another name")
    return key


def _own(file):
    key, rows = _own_key(file), csv_tables.load(file, _OWN_COLUMNS, _by_gauge)
    gauges = np.array(sorted(rows))
    inches = np.array([rows[gauge]["thickness_mm"] / 25.4 for gauge in gauges])
    words = key.replace("_", " ")
    cited = " ".join(dict.fromkeys(row["source"] for row in rows.values()))
    return GaugeTable(key, f"{{}} {words}", f"added here, in {file}", cited, gauges, inches, rows)


def _by_gauge(rows):
    return csv_tables.by_key(rows, "gauge")


def order():
    """Return the keys of all tables, the likeliest first."""
    return (*LIKELIEST, *(key for key in known() if key not in LIKELIEST))


def _tolerances(rows):
    return sorted(rows, key=lambda row: row["up_to_in"])


def tolerance(table, inches):
    """Return the rolling tolerance in metres that was seen for this sheet, or None."""
    for row in csv_tables.load("gauge_tolerances.csv", _TOLERANCE_COLUMNS, _tolerances):
        if row["table"] == table and inches <= row["up_to_in"] + 1e-9:
            return row["tolerance_in"] * INCH
    return None


_NUMBER = re.compile(
    r"(?:(?:no\.?|number|#|gauge|gage|ga\.?)\s*)?(0|[1-9][0-9]?)(?:\.0+)?\s*(?:ga\.?|gauge|gage|g)?",
    re.ASCII | re.IGNORECASE,
)
_EXAMPLE = "Write a whole number, such as 24"
_IS_LENGTH = "For a thickness use identify, such as identify('0.6 mm')"


def _one_gauge(value, name):
    """Return one gauge number as an int; refuse what is not one."""
    if isinstance(value, str):
        return _typed_gauge(value, name)
    if isinstance(value, Quantity):
        raise InputError(name, f"{quote(f'{value}')} is a quantity", _IS_LENGTH)
    if isinstance(value, bool) or not isinstance(value, int | float | np.integer | np.floating):
        raise InputError(name, f"{quote(value)} is not a gauge number", _EXAMPLE)
    if isinstance(value, float | np.floating) and not value.is_integer():
        raise InputError(name, f"{quote(float(value))} is not a whole number", _IS_LENGTH)
    if not abs(value) < 1000:
        raise InputError(name, f"{quote(value)} is larger than any gauge number", _EXAMPLE)
    return int(value)


def _typed_gauge(typed, name):
    """Return the gauge number in text such as "24", "24 ga" or "No. 24"."""
    found = _NUMBER.fullmatch(typed.strip())
    if found:
        return int(found[1])
    if re.fullmatch(r"\s*([0-9]+/0|00+)\s*", typed):
        raise InputError(name, f"{quote(typed)} is thicker than any sheet here", _EXAMPLE)
    named = re.fullmatch(r"\s*([0-9]{1,2})\s*(swg|bg|awg)\s*", typed, re.ASCII | re.IGNORECASE)
    if named:
        mend = f"Give the table separately: {named[1]}, '{named[2].lower()}'"
        raise InputError(name, f"{quote(typed)} has the table in it", mend)
    length = re.match(r"\s*[0-9]*[.,/]?[0-9]+\s*(mm|in|\"|thou|$)", typed)
    mend = _IS_LENGTH if length and len(typed) < 20 else _EXAMPLE
    raise InputError(name, f"{quote(typed)} is not a gauge number", mend)


def gauge_numbers(value, name, depth=0):
    """Return gauge numbers as an int or an int array of the shape given."""
    refuse_missing(value, name)
    if isinstance(value, np.ndarray) and value.ndim == 0:
        value = value[()]
    if not isinstance(value, list | tuple | range | np.ndarray):
        return _one_gauge(value, name)
    if isinstance(value, np.ndarray) and value.dtype.kind in "iu" and value.size:
        return value.astype(int)
    if depth > 8:
        raise InputError(name, "is nested too deep")
    if len(value) == 0:
        raise InputError(name, "holds no gauge numbers", _EXAMPLE)
    parts = [gauge_numbers(item, name, depth + 1) for item in value]
    try:
        return np.array(parts, dtype=int)
    except ValueError as error:
        raise InputError(name, "the rows have different lengths") from error


def table_key(value, name):
    """Return the key of a gauge table; InputError says which was probably meant."""
    return csv_tables.choose(csv_tables.meant(value, known()), known(), name, "gauge table")


def table_keys(value, name):
    """Return the keys in one key or a collection of them, likeliest table first."""
    keys = [value] if isinstance(value, str) else value
    if not isinstance(keys, list | tuple | dict | set) or not keys:
        listed = ", ".join(known())
        raise InputError(name, f"{quote(value)} is not a gauge table", f"Known: {listed}")
    wanted = {table_key(key, name) for key in keys}
    return [key for key in order() if key in wanted]
