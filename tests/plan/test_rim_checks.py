"""Is the finished disc to size and round? What the readings prove, and what they cannot."""

import numpy as np
import pytest

from tests.house.laws import held_for
from tests.plan.job_cases import judged
from workshop_lib.plan import rim_rows
from workshop_lib.quantities import InputError

ROUND = ["100.00 mm"] * 5
LIMITS = {"disc__tolerance": "0.05 mm", "disc__roundness": "0.02 mm"}
FINE = {"measured__diameter_division": "0.001 mm", "measured__vee_division": "0.001 mm"}


def by(diameters, in_vee=None, **more):
    """The plain job with such readings: diameters in mm, readings in a V in micrometres."""
    given = {"measured__diameters": [f"{each} mm" for each in diameters]}
    if in_vee is not None:
        given["measured__vee_readings"] = [f"{each:.6f} um" for each in in_vee]
    return judged(**(LIMITS | given | more))


def in_vee(lobes, height, factor):
    """Readings in a V of a disc with such lobes, from hollow to crest, in micrometres."""
    return factor * height / 2 * np.cos(lobes * np.arange(24) * 2 * np.pi / 24)


# By hand: 100 mm ± 0.05; a division of 0.01 leaves 0.005 either way.
@held_for(
    [
        ([100.04, 100.0, 99.96], "yes"),
        ([100.045, 100.0, 100.0], "yes"),
        ([100.047, 100.0, 100.0], "open"),
        ([100.055, 100.0, 100.0], "open"),
        ([100.056, 100.0, 100.0], "no"),
        ([100.0, 99.94, 100.0], "no"),
    ]
)
def test_every_diameter_counts_and_the_division_blurs_the_limit(diameters, holds):
    found = by(diameters, measured__diameter_division="0.01 mm")
    assert found.reason("size").holds == holds
    assert bool(found.reason("size").changes) == (holds != "yes")


def test_too_large_is_cut_again_and_too_small_is_not():
    large, small, oval = (
        by(each).reason("size").changes[0].sentence
        for each in ([100.08, 100.07, 100.09], [99.9, 99.9, 99.9], [100.2, 99.8, 100.0])
    )
    assert "take 0.04 mm off the radius" in large
    assert "0.1 mm larger" in small and "off the radius" not in small
    assert "round first" in oval


def test_a_single_diameter_is_judged_too():
    assert judged(**LIMITS, measured__disc_diameter="100.06 mm").reason("size").holds == "no"
    assert judged(measured__disc_diameter="100.06 mm").reason("size") is None
    assert judged(**LIMITS).reason("size") is None


def test_diameters_alone_never_prove_a_disc_round():
    found = by([100.0] * 5).reason("roundness")
    assert found.holds == "open" and not found.known
    assert "V-block" in found.changes[0].sentence
    assert by([100.03, 100.0, 99.97, 99.98, 100.02]).reason("roundness").holds == "no"


# Three lobes of 0.03 mm: every diameter the same, and twice that in a V of 90°.
def test_three_lobes_pass_the_micrometer_and_fail_in_the_vee():
    readings = in_vee(3, 30, 2)
    found = by([100.0] * 5, readings, **FINE).reason("roundness")
    assert found.holds == "no" and "three lobes" in found.sentence
    assert found.value.m_as("mm") == pytest.approx(0.03, rel=1e-3)
    assert "jaws" in found.changes[0].sentence
    assert by([100.0] * 5, readings / 2, **FINE).reason("roundness").holds == "yes"


def test_a_coarse_dial_leaves_it_open():
    readings = np.round(in_vee(3, 24, 2) / 20) * 20
    coarse = {"measured__diameter_division": "0.01 mm", "measured__vee_division": "0.02 mm"}
    assert by([100.0] * 5, readings, **coarse).reason("roundness").holds == "open"


# The plain job's blank is a hexagon. In a V of 90° six lobes show once.
def test_as_many_lobes_as_the_blank_had_corners_are_copied():
    waves = 0.04 * np.cos(6 * np.arange(9) * np.pi / 9)
    found = by(100 + waves, in_vee(6, 40, 1), **FINE).reason("roundness")
    assert found.holds == "no" and "corners" in found.changes[0].sentence


def test_what_was_measured_stands_beside_what_was_planned():
    job = by([100.02, 100.0, 99.98, 100.0]).job
    rows = rim_rows(job)
    assert rows[0] == ("Mean diameter", "100.00 mm", "100.00 mm", "+0 mm")
    assert rows[1] == ("Departure from round", "0.02 mm allowed", "0.02 mm at least", "oval")
    assert rim_rows(judged().job) == []


SEEN = {"measured__diameters": ROUND}
TURNED = {"measured__vee_readings": ["0 um"] * 9}


@held_for(
    [
        ("measured.diameters", TURNED),
        ("measured.vee_readings", SEEN | {"measured__vee_angle": "90 deg"}),
        ("measured.vee_angle", SEEN | TURNED | {"measured__vee_angle": "190 deg"}),
        ("measured.diameters", SEEN | {"measured__disc_diameter": "100 mm"}),
    ]
)
def test_readings_that_do_not_go_together_are_refused_by_their_entry(key, given):
    with pytest.raises(InputError, match=key):
        judged(**given)
