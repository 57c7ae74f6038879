"""The folders of a class: who may enter which, and whose account is whose."""

import contextlib
import os
import shutil
import socket
import stat
import subprocess
import sys
import tempfile
from pathlib import Path
from types import SimpleNamespace

import pytest

from tests.classroom import classroom_stage
from workshop_lib.classroom import accounts, hub
from workshop_lib.classroom import places as module
from workshop_lib.classroom.places import Places, inner_ports, meeting_place, open_door
from workshop_lib.launcher.environment import MY_ADDITIONS
from workshop_lib.launcher.trouble import Trouble

pytestmark = pytest.mark.skipif(os.name == "nt", reason="a class needs Linux")


@pytest.fixture
def passable():
    """A folder that every account can pass; pytest's own can be entered by its owner alone."""
    folder = Path(tempfile.mkdtemp(prefix="class-test-"))
    folder.chmod(0o755)
    yield folder
    shutil.rmtree(folder)


def mode(path):
    return stat.S_IMODE(path.stat().st_mode)


def test_each_folder_has_its_rights_whatever_the_umask(passable):
    places = Places(passable / "class")
    before = os.umask(0o000)
    try:
        places.make()
    finally:
        os.umask(before)
    assert mode(places.hub) == mode(places.left) == 0o700
    assert mode(places.learners) == 0o711  # one can go through, and not look around
    assert mode(places.workbook) == mode(places.folder) == 0o755
    for secret in (places.database, places.config, places.log, places.lock):
        assert secret.parent == places.hub


def test_a_place_that_learners_cannot_pass_is_refused(passable):
    passable.chmod(0o700)
    with pytest.raises(Trouble, match="cannot get through"):
        Places(passable / "class").make()


def test_a_place_where_others_could_exchange_it_is_refused(passable):
    passable.chmod(0o777)
    with pytest.raises(Trouble, match="can write in"):
        Places(passable / "class").make()
    passable.chmod(0o1777)  # as /tmp has it: nobody moves another's folder
    Places(passable / "class").make()


def test_a_link_in_the_folders_place_is_refused(passable):
    places = Places(passable / "class")
    places.folder.mkdir()
    (passable / "elsewhere").mkdir()
    places.hub.symlink_to(passable / "elsewhere")
    with pytest.raises(Trouble, match="does not belong to you"):
        places.make()


def test_a_folder_that_is_not_there_is_asked_for(tmp_path):
    with pytest.raises(Trouble, match="there is no folder"):
        Places(tmp_path / "missing" / "class").refuse_unsafe()


def test_an_account_of_the_machine_is_never_taken_for_a_learners(passable):
    places = Places(passable)
    for login in ("root", "nobody"):
        assert not accounts.belongs(login, places)
        with pytest.raises(Trouble, match="already has an account"):
            accounts.refuse_taken(login, places)
        with pytest.raises(Trouble, match="has no learner"):
            accounts.refuse_unsafe_home(login, places)


def test_a_home_without_an_account_is_given_to_nobody(passable):
    places = Places(passable)
    places.home("no-such-learner").mkdir(parents=True)
    with pytest.raises(Trouble, match="without an account"):
        accounts.refuse_taken("no-such-learner", places)


def test_passwords_differ_and_are_long_enough_not_to_be_guessed():
    many = {accounts.first_password() for _ in range(200)}
    assert len(many) == 200
    letters = accounts.GROUPS * accounts.LETTERS_EACH
    assert {len(password.replace("-", "")) for password in many} == {letters}
    assert len(set(accounts.LETTERS)) ** letters > 2**50
    assert not set("il10o") & set(accounts.LETTERS)


def test_what_a_tool_refuses_is_said_in_its_words():
    with pytest.raises(Trouble, match="system refused .*ls"):
        accounts.tool("ls", "--no-such-option")


def test_nobody_who_is_no_learner_has_all_processes_ended():
    for login in ("root", "nobody"):
        account = SimpleNamespace(pw_name=login, pw_uid=0, pw_gid=0)
        with pytest.raises(Trouble, match="not a learner"):
            accounts.end_all(account)


# Ports and sockets


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid(), reason="only root may take them")
def test_every_learner_has_a_port_that_no_learner_can_take():
    with contextlib.ExitStack() as stack:
        held = [stack.enter_context(open_door()) for _ in range(60)]
        ports = [door.getsockname()[1] for door in held]
        assert len(set(ports)) == 60 and max(ports) < 1024
        assert not set(ports) & {port for each in range(200) for port in inner_ports(each)}
        attempt = "import socket, sys; socket.create_server(('127.0.0.1', int(sys.argv[1])))"
        command = [classroom_stage.python_for_all(), "-I", "-c", attempt, "1000"]
        done = subprocess.run(command, user=65534, capture_output=True, text=True, cwd="/")
        assert done.returncode and "Permission" in done.stderr


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid(), reason="only root tries as another")
def test_a_python_that_learners_cannot_run_or_that_gives_them_low_ports_is_refused(passable):
    hub.refuse_unfit_python(classroom_stage.python_for_all())
    fake = passable / "python"
    for code, mode, words in (
        (0, 0o755, "below 1024"),
        (1, 0o755, "cannot run"),
        (0, 0o700, "run"),
    ):
        fake.write_text(f"#!/bin/sh\nexit {code}\n")
        fake.chmod(mode)
        with pytest.raises(Trouble, match=words):
            hub.refuse_unfit_python(fake)


def test_the_name_of_a_kernels_socket_fits_linux_and_leads_to_the_learners_home(
    passable, monkeypatch
):
    """107 bytes: the length of sun_path in unix(7), less the zero at its end."""
    name = f"kernel-{'x' * 36}-ipc-65535"
    account = SimpleNamespace(pw_uid=2**32 - 1, pw_dir=str(passable / "home"))
    longest = module.RUN / f"sheet-disc-class-{account.pw_uid}" / name
    assert len(str(longest)) <= 107
    monkeypatch.setattr(module, "RUN", passable)
    (passable / f"sheet-disc-class-{account.pw_uid}").mkdir()  # as an earlier edition made it
    for _ in range(2):
        link = meeting_place(account)
        assert link.is_symlink() and link.parent == passable
        assert link.readlink() == passable / "home" / module.SOCKETS


# The copy that all read


def test_the_copy_follows_the_clone_and_all_can_read_it(passable, monkeypatch):
    clone = passable / "clone"
    for part in hub.PARTS:
        path = clone / part
        if "." in part:
            path.write_text(part)
        else:
            (path / "inner").mkdir(parents=True, mode=0o700)
            (path / "inner" / "file.py").write_text("1")
            (path / "inner" / "file.py").chmod(0o600)
            (path / "__pycache__").mkdir()
    (clone / "notebooks" / "my_jobs").mkdir()
    (clone / "notebooks" / "my_jobs" / "cover.toml").write_text("the teacher's own")
    clone_part = clone / "notebooks" / "inner" / "file.py"
    (own := clone / MY_ADDITIONS.name).mkdir()
    (own / "words.csv").write_text("what the teacher added")
    (own / "20_our_lathe.ipynb").write_text("a lesson with its answers")
    monkeypatch.setattr(hub, "ROOT", clone)
    places = Places(passable / "class")
    places.make()
    before = os.umask(0o022)
    try:
        hub.copy_workbook(places)
        clone_part.write_text("2")
        (clone / "notebooks" / "inner" / "gone.py").touch()
        hub.copy_workbook(places)
        added = places.workbook / own.name
        assert [mode(path) for path in sorted(added.iterdir())] == [0o600, 0o644]
        shutil.rmtree(own)
        (clone / "notebooks" / "inner" / "gone.py").unlink()
        hub.copy_workbook(places)
    finally:
        os.umask(before)
    copy = places.workbook / "notebooks" / "inner"
    assert [path.name for path in copy.iterdir()] == ["file.py"]
    assert (copy / "file.py").read_text() == "2"
    assert {mode(path) for path in places.workbook.rglob("*") if path.is_dir()} == {0o755}
    assert {mode(path) for path in places.workbook.rglob("*") if path.is_file()} == {0o644}
    assert not list(places.workbook.rglob("__pycache__"))
    assert not list(places.workbook.rglob("my_*"))


def test_a_taken_port_is_refused_by_its_number():
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        taken = other.getsockname()[1]
        with pytest.raises(Trouble, match=f" uses port {taken}"):
            hub.claim_ports(hub.settings.Wish(port=taken))


def test_what_is_tied_ends_with_its_parent_even_if_that_is_killed():
    tied = [*hub.settings.tied("KILL"), "sleep", "60"]
    code = f"import subprocess, time; print(subprocess.Popen({tied}).pid, flush=True)"
    code += "; time.sleep(60)"
    with subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.PIPE) as parent:
        child = int(parent.stdout.readline())
        shown = Path(f"/proc/{child}/cmdline")
        assert classroom_stage.wait_until(lambda: shown.read_bytes().startswith(b"sleep"), 10)
        parent.kill()
    uid = os.geteuid()
    assert classroom_stage.wait_until(lambda: child not in classroom_stage.processes(uid), 10)


def test_a_disk_that_fills_up_is_told_once_with_the_number_and_the_homes(passable, monkeypatch):
    places, left = Places(passable), iter([3e9, 1.5e9, 1.4e9, 3e9, 0.5e9])
    (places.learners / "asa").mkdir(parents=True)
    (places.learners / "asa" / "large").write_bytes(b"0" * 3_000_000)
    monkeypatch.setattr(hub.shutil, "disk_usage", lambda _: SimpleNamespace(free=next(left)))

    def wait(seconds):
        if left.__length_hint__():
            raise subprocess.TimeoutExpired("hub", seconds)
        return 7

    said = []
    monkeypatch.setattr(hub, "say", said.append)
    assert hub.watch(SimpleNamespace(wait=wait), places) == 7
    assert [line for line in said if "WARNING" in line] == [
        f"WARNING: only {free} GB of the disk is free. The homes, in MB:" for free in (1.5, 0.5)
    ]
    size, home = said[1].split()
    assert size in ("3", "4") and home == str(places.learners / "asa")


def test_a_second_start_of_one_class_is_refused(passable):
    places = Places(passable)
    places.make()
    with hub.taken(places) as first, hub.taken(places) as second:
        assert first is not None and second is None
        with pytest.raises(Trouble, match="already running"):
            hub.run(places, hub.settings.Wish())
