"""The drawings in figures/ are those that the code draws today, and each says what it shows."""

import re

import pytest

from workshop_lib.lessons import gallery


@pytest.mark.parametrize("name", gallery.drawings())
def test_kept_drawing_is_current(name):
    kept = (gallery.FOLDER / name).read_text(encoding="utf-8")
    assert kept == gallery.drawings()[name], "redraw with: python3 -m workshop_lib figures"


def test_no_drawing_is_left_behind():
    assert {path.name for path in gallery.FOLDER.glob("*.svg")} == set(gallery.drawings())


@pytest.mark.parametrize("name", gallery.drawings())
def test_every_drawing_has_an_alt_sentence_with_a_number(name):
    (alt,) = re.findall(r'<svg[^>]*role="img"[^>]*aria-label="([^"]+)"', gallery.drawings()[name])
    assert re.search(r"\d", alt)
    assert alt.endswith(".")
