"""Tables of the workbook, and those that a teacher adds to, as targets of the fuzz."""

import contextlib
import csv
import functools
import io
import os
import tempfile
from pathlib import Path

from tests.fuzz import entries, grammar
from workshop_lib import plan
from workshop_lib.bearings import bearing_loads, bearing_tables, clearances, fits
from workshop_lib.gauges import gauge_tables
from workshop_lib.instruments import expansion
from workshop_lib.load_path import designs
from workshop_lib.materials import material_tables
from workshop_lib.overhang import spreading
from workshop_lib.quantities import InputError
from workshop_lib.run_out import causes, clocking_list, weighing
from workshop_lib.slip import holding
from workshop_lib.sources import citations, csv_tables
from workshop_lib.teaching import words

TEMPORARY = tempfile.TemporaryDirectory(prefix="workshop-fuzz-tables-")
FOLDER = Path(TEMPORARY.name)
STRANGE = [text for text in entries.STRANGE if isinstance(text, str) and len(text) < 300]

# Which call reads a table.
ASKED = {
    "materials.csv": material_tables.known_materials,
    "facings.csv": material_tables.known_facings,
    "sheet_on_sheet.csv": material_tables.sheet_on_sheet,
    "facing_stiffness.csv": lambda: spreading.facing_modulus("leather"),
    "expansion.csv": lambda: expansion("acrylic"),
    "holding.csv": holding._known,
    "bearings.csv": bearing_tables.known_bearings,
    "bearing_ratings.csv": bearing_tables.known_bearings,
    "bearing_factors.csv": lambda: bearing_loads.equivalent_load("6202", "600 N", "0 N"),
    "clearances.csv": clearances.known_clearances,
    "fits.csv": fits.known_fits,
    "designs.csv": designs,
    "design_supports.csv": designs,
    "design_steps.csv": designs,
    "gauges.csv": gauge_tables.known,
    "gauge_tolerances.csv": lambda: gauge_tables.tolerance("uncoated_steel", 0.05),
    "gauge_mine.csv": gauge_tables.known,
    "causes.csv": causes.known,
    "evidence_scale.csv": weighing.scale,
    "belief.csv": lambda: weighing.setting("worth_doing"),
    "clockings.csv": clocking_list._known,
    "sources.csv": citations.all_sources,
    "words.csv": words.all_words,
}
OWN_GAUGES = "gauge,thickness_mm,source,note\n24,0.6,from-memory,\n22,0.8,from-memory,mine\n"


@contextlib.contextmanager
def additions(name, text):
    """A folder of additions with one file in it, as long as the block runs."""
    folder = FOLDER / "my_additions"
    folder.mkdir(exist_ok=True)
    before = os.environ.get(csv_tables.VARIABLE)
    os.environ[csv_tables.VARIABLE] = str(folder)
    (folder / name).write_bytes(text.encode("utf-8", "surrogatepass"))
    try:
        yield folder / name
    finally:
        (folder / name).unlink()
        os.environ.pop(csv_tables.VARIABLE)
        os.environ.update({} if before is None else {csv_tables.VARIABLE: before})


def data_table(rng):
    """A table of the data folder with cells changed at random."""
    file = rng.choice(sorted(csv_tables.BUILT_IN.glob("*.csv")))
    rows = file.read_text(encoding="utf-8").splitlines()
    row, words = (
        rng.randrange(len(rows)),
        ["", "nan", "-1", "1e999", '"', "x,y", "؟", *grammar.MARKUP],
    )
    cells = rows[row].split(",")
    cells[rng.randrange(len(cells))] = rng.choice(words)
    rows[row] = ",".join(cells)
    text = "\n".join(rows)
    loader = _loaders()[file.name]

    def act():
        columns, build = loader
        (FOLDER / file.name).write_text(text, encoding="utf-8")
        build(csv_tables.read_rows(FOLDER / file.name, columns))

    return act, {"file": file.name, "row": row + 1, "text": rows[row]}


@functools.cache
def _loaders():
    """{file: (columns, build)} of every table of the library."""
    columns, read_rows = {}, csv_tables.read_rows

    def listen(path, wanted):
        columns[path.name] = wanted
        return read_rows(path, wanted)

    csv_tables._kept.clear()
    csv_tables.read_rows = listen
    try:
        for call in ASKED.values():
            with contextlib.suppress(InputError):
                call()
    finally:
        csv_tables.read_rows = read_rows
    return {paths[0].name: (columns[paths[0].name], build) for paths, build in csv_tables._kept}


def own_table(rng):
    """A table with a row of one's own: a built-in one under another key, with cells changed."""
    file = rng.choice(sorted(ASKED))
    kept = csv_tables.BUILT_IN / file
    content = kept.read_text(encoding="utf-8") if kept.exists() else OWN_GAUGES
    rows = list(csv.reader(io.StringIO(content)))
    made = [rows[0], *(list(rng.choice(rows[1:])) for _ in range(rng.choice([1, 1, 1, 2])))]
    if rows[0][0] in ("key", "word", "designation", "facing", "material", "sheet"):
        made[1][0] = rng.choice(["my_thing"] * 6 + ["6999", "My Thing", made[1][0]])
    for _ in range(rng.choice([0, 0, 1, 1, 2])):
        row, at = rng.choice(made[1:] if rng.random() < 0.9 else made), rng.randrange(len(rows[0]))
        other = rng.randrange(len(rows[0]))
        row[at] = rng.choice([row[other], row[at][:-1], f"{row[at]}0", f"-{row[at]}", *STRANGE])
    if rng.random() < 0.05:
        made[1].append("x")
    out = io.StringIO()
    csv.writer(out, delimiter=rng.choice("," * 30 + ";")).writerows(made)
    text = out.getvalue() + rng.choice([""] * 20 + ["\n", "\0", '"'])

    def act():
        with additions(file, text):
            found = ASKED[file]()
            mine = made[1][0]
            if file in ("materials.csv", "facings.csv") and mine in found:
                key = {"materials.csv": "sheet.material", "facings.csv": "pad.facing"}[file]
                plan.assess(entries.jobs()[3].changed({key: mine}), draws=0)

    return act, {"file": file, "text": text}
