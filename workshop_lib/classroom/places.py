"""Where are the files of a class on its machine, and who may see which of them?"""

import os
import stat
from pathlib import Path

from workshop_lib.launcher.trouble import Trouble

USUAL_FOLDER = Path("/srv/sheet-disc-class")
HERE = "127.0.0.1"
OPEN, PASSABLE, PRIVATE = 0o755, 0o711, 0o700


class Places:
    """The folders of a class under one folder that belongs to the machine's administrator.

    workbook: a copy that all read and nobody else writes, with the environment in it. hub: the
    hub's settings, keys and passwords. learners: a home for each, which only that learner enters.
    left: homes of learners who have left.
    """

    def __init__(self, folder=USUAL_FOLDER):
        self.folder = Path(os.path.abspath(folder))
        self.workbook = self.folder / "workbook"
        self.hub = self.folder / "hub"
        self.learners = self.folder / "learners"
        self.left = self.folder / "left"
        self.database = self.hub / "hub.sqlite"
        self.cookies = self.hub / "cookie_secret"
        self.token = self.hub / "token"
        self.highest = self.hub / "highest_number"
        self.unsaid = self.hub / "unsaid"
        self.proxy = self.hub / "proxy.pid"
        self.config = self.hub / "jupyterhub_config.py"
        self.log = self.hub / "hub.log"
        self.lock = self.hub / "lock"

    def home(self, login):
        """Return the home of a learner."""
        return self.learners / login

    def said(self, login):
        """Return where the last server of a learner left its complaints."""
        return self.hub / f"{login}.server"

    def make(self):
        """Make the folders, each with its rights; refuse a place where they would not hold."""
        self.refuse_unsafe()
        rights = {self.folder: OPEN, self.workbook: OPEN, self.learners: PASSABLE}
        for folder, mode in (rights | {self.hub: PRIVATE, self.left: PRIVATE}).items():
            folder.mkdir(exist_ok=True)
            if folder.is_symlink() or folder.stat().st_uid != os.geteuid():
                raise Trouble(f"{folder} does not belong to you: name another folder with --folder")
            folder.chmod(mode)

    def refuse_unsafe(self):
        """Refuse a place that others could exchange, or that the learners could not pass."""
        for parent in self.folder.resolve().parents:
            if not parent.exists():
                raise Trouble(
                    f"there is no folder {parent}: make it, or name another with --folder"
                )
            found = parent.stat()
            shared = found.st_mode & (stat.S_IWGRP | stat.S_IWOTH)
            if found.st_uid not in (0, os.geteuid()) or (shared and not found.st_mode & 0o1000):
                raise Trouble(
                    f"accounts other than root can write in {parent}, so a class would not be safe "
                    "there: name another folder with --folder"
                )
            if not found.st_mode & stat.S_IXOTH:
                raise Trouble(
                    f"the learners' accounts cannot get through {parent}: name another folder with "
                    "--folder"
                )


def write_private(path, text):
    """Write a file that only the administrator reads."""
    with open(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "w") as file:
        file.write(text)
