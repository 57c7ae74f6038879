"""The comparison of lessons is as strict as it claims: tiny cells, each with one thing wrong."""

import subprocess
import sys
import xml.etree.ElementTree as ElementTree

import nbformat
import pytest
from nbformat.v4 import new_code_cell, new_notebook, new_output

from workshop_lib.launcher.environment import ROOT

SHOW = "from IPython.display import HTML, display\n"


def drawing(alt="holds 2.3 times", strokes="M 1 2", caption="margin 2.3"):
    """Return a drawing as the lessons show it, on two lines as pretty markup would be."""
    return (
        f'<figure><svg role="img" aria-label="{alt}">\n<path d="{strokes}"/></svg>'
        f"<figcaption>{caption}</figcaption></figure>"
    )


def shows(html):
    """Return code that shows this HTML."""
    return f"{SHOW}display(HTML({html!r}))"


def stored(html):
    """Return the output that such code stores."""
    text = "<IPython.core.display.HTML object>"
    return new_output("display_data", {"text/html": html, "text/plain": text})


def printed(text):
    """Return what a print stores."""
    return new_output("stream", name="stdout", text=text)


PAIR = drawing() + drawing(alt="holds 1.8 times")
NEST = drawing().replace("<path", '<svg x="1"><path d="{}"/></svg><path')
UNCLOSED = "<svg width='9'><p>holds {} times</p>" + drawing()
# For each notebook: its code, what is stored for it, and whether the comparison must pass.
CASES = {
    "same number": ("print(2.3)", [printed("2.3\n")], True),
    "wrong number": ("print(2.4)", [printed("2.3\n")], False),
    "nothing printed any more": ("pass", [printed("2.3\n")], False),
    "a new line printed": ("print(2.3)", [], False),
    "same drawing": (shows(drawing()), [stored(drawing())], True),
    "other strokes": (shows(drawing(strokes="M 1 3")), [stored(drawing())], True),
    "other alt sentence": (shows(drawing(alt="holds 2.4 times")), [stored(drawing())], False),
    "other alt after a sign": (shows(drawing(alt="2 > 1")), [stored(drawing(alt="2 > 0"))], False),
    "other caption": (shows(drawing(caption="margin 9")), [stored(drawing())], False),
    "second drawing's alt": (shows(PAIR.replace("1.8", "1.9")), [stored(PAIR)], False),
    "strokes of a part": (shows(NEST.format("M 1")), [stored(NEST.format("M 2"))], True),
    "alt around a part": (shows(NEST.replace("2.3 t", "9 t")), [stored(NEST)], False),
    "caption after a part": (shows(NEST.replace("n 2.3", "n 9")), [stored(NEST)], False),
    "text after an open tag": (shows(UNCLOSED.format(1)), [stored(UNCLOSED.format(2))], False),
    "a warning": ("import warnings\nwarnings.warn('careful')\nprint(1)", [printed("1\n")], False),
    "a failed assertion": ("assert 1 == 2\nprint(1)", [printed("1\n")], False),
    "the wrong error": (
        "# NBVAL_RAISES_EXCEPTION\nraise ValueError('b')",
        [new_output("error", ename="ValueError", evalue="a", traceback=[])],
        False,
    ),
    "the stated error": (
        "# NBVAL_RAISES_EXCEPTION\nraise ValueError('a')",
        [new_output("error", ename="ValueError", evalue="a", traceback=[])],
        True,
    ),
}


MODULES = {
    "right.py": ('def right():\n    """\n    >>> 1 + 1\n    2\n    """\n', True),
    "wrong.py": ('def wrong():\n    """\n    >>> 1 + 1\n    3\n    """\n', False),
    "test_warning.py": ("import warnings\ndef test_it():\n    warnings.warn('careful')\n", False),
}


@pytest.fixture(scope="module")
def verdicts(tmp_path_factory):
    """Run every case as a cell of one notebook, then the modules, with the project's settings.

    Returns a list: whether each passed, in order.
    """
    folder = tmp_path_factory.mktemp("frame")
    cells = [new_code_cell(code, execution_count=1, outputs=out) for code, out, _ in CASES.values()]
    nbformat.write(new_notebook(cells=cells), folder / "cases.ipynb")
    for name, (text, _) in MODULES.items():
        (folder / name).write_text(text)
    found = [str(folder / name) for name in ("cases.ipynb", *MODULES)]
    settings = [
        "-c",
        ".pytest.ini",
        f"--junitxml={folder / 'report.xml'}",
        "-p",
        "no:cacheprovider",
    ]
    command = [sys.executable, "-m", "pytest", *settings, *found]
    subprocess.run(command, cwd=ROOT, stdout=subprocess.DEVNULL, stdin=subprocess.DEVNULL)
    tried = ElementTree.parse(folder / "report.xml").getroot().iter("testcase")
    passed = [case.find("failure") is None and case.find("error") is None for case in tried]
    assert len(passed) == len(CASES) + len(MODULES)
    return passed


@pytest.mark.parametrize("case", CASES)
def test_the_comparison_sees_what_changed(verdicts, case):
    assert verdicts[list(CASES).index(case)] == CASES[case][2]


@pytest.mark.parametrize("name", MODULES)
def test_examples_in_docstrings_are_run_and_a_warning_fails_a_test(verdicts, name):
    assert verdicts[len(CASES) + list(MODULES).index(name)] == MODULES[name][1]
