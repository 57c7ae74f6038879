"""Natural frequencies against the reference table, SciPy's Bessel functions and finite elements."""

import numpy as np
import pytest

from tests.references.plate_reference import Elements, bessel_parameter
from workshop_lib.overhang.vibration import frequency_parameters

# Four-by-four determinant, nu = 0.3, n = 0 to 3 (reference data; the published tables of Leissa and
# of Vogel and Skinner, as remembered, agree but for n = 1 at 0.1 and 0.3).
TABLE = {
    0.1: (4.237, 3.478, 5.623, 12.451),
    0.2: (5.181, 4.813, 6.447, 12.615),
    0.3: (6.660, 6.552, 7.956, 13.276),
    0.4: (9.021, 9.115, 10.465, 14.963),
    0.5: (13.024, 13.290, 14.704, 18.562),
    0.6: (20.522, 20.936, 22.501, 25.980),
    0.7: (36.953, 37.498, 39.277, 42.654),
}
THIRD = {  # the same for nu = 1/3
    0.1: (4.263, 3.480, 5.516, 12.233),
    0.3: (6.701, 6.560, 7.855, 13.050),
    0.5: (13.089, 13.313, 14.608, 18.310),
    0.7: (37.069, 37.567, 39.208, 42.383),
}


@pytest.mark.parametrize(("nu", "table"), [(0.3, TABLE), (1 / 3, THIRD)])
def test_parameters_are_those_of_the_table_to_its_last_digit(nu, table):
    found = frequency_parameters(list(table), nu, range(4))
    assert found == pytest.approx(np.array(list(table.values())), abs=6e-4)


@pytest.mark.parametrize("ratio", [0.05, 0.3, 0.62, 0.9])
@pytest.mark.parametrize("nu", [0.2, 0.38])
def test_parameters_are_roots_of_the_bessel_determinant(ratio, nu):
    orders = [0, 1, 2, 5, 11]
    found = frequency_parameters(ratio, nu, orders)
    exact = [bessel_parameter(ratio, n, nu) for n in orders]
    assert found == pytest.approx(exact, rel=1e-6)


def test_small_pads_are_known_to_a_ten_thousandth():
    found = frequency_parameters(0.01, 0.3, range(12))
    assert found == pytest.approx([bessel_parameter(0.01, n, 0.3) for n in range(12)], rel=1e-4)


def test_finite_elements_ring_alike():
    found = frequency_parameters(0.3, 0.3, range(4))
    pairs = np.sort(np.concatenate([found, found[1:]]))  # all but n = 0 come twice
    elements = Elements(0.3, 0.3, 8, 48).frequency_parameters(7)
    assert elements == pytest.approx(pairs, rel=2e-4)
    assert (elements > pairs).all()


def test_a_narrow_overhang_rings_like_a_cantilever():
    # 1.875 104² = 3.516 015, any textbook's first root of cos x cosh x = −1.
    for overhang, within in ((1e-2, 1e-2), (1e-4, 1e-4)):
        found = frequency_parameters(1 - overhang, 0.3, [0, 1, 2]) * overhang**2
        assert found == pytest.approx([3.516015] * 3, rel=within)


def test_a_mere_point_of_a_pad_leaves_the_umbrella_of_a_disc_held_at_its_centre():
    # Harris, Shock and Vibration Handbook, as quoted at ns2.engineersedge.com (vibration, plates of
    # uniform thickness): omega = 4.35 sqrt(E t²/(rho d⁴(1 − nu²))), d the diameter, for a disc
    # clamped at its centre: lambda² = 4.35 sqrt(12)/4 = 3.767, to three figures.
    assert frequency_parameters(0.01, 0.3, [0])[0] == pytest.approx(
        4.35 * np.sqrt(12) / 4, rel=2e-3
    )


def test_larger_pads_ring_higher():
    found = frequency_parameters(np.linspace(0.02, 0.98, 60), 0.3, range(5))
    assert (np.diff(found, axis=0) > 0).all()


def test_the_rim_tips_before_it_nods_on_a_small_pad():
    ratios = np.array([0.1, 0.3, 0.35, 0.352, 0.5])  # they change places at 0.3507
    nods, tips = frequency_parameters(ratios, 0.3, [0, 1]).T
    assert list(tips < nods) == [True, True, True, False, False]
    exact = [np.subtract(*(bessel_parameter(ratio, n, 0.3) for n in (1, 0))) for ratio in ratios]
    assert list(np.array(exact) < 0) == [True, True, True, False, False]


def test_shapes_broadcast_with_the_orders_last():
    found = frequency_parameters([[0.2], [0.5]], [0.25, 0.3, 0.35], [0, 2])
    assert found.shape == (2, 3, 2)
    assert found[1, 2] == pytest.approx(frequency_parameters(0.5, 0.35, [0, 2]), rel=1e-10)


def test_many_plates_go_in_blocks():
    ratios = np.linspace(0.1, 0.9, 600)
    found = frequency_parameters(ratios, 0.3, [1])
    assert found[-1] == pytest.approx(frequency_parameters(0.9, 0.3, [1]), rel=1e-10)
    assert found.shape == (600, 1)
