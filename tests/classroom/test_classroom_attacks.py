"""A learner attacks the class: another's account, the machine's peace, and what should have ended.

Two minutes, so it runs on request: as root, with WORKSHOP_CLASS_TEST set (see classroom_stage.py).
The attacks are those that once worked, each against a real class of two on this machine.
"""

import asyncio
import contextlib
import os
import re
import signal
import subprocess
import time
from pathlib import Path

import httpx
import pytest
from playwright.sync_api import sync_playwright

from tests.browser.lab import flags
from tests.classroom import classroom_stage
from tests.classroom.classroom_mischief import HOLD, POSE, STAY_BEHIND, TAKE_ALL, WIPE
from tests.classroom.classroom_stage import ANN, ASKED, BEN, LESSON, tried
from tests.classroom.classroom_visitor import Refused, Visitor
from workshop_lib.classroom import accounts, doors
from workshop_lib.launcher import browser

pytestmark = pytest.mark.skipif(
    not ASKED, reason="attacks a real class: set WORKSHOP_CLASS_TEST=1 and run as root to have it"
)
CARL, GROUPS_NAME = "classtest-carl", "staff"  # a group of that name is there on Debian
FLOOD = 400
WRONG = "wrong-wrong-wrong"
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
    inner = dict(zip(("hub", "api"), doors.inner_ports(opened.stage.port), strict=True))
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
    log, server = opened.stage.places.log, min(classroom_stage.processes(uid_of(ANN)))
    before = log.read_bytes()
    files = tried(opened, ANN, f"server = {server}\n" + WIPE)
    assert str(log) not in files and files  # it has hold of its own server's
    assert log.read_bytes().startswith(before) and b"Nothing happened" not in log.read_bytes()


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


def test_an_add_that_was_broken_off_is_made_good_by_the_next(closed):
    closed.places.unsaid.write_text(CARL)  # as it stands until the passwords are printed
    accounts.add({CARL: "right-right-right"}, closed.places)
    closed.add([CARL])
    assert closed.passwords[CARL] != "right-right-right"
    assert "in the class already" in add_again(closed)
    closed.call("remove", CARL)


def add_again(stage):
    """Add the same list once more; return what is said."""
    listed = stage.places.folder / "again.csv"
    listed.write_text(CARL)
    return stage.call("add", str(listed))


# One address for all, or one for each


@contextlib.contextmanager
def signed_in(chromium, stage, address, login):
    """Sign in with a browser's window of its own; gives its page when JupyterLab is there."""
    window = chromium.new_context()
    page = window.new_page()
    page.goto(f"{address}/hub/login")
    page.fill("#username_input", login)
    page.fill("#password_input", stage.passwords[login])
    page.click("#login_submit")
    page.wait_for_url(re.compile(f"/user/{login}/lab"), timeout=60_000)
    yield page
    window.close()


@contextlib.contextmanager
def posing(login, address):
    """Let a learner's own program take the place of the learner's server; gives what it prints."""
    account = accounts.entry(login)
    server = min(classroom_stage.processes(account.pw_uid))
    options = {"user": account.pw_uid, "group": account.pw_gid, "extra_groups": [], "cwd": "/"}
    command = [classroom_stage.python_for_all(), "-I", "-c", POSE, str(server), address]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, **options) as thief:
        try:
            assert thief.stdout.readline() == "ready\n"
            yield thief.stdout
        finally:
            thief.kill()


@pytest.mark.parametrize("domain", ["", "class.localhost"])
def test_only_a_domain_keeps_a_classmates_page_from_acting_in_ones_name(closed, domain):
    """Without one it can: that is what the page for teachers says, and this shows that it is so."""
    program = browser.find()
    if not program:
        pytest.skip(browser.MISSING)
    address = f"http://{domain or '127.0.0.1'}:{closed.port}"
    own = f"http://{ANN}.{domain}:{closed.port}" if domain else address
    with (
        closed.open(*(["--domain", domain] if domain else [])),
        sync_playwright() as playwright,
        contextlib.closing(
            playwright.chromium.launch(executable_path=program, args=flags())
        ) as chromium,
        signed_in(chromium, closed, address, ANN),
        signed_in(chromium, closed, address, BEN) as page,
        posing(ANN, address) as said,
    ):
        for _ in range(10):  # the proxy may hold a connection to the server that is no more
            if page.goto(f"{own}/user/{ANN}/look").ok:
                break
        told = said.readline()
        assert (BEN in told) == (not domain), told
        if domain:
            assert "TypeError" in told  # the browser gave the page no answer
