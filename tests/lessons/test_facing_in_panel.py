"""The slip panel asks what the facing bears."""

from workshop_lib.lessons.slip.panels import slip_scene


def look(**changes):
    scene = slip_scene()
    return scene.look(scene.given() | changes).view


def test_a_facing_that_is_crushed_is_no_hold():
    # cork bears 0.1 MPa: pi × (35 mm)² × 0.1 MPa = 385 N
    crushed = look(facing="cork", thrust="900 N", depth="0.02 mm")
    assert crushed.holds == "open" and "facing" in str(crushed.verdict)


def test_leather_is_held_to_its_printed_pressure():
    # By hand: 0.25 MPa (from print) on 70 mm is 962 N.
    assert look(thrust="955 N", depth="0.02 mm").holds == "yes"
    assert look(thrust="970 N", depth="0.02 mm").holds == "open"
