"""Markup that anyone hands in is shown as text, and no name leads out of its folder."""

import os
import re
from html.parser import HTMLParser

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.fuzz import grammar
from workshop_lib import write_up
from workshop_lib.drawings import page
from workshop_lib.drawings.charts import Chart
from workshop_lib.drawings.drawing import Canvas
from workshop_lib.quantities import InputError
from workshop_lib.sources import csv_tables
from workshop_lib.teaching.fields import Choice, Field
from workshop_lib.teaching.panels import Scene, View

# Markup stays text


class Reader(HTMLParser):
    """What a browser would make of a page: its tags, attributes and words."""

    def __init__(self, text):
        super().__init__()
        self.tags, self.attributes, self.words = set(), [], ""
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.tags.add(tag)
        self.attributes += attrs

    def handle_data(self, data):
        self.words += data


def drawn(words):
    canvas = Canvas(80, 60, words)
    canvas.text((5, 5), words)
    canvas.arrow((0, 0), (20, 20), words)
    canvas.dimension((0, 0), (20, 0), words)
    canvas.leader((10, 10), (20, 20), words)
    return canvas.figure(words)


def charted(words):
    chart = Chart(x=(words, 0, 1), y=(words, 0, 1))
    chart.line([0, 1], [0, 1], words)
    chart.point(0.5, 0.5, words)
    chart.horizontal(0.3, words)
    chart.axes.plot([0, 1], [1, 0], label=words)
    chart.axes.set_title(words)
    return chart.picture(words, words)


def asked(words):
    fields = [
        Choice("which", words, {"a": words, "b": "b"}, "a"),
        Field("size", words, "length", "1 mm"),
    ]
    view = View(words, "no", None, [words, page.table([[words]], [words])])
    return Scene(words, fields, lambda which, size: view, {"no": words}).still()


def refused(words):
    def judge(size):
        raise InputError("", words, words)

    return Scene("Why?", [Field("size", "Size", "length", "1 mm")], judge).still()


RENDERERS = {
    "table": lambda words: page.table([[words, words]], [words, words], words),
    "verdict": lambda words: page.verdict(words, "yes", words),
    "caution": page.caution,
    "note": page.note,
    "take_along": page.take_along,
    "steps": page.steps,
    "you_can": lambda words: page.you_can(5, words),
    "folded": lambda words: page.folded(words, words),
    "drawing": drawn,
    "chart": charted,
    "panel": asked,
    "refusal": refused,
}


@pytest.mark.parametrize("words", grammar.MARKUP)
@pytest.mark.parametrize("renderer", RENDERERS)
def test_markup_is_shown_and_never_run(renderer, words):
    block = RENDERERS[renderer](words)
    plain = Reader(str(RENDERERS[renderer]("plain words").html()))
    for text in (str(block.html()), str(block.portable())):
        seen = Reader(text)
        assert not seen.tags & {"script", "iframe", "object", "embed"}
        assert not [name for name, _ in seen.attributes if name.startswith("on")]
        links = [value for name, value in seen.attributes if name in ("href", "src", "action")]
        assert not [link for link in links if link and not link.startswith("data:image/svg+xml")]
    assert Reader(str(block.html())).tags == plain.tags


def test_a_live_panel_sends_texts_as_text_and_markup_from_its_own_builders_alone():
    hostile = grammar.MARKUP[0]
    scene = Scene(
        "A question?", [Field("size", "Size", "length > 0", "1 mm")], lambda size: View("ok")
    )
    panel = scene.panel()
    face = panel.answer("", {"size": hostile})
    assert "‘<script>" in face["fields"]["size"]["complaint"]  # the page sets it as text
    for part in ("verdict", "picture", "details"):
        assert "<script" not in face[part]


# File names stay in the folder

NAMES = [
    "../../etc/passwd",
    "..",
    ".",
    "",
    "/",
    "C:\\x",
    "a\0b",
    "nul",
    "CON",
    "x" * 999,
    "‮txt.exe",
    "名",
]


@pytest.mark.parametrize("title", [*NAMES, *grammar.MARKUP])
def test_a_page_is_named_after_its_title_and_stays_in_its_folder(title, tmp_path):
    name = write_up.file_name(title)
    assert re.fullmatch(r"[a-z0-9_]{1,100}", name)
    assert (tmp_path / f"{name}.html").resolve().parent == tmp_path.resolve()
    assert not re.fullmatch(r"(con|prn|aux|nul|com\d|lpt\d)", name)


@given(st.text(max_size=60))
def test_any_title_makes_one_plain_name(title):
    assert re.fullmatch(r"[a-z0-9_]+", write_up.file_name(title))


@pytest.mark.parametrize("file", ["../materials.csv", "/etc/passwd", "materials.csv/.."])
def test_a_data_folder_gives_only_its_own_tables(file, tmp_path, monkeypatch):
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "surprise.csv").write_text("a\n1\n")
    monkeypatch.setitem(os.environ, csv_tables.VARIABLE, str(tmp_path / "mine"))
    with pytest.raises(InputError, match="surprise"):
        csv_tables.paths_of("materials.csv")
    (tmp_path / "mine" / "surprise.csv").unlink()
    with pytest.raises(InputError, match="not the name of a table"):
        csv_tables.paths_of(file)
