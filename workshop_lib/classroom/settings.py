"""How is the hub set? What the teacher chose, and the configuration that JupyterHub makes of it."""

import contextlib
import shutil
import ssl
import stat
import time
from pathlib import Path
from typing import NamedTuple

from workshop_lib.classroom.accounts import GROUP, SERVICE
from workshop_lib.classroom.places import HERE, PORTS, inner_ports
from workshop_lib.classroom.seat import LESSONS
from workshop_lib.launcher.environment import say
from workshop_lib.launcher.trouble import Trouble

EVERYWHERE = "0.0.0.0"
LONGEST_SERVER = 12 * 3600  # seconds: ends a cell that runs for ever, after any lesson
# As `open` has it; not imported from there, since this runs before JupyterLab is installed.
PROMPT = "workshop_lib.launcher.prompt_socket.PromptConnection"
CONTENTS = "workshop_lib.launcher.served_files.Contents"
IDLE_KERNEL = 0.75  # of the idle time: a forgotten notebook goes before its server
SYSTEMD = Path("/run/systemd/system")  # there while systemd runs the machine
MOST_TASKS = 400  # processes and threads of one learner: some fifteen open notebooks
LARGEST_FILE = 500_000_000  # bytes
SOON = 14  # days: a certificate that ends within them is worth a word


class Wish(NamedTuple):
    """What the teacher chose: where the class listens, and each learner's share."""

    port: int = 8000
    network: bool = False
    domain: str = ""
    certificate: str = ""
    key: str = ""
    encrypted: bool = True
    memory: int = 2000  # MB for each learner, or each program where systemd does not run
    idle: int = 60  # minutes


def refuse_unsafe(wish):
    """Refuse what cannot work, or would send passwords in the clear without having been asked."""
    for wrong, words in faults(wish):
        if wrong:
            raise Trouble(words)
    if wish.certificate:
        names = [wish.domain, f"learner.{wish.domain}"] if wish.domain else [""]
        days = min(days_left(wish.certificate, wish.key, name) for name in names)
        if days <= SOON:
            say(f"The certificate ends in {days} day{'s' * (days != 1)}.")


def faults(wish):
    """Yield for each fault that a wish may have whether it is there, and what to do."""
    right = 1 <= wish.port <= 65535 and wish.port not in PORTS
    yield not right, f"choose a port from 1 to 65535, outside {PORTS[0]} to {PORTS[-1]}"
    yield wish.memory < 500, "give each learner at least 500 MB"
    yield wish.idle < 5, "give a server at least 5 minutes before it counts as idle"
    together = bool(wish.certificate) == bool(wish.key)
    yield not together, "a certificate needs its key: give --certificate and --key together"
    for file in filter(None, [wish.certificate, wish.key]):
        yield not Path(file).is_file(), f"there is no file {file}"
    seen = wish.key and Path(wish.key).stat().st_mode & (stat.S_IRWXG | stat.S_IRWXO)
    yield seen, f"others can read the key {wish.key}: set its rights to 600"
    yield (
        wish.network and wish.encrypted and not wish.certificate,
        "on this network anyone could read the passwords: give --certificate and --key, or add "
        "--unencrypted if you trust the network completely",
    )


def days_left(certificate, key, name):
    """Return how long a certificate holds; refuse one that browsers would not take for a name."""
    try:
        ends = ssl.cert_time_to_seconds(shake_hands(certificate, key, name)["notAfter"])
        return int((ends - time.time()) // 86400)
    except (ssl.SSLError, ValueError) as error:
        reason = (getattr(error, "reason", None) or str(error)).lower().replace("_", " ")
        raise Trouble(
            f"browsers would refuse {certificate} ({getattr(error, 'verify_message', reason)}): it "
            f"must hold today{f' and name {name}' if name else ''}, and {key} be its key without a "
            "password, both as PEM files"
        ) from error


def shake_hands(certificate, key, name=""):
    """Let a client meet a server with this certificate, in memory; return what the client saw.

    The certificate is trusted as it stands: who signed it is the browsers' matter.
    """
    server = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    server.load_cert_chain(certificate, key, password="")
    client = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    client.check_hostname = bool(name)
    client.verify_flags |= ssl.VERIFY_X509_PARTIAL_CHAIN
    client.load_verify_locations(certificate)
    there, back = ssl.MemoryBIO(), ssl.MemoryBIO()
    visitor = client.wrap_bio(back, there, server_hostname=name or None)
    host = server.wrap_bio(there, back, server_side=True)
    for side in (visitor, host, visitor):
        with contextlib.suppress(ssl.SSLWantReadError):
            side.do_handshake()
    return visitor.getpeercert()


def address(wish):
    """Return where learners find the class."""
    scheme = "https" if wish.certificate else "http"
    port = "" if (scheme, wish.port) in (("https", 443), ("http", 80)) else f":{wish.port}"
    return f"{scheme}://{wish.domain or HERE}{port}"


def configure(c, places, python, wish, token):
    """Set JupyterHub's configuration `c`. token: lets the command `class` end a session."""
    hub_port, api_port = inner_ports(wish.port)
    scheme = "https" if wish.certificate else "http"
    hub, proxy = c.JupyterHub, c.ConfigurableHTTPProxy
    hub.bind_url = f"{scheme}://{EVERYWHERE if wish.network else HERE}:{wish.port}/"
    hub.hub_bind_url = f"http://{HERE}:{hub_port}/"
    proxy.api_url = f"http://{HERE}:{api_port}"
    proxy.command = [*tied("KILL"), "configurable-http-proxy"]
    if wish.certificate:
        hub.ssl_cert = str(Path(wish.certificate).resolve())
        hub.ssl_key = str(Path(wish.key).resolve())
    if wish.domain:  # each learner's pages come from a host of their own, as another's never do,
        hub.subdomain_host = address(wish)
        hub.cookie_host_prefix_enabled = bool(wish.certificate)  # and set no cookie for the hub's
    let_in(c)
    give_seats(c, places, python, wish)
    idle = f"--timeout={wish.idle * 60}"
    culler = [str(python), "-m", "jupyterhub_idle_culler", idle, f"--max-age={LONGEST_SERVER}"]
    hub.services = [
        {"name": "culler", "command": [*tied("KILL"), *culler]},
        {"name": "teacher", "api_token": token},
    ]
    ends = ["list:users", "read:users:activity", "read:servers", "delete:servers"]
    hub.load_roles = [
        {"name": "culler", "scopes": ends, "services": ["culler"]},
        {"name": "teacher", "scopes": ["delete:users"], "services": ["teacher"]},
    ]


def tied(signal):
    """Return what sends a program of the same account this signal when its parent ends anyhow."""
    return ["setpriv", "--pdeathsig", signal, "--"]


def let_in(c):
    """Let the class's own accounts in, and nobody as the hub's administrator; end their sessions.

    A browser of a classroom is shared: it forgets a sign-in when it is closed, the hub half a day
    later. Who signs out has no server any more.
    """
    c.JupyterHub.authenticator_class = "workshop_lib.classroom.in_hub.SignIn"
    c.PAMAuthenticator.service = SERVICE.name
    c.LocalAuthenticator.allowed_groups = {GROUP}
    c.Authenticator.admin_users = set()  # nobody reads another's work through the hub
    c.Authenticator.delete_invalid_users = True
    c.JupyterHub.cookie_max_age_days = 0.5
    c.JupyterHub.tornado_settings = {"cookie_options": {"expires_days": None}}
    c.JupyterHub.shutdown_on_logout = True


def give_seats(c, places, python, wish):
    """Set what a learner's server is, and within which limits it runs."""
    seat = ["-I", "-m", "workshop_lib.classroom.seat", str(places.workbook)]
    c.JupyterHub.spawner_class = "workshop_lib.classroom.in_hub.Seat"
    c.Seat.folder = str(places.folder)
    c.Seat.cmd = [*share(wish), *limits(wish.memory), str(python), *seat]
    c.Spawner.args = [
        "--Application.log_level=ERROR",
        "--KernelManager.transport=ipc",  # no ports, where others could listen
        f"--ServerApp.kernel_websocket_connection_class={PROMPT}",
        f"--ServerApp.contents_manager_class={CONTENTS}",
        "--ServerApp.terminals_enabled=False",
        f"--MappingKernelManager.cull_idle_timeout={int(wish.idle * 60 * IDLE_KERNEL)}",
        "--MappingKernelManager.cull_interval=60",
    ]
    c.Spawner.ip = HERE
    c.Spawner.notebook_dir = "~"
    c.Spawner.default_url = f"/lab/tree/{LESSONS}/00_start_here.ipynb"
    c.Spawner.disable_user_config = True  # a learner cannot open the own server to others
    # On many cores the number libraries would else claim buffers for each, thirty times over.
    threads = {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}
    c.Spawner.environment = {"PYTHONNOUSERSITE": "1", **threads}
    c.Spawner.env_keep = ["PATH", "LANG", "VIRTUAL_ENV"]
    c.Spawner.start_timeout = c.Spawner.http_timeout = 300  # thirty at once take their time


def limits(memory):
    """Return what sets the hard limits of each program of a learner. memory: in MB."""
    most = {"data": memory * 1_000_000, "nproc": MOST_TASKS, "fsize": LARGEST_FILE, "core": 0}
    return ["prlimit", *(f"--{kind}={value}" for kind, value in most.items())]


def shares():
    """Return whether this machine can share itself out by learner."""
    return SYSTEMD.is_dir() and shutil.which("systemd-run") is not None


def share(wish):
    """Return what runs a command as a learner for good, in a scope of systemd's where that runs.

    All that the learner starts is in it, and has one share of the processor and the rest.
    """
    # The slice holds all learners, so that the hub has its own half beside them.
    scope = ["systemd-run", "--scope", "--quiet", "--collect", "--slice=sheetdisc.slice"]
    most = [f"MemoryMax={wish.memory}M", "MemorySwapMax=0", f"TasksMax={MOST_TASKS}"]
    scope += [f"--property={limit}" for limit in ("CPUWeight=100", "IOWeight=100", *most)]
    learner = ["--reuid={login}", f"--regid={GROUP}", "--init-groups", "--no-new-privs", "--"]
    return [*(scope if shares() else []), "setpriv", *learner]


def text(places, python, wish, token):
    """Return the configuration file for a wish."""
    return f"""# Rewritten at every start of the class: changes here are lost.
from workshop_lib.classroom.places import Places
from workshop_lib.classroom.settings import Wish, configure

configure(get_config(), Places({str(places.folder)!r}), {str(python)!r}, {wish!r}, {token!r})
"""
