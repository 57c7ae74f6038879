"""A nose of one's own: it works as its sizes say, and one that cannot work is refused in words."""

import numpy as np
import pytest

from tests.house.laws import held_for
from workshop_lib.bearings import axial_limit
from workshop_lib.load_path import (
    find_design,
    highest_thrust,
    live_centre,
    nose_shift,
    own_design,
    stronger_bearing,
    trace,
)
from workshop_lib.quantities import InputError

TWO = {"front": "6001", "rear": "6001"}
ROLLER = {"front": "NU 202", "thrust": "51102", "third": "HK 1210"}
PRELOADED = {"front": "7202 B", "thrust": "51102"}
TYPED = {
    "kind": "deep_groove",
    "bore": "12 mm",
    "outside_diameter": "28 mm",
    "width": "8 mm",
    "dynamic_rating": "5100 N",
    "static_rating": "2370 N",
}


@held_for(
    [("pressure_nose", {"front": "6202", "rear": "6202"}), ("roller_centre", ROLLER),
     ("preloaded_centre", PRELOADED)]
)  # fmt: skip
def test_with_the_bearings_of_the_pattern_it_rests_as_the_pattern_does(case):
    """The pattern's supports, entered by hand in `data/`, are a second way to the same spindle."""
    key, bearings = case
    pattern = find_design(key)
    ahead = {each.place: f"{1e3 * each.shaft_ahead} mm" for each in pattern.supports}
    tighter = {"front": "C2"} if key == "roller_centre" else None  # as its row says
    own = own_design(key, bearings, spindle=ahead, clearance=tighter)
    for load in (("600 N", "0 N"), ("600 N", "80 N")):
        one, other = trace(own, *load), trace(key, *load)
        for mine, theirs in zip(one.reactions, other.reactions, strict=True):
            assert mine.axial.m_as("N") == pytest.approx(theirs.axial.m_as("N"), abs=1e-3)
            assert mine.margin == pytest.approx(theirs.margin, rel=1e-4)
        assert one.tip_shift.m_as("mm") == pytest.approx(other.tip_shift.m_as("mm"), rel=1e-4)


def test_two_6001_may_take_592_newtons_and_no_more():
    """SKF 2018: up to a bore of 12 mm an axial load of 0.25 C0; NSK prints C0 = 2370 N."""
    own = own_design("pressure_nose", TWO)
    assert highest_thrust(own).m_as("N") == pytest.approx(0.25 * 2370, rel=1e-4)
    found = trace(own, "667 N")
    assert (found.weakest.name, found.weakest.governs) == ("front bearing", "axial limit")
    assert found.weakest.margin == pytest.approx(0.25 * 2370 / 667, rel=1e-9)


def test_a_typed_bearing_does_what_the_tabled_one_does():
    typed = own_design("pressure_nose", {"front": TYPED, "rear": "6001"})
    tabled = own_design("pressure_nose", TWO)
    assert highest_thrust(typed).m_as("N") == pytest.approx(highest_thrust(tabled).m_as("N"))
    shift = [nose_shift(each, "500 N", "60 N").m_as("um") for each in (typed, tabled)]
    assert shift[0] == pytest.approx(shift[1], rel=0.05)


def test_the_pushed_ring_takes_the_thrust():
    for pushed, other in (("front", "rear"), ("rear", "front")):
        found = trace(own_design("pressure_nose", TWO, pushed=pushed), "500 N")
        assert found.reaction(pushed).axial.m_as("N") == pytest.approx(500, rel=1e-6)
        assert found.reaction(other).axial.m_as("N") == pytest.approx(0, abs=1e-3)
        names = [each.name for each in found.path]
        assert f"{pushed} bearing" in names and f"{other} bearing" not in names
        assert names[-1] == "floor of the bore"


def test_both_pushed_at_once_share_as_their_springs_do():
    both = own_design("pressure_nose", TWO, pushed="both", spacing="0 mm")
    found = trace(both, "500 N")
    for place in ("front", "rear"):
        assert found.reaction(place).axial.m_as("N") == pytest.approx(250, rel=1e-4)
    late = own_design("pressure_nose", TWO, pushed="both", spacing="0.1 mm")
    assert trace(late, "500 N").reaction("front").axial.m_as("N") == pytest.approx(500, rel=1e-6)


def test_a_front_ring_may_sit_fast_only_where_the_rear_one_is_pushed():
    """Pushed at the rear, the thrust goes on from there to the floor; the front ring may stay."""
    fast = own_design("pressure_nose", TWO, pushed="rear", fit={"front": "JS7"})
    assert fast.support("front").fit_class == "JS7"
    with pytest.raises(InputError, match="^fit.rear: .*cannot slide"):
        own_design("pressure_nose", TWO, pushed="rear", fit={"rear": "JS7"})


def test_without_a_word_on_it_no_ring_is_pushed_later():
    for pushed in ("front", "rear"):
        own = own_design("pressure_nose", TWO, pushed=pushed)
        assert [each.spacing for each in own.supports] == [0.0, 0.0]


def test_the_play_that_was_measured_is_the_drift():
    """Half of the play in the bore to each side, as far as the rings go without any force."""
    for play in (10, 25, 60):
        own = own_design("pressure_nose", TWO, fit=f"{play} um")
        assert nose_shift(own, "500 N", "0 N").m_as("um") == pytest.approx(play / 2, abs=0.02)


def test_positions_say_the_same_as_overhang_and_span():
    one = own_design("pressure_nose", TWO, overhang="1 in", span="30 mm")
    other = own_design("pressure_nose", TWO, positions={"front": "25.4 mm", "rear": "55.4 mm"})
    spots = [[each.behind_tip for each in design.supports] for design in (one, other)]
    assert spots[0] == pytest.approx(spots[1], rel=1e-12)


def test_a_longer_overhang_or_a_thinner_spindle_gives_way_further():
    shifts = [
        nose_shift(own_design("pressure_nose", TWO, overhang=f"{each} mm"), "500 N", "60 N").m
        for each in (20, 40, 60)
    ]
    assert np.all(np.diff(shifts) > 0)


def test_whether_it_could_serve_as_a_centre_is_answered():
    found = live_centre(own_design("pressure_nose", TWO), "500 N", "50 N", "0.005 mm")
    assert not found.serves and found.nose == "floating"


def ahead(**more):
    found = own_design("pressure_nose", TWO, **more)
    return [1e3 * each.shaft_ahead for each in found.supports]


def test_the_spindle_is_as_thick_before_each_bearing_as_was_typed():
    """By hand: bores of 12 mm; SLACK lets a spindle miss them by 0.1 mm and no more."""
    assert ahead()[1] == pytest.approx(12)
    assert ahead(spindle="12.05 mm")[1] == pytest.approx(12.05)
    assert ahead(spindle={"rear": "11.95 mm"})[1] == pytest.approx(11.95)
    assert ahead(spindle={"front": "20 mm"}) == pytest.approx([20, 12])
    assert ahead(spindle={"front": "20 mm", "rear": "12 mm"}) == pytest.approx([20, 12])
    # A shoulder between the bearings stands only where it pushes the rear ring.
    assert ahead(spindle={"rear": "16 mm"}, pushed="rear")[1] == pytest.approx(16)


def test_a_thicker_spindle_between_the_bearings_gives_way_less():
    shifts = [
        nose_shift(own_design("pressure_nose", TWO, pushed="rear", spindle={"rear": each}),
                   "300 N", "60 N").m_as("um")
        for each in ("12 mm", "16 mm")
    ]  # fmt: skip
    assert shifts[1] < shifts[0]


@pytest.mark.parametrize(
    ("thrust", "bearing"),
    # NSK's C0, a quarter of it up to a bore of 12 mm: 6901 365, 6001 592, 6201 762, 6301 1050 N.
    [("360 N", "6901"), ("366 N", "6001"), ("600 N", "6201"), ("1040 N", "6301"), ("1.1 kN", None)],
)
def test_the_weakest_bearing_of_the_bore_that_will_do_is_named(thrust, bearing):
    assert stronger_bearing(own_design("pressure_nose", TWO), thrust) == bearing


def test_a_design_without_deep_grooves_or_without_room_names_none():
    assert stronger_bearing("roller_centre", "300 N") is None
    close = own_design("pressure_nose", TWO, span="8.2 mm")  # a 6201 is 10 mm wide, a 6901 6 mm
    assert stronger_bearing(close, "600 N") is None


def test_what_touches_the_rings_keeps_off_the_wrong_ones():
    """By hand for a 6001: balls of 4.762 mm on 20.5 mm, rings end 0.6 of a ball from there: 17.64
    and 23.36 mm; corners rounded by 0.4 mm. The stress is the thrust over the ring that is left."""
    inner, outer = 20.5 - 0.6 * 4.762, 20.5 + 0.6 * 4.762
    nose = own_design("pressure_nose", TWO)
    steps = {each.name: (1e3 * each.inner, 1e3 * each.outer) for each in nose.steps
             if each.how != "bearing"}  # fmt: skip
    shoulder = 12 + 0.75 * (inner - 12)
    assert steps["rotating shoulder"] == pytest.approx((12.4, shoulder))
    assert steps["nose spindle"] == pytest.approx((0, shoulder))
    assert steps["sleeve"] == pytest.approx((outer + 0.2 * (28 - outer), 27.8))
    assert steps["rear outer ring"] == pytest.approx((outer, 28))
    assert steps["floor of the bore"] == pytest.approx((outer + 0.1 * (28 - outer), 27.6))
    stress = {part.name: part.stress for part in trace(nose, "500 N").path}
    area = np.pi / 4 * (shoulder**2 - 12.4**2)
    assert stress["rotating shoulder"].m_as("MPa") == pytest.approx(500 / area, rel=1e-6)


def test_a_centres_faces_are_those_of_its_thrust_bearing():
    """51102: balls of 4.762 mm on 21.5 mm, so that its washers part at 19.119 and 23.881 mm."""
    own = own_design("preloaded_centre", PRELOADED)
    steps = {each.name: (1e3 * each.inner, 1e3 * each.outer) for each in own.steps
             if each.how != "bearing"}  # fmt: skip
    shoulder = 15 + 0.75 * (21.5 - 4.762 / 2 - 15) + 0.8
    assert steps["shoulder on the shaft washer"] == pytest.approx((15.4, shoulder))
    assert steps["floor of the bore"] == pytest.approx((21.5, 27.6))
    front = own.support("front").bearing.inside
    reach = 0.6 * 1e3 * front.element_diameter
    pitch = 1e3 * front.pitch_diameter
    assert steps["screwed cap"] == pytest.approx((pitch + reach, 34.6))
    assert steps["front shoulder"] == pytest.approx((15.4, pitch - reach))
    assert [each.path for each in own.steps][0] == "thrust", "the thrust's own way comes first"


REFUSED = [
    ("pressure_nose", TWO, {"faces": {"floor": "27.4 mm"}}, "^faces.floor: .*Bore it about 25"),
    ("preloaded_centre", PRELOADED, {"faces": {"shoulder": "15.7 mm"}}, "^faces.shoulder: "),
    ("preloaded_centre", PRELOADED, {"faces": {"floor": "14 mm"}}, "^faces.floor: "),
    ("preloaded_centre", PRELOADED, {"faces": {"floor": "27.5 mm"}}, "^faces.floor: "),
    ("pressure_nose", TWO, {"spindle": {"rear": "14 mm"}}, "^spindle.rear: .*go through 6001"),
    (
        "pressure_nose",
        TWO,
        {"spindle": {"rear": "14 mm"}, "pushed": "both", "spacing": "0 mm"},
        "^spindle.rear: .*go through 6001",
    ),
    ("pressure_nose", TWO, {"spindle": {"rear": "11 mm"}}, "^spindle.rear: .*thinner than"),
    ("pressure_nose", TWO, {"spindle": {"front": "11 mm"}}, "^spindle.front: .*thinner than"),
    ("pressure_nose", TWO, {"spindle": {"middle": "12 mm"}}, "^spindle.middle: "),
    ("pressure_nose", TWO, {"spindle": "12.2 mm"}, "^spindle: .*does not fit 6001"),
    ("pressure_nose", TWO, {"spindle": "11.8 mm"}, "^spindle: .*does not fit 6001"),
    ("roller_centre", ROLLER, {"spindle": {"thrust": "17 mm"}}, "^spindle.thrust: .*go through"),
    ("pressure_nose", TWO, {"pushed": "none"}, "^pushed: nothing would pass the thrust"),
    ("pressure_nose", TWO, {"pushed": "third"}, "^pushed: "),
    ("pressure_nose", TWO, {"pushed": "both"}, "^spacing: is missing"),
    ("pressure_nose", TWO, {"spacing": "0.1 mm"}, "^spacing: is only used"),
    ("pressure_nose", TWO, {"fit": "JS7"}, "^fit.front: .*cannot slide"),
    ("pressure_nose", TWO, {"fit": "0 mm"}, "^fit.front: .*cannot slide"),
    ("pressure_nose", TWO, {"fit": {"rear": "JS7"}}, "^fit.rear: .*cannot slide"),
    ("pressure_nose", TWO, {"fit": "h7"}, "^fit.front: .*shaft's tolerance"),
    ("pressure_nose", TWO, {"fit": {"middle": "H7"}}, "^fit.middle: "),
    ("pressure_nose", TWO, {"clearance": "C9"}, "^clearance.front: "),
    ("pressure_nose", TWO, {"seats": {"rear": "k5"}}, "^seats.rear: .*unknown share"),
    ("pressure_nose", TWO, {"seats": "k5"}, "^seats: "),
    ("pressure_nose", TWO, {"preload": "100 N"}, "^preload: .*nothing to hold"),
    ("pressure_nose", TWO, {"spindle": "10 mm"}, "^spindle: .*does not fit 6001"),
    ("pressure_nose", TWO, {"span": "5 mm"}, "^span: .*run into one another"),
    ("pressure_nose", TWO, {"overhang": "2 mm"}, "^overhang: .*stick out"),
    ("pressure_nose", TWO, {"overhang": "501 mm", "span": "30 mm"}, "^overhang: .*longer than any"),
    ("pressure_nose", TWO, {"overhang": "30 mm", "span": "501 mm"}, "^span: .*longer than any"),
    ("pressure_nose", TWO, {"faces": {"shoulder": "12 mm"}}, "^faces.shoulder: .*push nothing"),
    ("pressure_nose", TWO, {"faces": {"shoulder": "26 mm"}}, "^faces.shoulder: .*hold the nose"),
    ("pressure_nose", TWO, {"faces": {"sleeve_inner": "15 mm"}}, "^faces.sleeve_inner: .*rub"),
    ("pressure_nose", TWO, {"faces": {"sleeve_inner": "28 mm"}}, "^faces.sleeve_inner: .*leaves"),
    ("pressure_nose", TWO, {"faces": {"sleeve_outer": "30 mm"}}, "^faces.sleeve_outer: "),
    ("pressure_nose", TWO, {"faces": {"floor": "5 mm"}}, "^faces.floor: "),
    ("pressure_nose", TWO, {"faces": {"roof": "5 mm"}}, "^faces.roof: "),
    ("pressure_nose", {"front": "6001"}, {}, "^bearings.rear: is missing"),
    ("pressure_nose", {**TWO, "third": "6001"}, {}, "^bearings.third: "),
    ("pressure_nose", ["6001", "6001"], {}, "^bearings: "),
    ("pressure_nose", {"front": "HK 1210", "rear": "6001"}, {}, "^bearings.front: .*no axial"),
    ("pressure_nose", {"front": "6001", "rear": "HK 1210"}, {}, "^bearings.rear: .*shell is thin"),
    ("pressure_nose", {"front": "51101", "rear": "6001"}, {}, "^bearings.front: .*sideways"),
    ("pressure_nose", {"front": "608", "rear": "6203"}, {}, "^bearings: no straight sleeve"),
    ("roller_centre", {**ROLLER, "thrust": "HK 1210"}, {}, "^bearings.thrust: .*no axial load"),
    ("roller_centre", {**ROLLER, "thrust": "6202"}, {}, "^bearings.thrust: .*not a thrust bearing"),
    ("roller_centre", {**ROLLER, "front": "6202"}, {}, "^bearings.front: .*share of the thrust"),
    ("roller_centre", {**ROLLER, "front": "NU 203"}, {}, "^bearings.front: the inside"),
    ("roller_centre", ROLLER, {"pushed": "rear"}, "^pushed: is only for the pressure nose"),
    ("preloaded_centre", {**PRELOADED, "front": "6202"}, {}, "^bearings.front: .*preload"),
    ("shepherd", TWO, {}, "^design: "),
]


@held_for(REFUSED)
def test_a_nose_that_cannot_work_is_refused_in_words(case):
    key, bearings, more, told = case
    with pytest.raises(InputError, match=told):
        own_design(key, bearings, **more)


def test_a_shock_lowers_what_it_may_press():
    own = own_design("pressure_nose", TWO)
    assert highest_thrust(own, shock=2.0).m_as("N") == pytest.approx(axial_limit("6001").m / 2)
    for wrong in (0, 0.5, True, "two", float("nan"), 1e9):
        with pytest.raises(InputError, match="^shock: "):
            highest_thrust(own, shock=wrong)


@held_for(["pressure_nose", "roller_centre", "preloaded_centre"])
def test_at_the_highest_thrust_the_least_margin_is_one(key):
    found = highest_thrust(key, "50 N")
    assert trace.core(find_design(key), found.m_as("N"), 50.0).weakest.margin == pytest.approx(1)
