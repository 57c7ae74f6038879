"""What is the sheet made of, and what grips it? Sheet materials and pad facings by their keys.

Everything comes from `data/materials.csv` and `data/facings.csv`; a row added there appears
everywhere. Numbers that spread are a `Range` of low, typical and high; each number names its
sources, and a value from memory says so.
"""

from workshop_lib import sources
from workshop_lib.materials.material_tables import (
    CONDITIONS,
    Facing,
    Friction,
    Material,
    known_facings,
    known_materials,
    sheet_on_sheet,
)
from workshop_lib.quantities import InputError, say
from workshop_lib.sources import csv_tables

BARE = "nothing"  # what lies between two discs that touch


def materials():
    """Which sheet materials are there?

    Returns a tuple of `Material`, in the order of their table.

    >>> [material.key for material in materials()][:3]
    ['stainless_steel', 'mild_steel', 'galvanized_steel']
    """
    return tuple(known_materials().values())


def find_material(key, name="material"):
    """What is known about this sheet material?

    key: text such as "stainless_steel", or a `Material`, which comes back as it is.
    name: what to call it in an error. Returns a `Material`. Raises InputError that names the
    material that was probably meant.

    >>> print(find_material("stainless_steel").youngs_modulus.to("GPa").round(6))
    193.0 GPa
    >>> find_material("stainless_steel").core.specific_cutting_force.typical / 1e6
    2150.0
    """
    if isinstance(key, Material):
        return key
    known = known_materials()
    return known[csv_tables.choose(csv_tables.meant(key, known), known, name, "material")]


def facings():
    """Which pad facings are there?

    Returns a tuple of `Facing`, in the order of their table.

    >>> [facing.key for facing in facings()][:3]
    ['bare_steel', 'bare_aluminium', 'leather']
    """
    return tuple(known_facings().values())


def facing(key, name="facing"):
    """What is known about this pad facing?

    key: text such as "leather", or a `Facing`, which comes back as it is. name: what to call it in
    an error. Returns a `Facing`. Raises InputError that names the facing that was probably meant.

    >>> print(facing("cork").highest_pressure.round(6))
    0.1 MPa
    """
    return _facing(key, name)


def _facing(key, name):
    if isinstance(key, Facing):
        return key
    return known_facings()[csv_tables.choose(key, known_facings(), name, "facing")]


def friction(facing, material, condition="dry"):
    """How well does this facing grip this sheet before it slips?

    facing: key, or a `Facing`. material: key, or a `Material`. condition: "dry" (and clean) or
    "oily".
    Returns a `Friction`: low, typical and high coefficient of static friction, to be handed on
    wherever a friction coefficient is wanted; `.standing` and `.sources` say how far to trust it.
    Raises InputError for an unknown facing, material or condition, and for a pair without a row.
    Notes: the row for the material itself goes before the row for its family, and that before
    "any". Static friction is not a constant: it changes with the finish, the pressure and a trace
    of oil. Judge a set-up by low, and measure your own where it matters.

    >>> friction("leather", "mild_steel").low
    0.3
    >>> print(friction("leather", "mild_steel"))
    leather on uncoated mild steel, dry: typically 0.400, from 0.300 to 0.600. Source: ...

    Source: one for each row of `facings.csv`; blau-2001 on why none is a design value.
    """
    pad, sheet = _facing(facing, "facing"), find_material(material)
    row = _row_for(pad.rows, sheet, condition)
    if row is not None:
        return _friction(row, pad.name, sheet)
    problem = "no value is known for {facing} on {sheet}, {condition}"
    names = {"facing": say(pad.name), "sheet": say(sheet.name), "condition": say(condition)}
    mend = say("Choose another pad facing, or add a row to facings.csv")
    raise InputError("facing", say(problem, **names), mend)


def friction_between(material, between=BARE, condition="dry"):
    """How well do the sheets of a stack grip each other, or what lies between them?

    material: key, or a `Material`. between: "nothing" (sheet on sheet), or the key of a facing of
    which a piece lies between each two, such as "card". condition: "dry" (and clean) or "oily".
    Returns a `Friction`, see `friction`: of one face; what lies between two sheets has two, and
    either may slip. Raises InputError for what is not known.
    Notes: for paper and card nothing is published against sheet metal. Abrasive paper must show its
    grit on both sides, two pieces glued back to back; its bare back slides like card.

    >>> friction_between("mild_steel").low, friction_between("mild_steel", "card").low
    (0.12, 0.2)

    Source: one for each row of `sheet_on_sheet.csv` and `facings.csv`.
    """
    if between != BARE:
        if isinstance(between, str):
            csv_tables.choose(between, (BARE, *known_facings()), "between", "layer of a stack")
        return friction(between, material, condition)
    sheet = find_material(material)
    row = _row_for(sheet_on_sheet(), sheet, condition)
    if row is not None:
        return _friction(row, sheet.name, sheet)
    problem = "no value is known for {sheet} on its like, {condition}"
    names = {"sheet": say(sheet.name), "condition": say(condition)}
    mend = say("Put something between, or add a row to the table")
    raise InputError("between", say(problem, **names), mend)


def _row_for(rows, sheet, condition):
    """The row for the sheet itself, else for its family, else for any; None where none is."""
    csv_tables.choose(condition, CONDITIONS, "condition", "condition")
    known = {row["sheet"]: row for row in rows if row["condition"] == condition}
    return next((known[kind] for kind in (sheet.key, sheet.family, "any") if kind in known), None)


def _friction(row, pad, sheet):
    cited = row["source"]
    found = Friction(
        *(row[end] for end in ("low", "typical", "high")),
        sources=cited,
        standing=sources.standing(cited),
        note=row["note"],
    )
    found.facing, found.material, found.condition = pad, sheet.name, row["condition"]
    return found
