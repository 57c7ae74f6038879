"""Tipping the disc off its pad, against sums over small areas and against hand working."""

import numpy as np
import pytest

from workshop_lib.friction import Pad
from workshop_lib.friction.tilt import contact, tilt_force, tilt_limit
from workshop_lib.quantities import Q_, InputError

FULL, RELIEVED = Pad("30 mm"), Pad("30 mm", "18 mm")
EACH_PAD = pytest.mark.parametrize("pad", [FULL, RELIEVED, Pad("30 mm", "29 mm")])
GRID = (np.arange(4000) + 0.5) / 2000 - 1


def by_areas(pad, edge):
    """Offset over r_o, share of the face and peak over mean of a pressure max(x − edge, 0).

    Strips across the pad: at x the chord of the outer circle less that of the inner one.
    """
    chord = np.sqrt(1 - GRID**2) - np.sqrt(np.maximum(pad.relief**2 - GRID**2, 0))
    pressure = np.maximum(GRID - edge, 0)
    total = (chord * pressure).sum()
    share = chord[pressure > 0].sum() / chord.sum()
    return (chord * pressure * GRID).sum() / total, share, (1 - edge) * chord.sum() / total


def test_a_full_pad_lifts_at_a_quarter_of_its_radius():
    assert tilt_limit(FULL, "600 N").m_as("N*m") == pytest.approx(600 * 0.015 / 4)


@EACH_PAD
def test_the_limit_is_where_the_pressure_at_one_edge_is_just_gone(pad):
    offset, _, peak = by_areas(pad, -1.0)
    limit = tilt_limit(pad, "600 N").m_as("N*m")
    assert limit == pytest.approx(600 * pad.outer_radius * offset, rel=1e-4)
    assert peak == pytest.approx(2, rel=1e-4)


def test_relief_by_hand():
    # (15² + 9²) / (4 × 15) = 5.1 mm against 3.75 mm of the full pad.
    assert tilt_limit(RELIEVED, "600 N").m_as("N*mm") == pytest.approx(600 * 5.1)
    assert tilt_force(RELIEVED, "600 N", "102 mm").m_as("N") == pytest.approx(60)


def test_limits_grow_in_step_with_thrust_and_size():
    limits = tilt_limit(Pad(Q_([[30.0], [60.0]], "mm")), Q_([100.0, 300.0], "N")).m_as("N*m")
    assert limits == pytest.approx(limits[0, 0] * np.array([[1, 3], [2, 6]]))
    forces = tilt_force(FULL, "600 N", Q_([50.0, 100.0], "mm")).m_as("N")
    assert forces[0] == pytest.approx(2 * forces[1])


@EACH_PAD
@pytest.mark.parametrize("edge", [-0.9, -0.5, 0.0, 0.4, 0.8])
def test_a_lifted_pad_bears_as_a_sum_over_its_strips_says(pad, edge):
    offset, share, peak = by_areas(pad, edge)
    force = Q_(offset * pad.outer_radius * 600 / 0.05, "N")
    found = contact(pad, "600 N", force, "100 mm")
    assert found.share == pytest.approx(share, abs=2e-3)
    mean = 600 / pad.area.m_as("mm**2")
    assert found.peak_pressure.m_as("MPa") == pytest.approx(peak * mean, rel=2e-3)
    assert found.tips is False


@EACH_PAD
def test_up_to_the_limit_the_whole_face_presses(pad):
    limit = tilt_force(pad, "600 N", "100 mm").m_as("N")
    found = contact(pad, "600 N", Q_(limit * np.array([0.0, 0.5, 0.999, 1.001]), "N"), "100 mm")
    assert found.share[:3] == pytest.approx([1, 1, 1])
    assert 0.9 < found.share[3] < 1
    mean = 600 / pad.area.m_as("mm**2")
    assert found.peak_pressure.m_as("MPa") / mean == pytest.approx([1, 1.5, 2, 2], abs=0.003)


def test_beyond_the_pads_edge_nothing_holds():
    found = contact(FULL, "600 N", Q_([179.9, 180.0, 500.0], "N"), "100 mm")
    assert list(found.tips) == [False, True, True]
    assert list(found.share[1:]) == [0, 0]
    assert np.isinf(found.peak_pressure.m[1:]).all()
    assert 0 < found.share[0] < 0.01


def test_the_harder_the_push_the_less_presses_and_the_harder():
    found = contact(RELIEVED, "600 N", Q_(np.linspace(0, 179, 200), "N"), "100 mm")
    assert (np.diff(found.share) <= 1e-12).all()
    assert (np.diff(found.peak_pressure.m) > 0).all()


def test_pads_and_pushes_broadcast():
    pads = Pad("30 mm", Q_([[0.0], [18.0]], "mm"))
    found = contact(pads, "600 N", Q_([10.0, 60.0, 100.0], "N"), "100 mm")
    assert found.share.shape == found.peak_pressure.shape == found.tips.shape == (2, 3)
    one = contact(RELIEVED, "600 N", "100 N", "100 mm")
    assert found.share[1, 2] == pytest.approx(one.share)


@pytest.mark.parametrize(
    ("change", "name"),
    [
        ({"thrust": "0 N"}, "thrust"),
        ({"axial_force": "-1 N"}, "axial_force"),
        ({"disc_diameter": "0 mm"}, "disc_diameter"),
        ({"pad": "30 mm"}, "pad"),
    ],
)
def test_bad_input_is_refused_by_name(change, name):
    right = {"pad": FULL, "thrust": "600 N", "axial_force": "9 N", "disc_diameter": "100 mm"}
    with pytest.raises(InputError) as refusal:
        contact(**right | change)
    assert refusal.value.name == name
