"""Several discs in one squeeze: the weakest face, the loads that pass it, and tipping."""

import numpy as np
import pytest

from tests.house.laws import held_for
from tests.slip.slip_cases import PADS
from workshop_lib.friction import Pad, tilt
from workshop_lib.materials import facings, friction, friction_between, materials
from workshop_lib.quantities import Q_, InputError
from workshop_lib.slip import margin, most_discs, stack_margins, tipping_share

GRIP = {"thrust": "600 N", "friction_at_pad": 0.3, "friction_between": 0.12}
LOAD = {"side_force": "40 N", "torque": "0.5 N m"}


@held_for(PADS)
def test_a_single_disc_holds_as_it_always_did(pad):
    found = stack_margins(pad, count=1, **GRIP, **LOAD, unbalance="3 N")
    assert found.shape == (1,)
    assert found[0] == pytest.approx(margin(pad, "600 N", 0.3, "43 N", "0.5 N m"), rel=1e-12)


# Every face by itself, as a free body of all that lies beyond it: an independent path to each.
@held_for(PADS, (2, 3, 7), ("traverse", "plunge"))
def test_each_face_holds_what_lies_beyond_it(pad, count, cut):
    found = stack_margins(pad, count=count, **GRIP, **LOAD, unbalance="3 N", cut=cut)
    for face, factor in enumerate(found):
        side, turn = np.zeros(2), 0.0
        for _ in range(face, count):  # the discs beyond
            side += (0, 3) if cut == "traverse" else (40, 3)
            turn += 0 if cut == "traverse" else 0.5
        if cut == "traverse":  # one of them is cut
            side, turn = side + (40, 0), 0.5
        grip = 0.12 if face else 0.3
        alone = margin(pad, "600 N", grip, Q_(side.sum(), "N"), Q_(turn, "N m"))
        assert factor == pytest.approx(alone, rel=1e-12)


def test_along_the_edge_without_unbalance_the_count_does_not_matter():
    few, many = (stack_margins(PADS[0], count=n, **GRIP, **LOAD).min() for n in (2, 30))
    assert few == pytest.approx(many, rel=1e-12)


def test_straight_in_the_load_on_the_pad_grows_with_the_count():
    four = stack_margins(PADS[0], count=4, **GRIP, **LOAD, cut="plunge")
    assert four[0] == pytest.approx(stack_margins(PADS[0], count=1, **GRIP, **LOAD)[0] / 4)
    assert np.all(np.diff(four[1:]) > 0)  # the farther out, the less has to pass


def test_among_equal_faces_the_innermost_carries_the_unbalance_of_all():
    same = GRIP | {"friction_between": 0.3}
    found = stack_margins(PADS[0], count=5, **same, **LOAD, unbalance="5 N")
    assert np.all(np.diff(found) > 0)
    alone = stack_margins(
        PADS[0], count=5, **same, side_force="0 N", torque="0 N m", unbalance="5 N"
    )
    assert alone == pytest.approx(0.3 * 600 / (5 * np.arange(5, 0, -1)))


def test_thrusts_broadcast_with_the_faces_last():
    found = stack_margins(PADS[0], Q_([300, 600, 900], "N"), 0.3, 0.12, 4, **LOAD)
    assert found.shape == (3, 4)
    assert found[2] == pytest.approx(3 * found[0])


# By hand: k = (15² + 5²)/(4 × 15) = 4.1667 mm; (80 × 6 + 12 × 40)/(600 × 4.1667) = 0.384.
def test_a_stack_tips_by_the_height_of_its_outermost_disc():
    pad = Pad("30 mm", "10 mm")
    assert tipping_share(pad, "600 N", "80 N", "6 mm", "12 N", "80 mm") == pytest.approx(0.384)
    limit = tilt.tilt_force(pad, "600 N", "80 mm")
    assert tipping_share(pad, "600 N", "0 N", "6 mm", limit, "80 mm") == pytest.approx(1)
    assert tipping_share(pad, "600 N", "0 N", "99 mm", "0 N", "80 mm") == 0


SIZES = {"wanted": 2, "thickness": "0.6 mm", "disc_diameter": "78 mm"}


@held_for(("traverse", "plunge"), (0.5, 2.0), (0.6, 12), (0, 3))
def test_one_disc_more_would_slip_or_tip(cut, wanted, thickness, unbalance):
    pad, sizes = Pad("60 mm"), SIZES | {"wanted": wanted, "thickness": Q_(thickness, "mm")}
    hold = GRIP | {"friction_between": 0.25}
    load = LOAD | {"unbalance": Q_(unbalance, "N")}
    most = most_discs(pad, **hold, **load, **sizes, axial_force="10 N", cut=cut)

    def stands(count):
        side = (40 + unbalance) * count if cut == "plunge" else 40 + unbalance * count
        height = Q_((count - 1) * thickness, "mm")
        tips = tipping_share(pad, "600 N", Q_(side, "N"), height, "10 N", "78 mm")
        held = stack_margins(pad, count=count, **hold, **load, cut=cut).min()
        return held >= wanted and tips <= 1

    assert all(stands(count) for count in range(1, most + 1))
    assert most == 50 or not stands(most + 1)


# By hand: 0.2 × 600 N × 10 mm over 0.6 N·m is a margin of exactly 2, however it is rounded.
def test_a_margin_that_is_just_reached_is_reached():
    bare = {"friction_at_pad": 0.2, "friction_between": 0.2}
    just = {"side_force": "0 N", "torque": "0.6 N m"}
    for thrust in ("600 N", "599.99999999999 N", "600.00000000001 N"):
        assert most_discs(Pad("30 mm"), thrust, **bare, **just, **SIZES) == 50


def test_nothing_holds_a_stack_on_an_oily_face():
    held = {"friction_at_pad": 0.3, "friction_between": 0.0}
    assert most_discs(Pad("60 mm"), "600 N", **held, **LOAD, **SIZES) == 1
    assert most_discs(Pad("60 mm"), "0.001 N", **held, **LOAD, **SIZES) == 0


@held_for([0, 51, 2.5, "3", True])
def test_a_count_is_a_whole_number_of_discs(count):
    with pytest.raises(InputError, match="^count: "):
        stack_margins(PADS[0], count=count, **GRIP, **LOAD)


@held_for([each.key for each in materials()], ("dry", "oily"))
def test_every_sheet_has_a_friction_on_its_like_and_with_card_between(key, condition):
    bare, card = (
        friction_between(key, condition=condition),
        friction_between(key, "card", condition),
    )
    assert 0 < bare.low <= bare.typical <= bare.high
    assert tuple(card) == tuple(friction("card", key, condition))
    assert condition == "oily" or bare.low < friction("leather", key).low  # the weakest face


def test_oil_takes_half_of_it_and_more_away():
    for each in materials():
        assert friction_between(each.key, condition="oily").high < friction_between(each.key).high


def test_what_lies_between_is_named_when_it_is_not_known():
    assert {each.key for each in facings()} >= {"card", "rubber"}
    with pytest.raises(InputError, match="^between: .*card"):
        friction_between("brass", "cards")
    with pytest.raises(InputError, match="^condition: "):
        friction_between("brass", condition="wet")


def test_one_stack_at_a_time_is_asked_for():
    single = {"thrust": "600 N", "friction_at_pad": 0.4, "friction_between": 0.4, "wanted": 2.0,
              "side_force": "50 N", "torque": "1 N m", "thickness": "1 mm",
              "disc_diameter": "78 mm", "axial_force": "9 N", "unbalance": "2 N"}  # fmt: skip
    for name, value in single.items():
        with pytest.raises(InputError, match=f"{name}: give one value"):
            most_discs(Pad("30 mm"), **single | {name: [value, value]})
    with pytest.raises(InputError, match="pad: give one value"):
        most_discs(Pad(Q_([30, 40], "mm")), **single)
