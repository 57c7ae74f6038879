"""How is a class doing? One page to project: votes as bars, exercises, mistakes, who is missing.

overview handed_in 02 --show names
"""

import argparse
import contextlib
import hashlib
import re
import sys
from pathlib import Path

from workshop_lib.drawings import page
from workshop_lib.drawings.drawing import Canvas
from workshop_lib.drawings.markup import LOCKED, escape
from workshop_lib.launcher import class_list
from workshop_lib.launcher.environment import LESSON, own_lessons
from workshop_lib.launcher.trouble import Trouble
from workshop_lib.quantities import InputError
from workshop_lib.sources import bears, replace_text
from workshop_lib.teaching import class_answers, task_list

MARK = '<meta name="made-from" content="class overview">'
# So large that a question is read from six metres off a picture 2.4 m wide, whatever its pixels.
STYLE = """
:root { color-scheme: light; font: calc(.4rem + 2.2vw)/1.35 Arial, "Liberation Sans", sans-serif }
body { margin: .6em 1em; background: #fff; color: #1d232b }
h1, h2, h3 { line-height: 1.2; margin: .6em 0 .3em } h1 { font-size: 1.4em }
h2 { border-top: 2px solid #c3c9d0; padding-top: .5em; font-size: 1.3em } h3 { font-size: 1.15em }
section { break-inside: avoid } summary { cursor: pointer } table { font-size: .6em }
figcaption { font-size: .7em !important }
@media print { :root { font-size: .8rem } }
"""
SHOWN = ("numbers", "names", "none")
MISTAKES = 8  # the commonest ones that are told
WIDE, ROW, THICK = 150.0, 17.0, 4.4  # mm: a picture, the room for one answer, a bar
LEGEND = (
    "✓ right at the first try; ✓ 3 right at the third; ✗ 2 not right yet after two tries; h with "
    "a hint or the worked solution."
)


def main(arguments):
    """Read the answer files of a folder and write the page; return an exit status."""
    asked = _reader().parse_args(arguments)
    if not asked.folder.is_dir():
        raise Trouble(
            f"there is no folder {asked.folder}: make it, and put the learners' answer files in it"
        )
    read = class_answers.read_folder(asked.folder)
    if asked.list:
        read = read._replace(learners=with_expected(read.learners, class_list.read(asked.list)))
    numbers = [f"{int(number):02}" for number in asked.lessons] or begun(read.learners)
    for number in numbers:
        if class_answers.lesson_file(number) is None:
            raise Trouble(f"there is no lesson {number}")
    if another_file(asked.page):
        raise Trouble(
            f"{asked.page} is already another file: give the page another name with --page"
        )
    try:
        text = document(read, numbers, asked.show)
    except InputError as error:  # of what a teacher has added
        raise Trouble(str(error)) from error
    replace_text(asked.page, text)
    count = len(read.learners)
    print(f"{count} learner{'s' * (count != 1)}: open {asked.page} in a browser.")  # noqa: T201
    for file, why in read.remarks:
        print(f"{file!r} {why}.", file=sys.stderr)  # noqa: T201
    return 0


def _reader():
    reader = argparse.ArgumentParser(prog="overview", description="One page on a class's answers.")
    reader.add_argument("folder", type=Path, help="the folder with the learners' answer files")
    which = "such as 02; usually all started"
    lessons = reader.add_argument("lessons", nargs="*", type=_lesson, help=which)
    lessons.required = False  # before Python 3.13, else, a missing folder is told as both missing
    reader.add_argument("--show", choices=SHOWN, default="numbers", help="who is on the page")
    reader.add_argument("--list", type=Path, help="the class list: who is missing?")
    reader.add_argument("--page", type=Path, default=Path("class_overview.html"))
    return reader


def _lesson(text):
    if not re.fullmatch(LESSON, text):
        raise argparse.ArgumentTypeError(f"{text[:20]!r} is not the number of a lesson")
    return text


def another_file(path):
    """Return whether something else than an overview lies where the page would go."""
    return path.exists() and not bears(path, MARK)


def begun(learners):
    """Return the lessons that anybody has started."""
    numbers = [*task_list.lessons(), *(path.name[:2] for path in own_lessons())]
    return [n for n in dict.fromkeys(numbers) if any(each.began(n) for each in learners)]


def with_expected(learners, expected):
    """Add those of a class list from whom there is no file, by name or by the file's name."""
    here = {_plain(text) for each in learners for text in (each.name, _stem(each))}
    missing = [one for one in expected if not {_plain(one.login), _plain(one.name)} & here]
    return learners + [class_answers.Learner(one.name, one.login, {}) for one in missing]


def _plain(text):
    return "".join(filter(str.isalnum, text.casefold()))


def _stem(learner):
    return Path(learner.file).stem


def called(learners, show):
    """Return what each learner is called on the page, by file.

    Numbers follow a scrambled order, so that they do not give the alphabet away.
    """
    if show == "names":
        return {each.file: _named(each) for each in learners}
    if show == "none":
        return dict.fromkeys((each.file for each in learners), "")
    mixed = sorted(learners, key=lambda each: hashlib.sha256(each.file.encode()).digest())
    return {each.file: str(number) for number, each in enumerate(mixed, 1)}


def _named(learner):
    """Return a learner's name, and the file's behind it unless it is the name's own.

    A learner may give any name, also a classmate's; `class answers` names the file by the account.
    """
    stem = _stem(learner)
    with contextlib.suppress(ValueError):
        if not learner.name or class_list.login_from(learner.name) == stem:
            return learner.name or stem
    return f"{learner.name} ({stem})"


def document(read, numbers, show):
    """Return the whole page as HTML. numbers: of lessons. show: one of `SHOWN`."""
    names = called(read.learners, show)
    count = len(read.learners)
    parts = [f"<h1>The class: {count} learner{'s' * (count != 1)}</h1>"]
    parts += [lesson_part(number, read.learners, names) for number in numbers]
    if not numbers:
        parts.append(page.note("Nobody has started yet.").html())
    if read.remarks:
        said = [f"{file}: {why}" for file, why in read.remarks]
        said = said if show == "names" else [f"{len(said)} of the files"]
        parts.append(page.folded("Files left out, or read only in part", said).html())
    return (
        f'<!doctype html>\n<html lang="en-GB">\n<head>\n<meta charset="utf-8">\n{MARK}\n{LOCKED}\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>Class overview</title>\n<style>{STYLE}</style>\n</head>\n<body>\n"
        + "\n".join(map(str, parts))
        + "\n</body>\n</html>\n"
    )


def lesson_part(number, learners, names):
    """Return what there is to say of one lesson."""
    title = f"{number} {task_list.title_of(number)}".strip()
    parts = [f"<h2>{escape(title)}</h2>", _not_begun(number, learners, names)]
    file = class_answers.lesson_file(number)
    for question in class_answers.predictions(file) if file else []:
        given = [vote for each in learners if (vote := class_answers.votes(each, question))]
        if given:
            parts.append(prediction(question, given))
    tried = [each for each in learners if each.began(number)]
    tasks = task_list.tasks_of(number)
    return "".join(
        map(str, [*parts, *exercises(tasks, tried, names, class_answers.sentences(number))])
    )


def _not_begun(number, learners, names):
    missing = sorted((names[e.file] for e in learners if not e.began(number)), key=_in_order)
    if not missing:
        return page.verdict("Everybody has started this lesson.").html()
    who = f": {', '.join(missing)}" if all(missing) else ""
    return page.note(f"Not started: {len(missing)} of {len(learners)}{who}.").html()


def _in_order(name):
    return (not name.isdigit(), int(name) if name.isdigit() else 0, name.casefold())


def prediction(question, given):
    """Return the votes on one prediction as bars, and the answer folded away."""
    rows = class_answers.bars(question, given)
    changed = sum(vote.first != vote.last for vote in given)
    parts = [f"<section><h3>{escape(question.words)}</h3>", picture(rows, len(given), changed)]
    met = [[m for vote in given if (m := vote.met[i]) is not None] for i in (0, 1)]
    if met[0]:
        said = f"{sum(met[0])} of {len(met[0])} first votes were right"
        said += f"; {sum(met[1])} after voting again" if changed else ""
        parts.append(page.folded("How many were right?", f"{said}.").html())
    return "".join(map(str, [*parts, "</section>"]))


def picture(rows, count, changed):
    """Return the bars: first votes full, and, once a vote was changed, the newest ones hatched."""
    told = "; ".join(f"{bar.words}: {bar.first}" for bar in rows)
    alt = f"First votes of {count}: {told}."
    if changed:
        told = "; ".join(f"{bar.words}: {bar.last}" for bar in rows)
        alt += f" After {changed} changed their vote: {told}."
    room = ROW + 0.5 if changed else ROW - THICK
    canvas = Canvas(WIDE, room * len(rows) + 2, alt)
    most = max(max(bar.first, bar.last) for bar in rows) or 1
    for place, bar in enumerate(rows):
        top = room * (len(rows) - place)
        canvas.text((1, top - 3.0), bar.words, "start", "middle", "large")
        counted = [(bar.first, False)] + [(bar.last, True)] * bool(changed)
        for line, (votes, again) in enumerate(counted):
            low, long = top - 6.2 - THICK - line * (THICK + 0.8), (WIDE - 16) * votes / most
            if votes:
                canvas.rect((1, low), long, THICK, "white" if again else "blue", "thin", "blue")
            if votes and again:
                corners = [(1, low), (1 + long, low), (1 + long, low + THICK), (1, low + THICK)]
                canvas.hatch([corners], gap=1.4, colour="blue")
            canvas.text((3 + long, low + THICK / 2), str(votes), "start", "middle", bold=not again)
    after = ", hatched now" if changed else ""
    return canvas.figure(f"{count} votes: solid at first{after}.").html()


def exercises(tasks, learners, names, known):
    """Return learners × exercises, the commonest mistakes, and what each exercise asks.

    known: what the listed mistakes say, by key.
    """
    if not any(class_answers.score(each, task.key) for each in learners for task in tasks):
        return []
    short = [f"{n} {task.key.rpartition('-task-')[2]}" for n, task in enumerate(tasks, 1)]
    totals = [_total([class_answers.score(each, t.key) for each in learners]) for t in tasks]
    rows = [
        [names[each.file], *(_cell(class_answers.score(each, task.key)) for task in tasks)]
        for each in sorted(learners, key=lambda each: _in_order(names[each.file]))
        if names[each.file]
    ]
    found = page.table([*rows, ["Right, of those who tried", *totals]], ["Learner", *short])
    return [
        f"<h3>Exercises</h3>{found.html()}{page.as_block(LEGEND).html() if rows else ''}",
        _mistakes(tasks, short, learners, known),
        page.folded("What the exercises ask", page.steps(*(t.question for t in tasks))).html(),
    ]


def _total(scores):
    tried = [each for each in scores if each]
    return f"{sum(each.right for each in tried)} of {len(tried)}" if tried else ""


def _cell(score):
    """Write a score; a cell that begins with a sign is no number, and stands left."""
    if score is None:
        return ""
    count = f" {score.tries}" if score.tries > 1 or not score.right else ""
    return f"{'✓' if score.right else '✗'}{count}{' h' if score.helped else ''}"


def _mistakes(tasks, short, learners, known):
    made = [
        (count, f"{count} × {name}: {said}")
        for task, name in zip(tasks, short, strict=True)
        for said, count in class_answers.mistakes(learners, task.key, known)
    ]
    made.sort(key=lambda each: -each[0])
    if not made:
        return ""
    said = [words for _, words in made[:MISTAKES]]
    return f"<h3>The commonest mistakes, by number of learners</h3>{page.as_block(said).html()}"
