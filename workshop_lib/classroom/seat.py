"""What runs as the learner when a server starts? The lessons' hand-out, then the server itself.

    python -I -m workshop_lib.classroom.seat WORKBOOK [options of the server]

Its port is in its hands already (see `in_hub`): it opens none. Python's own isolation (`-I`) keeps
a module in the learner's home from taking this one's place.
"""

import hashlib
import os
import shutil
import socket
import sys
from pathlib import Path

from workshop_lib.classroom.places import SOCKETS
from workshop_lib.launcher import answers, resting

DOOR = "WORKSHOP_DOOR"  # names the descriptor of the open port that the hub handed over
SAID = ".server.log"  # in the home: what the server complained of
SHELF, LESSONS = "learner", "lessons"  # what lies ready in the workbook; where it goes in a home
FONTS = Path("share", "workshop-fonts")  # in the environment: matplotlib's list of fonts, drawn up


def main(arguments):
    """Prepare the learner's home, then become the learner's server."""
    workbook, *options = arguments
    os.umask(0o077)
    home = Path.home()
    complain_to(home / SAID)
    # It checks addresses in other alphabets, of which there are none, and loads for a second.
    sys.modules["rfc3987_syntax"] = None
    os.environ["SHELL"] = "/bin/sh"  # the account's own, which is none, would answer to `!ls`
    os.environ[answers.VARIABLE] = str(home / LESSONS / answers.FILE.name)
    try:
        shutil.rmtree(home / SOCKETS, ignore_errors=True)
        (home / SOCKETS).mkdir(exist_ok=True)
        make_ready(home, Path(workbook) / SHELF)
    except OSError as error:  # a full disk must not keep the learner from the work that is there
        print(f"{home.name}: the lessons could not be handed out: {error}", file=sys.stderr)
    os.chdir(home)
    serve(int(os.environ.pop(DOOR)), options)


def complain_to(path):
    """Write from here on into the learner's own file, not into one that the hub has open."""
    try:
        said = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC | os.O_NONBLOCK)
    except OSError:  # a full disk, or something else of the learner's is there
        said = os.open(os.devnull, os.O_WRONLY)
    for stream in (1, 2):
        os.dup2(said, stream)


def serve(door, options):
    """Be the learner's server, at the port that was handed over in place of one of its choice."""
    from jupyter_server.serverapp import ServerApp  # only the class's environment has these two
    from jupyterhub.singleuser import main as single_user

    port = socket.socket(fileno=door)
    port.set_inheritable(False)

    def listen(server):
        port.listen(128)
        server.http_server.add_socket(port)

    ServerApp._find_http_port = lambda server: None
    ServerApp._bind_http_server = listen
    sys.argv[1:] = options
    single_user()


def make_ready(home, shelf):
    """Hand out lessons and the list of fonts, which each learner's kernel would else draw up.

    All of it as the learner, so that no link in a home can lead the administrator's hand elsewhere.
    A start that brings nothing new loads nothing for it: that would take as long as the rest.
    """
    lessons, record, fonts = home / LESSONS, home / ".handed-out", Path(sys.prefix, FONTS)
    files = sorted(path for path in shelf.rglob("*.*") if path.is_file())
    edition = hashlib.sha256(b"\0".join(path.read_bytes() for path in files)).hexdigest()
    there = all((lessons / path.relative_to(shelf)).exists() for path in files)
    if not os.path.lexists(lessons):
        part = home / ".handing-out"
        shutil.rmtree(part, ignore_errors=True)  # of a start that was ended in the middle
        shutil.copytree(shelf, part, copy_function=shutil.copyfile)
        part.rename(lessons)  # a new home gets all of it in one step
        resting.trust(sorted(lessons.glob("*.ipynb")))
    elif not there or not record.is_file() or record.read_text(errors="replace") != edition:
        from workshop_lib.launcher import copies  # only the class's environment has what it needs

        resting.trust(copies.lay_out(lessons, shelf))
    record.write_text(edition)
    if fonts.is_dir():
        shutil.copytree(fonts, home / ".cache" / "matplotlib", dirs_exist_ok=True)


if __name__ == "__main__":
    main(sys.argv[1:])
