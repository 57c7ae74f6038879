"""Which languages are there, and what does each say? One file of texts for a language.

A file is named by the language's code, such as `de.po`, and has gettext's form, which translators'
editors know: `msgid` the English sentence, `msgstr` the same in the other language, with the same
named fields. A teacher's file of that name adds to the built-in one, and its wording wins.
"""

import re
from string import Formatter

from workshop_lib.own_files.toml_files import text_of
from workshop_lib.quantities import ENGLISH, InputError, quote, speak_in
from workshop_lib.sources import csv_tables

BUILT_IN = csv_tables.BUILT_IN / "languages"
OWN_NAME = "English"  # the text whose translation is a language's own name, such as Deutsch
_FILE = re.compile(r"[a-z]{2,3}(_[A-Z]{2})?\.po")
_TEXT = re.compile(r'(msgid|msgstr)?[ \t]*"((?:[^"\\]|\\.)*)"')
_ESCAPES = {"n": "\n", "t": "\t", '"': '"', "\\": "\\"}
_kept = {}


def languages():
    """Return the code of every language, English first, with its own name for itself."""
    codes = sorted({path.stem for path in files()})
    return {ENGLISH: OWN_NAME} | {code: _own_name(code) for code in codes}


def _own_name(code):
    try:
        return texts_of(code).get(OWN_NAME, code)
    except InputError:  # said to whoever chooses it
        return code


def speak_language(code):
    """Speak a language from now on; None or "en": English. Raises InputError.

    code: such as "de". A file of it that is wrong is refused with its line.
    """
    if code not in (None, ENGLISH):
        csv_tables.choose(code, {ENGLISH, *(path.stem for path in files())}, "language", "language")
    speak_in(code or ENGLISH, {} if code in (None, ENGLISH) else texts_of(code))


def files():
    """Return the files of all languages, built-in ones first; refuse one with another name."""
    own = csv_tables.own_folder()
    found = sorted(BUILT_IN.glob("*.po")) + ([] if own is None else sorted(own.glob("*.po")))
    for path in found:
        if not _FILE.fullmatch(path.name):
            mend = "Give it the language's code, such as fr.po or pt_BR.po"
            raise InputError(_where(path), "does not have the name of a language", mend)
    return found


def texts_of(code):
    """Return the texts of a language, English -> translation."""
    texts = {}
    for path in files():
        if path.stem == code:
            texts |= {english: told for english, (told, _) in texts_in(path).items()}
    return texts


def texts_in(path):
    """Return the texts of one file: English -> (translation, line). Read anew after a change."""
    state = path.stat()
    stamp = state.st_mtime_ns, state.st_size, state.st_ino
    if _kept.get(path, (None,))[0] != stamp:
        where = _where(path)
        _kept[path] = stamp, texts_from(text_of(path), where)
    return _kept[path][1]


def _where(path):
    return f"{path.parent.name}/{path.name}"


def texts_from(text, where):
    """Read a file's text: English -> (translation, line of its msgid).

    Entries without a translation, and those marked as fuzzy, are left out. Raises InputError that
    names the line.

    >>> texts_from('msgid "Feed"\\nmsgstr "Vorschub"\\n', "de.po")
    {'Feed': ('Vorschub', 1)}
    """
    found = {}
    for line, fuzzy, english, told in _entries(text, where):
        if not english or not told or fuzzy:
            continue  # the head of the file, or not translated yet
        if english in found:
            problem = f"{quote(english)} is in line {found[english][1]} already"
            raise _fault(where, line, problem)
        missing, more = _fields(english, where, line), _fields(told, where, line)
        if missing != more:
            named = ", ".join(quote("{" + each + "}") for each in sorted(missing ^ more))
            raise _fault(where, line, f"only one of the two texts has {named}", "Put it in both")
        found[english] = told, line
    return found


def _entries(text, where):
    """Yield (line, fuzzy, msgid, msgstr) for every entry of a file."""
    parts, part, start, fuzzy = {}, None, 0, False
    for number, word, told, marked in _lines(text, where):
        if word == "msgid":
            if parts:
                yield _whole(parts, where, start, fuzzy)
            parts, start, fuzzy = {}, number, marked
        if word:
            if word in parts or (word == "msgstr" and "msgid" not in parts):
                raise _fault(
                    where, number, f"{word} is in the wrong place", "Write msgid first, then msgstr"
                )
            part, parts[word] = word, ""
        if part is None:
            raise _fault(where, number, "this text has no msgid or msgstr before it")
        parts[part] += told
    if parts:
        yield _whole(parts, where, start, fuzzy)


def _lines(text, where):
    """Yield (line, "msgid", "msgstr" or None, its text, whether it is marked as fuzzy)."""
    fuzzy = False
    for number, raw in enumerate(text.split("\n"), 1):
        line = raw.strip()
        if not line or line.startswith("#"):
            fuzzy = fuzzy or (line.startswith("#,") and "fuzzy" in line)
            continue
        match = _TEXT.fullmatch(line)
        if match is None:
            mend = 'Write msgid "English" and below it msgstr "translation", each " inside as \\"'
            raise _fault(where, number, f"{quote(line)} is not part of a translation", mend)
        told = re.sub(r"\\(.)", lambda found: _ESCAPES.get(found[1], found[0]), match[2])
        yield number, match[1], told, fuzzy
        fuzzy = fuzzy and match[1] != "msgid"  # the mark is of the next msgid alone


def _whole(parts, where, line, fuzzy):
    if "msgstr" not in parts:
        raise _fault(where, line, f"{quote(parts['msgid'])} has no msgstr below it")
    return line, fuzzy, parts["msgid"], parts["msgstr"]


def _fields(text, where, line):
    """Return the named fields of a text as they are written between its braces."""
    try:
        pieces = [each for each in Formatter().parse(text) if each[1] is not None]
    except ValueError as error:
        raise _fault(where, line, f"{quote(text)} has a brace too many or too few") from error
    return {
        f"{name}{kind and '!' + kind or ''}{form and ':' + form}" for _, name, form, kind in pieces
    }


def _fault(where, line, problem, mend=""):
    return InputError(f"{where}, line {line}", problem, mend)
