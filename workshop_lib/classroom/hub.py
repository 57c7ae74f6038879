"""How is the hub of a class set up and run? Its environment, its copy of the workbook, its run."""

import contextlib
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

from workshop_lib.classroom import accounts, doors, settings
from workshop_lib.classroom.places import HERE, PRIVATE, write_private
from workshop_lib.classroom.seat import SHELF
from workshop_lib.launcher import lock
from workshop_lib.launcher.environment import CLASS, MY_ADDITIONS, ROOT, Environment, remove, say
from workshop_lib.launcher.trouble import Trouble, from_pip

PROXY = "configurable-http-proxy@>=5.1 <6"  # the hub's own proxy, from npm
PARTS = ("workshop_lib", "notebooks", "figures", "requirements.txt", "README.md")
# The command `learner-copies`, in the environment.
COPY = "import sys; from workshop_lib.launcher.copies import main; sys.exit(main(sys.argv[1:]))"
ANYBODY = 65534  # the account and group "nobody"
OPEN = "JupyterHub is now running at"  # in its log
START_SECONDS = 60
STOP_SECONDS = 90  # a learner's server may take its time to end
FULL = 2_000_000_000  # bytes: less free space than this is worth a word
LOOK_SECONDS = 30  # between two looks at the free space


class ClassEnvironment(Environment):
    """The environment of a class, in the copy of the workbook; read by all, written by none."""

    proof = f"{Environment.proof}, jupyterhub, jupyterhub_idle_culler"

    def fingerprint(self, needs):
        """Return the requirements' fingerprint, and the proxy's, which they cannot name."""
        return super().fingerprint(needs) + PROXY

    def variables(self):
        """Return the environment's variables; fonts are listed where learners can copy them."""
        fonts = str(self.folder / "share" / "workshop-fonts")
        return {**super().variables(), "MPLCONFIGDIR": fonts}

    def _quieten(self):
        """Do what follows the packages: the quiet settings, and the proxy from npm."""
        super()._quieten()
        program = settings.node(self.python)
        script = program.parents[1] / "lib" / "node_modules" / "npm" / "bin" / "npm-cli.js"
        options = ["--global", f"--prefix={self.folder}", f"--cache={self.folder / 'npm-cache'}"]
        options += ["--no-fund", "--no-audit", "--ignore-scripts"]
        status, output = self._run([program, script, "install", *options, PROXY], "Fetching a part")
        if status or not settings.proxy_script(self.python).exists():
            raise from_pip(output, self.folder)
        remove(self.folder / "npm-cache")


def prepare(places):
    """Make the folders, the copy of the workbook and the environment; return the environment."""
    os.umask(0o022)
    places.make()
    refuse_private_python(sys._base_executable)
    environment = ClassEnvironment(places.workbook)
    with taken(places) as free:
        if free:
            copy_workbook(places)
            environment.make_ready(CLASS)
            lay_out(places, environment)
    if not environment.is_ready(CLASS):
        raise Trouble("the class's environment is incomplete: stop the class and start it again")
    return environment


def refuse_private_python(python):
    """Refuse a Python that lies in somebody's own folder, where no learner could run it."""
    nobody = {"user": ANYBODY, "group": ANYBODY, "extra_groups": [], "cwd": "/"}
    try:
        subprocess.run([python, "-I", "-c", ""], check=True, **nobody)
    except (OSError, subprocess.CalledProcessError):
        raise Trouble(
            f"the learners' accounts cannot run {python}: use the system's own Python, as in "
            "'sudo /usr/bin/python3 -m workshop_lib class …'"
        ) from None


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
    added = [MY_ADDITIONS.name] if (ROOT / MY_ADDITIONS.name).is_dir() else []
    for part in (*PARTS, *added):
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
    own_python(environment, "-m", "compileall", "-q", str(places.workbook / "workshop_lib"))
    own_python(environment, "-c", COPY, "--folder", str(shelf))
    (places.workbook / "notebooks").chmod(PRIVATE)  # the masters, and the notes for teachers


def own_python(environment, *arguments):
    """Run the environment's Python, apart from every setting of the person who started this."""
    done = subprocess.run(
        [environment.python, "-I", *arguments], capture_output=True, text=True, cwd="/"
    )
    if done.returncode:
        last = (done.stderr or done.stdout).strip().splitlines()[-1:] or ["no reason given"]
        raise Trouble(f"the class could not be made ready: {last[0]}")


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


def run(places, environment, wish):
    """Run the hub until it is told to stop; return an exit status.

    A run that ended well leaves no sign-in behind. After one that was killed, the hub takes up its
    servers where they are.
    """
    with taken(places) as descriptor:
        if descriptor is None:
            raise Trouble("this class is already running: press Ctrl-C in its window to stop it")
        doors.refuse_open_ports()
        refuse_taken_ports(wish)
        places.proxy.unlink(missing_ok=True)  # the hub would end whatever has that number by now
        token = secrets.token_hex(32)
        write_private(places.token, f"{doors.inner_ports(wish.port)[0]} {token}")
        write_private(places.config, settings.text(places, environment.python, wish, token))
        process = launch(places, environment, descriptor)
        for kind in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
            signal.signal(kind, lambda *_: process.terminate())  # it ends the learners' servers
        wait_until_open(process, places)
        tell(places, wish)
        status = watch(process, places)
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


def refuse_taken_ports(wish):
    """Refuse a port that something else listens at."""
    inner = doors.inner_ports(wish.port)
    for port in (wish.port, *inner):
        with socket.socket() as trial:
            trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                trial.bind((HERE, port))
            except OSError as error:
                raise Trouble(
                    f"something else uses port {port} (a class at {wish.port} takes {inner[0]} and "
                    f"{inner[1]} as well): choose another with --port"
                ) from error


def launch(places, environment, descriptor):
    """Start the hub with its output in its log; it inherits the lock, and ends when we do."""
    import resource  # on Linux only

    # Few open files are allowed usually, and one learner's idle connections would take them all.
    most = resource.getrlimit(resource.RLIMIT_NOFILE)[1]
    resource.setrlimit(resource.RLIMIT_NOFILE, (most, most))
    if places.log.exists():
        places.log.rename(places.log.with_suffix(".log.1"))
    variables = {name: os.environ[name] for name in ("LANG", "HOME") if name in os.environ}
    variables["PATH"] = os.pathsep.join([str(environment.bin), os.defpath])
    variables["VIRTUAL_ENV"] = str(environment.folder)
    write_private(places.log, "")
    # Started in the background, this process would hand on that Ctrl-C is ignored; but the hub ends
    # its servers by that very signal, and waits half a minute for each that does not listen.
    signal.signal(signal.SIGINT, signal.default_int_handler)
    with open(places.log, "ab") as log:
        command = [environment.python, "-I", "-m", "jupyterhub", "-f", str(places.config)]
        streams = {"stdin": subprocess.DEVNULL, "stdout": log, "stderr": log}
        apart = {"start_new_session": True, "umask": 0o077, "pass_fds": (descriptor,)}
        options = {"cwd": places.hub, "env": variables, **streams, **apart}
        return subprocess.Popen([*settings.tied("TERM"), *command], **options)


def wait_until_open(process, places):
    """Wait until the hub's log says that it is open; else report the log's last words."""
    deadline = time.monotonic() + START_SECONDS
    while process.poll() is None and time.monotonic() < deadline:
        if OPEN in places.log.read_text(errors="replace"):
            return
        time.sleep(0.2)
    last = places.log.read_text(errors="replace").strip().splitlines()[-1:] or ["nothing"]
    raise Trouble(
        f"the hub did not start; its last message was: {last[0]} (the whole log: {places.log})"
    )


def tell(places, wish):
    """Say where the class is, who can reach it, what it does not guard, and how to end it."""
    if wish.network:
        named = settings.address(wish._replace(domain=wish.domain or socket.gethostname()))
        say(f"The class is open to the network: {named}/")
        if not wish.certificate:
            say(
                "WARNING: nothing is encrypted. Everybody on this network can read the passwords\n"
                "WARNING: and all work. Use it only where you trust every device on the network."
            )
    else:
        say(f"The class is open on this machine only: {settings.address(wish)}/")
    if not settings.shares():
        say(
            "There is no systemd here to share the machine out: one learner can slow down all, and "
            f"{wish.memory} MB is the limit of each program, not of each learner."
        )
    if not wish.domain:
        say("All learners share one address (see --domain): let no one open a classmate's links.")
    say(f"The learners' work lies in {places.learners}. Nothing limits how much disk one may fill.")
    say("Keep this window open; to end the class, press Ctrl-C in it.")
