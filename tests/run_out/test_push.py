"""The push test: clearance and stiffness by hand, by simulation, and what one force cannot tell."""

import numpy as np
import pytest

from workshop_lib.quantities import Q_, InputError
from workshop_lib.run_out.push import push_test

FORCES = np.array([-20, -10, -5, 5, 10, 20.0])


def pushed(clearance, stiffness, forces=FORCES, offset=3.0):
    """Readings in µm: clearance in µm, stiffness in N/µm."""
    return offset + forces / stiffness + clearance / 2 * np.sign(forces)


def solved(forces, microns, **settings):
    return push_test(Q_(forces, "N"), Q_(microns, "um"), **settings)


@pytest.mark.parametrize(("clearance", "stiffness"), [(10, 10), (40, 2), (0.5, 100)])
def test_clearance_and_stiffness_come_out(clearance, stiffness):
    found = solved(FORCES, pushed(clearance, stiffness))
    assert found.clearance.m_as("um") == pytest.approx(clearance)
    assert found.stiffness.m_as("N/um") == pytest.approx(stiffness)
    assert found.movement.m_as("um") == pytest.approx(clearance + 40 / stiffness)


def test_readings_without_force_do_not_count():
    forces = np.append(FORCES, [0, 0])
    values = np.append(pushed(10, 10), [-500, 900])
    assert solved(forces, values).clearance.m_as("um") == pytest.approx(10)
    assert solved(forces, values).movement.m_as("um") == pytest.approx(14)


def test_a_needle_that_runs_the_other_way_gives_the_same():
    found = solved(FORCES, -pushed(10, 10), direction="out")
    assert found.clearance.m_as("um") == pytest.approx(10)


def test_stated_uncertainty_is_the_spread_of_many_noisy_tests():
    luck = np.random.default_rng(1)
    found = [solved(FORCES, pushed(10, 10) + luck.normal(0, 0.5, 6)) for _ in range(1500)]
    spread = np.std([each.clearance.m_as("um") for each in found])
    stated = [each.clearance_uncertainty.m_as("um") for each in found]
    assert spread == pytest.approx(np.sqrt(np.mean(np.square(stated))), rel=0.08)


def test_one_size_of_push_cannot_tell_clearance_from_give():
    found = solved([-20, 20], pushed(10, 10, np.array([-20, 20.0])), graduation="1 um")
    assert found.movement.m_as("um") == pytest.approx(14)
    assert np.isnan(found.clearance.m)
    assert np.isnan(found.stiffness.m)
    assert "whole movement" in found.remarks[0]


def test_no_clearance_beyond_its_uncertainty_is_said():
    found = solved(FORCES, pushed(1, 10), graduation="10 um")
    assert any("none at all" in said for said in found.remarks)


def test_what_does_not_give_is_too_stiff_to_tell():
    found = solved(FORCES, pushed(10, 1e9), graduation="1 um")
    assert np.isnan(found.stiffness.m)
    assert any("too stiff" in said for said in found.remarks)


def test_three_pushes_without_a_graduation_own_up():
    forces = np.array([-20, 10, 20.0])
    found = solved(forces, pushed(10, 10, forces))
    assert found.clearance.m_as("um") == pytest.approx(10)
    assert any("no telling how sure" in said for said in found.remarks)


@pytest.mark.parametrize(
    ("name", "settings"),
    [
        ("forces", {"forces": ["10 N", "20 N"]}),
        ("forces", {"forces": ["0 N", "0 N"]}),
        ("forces", {"forces": ["-10 N", "-20 N"]}),
        ("forces", {"forces": ["1 mm", "2 mm"]}),
        ("readings", {"readings": ["1 N", "2 N"]}),
        ("readings", {"readings": [["1 um", "2 um"], ["1 um", "2 um"]]}),
        ("graduation", {"graduation": "0 um"}),
        ("graduation", {"graduation": ["1 um", "1 um"]}),
        ("direction", {"direction": "up"}),
    ],
)
def test_bad_input_is_refused_by_name(name, settings):
    good = {"forces": ["10 N", "-10 N"], "readings": ["1 um", "-1 um"]}
    with pytest.raises(InputError, match=f"^{name}: "):
        push_test(**{**good, **settings})


def test_pushes_of_one_size_repeated_tell_no_more_than_once():
    found = push_test(["20 N", "-20 N"] * 3, ["5 um", "-5 um", "6 um", "-4 um", "5 um", "-6 um"])
    assert np.isnan(found.clearance.m) and np.isnan(found.stiffness.m)
    assert found.movement.m_as("um") == pytest.approx(12)
