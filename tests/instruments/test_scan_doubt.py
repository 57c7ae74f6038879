"""What a scanned diameter's uncertainty is made of: worked by hand after the GUM."""

from types import SimpleNamespace

import numpy as np
import pytest

from workshop_lib.instruments.scan_doubt import budget, roundness_doubt, total
from workshop_lib.materials import find_material

PIXEL = 1e-4  # m
EDGE = SimpleNamespace(slope=0.5, lean=0.02)


def scale(reference=None):
    return SimpleNamespace(
        matrix=np.diag([PIXEL, PIXEL]), reference=reference, relative=0.001, aspect=0.0004
    )


def parts(diameter, known, celsius=20.0, material=None):
    factor, found = budget(diameter, EDGE, known, (2e-6, 400), material, celsius)
    sizes = [size for _, size in found]
    assert sizes == sorted(sizes, reverse=True)
    return factor, {name.split(" ")[0]: size for name, size in found}


def test_each_part_is_what_hand_working_gives():
    """A level off by 3 % of the step moves an edge of slope 0.5 in each pixel by 0.06 pixel."""
    factor, found = parts(0.1, scale())
    assert factor == 1.0
    assert found["size"] == pytest.approx(0.1 * 0.001)
    assert found["level"] == pytest.approx(2 * 0.06 * PIXEL / 3**0.5)
    assert found["shape"] == pytest.approx(2 * 0.02 * PIXEL / 3**0.5)
    assert found["noise"] == pytest.approx(2 * 2e-6 / 10)  # 400 points, four to a pixel's noise
    assert found["carriage"] == pytest.approx(50e-6 / 3**0.5)


def test_a_smaller_known_piece_hands_its_edges_on_enlarged():
    """Half as large: the doubt of its edges counts twice, beside the disc's own: sqrt(1 + 4)."""
    alone, beside = parts(0.1, scale())[1], parts(0.1, scale(0.05))[1]
    for name in ("level", "shape"):
        assert beside[name] / alone[name] == pytest.approx(5**0.5)


@pytest.mark.parametrize(
    ("sheet", "reference", "celsius", "wanted", "doubt"),
    [
        # aluminium 21, 23, 24 in the table: 23 ± 2; read to 2 K: 23 × 2 and 2 × 10, squared, summed
        ("aluminium", None, 30.0, 1 - 230e-6, np.hypot(46, 20)),
        # beside steel (12) what counts is 11 more
        ("aluminium", 0.05, 30.0, 1 - 110e-6, np.hypot(22, 20)),
        ("aluminium", 0.05, 10.0, 1 + 110e-6, np.hypot(22, 20)),
        # nobody looked: 20 ± 10 °C
        ("aluminium", None, None, 1.0, np.hypot(230, 20)),
        # some metal: 17 ± 6
        (None, None, 20.0, 1.0, np.hypot(34, 12)),
    ],
)
def test_warmth_is_what_hand_working_gives(sheet, reference, celsius, wanted, doubt):
    sheet = sheet and find_material(sheet)
    factor, found = parts(0.1, scale(reference), celsius, sheet)
    assert factor == pytest.approx(wanted, abs=1e-12)
    assert found["temperature"] == pytest.approx(0.1 * doubt * 1e-6 / 3**0.5)


def test_parts_add_as_squares():
    assert total([("a", 3e-6), ("b", 4e-6)]) == pytest.approx(5e-6)
    wanted = np.sqrt(4e-6**2 + (0.05 * 0.0004) ** 2 + (50e-6) ** 2 / 3)
    assert roundness_doubt(0.1, 2e-6, scale()) == pytest.approx(wanted)
