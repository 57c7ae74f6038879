"""What runs as the learner when a server starts? Limits, the lessons, then the server itself.

    python -I -m workshop_lib.classroom.seat LIMIT_IN_BYTES WORKBOOK [options of the server]

Its port is in its hands already (see `in_hub`): it opens none.

Python's own isolation (`-I`) keeps a module in the learner's home from taking this one's place. The
limits are hard ones: once set, the learner's programs cannot lift them.
"""

import contextlib
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
    """
    from workshop_lib.launcher import copies  # only the class's environment has what it needs

    new = copies.lay_out(home / LESSONS, shelf)
    if new:
        copies.trust(new)
    cache = home / ".cache" / "matplotlib"
    for fonts in Path(sys.prefix, FONTS).glob("fontlist-*.json"):
        if not (cache / fonts.name).exists():
            cache.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(fonts, cache / fonts.name)


if __name__ == "__main__":
    main(sys.argv[1:])
