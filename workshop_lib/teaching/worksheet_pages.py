"""How do worksheets and their key print? Each file whole in itself, on A4 or Letter."""

import re
from functools import partial
from pathlib import Path

from workshop_lib.drawings import page
from workshop_lib.drawings.markup import LOCKED, Html, escape, rich
from workshop_lib.quantities import spoken
from workshop_lib.slip import RULES_FIRST
from workshop_lib.teaching.exercises import FROM_CHART, is_formula
from workshop_lib.teaching.worksheets import BLANK, USUAL, examples, half_worked

STYLE = Path(__file__).with_name("worksheets.css")
PAPERS = {"a4": "A4", "letter": "letter"}
SIDE = {"a4": 272, "letter": 254}  # mm between the margins
CHART, BESIDE_CHART, BESIDE_LINES = 85, 60, 6
LINES, FEWER = 4, 3  # to write the working on, with up to four questions and with more
GRID_LINES = 48  # of a marking grid with the mistakes' numbers on one page, A4 or Letter
ON_A_LINE = {1: 9, 2: 5, 3: 3, 4: 2, 5: 2}  # so many of those numbers, by how many questions
_NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?")


def sheets_page(drawn, paper, sheets=None):
    """Return the page with all sheets of a set, or with some of them.

    drawn: `WorksheetSet`. paper: a key of `PAPERS`. sheets: `Sheet`s; None: all.
    """
    shown = drawn.sheets if sheets is None else sheets
    with drawn.speaking():
        fitted = [None if drawn.faded else fit(sheet, paper) for sheet in shown]
        body = Html("").join(map(partial(_sheet, drawn), shown, fitted))
    return _whole(f"Worksheets, {drawn.title}", body, paper)


def key_page(drawn, paper, command):
    """Return the page with the key. command: what to type to get the same set again."""
    count = len(drawn.sheets)
    with drawn.speaking():
        return _whole(f"Key, {drawn.title}", Html("".join(_key(drawn, count, command))), paper)


def _key(drawn, count, command):
    """The parts of the key's page."""
    body = [
        f"<h1>Key: {escape(drawn.title)}</h1>",
        f"<p>Set {drawn.code}: {count} sheet{'s' if count > 1 else ''}. For the teacher. To print "
        f"the same set again: <code>{escape(command)}</code></p>",
        "<p>Each sheet has its number and its set at the top. An answer is right within the "
        "tolerance given here, in any unit.</p>",
    ]
    for place in range(len(drawn.sheets[0].tasks)):
        body.append(_question_key(drawn, place))
    body.append("<h2>Working, sheet by sheet</h2>")
    return body + [_working(sheet, drawn.faded) for sheet in drawn.sheets]


def grid_page(drawn, paper):
    """Return the page to mark on: a row for each sheet, in each cell the answer and its mistakes.

    A box to tick for right, one for each listed mistake by the key's letter, and one for another.
    """
    with drawn.speaking():
        places = range(len(drawn.sheets[0].tasks))
        columns = [_letters(drawn, place) for place in places]
        lines = 1 + max(-(-len(each) // ON_A_LINE[len(columns)]) for each in columns)
        roomy = len(drawn.sheets) * lines <= GRID_LINES
        rows = [
            [_owner(sheet), *(_marks(sheet.tasks[at], columns[at], roomy) for at in places)]
            for sheet in drawn.sheets
        ]
    shape = "" if roomy else " narrow"
    heads = ["Sheet", *(_asked(drawn.sheets[0].tasks[at], at) for at in places)]
    body = (
        f"<h1>Marking grid: {escape(drawn.title)}</h1><p>Set {drawn.code}. ✓ right; a, b, c … the "
        "mistake with that letter in the key; ? any other mistake. A dash: on this sheet that "
        "mistake cannot be told from the right answer.</p>"
        f'<div class="marking{shape}">{_grid(heads, rows)}</div>'
        f"{_legends(drawn, columns)}"
    )
    return _whole(f"Marking grid, {drawn.title}", Html(body), paper, "" if roomy else " landscape")


def _asked(task, place):
    return f"{place + 1} {task.key.rpartition('-task-')[2]}"


def _marks(task, letters, roomy):
    """The answer of one sheet to one question, and a box to tick for everything that came out.

    roomy: whether each mistake's number is there, too.
    """
    told = {_pattern(said): task.words_for(value) for value, said in task.mistakes_on_paper()}
    boxes = " ".join(
        f"<span>{letter}{f' {told[each].split()[0]} ' if roomy else ''}☐</span>"
        if each in told
        else f"<span>{letter}–</span>"
        for each, letter in letters.items()
    )
    return Html(f"<b>{escape(task.answer_words())}</b> <span>✓☐</span> <br>{boxes} <span>?☐</span>")


def _legends(drawn, columns):
    """What each letter stands for, in the words of the first sheet, cut to their first sentence."""
    parts = []
    for place, letters in enumerate(columns):
        first = {_pattern(said): said for _, said in drawn.sheets[0].tasks[place].common_wrong}
        words = " ".join(
            f"<b>{letter}</b> {rich(re.split(r'(?<=[.?!]) ', first.get(each, each))[0])}"
            for each, letter in letters.items()
        )
        parts.append(f"<p><b>{place + 1}</b> {words}</p>")
    return f'<div class="legend small">{"".join(parts)}</div>'


def _owner(sheet):
    """The number of a sheet, with its learner's name where there is one."""
    return f"{sheet.number} {sheet.name}".strip()


def _pattern(said):
    """A mistake's sentence without its numbers, the same on all sheets."""
    return _NUMBER.sub("#", said)


def _letters(drawn, place):
    """Return {sentence without its numbers: letter} for the mistakes of one question."""
    told = {}
    for sheet in drawn.sheets:
        for _, said in sheet.tasks[place].mistakes_on_paper():
            told.setdefault(_pattern(said), None)
    order = [_pattern(said) for _, said in drawn.sheets[0].tasks[place].common_wrong]
    kept = sorted(told, key=lambda each: order.index(each) if each in order else len(order))
    return dict(zip(kept, "abcdefghijklmnopqrstuvwxyz", strict=False))


def _whole(title, body, paper, turned=""):
    size = f"@page {{ size: {PAPERS[paper]}{turned}; }}"
    return (
        f'<!DOCTYPE html>\n<html lang="en-GB">\n<head>\n<meta charset="utf-8">\n{LOCKED}\n'
        '<meta name="viewport" content="width=device-width">\n'
        f"<title>{escape(title)}</title>\n"
        f"<style>\n{size}\n{STYLE.read_text(encoding='utf-8')}</style>\n</head>\n"
        f"<body>\n{body}\n</body>\n</html>\n"
    )


def _sheet(drawn, sheet, fitted):
    """One sheet: a table, since browsers repeat the head of a table on every page."""
    shown, questions = {}, []
    lines, beside = fitted or (LINES if len(sheet.tasks) <= USUAL else FEWER, False)
    many = " one-side" if fitted else "" if len(sheet.tasks) <= USUAL else " many"
    for place, task in enumerate(sheet.tasks, 1):
        questions += [_examples(place, task)] if drawn.faded else []
        questions.append(_question(place, task, shown, lines, beside))
    return Html(
        f'<table class="sheet{many}"><thead><tr><th scope="col"><div class="head">'
        f"<span>{escape(drawn.title)}</span><strong>Sheet {sheet.number}</strong>"
        f"<span>Set {drawn.code}</span></div></th></tr></thead><tbody><tr><td>"
        f'<div class="who"><span>Name <b>{escape(sheet.name)}</b></span><span>Date</span></div>'
        f"{page.caution(*_cautions(sheet)).html()}{''.join(questions)}</td></tr></tbody></table>\n"
    )


def _examples(place, task):
    """The same question worked with other numbers, and once more to complete."""
    worked, half = examples(task)
    begun = [half_worked(each, half.answer_words()) for each in _steps(half)]
    boxes = [
        ("Worked", worked, _steps(worked), worked.answer_words()),
        ("Complete it", half, begun, BLANK),
    ]
    return Html("".join(
        f'<section class="example"><p><b>{place} {head}.</b> {rich(each.question)}</p>'
        f"{''.join(f'<p>{rich(step)}</p>' for step in steps)}<p><b>Answer: {escape(end)}</b></p>"
        "</section>"
        for head, each, steps, end in boxes
    ))  # fmt: skip


def _steps(task):
    """The steps of a worked solution that are sentences."""
    steps = task.solution if isinstance(task.solution, list | tuple) else [task.solution]
    return [each for each in steps if isinstance(each, str)]


def fit(sheet, paper):
    """Return (lines to write on, whether the chart stands beside them) with which a sheet should
    print on one side of paper, the roomiest first; None where no way will do.

    The heights are those that the style gives, in mm, measured on printed sheets.
    """
    for lines, beside in ((4, False), (4, True), (3, True), (2, True)):
        fixed = 21 + sum(3.9 * -(-len(each) // 105) for each in _cautions(sheet))
        if fixed + sum(_tall(task, lines, beside) for task in sheet.tasks) <= SIDE[paper]:
            return lines, beside
    return None


def _tall(task, lines, beside):
    """About how tall a question stands, in mm."""
    parts = task.aids()
    texts = [each for each in parts if isinstance(each, str)]
    blocks = [page.as_block(each).text().count("\n") for each in parts if each not in texts]
    room = 2 + 5.5 * len(task.options) if task.options else 6.5 + 7.2 * (lines - 1)
    chart = CHART * task.charted
    if beside and chart:
        room, chart = max(BESIDE_CHART, 6.5 + 7.2 * (BESIDE_LINES - 1) + 8) - 8, 0
    tables = 0 if task.charted else sum(4.4 * (rows + 1) + 3 for rows in blocks)
    asked = 5.3 * -(-len(task.question) // 92) + 1.5
    return asked + sum(5.2 * -(-len(each) // 105) for each in texts) + chart + tables + room + 13


def _cautions(sheet):
    return [*dict.fromkeys(task.caution for task in sheet.tasks if task.caution), RULES_FIRST]


def _question(place, task, shown, lines, beside):
    """One question with what is needed for it; a table or chart that stands already is named.

    beside: whether a chart stands beside the room for the working.
    """
    aids, chart = [], ""
    for part in task.aids():
        block = page.as_block(f"Formula: {part}" if is_formula(part) else part)
        html = str(block.html())
        if html not in shown:
            shown[html] = place
            if beside and hasattr(part, "svg"):
                chart, lines = f'<div class="aids">{html}</div>', BESIDE_LINES
            else:
                aids.append(html)
        elif not isinstance(part, str):
            aids.append(f'<p class="aid">Use the chart or table of question {shown[html]}.</p>')
    return Html(
        f'<section><p class="question"><b>{place}</b> {rich(task.question)}</p>'
        f'<div class="aids">{"".join(aids)}</div>'
        + (f'<div class="beside">{chart}<div>{_room(task, lines)}</div></div>' if chart else "")
        + f"{'' if chart else _room(task, lines)}</section>"
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
    letters = _letters(drawn, place)
    legend = {_pattern(said): said for task in reversed(tasks) for _, said in task.common_wrong}
    rows = []
    for sheet, task in zip(drawn.sheets, tasks, strict=True):
        slips = {_pattern(s): task.words_for(value) for value, s in task.mistakes_on_paper()}
        rows.append([_owner(sheet), _strong(task.answer_words()),
                     *(slips.get(each, "–") for each in letters)])  # fmt: skip
    listed = "".join(
        f"<p><b>{letter}</b> {rich(legend[each])}</p>" for each, letter in letters.items()
    )
    return (
        f"<section><h2>Question {place + 1}{_of_lesson(drawn, tasks[0])}</h2>"
        f"<p>On sheet 1: {rich(tasks[0].question)} Right within {_allowed(tasks[0])}.</p>"
        f"{_grid(['Sheet', 'Answer', *letters.values()], rows)}"
        f'<div class="legend"><p>What the wrong answers show (with the numbers of sheet 1):</p>'
        f"{listed}</div></section>"
    )


def _of_lesson(drawn, task):
    """Name a question's lesson where several are mixed."""
    return f", lesson {task.key[1:3]}" if len(drawn.lessons) > 1 else ""


def _allowed(task):
    """Say how close an answer must come; a ruler on a chart reads to some 5 %, no better."""
    within = escape(spoken(str(task.within).replace(" um", " µm")))
    return f"{within}; from the chart: allow {FROM_CHART}" if task.charted else within


def _strong(words):
    return Html(f"<b>{escape(words)}</b>")


def _grid(headings, rows):
    head = "".join(f'<th scope="col">{escape(words)}</th>' for words in headings)
    body = "".join(
        "<tr>" + "".join(f"<td>{escape(cell)}</td>" for cell in row) + "</tr>" for row in rows
    )
    return f'<table class="grid"><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>'


def _worked(head, task):
    said = " ".join(str(rich(each)) for each in _steps(task))
    return f"<p><b>{head}</b> <b>{escape(task.answer_words())}</b>. {said}</p>"


def _working(sheet, faded):
    """The working of one sheet, question by question."""
    parts = []
    for place, task in enumerate(sheet.tasks, 1):
        parts.append(_worked(place, task))
        parts += [_worked(f"{place} completed", examples(task)[1])] if faded else []
    return (
        f'<section class="working"><h3>Sheet {escape(_owner(sheet))}</h3>{"".join(parts)}</section>'
    )
