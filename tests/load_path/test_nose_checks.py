"""What a nose should show on the bench: limits by hand, laws, and readings that are judged."""

import numpy as np
import pytest

from tests.house.laws import held_for
from workshop_lib.bearings import ring_run_out
from workshop_lib.load_path import (
    expected,
    find_design,
    in_words,
    look_at,
    nose_shift,
    own_design,
    tip_run_out,
)
from workshop_lib.quantities import InputError, speaking

TWO = {"front": "6001", "rear": "6001"}
NOSE = own_design("pressure_nose", TWO)
KEYS = ["pressure_nose", "roller_centre", "preloaded_centre"]


def microns(design, key, thrust="300 N", push="20 N"):
    found = expected(design, thrust, push)[key]
    return [None if each is None else each.m_as("um") for each in
            (found.low, found.typical, found.high)]  # fmt: skip


@pytest.mark.parametrize(
    ("fit", "low", "high"),
    # ISO 286 on 28 mm: H6 0 to 13, H7 0 to 21, G7 7 to 28 µm; the ring 0 to 9 µm below (skf).
    [("H6", 0, 22), ("H7", 0, 30), ("G7", 7, 37), ("18 um", 18, 18)],
)
def test_the_drift_is_the_play_of_the_ring_in_its_bore(fit, low, high):
    found = microns(own_design("pressure_nose", TWO, fit=fit), "drift")
    assert found == pytest.approx([low, (low + high) / 2, high], abs=0.1)


def test_the_end_play_is_that_of_balls_between_grooves():
    """By hand for a 6001: A = (0.52 + 0.53 − 1) × 4.762 mm, cos α = 1 − G / 2A, 2 A sin α, with
    ISO 5753's 3 and 18 µm for a bore of 12 mm."""
    curve = 50 * 4.762
    wanted = [2 * curve * np.sin(np.arccos(1 - play / 2 / curve)) for play in (3, 10.5, 18)]
    assert microns(NOSE, "end_play") == pytest.approx(wanted, abs=0.1)


@pytest.mark.parametrize(("ahead", "span"), [(25, 32), (20, 40), (50, 30)])
def test_run_out_at_the_tip_is_that_of_a_line_through_two_rings(ahead, span):
    """10 µm at each ring (ISO 492, Normal, up to 18 mm), high spots opposite: by similar
    triangles."""
    nose = own_design("pressure_nose", TWO, overhang=f"{ahead} mm", span=f"{span} mm")
    line = np.polyfit([0, span], [5, -5], 1)  # eccentric by half of the reading
    assert tip_run_out(nose).m_as("um") == pytest.approx(2 * np.polyval(line, -ahead))


def test_needles_run_on_the_shaft_and_add_no_ring():
    assert ring_run_out("HK 1210").m == 0
    assert ring_run_out("6204").m_as("um") == pytest.approx(13)
    centre = find_design("roller_centre")
    lever = centre.overhang / centre.span
    assert tip_run_out(centre).m_as("um") == pytest.approx(10 * (1 + lever.m_as("")))
    assert tip_run_out("preloaded_centre").m_as("um") == pytest.approx(10)


@held_for(KEYS)
def test_the_usual_value_lies_in_its_range_and_is_what_the_models_say(key):
    found = expected(key, "300 N", "20 N")
    for each in found.values():
        assert 0 <= each.low.m <= each.high.m and each.cited
        if each.typical is not None:
            assert each.low.m <= each.typical.m <= each.high.m
    usual = found["give"].typical.m_as("um")
    assert usual == pytest.approx(nose_shift(key, "300 N", "20 N").m_as("um"), abs=1e-3)


GOOD = {"drift": "14 um", "give": "21 um", "end_play": "95 um", "run_out": "12 um"}


@pytest.mark.parametrize(
    ("key", "reading", "holds", "told"),
    [
        ("drift", "33 um", "no", "bore is too large"),  # 30 µm and a dial's 2
        ("drift", "31 um", "yes", "as it should be"),
        ("drift", "1 um", "open", "stick"),
        ("give", "60 um", "no", "quill"),
        ("give", "5 um", "open", "Tap the nose"),
        ("end_play", "200 um", "no", "worn"),
        ("end_play", "20 um", "open", "squeezes"),
        ("run_out", "29 um", "no", "dirt"),
        ("run_out", "0 um", "yes", "as it should be"),
    ],
)
def test_a_reading_is_judged_in_words(key, reading, holds, told):
    found = {each.expected.key: each for each in look_at(NOSE, "300 N", **GOOD | {key: reading})}
    assert (found[key].holds, told in found[key].said) == (holds, True)
    assert all(each.holds == "yes" for other, each in found.items()
               if other != key and (key, other) != ("drift", "give"))  # fmt: skip


def test_the_give_is_held_against_the_drift_that_was_read():
    """A bore that is too large moves the tip further; the push test alone is then no news."""
    wide = own_design("pressure_nose", TWO, fit="60 um")
    give = f"{nose_shift(wide, '300 N', '20 N').m_as('um')} um"
    alone = look_at(NOSE, "300 N", give=give)[-1]
    with_drift = look_at(NOSE, "300 N", drift="60 um", give=give)[-1]
    assert (alone.holds, with_drift.holds) == ("no", "yes")


def test_what_a_design_has_not_is_left_out_and_what_is_no_check_is_refused():
    assert "end_play" not in expected("preloaded_centre", "300 N")
    assert look_at("preloaded_centre", "300 N", end_play="1 um") == []
    for wrong in ({"wobble": "1 um"}, {"drift": "-1 um"}, {"drift": "1 N"}):
        with pytest.raises(InputError):
            look_at(NOSE, "300 N", **wrong)
    with pytest.raises(InputError, match="thrust"):
        expected(NOSE, "0 N")


def test_a_range_in_words_speaks_inch():
    found = expected(NOSE, "300 N")
    assert in_words(found["run_out"]) == "at most 26 µm"
    with speaking("inch"):
        assert in_words(found["drift"]) == "at most 1.2 thou, usually about 0.59 thou"
