"""What the panels of lesson 03 about rim and speed say, held against the library's other calls."""

import re

import pytest

from workshop_lib import overhang
from workshop_lib.lessons.light_cuts import panels_rim
from workshop_lib.overhang.spreading import rim_share
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


def told(shown):
    """All that stands below the drawing of a panel."""
    return "\n".join(each if isinstance(each, str) else each.text() for each in shown.details)


PRESSED = "Pressure at the pad's edge, as a share of its middle"


def pressed(shown):
    """How hard the pad's rim is pressed, in hundredths of its middle."""
    return int(row(shown, PRESSED).partition(" %")[0])


def test_a_bare_nose_leaves_the_rim_of_a_large_pad_unpressed_and_a_plate_does_not():
    scene = panels_rim.rim_scene()
    sizes = {"pad_diameter": "90 mm"}
    plated, quiet = view(scene, **sizes, presses="plate")
    bare, cautions = view(scene, **sizes, presses="nose")
    assert plated.holds == "yes" and not quiet
    assert bare.holds == "no" and len(cautions) == 1
    assert pressed(bare) == 0


def test_a_bend_that_is_not_to_be_trusted_says_so_in_its_row():
    scene = panels_rim.rim_scene()
    plated, bare = (view(scene, pad_diameter="90 mm", presses=how)[0] for how in ("plate", "nose"))
    bend = row(plated, "Bend at the tool")
    assert row(bare, "Bend at the tool").startswith(f"{bend}, but do not trust it")
    assert "assume a pad" in told(bare)
    assert "assume a pad" not in told(plated)


def test_a_rim_counts_as_held_from_half_of_the_pressure_in_the_middle():
    # A thick sheet and a bend that is no matter, so that the pressure alone decides.
    scene = panels_rim.rim_scene()
    given = {"thickness": "1 mm", "disc_diameter": "60 mm", "limit": "0.5 mm", "presses": "nose"}
    seen = [view(scene, **given, pad_diameter=f"{size} mm")[0] for size in range(20, 36)]
    shares = [pressed(each) for each in seen]
    assert shares == sorted(shares, reverse=True)
    assert any(10 < each < 49 for each in shares) and any(51 < each < 90 for each in shares)
    for shown, share in zip(seen, shares, strict=True):
        assert share != 50 and shown.holds == ("yes" if share > 50 else "no")


@pytest.mark.parametrize("pad", ["22 mm", "24 mm", "26 mm"])
def test_the_pressure_is_that_on_three_millimetres_of_leather_as_the_row_says(pad):
    # The share is held in tests/overhang/test_spreading.py against a plate on springs solved apart.
    shown = view(panels_rim.rim_scene(), pad_diameter=pad, presses="nose")[0]
    sheet = pad, "100 mm", "stainless_steel", "0.55 mm"
    share = rim_share("20 mm", *sheet, "50 MPa", "3 mm")
    assert re.match(f"{100 * share:.0f} % .*leather, 3.0 mm", row(shown, PRESSED))


def test_under_a_bare_nose_a_pad_of_its_own_size_is_pressed_all_over():
    scene = panels_rim.rim_scene()
    both = [view(scene, pad_diameter="20 mm", presses=how)[0] for how in ("plate", "nose")]
    assert both[0].verdict == both[1].verdict
    assert pressed(both[1]) == 100


@pytest.mark.parametrize("force", ["1 N", "2 N", "4 N"])
@pytest.mark.parametrize("facing", ["leather", "wood", "clamped"])
def test_the_least_pad_of_the_panel_keeps_the_bend_and_is_no_more_than_a_millimetre_too_large(
    force, facing
):
    scene, given = panels_rim.rim_scene(), {"force": force, "facing": facing}
    least = row(view(scene, **given)[0], "Smallest pad for a bend of 0.0200 mm")
    assert view(scene, **given, pad_diameter=least)[0].holds == "yes"
    smaller = f"{float(least.split()[0]) - 1:g} mm"
    assert view(scene, **given, pad_diameter=smaller)[0].holds == "no"


def test_no_pad_helps_where_leather_itself_gives_too_much():
    # The sheet lies on springs: even a pad of 97 % bends by more than 0.02 mm.
    shown = view(panels_rim.rim_scene(), force="24 N")[0]
    assert row(shown, "Smallest pad for a bend of 0.0200 mm").startswith("none")
    sheet = "100 mm", "97 mm", "0.55 mm", "stainless_steel"
    assert overhang.soft_rim_deflection("24 N", *sheet, "20 MPa", "3 mm") > Q_(0.02, "mm")


COVER = {"disc_diameter": "78 mm", "pad_diameter": "70 mm", "thickness": "0.635 mm"}


def test_the_cover_is_judged_on_soft_leather_and_the_clamped_bend_is_the_lower_bound():
    # A reference case worked apart, 0.106 mm at 50 MPa; 0.0150 mm clamped. Soft leather is 20 MPa.
    shown = view(panels_rim.rim_scene(), **COVER, force="24 N")[0]
    clamped = row(shown, "… if the sheet were clamped (the least it can bend)")
    assert shown.holds == "no" and clamped == "0.0150 mm"
    bend = overhang.soft_rim_deflection(
        "24 N", *COVER.values(), "stainless_steel", "20 MPa", "3 mm"
    )
    assert row(shown, "Bend at the tool") == show(bend)
    assert bend > Q_(0.106, "mm")


def test_a_softer_or_thicker_facing_never_makes_a_rim_stiffer():
    scene, bends = panels_rim.rim_scene(), []
    order = ("clamped", "moulded_lining", "wood", "card", "leather", "cork", "rubber")
    for facing in order:
        shown = view(scene, **COVER, facing=facing)[0]
        bends.append(float(row(shown, "Bend at the tool").split()[0]))
    assert bends == sorted(bends)
    thick = view(scene, **COVER, facing_thickness="5 mm")[0]
    thin = view(scene, **COVER, facing_thickness="2 mm")[0]
    first, second = (float(row(each, "Bend at the tool").split()[0]) for each in (thin, thick))
    assert first < second


def test_a_force_that_lifts_the_sheet_off_its_facing_is_never_stiff_enough():
    given = {"thickness": "2 mm", "limit": "0.5 mm", "force": "40 N", "pad_diameter": "60 mm"}
    firm = view(panels_rim.rim_scene(), **given, thrust="2500 N")[0]
    loose = view(panels_rim.rim_scene(), **given, thrust="50 N")[0]
    assert firm.holds == "yes" and loose.holds == "no"
    assert "off its facing" in loose.verdict


def test_the_note_named_is_the_lowest_of_the_rims():
    shown, _ = view(panels_rim.rim_scene())
    sheet = "100 mm", "30 mm", "0.55 mm", "stainless_steel"
    notes = overhang.soft_frequencies(*sheet, "20 MPa", "3 mm", modes=4)
    assert row(shown, "The rim's lowest note").startswith(f"about {show(notes.min(), figures=2)},")


def test_only_notes_above_20_khz_are_too_high_to_hear():
    # Young ears hear from 20 Hz to 20 kHz (common knowledge).
    scene, said = panels_rim.rim_scene(), []
    for pad, thickness in (("40 mm", "1 mm"), ("40 mm", "2 mm"), ("40 mm", "2.8 mm")):
        disc = "60 mm", pad, thickness, "stainless_steel"
        note = overhang.natural_frequencies(*disc, modes=4).min().m_as("kHz")
        given = {"pad_diameter": pad, "thickness": thickness, "facing": "clamped"}
        shown = view(scene, disc_diameter="60 mm", **given)[0]
        heard = row(shown, "The rim's lowest note") != "too high to hear"
        assert heard == (note <= 20)
        said.append(note)
    assert 7 < said[0] < 9 and 14 < said[1] < 18 and said[2] > 20.5


@pytest.mark.parametrize(
    ("thrust", "force"),
    [
        ("800 N", "60 N"),  # by hand: 800 N × 15 mm / 4 / 50 mm
        ("850 N", "63 N"),  # 63.75 N: told no greater than it is
        ("400 N", "30 N"),
    ],
)
def test_the_force_that_tips_the_disc_by_hand(thrust, force):
    shown = view(panels_rim.rim_scene(), thrust=thrust, pad_diameter="30 mm")[0]
    assert row(shown, "Force across the rim that tips the disc off the pad") == force
