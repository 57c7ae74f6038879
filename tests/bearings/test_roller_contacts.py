"""Rollers between two rings: published load factor, remembered stiffness rules, and play."""

import numpy as np
import pytest

from workshop_lib.bearings.bearing_tables import Inside, catalogue
from workshop_lib.bearings.newton import rest
from workshop_lib.bearings.roller_contacts import RollerContacts

NU_202 = catalogue("NU 202").inside


def settled(contacts, radial):
    """Radial shift in m under a radial load in N."""
    load = np.array([[0.0, radial, 0.0]])
    found = rest(contacts.energy, load, np.zeros((1, 3)), 1e-4)
    assert found.converged.all()
    return found.position


def test_many_rollers_without_play_carry_the_published_factor():
    # Qmax = 4.08 Fr/Z for line contact without clearance: NSK E728g, eq. (5).
    contacts = RollerContacts(Inside(200, 1e-3, 80e-3, 5e-3, 0.0), 0.0)
    loads, _ = contacts.ball_loads(settled(contacts, 500.0), np.zeros(1, int))
    assert loads.max() * 200 / 500 == pytest.approx(4.08, abs=0.01)


def test_stiffness_agrees_with_palmgrens_rule():
    # Palmgren: d = 3.84e-5 Q^0.9/L^0.8 mm at each ring (remembered); ISO/TS 16281 differs by 4 %.
    contacts = RollerContacts(NU_202, 0.0)
    squeeze = (500 / contacts.constant) ** 0.9
    assert 1e3 * squeeze == pytest.approx(2 * 3.84e-5 * 500**0.9 / 4.9**0.8, rel=0.06)


def test_play_adds_to_the_shift_and_loads_fewer_rollers():
    tight, loose = (RollerContacts(NU_202, play) for play in (0.0, 12e-6))
    shifts = [settled(each, 300.0) for each in (tight, loose)]
    assert shifts[1][0, 1] > shifts[0][0, 1] + 6e-6 * 0.99
    counts = [
        (each.ball_loads(shift, None)[0] > 0).sum()
        for each, shift in zip((tight, loose), shifts, strict=True)
    ]
    assert counts[1] < counts[0]


def test_within_the_play_nothing_is_carried():
    contacts = RollerContacts(NU_202, 12e-6)
    height, force, stiff, size = contacts.energy(np.array([[0.0, 5.9e-6, 0.0]]), None)
    assert not height.any() and not force.any() and not stiff.any() and not size.any()
    beyond = contacts.energy(np.array([[0.0, 6.1e-6, 0.0]]), None)
    assert beyond[1][0, 1] > 0  # half of the play, which is on the diameter


def test_forces_add_up_and_are_the_slope_of_the_energy():
    contacts, step = RollerContacts(NU_202, 12e-6), 1e-9
    at = np.array([[0.0, 15e-6, 0.0]])
    height, force, stiff, _ = contacts.energy(at, None)
    loads, angles = contacts.ball_loads(at, None)
    assert (loads * contacts.cosines).sum() == pytest.approx(force[0, 1])
    assert not angles.any()
    nudge = np.array([[0.0, step, 0.0]])
    ahead, behind = (contacts.energy(at + sign * nudge, None) for sign in (1, -1))
    assert force[0, 1] == pytest.approx((ahead[0] - behind[0])[0] / (2 * step), rel=1e-6)
    assert stiff[0, 1, 1] == pytest.approx((ahead[1] - behind[1])[0, 1] / (2 * step), rel=1e-5)


def test_the_static_rating_presses_with_4000_mpa():
    # ISO 76: 5 C0/Z on one roller gives 4000 MPa; the printed C0 of NU 202 is 10 200 N.
    contacts = RollerContacts(NU_202, 0.0)
    inner, outer = contacts.pressures(np.array([5 * 10200 / 11]))
    assert inner[0] == pytest.approx(4e9, rel=0.01)
    assert outer[0] < inner[0]


def test_axial_shift_and_tilt_find_no_resistance():
    contacts = RollerContacts(NU_202, 0.0)
    shifted = contacts.energy(np.array([[1e-3, 10e-6, 1e-3]]), None)
    straight = contacts.energy(np.array([[0.0, 10e-6, 0.0]]), None)
    for one, other in zip(shifted, straight, strict=True):
        np.testing.assert_array_equal(one, other)
