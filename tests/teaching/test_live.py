"""The live element: whatever the page sends, an answer in words goes back, stamped."""

import json
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workshop_lib.drawings import page
from workshop_lib.teaching import live
from workshop_lib.teaching.live import Live, face_of

values = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=9)),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=9), inner),
    max_leaves=6,
)


class Echo(Live):
    """Answers with what was set; fails when it is told to."""

    def answer(self, action, values):
        if action == "fail":
            raise ZeroDivisionError("a secret place")
        return face_of(note=f"{action} {sorted(values)}")

    def still(self):
        return page.note("A still.")


def element():
    return Echo({"title": "A <title>", "summary": "Echo", "fields": []}, face_of())


def test_an_answer_carries_the_stamp_of_its_question():
    one = element()
    one._receive(one, {"stamp": ["me", 7], "action": "go", "values": {"a": 1}}, [])
    assert one.face["answered"] == ["me", 7]
    assert one.face["note"] == "go ['a']"


@given(values)
def test_no_message_brings_it_down(message):
    one = ELEMENT
    one._receive(one, message, [])
    one._receive(one, {"stamp": message, "action": message, "values": message}, [])
    assert len(one.face["answered"]) == 2
    json.dumps(one.face)


ELEMENT = element()


def test_a_fault_becomes_one_honest_sentence_and_keeps_what_was_shown(caplog):
    one = element()
    one._receive(one, {"stamp": ["me", 1], "action": "go", "values": {}}, [])
    one._receive(one, {"stamp": ["me", 2], "action": "fail", "values": {}}, [])
    assert "fault of its own: ZeroDivisionError" in one.face["fault"]
    assert "secret" not in one.face["fault"] and "Traceback" not in one.face["fault"]
    assert one.face["note"] == "go []" and one.face["answered"] == ["me", 2]
    assert "a secret place" in caplog.text  # the log has what the learner is spared


def test_a_cell_ends_with_fixed_text_and_a_still_page():
    data = element()._repr_mimebundle_()
    assert data["text/plain"] == "Echo"
    assert "A still." in data["text/html"] and "A &lt;title&gt;" in data["text/html"]
    assert "application/vnd.jupyter.widget-view+json" in data


def test_two_elements_end_their_cells_alike():
    one, other = (element()._repr_mimebundle_() for _ in range(2))
    for kind in ("text/plain", "text/html"):
        assert one[kind] == other[kind]


def sources():
    folder = Path(live.__file__).parent
    return [(folder / name).read_text(encoding="utf-8") for name in ("panel.js", "panel.css")]


def test_the_page_side_asks_for_nothing_from_outside():
    for text in sources():
        assert not re.search(r"https?:|@import|url\(|import\s|eval\(|new Function", text)


def test_the_page_side_sets_markup_in_one_place_only():
    script, _ = sources()
    assert len(re.findall(r"innerHTML|outerHTML|insertAdjacent|document\.write", script)) == 1


@pytest.mark.parametrize("name", ["verdict", "picture", "details", "note", "fault", "setting"])
def test_a_face_has_every_part_that_the_page_reads(name):
    script, _ = sources()
    assert f"face.{name}" in script and face_of()[name] == ""
