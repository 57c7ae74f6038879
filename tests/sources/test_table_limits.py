"""The least and the most that each column of a table takes: a slip of the unit is refused there.

Shares, Poisson's ratio and angles have the limits that nature gives them; the others are wide
enough for anything in a workshop and too narrow for millimetres typed as micrometres.
"""

import pytest

from workshop_lib.bearings import bearing_loads, bearing_tables, clearances, fits
from workshop_lib.gauges import gauge_tables
from workshop_lib.load_path.design_tables import _DESIGN_COLUMNS, _STEP_COLUMNS, _SUPPORT_COLUMNS
from workshop_lib.materials import material_tables
from workshop_lib.overhang import spreading
from workshop_lib.quantities import InputError
from workshop_lib.run_out import causes, clocking_list, weighing
from workshop_lib.slip import holding

LIMITS = [
    (bearing_tables._COLUMNS, "bore_mm", 1, 100),
    (bearing_tables._COLUMNS, "diameter_series", 0, 9),
    (bearing_tables._COLUMNS, "f0", 5, 20),
    (bearing_tables._COLUMNS, "minimum_load_kN", 0, 100),
    (bearing_tables._COLUMNS, "elements", 3, 200),
    (bearing_tables._COLUMNS, "length_mm", 1, 100),
    (bearing_tables._COLUMNS, "angle_deg", 0, 90),
    (bearing_tables._RATING_COLUMNS, "dynamic_N", 1, 1e7),
    (bearing_loads._COLUMNS, "load_ratio", 0, 10),
    (clearances._COLUMNS, "up_to_mm", 0, 1000),
    (clearances._COLUMNS, "high_um", 0, 1000),
    (fits._COLUMNS, "value_um", 0, 1000),
    (gauge_tables._COLUMNS, "gauge", 0, 99),
    (gauge_tables._COLUMNS, "weight_oz_per_ft2", 0.1, 1000),
    (gauge_tables._COLUMNS, "thickness_in", 0.0001, 1),
    (gauge_tables._TOLERANCE_COLUMNS, "up_to_in", 0.0001, 1),
    (gauge_tables._TOLERANCE_COLUMNS, "tolerance_in", 0.0001, 0.1),
    (_DESIGN_COLUMNS, "preload_N", 0, 1e5),
    (_SUPPORT_COLUMNS, "behind_tip_mm", 0, 1000),
    (_SUPPORT_COLUMNS, "faces", 1, 2),
    (_STEP_COLUMNS, "order", 1, 99),
    (_STEP_COLUMNS, "outer_mm", 0, 1000),
    (material_tables._MATERIAL_COLUMNS, "kc_typical_N_per_mm2", 1, 20_000),
    (material_tables._MATERIAL_COLUMNS, "chip_exponent", 0, 0.99),
    (material_tables._MATERIAL_COLUMNS, "density_kg_per_m3", 10, 25_000),
    (material_tables._MATERIAL_COLUMNS, "youngs_modulus_GPa", 0.001, 1000),
    (material_tables._MATERIAL_COLUMNS, "poisson_ratio", 0, 0.5),
    (material_tables._MATERIAL_COLUMNS, "yield_MPa", 0.1, 5000),
    (material_tables._FACING_COLUMNS, "low", 0.001, 2),
    (material_tables._FACING_COLUMNS, "highest_pressure_MPa", 0.001, 1000),
    (spreading._COLUMNS, "typical", 0.01, 1e6),
    (causes._COLUMNS, "harmonic", 0, 60),
    (causes._COLUMNS, "slip", 0, 1),
    (causes._COLUMNS, "arm_mm", 0, 1000),
    (causes._COLUMNS, "high_um", 0, 10_000),
    (clocking_list._COLUMNS, "position_mm", 0, 1000),
    (clocking_list._COLUMNS, "index_deg", -360, 360),
    (clocking_list._COLUMNS, "ease", 0.01, 1),
    (weighing._COLUMNS, "factor", 1, 1e6),
    (weighing._SETTINGS, "value", 1e-6, 1e6),
    (holding._COLUMNS, "high", 1e-6, 1e6),
]


@pytest.mark.parametrize(("columns", "name", "low", "high"), LIMITS)
def test_a_cell_is_taken_up_to_its_limits_and_no_further(columns, name, low, high):
    whole = isinstance(columns[name](str(high)), int)
    step = 1 if whole else 1e-3 * (high - low) / 2
    assert columns[name](str(low)) == low and columns[name](str(high)) == high
    below = low - step if whole or low <= 0 else 0.99 * low
    for cell in (below, high + step):
        with pytest.raises(InputError, match="is not between"):
            columns[name](f"{cell:.12g}")


def test_shares_of_a_cause_are_from_none_to_all():
    assert causes._shares("disc:1 nose:0-1") == {"disc": (1, 1), "nose": (0, 1)}
    for cell in ("disc:1.001", "disc:-0.001"):
        with pytest.raises(InputError):
            causes._shares(cell)
