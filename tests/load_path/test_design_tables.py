"""The three designs, how they are changed, and how a bad table of them is refused."""

import numpy as np
import pytest

from workshop_lib import sources
from workshop_lib.bearings.fits import needle_play, sliding_fit
from workshop_lib.load_path.design_tables import designs, find_design
from workshop_lib.quantities import InputError

NOSE = find_design("pressure_nose")


def test_the_three_designs_of_the_plan_are_there_and_none_twice():
    keys = [design.key for design in designs()]
    assert {"pressure_nose", "roller_centre", "preloaded_centre"} <= set(keys)
    assert len(set(keys)) == len(keys) == len({design.name for design in designs()})


def test_the_pressure_nose_passes_its_thrust_as_the_plan_says():
    # shoulder → front inner ring, balls, outer ring (sliding in the bore) → sleeve → rear outer
    # ring → floor of the bore.
    told = [step.name for step in NOSE.steps if step.path == "thrust"]
    assert told[1:] == [
        "rotating shoulder",
        "front bearing",
        "sleeve",
        "rear outer ring",
        "floor of the bore",
    ]
    assert {support.bearing.kind for support in NOSE.supports} == {"deep_groove"}
    assert NOSE.support("front").radial == "sliding"
    assert NOSE.support("rear").axial == "free"


@pytest.mark.parametrize(
    ("key", "kinds"),
    [
        ("roller_centre", ["cylindrical_roller", "thrust_ball", "drawn_cup_needle"]),
        ("preloaded_centre", ["angular_contact", "thrust_ball"]),
    ],
)
def test_the_centres_have_the_bearings_of_the_plan(key, kinds):
    assert [support.bearing.kind for support in find_design(key).supports] == kinds
    assert (find_design(key).preload > 0) == (key == "preloaded_centre")


def test_every_size_is_owned_up_to_as_invented():
    for design in designs():
        assert sources.standing(design.source) == "from memory"
        assert "Invented" in design.note


@pytest.mark.parametrize("design", designs(), ids=lambda each: each.key)
def test_the_parts_fit_together(design):
    for support in design.supports:
        assert support.shaft_ahead >= support.bearing.core.bore * 0.999
    places = [support.behind_tip for support in design.supports]
    widths = [support.bearing.core.width for support in design.supports]
    for gap, one, other in zip(np.diff(places), widths, widths[1:], strict=False):
        assert gap >= (one + other) / 2
    for step in design.steps:
        assert step.how == "bearing" or 0 <= step.inner < step.outer
        for place in step.carries:
            assert place == "applied" or design.support(place)


def test_plays_come_from_the_tables_of_fits_and_clearances():
    front = NOSE.support("front")
    assert front.fit == pytest.approx(sliding_fit("6202", "H7").typical.m_as("m"))
    assert front.clearance == pytest.approx(10.5e-6)  # ISO 5753-1, normal: 3 to 18 µm
    third = find_design("roller_centre").support("third")
    assert third.clearance == pytest.approx(needle_play("HK 1210", "h5").typical.m_as("m"))


# Changing


def test_what_is_not_changed_stays():
    same = NOSE.changed()
    for one, other in zip(same.supports, NOSE.supports, strict=True):
        assert vars(one) == vars(other)
    assert (same.preload, same.ring_friction) == (NOSE.preload, NOSE.ring_friction)


def test_overhang_moves_all_and_span_only_what_is_behind():
    longer = NOSE.changed(overhang="40 mm")
    assert longer.overhang.m_as("mm") == pytest.approx(40)
    assert longer.span.m == pytest.approx(NOSE.span.m)
    wider = find_design("roller_centre").changed(span="100 mm")
    assert wider.overhang.m == pytest.approx(find_design("roller_centre").overhang.m)
    assert [round(1e3 * each.behind_tip) for each in wider.supports] == [24, 84, 124]


def test_a_class_and_its_middle_are_the_same_change():
    by_class, by_length = (
        NOSE.changed(fit="G7", clearance="C3"),
        NOSE.changed(fit="27 um", clearance="18 um"),
    )
    for one, other in zip(by_class.supports, by_length.supports, strict=True):
        assert one.fit == pytest.approx(other.fit)
        assert one.clearance == pytest.approx(other.clearance)


def test_another_bearing_brings_its_own_plays():
    changed = NOSE.changed(bearings={"front": "6001", "rear": "6001"})
    assert changed.support("front").bearing.designation == "6001"
    assert changed.support("front").fit == pytest.approx(15e-6)  # H7 on 28 mm: 0 to 30 µm
    kept = NOSE.changed(fit="5 um").changed(bearings={"front": "6001"})
    assert kept.support("front").fit == pytest.approx(5e-6)  # a length stays a length


def test_a_clearance_class_leaves_needles_alone():
    changed = find_design("roller_centre").changed(clearance="C3")
    assert changed.support("front").clearance == pytest.approx(47.5e-6)
    assert (
        changed.support("third").clearance
        == find_design("roller_centre").support("third").clearance
    )


def test_a_pushed_rear_ring_and_its_spacing():
    pushed = NOSE.changed(rear_ring="pushed", spacing="5 um")
    assert pushed.support("rear").axial == "rearward"
    assert pushed.support("rear").spacing == pytest.approx(5e-6)
    assert pushed.changed(rear_ring="slides").support("rear").axial == "free"


@pytest.mark.parametrize(
    ("key", "change", "name"),
    [
        ("pressure_nose", {"overhang": "0 mm"}, "overhang"),
        ("pressure_nose", {"overhang": "5 N"}, "overhang"),
        ("pressure_nose", {"overhang": ["5 mm", "6 mm"]}, "overhang"),
        ("pressure_nose", {"span": "-5 mm"}, "span"),
        ("pressure_nose", {"span": "10 mm"}, "span"),  # two 6202 are 11 mm wide each
        ("roller_centre", {"span": "12 mm"}, "span"),
        ("pressure_nose", {"overhang": "5 mm"}, "overhang"),
        ("pressure_nose", {"fit": "-5 um"}, "fit"),
        ("pressure_nose", {"fit": "H9"}, "fit"),
        ("pressure_nose", {"fit": "k5"}, "fit"),
        ("pressure_nose", {"fit": 18}, "fit"),
        ("pressure_nose", {"clearance": "C9"}, "clearance"),
        ("pressure_nose", {"clearance": True}, "clearance"),
        ("pressure_nose", {"preload": "100 N"}, "preload"),
        ("pressure_nose", {"bearings": {"front": "51100"}}, "bearings"),
        ("pressure_nose", {"bearings": {"middle": "6202"}}, "bearings"),
        ("pressure_nose", {"bearings": "6202"}, "bearings"),
        ("pressure_nose", {"bearings": {"front": "nonsense"}}, "bearings"),
        ("pressure_nose", {"rear_ring": "welded"}, "rear_ring"),
        ("pressure_nose", {"spacing": "5 um"}, "spacing"),
        ("pressure_nose", {"ring_friction": -0.1}, "ring_friction"),
        ("roller_centre", {"fit": "H7"}, "fit"),
        ("roller_centre", {"bearings": {"front": "NU 204"}}, "bearings"),
        ("roller_centre", {"rear_ring": "pushed"}, "rear_ring"),
        ("preloaded_centre", {"clearance": "C3"}, "clearance"),
        ("preloaded_centre", {"preload": "-1 N"}, "preload"),
    ],
)
def test_a_change_that_makes_no_sense_is_refused_by_name(key, change, name):
    with pytest.raises(InputError, match=f"^{name}: "):
        find_design(key).changed(**change)


@pytest.mark.parametrize("nonsense", [None, "", "live_centre", 3, [], b"pressure_nose", "x" * 99])
def test_an_unknown_design_is_refused(nonsense):
    with pytest.raises(InputError, match="^design: .*Known: pressure_nose"):
        find_design(nonsense)
    with pytest.raises(InputError, match="^place: .*Known: front, rear"):
        NOSE.support(nonsense)


# Tables of one's own


def test_a_size_that_a_teacher_changes_is_there_at_once(own):
    own("design_supports.csv", "pressure_nose,front,6202,25", "pressure_nose,front,6202,31")
    assert find_design("pressure_nose").overhang.m_as("mm") == pytest.approx(31)


@pytest.mark.parametrize(
    ("name", "old", "new", "told"),
    [
        ("designs.csv", "roller_centre,", "ruler_centre,", "‘roller_centre’ has no row in designs"),
        ("designs.csv", "bearings,0,", "bearings,300,", "line 2: a preload needs a bearing"),
        ("design_supports.csv", "front,6202", "front,62O2", "line 2: .*Did you mean 6202"),
        (
            "design_supports.csv",
            "front,NU 202",
            "front,NU 204",
            "the inside of NU 204 .* is not known",
        ),
        ("design_supports.csv", "rear,6202,57", "rear,6202,25", "same distance behind the tip"),
        (
            "design_supports.csv",
            "15,free,sliding,H7",
            "15,none,sliding,H7",
            "axial is none for rollers",
        ),
        ("design_supports.csv", "sliding,H7,normal", "sliding,H9,normal", "line 2: fit: "),
        ("design_supports.csv", "sliding,H7,normal", "sliding,H7,C9", "line 2: clearance: "),
        ("design_steps.csv", "applied", "everything", "carries names everything"),
        ("design_steps.csv", "column,0,20", "column,20,20", "needs inner_mm below outer_mm"),
    ],
)
def test_a_bad_row_is_named_by_file_and_line(own, name, old, new, told):
    own(name, old, new)
    with pytest.raises(InputError, match=told):
        designs()
