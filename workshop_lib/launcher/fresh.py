"""How does a new group begin with lessons that show nothing of the last one's? `open --fresh`.

Copies, outputs and answers all go, into a folder that JupyterLab does not show; nothing is deleted.
What the machine has (`my_shop.toml`) stays.
"""

import os
import shutil
from pathlib import Path

from jupyter_server.serverapp import list_running_servers

from workshop_lib.launcher import answers
from workshop_lib.launcher.environment import MY_LESSONS, ROOT, say
from workshop_lib.launcher.trouble import Trouble
from workshop_lib.sources import set_aside

FRESH = "--fresh"
BEFORE = ".earlier_lessons"  # a name that begins with a point is hidden from JupyterLab's readers
STAYS = "my_shop.toml"


def begin_anew(folder=MY_LESSONS):
    """Put a folder of copies and answers away; Trouble when a window still works in it."""
    if any(Path(each.get("root_dir", "")) == ROOT for each in list_running_servers()):
        raise Trouble("the workbook is already open: press Ctrl-C in its window first")
    named = os.environ.get(answers.VARIABLE, "").strip()
    file = Path(named).expanduser().absolute().with_suffix(answers.FILE.suffix)
    if named and file.is_file() and not file.is_relative_to(folder):
        say(f"The earlier answers are kept in {set_aside(file, 'before')}.")
    if not folder.exists():
        return
    kept = folder.parent / BEFORE
    kept.mkdir(mode=0o700, exist_ok=True)
    kept /= str(1 + max([int(p.name) for p in kept.iterdir() if p.name.isdecimal()], default=0))
    folder.rename(kept)
    if (kept / STAYS).is_file():
        folder.mkdir(mode=0o700)
        shutil.copyfile(kept / STAYS, folder / STAYS)
    say(f"The earlier lessons and answers are kept in {kept}.")
