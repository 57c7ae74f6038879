"""Load ratings computed from the inside of a bearing agree with what catalogues print."""

import numpy as np
import pytest

from workshop_lib.bearings.bearing_tables import bearings, catalogue
from workshop_lib.bearings.hertz import COMPLIANCE
from workshop_lib.bearings.ratings import (
    ball_count,
    dynamic_rating,
    fc_factor,
    static_rating,
)
from workshop_lib.quantities import Q_, InputError

# ISO 281, table of fc: remembered 46.7, 49.1, 52.8, 55.5 … 59.9; the others computed independently.
FC = {
    0.05: 46.7,
    0.06: 49.1,
    0.08: 52.8,
    0.10: 55.5,
    0.12: 57.5,
    0.14: 58.8,
    0.16: 59.6,
    0.18: 59.9,
    0.20: 59.9,
    0.22: 59.6,
    0.24: 59.0,
    0.26: 58.2,
    0.28: 57.1,
    0.30: 56.0,
}


@pytest.mark.parametrize("lean", FC)
def test_the_formula_gives_the_fc_table_of_iso_281(lean):
    assert round(fc_factor(lean), 1) == FC[lean]


def inside(bearing):
    """Balls, ball diameter, pitch diameter and contact angle, as arguments."""
    part = bearing.inside
    sizes = (Q_(size, "m") for size in (part.element_diameter, part.pitch_diameter))
    return part.elements, *sizes, Q_(part.contact_angle, "rad")


def of_kind(kind):
    return pytest.mark.parametrize(
        "bearing", bearings(kind), ids=lambda bearing: bearing.designation
    )


@of_kind("deep_groove")
def test_static_rating_of_deep_groove_bearings_agrees_with_print(bearing):
    # Within 1.2 %: f0 as printed and as computed differ by as much.
    printed = bearing.static_rating.m_as("N")
    assert static_rating(*inside(bearing)).m_as("N") == pytest.approx(printed, rel=0.012)


@of_kind("deep_groove")
def test_dynamic_rating_of_deep_groove_bearings_agrees_with_print(bearing):
    # Within 1.2 % of the NSK and NTN print; SKF prints some per cent more.
    printed = bearing.dynamic_rating.m_as("N")
    assert dynamic_rating(*inside(bearing)).m_as("N") == pytest.approx(printed, rel=0.012)


@of_kind("deep_groove")
def test_the_other_catalogue_prints_more_but_not_ten_per_cent(bearing):
    printed = [rating.dynamic for rating in bearing.ratings if rating.source == "skf-2018"]
    for dynamic in printed:
        assert 1.0 < dynamic / dynamic_rating(*inside(bearing)).m_as("N") < 1.10


@of_kind("angular_contact")
def test_ratings_of_angular_contact_bearings_agree_with_print(bearing):
    # The inside was inferred from these ratings: 3 % is what whole balls of stock sizes allow.
    assert static_rating(*inside(bearing)).m == pytest.approx(bearing.static_rating.m, rel=0.03)
    assert dynamic_rating(*inside(bearing)).m == pytest.approx(bearing.dynamic_rating.m, rel=0.03)


@of_kind("thrust_ball")
def test_static_rating_of_thrust_bearings_agrees_with_print(bearing):
    # The inside was inferred from these ratings; balls are stock sizes and whole in number.
    assert static_rating(*inside(bearing)).m == pytest.approx(bearing.static_rating.m, rel=0.02)


def roller_static_rating(rollers, diameter, pitch, length):
    """C0 = 44 (1 − D/D_p) Z L D in mm, for 4000 MPa: ISO 76, formula from memory."""
    return 44e6 * (1 - diameter / pitch) * rollers * length * diameter


@pytest.mark.parametrize(
    "designation",
    [
        "NU 202",
        "HK 0810",
        "HK 1010",
        "HK 1210",
        "HK 1512",
        "HK 2012",
        "SCE 66",
        "SCE 88",
        "SCE 108",
    ],
)
def test_static_rating_of_roller_bearings_agrees_with_print(designation):
    bearing = catalogue(designation)
    part = bearing.inside
    sizes = part.element_diameter, part.pitch_diameter, part.length
    found = roller_static_rating(part.elements, *sizes)
    assert found == pytest.approx(bearing.static_rating.m_as("N"), rel=0.03)


@pytest.mark.parametrize(
    "designation", ["HK 0810", "HK 1010", "HK 2012", "SCE 66", "SCE 88", "SCE 108"]
)
def test_dynamic_ratings_of_needles_stand_in_proportion(designation):
    """C goes as L^(7/9) Z^(3/4) D^(29/27) (ISO 281, from memory), with HK 1210 for measure; within
    8 %, which the printed ones keep among themselves too. What was not seen must not be above."""
    one, other = (catalogue(each) for each in (designation, "HK 1210"))
    a, b = one.inside, other.inside
    share = (a.length / b.length) ** (7 / 9) * (a.elements / b.elements) ** 0.75
    share *= (a.element_diameter / b.element_diameter) ** (29 / 27)
    assert one.dynamic_rating.m == pytest.approx(share * other.dynamic_rating.m, rel=0.08)
    if "memory" in one.source:
        assert one.dynamic_rating.m < share * other.dynamic_rating.m


def test_the_roller_formula_follows_from_4000_mpa_of_line_contact():
    # p² = Q/(pi L R compliance), R = D(1 − g)/2, C0 = Z Q/5: gives 44.2 for the standard's 44.
    roller, pitch, length = 5.5e-3, 25e-3, 4.9e-3
    radius = roller * (1 - roller / pitch) / 2
    load = 4e9**2 * np.pi * length * radius * COMPLIANCE
    assert 11 * load / 5 == pytest.approx(roller_static_rating(11, roller, pitch, length), rel=0.01)


def test_every_inside_has_room_for_its_balls():
    for bearing in bearings():
        part = bearing.inside
        if part is not None:
            gap = np.pi * part.pitch_diameter / part.elements
            assert gap > 1.01 * part.element_diameter
            assert part.pitch_diameter + part.element_diameter < bearing.core.outside_diameter
            within = bearing.core.bore if part.length is None else 0.999 * bearing.core.bore
            assert part.pitch_diameter - part.element_diameter >= within


def test_ratings_grow_with_balls_as_their_powers_say():
    few, many = (static_rating(balls, "4 mm", "40 mm").m for balls in (8, 16))
    assert many == pytest.approx(2 * few)
    few, many = (dynamic_rating(balls, "4 mm", "40 mm").m for balls in (8, 16))
    assert many == pytest.approx(2 ** (2 / 3) * few)


def test_ratings_grow_with_size_as_their_powers_say():
    small, large = (static_rating(8, f"{k * 4} mm", f"{k * 20} mm").m for k in (1, 2))
    assert large == pytest.approx(4 * small)
    small, large = (dynamic_rating(8, f"{k * 4} mm", f"{k * 20} mm").m for k in (1, 2))
    assert large == pytest.approx(2**1.8 * small)


def test_the_radial_rating_falls_as_the_contact_angle_rises():
    angles = Q_([0, 15, 25, 40], "deg")
    assert np.all(np.diff(dynamic_rating(8, "5 mm", "25 mm", angles).m) < 0)


@pytest.mark.parametrize(
    ("changed", "name"),
    [
        ({"balls": 2}, "balls"),
        ({"balls": 7.5}, "balls"),
        ({"balls": True}, "balls"),
        ({"balls": "8"}, "balls"),
        ({"ball_diameter": "24 mm"}, "ball_diameter"),
        ({"ball_diameter": "0 mm"}, "ball_diameter"),
        ({"pitch_diameter": 25}, "pitch_diameter"),
        ({"contact_angle": "91 deg"}, "contact_angle"),
    ],
)
def test_nonsense_is_refused_by_name(changed, name):
    given = {"balls": 8, "ball_diameter": "5 mm", "pitch_diameter": "25 mm"} | changed
    for rating in (static_rating, dynamic_rating):
        with pytest.raises(InputError, match=f"^{name}:"):
            rating(**given)


def test_a_ball_beyond_the_formula_is_refused():
    with pytest.raises(InputError, match=r"25\.4 mm"):
        dynamic_rating(8, "26 mm", "120 mm")


@pytest.mark.parametrize(("count", "taken"), [(2, False), (3, True), (200, True), (201, False)])
def test_a_bearing_has_three_balls_or_more(count, taken):
    if taken:
        assert ball_count(count, "balls") == count
    else:
        with pytest.raises(InputError, match="^balls: "):
            ball_count(count, "balls")
