"""Lesson 07 at the lathe: the facing by the note that was summed, and what a whistle may be."""

import pytest

from workshop_lib.lessons.instruments import panels_set_up as panels
from workshop_lib.lessons.instruments.panels import scan_scene
from workshop_lib.overhang import soft_frequencies
from workshop_lib.quantities import speaking

SET_UP = ("78 mm", "60 mm", "0.63 mm", "stainless_steel")


def first(scene, **given):
    return scene.still(**given).text().splitlines()[0]


def test_the_facing_is_the_one_whose_rim_rings_like_the_sound():
    """The sound was summed with 2096 Hz, the note of this rim on 40 MPa within half a per cent."""
    assert soft_frequencies(*SET_UP, "40 MPa", "3 mm", modes=2).min().m_as("Hz") == pytest.approx(
        2096, rel=5e-3
    )
    said = panels.facing_scene().still().text()
    assert "As in the table: its modulus is 40 MPa" in said
    assert 'rim_note = { frequency = "209' in said, "as a job takes it"
    with speaking("inch"):
        assert "psi" in first(panels.facing_scene()) and "MPa" not in first(panels.facing_scene())


@pytest.mark.parametrize(
    ("facing", "told"),
    # 25 to 63 MPa by the note; the table has felt softer and wood stiffer, and nothing for steel.
    [("felt", "Not as in the table"), ("wood", "Not as in the table"),
     ("leather", "As in the table"), ("bare_steel", "The table has no value")],
)  # fmt: skip
def test_it_is_held_against_the_table(facing, told):
    assert first(panels.facing_scene(), facing=facing).startswith(told)


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({}, "Explained: 2110 Hz may be the rim with 0 nodal diameters, or another as close"),
        ({"disc": "120 mm"}, "Not explained yet"),
        ({"source": "hung.wav"}, "No answer: Which file"),
        ({"pad": "80 mm"}, "No answer: Pad, outer diameter"),
        ({"source": "heard"}, "nothing has been recorded yet"),
        ({"source": "own", "file": "none.wav"}, "No answer: My own file"),
    ],
)
def test_a_whistle_is_held_against_what_could_sound_so(given, told):
    """It was summed at 2110 Hz; the rim on the table's leather of 50 MPa rings near 2200 Hz."""
    assert told in first(panels.whistle_scene(), **given)


def test_a_scan_is_as_large_in_inch_as_it_was_drawn():
    """Drawn with 78.02 mm, 3.0717 in, beside a ring of 62 mm that no rounding may move."""
    with speaking("inch"):
        said = scan_scene().still().text()
    assert float(said.split(" in,")[0]) == pytest.approx(78.02 / 25.4, abs=0.0005)
    assert "68 °F" in said and " mm" not in said.split("Set to")[1].split("The line for")[0]
