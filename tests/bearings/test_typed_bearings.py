"""A bearing from its printed sizes and ratings: the likely inside, and what cannot be meant."""

import numpy as np
import pytest

from tests.house.laws import held_for
from workshop_lib.bearings import (
    axial_limit,
    bearing_of,
    bearings,
    minimum_load,
    own_bearing,
    typical_inside,
)
from workshop_lib.quantities import InputError

BALLS = [each for each in bearings() if each.kind in ("deep_groove", "angular_contact")]
SIZES = {
    "kind": "deep_groove",
    "bore": "12 mm",
    "outside_diameter": "28 mm",
    "width": "8 mm",
    "dynamic_rating": "5100 N",
    "static_rating": "2370 N",
}


def typed(bearing):
    sizes = bearing.bore, bearing.outside_diameter, bearing.width
    return own_bearing(bearing.kind, *sizes, bearing.dynamic_rating, bearing.static_rating)


@held_for(BALLS)
def test_printed_ratings_speak_for_the_typical_balls(bearing):
    """Typical insides were recalled (bearing-geometry) or found apart from this search."""
    found = typed(bearing).inside
    assert found.elements == bearing.inside.elements
    assert found.element_diameter == pytest.approx(bearing.inside.element_diameter, rel=0.02)
    assert found.pitch_diameter == pytest.approx(bearing.inside.pitch_diameter, rel=0.06)


@held_for(bearings("thrust_ball"))
def test_the_least_load_of_a_thrust_bearing_is_near_the_printed_one(bearing):
    """A (n/1000)² as SKF 2018 prints A for five sizes."""
    least = minimum_load(typed(bearing), "1000 rev/min").m_as("N")
    assert least == pytest.approx(bearing.core.minimum_load, rel=0.05)


@held_for(bearings("thrust_ball"))
def test_thrust_balls_stand_straight_and_carry_what_is_printed(bearing):
    """C0 = f0 Z D² (ISO 76), one f0 for all: the printed sizes give the same one within 4 %."""
    found = typed(bearing)
    part = found.inside
    assert part.contact_angle == pytest.approx(np.pi / 2)
    assert part.elements * part.element_diameter < np.pi * part.pitch_diameter
    listed = bearings("thrust_ball")[0]
    f0 = listed.core.static_rating / (listed.inside.elements * listed.inside.element_diameter**2)
    carried = f0 * part.elements * part.element_diameter**2
    assert carried == pytest.approx(bearing.core.static_rating, rel=0.04)
    assert found.core.f0 is None


@held_for([each for each in BALLS if each.kind == "deep_groove"])
def test_the_factor_f0_is_the_printed_one(bearing):
    """NSK prints f0 from 11.1 to 14.5 for these."""
    assert typed(bearing).core.f0 == pytest.approx(bearing.core.f0, rel=0.025)


def test_it_is_named_by_its_bore_and_outside():
    assert bearing_of(SIZES).designation == "own 12.00 mm × 28.00 mm"
    assert bearing_of({**SIZES, "bore": "12.34567 mm"}).designation == "own 12.35 mm × 28.00 mm"


def test_a_ring_without_a_wall_is_refused_at_its_bore():
    with pytest.raises(InputError, match="^bearing.bore: must be smaller"):
        bearing_of({**SIZES, "bore": "28 mm"})


def test_an_unknown_series_has_the_lower_axial_limit():
    """SKF 2018: 0.25 C0 for light series, 0.5 C0 for others; nobody said which."""
    found = bearing_of({**SIZES, "bore": "15 mm", "outside_diameter": "32 mm", "width": "9 mm",
                        "dynamic_rating": "5600 N", "static_rating": "2830 N"})  # fmt: skip
    assert axial_limit(found).m_as("N") == pytest.approx(0.25 * 2830)


def test_it_can_be_asked_like_any_other():
    found = bearing_of(SIZES)
    assert typical_inside(found, "C3").end_play > typical_inside(found, "C2").end_play
    assert "typed in" in found.describe()
    inch = bearing_of({**SIZES, "bore": "0.4724 in", "static_rating": "532.8 lbf"})
    assert inch.inside.elements == found.inside.elements


@pytest.mark.parametrize(
    ("changed", "told"),
    [
        ({"dynamic_rating": "51000 N"}, "^bearing.static_rating: .*give both"),
        ({"static_rating": "23.7 N"}, "^bearing.static_rating: .*give both"),
        ({"bore": "30 mm"}, "^bearing.bore: must be smaller"),
        ({"bore": "0 mm"}, "^bearing.bore: "),
        ({"bore": 12}, "^bearing.bore: has no unit"),
        ({"width": ["8 mm", "9 mm"]}, "^bearing.width: "),
        ({"width": "8 N"}, "^bearing.width: "),
        ({"kind": "plain"}, "^bearing.kind: "),
        ({"kind": None}, "^bearing.kind: "),
        ({"colour": "red"}, "^bearing.colour: "),
        ({"width": None}, "^bearing.width: "),
    ],
)
def test_what_cannot_be_meant_is_refused_by_name(changed, told):
    with pytest.raises(InputError, match=told):
        bearing_of(SIZES | changed)


def test_a_missing_size_is_named():
    with pytest.raises(InputError, match="^bearing.width: is missing"):
        bearing_of({key: value for key, value in SIZES.items() if key != "width"})
