"""A job of several discs: its margin is that of the weakest face, and its words say which."""

import pytest

from tests.house.laws import held_for
from tests.plan.job_cases import assessed, plain
from workshop_lib import plan
from workshop_lib.plan import stacked
from workshop_lib.plan.tipping_checks import tipping
from workshop_lib.quantities import InputError
from workshop_lib.slip import margin

SINGLE = plain()
CARD = {"disc__between": "card"}
ORDER = ("yes", "open", "no")


def margin_of(job):
    return float(job.passes.worst.margin)


def test_one_disc_is_a_stack_of_one():
    told = assessed(plain(disc__count=1)), assessed(SINGLE)
    assert told[0].verdict == told[1].verdict
    assert told[0].remarks == told[1].remarks and told[0].cautions == told[1].cautions
    assert told[0].table == told[1].table


# By hand: leather 0.3 at the pad, aluminium on itself 0.15, card 0.20; a full hexagon has no
# unbalance, so that along the edge every face feels one disc's cut.
@held_for([({}, 0.15), (CARD, 0.20), ({"disc__between": "rubber"}, 0.20)])
def test_along_the_edge_the_margin_is_that_of_the_weakest_face(between, friction):
    expected = margin_of(SINGLE) * friction / 0.3
    for count in (2, 5):
        found = plain(disc__count=count, **between)
        assert margin_of(found) == pytest.approx(expected, rel=1e-9)
        assert "between discs 1 and 2" in assessed(found).reason("hold").sentence


# By hand: cut all at once, the pad feels n times one disc's load, the next face n − 1 times; with
# two bare discs 0.3/2 and 0.15/1 are the same, with card between the pad slips first.
@held_for([(2, {}, 0.15, 0), (2, CARD, 0.15, 0), (4, {}, 0.05, 1), (4, CARD, 0.2 / 3, 1)])
def test_straight_in_the_pad_feels_all_discs(count, between, held, face):
    cut = {"cut__kind": "plunge", "cut__feed": "0.1 mm/rev"}
    alone, several = plain(**cut), plain(**cut, disc__count=count, **between)
    assert margin_of(several) == pytest.approx(margin_of(alone) * held / 0.3, rel=1e-9)
    assert stacked.weakest_face(several, several.passes.worst).number == face


# An independent path: each face as a pad of its own, with what lies beyond it.
@held_for([2, 5])
def test_the_blanks_that_are_off_centre_pull_at_every_face_within(count):
    fast = {"blank__centre": ["2 mm", "0 mm"], "cut__speed": "3000 rev/min"}
    alone, several = plain(**fast).passes[0], plain(disc__count=count, **CARD, **fast)
    pull, cut = alone.unbalance, alone.side_force - alone.unbalance
    assert pull.m_as("N") > 1
    load = (several.pad, several.low_thrust)
    inside = margin(*load, 0.2, cut + (count - 1) * pull, alone.peak_torque)
    at_pad = margin(*load, 0.3, cut + count * pull, alone.peak_torque)
    found = float(several.passes[0].margin)
    assert found == pytest.approx(min(inside, at_pad), rel=1e-6)


def test_the_face_that_slips_first_passes_its_share():
    bare = {"cut__kind": "plunge", "cut__feed": "0.1 mm/rev", "disc__count": 4}
    for job, cut in ((plain(**bare), 0.75), (plain(disc__count=4), 1.0)):
        face = stacked.weakest_face(job, job.passes.worst)
        assert (face.number, face.cut, face.beyond) == (1, cut, 0.75)


@held_for([{}, CARD, {"cut__kind": "plunge", "cut__feed": "0.1 mm/rev"}], (1, 3))
def test_the_load_at_the_weakest_face_has_the_margin_that_is_told(more, count):
    off = {"blank__centre": ["2 mm", "0 mm"], "cut__speed": "1500 rev/min"}
    job = plain(**off, **more, disc__count=count)
    grip, *load = plan.at_weakest(job, job.passes.worst)
    found = margin(job.pad, job.low_thrust, grip.low, *load)
    assert found == pytest.approx(margin_of(job), rel=1e-6)


def test_the_thrust_proposed_gives_the_margin():
    job = plain(disc__count=3, cut__depth="0.4 mm")
    aim = plan.thrust_for(job, 2.0)
    assert margin_of(job.changed({"thrust.force": f"{aim} N"})) == pytest.approx(2, rel=1e-9)


def test_card_or_fewer_discs_are_proposed_where_they_help():
    cuts = {"cut__depth": "0.3 mm", "thrust__force": "700 N"}
    slips = assessed(plain(disc__count=3, **cuts)).reason("hold")
    assert slips.holds != "yes"
    entries = [each.entries for each in slips.changes]
    assert {"disc.between": "card"} in entries
    assert not any(each.get("disc.count") == 2 for each in entries)  # as weak: not proposed
    for each in slips.changes:
        if "disc.between" in each.entries and "not enough" not in each.sentence:
            assert margin_of(plain(disc__count=3, **cuts).changed(each.entries)) >= 2


@held_for(
    [{"pad__condition": "oily"}, {"cut__kind": "plunge"}, {"disc__between_thickness": "3 mm"}]
)
def test_more_discs_and_oil_never_help(harder):
    between = CARD if "disc__between_thickness" in harder else {}
    for few, many in ((1, 2), (2, 6)):
        one = assessed(plain(disc__count=few, **between, **harder))
        other = assessed(plain(disc__count=many, **between, **harder))
        for about in ("hold", "tipping"):
            pair = [each.reason(about) for each in (one, other)]
            if pair[0] is not None:
                assert pair[0].use <= pair[1].use * (1 + 1e-12)
        assert ORDER.index(one.holds) <= ORDER.index(other.holds)


# By hand: four discs of 1 mm and three cards of 0.5 mm put the last one 4.5 mm farther out.
def test_a_tall_stack_tips_sooner():
    tall = plain(disc__count=4, **CARD, disc__between_thickness="0.5 mm", rim__axial_share=0)
    first = tall.passes[0]
    found = tipping(tall, lambda other: True)[0]
    assert found.value.m_as("N") == pytest.approx(
        first.side_force.m_as("N") * 4.5 / first.from_radius.m_as("mm")
    )
    assert tipping(plain(rim__axial_share=0), lambda other: True) == []


def test_time_and_unbalance_grow_with_the_discs():
    off = {"blank__centre": ["1 mm", "0 mm"]}
    one, three = plain(**off).passes, plain(disc__count=3, **off).passes
    assert three.total_time.m == pytest.approx(3 * one.total_time.m)
    assert three[0].unbalance.m == pytest.approx(3 * one[0].unbalance.m)
    assert three[0].cutting_force.m == pytest.approx(one[0].cutting_force.m)


# Of 0.15, 0.3, 0.6 (aluminium on itself) against 0.3, 0.4, 0.6 (leather), the other spreads alike.
def test_the_chance_of_slip_is_that_of_the_weakest_face():
    single, several = (
        plan.assess(job, draws=4000).chance for job in (SINGLE, plain(disc__count=3))
    )
    assert several.margin.mean / single.margin.mean == pytest.approx(0.35 / 0.4333, rel=0.05)
    assert several.slips >= single.slips


def test_table_cautions_and_remarks_name_the_stack():
    found = assessed(plain(disc__count=3, **CARD))
    rows = {row[0]: row[1] for row in found.table}
    assert rows["… between the 3 discs: card or thick paper between"].startswith("0.2 × 800 N")
    said = " ".join(found.cautions)
    assert "thrown" in said and "sharp" in said
    assert any("single disc" in each for each in found.remarks)
    assert not any("sheet on sheet" in each for each in found.remarks)
    assert any("sheet on sheet" in each for each in assessed(plain(disc__count=3)).remarks)


@held_for(
    [{"disc__between": "card"}, {"disc__count": 0}, {"disc__count": 2, "disc__between": "cheese"}]
)
def test_what_makes_no_stack_is_refused_by_its_entry(entries):
    with pytest.raises(InputError, match="disc.(count|between)"):
        plain(**entries)
