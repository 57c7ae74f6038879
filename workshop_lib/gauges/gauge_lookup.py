"""What thickness does a gauge number mean, and which gauge could a thickness be?

A gauge number is not a thickness: 24 gauge is 0.61 mm in uncoated steel, 0.70 mm zinc-coated and
0.64 mm in stainless. The steel gauges are defined by weight and computed from it; the American
wire gauge is a formula; the two British gauges are legal tables.
"""

from dataclasses import dataclass

import numpy as np

from workshop_lib.gauges.gauge_tables import (
    INCH,
    gauge_numbers,
    known,
    order,
    table_key,
    table_keys,
    tolerance,
)
from workshop_lib.quantities import InputError, Quantity, as_shown, boundary, show, system

LIKELY = 0.2  # part of the reading within which a gauge is worth naming: about two steps
ALIKE = 0.05  # part of the reading within which two gauges cannot be told apart by one reading


@dataclass(frozen=True, eq=False)
class Match:
    """A gauge beside a reading. difference and percent are reading minus gauge, signed."""

    table: str
    gauge: int
    thickness: Quantity
    difference: Quantity
    percent: float
    tolerance: Quantity | None = None

    @property
    def label(self):
        """The gauge as people say it."""
        return known()[self.table].label.format(self.gauge)

    @property
    def sources(self):
        """Citation keys of this row."""
        return known()[self.table].sources_of(self.gauge)

    @property
    def within_tolerance(self):
        """Whether the rolling tolerance that was seen covers the reading; None when none was."""
        if self.tolerance is None:
            return None
        return bool(abs(self.difference) <= self.tolerance + Quantity(1e-6, "mm"))

    def __str__(self):
        off = self.difference.m_as("mm")
        said = f"{self.label} ({_exactly(self.thickness)})"
        if abs(off) < 0.0005:
            return f"{said}: the reading agrees"
        side = "thinner" if off < 0 else "thicker"
        part = f"{abs(self.percent):.0f} %" if abs(self.percent) >= 1 else "less than 1 %"
        said += f": the reading is {_exactly(abs(self.difference))} {side} ({part})"
        if self.tolerance is None:
            return said
        inside = "within" if self.within_tolerance else "more than"
        return f"{said}, {inside} the rolling tolerance of ±{_exactly(self.tolerance, 2)}"


def _exactly(length, decimals=3):
    """A thickness to the thousandth of a millimetre, or to a tenth of a thou in inch."""
    if system() == "inch":
        return f"{length.m_as('inch'):.{decimals + 1}f} in"
    return f"{length.m_as('mm'):.{decimals}f} mm"


def tables():
    """Which gauge tables are there, and what is each of them for?

    Returns a dict of table key -> text.

    >>> for key, purpose in tables().items():
    ...     print(key, "-", purpose)
    us_standard - the law of 1893...
    """
    return {key: table.purpose for key, table in known().items()}


def table(key):
    """What does one gauge table hold: its numbers, its thicknesses and where they come from?

    key: one of `tables()`. Returns a `GaugeTable` (`.gauges`, `.inches`, `.purpose`, `.sources`).
    Raises InputError for an unknown key.

    >>> table("galvanized_steel").extent
    '8 to 31'
    """
    return known()[table_key(key, "key")]


@boundary("length", gauge=gauge_numbers, table=table_key)
def thickness(gauge, table):
    """How thick is sheet of this gauge number?

    t = w/640 (US Standard), w/669.12 (uncoated steel), (w + 2.5)/669.12 (galvanized), with t in
    inches and w the US Standard weight of that number in ounces per square foot; stainless is the
    US Standard; AWG is 0.005 in · 92^((36 - n)/39); SWG and BG are legal tables.

    gauge: whole number, or text such as "24", "24 ga" or "No. 24"; any shape. table: one of the
    keys of `tables()`.
    Returns a length in the shape of gauge: the nominal thickness as printed tables give it, which
    is rounded to 0.0001 in except for US Standard, SWG and BG, which the law states in full.
    Raises InputError for a number that the table does not hold, and for what is no gauge number.
    Notes: nominal; rolled sheet varies, so measure. Printed stainless tables differ by 0.0001 in
    where the exact value ends in a 5.

    By hand: stainless, No. 24: 16 oz/ft² / 640 = 0.0250 in = 0.635 mm.
    >>> show(thickness(24, "stainless_steel")), show(thickness("18 ga", "galvanized_steel"))
    ('0.635 mm', '1.31 mm')

    Source: us-code-15-206, sizes-sheet-metal, smacna-galvanized, bccampus-sheet, swg-order-1883,
    bg-order-1914, awg-b258.
    """
    chosen = known()[table]
    held = np.isin(gauge, chosen.gauges)
    if not np.all(held):
        wrong = np.asarray(gauge)[~held].flat[0]
        raise InputError("gauge", f"{wrong} is not in {table}", f"It runs from {chosen.extent}")
    inches = chosen.inches[np.searchsorted(chosen.gauges, gauge)] * INCH
    return inches if np.ndim(inches) else float(inches)


@boundary(None, thickness="length > 0", tables=table_keys, within="length > 0")
def identify(thickness, tables=None, within=None):
    """Which gauges may a sheet be whose thickness was measured?

    thickness: one length, such as "0.62 mm" or "25 thou". tables: keys of `tables()` to look in;
    all of them when left out. within: length, how far off a gauge may be; a fifth of the reading
    when left out.
    Returns a list of `Match`, the closest first: table, gauge, its nominal thickness, difference
    and percent (reading minus gauge), and the rolling tolerance where one was seen. Empty when no
    gauge is that near. Raises InputError for what is not one positive length, and for an unknown
    table. Notes: of two tables with the same thickness, the one in use today comes first.

    By hand: 0.635 mm − 0.62 mm = 0.015 mm, and that is 2.4 % of 0.635 mm.
    >>> print(identify("0.62 mm", tables="stainless_steel")[0])
    24 gauge stainless steel (0.635 mm): the reading is 0.015 mm thinner (2 %), within the rolling
    tolerance of ±0.05 mm

    Source: as for `thickness`; tolerances smacna-galvanized and astm-a480.
    """
    if np.ndim(thickness) or np.ndim(within):
        raise InputError("thickness", "there are several values", "Give one reading at a time")
    window = LIKELY * thickness if within is None else within
    found = []
    for key in order() if tables is None else tables:
        chosen = known()[key]
        for gauge, inches in zip(chosen.gauges, chosen.inches, strict=True):
            if abs(thickness - inches * INCH) <= window * (1 + 1e-9):
                found.append((round(abs(thickness - inches * INCH), 9), key, gauge, inches))
    found.sort(key=lambda match: match[0])
    return [_match(thickness, key, gauge, inches) for _, key, gauge, inches in found]


def _match(reading, key, gauge, inches):
    off = reading - inches * INCH
    allowed = tolerance(key, inches)
    return Match(
        table=key,
        gauge=int(gauge),
        thickness=as_shown(inches * INCH, "length"),
        difference=as_shown(off, "length"),
        percent=100 * off / (inches * INCH),
        tolerance=None if allowed is None else as_shown(allowed, "length"),
    )


@boundary(None, reading="length > 0", gauge=gauge_numbers, table=table_key)
def compare(reading, gauge, table):
    """How far is a measured thickness from the gauge that the sheet was sold as?

    reading: one length. gauge: one number. table: one of the keys of `tables()`.
    Returns a `Match`; printed, it is a sentence. Raises InputError as `thickness` does.

    >>> print(compare("0.55 mm", 24, "stainless_steel"))
    24 gauge stainless steel (0.635 mm): the reading is 0.085 mm thinner (13 %), more than the
    rolling tolerance of ±0.05 mm

    Source: as for `identify`.
    """
    if np.ndim(reading) or np.ndim(gauge):
        raise InputError("reading", "there are several values", "Give one reading at a time")
    return _match(reading, table, gauge, thickness.core(gauge, table) / INCH)


@boundary(None, reading="length > 0", tables=table_keys)
def likely(reading, tables=None):
    """What gauge is this sheet likely to be, in words?

    reading: one length. tables: keys of `tables()`; all of them when left out.
    Returns text for a lesson or a panel. Raises InputError as `identify` does.

    >>> print(likely("1.31 mm"))
    Closest: 18 gauge zinc-coated steel (1.311 mm): the reading is 0.001 mm thinner...

    Source: as for `identify`; that rolled sheet varies is common practice.
    """
    matches = identify.core(reading, tables)
    if not matches:
        said = show(as_shown(reading, "length"))
        return f"No gauge in these tables is near {said}: sheet like this is sold by thickness."
    words = [f"Closest: {matches[0]}."]
    alike = [f"{m.label} ({_exactly(m.thickness)})" for m in matches[1:4] if _alike(m, reading)]
    if alike:
        words.append(f"Too near to tell apart by one reading: {', '.join(alike)}.")
    words.append(
        "Rolled sheet varies by several per cent about its nominal thickness: measure in three "
        "places clear of the edge, and ask what it was sold as."
    )
    return " ".join(words)


def _alike(match, reading):
    return abs(match.difference.m_as("m")) <= ALIKE * reading
