"""A scene judges what people set, live and still alike, and never shows a traceback."""

import json
import re
import warnings

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workshop_lib.drawings import page
from workshop_lib.drawings.charts import Chart
from workshop_lib.quantities import Q_, InputError, OutOfRangeWarning, show
from workshop_lib.teaching.fields import Choice, Count, Field, Switch
from workshop_lib.teaching.panels import Scene, View


def judge(thrust, friction, nose, corners, worst):
    if corners == 13:
        raise RuntimeError("boom")
    if corners == 12:
        raise InputError("thrust", "too much for twelve corners", "Press less")
    if corners == 11:
        raise InputError("somewhere", "cannot be answered")
    if corners == 10:
        warnings.warn(OutOfRangeWarning("ten corners were never tried"), stacklevel=2)
        warnings.warn(OutOfRangeWarning("ten corners were never tried"), stacklevel=2)
    hold = friction.m_as("") * thrust.m_as("N") * (0.5 if worst else 1)
    chart = Chart(x=("Thrust", 0, 2000, "N"), y=("Hold", 0, 600, "N")).point(thrust, hold, "here")
    rows = [["Hold sideways", f"{hold:g} N"], ["Nose", nose]]
    return View(
        f"{hold:g} N of hold",
        "yes" if hold > 100 else "no",
        chart.picture(f"At {show(thrust)} the hold is {hold:g} N."),
        [page.table(rows, ["What", "Value"]), "Reckoned by Coulomb's law."],
    )


def scene():
    fields = [
        Field("thrust", "Thrust", "force >= 0", "600 N", slider=(0, 2000, 10)),
        Field("friction", "Friction", "ratio >= 0", "0.2", slider=(0, 1, 0.01)),
        Choice("nose", "Nose", {"floating": "floats", "located": "is held"}, "floating"),
        Count("corners", "Corners", 8, (3, 40)),
        Switch("worst", "Half the friction"),
    ]
    return Scene("Does it hold?", fields, judge, words={"no": "Slips"})


def ask(panel, **values):
    """Send what a person set, as the page does; return the new face."""
    panel._receive(panel, {"stamp": ["page", 1], "action": "", "values": values}, [])
    return panel.face


def test_the_wording_of_the_still_is_verdict_setting_picture_and_details_in_this_order():
    assert repr(scene().still()).splitlines() == [
        "Holds: 120 N of hold",
        "Set to Thrust: 600 N; Friction: 0.2; Nose: floats; Corners: 8; Half the friction: no.",
        "At 600 N the hold is 120 N.",
        "What           Value",
        "-------------  --------",
        "Hold sideways  120 N",
        "Nose           floating",
        "Reckoned by Coulomb's law.",
    ]


def test_the_panel_starts_as_the_still_stands():
    face, still = scene().panel().face, scene().still()
    assert face["picture"] == scene().still().look.view.picture.slot()
    for part in ("verdict", "moving", "details"):
        assert face[part] and face[part] in still.html()


@pytest.mark.parametrize(
    "values",
    [
        {"thrust": "1.2 kN"},
        {"thrust": "100 lbf", "nose": "located"},
        {"friction": "15 %", "worst": True},
        {"corners": "40"},
        {"thrust": "99999 N"},
    ],
)
def test_panel_and_still_agree_for_every_value(values):
    face, still = ask(scene().panel(), **values), scene().still(**values)
    assert face["verdict"] in still.html() and face["moving"] in still.html()
    assert not face["fault"] and not face["note"]


def test_a_typed_value_beyond_the_slider_counts_and_parks_it_at_the_end():
    face = ask(scene().panel(), thrust="3000 N")
    assert "600 N of hold" in face["verdict"]
    assert face["fields"]["thrust"]["position"] == 2000
    assert face["fields"]["thrust"]["value"] == "3000 N"


def test_a_bad_value_gets_a_sentence_in_place_and_keeps_the_last_good_result():
    panel = scene().panel()
    good = ask(panel, thrust="900 N")
    bad = ask(panel, thrust="9oo N", friction="0.3")
    assert (
        "does not start" in bad["fields"]["thrust"]["complaint"]
        or bad["fields"]["thrust"]["complaint"]
    )
    assert bad["fields"]["thrust"]["value"] == "9oo N"
    assert bad["fields"]["friction"]["complaint"] == ""
    for part in ("verdict", "picture", "moving", "details"):
        assert bad[part] == good[part]
    assert re.search(r"last valid .*\(Thrust: 900 N; Friction: 0\.2\)", bad["note"])


def test_a_mended_value_clears_the_complaint():
    panel = scene().panel()
    ask(panel, thrust="9oo N")
    face = ask(panel, thrust="900 N")
    assert face["note"] == face["fault"] == face["fields"]["thrust"]["complaint"] == ""
    assert "180 N of hold" in face["verdict"]


def test_every_bad_field_gets_its_own_sentence():
    face = ask(scene().panel(), thrust="x", friction="-1", nose="no", corners="2", worst="yes")
    assert all(state["complaint"] for state in face["fields"].values())


def test_what_the_library_refuses_by_a_fields_name_is_said_at_the_field():
    face = ask(scene().panel(), corners="12")
    assert face["fields"]["thrust"]["complaint"] == "too much for twelve corners. Press less."
    assert face["fault"] == ""


def test_what_the_library_refuses_otherwise_is_said_for_the_whole():
    face = ask(scene().panel(), corners="11")
    assert face["fault"] == "somewhere: cannot be answered."
    assert "120 N of hold" in face["verdict"]


def test_out_of_range_is_a_caution_said_once():
    face = ask(scene().panel(), corners="10")
    assert face["details"].count("ten corners were never tried") == 1
    assert 'aria-label="Caution"' in face["details"]
    assert "Caution: ten corners were never tried" in repr(scene().still(corners=10))


def test_a_fault_of_the_lesson_is_one_sentence_and_passes():
    panel = scene().panel()
    face = ask(panel, corners="13")
    assert "fault of its own: RuntimeError" in face["fault"] and "boom" not in face["fault"]
    assert "120 N of hold" in face["verdict"]
    assert ask(panel, corners="14")["fault"] == ""


def test_a_fault_in_a_plain_cell_is_not_hidden():
    with pytest.raises(RuntimeError, match="boom"):
        scene().still(corners=13)


def test_a_judge_that_gives_no_view_is_at_fault():
    with pytest.raises(TypeError, match="no View"):
        Scene("?", [], lambda: "yes").still()


def test_an_override_may_be_text_a_quantity_a_key_or_a_number():
    text = scene().still(thrust="900 N", corners="9")
    assert repr(scene().still(thrust=Q_(900, "N"), corners=9)) == repr(text)


def test_an_override_that_cannot_be_used_is_said_in_a_sentence():
    still = scene().still(thrust="9oo N")
    assert repr(still).startswith("No answer: Thrust: ")


def test_an_override_of_no_field_is_refused():
    with pytest.raises(InputError, match="^trust: .*no field"):
        scene().still(trust="900 N")


def test_a_scene_with_one_name_twice_is_refused():
    field = Switch("a", "A")
    with pytest.raises(InputError, match="is there twice"):
        Scene("?", [field, field], judge)


def test_a_view_takes_only_what_can_be_shown():
    with pytest.raises(InputError):
        View("x", "perhaps")
    with pytest.raises(InputError, match="not a Figure"):
        View("x", None, "<svg>")


def test_the_panel_ends_a_cell_with_fixed_text():
    assert repr(scene().panel()) == "Panel: Does it hold? (5 fields)"
    bundle = scene().panel()._repr_mimebundle_()
    assert "120 N of hold" in bundle["text/html"]
    assert 'alt="At 600 N the hold is 120 N."' in bundle["text/html"]
    assert bundle["text/html"] == scene().panel()._repr_mimebundle_()["text/html"]


def test_the_stored_page_shows_the_start_whatever_was_set():
    panel = scene().panel()
    before = panel._repr_mimebundle_()["text/html"]
    ask(panel, thrust="900 N")
    assert panel._repr_mimebundle_()["text/html"] == before


def test_nothing_typed_becomes_markup():
    hostile = "<img src=x onerror=alert(1)>"
    face = ask(scene().panel(), thrust=hostile, nose=hostile, corners=hostile)
    shown = face["verdict"] + face["picture"] + face["details"]
    assert "<img" not in shown  # fields, note and fault are set as text by the page


anything = st.one_of(st.text(max_size=60), st.none(), st.integers(), st.floats(), st.booleans())


@given(
    st.dictionaries(
        st.sampled_from(["thrust", "friction", "nose", "corners", "worst", "x"]), anything
    )
)
def test_whatever_is_sent_the_panel_answers_in_words(values):
    face = ask(PANEL, **values)
    json.dumps(face)
    assert "Traceback" not in face["fault"]
    assert set(face["fields"]) == {"thrust", "friction", "nose", "corners", "worst"}


PANEL = scene().panel()


def test_two_panels_of_one_scene_keep_their_own_values():
    shared = scene()
    one, other = shared.panel(), shared.panel()
    ask(one, thrust="900 N")
    assert other.face["fields"]["thrust"]["value"] == "600 N"
