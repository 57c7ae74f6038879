"""Lesson 02's panels in German: no English is left, every named field is filled, words have room.

A text is German when every word of it stands somewhere in the German catalogue, is a unit, or was
typed. So an English sentence that nobody translated shows itself by its words.
"""

import csv
import re

from tests.drawings.words_on_sheet import clashes
from tests.house.thorough import THOROUGH
from tests.lessons.languages import SCENES, TYPED, looks, unsaid
from workshop_lib import materials
from workshop_lib.launcher.environment import ROOT
from workshop_lib.own_files import texts_of
from workshop_lib.quantities import KINDS, InputError, say, speaking_in
from workshop_lib.sources import csv_tables, find_all
from workshop_lib.teaching.live import PAGE_WORDS

WORD = re.compile(r"[^\W\d_]+")
GERMAN = texts_of("de")
FIELD = re.compile(r"\{\w*\}")
# An address that the page makes a link of, what was typed, and a file's name.
APART = re.compile(r"\(\w+\.ipynb\)|‘[^’]*’|\w+\.csv")


def words(text):
    return set(WORD.findall(APART.sub(" ", FIELD.sub(" ", text))))


UNITS = {word for kind in KINDS.values() for unit in (*kind.units, kind.example) for word in
         WORD.findall(unit)} | {"M", "F", "ValueError"}  # fmt: skip
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
                if view is not None and (THOROUGH or number % 5 == 0):
                    assert clashes(view) == [], f"{make.__name__}, {where}"


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
