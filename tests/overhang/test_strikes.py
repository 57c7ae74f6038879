"""Strikes against natural frequencies: by hand and by trying all."""

import numpy as np
import pytest

from workshop_lib.overhang import natural_frequencies
from workshop_lib.overhang.strikes import nearest_resonance, strike_frequency
from workshop_lib.quantities import Q_, InputError

DISC = ("100 mm", "30 mm", "0.55 mm", "stainless_steel")


def test_strikes_are_corners_times_turns():
    found = strike_frequency([1, 8], Q_([[60.0], [300.0]], "rev/min")).m_as("Hz")
    assert found == pytest.approx(np.array([[1, 8], [5, 40]]))


def nearest_by_trying(strikes, turns, frequencies, multiples):
    best = (np.inf,)
    for multiple in range(1, multiples + 1):
        for n, natural in enumerate(frequencies):
            for way in (-1, 1):
                felt = abs(multiple * strikes + way * n) * turns
                best = min(best, (abs(felt / natural - 1), n, multiple, felt))
    return best


@pytest.mark.parametrize("multiples", [1, 3, 20])
@pytest.mark.parametrize(("strikes", "speed"), [(3, 100), (8, 700), (40, 90), (1, 2000)])
def test_the_nearest_mode_is_found_among_all(strikes, speed, multiples):
    frequencies = natural_frequencies(*DISC, 6)
    found = nearest_resonance(strikes, Q_(speed, "rev/min"), frequencies, multiples)
    apart, n, multiple, felt = nearest_by_trying(strikes, speed / 60, frequencies.m, multiples)
    assert abs(found.apart) == pytest.approx(apart)
    assert (found.nodal_diameters, found.multiple) == (n, multiple)
    assert found.excitation.m_as("Hz") == pytest.approx(felt)
    assert found.natural == frequencies[n]
    assert found.apart == pytest.approx(felt / frequencies[n].m - 1)


def test_only_the_strike_frequency_itself_is_looked_at_unless_more_is_asked():
    assert nearest_resonance(8, "600 rev/min", ["160 Hz"]).multiple == 1
    assert nearest_resonance(8, "600 rev/min", ["160 Hz"], 2).multiple == 2


def test_a_disc_that_turns_shifts_what_a_saddle_feels():
    # Ten strikes and 60 turns a second are 600 Hz; a saddle (n = 2) feels 480 and 720 Hz.
    found = nearest_resonance(10, "3600 rev/min", ["9 kHz", "9 kHz", "481 Hz"])
    assert found.nodal_diameters == 2
    assert found.excitation.m_as("Hz") == pytest.approx(480)
    assert found.apart < 0


@pytest.mark.parametrize(
    ("change", "name"),
    [
        ({"strikes": 0}, "strikes"),
        ({"strikes": [8, 9]}, "strikes"),
        ({"speed": "0 rev/min"}, "speed"),
        ({"speed": ["1 rev/min"]}, "speed"),
        ({"frequencies": "3 rev/min"}, "frequencies"),
        ({"frequencies": Q_(np.ones((2, 2)), "Hz")}, "frequencies"),
        ({"multiples": 0}, "multiples"),
        ({"multiples": 1.5}, "multiples"),
    ],
)
def test_bad_input_is_refused_by_name(change, name):
    right = {"strikes": 8, "speed": "80 rev/min", "frequencies": ["90 Hz"]}
    with pytest.raises(InputError) as refusal:
        nearest_resonance(**right | change)
    assert refusal.value.name == name
