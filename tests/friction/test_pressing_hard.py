"""Where a pad presses hardest, what its facing bears, and numbers that no set-up has."""

import warnings
from dataclasses import replace

import numpy as np
import pytest

from workshop_lib.friction import (
    PRESSURES,
    Pad,
    contact_pressure,
    peak_pressure,
    side_capacity,
    torque_capacity,
)
from workshop_lib.friction.facing_pressure import facing_load
from workshop_lib.quantities import Q_, InputError, OutOfRangeWarning
from workshop_lib.quantities.unit_boundary import as_shown, to_core
from workshop_lib.slip import deepest_cut, margin

PADS = [Pad("60 mm"), Pad("60 mm", "20 mm"), Pad("60 mm", "20 mm", "uniform_wear")]
PADS += [Pad("60 mm", pressure="hertz")]


@pytest.mark.parametrize("pad", PADS, ids=repr)
def test_nowhere_is_the_pressure_above_its_peak(pad):
    radii = Q_(np.linspace(0, 30, 301), "mm")
    everywhere = contact_pressure(pad, "600 N", radii)
    assert everywhere.max().m == pytest.approx(peak_pressure(pad, "600 N").m_as("MPa"), rel=1e-9)


def test_peaks_by_hand():
    # 600 N on a 60 mm pad: 0.2122 MPa evenly, half as much again in the middle of a domed one.
    assert peak_pressure(Pad("60 mm"), "600 N").m == pytest.approx(0.21221, abs=1e-5)
    assert peak_pressure(PADS[-1], "600 N").m == pytest.approx(0.31831, abs=1e-5)
    # Bedded in, 20 mm relieved: 600/(2 pi 20 mm × 10 mm) at the inner edge.
    assert peak_pressure(PADS[2], "600 N").m == pytest.approx(0.47746, abs=1e-5)


@pytest.mark.parametrize("law", ["rigid_punch", "uniform_wear"])
def test_an_unbounded_pressure_says_so(law):
    assert np.isinf(peak_pressure(Pad("60 mm", pressure=law), "600 N").m)
    assert peak_pressure(Pad("60 mm", pressure=law), "0 N").m == 0
    load = facing_load(Pad("60 mm", pressure=law), "600 N", "cork")
    assert (load.margin, load.bears) == (0, False)
    assert "no limit" in load.reason


@pytest.mark.parametrize("law", PRESSURES)
def test_peaks_grow_with_the_thrust_and_broadcast(law):
    peaks = peak_pressure(Pad(["40 mm", "60 mm"], pressure=law), "600 N")
    assert peaks.shape == (2,)
    if np.all(np.isfinite(peaks.m)):
        assert peaks[0] / peaks[1] == pytest.approx(2.25)


def test_cork_bears_a_tenth_of_a_megapascal():
    # facings.csv (roymech-clutch): 0.1 MPa; over pi (30 mm)² that is 282.7 N.
    assert facing_load(Pad("60 mm"), "282 N", "cork").bears is True
    over = facing_load(Pad("60 mm"), "283 N", "cork")
    assert over.bears is False
    assert over.margin == pytest.approx(0.999, abs=1e-3)
    assert over.reason.endswith("too hard")


def test_a_relieved_pad_presses_harder_on_what_is_left_of_it():
    # 600 N on 60 mm relieved to 20 mm: pi (30² − 10²) = 2513.3 mm², so 0.23873 MPa.
    even = facing_load(Pad("60 mm", "20 mm"), "600 N", "cork")
    assert even.mean.m == pytest.approx(0.238732, abs=1e-6)
    assert even.peak.m == pytest.approx(even.mean.m)
    # A domed pad presses half as much again in its middle (Hertz: p0 = 3/2 of the mean).
    domed = facing_load(Pad("60 mm", pressure="hertz"), "600 N", "cork")
    assert domed.peak.m == pytest.approx(1.5 * domed.mean.m)


@pytest.mark.parametrize(("margin", "words"), [(1.0, ": not too hard"), (0.999, ": too hard")])
def test_a_facing_bears_just_what_is_printed_for_it(margin, words):
    known = facing_load(Pad("60 mm"), "100 N", "cork")
    judged = replace(known, margin=margin)
    assert judged.bears is (margin == 1)
    assert judged.reason.endswith(words)


def test_what_is_not_printed_is_not_judged():
    load = facing_load(Pad("60 mm"), "600 N", "rubber")
    assert (load.highest, load.margin, load.bears) == (None, None, None)
    assert load.reason.endswith("is not known")


def test_a_facing_is_judged_one_case_at_a_time():
    with pytest.raises(InputError, match="thrust"):
        facing_load(Pad("60 mm"), ["1 N", "2 N"], "cork")


# Beyond the range


@pytest.mark.parametrize(
    "ask",
    [
        lambda: side_capacity("600 N", 2.1),
        lambda: torque_capacity(Pad("60 mm"), "600 N", [0.2, 3]),
        lambda: margin(Pad("60 mm"), "600 N", 2.1, "10 N", "1 N m"),
        lambda: margin(Pad("60 mm"), "600 N", 1, "10 N", "1 N m", "located", 30),
    ],
)
def test_a_friction_beyond_every_table_is_warned_of_once(ask):
    with warnings.catch_warnings(record=True) as caught:
        warnings.simplefilter("always")
        ask()
    assert [each.category for each in caught] == [OutOfRangeWarning]
    assert "coefficient above 2" in str(caught[0].message)
    assert caught[0].filename == __file__


@pytest.mark.parametrize("size", ["1 mm", "1.2 m", "600 m", ["30 mm", "1 um"]])
def test_a_pad_of_no_trade_is_warned_of_once(size):
    with warnings.catch_warnings(record=True) as caught:
        warnings.simplefilter("always")
        Pad(size)
    assert [each.category for each in caught] == [OutOfRangeWarning]
    assert caught[0].filename == __file__


def test_common_sizes_pass_in_silence():
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        assert Pad(["2 mm", "1 m"]).shape == (2,)
        assert side_capacity("600 N", 2).m == 1200


# Words and signs


@pytest.mark.parametrize("unit", ["N*m", "kN*mm", "lbf*ft"])
def test_a_force_times_a_length_is_a_torque(unit):
    assert to_core(Q_(1, unit), "torque", "torque") == pytest.approx(1, rel=0.4)


@pytest.mark.parametrize("unit", ["J", "kJ", "mJ", "cal"])
def test_an_energy_is_no_torque(unit):
    with pytest.raises(InputError, match="energy, not of torque"):
        torque = Q_(1, unit)
        margin(Pad("60 mm"), "600 N", 0.3, "10 N", torque)


def test_no_minus_zero_comes_back():
    assert str(as_shown(-0.0, "length")) == "0.0 mm"
    assert str(as_shown(np.array([-0.0, -1.0]), "force")) == "[0.0 -1.0] N"
    assert np.copysign(1, to_core("-0 mm", "length", "x")) == 1


def test_the_deepest_cut_is_safe_unless_told_otherwise():
    setup = (Pad("60 mm"), "800 N", 0.3, "stainless_steel", "0.05 mm/rev", "78 mm", 2, 0.7)
    by_estimate = {each: deepest_cut(*setup, estimate=each) for each in ("low", "typical", "high")}
    assert deepest_cut(*setup) == by_estimate["high"] < by_estimate["typical"] < by_estimate["low"]


def test_a_refused_choice_is_put_in_words_for_a_learner():
    with pytest.raises(InputError) as refused:
        Pad("30 mm", "1 mm", "rigid_punch")
    assert "hard flat pad" in str(refused.value)
    with pytest.raises(InputError, match="^nose: .*floating, located"):
        margin(Pad("30 mm"), "1 N", 0.2, "1 N", "1 N m", nose="loose")
