"""What becomes of live panels when their Python has ended? They rest as the pictures beside them.

JupyterLab saves a live panel by its number in a kernel. When that kernel was restarted, or on the
next day, a page would say in place of the panel that its model was not found. So the number is left
out of what a page is given, unless the process that made the panel still runs for that notebook;
a button wakes the panel, and another at the top runs the lesson. No file is changed by that.
"""

import re
from html import escape

LIVE = "application/vnd.jupyter.widget-view+json"
ASLEEP = "To use it, run the cells from the top down to this one."  # where no button works
WAKE = "Wake it up"
RESTS = "It is resting: press the button."
RUN = "Run this lesson"
_SMALL = "font-size:.9em"
ELSEWHERE = re.compile(
    f'<p style="{_SMALL}" lang="([a-zA-Z_]+)">[^<]*<!--([^<>|]*)[|]([^<>|]*)--></p>'
)
_LOOK = "font:inherit;padding:.25em 1.1em;margin-right:.5em;cursor:pointer"
_BUTTON = (
    f'<button type="button" style="{_LOOK}" '
    'data-commandlinker-command="notebook:{}">{}</button>'
)
_PANEL = f"{_BUTTON.format('run-cell', WAKE)} {RESTS}"
_CARD = f"{_BUTTON.format('run-all-cells', RUN)} {RESTS}"
OFFER = (
    '<div style="padding:.6em 1em;border:2px solid var(--jp-brand-color1,#0a6ebd);border-radius:8px'
    f'">{_BUTTON.format("run-all-cells", RUN)} Its panels and exercises then answer; a prediction '
    "still comes before its answer. Or go step by step with Shift + Enter.</div>"
)


def asleep(say=str, language=None):
    """Return the line under an element that rests; its button's words stand in it, unseen.

    say: how each of its texts is said. language: its code where it is not English.
    """
    if language is None:
        return f'<p style="{_SMALL}">{ASLEEP}</p>'
    told, *button = (escape(say(each)).replace("|", " ") for each in (ASLEEP, WAKE, RESTS))
    return f'<p style="{_SMALL}" lang="{language}">{told}<!--{"|".join(button)}--></p>'


def quieten(notebook, process=None):
    """Leave out the numbers of live panels, but for those that a process made; tell if any were."""
    found = notebook["metadata"].pop("widgets", None) is not None
    for data in _shown(notebook):
        made_by = data.get(LIVE, {}).get("processes", ())
        if LIVE in data and len(data) > 1 and (process is None or process not in made_by):
            del data[LIVE]  # without another form nothing would be left to show
            found = True
    return found


def wake_up(notebook):
    """Offer to run a notebook, and to wake each element that rests."""
    for data in _shown(notebook):
        if LIVE not in data and ASLEEP in data.get("text/html", ""):
            words = _PANEL if data.get("text/plain", "").startswith("Panel:") else _CARD
            data["text/html"] = data["text/html"].replace(ASLEEP, words)
        elif LIVE not in data and "text/html" in data:
            data["text/html"] = ELSEWHERE.sub(_woken_in, data["text/html"])
    first = next((cell for cell in notebook["cells"] if cell["cell_type"] == "code"), None)
    if first is not None and not any(_is_offer(output) for output in first["outputs"]):
        offer = {"output_type": "display_data", "data": {"text/html": OFFER}, "metadata": {}}
        first["outputs"].insert(0, offer)


def _woken_in(found):
    """Return the button of a panel whose line is in another language than English."""
    button = f"{_BUTTON.format('run-cell', found[2])} {found[3]}"
    return f'<p style="{_SMALL}" lang="{found[1]}">{button}</p>'


def _is_offer(output):
    return output.get("data", {}).get("text/html") == OFFER


def _shown(notebook):
    for cell in notebook["cells"]:
        for output in cell.get("outputs", []):
            yield output.get("data", {})


def drop_empty_end(notebook):
    """Leave out empty cells at the end: Shift + Enter in the last cell adds one each time."""
    cells = notebook["cells"]
    while len(cells) > 1 and not cells[-1]["source"].strip():
        del cells[-1]


def trust(paths):
    """Sign notebooks of the workbook, or JupyterLab hides their stored drawings until they run."""
    if not paths:
        return
    import nbformat  # a start of a class's server that brings nothing new does not wait for it
    from nbformat.sign import NotebookNotary

    notary = NotebookNotary()
    for path in paths:
        try:
            notary.sign(nbformat.read(path, as_version=4))
        except (OSError, ValueError):
            continue  # JupyterLab tells what is wrong with a notebook when it is opened
    notary.store.close()
