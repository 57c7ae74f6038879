"""Every panel of every lesson answers at its start, at the ends of its controls, to nonsense."""

import re

import pytest

from tests.drawings.words_on_sheet import clashes
from tests.fuzz.scenes import scenes
from tests.house.thorough import THOROUGH, some
from workshop_lib.quantities import speaking
from workshop_lib.teaching.fields import Choice, Count, Field, Switch, Text
from workshop_lib.teaching.file_fields import FileName, Sound
from workshop_lib.teaching.panels import Scene

NONSENSE = ("", "   ", "abc", "3,5 mm", "1e99 mm", "-1", "nan", "<b>5</b>", "9**9**9", "٣ mm")


SCENES = {name: make() for name, make in scenes().items()}
each_scene = pytest.mark.parametrize("scene", SCENES.values(), ids=SCENES)


def settings(scene):
    """Yield what each field can be set to at its ends, one field at a time.

    In the usual check at one end only: the lower, the higher, and so on in turn.
    """
    for number, field in enumerate(scene.fields):
        if isinstance(field, Choice):
            values = list(field.options)
        elif isinstance(field, Switch):
            values = [True, False]
        elif isinstance(field, Count):
            values = list(field.slider)
        elif isinstance(field, Sound):
            values = ["", "wav:AAAA", "wav:no", "text"]
        elif isinstance(field, FileName):
            values = [f"none{ending}" for ending in field.endings]
        elif isinstance(field, Text):
            values = ["0 1", "0 1\n120 2\n240 3", "0 1\nnonsense\n120 2\n240 3"]
        elif not hasattr(field, "slider"):  # a box of the form, such as a name
            values = [str(field.start)]
        else:
            low, high, _ = field.slider
            values = [f"{low:g} {field.unit}".strip(), f"{high:g} {field.unit}".strip()]
        if not THOROUGH and number % 3:
            continue
        for value in values if THOROUGH else values[number % len(values) :][:1]:
            yield {field.name: value}


def test_the_scenes_were_found():
    assert all(isinstance(scene, Scene) for scene in SCENES.values())
    assert len(SCENES) > 20


@each_scene
def test_it_answers_at_its_start(scene):
    look = scene.look(scene.given())
    assert look.view is not None, look.complaints
    assert look.cautions == ()


@each_scene
def test_it_answers_or_says_what_is_wrong_at_the_ends_of_every_control(scene):
    for given in settings(scene):
        look = scene.look(scene.given() | given)
        assert (look.view is None) == bool(look.complaints), given
        for said in look.complaints.values():
            assert re.search(r"[.?]$", said), said
        if look.view is not None:
            assert clashes(look.view) == [], given


@each_scene
def test_nonsense_is_answered_at_its_own_field(scene):
    for field in scene.fields:
        if type(field) not in (Field, Text, FileName):  # a box of the form may be empty
            continue
        for text in NONSENSE:
            if text == "-1" and "ratio" not in getattr(field, "kind", "ratio"):
                continue
            look = scene.look(scene.given() | {field.name: text})
            assert list(look.complaints) == [field.name], (field.name, text)


@each_scene
def test_its_picture_has_an_alt_sentence_with_a_number_and_no_clashing_words(scene):
    picture = scene.look(scene.given()).view.picture
    if picture is not None:
        assert re.search(r"\d.*\.$", picture.alt), picture.alt
    if hasattr(picture, "faults"):
        assert picture.faults() == []


@each_scene
def test_its_pictures_have_room_for_their_words_in_inch_too(scene):
    with speaking("inch"):
        assert clashes(scene.look(scene.given()).view) == []


@each_scene
def test_the_still_is_the_same_on_every_run(scene):
    assert scene.still().html() == scene.still().html()
    assert scene.still().text()


# A job says what was typed, a catalogue what its maker prints, and lesson 00 shows both systems.
IN_BOTH = {"plan.job_scene", "plan.chance_scene", "plan.pair_scene", "bearings.choose_scene",
           "nose.sizes_scene", "start.units_scene"}  # fmt: skip
METRIC = re.compile(r"[^\n]{0,40}[0-9] (?:mm|µm|N|kN|N·m|MPa|m/min)\b")


@pytest.mark.parametrize("name", some([each for each in SCENES if each not in IN_BOTH], 6))
def test_in_inch_a_panel_begins_without_a_metric_unit(name):
    with speaking("inch"):
        assert METRIC.findall(scenes()[name]().still().text()) == []
