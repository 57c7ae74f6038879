"""JupyterLab started by a test as a person's command starts it, and ended afterwards."""

import contextlib
import os
import re
import socket
import subprocess
import time
import urllib.parse

FOLDERS = ("JUPYTER_CONFIG_DIR", "JUPYTER_DATA_DIR", "JUPYTER_RUNTIME_DIR", "IPYTHONDIR")


@contextlib.contextmanager
def running(command, cwd, settings, **variables):
    """Run a command that serves, with settings of its own in a folder; end it afterwards."""
    process = subprocess.Popen(
        command,
        cwd=cwd,
        env={**os.environ, **{name: str(settings / name) for name in FOLDERS}, **variables},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    try:
        yield process
    finally:
        process.terminate()
        try:
            process.communicate(timeout=60)  # its kernels end first
        except subprocess.TimeoutExpired:  # Jupyter, when a kernel was just being started
            process.kill()
            process.communicate()


def address_told(process):
    """Return the address that JupyterLab tells the person to open."""
    lines = []
    for line in process.stdout:
        lines.append(line)
        told = re.search(r"http://\S+token=\S+", line)
        if told:
            return told[0]
    raise AssertionError("".join(lines))


def wait_until_it_listens(url, seconds=10):
    """Wait for the port: the server tells its address a moment before it listens there."""
    place = urllib.parse.urlsplit(url)
    end = time.monotonic() + seconds
    while True:
        try:
            return socket.create_connection((place.hostname, place.port), timeout=seconds).close()
        except ConnectionRefusedError:
            assert time.monotonic() < end, f"nothing listens at {place.netloc}"
            time.sleep(0.05)
