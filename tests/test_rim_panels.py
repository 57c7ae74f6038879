"""What the panels of lesson 03 about rim and speed say, held against the library's other calls."""

import re

import pytest

from workshop_lib import overhang
from workshop_lib.blank import Blank
from workshop_lib.lesson import rim_scenes
from workshop_lib.quantities import Q_, show


def view(scene, **given):
    """What a panel shows for some settings, and its cautions."""
    look = scene.look(scene.given() | given)
    assert look.view is not None, look.complaints
    return look.view, look.cautions


def row(shown, label):
    """The value that stands behind a label in the table of a panel."""
    text = "\n".join(each.text() for each in shown.details if hasattr(each, "text"))
    return re.search(rf"^{re.escape(label)} +(.+)$", text, re.MULTILINE)[1].strip()


def test_a_bare_nose_leaves_the_rim_of_a_large_pad_unpressed_and_a_plate_does_not():
    scene = rim_scenes.rim_scene()
    sizes = {"pad_diameter": "90 mm"}
    plated, quiet = view(scene, **sizes, presses="plate")
    bare, cautions = view(scene, **sizes, presses="nose")
    assert plated.holds == "yes" and not quiet
    assert bare.holds == "no" and len(cautions) == 1
    assert row(bare, "The pad's rim is pressed, against its middle") == "0 %"


def test_under_a_bare_nose_a_pad_of_its_own_size_is_pressed_all_over():
    scene = rim_scenes.rim_scene()
    both = [view(scene, pad_diameter="20 mm", presses=how)[0] for how in ("plate", "nose")]
    assert both[0].verdict == both[1].verdict
    assert row(both[1], "The pad's rim is pressed, against its middle") == "100 %"


@pytest.mark.parametrize("force", ["1 N", "4 N", "24 N"])
def test_the_least_pad_of_the_panel_keeps_the_bend_and_is_no_more_than_a_millimetre_too_large(
    force,
):
    scene = rim_scenes.rim_scene()
    least = row(view(scene, force=force)[0], "Least pad for a bend of 0.0200 mm")
    assert view(scene, force=force, pad_diameter=least)[0].holds == "yes"
    smaller = f"{float(least.split()[0]) - 1:g} mm"
    assert view(scene, force=force, pad_diameter=smaller)[0].holds == "no"


def test_the_note_named_is_the_lowest_of_the_rims():
    shown, _ = view(rim_scenes.rim_scene())
    notes = overhang.natural_frequencies("100 mm", "30 mm", "0.55 mm", "stainless_steel", modes=4)
    assert row(shown, "The rim's lowest note").startswith(f"about {show(notes.min(), figures=2)},")


@pytest.mark.parametrize("corners", [4, 8])
def test_unbalance_is_that_of_the_blank_and_not_of_the_disc(corners):
    given = {"corners": corners, "off": "1 mm", "disc_diameter": "78 mm", "thickness": "0.6 mm"}
    shown, _ = view(rim_scenes.speed_scene(), **given)
    speed = row(shown, "The machine's next lower speed")
    blank = Blank.regular(corners, across_flats="78 mm")
    pull = blank.unbalance((Q_(1, "mm"), Q_(0, "mm")), "0.6 mm", "stainless_steel", speed)
    assert row(shown, "Unbalance") == show(pull, figures=2)
