"""Strikes and whistles made by another path: speed, doubt of a corner, ranked suspects."""

import numpy as np
import pytest

from tests.instruments.signals import TWO_PI
from workshop_lib.instruments import (
    Recording,
    made,
    read_recording,
    speed_from_strikes,
    whistle,
)
from workshop_lib.quantities import InputError

RATE = 44_100


def cut(turns, corners, length=4.0, uneven=0.3, noise=0.02, seed=0):
    """Hiss that swells at each corner: corners unlike in loudness, motor hum, steady noise."""
    rng = np.random.default_rng(seed)
    time = np.arange(int(length * RATE)) / RATE
    turn = time * turns
    place = (turn * corners) % 1
    which = (np.floor(turn * corners) % corners).astype(int)
    loud = 1 + uneven * rng.normal(size=corners)
    burst = np.abs(loud[which]) * np.exp(-place / 0.15) * rng.normal(0, 0.2, len(time))
    return burst + 0.3 * np.sin(TWO_PI * 100 * time) + rng.normal(0, noise, len(time))


@pytest.mark.parametrize(("turns", "corners"), [(3.3, 8), (5.0, 4), (8.4, 6), (2.1, 12), (4.0, 1)])
def test_the_spindles_speed_comes_from_the_strikes(turns, corners):
    found = speed_from_strikes(Recording(cut(turns, corners), RATE), corners)
    assert found.speed.m_as("rev/min") == pytest.approx(60 * turns, rel=0.005)
    off = abs(found.speed.m_as("rev/min") - 60 * turns)
    assert off <= found.speed_uncertainty.m_as("rev/min")


def test_stated_speeds_hold_in_nineteen_of_twenty():
    inside = 0
    for seed in range(20):
        rng = np.random.default_rng(seed)
        turns, corners = rng.uniform(2, 9), int(rng.integers(3, 9))
        sound = cut(turns, corners, 3.0, rng.uniform(0, 0.35), rng.uniform(0.005, 0.05), seed)
        found = speed_from_strikes(Recording(sound, RATE), corners)
        off = abs(found.speed.m_as("rev/min") - 60 * turns)
        inside += off <= found.speed_uncertainty.m_as("rev/min")
    assert inside >= 19


def test_one_corner_more_or_less_is_said():
    found = speed_from_strikes(Recording(cut(5.0, 4), RATE), 4)
    assert [each.corners for each in found.speeds] == [4, 5, 3]
    assert found.speeds[1].turns == pytest.approx(found.speeds[0].turns * 4 / 5)
    assert "if there are 5" in str(found)


@pytest.mark.parametrize("kind", ["noise", "hum", "short"])
def test_what_does_not_repeat_gives_no_speed(kind):
    rng = np.random.default_rng(1)
    sound = rng.normal(0, 0.1, 3 * RATE)
    if kind == "hum":
        sound += np.sin(TWO_PI * 50 * np.arange(3 * RATE) / RATE)
    if kind == "short":
        sound = cut(5.0, 4, length=1.0)
    with pytest.raises(InputError, match="no regular strikes|too short"):
        speed_from_strikes(Recording(sound, RATE), 4)


def test_taps_that_ring_are_no_strikes_or_slow_ones():
    """Three taps in four seconds: whatever is said, it is no spindle of thousands of turns."""
    sound = read_recording(made("hung.wav"))
    for count in (1, 8):
        try:
            found = speed_from_strikes(sound, count)
        except InputError:
            continue
        assert found.rate <= 80


def test_one_repeat_only_still_answers_or_refuses():
    rng = np.random.default_rng(3)
    time = np.arange(2 * RATE) / RATE
    for gap in (0.3, 0.55, 0.8, 0.95):
        twice = np.exp(-40 * np.abs(time - 0.5)) + np.exp(-40 * np.abs(time - 0.5 - gap))
        sound = Recording(twice * rng.normal(0, 0.3, len(time)), RATE)
        try:
            assert np.isfinite(speed_from_strikes(sound, 2).standard)
        except InputError:
            continue


def whistling(frequency, seed=0):
    rng = np.random.default_rng(seed)
    time = np.arange(2 * RATE) / RATE
    wander = 1 + 0.0005 * np.cumsum(rng.normal(0, 0.01, len(time)))
    return Recording(
        np.sin(TWO_PI * np.cumsum(frequency * wander) / RATE) + rng.normal(0, 0.2, len(time)), RATE
    )


def test_a_whistle_at_the_rims_note_is_the_rim():
    found = whistle(whistling(1210), "377 rev/min", 7, ["900 Hz", "1240 Hz", "1900 Hz"])
    assert found.frequency.m == pytest.approx(1210, rel=0.005)
    assert found.suspects[0].name == "the rim with 1 nodal diameter"
    assert found.verdict.startswith("Most likely the rim")
    assert "stays" in found.verdict


def test_a_whistle_that_nothing_explains_says_so():
    found = whistle(whistling(3000), "300 rev/min", 4, ["900 Hz"])
    assert found.verdict.startswith("Nothing that was given")


def test_a_low_multiple_of_the_strikes_is_told_from_the_rim():
    """12 strikes a turn at 1200 rev/min are 240 Hz, one times the strikes; the rim is at 900."""
    found = whistle(whistling(240.5), "1200 rev/min", 12, ["900 Hz"], ball_share=0.27)
    assert found.suspects[0].name == "1 times the strikes"
    assert "moves with it" in found.verdict


def test_two_that_lie_too_close_are_both_named():
    found = whistle(whistling(480), "1200 rev/min", 12, ["485 Hz"])
    assert "too close to tell" in found.verdict


def test_no_tone_is_no_whistle():
    noise = np.random.default_rng(0).normal(0, 0.1, 2 * RATE)
    with pytest.raises(InputError, match="no whistle"):
        whistle(Recording(noise, RATE), "377 rev/min", 7, ["900 Hz"])
