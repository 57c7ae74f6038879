"""What is typed: read as meant and answered, or refused in words; never run, never lost."""

import re

import pytest
from playwright.sync_api import expect

from tests.house.thorough import only_thorough

MARKUP = '<img src=x onerror="window.ran=1">'
BOXES = ":is(input[type=text], textarea).wb-box:not(:read-only)"
FILL = """
([boxes, text]) => boxes.forEach((box) => {
  box.kept ??= box.value;
  box.value = text ?? box.kept;
  box.dispatchEvent(new Event("input", { bubbles: true }));
  box.dispatchEvent(new Event("change", { bubbles: true })); // as on leaving it
})
"""
# typed -> words of the refusal, for a length field that begins at "60 mm"
REFUSED = {
    "3,5 mm": "has a comma. Write a point: 3.5 mm",
    "-1 mm": "must be greater than zero",
    "9**9**9": "is not a unit of length here",
    "": "nothing was typed for a length",
    "1e99": "has no unit",
    "1e99 mm": "is larger than any length here",
    "3 N": "is a force, but this needs a length",
    "10 000 mm": "has a gap in the number",
    MARKUP: "does not start with a number",
    "60": "has no unit",
}
WEIGHT = "words => getComputedStyle(words).fontWeight"
# lesson, panel, {box: typed}, what the verdict says then, and the working by hand
ANSWERS = [
    ("00", "How do I type a quantity?", {"A length": "3/16 in"}, "4.763 mm"),  # 0.1875 × 25.4
    # 0.3 × 800 N = 240 N against 80 N, nothing else: 3 times
    ("02", "One face or two?", {"Torque": "0 N m", "Side force": "80 N"}, "Holds: 3.0 times"),
    # 240 N × 2/3 × 30 mm = 4.8 N m against 2 N m: 2.4 times; and against 9.6 N m half
    ("02", "Where does the pad press?", {"Side force": "0 N"}, "Holds: 2.4 times"),
    ("02", "Where does the pad press?", {"Torque": "9.6 N m"}, "Slips: it can hold only 0.50"),
    # a stylus at 60° to the surface shows twice the travel: cos 60° = 1/2
    pytest.param(
        *("05", "How far did the surface really move?", {"Angle of stylus to surface": "60°"}),
        "0.100 mm",
        marks=only_thorough,
    ),
]


@pytest.mark.parametrize(("number", "title", "typed", "said"), ANSWERS)
def test_typed_values_give_the_answer_worked_by_hand(lessons, number, title, typed, said):
    panel = lessons[number].panel(title)
    before = panel.settled()
    for label, text in typed.items():
        state = panel.type(label, text)
    assert said in state["verdict"]
    assert state["answer"] != before["answer"]
    assert state["note"] == "" and state["complaints"] == []


def test_a_refused_entry_is_named_at_its_field_and_the_old_answer_is_marked_as_old(lessons):
    panel = lessons["02"].panel("Will it slip?")
    label = "Pad, outer diameter"
    good = panel.type(label, "60 mm")
    box, complaint = panel.box(label), panel.complaint(label)
    for typed, words in REFUSED.items():
        state = panel.type(label, typed)
        assert words in state["complaints"][0], typed
        assert box.input_value() == typed  # kept as it was typed
        assert box.get_attribute("aria-invalid") == "true"
        assert complaint.get_attribute("id") in box.get_attribute("aria-describedby").split()
        assert state["answer"] == good["answer"]
        assert f"Shown for the last valid entries ({label}: 60 mm)" in state["note"]
        assert (
            panel.verdict.locator("strong").evaluate("e => getComputedStyle(e).fontWeight") < "600"
        )
    lessons["02"].picture("02-refused", panel.root)
    state = panel.type(label, "60 mm")
    assert state["complaints"] == [] and state["note"] == ""
    assert box.get_attribute("aria-invalid") == "false"
    assert state["answer"] == good["answer"]
    assert complaint.get_attribute("id") not in (box.get_attribute("aria-describedby") or "")


def test_markup_is_never_run_wherever_it_is_typed(lesson):
    boxes = lesson.page.locator(BOXES).element_handles()
    for text in (MARKUP, None):  # typed, and put back
        lesson.page.evaluate(FILL, [boxes, text])
        for panel in lesson.panels():
            state = panel.settled()
            assert "fault of its own" not in state["fault"]
            assert bool(state["complaints"]) == (
                text is MARKUP and panel.root.locator(BOXES).count() > 0
            )
    assert lesson.page.evaluate("window.ran") is None
    expect(lesson.page.locator('.wb-panel img[src="x"]')).to_have_count(0)
    assert lesson.errors == []


@only_thorough
def test_lines_that_cannot_be_read_are_named_and_the_others_are_used(lessons):
    panel = lessons["05"].panel("What do these readings show?")
    good = panel.settled()
    before = panel.box("Readings").input_value()
    # 5 thou by hand: (8 − 2)/2 = 3 along 0°, (9 − 1)/2 = 4 along 90°
    state = panel.type("Readings", f"0 8\n90 9\n180 2\n270 1\n300 {MARKUP.replace(' ', '/')}")
    expect(panel.verdict).to_contain_text(re.compile("Eccentricity 5.00 thou, high spot 53"))
    expect(panel.complaint("Readings")).to_contain_text("<img/src=x")
    assert lessons["05"].page.evaluate("window.ran") is None
    state = panel.type("Readings", before)
    assert state["answer"] == good["answer"]
