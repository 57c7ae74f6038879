"""What becomes of live panels between two days? They rest as the pictures stored with them.

JupyterLab saves a live panel by its number in a kernel. On the next day that kernel is gone, and in
place of the panel a page would say that its model was not found. Without the number JupyterLab
shows the panel as it was stored: its words and its picture.
"""

import nbformat
from jupyter_server.serverapp import list_running_servers
from nbformat.sign import NotebookNotary

from workshop_lib.launcher.copies import BROKEN
from workshop_lib.launcher.environment import ROOT
from workshop_lib.sources import replace_text

LIVE = "application/vnd.jupyter.widget-view+json"


def rest(paths):
    """Take the numbers of kernels that are gone out of notebooks; what was trusted stays so.

    Nothing is touched while a server runs on this workbook, since a page may have them open.
    """
    if any(server.get("root_dir") == str(ROOT) for server in list_running_servers()):
        return
    notary = NotebookNotary()
    for path in paths:
        try:
            notebook = nbformat.read(path, as_version=4)
            trusted = notary.check_signature(notebook)
            if quieten(notebook):
                replace_text(path, nbformat.writes(notebook) + "\n")
                if trusted:
                    notary.sign(notebook)
        except BROKEN:
            continue  # JupyterLab tells what is wrong with a notebook when it is opened
    notary.store.close()


def quieten(notebook):
    """Leave the numbers of live panels out of a notebook; return whether there were any."""
    found = notebook.metadata.pop("widgets", None) is not None
    for cell in notebook.cells:
        for output in cell.get("outputs", []):
            data = output.get("data", {})
            if LIVE in data and len(data) > 1:  # else nothing would be left to show
                del data[LIVE]
                found = True
    return found
