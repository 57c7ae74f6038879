"""A teacher's own rows in the tables of materials and facings: they appear, or are refused."""

import shutil

import pytest

from tests.conftest import stand_in
from workshop_lib import materials
from workshop_lib.materials import facing, facings, find_material, friction
from workshop_lib.quantities import Q_, InputError
from workshop_lib.sources import csv_tables

STRANGE = (
    "unheard_of,metal never heard of,metal,,1000,1400,1800,0.23,from-memory,4510,from-memory,105,"
    "from-memory,0.34,from-memory,275,from-memory,6,10,15,30,45,60,from-memory,\n"
)


@pytest.fixture
def folder(tmp_path, monkeypatch):
    for name in ("materials.csv", "facings.csv"):
        shutil.copy(csv_tables.BUILT_IN / name, tmp_path)
    stand_in(monkeypatch, tmp_path)
    return tmp_path


def add(folder, name, row):
    with (folder / name).open("a", encoding="utf-8", newline="") as file:
        file.write(row)


def test_an_added_material_appears_everywhere(folder):
    with pytest.raises(InputError):
        find_material("unheard_of")
    add(folder, "materials.csv", STRANGE)
    assert materials.materials()[-1] is find_material("unheard_of")
    assert find_material("unheard_of").youngs_modulus == Q_(105, "GPa")
    assert find_material("unheard_of").standing("density") == "from memory"
    assert friction("leather", "unheard_of").low == friction("leather", "brass").low


def test_an_added_facing_appears_everywhere(folder):
    add(folder, "facings.csv", "cheese,hard cheese,any,dry,0.1,0.2,0.3,0.02,from-memory,No.\n")
    assert facings()[-1] is facing("cheese")
    assert tuple(friction("cheese", "pvc")) == (0.1, 0.2, 0.3)
    assert facing("cheese").highest_pressure == Q_(0.02, "MPa")
    with pytest.raises(InputError, match="^facing: no value .*hard cheese .*PVC.*oily"):
        friction("cheese", "pvc", "oily")


def test_the_row_for_the_sheet_goes_before_its_family_and_that_before_any(folder):
    start = friction("leather", "brass").low
    assert friction("leather", "acrylic").low != start  # family metal against any
    add(folder, "facings.csv", "leather,leather,brass,dry,0.01,0.02,0.03,,from-memory,\n")
    assert friction("leather", "brass").low == 0.01
    assert friction("leather", "copper").low == start


BAD_MATERIALS = [
    (STRANGE.replace("1000,1400", "1500,1400"), "kc_low_N_per_mm2 .1500. is greater than"),
    (STRANGE.replace("0.23,from-memory", "0.23,"), "kc_source ‘’ is not the key of a source"),
    (STRANGE.replace("0.23,from-memory", "0.23,hearsay"), "kc_source ‘hearsay’ is not a source"),
    (STRANGE.replace("4510", "heavy"), "density_kg_per_m3 ‘heavy’ is not a number"),
    (STRANGE.replace("0.34", "0.6"), "poisson_ratio ‘0.6’ is not between 0 and 0.5"),
    (STRANGE.replace(",metal,", ",metall,"), "family ‘metall’ is not .* Did you mean metal"),
    (STRANGE.replace(",metal,,", ",metal,gold,"), "gauge_table ‘gold’ is not"),
    (STRANGE.replace("unheard_of,", "brass,", 1), "‘brass’ is in line 6 already"),
    (STRANGE.replace(",\n", ",,\n"), "this row has 26 cells, but there are 25"),
]
BAD_FACINGS = [
    ("cheese,cheese,any,dry,0.3,0.2,0.4,,from-memory,\n", "low .0.3. is greater than typical"),
    ("cheese,cheese,any,dry,0.1,0.2,2.4,,from-memory,\n", "high ‘2.4’ is not between"),
    ("cheese,cheese,any,dry,0,0.2,0.4,,from-memory,\n", "low ‘0’ is not between"),
    ("cheese,cheese,any,damp,0.1,0.2,0.4,,from-memory,\n", "condition ‘damp’ is not"),
    ("cheese,cheese,bras,dry,0.1,0.2,0.4,,from-memory,\n", "sheet ‘bras’ .* Did you mean brass"),
    ("cheese,cheese,any,dry,0.1,0.2,0.4,,,\n", "source ‘’ is not the key of a source"),
    ("cork,corks,brass,dry,0.1,0.2,0.4,,from-memory,\n", "cork is named ‘cork’ in line"),
    ("cork,cork,any,dry,0.1,0.2,0.4,,from-memory,\n", "‘cork any dry’ is in line"),
]


@pytest.mark.parametrize(("row", "said"), BAD_MATERIALS)
def test_a_bad_material_is_named_by_its_line(folder, row, said):
    line = len((folder / "materials.csv").read_text(encoding="utf-8").splitlines()) + 1
    add(folder, "materials.csv", row)
    with pytest.raises(InputError, match=f"^materials.csv, line {line}: {said}"):
        find_material("brass")


@pytest.mark.parametrize(("row", "said"), BAD_FACINGS)
def test_a_bad_facing_is_named_by_its_line(folder, row, said):
    line = len((folder / "facings.csv").read_text(encoding="utf-8").splitlines()) + 1
    add(folder, "facings.csv", row)
    with pytest.raises(InputError, match=f"^facings.csv, line {line}: {said}"):
        facing("cork")
