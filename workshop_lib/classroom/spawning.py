"""What the hub does before it starts a learner's server: a last look, a port, a place for sockets.

Left to themselves, a hub and its kernels look for free ports and take them seconds later. When
thirty start at once, one port is then given away twice every few times, and that learner waits for
ever. So a server's port comes from a range that Linux gives to nobody by itself, each one once; and
kernels talk through sockets in a folder that only their learner enters, which need no port.
"""

import os
import random
import shutil
import socket
from pathlib import Path

from workshop_lib.classroom import accounts
from workshop_lib.classroom.places import PASSABLE, PRIVATE
from workshop_lib.launcher.trouble import Trouble

# Linux gives out ports from 32768 on (net.ipv4.ip_local_port_range); well below it none is in use
# but by programs that ask for one by number.
PORTS = range(20000, 32000)
# Short, since the name of a socket may have 107 letters; and it lies in memory, as sockets should.
SOCKETS = Path("/run", accounts.GROUP)
_given = {}  # port by login name: a server takes it only seconds after it was told of it


def prepare(spawner, places):
    """Make a learner's server ready to start, or refuse it."""
    login = spawner.user.name
    accounts.refuse_unsafe_home(login, places)
    spawner.port = _given[login] = free_port({port for own, port in _given.items() if own != login})
    folder = make_socket_folder(accounts.entry(login))
    spawner.environment = {**spawner.environment, "JUPYTER_RUNTIME_DIR": str(folder)}


def free_port(given):
    """Return a port that is neither given away nor in use; nobody can tell beforehand which."""
    for port in random.SystemRandom().sample(PORTS, 200):
        if port not in given and is_free(port):
            return port
    raise Trouble(f"no port from {PORTS.start} to {PORTS.stop - 1} is free")


def is_free(port):
    """Return whether nobody listens at a port of this machine."""
    with socket.socket() as trial:
        try:
            trial.bind(("127.0.0.1", port))
        except OSError:
            return False
    return True


def make_socket_folder(account):
    """Make the folder in which the kernels of an account meet their server; return it."""
    SOCKETS.mkdir(mode=PASSABLE, exist_ok=True)
    SOCKETS.chmod(PASSABLE)
    folder = SOCKETS / str(account.pw_uid)
    folder.mkdir(mode=PRIVATE, exist_ok=True)
    os.chown(folder, account.pw_uid, account.pw_gid)
    folder.chmod(PRIVATE)
    return folder


def remove_socket_folder(uid):
    """Take the folder of an account away, and with the last one what held them."""
    shutil.rmtree(SOCKETS / str(uid), ignore_errors=True)
    if SOCKETS.is_dir() and not any(SOCKETS.iterdir()):
        SOCKETS.rmdir()
