"""How do lessons link to the glossary? The command `words` writes its page and the links.

A word is linked once in the course: where the text of the lesson that brings it in first has it,
but not in that lesson's shop question. Words that a lesson brings in only in its shop question, a
panel, a caution or an exercise are in one line above its take-away.
"""

import os
import re
import sys

import nbformat

from workshop_lib.launcher.environment import NOTEBOOKS, masters
from workshop_lib.sources import csv_tables, replace_text
from workshop_lib.teaching.words import all_words, spots

PAGE = "words_used.md"
MORE = "More words that came up: "
_LINK = re.compile(rf"\[([^\]]+)\]\({re.escape(PAGE)}#[^)]*\)")
_LINE = re.compile(rf"\n*^{re.escape(MORE)}.*$", re.MULTILINE)
_TAKE_AWAY = "## Take away"
# Where no link may go: code, formulas, other links, tags, headings, the shop question.
_CLOSED = re.compile(
    r"^```.*?^```|^#+ [^\n]*|^\*\*Shop question:\*\*[^\n]*|`[^`]*`|\$\$.+?\$\$|\$[^$\n]+\$"
    r"|!?\[[^\]]*\]\([^)]*\)|<[^>\n]+>",
    re.MULTILINE | re.DOTALL,
)
_HEAD = """# Words used

The words of the trade and of engineering that come up in the lessons, in plain language. The number
behind a word leads to the lesson in which it comes up first.
"""


def main(arguments):
    """Write the page of words and the links in the lessons anew; return an exit status."""
    if arguments:
        print("words takes no arguments", file=sys.stderr)  # noqa: T201
        return 2
    os.environ[csv_tables.VARIABLE] = ""  # what a teacher has added stays out of the masters
    replace_text(NOTEBOOKS / PAGE, page_text())
    print(f"notebooks/{PAGE}: written")  # noqa: T201
    for path in masters(NOTEBOOKS):
        notebook = nbformat.read(path, as_version=4)
        before = nbformat.writes(notebook)
        after = nbformat.writes(linked(notebook, int(path.name[:2])))
        if after != before:
            replace_text(path, after + "\n")
            print(f"notebooks/{path.name}: linked")  # noqa: T201
    return 0


def page_text():
    """Return the page of all words as Markdown, each under a heading that links can name."""
    parts, letter = [_HEAD], ""
    for each in all_words():
        if each.word[0].upper() != letter:
            letter = each.word[0].upper()
            parts.append(f"## {letter}\n")
        others = [other for other in all_words() if other is not each]
        meaning = _with_links(each.meaning, others, "")[0]
        first = f"[{each.lesson:02}]({lesson_files()[each.lesson]})"
        parts.append(f"### {each.word}\n\n{meaning} ({first})\n")
    return "\n".join(parts)


def lesson_files():
    """Return the names of the lessons' files by their numbers."""
    return {int(path.name[:2]): path.name for path in masters(NOTEBOOKS)}


def linked(notebook, lesson):
    """Return the notebook with the links of its lesson set anew; other text stays as it is."""
    texts = [cell for cell in notebook.cells if cell.cell_type == "markdown"]
    for cell in texts:
        cell.source = unlinked(cell.source)
    waiting = [each for each in all_words() if each.lesson == lesson]
    for cell in texts:
        cell.source, found = _with_links(cell.source, waiting, PAGE)
        waiting = [each for each in waiting if each not in found]
    if waiting:
        last = [cell for cell in texts if cell.source.startswith(_TAKE_AWAY)] or texts[-1:]
        named = ", ".join(f"[{each.word}]({PAGE}#{each.anchor})" for each in waiting)
        last[0].source = f"{last[0].source}\n\n{MORE}{named}."
    return notebook


def unlinked(source):
    """Return the text of a cell without any link to the page of words."""
    return _LINK.sub(r"\1", _LINE.sub("", source))


def _with_links(source, words, page):
    """Return a text with the first spot of each of some words linked, and the words linked."""
    masked = _CLOSED.sub(lambda closed: "\0" * len(closed[0]), source)
    found = spots(masked, words)
    for match, each in sorted(found, key=lambda pair: -pair[0].start()):
        link = f"[{match[0]}]({page}#{each.anchor})"
        source = source[: match.start()] + link + source[match.end() :]
    return source, [each for _, each in found]
