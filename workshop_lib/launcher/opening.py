"""How does JupyterLab open on the lessons? This machine only, behind its token: `open`.

It shows a learner's own copies, which are made and kept up to date here; `--masters` shows the
lessons as they stand in the workbook, run, with the answer below each prediction.
"""

import os
import re
from pathlib import Path
from urllib.parse import quote

import zmq
from jupyter_client.manager import KernelManager
from jupyter_server.serverapp import ServerApp
from jupyterlab.labapp import LabApp

from workshop_lib.launcher import answers, copies, projector, resting
from workshop_lib.launcher.commands import START
from workshop_lib.launcher.environment import (
    LESSON,
    MY_LESSONS,
    ROOT,
    master,
    masters,
    say,
)
from workshop_lib.launcher.fresh import FRESH, begin_anew
from workshop_lib.launcher.trouble import Trouble

MASTERS = "--masters"
ADDRESS = "127.0.0.1"
SHORTEST_TOKEN = 16
PROMPT = "workshop_lib.launcher.prompt_socket.PromptConnection"
CONTENTS = "workshop_lib.launcher.served_files.Contents"
PRIVATE = "the workbook listens on this machine only: leave out --ip and --sock"
LAST_PORT = 65_535


def main(arguments):
    """Open JupyterLab; what is not the name of a lesson goes to it as it stands."""
    if not os.path.isdir(os.path.expanduser("~")):
        raise Trouble("set the variable HOME to a folder: Jupyter keeps its settings there")
    lesson, options = choose_lesson(projector.replaced(arguments))
    refuse_unknown(options)
    answers.keep()
    server = LabApp.initialize_server(argv=[*own_options(lesson, is_administrator()), *options])
    refuse_unless_private(server)
    say("Keep this window open while you work. To stop, press Ctrl-C in it and answer y.")
    server.start()
    return 0


def choose_lesson(arguments):
    """Return the notebook to show and the arguments that are left.

    A notebook is named by its path, a lesson by its two digits; else the first lesson is shown.
    """
    named = [text for text in arguments if is_lesson(text)]
    options = [text for text in arguments if text not in [*named, MASTERS, FRESH]]
    if len(named) > 1:
        raise Trouble(f"open takes one lesson at a time: {' or '.join(named)}")
    if FRESH in arguments:
        refuse_unknown(options)
        begin_anew()
    resting.trust(masters())
    if named and named[0].endswith(".ipynb"):
        lesson = Path(named[0]).resolve()
        if not lesson.is_file() or not lesson.is_relative_to(ROOT):
            raise Trouble(f"this workbook has no notebook {named[0]}")
        return lesson, options
    lesson = master(named[0] if named else "00")
    folder = lesson.parent if MASTERS in arguments else own_folder()
    return folder / lesson.name, options


def is_lesson(text):
    """Return whether an argument names a notebook, or a lesson by its two digits."""
    return bool(re.fullmatch(rf"[^-].*\.ipynb|{LESSON}", text))


def own_folder():
    """Lay out the learner's own copies and return their folder, or the masters' if that fails."""
    try:
        new = copies.lay_out(MY_LESSONS)
    except OSError as error:
        say(f"Your own copies of the lessons cannot be written ({error}): these are the masters.")
        return masters()[0].parent
    resting.trust(new)
    for path in new:
        if copies.NEWER in path.stem:
            say(f"A newer edition of a lesson is saved alongside yours: {path.name}")
    return MY_LESSONS


def own_options(lesson, administrator):
    """Return the options that make JupyterLab the workbook's: place, privacy, first page."""
    shown = lesson.relative_to(ROOT).as_posix()
    options = [
        f"--ServerApp.ip={ADDRESS}",
        f"--ServerApp.root_dir={ROOT}",
        f"--LabApp.default_url=/lab/tree/{quote(shown)}",
        "--Application.log_level=ERROR",
        f"--ServerApp.kernel_websocket_connection_class={PROMPT}",
        f"--ServerApp.contents_manager_class={CONTENTS}",
    ]
    if KernelManager.class_traits().get("transport_encryption") and zmq.has("curve"):
        options.append("--KernelManager.transport_encryption=auto")
    if administrator:
        say("You are root, which JupyterLab refuses unless told otherwise: adding --allow-root.")
        options.append("--allow-root")
    return options


def is_administrator():
    """Return whether this process has all rights on a POSIX machine."""
    return hasattr(os, "geteuid") and os.geteuid() == 0


def refuse_unknown(options):
    """Stop at an option that JupyterLab would pass over without a word."""
    flags = {*LabApp.flags, *ServerApp().flags}
    aliases = {*LabApp.aliases, *ServerApp().aliases}
    settings = {each.__name__: each for each in (LabApp, *ServerApp.classes, ServerApp)}
    waiting = False  # whether the option before waits for its value
    for text in options:
        name, given, _ = text.lstrip("-").partition("=")
        if not text.startswith("-"):
            if not waiting:
                raise Trouble(f"{text} is neither a lesson nor an option")
            waiting = False
            continue
        waiting = name not in flags and not given
        owner, point, trait = name.partition(".")
        if (trait or owner) in ("ip", "sock"):  # else Jupyter complains of a second value
            raise Trouble(PRIVATE)
        known = not point or owner not in settings or trait in settings[owner].class_trait_names()
        if not known or not point and name not in flags | aliases:
            raise Trouble(f"there is no option {text}: {START} open --help names some")


def refuse_unless_private(server):
    """Stop before the first request when any setting opened the server to others."""
    if server.ip != ADDRESS or server.sock:
        raise Trouble(PRIVATE)
    if not 0 <= server.port <= LAST_PORT:  # Jupyter would tell an address where nothing answers
        raise Trouble(f"there is no port {server.port}: name one from 1024 to {LAST_PORT}")
    if not server.identity_provider.auth_enabled:
        raise Trouble(
            "a Jupyter setting on this machine turns the access token off, and the workbook "
            "does not start without one: remove that setting"
        )
    token = getattr(server.identity_provider, "token", "")
    if token and len(token) < SHORTEST_TOKEN:
        raise Trouble(
            f"the access token has only {len(token)} letters, so others could guess it: remove "
            "JUPYTER_TOKEN and any such setting, and each start makes a long one"
        )
