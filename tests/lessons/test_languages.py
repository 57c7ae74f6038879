"""Lesson 02's panels in German: no English is left, every named field is filled, words have room.

A text is German when every word of it stands somewhere in the German catalogue, is a unit, or was
typed. So an English sentence that nobody translated shows itself by its words.
"""

import csv
import re

from tests.drawings.words_on_sheet import clashes
from tests.house.laws import held_for
from tests.house.thorough import THOROUGH
from tests.lessons.languages import SCENES, TYPED, looks, unsaid
from workshop_lib import materials
from workshop_lib.launcher import resting
from workshop_lib.launcher.environment import ROOT
from workshop_lib.lessons.slip.panels import slip_scene
from workshop_lib.own_files import texts_of
from workshop_lib.quantities import KINDS, InputError, say, speaking_in
from workshop_lib.sources import csv_tables, find_all
from workshop_lib.teaching import answer_file, predict
from workshop_lib.teaching.live import PAGE_WORDS
from workshop_lib.teaching.panels import Panel

WORD = re.compile(r"[^\W\d_]+")
GERMAN = texts_of("de")
FIELD = re.compile(r"\{\w*\}")
# An address that the page makes a link of, what was typed, and a file's name.
APART = re.compile(r"\(\w+\.ipynb\)|‘[^’]*’|\w+\.csv")


def words(text):
    return set(WORD.findall(APART.sub(" ", FIELD.sub(" ", text))))


UNITS = {word for kind in KINDS.values() for unit in (*kind.units, kind.example) for word in
         WORD.findall(unit)} | {"M", "F", "ValueError"}  # fmt: skip
POINTED = {"1.4301", "7.21", "18.1", "18.2"}  # numbers of a steel and of tables
TYPED_WORDS = {word for text in TYPED for word in WORD.findall(text)}


def added():
    """Return the words of rows that nobody has put into German yet: a row more breaks no test."""
    found = set()
    for table in ("materials.csv", "facings.csv", "sheet_on_sheet.csv"):
        with (csv_tables.BUILT_IN / table).open(encoding="utf-8", newline="") as file:
            for row in csv.DictReader(file):
                cells = [row.get("name"), row["note"] if "source" in row else ""]
                cells += [each.short for each in find_all(row["source"])] if "source" in row else []
                found |= {cell for cell in cells if cell and cell not in GERMAN}
    return {word for cell in found for word in words(cell)}


KNOWN = {word for told in GERMAN.values() for word in words(told)} | UNITS | added()


def test_no_english_is_left_every_field_is_filled_and_words_have_room():
    kinds = set()
    with speaking_in("de", GERMAN):
        for make in SCENES:
            for number, (where, texts, view) in enumerate(looks(make, kinds)):
                for text in set(texts):
                    strange = words(text) - KNOWN - TYPED_WORDS
                    assert not strange, f"{make.__name__}, {where}: {strange} in {text!r}"
                    assert not re.search(r"[{}]", text), f"{make.__name__}, {where}: {text!r}"
                    pointed = re.findall(r"[0-9]+\.[0-9]+", APART.sub(" ", text))
                    assert set(pointed) <= POINTED, f"{make.__name__}, {where}: {text!r}"
                if view is not None and (THOROUGH or number % 5 == 0):
                    assert clashes(view) == [], f"{make.__name__}, {where}"


def test_in_german_a_box_takes_a_comma_and_shows_one_and_a_point_is_what_is_kept():
    with speaking_in("de", GERMAN):
        panel = Panel(slip_scene())
        pointed = panel.answer("", {"depth": "0.3 mm", "wanted": "2.5"})
        assert panel.answer("", {"depth": "0,3 mm", "wanted": "2,5"}) == pointed
        assert (panel.given["depth"], pointed["fields"]["depth"]["value"]) == ("0.3 mm", "0,3 mm")
        asked = panel.answer("", {"thrust": "1,500 N"})["fields"]["thrust"]
        assert (asked["value"], panel.given["thrust"]) == ("1,500 N", "1,500 N")
        assert (
            asked["complaint"] == "‘1,500 N’ kann zweierlei bedeuten. Schreibe 1,5 N oder 1500 N."
        )
        unknown = panel.answer("", {"thrust": "2,5 furlongs"})["fields"]["thrust"]["complaint"]
        assert unknown.startswith("‘furlongs’") and "Schreibe zum Beispiel 600 N" in unknown
        asked = predict.predict("l99-comma", "How large a force?", kind="force")
        asked.answer("commit", {"answer": "0,24 kN"})
        assert answer_file.current().entries("l99-comma")[-1]["raw"] == "0.24 kN"
        assert 'lang="de">Zum Benutzen' in panel._fallback()
    english = Panel(slip_scene()).answer("", {"depth": "0,3 mm"})["fields"]["depth"]
    assert english["complaint"] == "‘0,3 mm’ has a comma. Write a point: 0.3 mm."


@held_for(
    [
        ("0.3 mm", "0,3 mm"),
        ("2.9 / 3.9 / 5.9", "2,9 / 3,9 / 5,9"),
        ("0.3, 0.5 N", "0,3; 0,5 N"),
        ("29.9 N, 0.954 N·m", "29,9 N; 0,954 N·m"),
        ("M = 2.00 N·m", "M = 2,00 N·m"),
        ("-1.5e-3 mm", "-1.5e-3 mm"),
        ("version 3.11", "version 3.11"),
        ("1.2.3", "1.2.3"),
        ("‘0.3 mm’", "‘0.3 mm’"),
        ("9" * 5000 + ".5 x", "9" * 5000 + ".5 x"),
    ]
)
def test_only_an_amount_gets_a_comma(text, told):
    with speaking_in("de", GERMAN):
        assert say(text) == told
        assert say("{value} could mean two things", value=text).startswith(told)
    assert say(text) == text


def test_a_panel_at_rest_is_woken_in_its_language():
    with speaking_in("de", GERMAN):
        html = Panel(slip_scene())._fallback()
    output = {"data": {"text/html": html, "text/plain": "Panel: Will it slip?"}, "metadata": {}}
    notebook = {"cells": [{"cell_type": "code", "source": "", "outputs": [output]}]}
    resting.wake_up(notebook)
    woken = output["data"]["text/html"]
    assert ">Aufwecken</button> Es ruht" in woken and "Zum Benutzen" not in woken


def test_what_is_said_of_every_friction_is_german():
    def said(ask, *of):
        try:
            return str(ask(*of))
        except InputError as error:
            return f"{error.problem} {error.mend}"

    with speaking_in("de", GERMAN):
        for sheet in materials.materials():
            for each in materials.CONDITIONS:
                texts = [said(materials.friction_between, sheet, "nothing", each)]
                texts += [said(materials.friction, on, sheet, each) for on in materials.facings()]
                assert [text for text in texts if words(text) - KNOWN] == []


def test_every_german_text_translates_one_that_the_workbook_says():
    assert unsaid(GERMAN) == []


def test_what_the_page_says_by_itself_stands_in_its_code():
    page = (ROOT / "workshop_lib/teaching/panel.js").read_text(encoding="utf-8")
    joined = re.sub(r'" \+\s*"', "", page)
    assert [each for each in PAGE_WORDS if f'"{each}"' not in joined] == []


def test_what_is_missing_stays_english():
    with speaking_in("xx", {"Thrust": "Poussée"}):
        assert (say("Thrust"), say("Feed")) == ("Poussée", "Feed")
        assert say("Holds: {times} times the load", times="2.3") == "Holds: 2.3 times the load"
