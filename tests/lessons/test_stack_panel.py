"""The panel of a stack: which face slips first, what card and oil do, when it tips."""

from tests.house.laws import held_for
from workshop_lib.lessons.slip.panels_stack import stack_scene

SCENE = stack_scene()


def look(**changes):
    found = SCENE.look(SCENE.given() | changes)
    assert not found.complaints, found.complaints
    return found.view


def test_bare_discs_slip_between_and_card_helps():
    bare, card, alone = look(), look(between="card"), look(count="1")
    assert (bare.holds, card.holds, alone.holds) == ("open", "yes", "yes")
    assert "between discs 1 and 2" in bare.verdict and "slips first" not in alone.verdict
    assert look(condition="oily").holds != "yes"


def test_all_at_once_is_far_worse_than_one_after_the_other():
    assert look(cut="plunge").holds == "no"


def test_a_tall_stack_tips_before_it_slips():
    tall = look(count="24", between="card", thickness="6 mm", layer="3 mm", thrust="600 N")
    assert tall.holds == "no" and tall.verdict.startswith("Tips")


def test_the_weakest_face_is_drawn_and_said():
    assert "between discs 1 and 2" in look().picture.alt
    assert "at the pad" in look(between="abrasive_paper").picture.alt


@held_for([{"thrust": "0 N"}, {"depth": "0 mm"}, {"thrust": "0 N", "depth": "0 mm", "count": "24"}])
def test_nothing_pressed_and_nothing_cut_are_answered(changes):
    assert look(**changes).holds in ("yes", "no")


def test_a_pad_that_stands_out_is_refused_at_its_field():
    assert set(SCENE.look(SCENE.given() | {"pad_diameter": "80 mm"}).complaints) == {"pad_diameter"}


def test_count_is_a_whole_number():
    assert "count" in SCENE.look(SCENE.given() | {"count": "2.5"}).complaints
