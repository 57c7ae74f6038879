"""How does a lesson look on a projector? Large text and panels, nothing else in the window.

`open --projector` uses settings of its own in a folder that is thrown away at the end. What a
person has set for JupyterLab is neither read nor changed.
"""

import atexit
import json
import os
import shutil
import tempfile
from pathlib import Path

from jupyterlab_server.workspaces_handler import WORKSPACE_EXTENSION, slugify

OPTION = "--projector"
STYLE = Path(__file__).with_name("projector.css")
SETTINGS = {
    "@jupyterlab/apputils-extension/themes": {
        "theme": "JupyterLab Light",  # black on white is what a projector shows best
        "overrides": {
            "code-font-size": "19px",
            "content-font-size1": "22px",
            "ui-font-size1": "16px",
        },
    },
    "@jupyterlab/apputils-extension/notification": {
        "fetchNews": "false",
        "checkForUpdates": False,
    },
    "@jupyterlab/application-extension/shell": {"startMode": "single"},
    "@jupyterlab/notebook-extension/tracker": {"codeCellConfig": {"lineWrap": True}},
    "@jupyterlab/statusbar-extension/plugin": {"visible": False},
    "@jupyterlab/docmanager-extension/plugin": {"defaultViewers": {"markdown": "Markdown Preview"}},
}
LAYOUT = {
    "layout-restorer:data": {
        "left": {"collapsed": True, "widgets": []},
        "right": {"collapsed": True, "widgets": []},
        "relativeSizes": [0, 1, 0],
    }
}


def replaced(arguments):
    """Return the arguments with `--projector`, where it stands, turned into JupyterLab's own."""
    if OPTION not in arguments:
        return list(arguments)
    folder = Path(tempfile.mkdtemp(prefix="workshop-projector-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    write(folder)
    os.environ["JUPYTER_CONFIG_DIR"] = str(folder)  # there the server looks for custom/custom.css
    return [
        *(text for text in arguments if text != OPTION),
        f"--LabApp.user_settings_dir={folder / 'settings'}",
        f"--LabApp.workspaces_dir={folder / 'layout'}",
        "--LabApp.custom_css=True",
    ]


def write(folder):
    """Write style, settings and layout into a folder."""
    files = {f"settings/{name}.jupyterlab-settings": each for name, each in SETTINGS.items()}
    workspace = {"data": LAYOUT, "metadata": {"id": "default"}}
    files[f"layout/{slugify('default')}{WORKSPACE_EXTENSION}"] = workspace
    texts = {name: json.dumps(each) for name, each in files.items()}
    texts["custom/custom.css"] = STYLE.read_text(encoding="utf-8")
    for name, text in texts.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, encoding="utf-8")
