"""How do worksheets and their key print? Each file whole in itself, on A4 or Letter."""

import re
from pathlib import Path

from workshop_lib.drawings import page
from workshop_lib.drawings.markup import Html, escape, rich
from workshop_lib.teaching.exercises import is_formula
from workshop_lib.teaching.worksheets import USUAL

STYLE = Path(__file__).with_name("worksheets.css")
PAPERS = {"a4": "A4", "letter": "letter"}
LINES, FEWER = 4, 3  # to write the working on, with up to four questions and with more
FROM_CHART = "10 %"  # a difference of two thrusts errs more than the reading that it is made from
LOCAL = (
    "Your workshop's rules, the machine's own instructions and a trained instructor come before "
    "anything written here."
)
_NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?")


def sheets_page(drawn, paper, sheets=None):
    """Return the page with all sheets of a set, or with some of them.

    drawn: `WorksheetSet`. paper: a key of `PAPERS`. sheets: `Sheet`s; None: all.
    """
    shown = drawn.sheets if sheets is None else sheets
    body = Html("").join(_sheet(drawn, sheet) for sheet in shown)
    return _whole(f"Worksheets, {drawn.title}", body, paper)


def key_page(drawn, paper, command):
    """Return the page with the key. command: what to type to get the same set again."""
    count = len(drawn.sheets)
    body = [
        f"<h1>Key: {escape(drawn.title)}</h1>",
        f"<p>Set {drawn.code}: {count} sheet{'s' if count > 1 else ''}. For the teacher; the same "
        f"set again: <code>{escape(command)}</code></p>",
        "<p>The number of the sheet and the set stand at its top. An answer is right within what "
        "is given here, in any unit.</p>",
    ]
    for place in range(len(drawn.sheets[0].tasks)):
        body.append(_question_key(drawn, place))
    body.append("<h2>Working, sheet by sheet</h2>")
    body += [_working(sheet) for sheet in drawn.sheets]
    return _whole(f"Key, {drawn.title}", Html("".join(body)), paper)


def _whole(title, body, paper):
    size = f"@page {{ size: {PAPERS[paper]}; }}"
    return (
        '<!DOCTYPE html>\n<html lang="en-GB">\n<head>\n<meta charset="utf-8">\n'
        '<meta http-equiv="Content-Security-Policy" content="default-src \'none\'; '
        "style-src 'unsafe-inline'; img-src data:\">\n"
        '<meta name="viewport" content="width=device-width">\n'
        f"<title>{escape(title)}</title>\n"
        f"<style>\n{size}\n{STYLE.read_text(encoding='utf-8')}</style>\n</head>\n"
        f"<body>\n{body}\n</body>\n</html>\n"
    )


def _sheet(drawn, sheet):
    """One sheet: a table, since browsers repeat the head of a table on every page."""
    cautions = dict.fromkeys(task.caution for task in sheet.tasks if task.caution)
    shown, questions = {}, []
    lines, many = (LINES, "") if len(sheet.tasks) <= USUAL else (FEWER, " many")
    for place, task in enumerate(sheet.tasks, 1):
        questions.append(_question(place, task, shown, lines))
    return Html(
        f'<table class="sheet{many}"><thead><tr><th scope="col"><div class="head">'
        f"<span>{escape(drawn.title)}</span><strong>Sheet {sheet.number}</strong>"
        f"<span>Set {drawn.code}</span></div></th></tr></thead><tbody><tr><td>"
        '<div class="who"><span>Name</span><span>Date</span></div>'
        f"{page.caution(*cautions, LOCAL).html()}{''.join(questions)}</td></tr></tbody></table>\n"
    )


def _question(place, task, shown, lines):
    """One question with what is needed for it; a table or chart that stands already is named."""
    aids = []
    for part in task.aids():
        block = page.as_block(f"Formula: {part}" if is_formula(part) else part)
        html = str(block.html())
        if html not in shown:
            shown[html] = place
            aids.append(html)
        elif not isinstance(part, str):
            aids.append(f'<p class="aid">Use the chart or table of question {shown[html]}.</p>')
    return Html(
        f'<section><p class="question"><b>{place}</b> {rich(task.question)}</p>'
        f'<div class="aids">{"".join(aids)}</div>{_room(task, lines)}</section>'
    )


def _room(task, lines):
    """Room for the working, and a line for the answer in the unit that is asked."""
    line = '<div class="line"></div>'
    if task.options is not None:
        boxes = "".join(f"<p>☐ {rich(words)}</p>" for words in task.options.values())
        return Html(f'<div class="boxes">{boxes}</div>')
    unit = f" in {escape(task.unit)}" if task.unit else " (a plain number)"
    return Html(
        f'<div class="room"><span>Working</span>{line * lines}</div>'
        f'<p class="answer">Answer{unit}: <span></span></p>'
    )


def _question_key(drawn, place):
    """The answers of all sheets to one question, and the answers that tell of a slip."""
    tasks = [sheet.tasks[place] for sheet in drawn.sheets]
    legend = {}
    for task in tasks:
        for _, said in task.common_wrong:
            legend.setdefault(_NUMBER.sub("#", said), said)
    letters = dict(zip(legend, "abcdefghijklmnopqrstuvwxyz", strict=False))
    rows = []
    for sheet, task in zip(drawn.sheets, tasks, strict=True):
        slips = {_NUMBER.sub("#", said): task.words_for(value) for value, said in task.common_wrong}
        rows.append([str(sheet.number), _strong(task.answer_words()),
                     *(slips.get(each, "–") for each in letters)])  # fmt: skip
    listed = "".join(
        f"<p><b>{letter}</b> {rich(legend[each])}</p>" for each, letter in letters.items()
    )
    return (
        f"<section><h2>Question {place + 1}{_of_lesson(drawn, tasks[0])}</h2>"
        f"<p>On sheet 1: {rich(tasks[0].question)} Right within {_allowed(tasks[0])}.</p>"
        f"{_grid(['Sheet', 'Answer', *letters.values()], rows)}"
        f'<div class="legend"><p>What the wrong answers tell (with the numbers of sheet 1):</p>'
        f"{listed}</div></section>"
    )


def _of_lesson(drawn, task):
    """Name a question's lesson where several are mixed."""
    return f", lesson {task.key[1:3]}" if len(drawn.lessons) > 1 else ""


def _allowed(task):
    """Say how close an answer must come; a ruler on a chart reads to some 5 %, no better."""
    within = escape(str(task.within))
    charted = any(hasattr(part, "svg") for part in task.aids())
    return f"{within}; from the chart: allow {FROM_CHART}" if charted else within


def _strong(words):
    return Html(f"<b>{escape(words)}</b>")


def _grid(headings, rows):
    head = "".join(f'<th scope="col">{escape(words)}</th>' for words in headings)
    body = "".join(
        "<tr>" + "".join(f"<td>{escape(cell)}</td>" for cell in row) + "</tr>" for row in rows
    )
    return f'<table class="grid"><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>'


def _working(sheet):
    """The working of one sheet, question by question."""
    parts = []
    for place, task in enumerate(sheet.tasks, 1):
        solution = task.solution
        steps = solution if isinstance(solution, list | tuple) else [solution]
        said = " ".join(str(rich(each)) for each in steps if isinstance(each, str))
        parts.append(f"<p><b>{place}</b> <b>{escape(task.answer_words())}</b>. {said}</p>")
    return f'<section class="working"><h3>Sheet {sheet.number}</h3>{"".join(parts)}</section>'
