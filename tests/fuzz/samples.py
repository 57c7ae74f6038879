"""Good arguments for specs that are not a kind of quantity: keys, pads, blanks, bearings and so on.

To add one: the class or converter, and a function of a random source that makes a good value.
"""

import functools
import warnings

import numpy as np

from tests.fuzz import grammar
from workshop_lib import friction, gauges, materials, quantities
from workshop_lib.bearings import (
    ball_bearing,
    bearing_tables,
    bearings,
    fits,
    ratings,
    typical_inside,
)
from workshop_lib.blank import Blank
from workshop_lib.blank.turning import Turning
from workshop_lib.friction import thrust
from workshop_lib.friction.pad import SOLID_ONLY
from workshop_lib.gauges import gauge_tables
from workshop_lib.gauges.gauge_tables import gauge_numbers, table_key, table_keys
from workshop_lib.instruments import DiscScan, Picture, Recording, scan_disc
from workshop_lib.load_path import designs, find_design
from workshop_lib.slip import holding


def _pad(rng):
    law = rng.choice(friction.PRESSURES)
    sizes = [grammar.magnitude(rng, 30.0) for _ in range(2)]
    inner = 0.0 if law in SOLID_ONLY else min(map(abs, sizes)) / 2
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            outer, inner = (quantities.Q_(max(map(abs, sizes)), "mm"), quantities.Q_(inner, "mm"))
            return friction.Pad(outer, inner, law)
        except quantities.InputError:
            return friction.Pad("30 mm", pressure=law)


def _screw(rng):
    return thrust.Screw("14 mm", "4 mm", "15 deg", rng.uniform(0, 0.5), "20 mm", 0.15)


@functools.cache
def _blanks():
    square = [("0 mm", "0 mm"), ("80 mm", "0 mm"), ("80 mm", "80 mm"), ("0 mm", "80 mm")]
    return [Blank(square), Blank.regular(6, "90 mm"), Blank.regular(8, across_corners="4 in")]


def _turning(rng):
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return Turning(
            rng.choice(_keys(materials.materials)),
            f"{rng.uniform(0.3, 3):.2f} mm",
            f"{rng.uniform(0.02, 0.3):.2f} mm",
            f"{rng.uniform(20, 500):.0f} rev/min",
            friction.Pad("40 mm"),
            f"{rng.uniform(1, 2000):.0f} N",
            rng.uniform(0.05, 0.8),
            rng.uniform(0, 1),
            cut=rng.choice(["traverse", "plunge"]),
        )


def _keys(lister):
    return [getattr(each, "key", None) or each.designation for each in lister()]


def _design(rng):
    found = find_design(rng.choice(_keys(designs)))
    return found.changed(overhang=f"{rng.uniform(10, 80):.0f} mm") if rng.random() < 0.3 else found


def _bearing(rng):
    bearing = rng.choice(bearings())
    return bearing.designation if rng.random() < 0.5 else bearing


def _ball_bearing(rng):
    return typical_inside(rng.choice(["6202", "6201", "51102", "7202 B"]))


def _whole(rng):
    return rng.choice([1, 2, 3, 5, 8, 13, 0, -1, 10**9, 2.0, "3", np.int64(4)])


def _picture(rng):
    """A disc, a strip, noise or nothing on a small glass."""
    rows, columns = np.ogrid[:160, :200]
    away = np.hypot(rows - 80, columns - rng.choice([100, 30]))
    kinds = [away < rng.uniform(2, 90), (rows > 40) & (columns < 90), away * 0 > 1]
    noise = np.random.default_rng(rng.randrange(9)).integers(0, 50, away.shape)
    values = (np.where(rng.choice(kinds), 40, 200) + noise).astype(np.uint8)
    return Picture(values, rng.choice([None, (11_811, 11_811)]), rng.random() < 0.1)


@functools.cache
def _scan(mark):
    rows, columns = np.ogrid[:200, :200]
    values = np.where(np.hypot(rows - 100, columns - 99) < 70, 40, 220)
    at = 100 + 50 * np.cos(mark), 99 + 50 * np.sin(mark)
    values = np.where(np.hypot(rows - at[0], columns - at[1]) < 5, 220, values)
    return scan_disc(Picture(values.astype(np.uint8), (11_811, 11_811)))


def _recording(rng):
    """Silence, noise, a tap, or strikes."""
    time = np.arange(16_000) / 8_000
    noise = np.random.default_rng(rng.randrange(9)).normal(0, 0.01, len(time))
    ring = np.exp(-9 * (time - 0.6).clip(0)) * np.sin(3000 * time) * (time > 0.6)
    strikes = noise * 20 * np.exp(-9 * (time * 7 % 1))
    kinds = [noise * 0, noise, ring + noise, strikes, np.sign(np.sin(4000 * time))]
    return Recording(rng.choice(kinds) * rng.choice([1.0, 1e-9, 1e6]), 8_000)


SAMPLES = {
    friction.Pad: _pad,
    friction.coefficient: lambda rng: grammar.value(rng, "ratio"),
    materials.find_material: lambda rng: rng.choice(_keys(materials.materials)),
    materials.facing: lambda rng: rng.choice(_keys(materials.facings)),
    bearing_tables.catalogue: _bearing,
    find_design: _design,
    holding.find_way: lambda rng: rng.choice(_keys(holding.ways)),
    thrust.Screw: _screw,
    Blank: lambda rng: rng.choice(_blanks()),
    Picture: _picture,
    DiscScan: lambda rng: _scan(rng.choice([0.0, 1.6, 3.0])),
    Recording: _recording,
    Turning: _turning,
    fits.tolerance: lambda rng: rng.choice(["H7", "k5", "js5", "g6", "h5", "F8", "k8", "Z9"]),
    ratings.ball_count: _whole,
    gauge_numbers: lambda rng: rng.choice([24, "24", "3/0", 0, [18, 20], "00", -1]),
    table_key: lambda rng: rng.choice(list(gauge_tables.DEFINITIONS)),
    table_keys: lambda rng: rng.choice([None, *gauge_tables.DEFINITIONS]),
    ball_bearing._inside: _ball_bearing,
}


def sample(rng, spec):
    """A good value for a class or a converter; a few things to try where none is known."""
    if spec in SAMPLES:
        return SAMPLES[spec](rng)
    if spec is _whole:
        return _whole(rng)
    point = tuple(grammar.typed(rng, "length") for _ in range(2))
    row = [grammar.typed(rng, "length") for _ in range(rng.randrange(1, 6))]
    return rng.choice([_whole(rng), point, row, grammar.quantity(rng, "speed"), "deep_groove"])


# Calls without a boundary: the call, and a spec for each argument (a function draws one).
EXTRA = {
    "quantities.read": (quantities.read, {"text": "length", "kind": tuple(quantities.KINDS)}),
    "quantities.show": (quantities.show, {"q": "force", "figures": _whole}),
    "quantities.Q_": (
        quantities.Q_,
        {"value": "ratio", "unit": ("mm", "N*m", "rev/min", "furlongs")},
    ),
    "friction.Pad": (
        friction.Pad,
        {"outer_diameter": "length", "inner_diameter": "length", "pressure": friction.PRESSURES},
    ),
    "friction.limit_curve": (friction.limit_curve, {"pad": friction.Pad, "points": _whole}),
    "gauges.tables": (gauges.tables, {}),
    "materials.friction": (
        materials.friction,
        {
            "facing": materials.facing,
            "material": materials.find_material,
            "condition": materials.CONDITIONS,
        },
    ),
}
