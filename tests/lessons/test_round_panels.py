"""The panels of lesson 06 on lobes: what a V shows, and what pasted readings prove."""

import pytest

from tests.house.laws import held_for
from workshop_lib.lessons.plan.panels_round import rim_scene, vee_scene
from workshop_lib.quantities import speaking

VEE, RIM = vee_scene(), rim_scene()


def look(scene, **changes):
    found = scene.look(scene.given() | changes)
    assert not found.complaints, found.complaints
    return found.view


def test_the_needle_swings_twice_the_height_of_three_lobes():
    assert "0.04 mm" in look(VEE).verdict
    assert "shows 0.0200 mm" in look(VEE).picture.alt
    assert "shows -0.0200 mm" in look(VEE, turned="60 deg").picture.alt
    assert "hides 7 lobes" in look(VEE, lobes="7").verdict


def test_three_lobes_that_a_micrometer_passes_are_found_in_the_vee():
    both, alone = look(RIM), look(RIM, turned=False)
    assert both.holds == "no" and "three lobes" in both.verdict
    assert alone.holds == "open" and "odd" in alone.verdict
    assert look(RIM, allowed="0.1 mm").holds == "yes"


@held_for(
    [
        ("mm", "77.98\n77.98\n77.99"),
        ("in", "3.0701\n3.0701\n3.0705"),
        ("thou", "3070.1; 3070.1; 3070.5"),
    ]
)
def test_any_unit_says_the_same(unit, text):
    found = look(RIM, unit=unit, diameters=text, turned=False)
    assert "77.98" in found.verdict and "77.99" in found.verdict


@held_for(
    [
        ("diameters", {"diameters": "77,98\n77.98\n77.98"}),
        ("diameters", {"diameters": "78\n78"}),
        ("diameters", {"diameters": "78\n-78\n78"}),
        ("readings", {"readings": "1\n2\nx"}),
        ("readings", {"readings": "1; 2; 3"}),
        ("vee", {"vee": "190 deg"}),
        ("division", {"division": "0 mm"}),
        ("unit", {"unit": "furlong"}),
    ]
)
def test_what_cannot_be_used_is_said_at_its_field(name, changes):
    assert set(RIM.look(RIM.given() | changes).complaints) == {name}


def test_the_readings_that_stand_there_first_say_the_same_in_inch():
    with speaking("inch"):
        scene = rim_scene()
        found = scene.look(scene.given()).view
        assert found.holds == "no" and "three lobes" in found.verdict and "mm" not in found.verdict
        assert "3.0490 in to 3.0494 in" in found.verdict
        assert "0.250 in" in " ".join(map(str, look(vee_scene()).details))


def test_a_vee_beyond_a_flat_is_refused():
    assert set(VEE.look(VEE.given() | {"vee": "181 deg"}).complaints) == {"vee"}
    with pytest.raises(ValueError):
        VEE.still(angle="90 deg")
