"""What size and roundness can a turned disc be expected to have? Heat, copying, a bent rim."""

from workshop_lib import sources
from workshop_lib.materials import find_material
from workshop_lib.quantities import InputError, boundary, whole_number
from workshop_lib.sources import Range, csv_tables
from workshop_lib.torque import ESTIMATES

PER_KELVIN = 1e-6
MOST_PASSES = 2000
_COLUMNS = {
    "material": csv_tables.key,
    **dict.fromkeys(ESTIMATES, csv_tables.number(0.1, 500)),
    "source": sources.keys_in_cell,
    "note": csv_tables.anything,
}


def expansion(material):
    """By what share does this sheet grow with each kelvin? A `Range`, in 1/K, with its sources.

    material: key, or a `Material`. Raises InputError where no row is known.

    >>> expansion("aluminium").typical
    2.3e-05
    """
    sheet = find_material(material)
    row = csv_tables.load("expansion.csv", _COLUMNS, _by_material).get(sheet.key)
    if row is None:
        problem = f"the workbook does not know how much {sheet.name} grows with heat"
        raise InputError("material", problem, "Add a row to expansion.csv")
    ends = (round(PER_KELVIN * each, 12) for each in row.ordered("low", "typical", "high"))
    cited = row["source"]
    return Range(*ends, sources=cited, standing=sources.standing(cited), note=row["note"])


def _by_material(rows):
    for row in rows:
        row.ordered("low", "typical", "high")
    return csv_tables.by_key(rows, "material")


@boundary(
    returns="length",
    diameter="length > 0",
    material=find_material,
    warmer="ratio",
    estimate=ESTIMATES,
)
def heat_growth(diameter, material, warmer, estimate="typical"):
    """How much larger is a disc while it is still warm from the cut?

    alpha D dT. diameter: length. material: key or `Material`. warmer: by how many kelvin (or
    degrees Celsius; a kelvin is 1.8 °F) the whole disc is above the room, a plain number; diameter
    and warmer broadcast together. estimate: "low", "typical" or "high" expansion.
    Returns a length in mm, negative for a disc that is colder. Raises InputError.
    Notes: a disc that is warm at its rim only grows less. Source: one for each row of
    `expansion.csv`.

    By hand: 72 millionths × 150 mm × 10.
    >>> print(heat_growth("150 mm", "acrylic", 10).round(6))
    0.108 mm
    """
    return getattr(expansion(material), estimate) * diameter * warmer


@boundary(
    returns="length",
    error="length >= 0",
    force_per_depth="stiffness >= 0",
    stiffness="stiffness > 0",
    passes=whole_number(1, MOST_PASSES),
)
def copied_error(error, force_per_depth, stiffness, passes=1):
    """How much of the blank's corners is still in the disc after so many passes?

    e (k/(k + S))^m: where the blank stands out by e more, the tool cuts deeper and is pushed off
    farther. k: growth of the pushing-off force with the depth of cut; S: stiffness between tool and
    disc, across the edge; m passes.

    error: height of the corners, crest to hollow. force_per_depth, stiffness: force over length.
    They broadcast together; passes: whole number. Returns a length in mm. Raises InputError.
    Notes: slow against the set-up's own swing; corners that strike leave more, and a tool that
    leaves the cut between the corners copies nothing there. Source: error-copying.

    By hand: 100 N/mm against 900 N/mm leave a tenth at each pass.
    >>> print(copied_error("3 mm", "100 N/mm", "900 N/mm", passes=3).round(9))
    0.003 mm
    """
    return error * (force_per_depth / (force_per_depth + stiffness)) ** passes


@boundary(returns="length", bend="length >= 0", overhang="length > 0", thickness="length > 0")
def edge_lean(bend, overhang, thickness):
    """By how much do the diameters of the two faces differ after a cut on a bent rim?

    3 t w / L: a rim that stands out by L and is bent by w at its end leans there by 3 w/(2 L), as a
    beam does; cut true while it leans, its edge is a cone once it springs back.

    bend, overhang, thickness: lengths; they broadcast together. Returns a length in mm. Raises
    InputError. Notes: a narrow rim bends as a beam; a wide one leans less. Source: euler-bernoulli.

    By hand: 3 × 0.6 mm × 0.05 mm / 18 mm.
    >>> print(edge_lean("0.05 mm", "18 mm", "0.6 mm").round(9))
    0.005 mm
    """
    return 3 * thickness * bend / overhang
