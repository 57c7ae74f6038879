"""Begun near its end or far from it, a search finds the same rest; and it is one spindle's sum."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from workshop_lib.bearings import STEEL_MODULUS
from workshop_lib.bearings.contact_sums import MOST_AT_ONCE, product
from workshop_lib.load_path import nose_shift, trace
from workshop_lib.load_path.design_tables import designs, find_design
from workshop_lib.load_path.shaft import Spindle
from workshop_lib.load_path.sweeps import FORCES, begin, round_thrust, spindle_of, swept
from workshop_lib.quantities import InputError

KEYS = [design.key for design in designs()]
FORCE = st.floats(0.02, 2000)


@given(st.sampled_from(KEYS), st.floats(0, 3000), FORCE, st.sampled_from(["elastic", "rigid"]))
def test_where_a_search_begins_does_not_change_its_end(key, thrust, side, shaft):
    spindle, forces = Spindle(find_design(key), shaft), np.array([side, 2 * side])
    near = begin(find_design(key), shaft, thrust, forces)
    begun = spindle.solve(np.full(2, thrust), forces, start=near)
    afar = spindle.solve(np.full(2, thrust), forces)
    assert begun.converged.all()
    np.testing.assert_allclose(begun.tip_shift, afar.tip_shift, rtol=1e-6, atol=1e-11)
    np.testing.assert_allclose(begun.radial, afar.radial, rtol=1e-6, atol=1e-5)
    np.testing.assert_allclose(begun.moment, afar.moment, rtol=1e-6, atol=1e-6)


@pytest.mark.parametrize("key", KEYS)
def test_a_given_shift_is_begun_between_two_of_the_sweep(key):
    tips, positions = swept(spindle_of(find_design(key)), round_thrust(600.0))
    between = begin(find_design(key), "elastic", 600.0, shifts=(tips[20:22].sum() / 2)[None])
    np.testing.assert_allclose(between[0], positions[20:22].mean(axis=0), rtol=1e-9, atol=1e-15)


def test_a_changed_design_begins_where_its_root_rests():
    root = find_design("pressure_nose")
    changed = root.changed(overhang="40 mm").changed(fit="30 um")
    assert changed.root is root
    forces = FORCES[[3, 40]]
    begun = begin(changed, "elastic", 600.0, forces)
    np.testing.assert_array_equal(begun, begin(root, "elastic", 600.0, forces))


def test_a_design_with_other_coordinates_begins_by_itself():
    pushed = find_design("pressure_nose").changed(rear_ring="pushed")
    assert begin(pushed, "elastic", 600.0, FORCES[:2]) is None
    assert nose_shift(pushed, "600 N", "50 N").m_as("mm") > 0


@given(st.floats(1e-3, 1e5))
def test_a_round_thrust_lies_near(thrust):
    assert 1 / 1.12 <= round_thrust(thrust) / thrust <= 1.12


@pytest.mark.parametrize("key", KEYS)
def test_all_contacts_together_are_the_sum_of_the_single_bearings(key):
    spindle, draw = Spindle(find_design(key)), np.random.default_rng(3)
    at = draw.normal(0, 2e-5, (7, len(spindle.tip)))
    at[:, 0] += 9e-5
    rows, together, alone = np.arange(7), [0, 0, 0, 0], [0, 0, 0, 0]
    for contacts in spindle.contacts:
        together = [a + b for a, b in zip(together, contacts.energy(at), strict=True)]
    for piece in spindle.pieces:
        height, force, stiff, size = piece.contacts.energy(at @ piece.rows.T + piece.offset, rows)
        part = height, force @ piece.rows, piece.rows.T @ stiff @ piece.rows, size
        alone = [a + b for a, b in zip(alone, part, strict=True)]
    assert alone[3].max() > 100
    for one, other in zip(together, alone, strict=True):
        np.testing.assert_allclose(one, other, rtol=1e-9, atol=1e-9 * np.abs(other).max())


@pytest.mark.parametrize("rows", [1, 7, 500])
def test_a_product_in_blocks_is_the_product(rows):
    draw = np.random.default_rng(1)
    left, right = draw.normal(size=(rows, 40)), draw.normal(size=(40, 90))
    assert (500 * right.size > MOST_AT_ONCE) and (7 * right.size < MOST_AT_ONCE)
    np.testing.assert_allclose(product(left, right), np.einsum("ij,jk->ik", left, right))


def test_a_bearing_without_load_shows_no_pressure():
    # The rear bearing of the nose stands loose in its bore while no side force acts.
    rear = trace("pressure_nose", "2446.7 N").reaction("rear")
    assert (rear.heaviest.m, rear.peak_pressure.m, rear.checks) == (0, 0, ())


def test_a_step_into_a_stiff_wall_ends_inside_it():
    """Hardly any force closes a play before a wall: a handful of looks, not a hundred."""
    calls, spindle = [], Spindle(find_design("pressure_nose"))
    whole = spindle.energy

    def counted(thrust, held):
        energy = whole(thrust, held)
        return lambda position, rows: (calls.append(1), energy(position, rows))[1]

    spindle.energy = counted
    found = spindle.solve(np.array([600.0]), np.array([0.01]))
    assert found.tip_shift[0] == pytest.approx(9e-6, abs=2e-8)  # half of a play of 18 µm
    assert len(calls) < 40


@pytest.mark.parametrize("key", KEYS)
def test_a_tip_half_a_metre_out_rests_under_every_force(key):
    long = Spindle(find_design(key).changed(overhang="480 mm"))
    assert long.solve(np.full(len(FORCES), 600.0), FORCES).converged.all()


def test_a_long_tip_bends_as_an_overhanging_beam_of_two_pieces():
    # F a²/(3 E) (a/I₁ + s/I₂), tip in front of two supports; any handbook of beams.
    long, force = find_design("pressure_nose").changed(overhang="200 mm"), 100.0
    front, rear = long.supports
    ahead, span = front.behind_tip, rear.behind_tip - front.behind_tip
    firm = [np.pi * each.shaft_ahead**4 / 64 for each in long.supports]
    by_hand = force * ahead**2 / (3 * STEEL_MODULUS) * (ahead / firm[0] + span / firm[1])
    bends, stays = (nose_shift.core(long, 600.0, force, shaft) for shaft in ("elastic", "rigid"))
    assert 0.85 * by_hand < bends - stays < by_hand  # the balls hold the slope a little


def test_a_nose_longer_than_any_tailstock_bears_is_refused_by_its_name():
    for name in ("overhang", "span"):
        with pytest.raises(InputError, match=f"{name}: 676 mm is longer .* Check the unit"):
            find_design("pressure_nose").changed(**{name: "676 mm"})
