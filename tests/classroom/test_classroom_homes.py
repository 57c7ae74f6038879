"""The folders of a class: who may enter which, and whose account is whose."""

import os
import shutil
import socket
import stat
import tempfile
from pathlib import Path
from types import SimpleNamespace

import pytest

from workshop_lib.classroom import accounts, hub, spawning
from workshop_lib.classroom.places import Places
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
    with pytest.raises(Trouble, match="cannot pass through"):
        Places(passable / "class").make()


def test_a_place_where_others_could_exchange_it_is_refused(passable):
    passable.chmod(0o777)
    with pytest.raises(Trouble, match="others than root may write"):
        Places(passable / "class").make()
    passable.chmod(0o1777)  # as /tmp has it: nobody moves another's folder
    Places(passable / "class").make()


def test_a_link_in_the_folders_place_is_refused(passable):
    places = Places(passable / "class")
    places.folder.mkdir()
    (passable / "elsewhere").mkdir()
    places.hub.symlink_to(passable / "elsewhere")
    with pytest.raises(Trouble, match="not a folder of yours"):
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
        with pytest.raises(Trouble, match="not the account of a learner"):
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
    with pytest.raises(Trouble, match="the system refused an account: "):
        accounts.tool("ls", "--no-such-option")


# Ports and sockets


def test_a_port_is_given_once_and_never_one_that_linux_gives_out_by_itself():
    given = set()
    for _ in range(300):
        port = spawning.free_port(given)
        assert port not in given and spawning.is_free(port)
        given.add(port)
    range_file = Path("/proc/sys/net/ipv4/ip_local_port_range")
    lowest = int(range_file.read_text().split()[0]) if range_file.exists() else 32768
    assert max(spawning.PORTS) < lowest


def test_a_port_in_use_is_not_given(monkeypatch):
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        taken = other.getsockname()[1]
        assert not spawning.is_free(taken)
    free = spawning.free_port(set())
    monkeypatch.setattr(spawning, "PORTS", range(free, free + 200))
    monkeypatch.setattr(spawning, "is_free", lambda port: port == free)
    assert spawning.free_port(set()) == free
    with pytest.raises(Trouble, match="is free"):
        spawning.free_port({free})


def test_the_name_of_a_kernels_socket_fits_linux():
    """107 bytes: the length of sun_path in unix(7), less the zero at its end."""
    name = f"kernel-{'x' * 36}-ipc-65535"
    assert len(str(spawning.SOCKETS / str(2**32 - 1) / name)) <= 107


def test_a_folder_of_sockets_is_its_learners_alone(passable, monkeypatch):
    monkeypatch.setattr(spawning, "SOCKETS", passable / "sockets")
    account = SimpleNamespace(pw_uid=os.geteuid(), pw_gid=os.getegid())
    folder = spawning.make_socket_folder(account)
    (folder / "left-by-a-kernel").touch()
    folder.chmod(0o777)
    assert spawning.make_socket_folder(account) == folder
    assert mode(folder) == 0o700 and mode(folder.parent) == 0o711
    spawning.remove_socket_folder(account.pw_uid)
    assert not folder.parent.exists()


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
    monkeypatch.setattr(hub, "ROOT", clone)
    places = Places(passable / "class")
    places.make()
    before = os.umask(0o022)
    try:
        hub.copy_workbook(places)
        clone_part.write_text("2")
        (clone / "notebooks" / "inner" / "gone.py").touch()
        hub.copy_workbook(places)
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
        with pytest.raises(Trouble, match=f"something else uses port {taken}"):
            hub.refuse_taken_ports(hub.settings.Wish(port=taken))


def test_a_second_start_of_one_class_is_refused(passable):
    places = Places(passable)
    places.make()
    with hub.taken(places) as first, hub.taken(places) as second:
        assert first is not None and second is None
        with pytest.raises(Trouble, match="running already"):
            hub.run(places, None, hub.settings.Wish())
