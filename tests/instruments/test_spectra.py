"""Spectra and bands of a recording: against Parseval's theorem, tones put in, and hand values."""

import numpy as np
import pytest

from tests.instruments.signals import TWO_PI
from workshop_lib.instruments import Recording, speed_from_strikes, whistle
from workshop_lib.instruments.cutting_sound import _repeats, _strike
from workshop_lib.instruments.hearing import spectrum
from workshop_lib.instruments.ringing import _decay, _hums, _level, pointer_of, power_of
from workshop_lib.instruments.taps import find_taps
from workshop_lib.quantities import InputError

RATE = 44_100
TIME = np.arange(RATE) / RATE


def tone(frequency, loud=1.0, time=TIME):
    return loud * np.cos(TWO_PI * frequency * time + 0.3)


def test_a_tone_a_tenth_as_loud_stands_twenty_decibels_lower_at_its_own_pitch():
    """By definition of the decibel: 20 log10(1/10) = -20."""
    line = RATE / 65_536  # of the spectrum of half a second
    low, high = 1000 * line, 4000 * line
    pitch, level = spectrum(Recording(tone(low) + tone(high, 0.1), RATE), 0.0)
    width = pitch[1] - pitch[0]
    assert level.max() == pytest.approx(0, abs=1e-6)
    for frequency, wanted in ((low, 0.0), (high, -20.0)):
        near = np.abs(pitch - frequency) <= width / 2
        assert near.sum() == 1
        assert level[near] == pytest.approx(wanted, abs=0.05)
    assert level[np.argmin(abs(pitch - 2000))] < -60


def test_white_noise_has_the_power_of_its_samples_in_every_line():
    """Parseval's theorem; a steady offset of the microphone adds nothing."""
    noise = np.random.default_rng(5).normal(0, 1.0, 1 << 15)
    for offset in (0.0, 3.0):
        power = power_of(noise + offset, 1 << 16)
        assert power.mean() == pytest.approx(1.0, rel=0.03)
        assert power[:20].max() < 20


def test_the_level_follows_a_floor_that_rises_evenly():
    """The median of an even ramp is its middle; of noise power it is ln 2 of the mean."""
    ramp = np.arange(10_000.0)
    found = _level(ramp, 100)[500:-500]
    assert found * np.log(2) == pytest.approx(ramp[500:-500], abs=1.0)


def test_steady_tones_before_the_tap_are_known_as_hum():
    noise = np.random.default_rng(1).normal(0, 0.001, RATE)
    found = _hums(tone(50) + tone(150, 0.3) + noise, RATE)
    assert found[:2] == pytest.approx([50, 150], abs=1)


def test_a_band_lets_its_middle_through_and_nothing_of_its_ends():
    """A tone in the middle keeps its loudness; what lies below zero is not the top of the band."""
    half = 100.0
    for other in (50 + 0.97 * half, RATE / 2 - 20):
        pointer, _ = pointer_of(tone(50) + tone(other), RATE, 50.0, half)
        inside = np.abs(pointer[len(pointer) // 4 : -len(pointer) // 4])
        assert inside == pytest.approx(np.ones(len(inside)), abs=0.03)


def test_a_decay_and_its_doubt_are_those_of_a_straight_line_through_the_logarithms():
    """NumPy's own fit of a line, with the scatter that is left as its doubt."""
    time = np.linspace(0, 0.1, 400)
    level = -30 * time + np.random.default_rng(8).normal(0, 0.05, 400)
    (slope, _), around = np.polyfit(time, level, 1, cov=True)
    found = _decay(np.exp(2 * level), time, 1e-15)
    assert found == pytest.approx((-slope, around[0, 0] ** 0.5), rel=1e-3)


def test_what_repeats_for_ever_repeats_as_well_after_many_periods():
    loud = 1 + np.cos(TWO_PI * np.arange(2000) / 50)
    _, alike = _repeats(loud)
    assert alike[[50, 500, 950]] == pytest.approx([1, 1, 1], abs=0.01)
    assert alike[25] == pytest.approx(-1, abs=0.01)


def test_a_shorter_repeat_is_the_strike_only_if_it_divides_the_turn():
    """Twice 10 is 3 short of 23, more than a sample and half of one for each of the two."""
    alike = np.zeros(40)
    alike[[10, 23]] = 0.8, 1.0
    assert _strike(alike, np.array([10, 23])) == 23
    alike[[22, 23]] = 1.0, 0.0
    assert _strike(alike, np.array([10, 22])) == 10


def test_a_speed_is_known_as_well_as_its_strikes():
    beat = np.random.default_rng(2).normal(0, 0.1, 3 * RATE)
    beat *= 0.1 + np.exp(-40 * (np.arange(3 * RATE) / RATE * 24 % 1) / 24)
    found = speed_from_strikes(Recording(beat, RATE), 4)
    share = found.speed_uncertainty.m_as("rad/s") / found.speed.m_as("rad/s")
    assert share == pytest.approx(2 * found.standard / found.rate)


def test_balls_as_large_as_their_circle_are_refused():
    with pytest.raises(InputError, match="ball_share"):
        whistle(Recording(tone(1200), RATE), "377 rev/min", 7, ["800 Hz"], ball_share=1)


@pytest.mark.parametrize(("later", "count"), [(0.06, 1), (0.4, 2)])
def test_a_thump_and_the_click_that_follows_at_once_are_one_tap(later, count):
    """The thump is heard in the low band, the click in the high one."""
    since = np.maximum(TIME - 0.4, 0)
    thump = np.sin(np.pi / 2 * np.minimum(since / 0.01, 1)) ** 2 * np.exp(-60 * since) * tone(260)
    after = np.maximum(TIME - 0.4 - later, 0)
    click = np.where(after > 0, np.exp(-60 * after), 0) * tone(6000)
    noise = np.random.default_rng(0).normal(0, 1e-4, RATE)
    assert len(find_taps(Recording(0.4 * thump + 0.4 * click + noise, RATE))) == count
