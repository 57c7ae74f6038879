"""A real class of two on this machine: they work side by side, and neither reaches the other.

The class itself, and where it is made, is in conftest.py.
"""

import asyncio
import json
import os
import re
import subprocess
from pathlib import Path

import httpx
import pytest

from tests.classroom import classroom_stage
from tests.classroom.classroom_mischief import (
    EAVESDROP,
    GREEDY,
    LISTEN,
    OWN_ADDRESS,
    REACH,
    SHARED,
    TOKEN,
)
from tests.classroom.classroom_stage import ANN, ASKED, BEN, LESSON, free_port, tried
from tests.classroom.classroom_visitor import Visitor
from tests.house.thorough import THOROUGH
from workshop_lib.classroom import accounts
from workshop_lib.classroom.places import inner_ports, meeting_place

pytestmark = pytest.mark.skipif(
    not (ASKED or THOROUGH),
    reason="makes accounts and an environment for all: check --thorough, or WORKSHOP_CLASS_TEST=1",
)
STRANGER = "classtest-none"
PANEL = "Will it slip?"


def test_a_learner_runs_a_whole_lesson_and_moves_its_panel(opened):
    visitor, kernel = opened.rooms[ANN]
    for cell in opened.run(visitor.lesson(LESSON))["cells"]:
        if cell["cell_type"] == "code":
            opened.run(kernel.run(cell["source"]))
    model = next(m for m in kernel.panels if kernel.models[m]["frame"]["title"] == PANEL)
    faces = [opened.run(kernel.set_panel(model, {"thrust": t})) for t in ("600 N", "900 N")]
    assert faces[0]["verdict"] != faces[1]["verdict"]
    assert [face["fields"]["thrust"]["value"] for face in faces] == ["600 N", "900 N"]


def test_answers_lie_in_the_learners_own_home_and_only_there(opened):
    setting = "from workshop_lib.teaching import answer_file; "
    code = setting + "answer_file.current().record('key', {{'text': {!r}}})"
    for login in (ANN, BEN):
        opened.run(opened.rooms[login][1].run(code.format(f"said by {login}")))
    for login, other in ((ANN, BEN), (BEN, ANN)):
        file = opened.stage.places.home(login) / "lessons" / "my_answers.jsonl"
        text = file.read_text()
        assert f"said by {login}" in text and f"said by {other}" not in text
        assert file.stat().st_mode & 0o077 == 0


def server_of(login):
    """Return the number of a learner's server process: the first of the account's."""
    return classroom_stage.processes(accounts.entry(login).pw_uid)[0]


def test_no_learner_reaches_anothers_home_server_or_keys(opened):
    """What Ann can do to herself she cannot do to Ben: all of it, and none of it."""
    opened.run(opened.rooms[ANN][1].run(REACH))
    answers = opened.stage.places.home(BEN) / "lessons" / "my_answers.jsonl"
    assert answers.exists()  # so that a refusal is one, and no missing file
    results = {}
    for login in (ANN, BEN):
        home = opened.stage.places.home(login)
        sockets = meeting_place(accounts.entry(login))
        code = f"print(json.dumps(reach({str(home)!r}, {server_of(login)}, {str(sockets)!r})))"
        results[login] = tried(opened, ANN, code)
    assert set(results[ANN].values()) == {"done"}, results[ANN]
    refusals = {"PermissionError"}
    assert set(results[BEN].values()) == refusals, results[BEN]


def test_a_learner_cannot_look_into_the_hub_nor_change_what_all_share(opened):
    places = opened.stage.places
    facts = f"learners, hub = {str(places.learners)!r}, {str(places.hub)!r}\n"
    facts += f"shared = {str(places.workbook)!r}\n"
    results = tried(opened, ANN, REACH + facts + SHARED)
    assert len(results) > 10
    assert set(results) == {"PermissionError"}, results


def test_a_learners_cookies_open_no_other_server_and_no_list_of_learners(opened):
    visitor = opened.rooms[ANN][0]

    async def ask():
        xsrf = {"X-XSRFToken": visitor.cookie("_xsrf", f"{visitor.own}/")}
        own = await visitor.client.get(f"/user/{ANN}/api/contents/lessons")
        others = [
            await visitor.client.get(f"/user/{BEN}/{path}", headers=xsrf)
            for path in ("api/contents/lessons", "api/sessions", "lab", f"files/{LESSON}")
        ]
        hub_xsrf = {"X-XSRFToken": visitor.cookie("_xsrf", "/hub/")}
        listing = await visitor.client.get("/hub/api/users", headers=hub_xsrf)
        return own, others, listing

    own, others, listing = opened.run(ask())
    assert own.status_code == 200
    assert {answer.status_code for answer in others} <= {403, 404}
    assert listing.status_code == 403


def test_a_learners_token_rules_neither_the_hub_nor_its_proxy(opened):
    hub_port, proxy_port = inner_ports(opened.stage.port)
    facts = f"hub_port, proxy_port, other = {hub_port}, {proxy_port}, {BEN!r}\n"
    *refused, own = tried(opened, ANN, facts + TOKEN)
    assert set(refused) <= {403, 404}
    assert own == 200


def test_no_learner_overhears_anothers_kernel(opened):
    """What a kernel publishes is heard by whoever may connect to its socket."""
    address = tried(opened, BEN, OWN_ADDRESS)
    for login in (ANN, BEN):
        opened.run(opened.rooms[login][1].run(EAVESDROP))
    opened.run(opened.rooms[BEN][1].run(LISTEN.format(address)))
    assert tried(opened, BEN, "print(json.dumps(found))") == [1]  # the address is the right one
    speaking = (
        "import time\nfor n in range(60):\n    print('Ben works', flush=True); time.sleep(0.1)"
    )

    async def both():
        ben = asyncio.create_task(opened.rooms[BEN][1].run(speaking))
        await asyncio.sleep(0.3)
        said = await opened.rooms[ANN][1].run(f"print(json.dumps([control, heard({address!r})]))")
        return json.loads(said), await ben

    (control, overheard), spoken = opened.run(both())
    assert "Ben works" in spoken
    assert control == 1  # open talk is heard by the same means
    assert overheard == 0


def test_a_greedy_program_is_stopped_and_the_learner_goes_on(opened):
    assert tried(opened, ANN, GREEDY) == [True, False]
    assert opened.run(opened.rooms[ANN][1].run("print(6 * 7)")) == "42\n"


def test_nothing_listens_beyond_this_machine(opened):
    assert "on this machine only" in opened.said
    uids = {accounts.entry(login).pw_uid for login in (ANN, BEN)}
    ports = {opened.stage.port, *inner_ports(opened.stage.port)}
    found = set()
    for table in ("/proc/net/tcp", "/proc/net/tcp6"):
        for line in Path(table).read_text().splitlines()[1:]:
            fields = line.split()
            address, port = fields[1].split(":")
            if fields[3] == "0A" and (int(port, 16) in ports or int(fields[7]) in uids):
                found.add(address)
                ports.discard(int(port, 16))
    assert not ports  # all three of the hub's were seen
    assert found == {"0100007F"}  # 127.0.0.1, as Linux writes it on common machines


def test_the_hubs_secrets_are_the_administrators_alone(opened):
    places = opened.stage.places
    assert places.hub.stat().st_mode & 0o777 == 0o700
    files = [path for path in places.hub.rglob("*") if path.is_file()]
    assert {places.database, places.cookies, places.config, places.log} <= set(files)
    for path in files:
        assert path.stat().st_mode & 0o077 == 0, path
    log = places.log.read_text()
    assert not any(password in log for password in opened.stage.passwords.values())


def test_the_culler_does_its_rounds(opened):
    said = re.compile(r"200 GET /hub/api/users\S* \(culler@")
    assert classroom_stage.wait_until(lambda: said.search(opened.stage.places.log.read_text()), 20)


def test_a_wrong_password_and_an_account_outside_the_class_look_the_same(opened):
    accounts.tool("useradd", "--no-create-home", "--shell", accounts.NO_SHELL, STRANGER)
    try:
        accounts.set_passwords({STRANGER: "right-right-right"})

        async def page(login, password):
            async with Visitor(opened.stage.address, login) as visitor:
                entered = await visitor.sign_in(password)
                return entered, visitor.answer.status_code, visitor.answer.text

        right = opened.run(page(STRANGER, "right-right-right"))
        wrong = opened.run(page(STRANGER, "wrong-wrong-wrong"))
    finally:
        accounts.tool("userdel", STRANGER)
    learner = opened.run(page(ANN, "wrong-wrong-wrong"))
    assert (right[0], wrong[0], learner[0]) == (False, False, False)
    assert right[1] == wrong[1] == learner[1] == 403
    error = re.compile(r'class="login_error"[^>]*>\s*(.*?)\s*<', re.DOTALL)
    assert error.search(right[2])[1] == error.search(wrong[2])[1] == error.search(learner[2])[1]


def test_who_is_removed_cannot_come_back_and_the_work_is_kept(opened):
    stage = opened.stage
    visitor = opened.rooms[BEN][0]
    left = stage.places.left / f"{BEN}-{accounts.entry(BEN).pw_uid}"
    stage.call("remove", BEN)
    assert accounts.entry(BEN) is None
    assert (left / "lessons" / "02_the_slip_criterion.ipynb").is_file()
    assert stage.places.left.stat().st_mode & 0o077 == 0
    assert ANN in stage.call("show") and BEN not in stage.call("show")
    again = opened.run(visitor.client.get("/hub/home", follow_redirects=False))
    assert again.status_code == 302  # to the form
    stage.add([BEN])  # somebody else of that name finds an empty home
    assert list(stage.places.home(BEN).iterdir()) == []


def test_a_new_password_takes_the_place_of_the_old_one(opened):
    stage = opened.stage
    new = re.search(r"\S+$", stage.call("password", ANN).strip())[0]

    async def enter(password):
        async with Visitor(stage.address, ANN) as visitor:
            return await visitor.sign_in(password)

    assert opened.run(enter(stage.passwords[ANN])) is False
    assert opened.run(enter(new)) is True
    stage.passwords[ANN] = new


# The class is closed, and opened anew


def test_a_certificate_encrypts_the_way_and_closing_ends_every_process(closed, tmp_path):
    stage = closed
    for name in ("cert.pem", "key.pem"):
        (tmp_path / name).touch(mode=0o600)
    command = ["openssl", "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "2"]
    files = ["-keyout", str(tmp_path / "key.pem"), "-out", str(tmp_path / "cert.pem")]
    subprocess.run([*command, *files, "-subj", "/CN=127.0.0.1"], check=True, capture_output=True)
    port, options = free_port(), ["--certificate", str(tmp_path / "cert.pem")]
    other = classroom_stage.Stage(stage.places.folder, port)
    other.address = f"https://127.0.0.1:{port}"

    async def learn():
        async with Visitor(other.address, ANN) as visitor:
            assert await visitor.sign_in(stage.passwords[ANN])
            await visitor.spawn()
            await visitor.open_lab()
            kernel = await visitor.kernel(LESSON)
            assert await kernel.run("print(6 * 7)") == "42\n"
            await kernel.close()
            return {cookie.name: cookie.secure for cookie in visitor.client.cookies.jar}

    with other.open(*options, "--key", str(tmp_path / "key.pem")) as said:
        assert other.address in said
        with pytest.raises(httpx.HTTPError):
            httpx.get(f"http://127.0.0.1:{port}/hub/login")
        secure = asyncio.run(learn())
        assert secure.pop("_xsrf") is not None  # no sign-in: a form's own token
        assert len(secure) > 1 and all(secure.values()), secure
        assert classroom_stage.processes(accounts.entry(ANN).pw_uid)
    uid = accounts.entry(ANN).pw_uid  # a kernel sees within a second that its server has ended
    assert classroom_stage.wait_until(lambda: not classroom_stage.processes(uid), 10)


def test_answers_are_gathered_and_no_link_or_pipe_leads_the_administrator_elsewhere(closed):
    stage, to = closed, closed.places.folder / "gathered"
    answers = stage.places.home(ANN) / "lessons" / "my_answers.jsonl"
    stage.call("answers", str(to))
    assert (to / f"{ANN}.jsonl").read_bytes() == answers.read_bytes() != b""
    assert (to / f"{BEN}.jsonl").read_text() == ""  # has not begun
    assert to.stat().st_mode & 0o777 == 0o700
    for place in ("/etc", "/root"):  # there already, and not the teacher's own
        if Path(place).stat().st_mode & 0o777 != 0o700:
            with pytest.raises(AssertionError, match="Others can read"):
                stage.call("answers", place)
    secret = stage.places.log
    assert secret.stat().st_size
    for trap, said in ((answers.symlink_to, ""), (lambda _: os.mkfifo(answers), "not to be read")):
        answers.unlink()
        trap(secret)
        stage.call("answers", str(to))
        assert (to / f"{ANN}.jsonl").read_text() == said


def test_a_new_group_of_the_same_names_finds_nothing_of_the_last_one(closed, tmp_path):
    stage, number = closed, accounts.entry(ANN).pw_uid
    listed = tmp_path / "class.csv"
    listed.write_text(ANN)
    said = stage.call("add", "--fresh", str(listed))
    assert list(stage.places.home(ANN).iterdir()) == []
    assert accounts.entry(ANN).pw_uid != number
    assert stage.passwords[ANN] not in said and "1 added" in said
    assert list(stage.places.left.glob(f"{ANN}*/lessons/02*"))
