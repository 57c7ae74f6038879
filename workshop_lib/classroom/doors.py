"""Where do the programs of a class meet? Ports that no learner can take, and sockets."""

import os
import random
import socket
from pathlib import Path

from workshop_lib.classroom.places import HERE, PRIVATE
from workshop_lib.launcher.trouble import Trouble

# Linux lets only the administrator take a port below 1024 (net.ipv4.ip_unprivileged_port_start).
PORTS = range(600, 1024)
RUN = Path("/run")  # where only the administrator may make a folder
FIRST_FREE = Path("/proc/sys/net/ipv4/ip_unprivileged_port_start")


def refuse_open_ports():
    """Refuse a machine on which anybody may take the ports below 1024."""
    if FIRST_FREE.exists() and int(FIRST_FREE.read_text()) < PORTS.stop:
        raise Trouble(
            "on this machine any account may use the ports below 1024, so a learner could pose as "
            "somebody else's server: first type 'sysctl net.ipv4.ip_unprivileged_port_start=1024' "
            "first"
        )


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
        except OSError:
            door.close()
            continue
        door.setblocking(False)
        return door
    raise Trouble(f"no port from {PORTS[100]} to {PORTS[-1]} is free")


def meeting_place(account):
    """Return where the kernels of an account meet their server.

    In memory, and its name is short, since that of a socket may have 107 letters.
    """
    return RUN / f"sheet-disc-class-{account.pw_uid}"


def make_meeting_place(account):
    """Make that folder, for the account alone; return it."""
    folder = meeting_place(account)
    folder.mkdir(mode=PRIVATE, exist_ok=True)
    os.chown(folder, account.pw_uid, account.pw_gid)
    folder.chmod(PRIVATE)
    return folder
