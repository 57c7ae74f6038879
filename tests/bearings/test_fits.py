"""Limits of size: as printed beside bearings, and against the formulas of the standard."""

import numpy as np
import pytest

from workshop_lib.bearings.fits import limits, needle_play, seat, sliding_fit, tabulated
from workshop_lib.quantities import InputError

STEPS = ((3, 6), (6, 10), (10, 18), (18, 30), (30, 50), (50, 80))


def microns(pair):
    return pytest.approx(pair, abs=1e-9)


@pytest.mark.parametrize("step", STEPS)
@pytest.mark.parametrize(("grade", "units"), [("IT5", 7), ("IT6", 10), ("IT7", 16), ("IT8", 25)])
def test_grades_follow_from_the_tolerance_unit_of_iso_286(step, grade, units):
    # i = 0.45 D^(1/3) + 0.001 D µm, D the geometric mean of the step in mm; the table's own
    # rounding differs by up to 1 µm (engineersedge page on ISO 286-1).
    mean = np.sqrt(step[0] * step[1])
    value = units * (0.45 * mean ** (1 / 3) + 0.001 * mean)
    assert tabulated(grade, 1e-3 * step[1]) * 1e6 == pytest.approx(value, abs=1.05)


@pytest.mark.parametrize("step", STEPS)
def test_deviations_follow_from_the_formulas_of_iso_286(step):
    # g: 2.5 D^0.34, f: 5.5 D^0.41, k: 0.6 D^(1/3), in µm: remembered; rounded by up to 1 µm.
    mean = np.sqrt(step[0] * step[1])
    formulas = {"g": 2.5 * mean**0.34, "f": 5.5 * mean**0.41, "k": 0.6 * mean ** (1 / 3)}
    for letter, value in formulas.items():
        assert tabulated(letter, 1e-3 * step[1]) * 1e6 == pytest.approx(value, abs=1.0)


# JIS B 0401 (1999) as excerpted by tool makers, µm, upper and lower, in the order of STEPS.
JIS = {
    "f6": "-10 -18 -13 -22 -16 -27 -20 -33 -25 -41 -30 -49",
    "g5": "-4 -9 -5 -11 -6 -14 -7 -16 -9 -20 -10 -23",
    "g6": "-4 -12 -5 -14 -6 -17 -7 -20 -9 -25 -10 -29",
    "h5": "0 -5 0 -6 0 -8 0 -9 0 -11 0 -13",
    "h6": "0 -8 0 -9 0 -11 0 -13 0 -16 0 -19",
    "h7": "0 -12 0 -15 0 -18 0 -21 0 -25 0 -30",
    "h8": "0 -18 0 -22 0 -27 0 -33 0 -39 0 -46",
    "k5": "6 1 7 1 9 1 11 2 13 2 15 2",
    "k6": "9 1 10 1 12 1 15 2 18 2 21 2",
    "m5": "9 4 12 6 15 7 17 8 20 9 24 11",
    "m6": "12 4 15 6 18 7 21 8 25 9 30 11",
    "F8": "28 10 35 13 43 16 53 20 64 25 76 30",
    "G7": "16 4 20 5 24 6 28 7 34 9 40 10",
    "H7": "12 0 15 0 18 0 21 0 25 0 30 0",
    "H8": "18 0 22 0 27 0 33 0 39 0 46 0",
}


@pytest.mark.parametrize("tolerance", JIS)
def test_limits_are_those_of_a_second_standard_at_every_step(tolerance):
    printed = np.reshape([int(number) for number in JIS[tolerance].split()], (-1, 2))
    for (_, largest), (upper, lower) in zip(STEPS, printed, strict=True):
        low, high = limits(tolerance, f"{largest} mm")
        assert (low.m_as("um"), high.m_as("um")) == microns((lower, upper)), largest


# Deviations in µm as the SKF tables of fits print them beside bearings.
PRINTED = {
    ("g5", "15 mm"): (-14, -6),
    ("g6", "15 mm"): (-17, -6),
    ("h5", "15 mm"): (-8, 0),
    ("h6", "10 mm"): (-9, 0),
    ("js5", "10 mm"): (-3, 3),
    ("js6", "15 mm"): (-5.5, 5.5),
    ("k5", "10 mm"): (1, 7),
    ("k5", "15 mm"): (1, 9),
    ("k5", "20 mm"): (2, 11),
    ("k6", "15 mm"): (1, 12),
    ("m5", "15 mm"): (7, 15),
    ("m6", "20 mm"): (8, 21),
    ("f6", "20 mm"): (-33, -20),
    ("H7", "32 mm"): (0, 25),
    ("H7", "28 mm"): (0, 21),
    ("H8", "35 mm"): (0, 39),
    ("JS7", "35 mm"): (-12.5, 12.5),
    # Bores that hold a ring fast, as SKF's tables of housings print them.
    ("K6", "8 mm"): (-7, 2),
    ("K7", "16 mm"): (-12, 6),
    ("M6", "35 mm"): (-20, -4),
    ("M7", "16 mm"): (-18, 0),
    ("M7", "28 mm"): (-21, 0),
    ("M7", "62 mm"): (-30, 0),
    ("N6", "8 mm"): (-16, -7),
    ("N6", "16 mm"): (-20, -9),
    ("N7", "26 mm"): (-28, -7),
    ("N7", "62 mm"): (-39, -9),
    # Over 50 mm: SKF's shafts up to 80 mm, h7 and h8 of a tool catalogue, JIS B 0401.
    ("f6", "62 mm"): (-49, -30),
    ("g6", "62 mm"): (-29, -10),
    ("h7", "62 mm"): (-30, 0),
    ("h8", "62 mm"): (-46, 0),
    ("k5", "62 mm"): (2, 15),
    ("m6", "62 mm"): (11, 30),
    ("n6", "62 mm"): (20, 39),
}


@pytest.mark.parametrize(("tolerance", "diameter"), PRINTED)
def test_limits_are_those_of_the_printed_tables(tolerance, diameter):
    low, high = limits(tolerance, diameter)
    assert (low.m_as("um"), high.m_as("um")) == microns(PRINTED[tolerance, diameter])


def test_g7_lies_as_far_above_as_g_below():
    low, high = limits("G7", "35 mm")  # remembered: +9 to +34
    assert (low.m_as("um"), high.m_as("um")) == microns((9, 34))


# Play in µm as the SKF tables print it: bore or shaft against a bearing of Normal tolerances.
@pytest.mark.parametrize(
    ("designation", "play"),
    [("6202", (0, 36)), ("6201", (0, 36)), ("6001", (0, 30)), ("608", (0, 30))],
)
def test_play_of_an_outer_ring_in_h7_is_as_printed(designation, play):
    low, middle, high = sliding_fit(designation, "H7")
    assert (low.m_as("um"), high.m_as("um")) == microns(play)
    assert middle.m_as("um") == pytest.approx(sum(play) / 2)


@pytest.mark.parametrize(
    ("designation", "shaft", "play"),
    [
        ("6202", "k5", (-17, -1)),
        ("6202", "g6", (-2, 17)),
        ("6202", "h5", (-8, 8)),
        ("6202", "js5", (-12, 4)),
        ("6000", "k5", (-15, -1)),
        ("6000", "js5", (-11, 3)),
        ("7204 B", "k5", (-21, -2)),
        ("7204 B", "g6", (-3, 20)),
    ],
)
def test_play_of_an_inner_ring_on_its_shaft_is_as_printed(designation, shaft, play):
    low, _, high = seat(designation, shaft)
    assert (low.m_as("um"), high.m_as("um")) == microns(play)


def test_a_g7_bore_is_looser_than_h7_by_the_deviation_of_g():
    tight, loose = sliding_fit("6202", "H7"), sliding_fit("6202", "G7")
    assert [(b - a).m_as("um") for a, b in zip(tight, loose, strict=True)] == microns([9, 9, 9])


def test_needles_on_an_h5_shaft_by_hand():
    # 12 mm: F8 is +16 to +43 µm (f: 16, IT8: 27), h5 is 0 to −8 µm.
    low, _, high = needle_play("HK 1210")
    assert (low.m_as("um"), high.m_as("um")) == microns((16, 51))


def test_what_rests_on_memory_says_so():
    assert sliding_fit("6202", "H7").standing == "published"
    assert sliding_fit("6202", "G7").standing == "from memory"


@pytest.mark.parametrize(
    "nonsense", ["", "H", "7", "H7 ", "h77", "H9", "k8", "A7", "x" * 99, None, 7, ["H7"], b"H7"]
)
def test_an_unknown_tolerance_is_refused(nonsense):
    with pytest.raises(InputError, match="^tolerance_class: "):
        limits(nonsense, "15 mm")


@pytest.mark.parametrize("diameter", ["3 mm", "81 mm", "0 mm", "-5 mm", "15", ["10 mm", "20 mm"]])
def test_a_diameter_outside_the_table_is_refused(diameter):
    with pytest.raises(InputError, match="^diameter: "):
        limits("H7", diameter)


def test_fits_that_make_no_sense_are_refused():
    with pytest.raises(InputError, match="^bore: .*capital"):
        sliding_fit("6202", "h7")
    with pytest.raises(InputError, match="^shaft: .*small"):
        seat("6202", "H7")
    with pytest.raises(InputError, match="^bearing: .*no inner ring"):
        seat("HK 1010", "h5")
    with pytest.raises(InputError, match="^bearing: .*not a drawn-cup"):
        needle_play("6202")
