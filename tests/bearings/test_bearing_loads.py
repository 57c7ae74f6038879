"""Equivalent load, life, static safety and limits: published examples and the laws they obey."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from workshop_lib.bearings.bearing_loads import (
    axial_limit,
    deep_groove_factors,
    equivalent_load,
    life_revolutions,
    minimum_load,
    rating_life,
    recommended_safety,
    static_equivalent_load,
    static_safety,
)
from workshop_lib.bearings.bearing_tables import Bare, Bearing, Rating, bearings, catalogue
from workshop_lib.quantities import Q_, InputError

DEEP_GROOVE = [bearing.designation for bearing in bearings("deep_groove")]


def deep_groove(dynamic, static, f0):
    """A deep-groove bearing with these ratings, for examples from books."""
    core = Bare(40e-3, 80e-3, 18e-3, dynamic, static, f0, 2, None)
    rating = Rating(dynamic, static, "from-memory")
    return Bearing("book", "deep_groove", core, rating, (rating,), None, "", "", "")


def test_ntn_example_2_for_bearing_6208():
    # NTN CAT. No. 2203/E, example 2: n 650 rev/min, Fr 3.2 kN, Fa 1.8 kN, Cr 32.5, C0r 17.8 kN,
    # f0 14.0: f0 Fa/C0 1.42, e 0.30, Pr 4.38 kN, about 10 500 h (by its own rounded factors).
    bearing = deep_groove(32500, 17800, 14.0)
    e, x, y = deep_groove_factors(bearing, 1800.0)
    assert (e.round(2), x, y) == (0.30, 0.56, pytest.approx(1.44, abs=0.005))
    assert equivalent_load(bearing, "1.8 kN", "3.2 kN").m_as("N") == pytest.approx(4380, abs=15)
    life = rating_life(bearing, "1.8 kN", "3.2 kN", "650 rev/min")
    assert life.hours.m_as("hour") == pytest.approx(10500, rel=0.01)


@pytest.mark.parametrize(
    # jeevanjyoti4/dome, TS5-5 and TS5-6, after Shigley's table 11-1: Fa/C0 and Y2 with their own
    # steps (0.084 1.55, 0.110 1.45, 0.17 1.31, 0.28 1.15). Fa/C0 times f0 = 12.3 is our argument.
    ("share", "factor"),
    [(0.0882, 1.5346), (0.2, 1.266)],
)
def test_textbook_examples_of_y(share, factor):
    _, _, y = deep_groove_factors(deep_groove(10e3, 34e3, 12.3), share * 34e3)
    assert y == pytest.approx(factor, abs=0.005)


@pytest.mark.parametrize(
    # SKF 2018 table 9: f0 Fa/C0, e, Y for normal clearance, C3 and C4.
    ("ratio", "normal", "c3", "c4"),
    [
        (0.172, (0.19, 2.30), (0.29, 1.88), (0.38, 1.47)),
        (1.03, (0.28, 1.55), (0.38, 1.41), (0.46, 1.23)),
        (3.45, (0.38, 1.15), (0.49, 1.10), (0.55, 1.02)),
        (6.89, (0.44, 1.00), (0.54, 1.00), (0.56, 1.00)),
    ],
)
def test_factors_are_those_of_the_printed_table(ratio, normal, c3, c4):
    bearing = catalogue("6202")
    axial = ratio * bearing.core.static_rating / bearing.core.f0
    for name, x, pair in (("normal", 0.56, normal), ("C3", 0.46, c3), ("C4", 0.44, c4)):
        found = deep_groove_factors(bearing, axial, name)
        assert found == pytest.approx((pair[0], x, pair[1]))


def test_between_two_rows_the_factors_lie_on_a_straight_line():
    bearing = catalogue("6202")
    loads = np.array([1.38, (1.38 + 2.07) / 2, 2.07]) * bearing.core.static_rating / 13.2
    for factor in deep_groove_factors(bearing, loads)[::2]:
        assert factor[1] == pytest.approx((factor[0] + factor[2]) / 2)


def test_beyond_the_table_its_ends_hold():
    bearing = catalogue("6202")
    assert deep_groove_factors(bearing, 0.0)[2] == 2.30
    assert deep_groove_factors(bearing, 1e6)[2] == 1.00


def test_angular_contact_by_hand():
    # e 1.14, X 0.35, Y 0.57 (SKF 2018, 40°): 500 N radial with 1000 N axial, 0.35·500 + 0.57·1000.
    assert equivalent_load("7202 B", "1000 N", "500 N").m == pytest.approx(745)
    assert equivalent_load("7202 B", "500 N", "500 N").m == 500  # below e only the radial load


def test_other_kinds_carry_one_load_each():
    assert equivalent_load("51102", "600 N", "0 N").m == 600
    assert equivalent_load("NU 202", "0 N", "600 N").m == 600
    assert static_equivalent_load("HK 1010", "0 N", "600 N").m == 600


@pytest.mark.parametrize("call", [equivalent_load, static_equivalent_load, static_safety])
def test_a_load_that_the_kind_cannot_carry_is_refused(call):
    with pytest.raises(InputError, match="^axial: NU 202 .* no axial"):
        call("NU 202", "1 N", "100 N")
    with pytest.raises(InputError, match="^radial: 51102 .* no radial"):
        call("51102", ["100 N", "100 N"], ["0 N", "1 N"])


# Life


def test_life_of_a_tenth_of_c_is_a_thousand_million_turns():
    life = rating_life("6202", "0 N", "765 N", "1000 rev/min")
    assert life.revolutions == pytest.approx(1e9)
    assert life.hours.m_as("hour") == pytest.approx(1e9 / 60e3)
    roller = rating_life("NU 202", "0 N", "1250 N", "1000 rev/min")
    assert roller.revolutions == pytest.approx(1e6 * 10 ** (10 / 3))


def test_a_load_of_c_lasts_a_million_turns():
    for bearing in bearings():
        assert life_revolutions(bearing, bearing.core.dynamic_rating) == pytest.approx(1e6)


def test_twice_the_load_lasts_an_eighth_as_long_and_twice_the_speed_half():
    slow, heavy, fast = (
        rating_life("6202", "0 N", load, speed).hours.m
        for load, speed in (("500 N", "500 rpm"), ("1000 N", "500 rpm"), ("500 N", "1000 rpm"))
    )
    assert (heavy, fast) == (pytest.approx(slow / 8), pytest.approx(slow / 2))


def test_no_load_lasts_for_ever():
    assert np.isinf(rating_life("6202", "0 N", "0 N", "500 rpm").revolutions)
    assert np.isinf(static_safety("6202", "0 N", "0 N"))


# Static


def test_static_equivalent_load_by_hand():
    # P0 = 0.6 Fr + 0.5 Fa, not below Fr (SKF 2018): 600 + 500 and 1000; 40°: 0.5 Fr + 0.26 Fa.
    assert static_equivalent_load("6202", "1000 N", "1000 N").m == pytest.approx(1100)
    assert static_equivalent_load("6202", "100 N", "1000 N").m == 1000
    assert static_equivalent_load("7202 B", "2000 N", "1000 N").m == pytest.approx(1020)


def test_static_safety_is_c0_over_p0():
    assert static_safety("6202", "600 N", "0 N") == pytest.approx(3750 / 300)


@pytest.mark.parametrize(
    # NTN 2203 table 3.6 (quiet, shock, normal); needles: SKF 2018.
    ("designation", "normal", "shock", "quiet"),
    [("6202", 1, 1.5, 2), ("51102", 1, 1.5, 2), ("NU 202", 1.5, 3, 3), ("HK 1010", 3, 3, 3)],
)
def test_recommended_safeties_are_the_printed_ones(designation, normal, shock, quiet):
    found = [recommended_safety(designation, demand) for demand in ("normal", "shock", "quiet")]
    assert found == [normal, shock, quiet]


# Limits


@pytest.mark.parametrize(
    # SKF 2018 p. 254: 0.5 C0; 0.25 C0 for bores up to 12 mm and diameter series 8, 9, 0, 1.
    ("designation", "share"),
    [("608", 0.25), ("6000", 0.25), ("6003", 0.25), ("6200", 0.25), ("6201", 0.25)]
    + [("6202", 0.5), ("6203", 0.5)],
)
def test_axial_limit_follows_the_printed_rule(designation, share):
    bearing = catalogue(designation)
    assert axial_limit(bearing).m == pytest.approx(share * bearing.core.static_rating)


def test_other_kinds_have_no_axial_limit_or_no_axial_load():
    assert np.isinf(axial_limit("7202 B").m) and np.isinf(axial_limit("51102").m)
    assert axial_limit("NU 202").m == axial_limit("HK 1010").m == 0


@pytest.mark.parametrize(
    # SKF 2018: A = 0.0012, 0.0014, 0.0017, 0.0023, 0.0044 kN for 51100 to 51104.
    ("designation", "least"),
    [("51100", 1.2), ("51101", 1.4), ("51102", 1.7), ("51103", 2.3), ("51104", 4.4)],
)
def test_minimum_load_of_thrust_bearings_grows_with_the_square_of_speed(designation, least):
    assert minimum_load(designation, "1000 rev/min").m == pytest.approx(least)
    assert minimum_load(designation, "3000 rev/min").m == pytest.approx(9 * least)


def test_minimum_load_of_radial_bearings_is_a_share_of_c():
    assert minimum_load("6202", "1000 rev/min").m == pytest.approx(76.5)
    assert minimum_load("NU 202", "1000 rev/min").m == pytest.approx(250)


# Laws

FORCES = st.floats(0.0, 5000.0)


@given(st.sampled_from(DEEP_GROOVE), FORCES, FORCES)
def test_equivalent_load_is_at_least_about_the_radial_load(designation, axial, radial):
    # The printed steps leave up to 0.6 % of a dip where the axial load begins to count.
    assert equivalent_load.core(catalogue(designation), axial, radial) >= 0.994 * radial


@given(st.sampled_from(DEEP_GROOVE), FORCES, st.floats(1.0, 3.0))
def test_more_thrust_never_lasts_longer(designation, axial, factor):
    bearing = catalogue(designation)
    less, more = (equivalent_load.core(bearing, load, 0.0) for load in (axial, factor * axial))
    assert more >= less * (1 - 1e-12)


@given(st.sampled_from(DEEP_GROOVE), FORCES)
def test_looser_clearance_wears_less_under_pure_thrust(designation, axial):
    bearing = catalogue(designation)
    loads = [equivalent_load.core(bearing, axial, 0.0, each) for each in ("normal", "C3", "C4")]
    assert loads == sorted(loads, reverse=True)


def test_arrays_and_scalars_agree():
    axial, radial = Q_([0, 300, 900], "N"), Q_([[100], [2000]], "N")
    together = equivalent_load("6202", axial, radial)
    assert together.shape == (2, 3)
    for i in range(2):
        for j in range(3):
            alone = equivalent_load("6202", axial[j], radial[i, 0])
            assert together[i, j].m == alone.m


def test_pound_force_agrees_with_newton():
    assert static_safety("6202", "100 lbf", "0 N") == pytest.approx(
        static_safety("6202", "444.8221615 N", "0 N")
    )


@pytest.mark.parametrize(
    ("changed", "name"),
    [
        ({"bearing": "6292"}, "bearing"),
        ({"axial": "-1 N"}, "axial"),
        ({"radial": "1 mm"}, "radial"),
        ({"radial": 5}, "radial"),
        ({"clearance": "C5"}, "clearance"),
        ({"speed": "0 rpm"}, "speed"),
        ({"speed": "50 Hz"}, "speed"),
        ({"axial": float("nan")}, "axial"),
        ({"axial": []}, "axial"),
    ],
)
def test_nonsense_is_refused_by_name(changed, name):
    given = {"bearing": "6202", "axial": "1 N", "radial": "1 N", "speed": "500 rpm"} | changed
    with pytest.raises(InputError, match=f"^{name}:"):
        rating_life(**given)
