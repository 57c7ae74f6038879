"""Fields for files: a recording arrives whole or is refused; a name has one of its endings."""

import base64

import pytest

from workshop_lib.quantities import InputError
from workshop_lib.teaching.file_fields import LONGEST, FileName, Sound

SOUND = Sound("sound", "A sound")
NAME = FileName("file", "A scan", "scan.png", (".png", ".jpg"))


def test_a_recording_arrives_as_the_bytes_that_were_sent():
    content = bytes(range(256)) * 3
    assert SOUND.read("wav:" + base64.b64encode(content).decode()) == content
    assert SOUND.read("") is None


@pytest.mark.parametrize("given", ["wav:%%%", "mp3:AAAA", 7, None, "wav:" + "A" * LONGEST])
def test_what_is_no_recording_is_refused_by_its_label(given):
    with pytest.raises(InputError, match="A sound"):
        SOUND.read(given)


def test_the_page_is_never_sent_the_sound_back():
    given = "wav:" + base64.b64encode(bytes(5000)).decode()
    assert SOUND.shown(given) == SOUND.words(given) == "a sound of 5 kB"
    assert SOUND.shown("") == "" and SOUND.words("") == "nothing recorded yet"
    assert "nothing" in SOUND.shown("wav:%")


@pytest.mark.parametrize("given", ["scan.png", " My Scan.JPG "])
def test_a_name_with_a_known_ending_is_taken(given):
    assert NAME.read(given) == given.strip()


@pytest.mark.parametrize("given", ["", "  ", "scan.gif", "scan", 5, None, "a\0.png"])
def test_another_name_is_refused_by_its_label(given):
    with pytest.raises(InputError, match="A scan"):
        NAME.read(given)


def test_specs_hold_what_the_page_builds_from():
    assert SOUND.spec()["control"] == "sound" and SOUND.spec()["seconds"] == 10
    assert NAME.spec()["control"] == "typed" and "low" not in NAME.spec()
    assert SOUND.position("") is None and NAME.position("scan.png") is None
