"""Rest positions of batches: right, complete, and silent about nothing."""

import numpy as np
import pytest

from workshop_lib.bearings.newton import NoRest, rest
from workshop_lib.quantities import InputError

MICRON = 1e-6


def spring(constant, power=1.5, gap=0.0):
    """A one-sided spring c d^power behind a gap, alike in two directions."""

    def energy(position, rows):
        squeeze = np.maximum(np.abs(position) - gap, 0.0)
        load = constant * squeeze**power
        height = (load * squeeze).sum(axis=1) / (power + 1)
        stiff = power * constant * squeeze ** (power - 1) * (squeeze > 0)
        matrix = stiff[:, :, None] * np.eye(position.shape[1])
        return height, np.sign(position) * load, matrix, load.sum(axis=1)

    return energy


@pytest.mark.parametrize("gap", [0.0, 5 * MICRON, 40 * MICRON])
@pytest.mark.parametrize("power", [1.0, 10 / 9, 1.5, 3.0])
def test_one_sided_springs_rest_where_the_formula_says(power, gap):
    constant = 1e7 * (10 * MICRON) ** (1 - power)
    load = np.array([[1e-2, -3.0], [5.0, 40.0], [-400.0, 900.0], [0.0, 7.0]])
    found = rest(spring(constant, power, gap), load, np.zeros_like(load), 1e-4)
    expected = np.sign(load) * (gap + (np.abs(load) / constant) ** (1 / power))
    assert found.converged.all()
    loaded = load != 0
    np.testing.assert_allclose(found.position[loaded], expected[loaded], rtol=1e-6)
    assert np.all(found.residual <= 1e-6)


def test_nothing_moves_without_load():
    found = rest(spring(1e10), np.zeros((3, 2)), np.zeros((3, 2)), 1e-4)
    assert found.converged.all()
    assert not found.position.any()


def test_each_row_keeps_its_own_parameters():
    places = np.array([[1.0], [2.0], [3.0]]) * MICRON

    def energy(position, rows):
        away = position - places[rows]
        stiff = np.full((len(rows), 1, 1), 1e6)
        force = 1e6 * away
        return 5e5 * (away**2).sum(axis=1), force, stiff, np.abs(force).sum(axis=1)

    found = rest(energy, np.zeros((3, 1)), np.zeros((3, 1)), 1e-4)
    np.testing.assert_allclose(found.position, places, rtol=1e-6)


def test_a_load_that_nothing_holds_is_never_an_answer():
    def energy(position, rows):
        """A spring that gives up: its force never exceeds 10 N."""
        force = 10 * np.tanh(position / 1e-5)
        height = 1e-4 * np.log(np.cosh(np.minimum(np.abs(position) / 1e-5, 300))).sum(axis=1)
        stiff = (1e6 / np.cosh(np.minimum(np.abs(position) / 1e-5, 300)) ** 2)[:, :, None]
        return height, force, stiff, np.abs(force).sum(axis=1)

    found = rest(energy, np.array([[5.0], [20.0]]), np.zeros((2, 1)), 1e-4)
    assert found.converged.tolist() == [True, False]
    assert found.position[0, 0] == pytest.approx(1e-5 * np.arctanh(0.5), rel=1e-6)
    assert np.isnan(found.position[1, 0])
    assert found.residual[1] == pytest.approx(10, rel=1e-3)


def test_a_hard_row_does_not_spoil_its_neighbours():
    load = np.array([[3.0], [1e7], [1e-2]])
    together = rest(spring(1e10), load, np.zeros_like(load), 1e-4)
    for row in range(3):
        alone = rest(spring(1e10), load[row : row + 1], np.zeros((1, 1)), 1e-4)
        assert together.position[row, 0] == pytest.approx(alone.position[0, 0], rel=1e-9)


def test_rows_that_fail_at_once_are_tried_again_in_parts():
    """A wall too far off for a hundred steps of the reach; parts of the load go on from there."""
    calls = []

    def energy(position, rows):
        calls.append(len(rows))
        return spring(1e10, 1.5, 2e-3)(position, rows)

    load = np.array([[500.0]])
    found = rest(energy, load, np.zeros((1, 1)), 1e-5)  # 200 steps of reach to the wall
    assert found.converged.all()
    assert found.steps > 100
    expected = 2e-3 + (500 / 1e10) ** (2 / 3)
    assert found.position[0, 0] == pytest.approx(expected, rel=1e-9)


def test_no_rest_is_an_input_error_so_that_panels_can_show_it():
    assert issubclass(NoRest, InputError)


def test_a_force_that_levels_off_is_still_brought_to_rest():
    # F = 100 N × arctan(x / 1 mm): from beyond 1.39 mm plain Newton steps run away to either side.
    def energy(position, rows):
        at = position / 1e-3
        height = 0.1 * (at * np.arctan(at) - np.log1p(at**2) / 2).sum(axis=1)
        force, slope = 100 * np.arctan(at), 1e5 / (1 + at**2)
        return height, force, slope[:, :, None], np.abs(force).sum(axis=1)

    load = np.array([[0.0], [50.0], [-120.0]])
    found = rest(energy, load, np.full((3, 1), 3e-3), 1.0)
    assert found.converged.all()
    np.testing.assert_allclose(found.position, 1e-3 * np.tan(load / 100), atol=1e-11)
