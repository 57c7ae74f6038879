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

from workshop_lib.launcher import answers

DOOR = "WORKSHOP_DOOR"  # names the descriptor of the open port that the hub handed over
SHELF, LESSONS = "learner", "lessons"  # what lies ready in the workbook; where it goes in a home
FONTS = Path("share", "workshop-fonts")  # in the environment: matplotlib's list of fonts, drawn up


def main(arguments):
    """Prepare the learner's home, then become the learner's server."""
    workbook, *options = arguments
    os.umask(0o077)
    # It checks addresses in other alphabets, of which there are none, and loads for a second.
    sys.modules["rfc3987_syntax"] = None
    home = Path.home()
    os.environ["SHELL"] = "/bin/sh"  # the account's own, which is none, would answer to `!ls`
    os.environ[answers.VARIABLE] = str(home / LESSONS / answers.FILE.name)
    try:
        make_ready(home, Path(workbook) / SHELF)
    except OSError as error:  # a full disk must not keep the learner from the work that is there
        print(f"{home.name}: the lessons could not be handed out: {error}", file=sys.stderr)
    os.chdir(home)
    serve(int(os.environ.pop(DOOR)), options)


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
    lessons, record = home / LESSONS, home / ".handed-out"
    files = sorted(path for path in shelf.rglob("*.*") if path.is_file())
    edition = hashlib.sha256(b"\0".join(path.read_bytes() for path in files)).hexdigest()
    there = all((lessons / path.relative_to(shelf)).exists() for path in files)
    if not os.path.lexists(lessons):
        trust(first_copies(shelf, home))
    elif not there or not record.is_file() or record.read_text(errors="replace") != edition:
        from workshop_lib.launcher import copies  # only the class's environment has what it needs

        trust(copies.lay_out(lessons, shelf))
    record.write_text(edition)
    cache = home / ".cache" / "matplotlib"
    for fonts in Path(sys.prefix, FONTS).glob("fontlist-*.json"):
        if not (cache / fonts.name).exists():
            cache.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(fonts, cache / fonts.name)


def first_copies(shelf, home):
    """Give a new home all that lies ready, in one step; return the notebooks."""
    part = home / ".handing-out"
    shutil.rmtree(part, ignore_errors=True)  # of a start that was ended in the middle
    shutil.copytree(shelf, part, copy_function=shutil.copyfile)
    part.rename(home / LESSONS)
    return sorted((home / LESSONS).glob("*.ipynb"))


def trust(paths):
    """Sign copies that came from the workbook, or JupyterLab hides their stored drawings."""
    if paths:
        import nbformat  # the server needs both, but not before it answers
        from nbformat.sign import NotebookNotary

        notary = NotebookNotary()
        for path in paths:
            notary.sign(nbformat.read(path, as_version=4))
        notary.store.close()


if __name__ == "__main__":
    main(sys.argv[1:])
