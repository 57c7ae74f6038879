"""The hub's configuration: it listens here only, lets only learners in, and keeps them apart."""

import os
import re
import shutil
import subprocess
from pathlib import Path
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
    text = settings.text(PLACES, PYTHON, Wish(**wishes), "secret")
    config = Config()
    exec(compile(text, "jupyterhub_config.py", "exec"), {"get_config": lambda: config})
    return config


def test_it_listens_on_this_machine_only_unless_asked():
    config = configuration(port=8100)
    assert config.JupyterHub.bind_url == "http://127.0.0.1:8100/"
    for own in (config.JupyterHub.hub_bind_url, config.ConfigurableHTTPProxy.api_url):
        assert re.match(r"http://127\.0\.0\.1:[67]\d\d\b", own)  # where no learner can listen
    assert config.JupyterHub.hub_bind_url.rstrip("/") != config.ConfigurableHTTPProxy.api_url
    assert config.Spawner.ip == "127.0.0.1"


def test_with_a_domain_each_learner_has_a_host():
    assert not hasattr(configuration().JupyterHub, "subdomain_host")
    for port, end in ((8000, ":8000"), (443, "")):
        wish = {"domain": "class.example.org", "certificate": "c.pem", "key": "k.pem"}
        host = configuration(port=port, **wish).JupyterHub.subdomain_host
        assert host == f"https://class.example.org{end}"
    assert configuration(**wish).JupyterHub.cookie_host_prefix_enabled  # no page sets such a cookie


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
    assert config.JupyterHub.authenticator_class.endswith(".in_hub.SignIn")
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
        assert own[1][1:] == ["required", "pam_unix.so", "nodelay"][: len(own[1]) - 1]


def test_servers_run_as_their_learners_and_no_learner_opens_one_to_others():
    config = configuration()
    assert config.JupyterHub.spawner_class.endswith(".in_hub.Seat")
    assert config.Spawner.disable_user_config is True
    seat = [str(PYTHON), "-I", "-m", "workshop_lib.classroom.seat", str(PLACES.workbook)]
    assert config.Seat.cmd[-5:] == seat
    assert "--KernelManager.transport=ipc" in config.Spawner.args
    assert "--ServerApp.terminals_enabled=False" in config.Spawner.args
    assert not {"PYTHONPATH", "LD_LIBRARY_PATH"} & set(config.Spawner.env_keep)


def test_limits_are_those_that_were_asked_for():
    config = configuration(memory=1500, idle=20)
    at = config.Seat.cmd.index("prlimit")
    assert config.Seat.cmd[at + 1] == "--data=1500000000"
    culler, teacher = config.JupyterHub.services
    assert "--timeout=1200" in culler["command"]
    for program in (culler["command"], config.ConfigurableHTTPProxy.command):
        assert program[:4] == ["setpriv", "--pdeathsig", "KILL", "--"]
    assert "--MappingKernelManager.cull_idle_timeout=900" in config.Spawner.args
    role, other = config.JupyterHub.load_roles
    assert role["services"] == [culler["name"]]
    assert "access:servers" not in role["scopes"]  # it may end servers, not look into them
    assert other["services"] == [teacher["name"]] and other["scopes"] == ["delete:users"]


def test_where_systemd_runs_each_learner_has_a_share(monkeypatch):
    monkeypatch.setattr(settings, "shares", lambda: False)
    become = ["setpriv", "--reuid={login}", f"--regid={accounts.GROUP}", "--init-groups"]
    become += ["--no-new-privs", "--", "prlimit"]
    assert configuration().Seat.cmd[:7] == become
    monkeypatch.setattr(settings, "shares", lambda: True)
    share = configuration(memory=1500).Seat.cmd
    assert {"--scope", "--slice=sheetdisc.slice", "--property=MemoryMax=1500M"} <= set(share)
    assert {"--property=CPUWeight=100", f"--property=TasksMax={settings.MOST_TASKS}"} <= set(share)
    assert share[share.index("setpriv") :][:7] == become


def test_the_kernels_messages_are_sent_as_promptly_as_for_one_learner():
    assert (settings.PROMPT, settings.CONTENTS) == (opening.PROMPT, opening.CONTENTS)


# Wishes that are refused


def certify(folder, *names):
    """Make a certificate for names and its key; return the options that give them."""
    listed = ",".join(f"DNS:{name}" for name in names)
    files = {"certificate": str(folder / "cert.pem"), "key": str(folder / "key.pem")}
    command = ["openssl", "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-subj", "/CN=class"]
    command += ["-addext", f"subjectAltName={listed}", "-days", "2"]
    command += ["-keyout", files["key"], "-out", files["certificate"]]
    subprocess.run(command, check=True, capture_output=True)
    os.chmod(files["key"], 0o600)
    return files


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """A certificate for a domain and its learners, with its key."""
    if not shutil.which("openssl"):
        pytest.skip("openssl makes the certificates")
    return certify(tmp_path_factory.mktemp("made"), "class.example.org", "*.class.example.org")


@pytest.fixture
def pair(made, tmp_path):
    """The same, in files that a test may spoil."""
    for file in made.values():
        shutil.copy(file, tmp_path)
    return {name: str(tmp_path / Path(file).name) for name, file in made.items()}


def test_a_certificate_is_judged_before_the_start(pair, tmp_path, capsys):
    settings.refuse_unsafe(Wish(**pair))
    settings.refuse_unsafe(Wish(domain="class.example.org", **pair))
    assert capsys.readouterr().out == "The certificate ends in 1 day.\n" * 2
    with pytest.raises(Trouble, match=r"ostname mismatch.*name other\.example\.org"):
        settings.refuse_unsafe(Wish(domain="other.example.org", **pair))
    other = tmp_path / "other"
    other.mkdir()
    alone = certify(other, "class.example.org")
    with pytest.raises(Trouble, match="learner.class.example.org"):  # no learner's host is named
        settings.refuse_unsafe(Wish(domain="class.example.org", **alone))
    with pytest.raises(Trouble, match="key values mismatch"):
        settings.refuse_unsafe(Wish(certificate=pair["certificate"], key=alone["key"]))
    Path(pair["certificate"]).write_text("no certificate")
    with pytest.raises(Trouble, match="PEM files"):
        settings.refuse_unsafe(Wish(**pair))


def test_a_certificate_that_has_ended_is_refused(pair):
    asked = ["openssl", "req", "-new", "-key", pair["key"], "-subj", "/CN=class"]
    request = subprocess.run(asked, check=True, capture_output=True).stdout
    ended = ["openssl", "x509", "-req", "-signkey", pair["key"], "-days", "-1"]
    ended += ["-out", pair["certificate"]]
    subprocess.run(ended, input=request, check=True, capture_output=True)
    with pytest.raises(Trouble, match="expired"):
        settings.refuse_unsafe(Wish(**pair))


def test_the_network_needs_a_certificate_or_the_word_that_none_is_wanted(pair):
    with pytest.raises(Trouble, match="read the passwords"):
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
    with pytest.raises(Trouble, match="rights to 600"):
        settings.refuse_unsafe(Wish(**pair))


@pytest.mark.parametrize(
    "wish", [{"port": 0}, {"port": 65536}, {"port": 700}, {"memory": 100}, {"idle": 1}]
)
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
