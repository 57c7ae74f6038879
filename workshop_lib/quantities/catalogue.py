"""In which language does the workbook speak? One catalogue of texts, by their English sentence.

Code is written in English. `say` hands on what the catalogue of the chosen language has for a
sentence, and the English one where it has nothing; `sources.translations` reads the catalogues.
Words in one piece (labels, choices, headings, cells) are looked up where a page, a drawing or a
panel sets them, so that only sentences with numbers in them call `say` by themselves.
"""

from contextlib import contextmanager

ENGLISH = "en"
_spoken = (ENGLISH, {})


def language():
    """In which language does the workbook speak? A code such as "en" or "de"."""
    return _spoken[0]


def say(text, **fields):
    """How is this said in the language that is spoken?

    text: English, its amounts as named fields. fields: what stands in for them, ready to be read.
    Returns text. What is no text, or is not in the catalogue, comes back as it is.

    >>> say("Holds: {times} times the load", times="2.3")
    'Holds: 2.3 times the load'
    """
    told = _spoken[1].get(text, text) if isinstance(text, str) else text
    return told.format(**fields) if fields else told


def speak_in(code, texts):
    """Speak a language from now on. texts: English -> that language. Returns what was spoken."""
    global _spoken
    before, _spoken = _spoken, (code, texts)
    return before


@contextmanager
def speaking_in(code, texts):
    """Speak a language inside a `with` block only."""
    before = speak_in(code, texts)
    try:
        yield
    finally:
        speak_in(*before)
