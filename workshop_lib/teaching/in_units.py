"""How does a lesson or a text speak inch or metric? Run anew, its text told in that system."""

import re

from nbclient import NotebookClient

from workshop_lib.launcher import answers
from workshop_lib.launcher.running_lessons import SECONDS_FOR_A_CELL
from workshop_lib.quantities import spoken

_CODE = re.compile(r"(```.*?```|`[^`]*`|\$\$.*?\$\$|\$[^$]*\$|<!--.*?-->)", re.DOTALL)


def told(text):
    """Return Markdown in the system that is spoken; code, formulas and comments stay."""
    pieces = _CODE.split(text)
    return "".join(each if at % 2 else spoken(each) for at, each in enumerate(pieces))


def run(notebook, folder, units):
    """Run a lesson from top to bottom in a system of units; the file stays as it is."""
    for cell in notebook.cells:
        if cell.cell_type == "code":
            cell.outputs, cell.execution_count = [], None
            if re.search(r"^ready\(\)", cell.source, re.MULTILINE):
                cell.source += f"\nfrom workshop_lib.quantities import speak\n_ = speak({units!r})"
    answers.forget(folder)
    NotebookClient(
        notebook,
        timeout=SECONDS_FOR_A_CELL,
        kernel_name="python3",
        resources={"metadata": {"path": str(folder)}},
        store_widget_state=False,
        coalesce_streams=True,
    ).execute()
