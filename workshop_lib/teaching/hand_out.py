"""How does a lesson become a hand-out without answers, and slides for the projector?

hand-out 02 --units inch
"""

import argparse
import re
from pathlib import Path

from workshop_lib import shop
from workshop_lib.drawings.markup import LOCKED, escape
from workshop_lib.launcher.environment import LESSON, ROOT, master
from workshop_lib.launcher.trouble import Trouble
from workshop_lib.quantities import SYSTEMS, InputError
from workshop_lib.slip import RULES_FIRST
from workshop_lib.sources import bears, replace_text
from workshop_lib.teaching.lesson_parts import parts
from workshop_lib.teaching.worksheet_pages import PAPERS

FOLDER = ROOT / "hand_outs"
STYLE = Path(__file__).with_name("hand_out.css")
PICTURES = 6  # on a hand-out
LETTERS = 330  # of a text on one slide, in letters that are read from six metres
LINE = 30  # letters that a new line costs
BESIDE = 150  # of a text beside a picture
LISTED = 420  # of a list on one slide
LISTS = ("caution", "take away", "aims")
ENDS = ("Exercises", "Take away", "Where the numbers come from", "Plot it yourself")
NOTES = '<div class="notes"><span>What I saw, and why</span><i></i><i></i></div>'
MARK = '<meta name="made-from" content="{}">'
_DRAWN = re.compile(r'<img[^>]*>|<svg(?![^>]*width="16").*?</svg>', re.DOTALL)
_SENTENCE = re.compile(r".+?[.?!…](?=\s|$)", re.DOTALL)


def main(arguments):
    """Write a hand-out and slides for each lesson that is named; return a status."""
    parser = argparse.ArgumentParser(prog="hand-out", description="Hand-outs and slides.")
    parser.add_argument("lessons", nargs="+", metavar="02")
    parser.add_argument("--units", choices=SYSTEMS, default=None)
    parser.add_argument("--paper", choices=PAPERS, default="a4")
    parser.add_argument("--folder", type=Path, default=FOLDER)
    chosen = parser.parse_args(arguments)
    strange = [each for each in chosen.lessons if not re.fullmatch(LESSON, each)]
    paths = [master(each) for each in chosen.lessons if each not in strange]
    strange += [path.name for path in paths if not path.is_file()]
    if strange:
        raise Trouble(f"there is no lesson {strange[0]}: give its number, such as 02")
    for path in dict.fromkeys(paths):
        found = parts(path, chosen.units or _of_the_shop())
        _write(chosen.folder / f"{path.stem}_hand_out.html", hand_out(found, chosen.paper))
        _write(chosen.folder / f"{path.stem}_slides.html", slides(found))
        print(f"{path.stem}: hand-out and slides are in {chosen.folder}")  # noqa: T201
    print("Print the hand-out from a browser. The slides: F11, then Page Down.")  # noqa: T201
    return 0


def _of_the_shop():
    """Return the system of units of the teacher's own shop file, or None."""
    try:
        own = shop.found()
    except InputError as error:
        raise Trouble(str(error)) from None
    return own.units if own else None


def _write(path, text):
    """Write a page; refuse to write over a file that this command has not written."""
    if path.exists() and not bears(path, MARK.format("hand-out")):
        raise Trouble(
            f"{path} is there already, and this command did not write it: choose another --folder"
        )
    path.parent.mkdir(parents=True, exist_ok=True)
    replace_text(path, text)


def hand_out(found, paper):
    """Return the page to hand out: question, cautions, pictures to write to, what to take away.

    found: `Part`s of a lesson. paper: a key of `PAPERS`. No prediction is answered on it, no
    exercise worked, no number printed that a learner is to find.
    """
    title, asked = title_of(found)
    pictures, heading = [], ""
    for sort in ("picture", "panel"):
        for part in found:
            heading = part.heading or heading
            if part.sort == sort and len(pictures) < (PICTURES if sort == "picture" else 2):
                drawn = part.html if sort == "picture" else "".join(_DRAWN.findall(part.html))
                drawn = f'<div class="shown">{drawn}</div>'
                pictures.append(f"<section><h2>{escape(heading)}</h2>{drawn}{NOTES}</section>")
    questions = [_closed(part.html) for part in found if part.sort == "question"]
    kept = {
        sort: "".join(p.html for p in found if p.sort == sort) for sort in ("caution", "take away")
    }
    body = (
        f'<h1>{escape(title)}</h1>{asked}<div class="caution">{kept["caution"]}</div>'
        f'<section class="asked"><h2>What do you expect?</h2>{"".join(questions)}</section>'
        f'{"".join(pictures)}<section class="all"><h2>Take away</h2>{kept["take away"]}</section>'
        f'<p class="local">{RULES_FIRST}</p>'
    )
    return _whole(title, body, f"paper {paper}", PAPERS[paper])


def slides(found):
    """Return the slides: a lesson's questions, answers, pictures and take-away, one on a screen.

    found: `Part`s of a lesson. A text is cut to its first sentences, a list goes on on the next
    slide, and of a panel its verdict and its picture stay: the teacher says the rest.
    """
    title, asked = title_of(found)
    screens, heading, said = [("", f"<h1>{escape(title)}</h1>{asked}")], "", ""
    for part in found[1:]:
        look = part.sort in ("picture", "panel")
        pictured = look and bool(_DRAWN.search(part.html))
        if said and not (pictured and len(_plain(said)) <= BESIDE):
            screens.append(("", _screen(heading, said)))
            said = ""
        heading = part.heading or heading
        if heading in ENDS and part.sort != "take away":
            continue
        if part.sort == "text":
            said = first_sentences(part.html)
            continue
        shown = _seen_from_afar(part.html, heading) if look else _closed(part.html)
        screens += [
            (part.sort, _screen("" if part.sort in LISTS else heading, said, each))
            for each in _pieces(shown)
        ]
        said = ""
    count = len(screens)
    body = "".join(
        f'<section class="slide {sort.replace(" ", "-")}">{each}'
        f"<footer>{number} of {count}</footer></section>\n"
        for number, (sort, each) in enumerate(screens, 1)
    )
    return _whole(title, body, "slides", "297mm 167mm")


def _seen_from_afar(html, heading):
    """Return a picture as it is; of a panel, or of what has a verdict, its verdict and picture."""
    told = re.search(r"<p [^>]*border-left.*?</p>", html, re.DOTALL)
    if not told:
        return html
    title = re.search(r"<div><strong>(.*?)</strong></div>", html)
    named = f"<p><strong>{title[1]}</strong></p>" if title and title[1] != heading else ""
    drawn = _DRAWN.findall(html.replace(told[0], ""))
    return f'<div class="shown verdict">{named}{told[0]}{"".join(drawn[:1])}</div>'


def _pieces(html):
    """Yield a block in pieces for one slide each: its cautions apart, and long lists in parts."""
    for block in re.split(r'(?<!^)(?=<div role="note")', html):
        items = re.findall(r"<li\b.*?</li>", block, re.DOTALL)
        if not items or len(_plain(block)) <= LISTED:
            yield block
            continue
        before, after = block.split(items[0])[0], block.split(items[-1])[-1]
        kept, first = [], 1
        for place, item in enumerate(items, 1):
            if kept and len(_plain("".join([*kept, item]))) > LISTED:
                yield _counted(before, first) + "".join(kept) + after
                kept, first = [], place
            kept.append(item)
        yield _counted(before, first) + "".join(kept) + after


def _counted(opening, first):
    """Return the opening of a list that counts on from another slide."""
    return opening.replace("<ol", f'<ol start="{first}"')


def _plain(html):
    return re.sub(r"<[^>]+>", "", html)


def _screen(heading, said, shown=""):
    """One slide: its heading, what is said, and beside that what is shown."""
    head = f"<h2>{escape(heading)}</h2>" if heading else ""
    words = f"<div>{said}</div>" if said else ""
    return f'{head}<div class="{"two" if said and shown else "one"}">{words}{shown}</div>'


def title_of(found):
    """Return a lesson's title and the paragraphs that ask its question."""
    first = next(part for part in found if part.heading)
    return first.heading, first.html


def first_sentences(html):
    """Return the paragraphs of a text, cut after so many letters at the end of a sentence."""
    kept, room = [], LETTERS
    for paragraph in re.findall(r"<(?:p|ul|ol|div)\b.*?</(?:p|ul|ol|div)>", html, re.DOTALL):
        plain = _plain(paragraph)
        size = len(plain) + LINE * paragraph.count("<li")
        if size <= room or "<math" in paragraph:
            kept.append(paragraph)
            room -= size
            if room > 0:
                continue
            break
        said = "".join(_fitting(plain, room))
        kept += [f"<p>{said.strip()}</p>"] if said else []
        break
    return "".join(kept)


def _fitting(plain, room):
    """Yield whole sentences while there is room; at least one."""
    used = 0
    for sentence in _SENTENCE.findall(plain):
        if used and used + len(sentence) > room:
            return
        used += len(sentence)
        yield sentence


def _closed(html):
    """Leave out what a question folds away: it would be the answer."""
    return re.sub(r"<details.*?</details>", "", html, flags=re.DOTALL)


def _whole(title, body, kind, size):
    return (
        f'<!DOCTYPE html>\n<html lang="en-GB">\n<head>\n<meta charset="utf-8">\n'
        f"{LOCKED}\n{MARK.format('hand-out')}\n"
        '<meta name="viewport" content="width=device-width">\n'
        f"<title>{escape(title)}</title>\n<style>\n@page {{ size: {size}; }}\n"
        f"{STYLE.read_text(encoding='utf-8')}</style>\n</head>\n"
        f'<body class="{kind}">\n<main>{body}</main>\n</body>\n</html>\n'
    )
