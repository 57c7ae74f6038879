"""Where are the files, ports and sockets of a class on its machine, and who may reach which?"""

import os
import random
import shutil
import socket
import stat
from pathlib import Path

from workshop_lib.launcher.trouble import Trouble

USUAL_FOLDER = Path("/srv/sheet-disc-class")
HERE = "127.0.0.1"
OPEN, PASSABLE, PRIVATE = 0o755, 0o711, 0o700
PORTS = range(600, 1024)  # Linux lets only the administrator take a port below 1024
RUN = Path("/run")  # where only the administrator may write
SOCKETS = ".sockets"  # in a learner's home


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
        self.database = self.hub / "jupyterhub.sqlite"  # so the hub names it, and the next two
        self.cookies = self.hub / "jupyterhub_cookie_secret"
        self.proxy = self.hub / "jupyterhub-proxy.pid"
        self.token = self.hub / "token"
        self.highest = self.hub / "highest_number"
        self.config = self.hub / "jupyterhub_config.py"
        self.log = self.hub / "hub.log"
        self.lock = self.hub / "lock"

    def home(self, login):
        """Return the home of a learner."""
        return self.learners / login

    def said(self, login):
        """Return what was said when there was no server yet; see `seat` for what it says."""
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
            words = fault_of(parent)
            if words:
                raise Trouble(f"{words} {parent}: name another folder with --folder")


def fault_of(folder):
    """Return what makes a folder one that no class can lie in, or ''."""
    if not folder.exists():
        return "there is no folder"
    found = folder.stat()
    shared = found.st_mode & (stat.S_IWGRP | stat.S_IWOTH) and not found.st_mode & stat.S_ISVTX
    if shared or found.st_uid not in (0, os.geteuid()):
        return "accounts other than root can write in"
    return "" if found.st_mode & stat.S_IXOTH else "the learners' accounts cannot get through"


def write_private(path, text):
    """Write a file that only the administrator reads."""
    with open(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "w") as file:
        file.write(text)


def inner_ports(port):
    """Return the ports of hub and proxy for a class at `port`: always the same ones.

    Servers that outlived a killed hub look for the next one where the last one was.
    """
    first = PORTS.start + 2 * (port % 50)
    return first, first + 1


def open_door():
    """Return a socket bound to a port of a learner's server; not listening yet."""
    for port in random.SystemRandom().sample(PORTS[100:], len(PORTS) - 100):
        door = socket.socket()
        try:
            door.bind((HERE, port))
            door.setblocking(False)
            return door
        except OSError:
            door.close()
    raise Trouble(f"no port from {PORTS[100]} to {PORTS[-1]} is free")


def meeting_place(account):
    """Return the short name of the folder where the kernels of an account meet their server.

    A socket's name may have 107 letters, so it is a link. It leads to the home: what fills the
    folder, which the learner makes (see `seat`), fills nothing that all share.
    """
    link = RUN / f"sheet-disc-class-{account.pw_uid}"
    if not link.is_symlink():
        shutil.rmtree(link, ignore_errors=True)  # an earlier edition made a folder
        link.symlink_to(Path(account.pw_dir, SOCKETS))
    return link
