"""What runs as the learner when a server starts? Limits, the lessons, then the server itself.

    python -I -m workshop_lib.classroom.seat LIMIT_IN_BYTES WORKBOOK [options of the server]

Its port is in its hands already (see `in_hub`): it opens none.

Python's own isolation (`-I`) keeps a module in the learner's home from taking this one's place. The
limits are hard ones: once set, the learner's programs cannot lift them.
"""

import contextlib
import hashlib
import os
import shutil
import socket
import sys
from pathlib import Path

from workshop_lib.launcher import answers

with contextlib.suppress(ImportError):  # this runs on Linux only, but is read everywhere
    import resource

DOOR = "WORKSHOP_DOOR"  # names the descriptor of the open port that the hub handed over
SHELF, LESSONS = "learner", "lessons"  # what lies ready in the workbook; where it goes in a home
MOST_TASKS = 400  # processes and threads of one learner: some fifteen open notebooks
LARGEST_FILE = 500_000_000  # bytes
FONTS = Path("share", "workshop-fonts")  # in the environment: matplotlib's list of fonts, drawn up


def limits(memory):
    """Return the hard limits of each program of a learner."""
    return {
        resource.RLIMIT_DATA: memory,
        resource.RLIMIT_NPROC: MOST_TASKS,
        resource.RLIMIT_FSIZE: LARGEST_FILE,
        resource.RLIMIT_CORE: 0,
    }


def main(arguments):
    """Prepare the learner's home, then become the learner's server."""
    memory, workbook, *options = arguments
    os.umask(0o077)
    for kind, most in limits(int(memory)).items():
        resource.setrlimit(kind, (most, most))
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
