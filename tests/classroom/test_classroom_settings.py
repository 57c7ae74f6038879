"""The hub's configuration: it listens here only, lets only learners in, and keeps them apart."""

import os
from types import SimpleNamespace

import pytest

from workshop_lib.classroom import accounts, command, settings
from workshop_lib.classroom.places import Places
from workshop_lib.classroom.settings import Wish
from workshop_lib.launcher import opening
from workshop_lib.launcher.trouble import Trouble

PLACES = Places("/srv/a 'class'")
PYTHON = PLACES.workbook / ".venv" / "bin" / "python"


class Config(dict):
    """What a hub hands to its configuration file, enough to see what the file sets."""

    def __getattr__(self, name):
        return self.setdefault(name, SimpleNamespace())


def configuration(**wishes):
    """Write a configuration and run it; return what it set."""
    text = settings.text(settings.rows(PLACES, PYTHON, Wish(**wishes)), PLACES)
    config = Config()
    exec(compile(text, "jupyterhub_config.py", "exec"), {"get_config": lambda: config})
    return config


def test_it_listens_on_this_machine_only_unless_asked():
    config = configuration(port=8100)
    assert config.JupyterHub.bind_url == "http://127.0.0.1:8100/"
    assert config.JupyterHub.hub_bind_url == "http://127.0.0.1:8102/"
    assert config.ConfigurableHTTPProxy.api_url == "http://127.0.0.1:8101"
    assert config.Spawner.ip == "127.0.0.1"


def test_on_the_network_only_the_one_door_is_open():
    config = configuration(network=True, certificate="c.pem", key="k.pem")
    assert config.JupyterHub.bind_url == "https://0.0.0.0:8000/"
    assert config.JupyterHub.ssl_cert.endswith("/c.pem")
    assert config.JupyterHub.ssl_key.endswith("/k.pem")
    for own in (config.JupyterHub.hub_bind_url, config.ConfigurableHTTPProxy.api_url):
        assert own.startswith("http://127.0.0.1:")
    assert config.Spawner.ip == "127.0.0.1"


def test_only_the_class_may_sign_in_and_nobody_is_the_hubs_administrator():
    config = configuration()
    assert config.JupyterHub.authenticator_class == "pam"
    assert config.LocalAuthenticator.allowed_groups == {accounts.GROUP}
    assert config.Authenticator.admin_users == set()
    assert not hasattr(config.Authenticator, "allow_all")
    assert config.PAMAuthenticator.service == accounts.SERVICE.name


def test_the_service_asks_for_the_group_before_it_looks_at_a_password():
    lines = [line.split() for line in accounts.SERVICE_TEXT.splitlines() if line[:1] != "#"]
    for kind in ("auth", "account"):
        own = [line for line in lines if line[0] == kind]
        assert (
            own[0][1:] == f"requisite pam_succeed_if.so quiet user ingroup {accounts.GROUP}".split()
        )
        assert own[1][1:] == ["required", "pam_unix.so"]


def test_servers_run_as_their_learners_and_no_learner_opens_one_to_others():
    config = configuration()
    assert config.JupyterHub.spawner_class == "jupyterhub.spawner.LocalProcessSpawner"
    assert config.Spawner.disable_user_config is True
    assert config.Spawner.cmd[:4] == [str(PYTHON), "-I", "-m", "workshop_lib.classroom.seat"]
    assert "--KernelManager.transport=ipc" in config.Spawner.args
    assert "--ServerApp.terminals_enabled=False" in config.Spawner.args
    assert not {"PYTHONPATH", "LD_LIBRARY_PATH"} & set(config.Spawner.env_keep)


def test_a_spawn_for_an_account_that_is_no_learners_is_refused():
    hook = configuration().Spawner.pre_spawn_hook
    for login in ("root", "nobody", "no-such-account"):
        with pytest.raises(Trouble, match="not the account of a learner"):
            hook(SimpleNamespace(user=SimpleNamespace(name=login)))


def test_limits_are_those_that_were_asked_for():
    config = configuration(memory=1500, idle=20)
    assert config.Spawner.cmd[4] == "1500000000"
    (culler,) = config.JupyterHub.services
    assert "--timeout=1200" in culler["command"]
    assert "--MappingKernelManager.cull_idle_timeout=900" in config.Spawner.args
    (role,) = config.JupyterHub.load_roles
    assert role["services"] == [culler["name"]]
    assert "access:servers" not in role["scopes"]  # it may end servers, not look into them


def test_the_kernels_messages_are_sent_as_promptly_as_for_one_learner():
    assert settings.PROMPT == opening.PROMPT


# Wishes that are refused


@pytest.fixture
def pair(tmp_path):
    """A certificate and its key, as files; what is in them does not matter here."""
    for name in ("cert.pem", "key.pem"):
        (tmp_path / name).touch(mode=0o600)
    return {"certificate": str(tmp_path / "cert.pem"), "key": str(tmp_path / "key.pem")}


def test_the_network_needs_a_certificate_or_the_word_that_none_is_wanted(pair):
    with pytest.raises(Trouble, match="everybody could read the passwords"):
        settings.refuse_unsafe(Wish(network=True))
    settings.refuse_unsafe(Wish(network=True, encrypted=False))
    settings.refuse_unsafe(Wish(network=True, **pair))
    settings.refuse_unsafe(Wish())


def test_a_certificate_without_its_key_is_refused(pair):
    for name in pair:
        with pytest.raises(Trouble, match="together"):
            settings.refuse_unsafe(Wish(**{name: pair[name]}))
    with pytest.raises(Trouble, match="there is no file"):
        settings.refuse_unsafe(Wish(**{**pair, "key": "missing.pem"}))


@pytest.mark.skipif(os.name == "nt", reason="rights of files are a POSIX matter")
@pytest.mark.parametrize("mode", [0o640, 0o604])
def test_a_key_that_others_can_read_is_refused(pair, mode):
    os.chmod(pair["key"], mode)
    with pytest.raises(Trouble, match="set its rights to 600"):
        settings.refuse_unsafe(Wish(**pair))


@pytest.mark.parametrize("wish", [{"port": 80}, {"port": 65534}, {"memory": 100}, {"idle": 1}])
def test_a_wish_that_cannot_work_is_refused(wish):
    with pytest.raises(Trouble):
        settings.refuse_unsafe(Wish(**wish))


# The command


def test_start_takes_its_usual_wishes_from_one_place():
    asked = command.parser().parse_args(["start"])
    assert Wish(**{name: getattr(asked, name) for name in Wish._fields}) == Wish()
    assert not Wish().network and Wish().encrypted


def test_without_the_administrators_rights_it_says_what_is_needed(monkeypatch):
    monkeypatch.setattr(accounts.shutil, "which", lambda tool: f"/usr/sbin/{tool}")
    monkeypatch.setattr(accounts.os, "geteuid", lambda: 1000, raising=False)
    with pytest.raises(Trouble, match="start it with sudo"):
        command.main(["show"])
    monkeypatch.setattr(accounts.shutil, "which", lambda tool: None)
    with pytest.raises(Trouble, match="needs Linux"):
        command.main(["show"])
