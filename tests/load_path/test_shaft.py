"""The spindle on its bearings as one system: statics, beams by hand, and SciPy's root finder."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import root

from tests.references import bearing_reference
from workshop_lib.bearings.hertz import STEEL_MODULUS
from workshop_lib.load_path.design_tables import designs, find_design
from workshop_lib.load_path.shaft import ARM, LEAST, Spindle, beam

SPINDLES = {design.key: Spindle(design) for design in designs()}
SPINDLES["pushed"] = Spindle(
    find_design("pressure_nose").changed(rear_ring="pushed", spacing="8 um")
)
SPINDLES["gripped"] = Spindle(find_design("pressure_nose").changed(ring_friction=0.12))
SPINDLES["rigid"] = Spindle(find_design("roller_centre"), "rigid")
EACH = pytest.mark.parametrize("spindle", SPINDLES.values(), ids=SPINDLES)


# The beam


def bent(places, diameters, held, push):
    """Shift and slope of a beam at all places, some of them held, under a force at the first."""
    matrix = beam(np.array(places), diameters)
    free = [number for number in range(len(matrix)) if number not in held]
    load = np.zeros(len(matrix))
    load[0] = push
    moved = np.zeros(len(matrix))
    moved[free] = np.linalg.solve(matrix[np.ix_(free, free)], load[free])
    moved[1::2] /= ARM
    return moved


def test_a_cantilever_bends_by_the_textbook():
    # F L³/(3 E I) and slope F L²/(2 E I); clamped at the far end, pushed at the tip.
    length, diameter, push = 0.1, 0.01, 50.0
    rigidity = STEEL_MODULUS * np.pi * diameter**4 / 64
    moved = bent([0, length], [diameter], (2, 3), push)
    assert moved[0] == pytest.approx(push * length**3 / (3 * rigidity))
    assert moved[1] == pytest.approx(push * length**2 / (2 * rigidity))  # towards the tip: rising


def test_an_overhanging_spindle_bends_by_the_textbook():
    # On two hinges, overhang a and span L: tip shift F a² (a + L)/(3 E I).
    over, span, diameter, push = 0.03, 0.05, 0.012, 80.0
    rigidity = STEEL_MODULUS * np.pi * diameter**4 / 64
    moved = bent([0, over, over + span], [diameter, diameter], (2, 4), push)
    assert moved[0] == pytest.approx(push * over**2 * (over + span) / (3 * rigidity))


def test_a_beam_in_more_pieces_is_the_same_beam():
    coarse = bent([0, 0.1], [0.01], (2, 3), 50.0)
    fine = bent([0, 0.02, 0.07, 0.1], [0.01] * 3, (6, 7), 50.0)
    assert fine[0] == pytest.approx(coarse[0], rel=1e-9)


def test_a_beam_does_not_resist_being_moved_or_turned():
    matrix = beam(np.array([0, 0.03, 0.08]), [0.02, 0.015])
    shifted = np.tile([1.0, 0.0], 3)
    turned = np.ravel([[-place, ARM] for place in (0, 0.03, 0.08)])
    scale = np.abs(matrix).max()
    assert np.abs(matrix @ shifted).max() < 1e-9 * scale
    assert np.abs(matrix @ turned).max() < 1e-9 * scale


# Statics of the whole


def balance(spindle, loaded, thrust, side):
    """What is missing in the sums of forces and of moments about the tip."""
    behind = np.array([piece.support.behind_tip for piece in spindle.pieces])
    return (
        loaded.axial.sum(axis=1) - thrust,
        loaded.radial.sum(axis=1) - side,
        (loaded.moment - loaded.radial * behind).sum(axis=1),
    )


@EACH
def test_reactions_add_up_to_the_load(spindle):
    thrust, side = (grid.ravel() for grid in np.meshgrid([0.0, 5, 300, 1800], [LEAST, 1, 40, 900]))
    loaded = spindle.solve(thrust, side)
    assert loaded.converged.all()
    for missing in balance(spindle, loaded, thrust, side):
        assert np.abs(missing).max() < 1e-5


@given(st.floats(0, 3000), st.floats(LEAST, 1000), st.sampled_from(list(SPINDLES)))
def test_reactions_add_up_for_any_load(thrust, side, name):
    spindle = SPINDLES[name]
    loaded = spindle.solve(np.array([thrust]), np.array([side]))
    assert loaded.converged.all()
    for missing in balance(spindle, loaded, thrust, side):
        assert np.abs(missing).max() < 1e-5


@EACH
def test_the_tip_goes_further_the_harder_it_is_pushed(spindle):
    side = np.geomspace(LEAST, 1000, 60)
    for thrust in (0.0, 600.0):
        shifts = spindle.solve(np.full(60, thrust), side).tip_shift
        assert np.all(np.diff(shifts) > 0)


@EACH
def test_a_shift_that_is_given_asks_for_the_force_that_gives_it(spindle):
    side = np.array([2.0, 30.0, 300.0])
    thrust = np.full(3, 600.0)
    shift = spindle.solve(thrust, side).tip_shift
    assert spindle.solve(thrust, shift=shift).push == pytest.approx(side, rel=1e-4)


@EACH
def test_many_cases_at_once_are_the_cases_one_by_one(spindle):
    thrust, side = np.array([0.0, 100, 600, 600]), np.array([5.0, 50, 5, 500])
    together = spindle.solve(thrust, side)
    for row in range(4):
        alone = spindle.solve(thrust[row : row + 1], side[row : row + 1])
        assert together.tip_shift[row] == pytest.approx(alone.tip_shift[0], rel=1e-5)
        np.testing.assert_allclose(together.radial[row], alone.radial[0], rtol=1e-4, atol=1e-4)


@EACH
def test_where_the_search_begins_does_not_matter(spindle):
    thrust, side = np.full(3, 400.0), np.array([1.0, 20.0, 200.0])
    found = spindle.solve(thrust, side)
    afar = found.position + 3e-5 * np.random.default_rng(1).normal(size=found.position.shape)
    again = spindle.solve(thrust, side, start=afar)
    np.testing.assert_allclose(again.tip_shift, found.tip_shift, rtol=1e-6)


def test_a_bending_spindle_gives_more_than_a_rigid_one():
    side, thrust = np.array([1.0, 50, 400]), np.full(3, 600.0)
    for design in designs():
        elastic, rigid = (
            Spindle(design, each).solve(thrust, side) for each in ("elastic", "rigid")
        )
        assert np.all(elastic.tip_shift > rigid.tip_shift)


def test_a_spindle_of_great_thickness_is_a_rigid_one():
    design = find_design("roller_centre")
    thick = tuple(replace(each, shaft_ahead=0.3) for each in design.supports)
    stout = Spindle(replace(design, supports=thick))
    side, thrust = np.array([1.0, 50, 400]), np.full(3, 600.0)
    rigid = Spindle(design, "rigid").solve(thrust, side)
    assert stout.solve(thrust, side).tip_shift == pytest.approx(rigid.tip_shift, rel=1e-3)
    bends = []  # E I grows with the fourth power of the diameter; the rest is in the bearings
    for thick in (0.04, 0.08):
        made = tuple(replace(each, shaft_ahead=thick) for each in design.supports)
        found = Spindle(replace(design, supports=made)).solve(thrust, side)
        bends.append((found.tip_shift - rigid.tip_shift)[2])
    assert bends[0] / bends[1] == pytest.approx(16, rel=0.1)


@pytest.mark.parametrize("design", designs(), ids=lambda each: each.key)
def test_the_shaft_ahead_of_the_first_bearing_bends_like_a_cantilever(design):
    """Behind it nothing changes: F a³/(3 E I) more at the tip, I = π d⁴/64, however it is borne."""
    first, *others = design.supports
    reach, side, thrust = first.behind_tip, np.array([5.0, 50.0, 300.0]), np.full(3, 600.0)
    shifts, bends = [], []
    for diameter in (first.shaft_ahead, 1.5 * first.shaft_ahead):
        supports = (replace(first, shaft_ahead=diameter), *others)
        found = Spindle(replace(design, supports=supports)).solve(thrust, side)
        shifts.append(found.tip_shift)
        bends.append(side * reach**3 / (3 * STEEL_MODULUS * np.pi * diameter**4 / 64))
    bent = bends[0] - bends[1]
    assert shifts[0] - shifts[1] == pytest.approx(bent, rel=1e-4, abs=1e-10)


# SciPy's root finder on the pressure nose, put together a second way


def test_the_pressure_nose_agrees_with_a_root_finder():
    """Rigid spindle, rings against the sides of their bore, statics written out by hand."""
    design = find_design("pressure_nose")
    front, rear = (
        bearing_reference.Bearing(8, 5.953e-3, 25.2e-3, 0.52, 0.53, each.clearance)
        for each in design.supports
    )
    places = [each.behind_tip for each in design.supports]
    thrust, side, gap = 600.0, 200.0, design.supports[0].fit / 2
    loaded = Spindle(design, "rigid").solve(np.array([thrust]), np.array([side]))
    assert loaded.radial[0, 0] > 0 > loaded.radial[0, 1]  # so the rings lie on opposite sides

    def miss(unknown):
        back, tip, slope, rear_back = unknown * (1e-5, 1e-5, 1e-4, 1e-6)
        at = [tip - place * slope for place in places]
        one = front.forces(back, at[0] - gap, slope)
        other = rear.forces(rear_back, at[1] + gap, slope)
        turning = one[2] + other[2] - places[0] * one[1] - places[1] * other[1]
        sums = (one[0] - thrust, one[1] + other[1] - side, turning / 0.01, other[0])
        return np.array(sums) / side

    start = loaded.position[0, [0, 1, 2]] * (1, 1, 1 / ARM) * 1.01
    found = root(miss, np.append(start, 1e-9) / (1e-5, 1e-5, 1e-4, 1e-6), tol=1e-12)
    assert np.abs(found.fun).max() < 1e-8
    # The bore of the library gives by 0.1 nm for each newton: a few thousandths of this shift.
    assert loaded.tip_shift[0] == pytest.approx(1e-5 * found.x[1], rel=0.003)
    at_front = 1e-5 * found.x[1] - places[0] * 1e-4 * found.x[2] - gap
    expected = front.forces(1e-5 * found.x[0], at_front, 1e-4 * found.x[2])
    assert loaded.radial[0, 0] == pytest.approx(expected[1], rel=0.02)
    assert loaded.moment[0, 0] == pytest.approx(expected[2], rel=0.02)
