"""What do the words of the trade mean? One row for each in `data/words.csv`.

A word is explained once, in the table. The page of all words and the links in the lessons are
written from it by the command `words` (see `word_links`).
"""

import functools
import re
from typing import NamedTuple

from workshop_lib.sources import anything, by_key, choose, load, text, whole

_COLUMNS = {"word": text, "meaning": text, "lesson": whole(0, 99), "forms": anything}


class Word(NamedTuple):
    """One word: what it means, the lesson that it comes up in first, and its other forms."""

    word: str
    meaning: str
    lesson: int
    forms: tuple

    @property
    def anchor(self):
        """The place of the word on the page of all words, as a notebook's viewer makes it."""
        return self.word.replace(" ", "-")


@functools.cache
def pattern(forms):
    """Return the pattern that finds any of some forms as whole words, in small or large letters."""
    longest_first = sorted(forms, key=len, reverse=True)
    joined = "|".join(re.escape(form) for form in longest_first)
    return re.compile(rf"(?<![\w-])(?:{joined})(?![\w-])", re.IGNORECASE)


def all_words():
    """Return every word in the order of the alphabet.

    Raises InputError when the table is not in that order, or a form belongs to two words.
    """
    return load("words.csv", _COLUMNS, _built)


def _built(rows):
    rows = list(by_key(rows, "word").values())
    taken = {}
    for before, row in zip([None, *rows], rows, strict=False):
        together = before and before.file == row.file
        if together and before["word"].casefold() > row["word"].casefold():
            raise row.error(f"‘{row['word']}’ is out of alphabetical order")
        for form in (row["word"], *_split(row["forms"])):
            if form.casefold() in taken:
                raise row.error(f"‘{form}’ belongs to ‘{taken[form.casefold()]}’ already")
            taken[form.casefold()] = row["word"]
    return tuple(
        Word(row["word"], row["meaning"], row["lesson"], _split(row["forms"]))
        for row in sorted(rows, key=lambda row: row["word"].casefold())
    )


def _split(forms):
    return tuple(form.strip() for form in forms.split(";") if form.strip())


def find_word(word):
    """Return one `Word` by its name or by one of its forms.

    Raises InputError for a word that is not in the table.

    >>> find_word("indicator").word
    'dial indicator'
    """
    forms = _by_form()
    sought = word.casefold() if isinstance(word, str) else word
    return forms[choose(sought, forms, "word", "word of the glossary")]


def _by_form():
    return {form.casefold(): each for each in all_words() for form in (each.word, *each.forms)}


def spots(passage, words):
    """Return the first spot of each of `words` in a passage: (match, Word), in their order.

    Where the forms of two words overlap, the longer one counts: a tide gauge is no gauge number.
    """
    forms = _by_form()
    first = {}
    for match in pattern(tuple(sorted(forms))).finditer(passage):
        first.setdefault(forms[match[0].casefold()], match)
    return [(match, each) for each, match in first.items() if each in words]
