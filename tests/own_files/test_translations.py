"""A file of texts is read strictly, wrong ones named by their line; a teacher's own one adds."""

import pytest

from tests.house.laws import held_for
from workshop_lib import shop
from workshop_lib.own_files import languages, speak_language, texts_of, translations
from workshop_lib.quantities import InputError, language, say, speak_in
from workshop_lib.sources import csv_tables

GOOD = """\
# A comment.
msgid ""
msgstr "Language: fr\\n"

#, python-brace-format
msgid "Holds: {times} times the load"
msgstr ""
"Tient : {times} fois "
"la charge"

msgid "Say \\"ah\\""
msgstr "Dites \\"ah\\""

#, fuzzy
msgid "Feed"
msgstr "Avance ?"

msgid "Thrust"
msgstr ""
"""


@pytest.fixture
def mine(tmp_path, monkeypatch):
    folder = tmp_path / "my_additions"
    folder.mkdir()
    monkeypatch.setenv(csv_tables.VARIABLE, str(folder))
    before = speak_in("en", {})
    yield folder
    speak_in(*before)


def test_a_file_says_what_it_says_and_leaves_the_rest():
    found = translations.texts_from(GOOD, "fr.po")
    assert {key: told for key, (told, _) in found.items()} == {
        "Holds: {times} times the load": "Tient : {times} fois la charge",
        'Say "ah"': 'Dites "ah"',
    }


BAD = {
    ("{times} fois", "{fois} fois"): "line 6: only one of the two texts has ‘{fois}’, ‘{times}’",
    ("{times} fois", "fois"): "line 6: only one",
    ("{times} fois", "{times!r} fois"): "line 6: only one",
    ("{times} fois", "{times fois"): "line 6: .* a brace",
    ('msgid "Thrust"', 'msgid "Thrust'): "line 18: .* not part of a translation",
    ('msgid "Thrust"', "Thrust"): "line 18: .* not part of",
    ('msgid "Thrust"\nmsgstr ""', 'msgid "Thrust"'): "line 18: .* no msgstr",
    ('msgid "Thrust"\n', ""): "line 18: msgstr is in the wrong place",
    (
        'msgid "Thrust"\nmsgstr ""',
        'msgid "Say \\"ah\\""\nmsgstr "x"',
    ): "line 18: .* line 11 already",
    ('msgid ""\nmsgstr', ""): "line 2: this text has no msgid",
    ('msgid "Thrust"', 'msgid_plural "Thrust"'): "line 18: .* not part of",
}


@held_for(BAD.items())
def test_what_is_wrong_is_named_by_its_line(change, said):
    assert change[0] in GOOD
    with pytest.raises(InputError, match=f"fr.po, {said}"):
        translations.texts_from(GOOD.replace(*change), "fr.po")


def test_a_file_of_ones_own_is_a_language_and_adds_to_a_built_in_one(mine):
    assert languages() == {"en": "English", "de": "Deutsch"}
    (mine / "fr.po").write_text(GOOD, encoding="utf-8")
    (mine / "de.po").write_text('msgid "Thrust"\nmsgstr "Druck"\n\nmsgid "Aim"\nmsgstr "Ziel"\n')
    assert languages() == {"en": "English", "de": "Deutsch", "fr": "fr"}
    speak_language("de")
    assert (language(), say("Thrust"), say("Aim"), say("Feed")) == (
        *("de", "Druck", "Ziel"),
        texts_of("de")["Feed"],
    )
    speak_language(None)
    assert (language(), say("Thrust")) == ("en", "Thrust")


def test_a_wrong_file_or_name_is_refused_where_it_stands(mine):
    (mine / "fr.po").write_bytes(b'msgid "a"\nmsgstr "\xe9"\n')
    with pytest.raises(
        InputError, match="fr.po, line 2: this line has a letter that is not in UTF-8"
    ):
        texts_of("fr")
    assert languages()["fr"] == "fr", "others can still be chosen"
    (mine / "fr.po").unlink()
    (mine / "french.po").write_text(GOOD, encoding="utf-8")
    with pytest.raises(
        InputError, match="my_additions/french.po: does not have the name of a language"
    ):
        languages()


def test_the_shop_file_chooses_the_language(mine):
    assert shop.parse('[units]\nlanguage = "de"\n').language == "de"
    assert shop.parse("").language is None
    with pytest.raises(InputError, match="line 2, units.language.*‘fr’"):
        shop.parse('[units]\nlanguage = "fr"\n')
    (mine / "fr.po").write_text(GOOD, encoding="utf-8")
    assert shop.parse('[units]\nlanguage = "fr"\n').language == "fr"
    changed = shop.changed(None, "units", {"language": "de"})
    assert shop.parse(changed).language == "de" and "# system" in changed
